"""The made key `keys_made/tarn-flies` in hand: looks at its insects, for tests that show or tell them."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from reedmace.keys.model import Key
from reedmace.scoring.tables import Tables
from reedmace.tasks.naming.name_insect import Named, name_insect
from reedmace.tasks.shared.setting import read_setting

FOLDER = Path(__file__).resolve().parent / "keys_made" / "tarn-flies"
TODAY = date(2026, 7, 12)


def look(
    key: Key, traits: str = "", *, when: str = "1 July 2026", where: str = "SU 43 11", habitat: str = "", eye: str = ""
) -> Named:
    """What the engine says of traits written one after another: `wings=closed colour=blue`."""
    setting = read_setting(key, when, where, habitat, today=TODAY)
    return name_insect(Tables(key, eye or "beginner"), setting, traits.split())
