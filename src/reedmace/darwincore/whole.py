"""A file that appears whole, or leaves what was there before as it was."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import BinaryIO

from reedmace.faults import Fault, Refused, Where
from reedmace.files import give_name


@contextmanager
def whole_file(path: Path | str, overwrite: bool) -> Iterator[BinaryIO]:
    """Write a file beside the target, synced to the disk and then given its name; on an error nothing is left.

    Raises `Refused` where there is a file already (unless `overwrite`), or the folder or disk will not take it.
    """
    target = Path(path)
    room_for(target, overwrite)
    try:
        part, handle = _begin(target)
        try:
            with os.fdopen(handle, "w+b") as out:
                yield out
                out.flush()
                os.fsync(out.fileno())
            try:
                give_name(part, target, overwrite=overwrite)
            except FileExistsError:
                raise _exists(target) from None
        finally:
            with suppress(FileNotFoundError):
                part.unlink()
    except OSError as error:
        raise _refusal(
            "export-cannot-write",
            f"The file cannot be written: {error.strerror or error}.",
            "choose a folder you may write to, with room on its disk; nothing was written",
            target,
        ) from error


def room_for(path: Path | str, overwrite: bool) -> None:
    """Raise `Refused` where a file, if it is not to be replaced, or a folder is there already."""
    target = Path(path)
    if target.is_dir():
        raise _refusal("export-is-a-folder", "This path is a folder.", "name a file in it", target)
    if not overwrite and os.path.lexists(target):
        raise _exists(target)


def digest_of(path: Path | str) -> str:
    """Give the SHA-256 of a file."""
    with Path(path).open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _begin(target: Path) -> tuple[Path, int]:
    """Make a new file beside the target, passing over what interrupted exports may have left."""
    for part in _parts(target):
        with suppress(FileExistsError):
            return part, os.open(part, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o666)
    raise FileExistsError(0, f"interrupted exports have left too many files like {part.name}; delete them")


def _parts(target: Path) -> Iterator[Path]:
    for number in range(1, 100):
        yield target.with_name(f".{target.name}.part{number}")


def _exists(target: Path) -> Refused:
    return _refusal(
        "export-exists",
        "There is a file here already.",
        "choose another name, or replace it with  --force",
        target,
    )


def _refusal(code: str, message: str, hint: str, target: Path) -> Refused:
    return Refused(Fault(code, message, hint, where=Where(str(target))))
