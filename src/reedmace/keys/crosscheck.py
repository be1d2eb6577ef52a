"""What one file of a key says of another: every id used must exist, shares and periods must make sense."""

from __future__ import annotations

import re
from collections.abc import Iterator

from reedmace.faults import Fault
from reedmace.keys.authoring_characters import CharacterEntry
from reedmace.keys.crosscheck_sense import against_itself
from reedmace.keys.crosscheck_species import SpeciesCheck
from reedmace.keys.reading import AuthoredKey
from reedmace.keys.references import abundance, flight, item, no_source, sources, twice, unknown
from reedmace.keys.tree import Path, Tree


def cross_check(authored: AuthoredKey) -> list[Fault]:
    """Every fault of reference and of plain sense, file by file."""
    return [
        *_key_file(authored),
        *_characters(authored),
        *(f for file in authored.species for f in SpeciesCheck(authored, file).faults()),
        *against_itself(authored),
    ]


def _key_file(authored: AuthoredKey) -> Iterator[Fault]:
    key, tree = authored.key, authored.key_tree
    for field in ("regions", "habitats", "groups", "sources"):
        yield from twice([(item.id, (field, i, "id")) for i, item in enumerate(getattr(key, field))], tree)
    for field in ("suborders", "families", "undescribed"):
        yield from twice([(item.name, (field, i, "name")) for i, item in enumerate(getattr(key, field))], tree)
    yield from _taxonomy(authored, tree)
    regions = [region.id for region in key.regions]
    for square, named in key.squares.items():
        if not re.fullmatch("[A-HJ-Z]{1,2}", square):
            yield Fault(
                "wrong-value",
                f'"{square}" is no 100 km square.',
                "write its letters as they stand on the map: two of them, SU, or one of the Irish grid, N",
                square,
                tree.where(("squares", square), field=True),
            )
        for number, region in enumerate(named):
            if region not in regions:
                yield unknown(
                    "unknown-region", "region", region, regions, tree, item(("squares", square), number, tree)
                )
    for index, remark in enumerate(key.remarks):
        yield from sources(remark.source, authored, tree, ("remarks", index, "source"))
    for index, other in enumerate(key.undescribed):
        at: Path = ("undescribed", index)
        yield from flight(other.flight, tree, (*at, "flight"))
        yield from sources(other.source, authored, tree, (*at, "source"))
        yield from abundance(other.abundance, key, tree, (*at, "abundance"))


def _taxonomy(authored: AuthoredKey, tree: Tree) -> Iterator[Fault]:
    key = authored.key
    suborders = [suborder.name for suborder in key.suborders]
    for index, family in enumerate(key.families):
        if family.suborder not in suborders:
            at: Path = ("families", index, "suborder")
            yield unknown("unknown-suborder", "suborder", family.suborder, suborders, tree, at)
    known = _taxa(authored)
    for index, group in enumerate(key.groups):
        for number, member in enumerate(group.members):
            if member not in known:
                at = ("groups", index, "members", number)
                yield unknown("unknown-member", "species, genus or family", member, known, tree, at)


def _characters(authored: AuthoredKey) -> Iterator[Fault]:
    tree = authored.characters_tree
    entries = authored.characters.characters
    yield from twice([(entry.id, ("characters", i, "id")) for i, entry in enumerate(entries)], tree)
    taxa = _taxa(authored)
    yield from sources(authored.characters.source, authored, tree, ("source",))
    for index, entry in enumerate(entries):
        yield from sources(entry.source, authored, tree, ("characters", index, "source"))
        ids = [state.id for state in entry.states]
        yield from twice([(name, ("characters", index, "states", i, "id")) for i, name in enumerate(ids)], tree)
        for at, pair in enumerate(entry.confused):
            for number, name in enumerate(pair):
                if name not in ids:
                    yield unknown(
                        "unknown-state",
                        f"state of {entry.id} called",
                        name,
                        ids,
                        tree,
                        ("characters", index, "confused", at, number),
                    )
        for at, group in enumerate(entry.applies.groups):
            if group not in taxa and group not in _higher(authored):
                yield unknown(
                    "unknown-member",
                    "group",
                    group,
                    taxa,
                    tree,
                    item(("characters", index, "applies", "groups"), at, tree),
                )
        yield from _needed(entry, {one.id: one for one in entries}, ("characters", index, "needs"), tree)
        if not (entry.source or authored.characters.source):
            yield no_source(entry.id, authored, tree, ("characters", index))


def _needed(entry: CharacterEntry, known: dict[str, CharacterEntry], path: Path, tree: Tree) -> Iterator[Fault]:
    """What a character hangs on must be there, can be answered with "nothing there", and does not hang on it."""
    if entry.needs is None:
        return
    needed = known.get(entry.needs)
    if needed is None:
        yield unknown("unknown-character", "character", entry.needs, list(known), tree, path)
        return
    before: list[str] = []
    at: CharacterEntry | None = needed
    while at is not None and at.id not in (entry.id, *before):
        before.append(at.id)
        at = known.get(at.needs or "")
    if at is not None:
        yield Fault(
            "wrong-value",
            f"{entry.id} would hang on itself.",
            "name the character of the thing itself, which hangs on nothing, or take  needs  out",
            entry.needs,
            tree.where(path),
        )
    elif not any(state.absent for state in needed.states):
        yield Fault(
            "wrong-value",
            f"{entry.needs} has no state for there being nothing to see, so nothing hangs on it.",
            f"mark that state of {entry.needs} with  absent: true , or take  needs  out",
            entry.needs,
            tree.where(path),
        )


def _taxa(authored: AuthoredKey) -> list[str]:
    """Names a group may hold: species and genera described, families named."""
    files = [file.content for file in authored.species]
    species = [entry.name for content in files for entry in content.species]
    return [
        *species,
        *(content.genus for content in files),
        *(family.name for family in authored.key.families),
    ]


def _higher(authored: AuthoredKey) -> list[str]:
    """Suborders, and genera that the key will describe one day: both are known to `applies`."""
    later = [other.name.partition(" ")[0] for other in authored.key.undescribed]
    return [*(suborder.name for suborder in authored.key.suborders), *later]
