"""What a key says against itself, though every id exists.

A value that is never asked for, a mark that decides but is never shown or shown by both, one name for two species, a
length in a unit that errors of reading are not reckoned in, a number that has states.
"""

from __future__ import annotations

from collections.abc import Iterator

from reedmace.faults import Fault
from reedmace.keys.applies import applies_to
from reedmace.keys.authoring import GuiseEntry, LookalikeEntry, SpeciesEntry, SpeciesFile
from reedmace.keys.authoring_characters import CharacterEntry
from reedmace.keys.cells import NOT_APPLICABLE, CellError, read_cell
from reedmace.keys.reading import AuthoredKey
from reedmace.keys.tree import Path, Tree

HALF = 0.5  # above which a state is shown more often than not
_LENGTHS = ("m", "cm", "dm", "in", "inch", "inches")


def against_itself(authored: AuthoredKey) -> Iterator[Fault]:
    """Every such fault, file by file."""
    for index, character in enumerate(authored.characters.characters):
        if character.kind == "number" and character.unit in _LENGTHS:
            yield Fault(
                "wrong-value",
                "Lengths are asked in mm: what a ruler or an eye misreads is reckoned in them.",
                "write  unit: mm  and the range, and every length of a species, in mm",
                character.unit,
                authored.characters_tree.where(("characters", index, "unit")),
            )
        if character.kind == "number" and character.states:
            yield Fault(
                "wrong-value",
                "A number has no states.",
                "take them out, or take  kind: number  out",
                character.id,
                authored.characters_tree.where(("characters", index, "states"), field=True),
            )
    yield from _named_alike(authored)
    suborders = {family.name: family.suborder for family in authored.key.families}
    characters = {entry.id: entry for entry in authored.characters.characters}
    others = {entry.name: (file.content, entry) for file in authored.species for entry in file.content.species}
    for file in authored.species:
        for index, entry in enumerate(file.content.species):
            sense = _Sense(file.content, file.tree, entry, ("species", index), characters, suborders)
            yield from sense.never_asked()
            yield from sense.never_shown()
            yield from sense.shown_by_both(others)


def _named_alike(authored: AuthoredKey) -> Iterator[Fault]:
    first: dict[str, str] = {}
    for file in authored.species:
        for index, entry in enumerate(file.content.species):
            other = first.setdefault(entry.english.casefold(), entry.name)
            if other != entry.name:
                yield Fault(
                    "duplicate-id",
                    f'"{entry.english}" is the English name of {other} too.',
                    "give each its own: the name is all that people see of it",
                    entry.english,
                    file.tree.where(("species", index, "english")),
                )


class _Sense:
    """One species, against the characters."""

    def __init__(
        self,
        content: SpeciesFile,
        tree: Tree,
        entry: SpeciesEntry,
        at: Path,
        characters: dict[str, CharacterEntry],
        suborders: dict[str, str],
    ) -> None:
        self.content, self.tree, self.entry, self.at = content, tree, entry, at
        self.characters, self.suborders = characters, suborders

    def never_asked(self) -> Iterator[Fault]:
        """Values of a guise that its character is not asked of; of a species, where it is asked of no guise."""
        yield from self._not_asked(tuple(self.entry.traits), self.entry.guises, (*self.at, "traits"))
        for index, guise in enumerate(self.entry.guises):
            path = (*self.at, "guises", index, "traits")
            yield from self._not_asked(tuple(guise.traits), (guise,), path)

    def _not_asked(self, names: tuple[str, ...], guises: tuple[GuiseEntry, ...], path: Path) -> Iterator[Fault]:
        for name in names:
            character = self.characters.get(name)
            if character is None or any(self._applies(character, guise) for guise in guises):
                continue
            traits = self.entry.traits if path == (*self.at, "traits") else guises[0].traits
            if traits[name].value == NOT_APPLICABLE:
                continue
            who = f"{self.entry.english}, {guises[0].title}" if len(guises) == 1 else self.entry.english
            yield Fault(
                "never-asked",
                f'"{name}" is not asked of {who}: it applies to others only.',
                "take it out, or widen  applies  of the character in characters.yaml",
                name,
                self.tree.where((*path, name), field=True),
            )

    def never_shown(self) -> Iterator[Fault]:
        """Marks said to settle a look-alike that no guise concerned ever shows."""
        for index, other in enumerate(self.entry.lookalikes):
            for name, states in other.decided_by.items():
                character = self.characters.get(name)
                shown = self._shown(character, other) if character and character.kind == "states" else None
                if shown is None or shown & set(states):
                    continue
                yield Fault(
                    "never-shown",
                    f"{self.entry.english} never shows {name} {' or '.join(states)}, so it cannot be told by that.",
                    f"name what it shows itself:  {name}: {_listed(sorted(shown))}",
                    name,
                    self.tree.where((*self.at, "lookalikes", index, "decided_by", name), field=True),
                )

    def shown_by_both(self, others: dict[str, tuple[SpeciesFile, SpeciesEntry]]) -> Iterator[Fault]:
        """Marks said to settle a look-alike that every guise of the other shows more often than not."""
        for index, other in enumerate(self.entry.lookalikes):
            if other.species not in others or other.species == self.entry.name:
                continue
            content, entry = others[other.species]
            for name, states in other.decided_by.items():
                character = self.characters.get(name)
                if character is None or character.kind != "states":
                    continue
                shown = self._shown(character, other)
                if shown is not None and not shown & set(states):
                    continue  # told already
                known = self._known(character, content, entry)
                if known and all(sum(cell.get(state, 0) for state in states) > HALF for cell in known):
                    said = f"{name} {' or '.join(states)}"
                    yield Fault(
                        "decides-nothing",
                        f"{entry.english} mostly shows {said} too, so it cannot be ruled out by that.",
                        "name a mark that the other lacks, or leave  decided_by  out",
                        name,
                        self.tree.where((*self.at, "lookalikes", index, "decided_by", name), field=True),
                    )

    def _known(self, character: CharacterEntry, content: SpeciesFile, entry: SpeciesEntry) -> list[dict[str, float]]:
        """The frequencies of states in every guise of a species; nothing where one of them is not known."""
        known = []
        for guise in entry.guises:
            valued = guise.traits.get(character.id) or entry.traits.get(character.id)
            try:
                cell = read_cell(character, valued.value) if valued else None
            except CellError:  # told elsewhere
                return []
            if cell is None or not applies_to(character, content, guise, self.suborders):
                return []
            known.append({state.id: share for state, share in zip(character.states, cell, strict=False)})
        return known

    def _shown(self, character: CharacterEntry, other: LookalikeEntry) -> set[str] | None:
        """The states that the guises concerned show; None where that is not known of every one."""
        shown: set[str] = set()
        for guise in self.entry.guises:
            if (other.guises and guise.id not in other.guises) or not self._applies(character, guise):
                continue
            valued = guise.traits.get(character.id) or self.entry.traits.get(character.id)
            try:
                cell = read_cell(character, valued.value) if valued else None
            except CellError:  # told elsewhere
                return None
            if valued is None:
                return None
            shown |= {state.id for state, share in zip(character.states, cell or (), strict=False) if share}
        return shown or None

    def _applies(self, character: CharacterEntry, guise: GuiseEntry) -> bool:
        return applies_to(character, self.content, guise, self.suborders)


def _listed(states: list[str]) -> str:
    return states[0] if len(states) == 1 else f"[{', '.join(states)}]"
