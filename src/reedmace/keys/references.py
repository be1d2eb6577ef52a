"""Checks that several files of a key share: does an id exist, does it stand twice, does a period make sense."""

from __future__ import annotations

from collections.abc import Iterator

from reedmace.faults import Fault, did_you_mean
from reedmace.keys.authoring import Flight, KeyFile
from reedmace.keys.reading import AuthoredKey
from reedmace.keys.seasons import parse_third
from reedmace.keys.tree import Path, Tree


def unknown(code: str, what: str, name: str, known: list[str], tree: Tree, path: Path, *, field: bool = False) -> Fault:
    """The fault of a name that the key does not have; `field` when the name is the field, not its value."""
    hint = did_you_mean(name, known, f"known: {', '.join(known[:12])}{' …' if len(known) > 12 else ''}")
    return Fault(code, f'There is no {what} "{name}" in this key.', hint, name, tree.where(path, field=field))


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
