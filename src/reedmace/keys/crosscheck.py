"""What one file of a key says of another: every id used must exist, shares and periods must make sense."""

from __future__ import annotations

from collections.abc import Iterator

from reedmace.faults import Fault, did_you_mean
from reedmace.keys.authoring import CharacterEntry, Flight, SpeciesEntry, Valued
from reedmace.keys.cells import CellError, read_cell
from reedmace.keys.reading import AuthoredKey, ReadFile
from reedmace.keys.seasons import parse_third
from reedmace.keys.tree import Path, Tree


def cross_check(authored: AuthoredKey) -> list[Fault]:
    """Every fault of reference and of plain sense, file by file."""
    return [
        *_key_file(authored),
        *_characters(authored),
        *(f for file in authored.species for f in _Species(authored, file).faults()),
    ]


def _unknown(
    code: str, what: str, name: str, known: list[str], tree: Tree, path: Path, *, field: bool = False
) -> Fault:
    hint = did_you_mean(name, known, f"known: {', '.join(known[:12])}{' …' if len(known) > 12 else ''}")
    return Fault(code, f'There is no {what} "{name}" in this key.', hint, name, tree.where(path, field=field))


def _twice(ids: list[tuple[str, Path]], tree: Tree) -> Iterator[Fault]:
    seen: set[str] = set()
    for name, path in ids:
        if name in seen:
            yield Fault("duplicate-id", f'"{name}" stands here twice.', "give each its own", name, tree.where(path))
        seen.add(name)


def _key_file(authored: AuthoredKey) -> Iterator[Fault]:
    key, tree = authored.key, authored.key_tree
    regions = [region.id for region in key.regions]
    for field in ("regions", "habitats", "groups", "sources"):
        items = getattr(key, field)
        yield from _twice([(item.id, (field, i, "id")) for i, item in enumerate(items)], tree)
    for square, named in key.squares.items():
        for region in named:
            if region not in regions:
                yield _unknown("unknown-region", "region", region, regions, tree, ("squares", square))
    known = _taxa(authored)
    for index, group in enumerate(key.groups):
        for at, member in enumerate(group.members):
            if member not in known:
                yield _unknown(
                    "unknown-member",
                    "species, genus or family",
                    member,
                    known,
                    tree,
                    ("groups", index, "members", at),
                )
    for index, other in enumerate(key.undescribed):
        yield from _flight(other.flight, tree, ("undescribed", index, "flight"))
        for region, level in other.abundance.items():
            path: Path = ("undescribed", index, "abundance", region)
            if region not in regions:
                yield _unknown("unknown-region", "region", region, regions, tree, path, field=True)
            if level not in key.abundance:
                yield _unknown("unknown-level", "level of abundance", level, list(key.abundance), tree, path)


