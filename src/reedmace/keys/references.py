"""Checks that several files of a key share: does an id exist, does it stand twice, does a period make sense."""

from __future__ import annotations

import re
from collections.abc import Iterator

from reedmace.faults import Fault, did_you_mean
from reedmace.keys.authoring import Flight, KeyFile
from reedmace.keys.model import LEVELS
from reedmace.keys.reading import AuthoredKey
from reedmace.keys.seasons import parse_third
from reedmace.keys.tree import Path, Tree

# code → where what is not there yet is added, and in which form; ID and NAME stand for what was written
_ADDED = {
    "unknown-region": ("regions", "key.yaml", "{id: ID, title: its name}"),
    "unknown-habitat": ("habitats", "key.yaml", "{id: ID, title: its name}"),
    "unknown-source": ("sources", "key.yaml", "{id: ID, title: what it is}"),
    "unknown-suborder": ("suborders", "key.yaml", "{name: NAME, title: a plain word for one of them}"),
    "unknown-character": ("characters", "characters.yaml", "{id: ID, title: its name}"),
    "unknown-lookalike": (
        "undescribed",
        "key.yaml",
        "{name: NAME, english: its English name, group: its genus, abundance: {}, "
        "flight: {first: mid-may, peak: [early-june, late-july], last: early-september}}",
    ),
}
_BEFORE = {"unknown-lookalike": "describe it in a file of species/, or "}
# code → what to do where nothing can be added in a line
_ELSE = {
    "unknown-level": f"add one to key.yaml, under abundance, where there can be: {', '.join(LEVELS)}",
    "unknown-member": "name one that is described in a file of species/, or take it out",
}


def unknown(
    code: str,
    what: str,
    name: str,
    known: list[str],
    tree: Tree,
    path: Path,
    *,
    field: bool = False,
    added: tuple[str, str, str] | None = None,
) -> Fault:
    """The fault of a name that the key does not have; `field` when the name is the field, not its value.

    `added` is where it would be added where that depends on the key: the list, its file, and the form of the entry.
    """
    listed = did_you_mean(name, known, f"known: {', '.join(known[:12])}{' …' if len(known) > 12 else ''}")
    more = _remedy(code, name, added or _ADDED.get(code), listed=bool(known))
    hint = (f"{listed} Else {more}" if listed.endswith("?") else f"{listed}; or {more}") if known and more else ""
    hint = hint or (listed if known else more or "take it out")
    return Fault(code, f'There is no {what} "{name}" in this key.', hint, name, tree.where(path, field=field))


def _remedy(code: str, name: str, added: tuple[str, str, str] | None, *, listed: bool) -> str:
    """What to do about a name that is meant; `listed` when the list it would stand in holds others."""
    if added is None:
        return _ELSE.get(code, "")
    place, file, form = added
    entry = form.replace("ID", _as_id(name)).replace("NAME", name)
    line = f", under {place}:  - {entry}" if listed else f"  {place}: [{entry}]"
    return f"{_BEFORE.get(code, '')}add to {file}{line}"


def _as_id(name: str) -> str:
    """A name in small letters, digits and hyphens, as ids are written."""
    return re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-") or "its-id"


def item(path: Path, number: int, tree: Tree) -> Path:
    """The path of an item of a list; of the list itself where one word stands for a list of one."""
    return (*path, number) if (*path, number) in tree.spots else path


def twice(ids: list[tuple[str, Path]], tree: Tree) -> Iterator[Fault]:
    """A fault for every id that came before."""
    seen: set[str] = set()
    for name, path in ids:
        if name in seen:
            yield Fault("duplicate-id", f'"{name}" stands here twice.', "give each its own", name, tree.where(path))
        seen.add(name)


def sources(named: tuple[str, ...], authored: AuthoredKey, tree: Tree, path: Path) -> Iterator[Fault]:
    """A fault for every source that `key.yaml` does not list."""
    known = [source.id for source in authored.key.sources]
    for number, source in enumerate(named):
        if source not in known:
            yield unknown("unknown-source", "source", source, known, tree, item(path, number, tree))


def no_source(name: str, authored: AuthoredKey, tree: Tree, path: Path) -> Fault:
    """The fault of something that says nowhere where its values come from."""
    known = [source.id for source in authored.key.sources]
    listed = f"{', '.join(known[:12])}{' …' if len(known) > 12 else ''}"
    hint = f"add  source: {known[0]}  at the top of the file, or another of the sources in key.yaml: {listed}"
    return Fault("no-source", f'"{name}" has no source.', hint, None, tree.where(path))


def flight(period: Flight, tree: Tree, path: Path) -> Iterator[Fault]:
    """A fault where a flight period is no period."""
    parts: list[tuple[Path, str]] = [
        (("first",), period.first),
        (("peak", 0), period.peak[0]),
        (("peak", 1), period.peak[1]),
        (("last",), period.last),
    ]
    before = -1
    for inside, text in parts:
        third = parse_third(text)
        where = tree.where((*path, *inside))
        if third is None:
            hint = "write  early-may, mid-may or late-may"
            yield Fault("unknown-third", f'"{text}" is no third of a month.', hint, text, where)
        elif third < before:
            hint = "put first, peak and last in the order of the year"
            yield Fault("flight-order", f"{text} comes before what stands in front of it.", hint, text, where)
        before = max(before, -1 if third is None else third)


def abundance(levels: dict[str, str], key: KeyFile, tree: Tree, path: Path) -> Iterator[Fault]:
    """A fault for every region or level of abundance that `key.yaml` does not list."""
    regions = [region.id for region in key.regions]
    for region, level in levels.items():
        at = (*path, region)
        if region not in regions:
            yield unknown("unknown-region", "region", region, regions, tree, at, field=True)
        if level not in key.abundance:
            yield unknown("unknown-level", "level of abundance", level, list(key.abundance), tree, at)
