"""What letters or words stand for in a column of counts, as whoever keeps the sheet says: `few=2-5, many=21-100`."""

from __future__ import annotations

import re
from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.tasks.sheets.counts import read_count

Bands = tuple[tuple[str, str], ...]
_HINT = 'write what each stands for, such as  --bands "few=2-5, some=6-20, many=21-100, swarm=101+"'


def read_bands(text: str) -> Bands | Fault:
    """Read a table; each band is a count as a cell would have it."""
    found: dict[str, str] = {}
    for part in filter(None, (one.strip() for one in re.split(r"[,;]", text))):
        word, sign, band = (one.strip() for one in part.partition("="))
        if not (word and sign and band):
            return Fault("band-not-read", "This does not say what a band stands for.", _HINT, part, typed=True)
        read = read_count(band)
        if isinstance(read, Fault) or len(read) != 1 or read[0].number is None:
            return Fault("band-not-read", f'"{band}" is no number or range of numbers.', _HINT, part, typed=True)
        if found.setdefault(word.casefold(), band) != band:
            return Fault("band-not-read", f'"{word}" stands for two bands.', _HINT, part, typed=True)
    return tuple(found.items()) or Fault("band-not-read", "This table is empty.", _HINT, text, typed=True)


def are_bands(said: object) -> bool:
    """Say whether a kept mapping's table is one."""
    if not isinstance(said, Sequence) or isinstance(said, str):
        return False
    return all(isinstance(pair, list) and len(pair) == 2 and all(isinstance(one, str) for one in pair) for pair in said)
