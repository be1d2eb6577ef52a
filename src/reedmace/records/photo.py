"""A photograph that a sighting rests on."""

from __future__ import annotations

from typing import NamedTuple


class Photo(NamedTuple):
    """Where the file was, as given, and the SHA-256 of what was in it (64 hex digits; empty where it was not read)."""

    path: str
    sha256: str = ""
