"""Several species in one cell of names: told, with what to do, and never split.

How many of each, of which sex, who saw it in which photograph: what stands beside them belongs to one of them or to
all, and no cell says to which. And the id of a row is that of one record, for the county recorder's answer too.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName

# Where the names of a cell may be parted, from the surest on.
_PARTED = (r";|\s\|\s", r"[;,]", r"[;,+&|]|(?<=\s)(?:and|also|with)(?=\s)")
# A number with a name: `3 Large Red`, `Large Red x3`, `Large Red (3)`.
_NUMBER = re.compile(r"^\(?[~<>]?[0-9]+\+?\)?\s*[x×]?\s+|\s*[-:(]?\s*[x×]?\s*[~<>]?[0-9]+\+?\)?$", re.ASCII | re.I)
_MOST = 12


def several_told(text: str, find: Callable[[str], FoundName | Fault]) -> Fault | None:
    """Say that a cell that is no name is several, of which two at least are known; None where it is not."""
    for where in _PARTED:
        parts = [part for piece in re.split(where, text) if (part := piece.strip(" \t."))]
        if not 1 < len(parts) <= _MOST:
            continue
        found = [find(_NUMBER.sub("", part)) for part in parts]
        named = {one.species for one in found if isinstance(one, FoundName)}
        species = any(len(one) == 1 for one in named)
        asked = sum(isinstance(one, Fault) and one.code == "ambiguous-name" for one in found)
        if (len(named) > 1 and 2 * len(named) > len(parts)) or (species and asked and len(named) + asked == len(parts)):
            why = f"This cell names {len(parts)} insects, and a record is of one."
            hint = "write a row for each, with what was counted of it and the other cells as they are:  "
            return Fault("several-names", why, hint + "  and  ".join(parts))
    return None


def both_or_either(key: Key, found: FoundName) -> Fault | None:
    """Ask of `a/b` where the two are of different suborders: they are hardly one insect that was not told apart."""
    suborders = {key.families[key.species[index].family][1] for index in found.species}
    if found.group is not None or found.others or len(found.species) != found.typed.count("/") + 1:
        return None
    if len(suborders) < 2 or "" in suborders:
        return None
    parts = [part.strip() for part in found.typed.split("/")]
    why = "This could mean that all of these were there, or one of them."
    hint = f"write a row for each if they were there; if it was one of them, write  {' or '.join(parts)}"
    return Fault("several-names", why, hint)
