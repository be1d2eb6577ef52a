"""The name that a verdict is worth on a record: advised on the screen, and offered to whoever logs it."""

from __future__ import annotations

from itertools import combinations

from reedmace.keys.model import Group, Key
from reedmace.keys.names import FoundName
from reedmace.scoring.verdict import Verdict


def record_name(key: Key, verdict: Verdict) -> FoundName:
    """The verdict's own name; for several that nobody would list together, the smallest group that holds them."""
    group = next((group for group in key.groups if group.title == verdict.vernacular), None)
    if group is None and not _go_together(key, verdict):
        wider = next((group for group in key.groups if _holds(key, group, verdict)), None)
        if wider is not None:
            return FoundName(wider.title, tuple(sorted(wider.members)), wider)
    return FoundName(verdict.vernacular, verdict.members, group, verdict.others)


def _go_together(key: Key, verdict: Verdict) -> bool:
    """True for one genus, and for look-alikes that the key lists of each other."""
    names = [key.species[one].name for one in verdict.members] + [key.undescribed[one].name for one in verdict.others]
    if len({name.partition(" ")[0] for name in names}) == 1:
        return True
    alike = {
        frozenset((key.species[one].name, entry.name))
        for one in verdict.members
        for entry in key.species[one].lookalikes
    }
    return all(frozenset(pair) in alike for pair in combinations(names, 2))


def _holds(key: Key, group: Group, verdict: Verdict) -> bool:
    """True where the group holds all that the verdict leaves; what the key does not describe is in its taxa only."""
    if group.rank == "order" or not set(verdict.members) <= group.members:
        return False
    inside = {name for one in group.members for name in (key.species[one].genus, key.species[one].family)}
    others = [key.undescribed[one] for one in verdict.others]
    return not others or (group.scientific is not None and all(other.group in inside for other in others))
