"""Reading anybody's Darwin Core archive: its occurrences as one plain CSV, with terms for a heading.

Nothing is ever unpacked under a name that the archive gives. What is too large for what it is packed into, lies
outside, is named twice, or is locked, is refused before it is read.
"""

from __future__ import annotations

import csv
import io
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import IO

from reedmace.darwincore.csvfile import one_line
from reedmace.darwincore.read_meta import Core, read_meta
from reedmace.darwincore.terms import TERMS
from reedmace.faults import Fault, Refused, Where

MOST_BYTES = 4 << 30
"""Unpacked; a million full records are about one."""
MOST_TIMES = 200
"""How many times larger than packed; tables of records are 10 to 50 times larger."""
_ALWAYS = 1 << 24  # bytes that are read however well they are packed
_META = "meta.xml"
_MOST_META = 1 << 20
_MOST_FILES = 1000
_MOST_IN_A_CELL = 1_000_000


def is_archive(path: Path | str) -> bool:
    """Say whether a file is a ZIP file, by how it begins; a file that cannot be read is none."""
    try:
        with Path(path).open("rb") as file:
            return file.read(4) in (b"PK\x03\x04", b"PK\x05\x06")
    except OSError:
        return False


@contextmanager
def occurrences_of(path: Path | str) -> Iterator[Path]:
    """Give the occurrences of an archive as a CSV file (UTF-8, one line a row), which is gone afterwards.

    Raises `Refused` where it is none that can be read.
    """
    name = Path(path).name
    with TemporaryDirectory(prefix="reedmace-") as folder:
        target = Path(folder) / f"{name}.csv"
        try:
            with zipfile.ZipFile(path) as archive, target.open("w", encoding="utf-8", newline="") as out:
                _write(archive, name, csv.writer(out, lineterminator="\n").writerow)
        except (zipfile.BadZipFile, zlib.error, EOFError) as error:
            said, hint = f"This archive cannot be read: {error}.", "copy it again from where it came"
            raise Refused(Fault("not-an-archive", said, hint, None, Where(name))) from None
        except (RuntimeError, NotImplementedError) as error:
            said, hint = f"This archive is locked, or packed in an unusual way: {error}.", "ask for it unlocked"
            raise Refused(Fault("not-an-archive", said, hint, None, Where(name))) from None
        except OSError as error:
            said = f"This archive cannot be read: {error.strerror or error}."
            hint = "look at its path, and whether there is room for it in the folder for temporary files"
            raise Refused(Fault("file-cannot-read", said, hint, None, Where(name))) from None
        yield target


def _write(archive: zipfile.ZipFile, name: str, write: object) -> None:
    assert callable(write)
    files = _files(archive, name)
    if _META in files:
        core = read_meta(_small(archive, files[_META], name), f"{name}/{_META}")
        absent = [one for one in core.files if one not in files]
        if absent:
            hint = f"it holds {', '.join(sorted(files)[:6])}: ask for it once more"
            said = f"The table {absent[0]} is not in the archive."
            raise Refused(Fault("archive-file-missing", said, hint, absent[0], Where(f"{name}/{_META}")))
    else:
        core = _undescribed(archive, files, name)
    terms = [*(term for _, term in core.columns), *(term for term, _ in core.fixed)]
    own_id = core.identifier is not None and "occurrenceID" not in terms
    write(["occurrenceID", *terms] if own_id else terms)
    fixed = [value for _, value in core.fixed]
    for table in core.files:
        for row in _rows(archive, files[table], core, f"{name}/{table}"):
            cells = [one_line(row[index]) if index < len(row) else "" for index, _ in core.columns]
            first = core.identifier
            own = [one_line(row[first]) if first is not None and first < len(row) else ""] if own_id else []
            write([*own, *cells, *fixed])


