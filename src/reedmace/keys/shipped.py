"""Where keys sit: by folder, or by the id of one that travels with the program."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from reedmace.faults import Fault, Refused, did_you_mean

DEFAULT = "odonata-britain-ireland"


def shipped_folder() -> Path:
    """The folder of the keys inside the installed package."""
    return Path(__file__).resolve().parent.parent / "data" / "keys"


def shipped_ids() -> list[str]:
    """The ids of the keys that travel with the program."""
    return sorted(path.parent.name for path in shipped_folder().glob("*/key.yaml"))


@cache
def shipped_for(stage: str) -> str | None:
    """The id of a key that travels with the program and names this stage; None where there is none.

    Read off the line that says so, the files being ours: YAML would take a second.
    """
    for name in shipped_ids():
        text = (shipped_folder() / name / "key.yaml").read_text(encoding="utf-8")
        said = re.search(r"^stage:\s*([a-z]+)", text, re.MULTILINE)
        if (said[1] if said else "adult") == stage:
            return name
    return None


def find_key(name: str | None) -> Path:
    """The folder of a key named by id or by path; the default key for None. Raises Refused."""
    wanted = name or DEFAULT
    if ("/" in wanted or "\\" in wanted or wanted in (".", "..")) or _is_key(Path(wanted)):
        folder = Path(wanted)
        if _is_key(folder):
            return folder
        raise Refused(_no_key_in(wanted))
    folder = shipped_folder() / wanted
    if _is_key(folder):
        return folder
    if _is_folder(Path(wanted)):  # begun, and its key.yaml is still to be written
        raise Refused(_no_key_in(wanted))
    ids = shipped_ids()
    hint = did_you_mean(
        wanted,
        ids,
        f"keys here: {', '.join(ids)}"
        if ids
        else "the keys are missing from this installation; install Reedmace again",
    )
    raise Refused(Fault("key-not-found", f'There is no key "{wanted}".', hint, wanted, typed=True))


def _is_key(folder: Path) -> bool:
    try:
        return (folder / "key.yaml").is_file()
    except OSError:  # no disk has a name as long as this
        return False


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError:
        return False


def _no_key_in(folder: str) -> Fault:
    hint = (
        "a key is a folder with a key.yaml in it; begin that file with  format: 1  and  reedmace keys check  "
        "says what else it needs"
    )
    return Fault("key-not-found", f"No key is in the folder {folder}.", hint, folder, typed=True)
