"""Photographs: the path as given, and the checksum of the file, so that it can be checked years later."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from reedmace.records import Photo


def photo_in(folder: Path) -> Callable[[str], Photo]:
    """A reader of photographs; a path that is not absolute is looked for in `folder`.

    It gives a photograph without a checksum where no file can be read.
    """

    def read(path: str) -> Photo:
        import hashlib

        try:
            with (folder / Path(path).expanduser()).open("rb") as file:
                return Photo(path, hashlib.file_digest(file, "sha256").hexdigest())
        except (OSError, ValueError, RuntimeError):
            return Photo(path)

    return read
