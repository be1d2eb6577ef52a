"""Regions of a key as people say where they were: `Wales`, `Norfolk`, or a 100 km square, `NH`.

That is enough to tell what is likely there; a record needs a place.
"""

from __future__ import annotations

import re

from reedmace.keys.matching import fold
from reedmace.keys.model import Key, Named


def regions_called(key: Key, name: str) -> tuple[Named, ...]:
    """The regions that are called so, by their titles or plain names; several where they share one."""
    wanted = _plain(name)
    return tuple(one for one in key.regions if wanted and wanted in map(_plain, (one.title, *one.words)))


def regions_of_square(key: Key, name: str) -> tuple[Named, ...]:
    """The regions of a 100 km square, `NH`; one letter, as of the Irish grid, is to be a capital."""
    letters = name.strip()
    if len(letters) == 1 and not letters.isupper():
        return ()
    named = key.squares.get(letters.upper(), ())
    return tuple(one for one in key.regions if one.id in named)


def _plain(name: str) -> str:
    return fold(without_article(name.casefold()))


def without_article(name: str) -> str:
    """A region's name without what may stand before it: `in the Highlands`."""
    return re.sub(r"^(?:in )?(?:the )?", "", " ".join(name.split()), flags=re.IGNORECASE)
