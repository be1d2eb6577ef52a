"""The cell for photographs in a sheet: files that it names, or only whether there are some, and how many."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from reedmace.records import Photo
from reedmace.tasks.shorthand.field_words import FILE_ENDING

_NONE = frozenset(("n", "no", "none", "nil", "false", "0", "-", "–", "—", "n/a", "na", "not taken", "no photo"))
_NONE |= {"no photos", "no photograph", "no photographs", "no picture", "no pictures", "no image", "no images"}
_SOME = frozenset(
    ("y", "yes", "true", "x", "✓", "✔", "√", "☑", "✅", "+", "p", "taken", "photo", "photos", "photographed")
)
_SOME |= {"pic", "pics", "picture", "pictures", "image", "images", "photograph", "photographs"}
_PICTURE = re.compile(rf"\S.*{FILE_ENDING}", re.IGNORECASE)
# What parts the names of several files, where each part is one: a comma, or else blanks, may stand within a name.
_PARTING = (re.compile(r"\s*[;,]\s*"), re.compile(r"\s+"))


class Pictures(NamedTuple):
    """What a cell says of photographs: the files it names, that there are some (`taken`), and words to be kept."""

    photos: tuple[Photo, ...] = ()
    taken: bool = False
    remarks: str = ""


@lru_cache(5000)
def read_pictures(cell: str, digests: str) -> Pictures:
    """Read a cell, names parted by `|`; checksums only where there is one, or an empty place, for each of them."""
    named: list[str] = []
    taken, kept = False, ""
    for part in filter(None, map(str.strip, cell.split("|"))):
        plain = part.casefold().rstrip(".!")
        if plain in _NONE:
            continue
        if plain in _SOME or plain.isdecimal():
            taken = True
            kept = f"photographs: {part}" if plain.isdecimal() else kept
        elif any(map(str.isalnum, part)):
            named += _files(part)
        else:
            kept = f"photographs: {part}"
    sums = [part.strip() for part in digests.split("|")]
    if len(sums) != len(named) or not all(re.fullmatch("([0-9a-f]{64})?", one) for one in sums):
        sums = [""] * len(named)
    return Pictures(tuple(map(Photo, named, sums)), taken or bool(named), kept)


def _files(text: str) -> list[str]:
    """Give the files that a text names: several where each of its parts is the name of a picture."""
    for parting in _PARTING:
        parts = [part for part in parting.split(text) if part]
        if len(parts) > 1 and all(map(_PICTURE.fullmatch, parts)):
            return parts
    return [text]
