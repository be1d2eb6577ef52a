"""Lines of text into a file, whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from reedmace.faults import Fault, Refused, Where


def write_lines(path: str, lines: Iterable[str], replace: bool | None = None) -> None:
    """Write lines in UTF-8 with LF, synced before the file gets its name; one that is there stays, or is replaced.

    `replace` is None where nobody can ask for that.
    """
    target = Path(path)
    part = target.with_name(f".{target.name}.part")
    try:
        with part.open("x", encoding="utf-8", newline="\n") as out:
            try:
                out.writelines(f"{line}\n" for line in lines)
                out.flush()
                os.fsync(out.fileno())
                if replace:
                    part.replace(target)
                else:
                    os.link(part, target)  # fails where there is a file, even one that has just appeared
            finally:
                with suppress(FileNotFoundError):
                    part.unlink()
    except FileExistsError as error:
        name = target.name if os.path.lexists(target) and not replace else part.name
        other = "choose another name" if replace is None else "choose another name, or add  --force"
        hint = other if name == target.name else f"an interrupted one was left: delete {part.name}"
        raise Refused(Fault("file-exists", f"There is a file {name} here already.", hint, where=Where(path))) from error
    except OSError as error:
        said = f"The file cannot be written: {error.strerror or error}."
        hint = "choose a folder you may write to, with room on its disk"
        raise Refused(Fault("file-cannot-write", said, hint, where=Where(path))) from error
