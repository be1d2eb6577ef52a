"""Writing a Darwin Core archive: the occurrences, their determinations, what the columns are, and what it all is.

Darwin Core text guide, https://dwc.tdwg.org/text/. Times inside the archive are fixed: the same rows give the same
bytes wherever the same compression library is at work.
"""

from __future__ import annotations

import csv
import hashlib
import io
import shutil
import tempfile
import zipfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import IO, TYPE_CHECKING, TextIO
from xml.sax.saxutils import quoteattr

from reedmace.darwincore.csvfile import check_columns, one_line
from reedmace.darwincore.eml import About, Extent, eml
from reedmace.darwincore.terms import DARWIN_CORE, TERMS
from reedmace.darwincore.whole import whole_file
from reedmace.faults import Fault, Refused

if TYPE_CHECKING:
    from _typeshed import ReadableBuffer

CORE, EXTENSION, META, METADATA = "occurrence.csv", "identification.csv", "meta.xml", "eml.xml"
IDENTIFICATION_COLUMNS: tuple[str, ...] = (
    *("occurrenceID", "identificationID", "isAcceptedIdentification"),
    *("scientificName", "scientificNameAuthorship", "taxonRank", "vernacularName", "family", "genus"),
    *("verbatimIdentification", "identificationQualifier", "identifiedBy", "dateIdentified"),
    *("identificationVerificationStatus", "identificationReferences", "identificationRemarks"),
)

Row = Mapping[str, str]
_THEN = (1980, 1, 1, 0, 0, 0)  # the earliest time that a ZIP file can say


def write_archive(
    path: Path | str,
    rows: Iterable[tuple[Row, Sequence[Row]]],
    columns: tuple[str, ...],
    about: About,
    overwrite: bool = False,
) -> int:
    """Write an archive whole, or leave what was there as it was; gives the number of occurrences.

    Each row comes with the rows of its determinations. `occurrenceID` stands first, wherever `columns` have it.
    Raises `Refused` as `write_csv` does.
    """
    columns = ("occurrenceID", *(column for column in columns if column != "occurrenceID"))
    check_columns(columns)
    extent = Extent()
    with (
        whole_file(path, overwrite) as file,
        tempfile.TemporaryFile() as aside,
        zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as archive,
    ):
        digest = hashlib.sha256()
        with _entry(archive, CORE) as core, _text(aside) as extension:
            buffered = io.BufferedWriter(_Lines(core, digest), 1 << 16)
            with _text(buffered) as out:
                _write(out, extension, rows, columns, extent)
            buffered.flush()
        aside.seek(0)
        with _entry(archive, EXTENSION) as entry:
            shutil.copyfileobj(aside, entry, 1 << 16)
        for name, text in ((META, meta(columns)), (METADATA, eml(about, extent, digest.hexdigest()))):
            with _entry(archive, name) as entry:
                entry.write(text.encode())
    return extent.rows


def meta(columns: tuple[str, ...]) -> str:
    """Give meta.xml: what each column of the two tables is."""
    core = ['    <id index="0"/>\n', *(_field(index, column) for index, column in enumerate(columns))]
    further = IDENTIFICATION_COLUMNS[1:]
    extension = ['    <coreid index="0"/>\n', *(_field(index, column) for index, column in enumerate(further, 1))]
    return "".join(
        (
            '<?xml version="1.0" encoding="UTF-8"?>\n',
            f'<archive xmlns="http://rs.tdwg.org/dwc/text/" metadata="{METADATA}">\n',
            _table("core", CORE, "Occurrence", core),
            _table("extension", EXTENSION, "Identification", extension),
            "</archive>\n",
        )
    )


def _table(kind: str, file: str, of: str, fields: Sequence[str]) -> str:
    written = (
        'encoding="UTF-8" fieldsTerminatedBy="," linesTerminatedBy="\\n" fieldsEnclosedBy="&quot;"'
        ' ignoreHeaderLines="1" dateFormat="YYYY-MM-DD"'
    )
    return (
        f"  <{kind} {written} rowType={quoteattr(DARWIN_CORE + of)}>\n"
        f"    <files>\n      <location>{file}</location>\n    </files>\n"
        f"{''.join(fields)}  </{kind}>\n"
    )


def _field(index: int, column: str) -> str:
    return f'    <field index="{index}" term={quoteattr(TERMS[column])}/>\n'


def _write(
    core: TextIO,
    extension: TextIO,
    rows: Iterable[tuple[Row, Sequence[Row]]],
    columns: tuple[str, ...],
    extent: Extent,
) -> None:
    first, second = csv.writer(core, lineterminator="\n"), csv.writer(extension, lineterminator="\n")
    first.writerow(columns)
    second.writerow(IDENTIFICATION_COLUMNS)
    before = ""
    for row, determinations in rows:
        if not row["occurrenceID"] or row["occurrenceID"] == before:
            hint = "look at it with  reedmace ledger audit"
            raise Refused(Fault("archive-id", "Two rows have one identifier.", hint, row["occurrenceID"]))
        before = row["occurrenceID"]
        extent.take(row)
        first.writerow([one_line(row.get(column, "")) for column in columns])
        for one in determinations:
            second.writerow([one_line(one.get(column, "")) for column in IDENTIFICATION_COLUMNS])
    extension.flush()


def _entry(archive: zipfile.ZipFile, name: str) -> IO[bytes]:
    info = zipfile.ZipInfo(name, _THEN)
    info.compress_type = zipfile.ZIP_DEFLATED
    info.external_attr = 0o644 << 16
    info.create_system = 3
    return archive.open(info, "w", force_zip64=True)


@contextmanager
def _text(file: IO[bytes]) -> Iterator[TextIO]:
    """Give a text over a binary file that stays open afterwards."""
    text = io.TextIOWrapper(file, encoding="utf-8", newline="")
    yield text
    text.flush()
    text.detach()


class _Lines(io.RawIOBase):
    """What is written goes on to a file, and into a digest."""

    def __init__(self, file: IO[bytes], digest: hashlib._Hash) -> None:
        self._file = file
        self._digest = digest

    def writable(self) -> bool:
        """It is."""
        return True

    def write(self, data: ReadableBuffer, /) -> int:
        """Pass on."""
        self._digest.update(data)
        return self._file.write(data)
