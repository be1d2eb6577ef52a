"""One species as the key describes it, in plain values: names, season, range, marks by guise, look-alikes, sources."""

from __future__ import annotations

from typing import Any, NamedTuple

from reedmace.keys.model import NOT_KNOWN, Character, Guise, Key
from reedmace.keys.seasons import MONTHS, PARTS

SHOWN = 0.05  # frequency from which a state is told


class GuiseMarks(NamedTuple):
    """What a guise shows beyond what all guises of the species share: (character, [(state, frequency)])."""

    guise: int
    marks: tuple[tuple[int, tuple[tuple[int, float], ...]], ...]


class Description(NamedTuple):
    """A species with its marks sorted: shared by all guises, and by guise."""

    species: int
    shared: tuple[tuple[int, tuple[tuple[int, float], ...]], ...]
    guises: tuple[GuiseMarks, ...]


def describe(key: Key, species: int) -> Description:
    """The marks of a species; what is not known or does not apply is left out."""
    guises = key.species[species].guises
    shared = []
    own: dict[int, list[tuple[int, tuple[tuple[int, float], ...]]]] = {guise: [] for guise in guises}
    for character in key.characters:
        cells = [character.column[guise] if _listed(character, key.guises[guise]) else NOT_KNOWN for guise in guises]
        known = [cell for cell in cells if 0 <= cell < character.described]
        if character.is_number or not known:
            continue
        if len(set(cells)) == 1:
            shared.append((character.index, _states(character.cells[known[0]])))
            continue
        for guise, cell in zip(guises, cells, strict=True):
            if 0 <= cell < character.described:
                own[guise].append((character.index, _states(character.cells[cell])))
    return Description(species, tuple(shared), tuple(GuiseMarks(guise, tuple(marks)) for guise, marks in own.items()))


def _listed(character: Character, guise: Guise) -> bool:
    """False for a mark of the other sex, by which a guise is described for the sake of pairs."""
    return character.shown_by is None or guise.sex in (None, character.shown_by)


def _states(cell: tuple[float, ...]) -> tuple[tuple[int, float], ...]:
    order = sorted(range(len(cell)), key=lambda state: -cell[state])
    return tuple((state, cell[state]) for state in order if cell[state] >= SHOWN)


def third_id(third: int) -> str:
    """16 → `mid-june`."""
    month, part = divmod(third, 3)
    return f"{PARTS[part]}-{MONTHS[month]}"


def as_json(key: Key, species: int) -> dict[str, Any]:
    """One JSON-able object, as the command contract names it."""
    one = key.species[species]
    more = one.more
    flight = one.flight
    return {
        "name": one.name,
        "authority": one.authority,
        "vernacular": one.english,
        "aliases": list(one.aliases),
        "synonyms": list(one.synonyms),
        "family": one.family,
        "suborder": key.families[one.family][1],
        "status": more.status,
        "length_mm": list(one.length) if one.length else None,
        "hindwing_mm": list(more.hindwing) if more.hindwing else None,
        "flight": {
            "first": third_id(flight[0]),
            "peak": [third_id(flight[1]), third_id(flight[2])],
            "last": third_id(flight[3]),
        }
        if flight
        else None,
        "regions": dict(more.levels),
        "habitats": dict(one.habitats),
        "guises": [_guise(key, marks) for marks in describe(key, species).guises],
        "lookalikes": [
            {
                "name": other.name,
                "guises": list(other.guises),
                "mark": other.mark,
                "decided_by": {
                    name: [key.character(name).states[state].id for state in states]
                    for name, states in other.decided_by.items()
                },
                "unseen": other.unseen or None,
            }
            for other in more.lookalikes
        ],
        "needs": [
            {
                "guise": key.guises[guise].title,
                "evidence": key.guises[guise].evidence,
                "photograph": key.guises[guise].photograph or None,
            }
            for guise in one.guises
        ],
        "protection": [dict(note) for note in more.protection],
        "notes": list(more.notes),
        "sources": list(more.sources),
        "sources_of": {name: list(named) for name, named in more.sources_of.items()},
        "key": {"id": key.id, "version": key.version, "digest": key.digest},
    }


def _guise(key: Key, marks: GuiseMarks) -> dict[str, Any]:
    guise = key.guises[marks.guise]
    return {
        "id": guise.id,
        "title": guise.title,
        "sex": guise.sex,
        "age": guise.age,
        "form": guise.form or None,
        "share": guise.share,
        "marks": {
            key.characters[character].id: {key.characters[character].states[state].id: part for state, part in states}
            for character, states in marks.marks
        },
    }


def citation(source: dict[str, Any]) -> str:
    """A source as a reader would look for it: authors, year, title, publisher."""
    year = f" ({source['year']})" if source.get("year") else ""
    authors = f"{source['authors']}{year}: " if source.get("authors") else f"{year.strip()}{': ' if year else ''}"
    publisher = f". {source['publisher']}" if source.get("publisher") else ""
    return f"{authors}{source['title']}{publisher}."
