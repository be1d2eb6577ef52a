"""What commands take from outside: the clock, new ids, the user's folders. Everything below gets them passed in."""

from __future__ import annotations

import os
import sys
import time
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Literal

from reedmace.faults import Fault, Refused, cannot_read

LEDGER_NAME = "sightings.ledger"


def today() -> date:
    """Today by this machine's clock."""
    return date.today()  # a day at the pond is a local day


def now() -> str:
    """The local time by this machine's clock, `HH:MM`."""
    return datetime.now().astimezone().strftime("%H:%M")


def written_at() -> str:
    """Now in UTC, as entries are stamped."""
    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


_latest = 0


def new_id() -> str:
    """A new UUID that sorts by time: version 7 (RFC 9562), 48 bits of milliseconds and 74 random bits.

    Those of one run are in the order in which they were made, also within a millisecond.
    """
    global _latest
    stamp = time.time_ns() // 1_000_000
    random = int.from_bytes(os.urandom(10), "big")
    number = (
        (stamp & (1 << 48) - 1) << 80 | 0x7 << 76 | (random >> 68 & 0xFFF) << 64 | 0b10 << 62 | random & (1 << 62) - 1
    )
    _latest = number = max(number, _latest + 1)
    text = f"{number:032x}"
    return f"{text[:8]}-{text[8:12]}-{text[12:16]}-{text[16:20]}-{text[20:]}"


def cache_folder() -> Path | None:
    """Where compiled keys are kept; None when this machine has no such place."""
    try:
        return _user_folder("cache")
    except (OSError, RuntimeError):
        return None


def _user_folder(kind: Literal["cache", "data"]) -> Path:
    """The user's cache or data folder for Reedmace.

    On Linux by the XDG Base Directory Specification, which takes three lines; elsewhere platformdirs knows, and
    costs 8 ms.
    """
    system: str = sys.platform
    if system == "linux":
        named = os.environ.get(f"XDG_{kind.upper()}_HOME", "").strip()
        usual = {"cache": "~/.cache", "data": "~/.local/share"}[kind]
        return Path(named or usual).expanduser() / "reedmace"
    import platformdirs

    find = platformdirs.user_cache_path if kind == "cache" else platformdirs.user_data_path
    return find("reedmace", appauthor=False)


def ledger_path(chosen: str | None) -> Path:
    """The ledger chosen by option or REEDMACE_LEDGER, else the one in the user's data folder."""
    named = chosen if chosen is not None else os.environ.get("REEDMACE_LEDGER")
    if named is not None:
        if not named.strip():
            raise Refused(
                Fault(
                    "ledger-unnamed",
                    "The ledger's name is empty.",
                    "give a file:  --ledger walks.ledger",
                    named,
                    typed=True,
                )
            )
        try:
            Path(named).exists()
        except OSError as error:  # a name that no disk takes, such as one that is too long
            raise cannot_read(named, error, "This ledger") from error
        return Path(named)
    return _user_folder("data") / LEDGER_NAME