def _files(archive: zipfile.ZipFile, name: str) -> dict[str, zipfile.ZipInfo]:
    """Give the files by their names; those of a lone folder by their names in it."""
    if not all(info.filename for info in archive.infolist()):
        raise zipfile.BadZipFile("a file in it has no name")  # which the library itself does not expect
    infos = [info for info in archive.infolist() if not info.is_dir()]
    if len(infos) > _MOST_FILES:
        said, hint = f"There are {len(infos)} files in it.", "an archive holds a handful: ask for it once more"
        raise Refused(Fault("archive-too-large", said, hint, None, Where(name)))
    found: dict[str, zipfile.ZipInfo] = {}
    for info in infos:
        plain = info.filename.replace("\\", "/")
        if plain.startswith("/") or ":" in plain.partition("/")[0] or ".." in plain.split("/"):
            said, hint = "A file in it is to lie outside of the archive.", "do not use it; ask who made it"
            raise Refused(Fault("archive-path", said, hint, info.filename, Where(name)))
        if plain in found:
            said, hint = f"There are two files {plain} in it.", "ask for it once more"
            raise Refused(Fault("archive-file-twice", said, hint, info.filename, Where(name)))
        _bounded(info, name)
        found[plain] = info
    if _META not in found:
        folders = {plain.rpartition("/")[0] for plain in found if plain.rpartition("/")[2] == _META}
        if len(folders) == 1:
            lone = f"{folders.pop()}/"
            return {plain.removeprefix(lone): info for plain, info in found.items() if plain.startswith(lone)}
    return found


def _bounded(info: zipfile.ZipInfo, name: str) -> None:
    size = info.file_size
    if size > MOST_BYTES or (size > _ALWAYS and size > MOST_TIMES * max(1, info.compress_size)):
        said = f"{info.filename} would unpack from {info.compress_size:,} bytes to {size:,}."
        hint = "no table of records does so: do not use it; ask who made it"
        raise Refused(Fault("archive-too-large", said, hint, None, Where(name)))


def _small(archive: zipfile.ZipFile, info: zipfile.ZipInfo, name: str) -> bytes:
    if info.file_size > _MOST_META:
        said, hint = f"{info.filename} is {info.file_size:,} bytes long.", "a description of columns is short"
        raise Refused(Fault("archive-too-large", said, hint, None, Where(name)))
    return archive.read(info)


def _undescribed(archive: zipfile.ZipFile, files: dict[str, zipfile.ZipInfo], name: str) -> Core:
    """Take a lone table whose first row names terms; the standard allows for that."""
    tables = [plain for plain in files if plain.rpartition(".")[2].casefold() in ("csv", "txt", "tsv")]
    if len(tables) == 1:
        with archive.open(files[tables[0]]) as file:
            head = file.readline(1 << 16).decode("utf-8-sig", "replace")
        sign = max(",\t;", key=head.count)
        columns = next(csv.reader([head], delimiter=sign), [])
        terms = [column.strip().replace("#", "/").replace(":", "/").rpartition("/")[2] for column in columns]
        known = [term for term in terms if term in TERMS]
        twice = next((term for term in known if known.count(term) > 1), None)
        if twice:
            said = f'The column "{twice}" stands here twice.'
            raise Refused(Fault("column-twice", said, "keep one of the two", twice, Where(f"{name}/{tables[0]}")))
        if known:
            pairs = tuple((index, term) for index, term in enumerate(terms) if term in TERMS)
            return Core((tables[0],), "utf-8-sig", sign, '"', 1, None, pairs, ())
    said, hint = (
        "There is no meta.xml in this archive.",
        "ask for the whole Darwin Core archive, or for its table as CSV",
    )
    raise Refused(Fault("archive-file-missing", said, hint, None, Where(name)))


def _rows(archive: zipfile.ZipFile, info: zipfile.ZipInfo, core: Core, name: str) -> Iterator[list[str]]:
    csv.field_size_limit(_MOST_IN_A_CELL)
    with archive.open(info) as file:
        text = _text(file, core.encoding)
        reader = (
            csv.reader(text, delimiter=core.delimiter, quotechar=core.quote, strict=True)
            if core.quote
            else csv.reader(text, delimiter=core.delimiter, quoting=csv.QUOTE_NONE)
        )
        try:
            for number, row in enumerate(reader):
                if number >= core.header_lines and row:
                    yield row
        except csv.Error as error:
            said, hint = f"This is not CSV: {error}.", "ask for it once more, or for its table as CSV"
            raise Refused(Fault("not-csv", said, hint, None, Where(name, reader.line_num))) from None
        except UnicodeError:
            said = f"The table is not {core.encoding.removesuffix('-sig').upper()}, as its description says."
            raise Refused(
                Fault("archive-encoding", said, "ask for it as UTF-8", None, Where(name, reader.line_num + 1))
            ) from None


def _text(file: IO[bytes], encoding: str) -> io.TextIOWrapper:
    return io.TextIOWrapper(file, encoding=encoding, newline="")
