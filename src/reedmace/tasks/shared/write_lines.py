"""Lines of text into a new file, whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from reedmace.faults import Fault, Refused, Where
from reedmace.files import give_name


def write_lines(path: str, lines: Iterable[str]) -> None:
    """Write lines in UTF-8 with LF to a file that is not there yet, synced before it gets its name."""
    target = Path(path)
    if not target.name:
        hint = "name the file to write, such as  sightings.txt"
        raise Refused(Fault("file-cannot-write", "This is the name of no file.", hint, path, typed=True))
    part = target.with_name(f".{target.name}.part")
    try:
        with part.open("x", encoding="utf-8", newline="\n") as out:
            try:
                out.writelines(f"{line}\n" for line in lines)
                out.flush()
                os.fsync(out.fileno())
                give_name(part, target)
            finally:
                with suppress(FileNotFoundError):
                    part.unlink()
    except FileExistsError as error:
        name = target.name if os.path.lexists(target) else part.name
        hint = "choose another name" if os.path.lexists(target) else f"an interrupted one was left: delete {part.name}"
        raise Refused(Fault("file-exists", f"There is a file {name} here already.", hint, where=Where(path))) from error
    except OSError as error:
        said = f"The file cannot be written: {error.strerror or error}."
        hint = "choose a folder you may write to, with room on its disk"
        raise Refused(Fault("file-cannot-write", said, hint, where=Where(path))) from error