def _characters(authored: AuthoredKey) -> Iterator[Fault]:
    tree = authored.characters_tree
    entries = authored.characters.characters
    yield from _twice([(entry.id, ("characters", i, "id")) for i, entry in enumerate(entries)], tree)
    taxa = _taxa(authored)
    for index, entry in enumerate(entries):
        ids = [state.id for state in entry.states]
        yield from _twice([(name, ("characters", index, "states", i, "id")) for i, name in enumerate(ids)], tree)
        for at, pair in enumerate(entry.confused):
            for name in pair:
                if name not in ids:
                    yield _unknown(
                        "unknown-state",
                        f"state of {entry.id} called",
                        name,
                        ids,
                        tree,
                        ("characters", index, "confused", at),
                    )
        for at, group in enumerate(entry.applies.groups):
            if group not in taxa and group not in _higher(authored):
                yield _unknown(
                    "unknown-member",
                    "group",
                    group,
                    taxa,
                    tree,
                    ("characters", index, "applies", "groups", at),
                )
        if not (entry.source or authored.characters.source):
            yield Fault(
                "no-source",
                f'"{entry.id}" has no source.',
                "add  source: practice",
                None,
                tree.where(("characters", index)),
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


def _flight(flight: Flight, tree: Tree, path: Path) -> Iterator[Fault]:
    thirds = [parse_third(text) for text in (flight.first, *flight.peak, flight.last)]
    if None in thirds:
        yield Fault(
            "unknown-third",
            "This is no third of a month.",
            "write  early-may, mid-may or late-may",
            None,
            tree.where(path),
        )
    elif sorted(t for t in thirds if t is not None) != thirds:
        yield Fault(
            "flight-order",
            "First, peak and last do not follow each other.",
            "put them in the order of the year",
            None,
            tree.where(path),
        )


class _Species:
    """The checks over one file of species."""

    def __init__(self, authored: AuthoredKey, file: ReadFile) -> None:
        self.key = authored.key
        self.file, self.tree = file.content, file.tree
        self.characters = {entry.id: entry for entry in authored.characters.characters}
        self.regions = [region.id for region in self.key.regions]
        self.habitats = [habitat.id for habitat in self.key.habitats]
        self.sources = [source.id for source in self.key.sources]
        self.named = [
            *(entry.name for other in authored.species for entry in other.content.species),
            *(other.name for other in self.key.undescribed),
        ]

    def faults(self) -> Iterator[Fault]:
        families = [family.name for family in self.key.families]
        if self.file.family not in families:
            yield _unknown("unknown-family", "family", self.file.family, families, self.tree, ("family",))
        yield from self._sources(self.file.source, ("source",))
        for index, entry in enumerate(self.file.species):
            yield from self._entry(entry, ("species", index))

    def _entry(self, entry: SpeciesEntry, at: Path) -> Iterator[Fault]:
        if not entry.name.startswith(f"{self.file.genus} "):
            yield Fault(
                "wrong-genus",
                f"This file is for {self.file.genus}.",
                "move the species to its genus' file",
                entry.name,
                self.tree.where((*at, "name")),
            )
        if self.named.count(entry.name) > 1:
            yield Fault(
                "duplicate-id",
                f'"{entry.name}" is named twice in this key.',
                "describe it once, and take it out of `undescribed`",
                entry.name,
                self.tree.where((*at, "name")),
            )
        if not (entry.source or self.file.source):
            yield Fault(
                "no-source",
                f'"{entry.name}" has no source.',
                "add  source: …  at the top of the file",
                None,
                self.tree.where(at),
            )
        yield from self._tables(entry, at)
        yield from self._traits(entry.traits, (*at, "traits"))
        yield from _twice([(guise.id, (*at, "guises", i, "id")) for i, guise in enumerate(entry.guises)], self.tree)
        total = sum(guise.share for guise in entry.guises)
        if abs(total - 1) > 0.011:
            yield Fault(
                "share-sum",
                f"The shares of the guises add up to {total:g}.",
                "make them add up to 1",
                None,
                self.tree.where((*at, "guises"), field=True),
            )
        for index, guise in enumerate(entry.guises):
            yield from self._traits(guise.traits, (*at, "guises", index, "traits"))
            yield from self._sources(guise.source, (*at, "guises", index, "source"))
            for region in guise.share_in:
                if region not in self.regions:
                    path = (*at, "guises", index, "share_in", region)
                    yield _unknown("unknown-region", "region", region, self.regions, self.tree, path, field=True)
        yield from self._lookalikes(entry, at)

    def _tables(self, entry: SpeciesEntry, at: Path) -> Iterator[Fault]:
        yield from self._sources(entry.source, (*at, "source"))
        for field in ("status", "abundance", "flight", "habitats", "hindwing"):
            valued: Valued[object] | None = getattr(entry, field)
            if valued is not None:
                yield from self._sources(valued.source, (*at, field, "source"))
        for region, level in entry.abundance.value.items():
            path = (*at, "abundance", *self._inside((*at, "abundance")), region)
            if region not in self.regions:
                yield _unknown("unknown-region", "region", region, self.regions, self.tree, path, field=True)
            if level not in self.key.abundance:
                yield _unknown("unknown-level", "level of abundance", level, list(self.key.abundance), self.tree, path)
        for habitat in entry.habitats.value:
            if habitat not in self.habitats:
                path = (*at, "habitats", *self._inside((*at, "habitats")), habitat)
                yield _unknown("unknown-habitat", "habitat", habitat, self.habitats, self.tree, path, field=True)
        if entry.flight:
            yield from _flight(entry.flight.value, self.tree, (*at, "flight"))
        if entry.hindwing and not entry.hindwing.value[0] < entry.hindwing.value[1]:
            yield Fault(
                "range-order",
                "A range goes from smaller to larger.",
                "swap the two",
                None,
                self.tree.where((*at, "hindwing")),
            )

    def _traits(self, traits: dict[str, Valued[object]], at: Path) -> Iterator[Fault]:
        for name, valued in traits.items():
            path = (*at, name)
            yield from self._sources(valued.source, (*path, "source"))
            entry: CharacterEntry | None = self.characters.get(name)
            if entry is None:
                yield _unknown(
                    "unknown-character", "character", name, list(self.characters), self.tree, path, field=True
                )
                continue
            try:
                read_cell(entry, valued.value)
            except CellError as error:
                inside = (*path, *self._inside(path), *error.inside)
                yield Fault(error.code, error.message, error.hint, str(valued.value)[:60], self.tree.where(inside))

    def _lookalikes(self, entry: SpeciesEntry, at: Path) -> Iterator[Fault]:
        guises = [guise.id for guise in entry.guises]
        for index, other in enumerate(entry.lookalikes):
            path = (*at, "lookalikes", index)
            yield from self._sources(other.source, (*path, "source"))
            if other.species not in self.named or other.species == entry.name:
                yield _unknown(
                    "unknown-lookalike",
                    "other species",
                    other.species,
                    self.named,
                    self.tree,
                    (*path, "species"),
                )
            for name in other.guises:
                if name not in guises:
                    yield _unknown(
                        "unknown-guise",
                        f"guise of {entry.name} called",
                        name,
                        guises,
                        self.tree,
                        (*path, "guises"),
                    )
            for name, states in other.decided_by.items():
                character = self.characters.get(name)
                if character is None:
                    yield _unknown(
                        "unknown-character",
                        "character",
                        name,
                        list(self.characters),
                        self.tree,
                        (*path, "decided_by", name),
                        field=True,
                    )
                    continue
                ids = [state.id for state in character.states]
                for state in states:
                    if state not in ids:
                        yield _unknown(
                            "unknown-state",
                            f"state of {name} called",
                            state,
                            ids,
                            self.tree,
                            (*path, "decided_by", name),
                        )

    def _sources(self, named: tuple[str, ...], path: Path) -> Iterator[Fault]:
        for source in named:
            if source not in self.sources:
                yield _unknown("unknown-source", "source", source, self.sources, self.tree, path)

    def _inside(self, path: Path) -> Path:
        return ("is",) if (*path, "is") in self.tree.spots else ()
