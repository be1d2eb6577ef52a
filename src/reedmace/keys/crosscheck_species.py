"""What a file of species says of the rest of the key: every id used must exist, shares and periods make sense."""

from __future__ import annotations

from collections.abc import Iterator

from reedmace.faults import Fault, Where
from reedmace.keys.authoring import SpeciesEntry, Valued
from reedmace.keys.authoring_characters import CharacterEntry
from reedmace.keys.cells import CellError, read_cell
from reedmace.keys.reading import AuthoredKey, ReadFile
from reedmace.keys.references import abundance, flight, item, no_source, sources, twice, unknown
from reedmace.keys.tree import Path, in_short


class SpeciesCheck:
    """The checks over one file of species."""

    def __init__(self, authored: AuthoredKey, file: ReadFile) -> None:
        self.authored, self.key = authored, authored.key
        self.file, self.tree = file.content, file.tree
        self.characters = {entry.id: entry for entry in authored.characters.characters}
        self.regions = [region.id for region in self.key.regions]
        self.habitats = [habitat.id for habitat in self.key.habitats]
        self.named = [
            *(entry.name for other in authored.species for entry in other.content.species),
            *(other.name for other in self.key.undescribed),
        ]

    def faults(self) -> Iterator[Fault]:
        """Every fault of the file, from top to bottom."""
        families = [family.name for family in self.key.families]
        if self.file.family not in families:
            suborders = [suborder.name for suborder in self.key.suborders]
            only = suborders[0] if len(suborders) == 1 else "ITS-SUBORDER"
            form = f"{{name: NAME, suborder: {only}, title: a plain word for one of them}}"
            added = ("families", "key.yaml", form)
            yield unknown("unknown-family", "family", self.file.family, families, self.tree, ("family",), added=added)
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
            later = any(other.name == entry.name for other in self.authored.key.undescribed)
            yield Fault(
                "duplicate-id",
                f'"{entry.name}" is named twice in this key.',
                "take it out of `undescribed`" if later else "describe it once; is the other another species?",
                entry.name,
                self.tree.where((*at, "name")),
            )
        if not (entry.source or self.file.source):
            yield no_source(entry.name, self.authored, self.tree, at)
        yield from self._tables(entry, at)
        yield from self._traits(entry.traits, (*at, "traits"))
        yield from twice([(guise.id, (*at, "guises", i, "id")) for i, guise in enumerate(entry.guises)], self.tree)
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
            yield from self._sources(guise.evidence.source, (*at, "guises", index, "evidence", "source"))
            if guise.flight:
                at_flight = (*at, "guises", index, "flight")
                yield from self._sources(guise.flight.source, (*at_flight, "source"))
                yield from flight(guise.flight.value, self.tree, (*at_flight, *self._inside(at_flight)))
            for region in guise.share_in:
                if region not in self.regions:
                    path = (*at, "guises", index, "share_in", region)
                    yield unknown("unknown-region", "region", region, self.regions, self.tree, path, field=True)
        for index, care in enumerate(entry.protection):
            yield from self._sources(care.source, (*at, "protection", index, "source"))
        yield from self._lookalikes(entry, at)

    def _tables(self, entry: SpeciesEntry, at: Path) -> Iterator[Fault]:
        yield from self._sources(entry.source, (*at, "source"))
        for field in ("status", "abundance", "flight", "habitats", "hindwing"):
            valued: Valued[object] | None = getattr(entry, field)
            if valued is not None:
                yield from self._sources(valued.source, (*at, field, "source"))
        at_levels = (*at, "abundance", *self._inside((*at, "abundance")))
        yield from abundance(entry.abundance.value, self.key, self.tree, at_levels)
        for habitat in entry.habitats.value:
            if habitat not in self.habitats:
                path = (*at, "habitats", *self._inside((*at, "habitats")), habitat)
                yield unknown("unknown-habitat", "habitat", habitat, self.habitats, self.tree, path, field=True)
        if entry.flight:
            at_flight = (*at, "flight", *self._inside((*at, "flight")))
            yield from flight(entry.flight.value, self.tree, at_flight)
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
                yield unknown(
                    "unknown-character", "character", name, list(self.characters), self.tree, path, field=True
                )
                continue
            try:
                read_cell(entry, valued.value)
            except CellError as error:
                inside = (*path, *self._inside(path), *error.inside)
                yield Fault(error.code, error.message, error.hint, in_short(valued.value), self._at(inside, error))

    def _at(self, path: Path, error: CellError) -> Where:
        # A state that does not exist is a field in a map of frequencies, else a value.
        return self.tree.where(
            path, field=error.code == "unknown-state" and bool(error.inside) and isinstance(path[-1], str)
        )

    def _lookalikes(self, entry: SpeciesEntry, at: Path) -> Iterator[Fault]:
        guises = [guise.id for guise in entry.guises]
        for index, other in enumerate(entry.lookalikes):
            path = (*at, "lookalikes", index)
            yield from self._sources(other.source, (*path, "source"))
            if other.species not in self.named or other.species == entry.name:
                yield unknown(
                    "unknown-lookalike",
                    "other species",
                    other.species,
                    [name for name in self.named if name != entry.name],
                    self.tree,
                    (*path, "species"),
                )
            for number, name in enumerate(other.guises):
                if name not in guises:
                    yield unknown(
                        "unknown-guise",
                        f"guise of {entry.name} called",
                        name,
                        guises,
                        self.tree,
                        item((*path, "guises"), number, self.tree),
                    )
            for name, states in other.decided_by.items():
                character = self.characters.get(name)
                if character is None:
                    yield unknown(
                        "unknown-character",
                        "character",
                        name,
                        list(self.characters),
                        self.tree,
                        (*path, "decided_by", name),
                        field=True,
                    )
                    continue
                if character.kind == "number":
                    yield Fault(
                        "wrong-type",
                        f"{character.id} is a number: no state of it can decide.",
                        "name a character with states",
                        name,
                        self.tree.where((*path, "decided_by", name), field=True),
                    )
                    continue
                ids = [state.id for state in character.states]
                for number, state in enumerate(states):
                    if state not in ids:
                        yield unknown(
                            "unknown-state",
                            f"state of {name} called",
                            state,
                            ids,
                            self.tree,
                            item((*path, "decided_by", name), number, self.tree),
                        )

    def _sources(self, named: tuple[str, ...], path: Path) -> Iterator[Fault]:
        return sources(named, self.authored, self.tree, path)

    def _inside(self, path: Path) -> Path:
        return ("is",) if (*path, "is") in self.tree.spots else ()
