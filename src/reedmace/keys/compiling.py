"""A checked key → its compiled form: plain JSON-able values, laid out character by character.

Every character holds its few distinct cells and, for each guise, which of them applies; inheritance,
`applies` and abundance levels are worked out here once.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from typing import Any

from reedmace.keys.applies import applies_to
from reedmace.keys.authoring import Flight, GuiseEntry, SpeciesEntry, SpeciesFile, Valued
from reedmace.keys.authoring_characters import CharacterEntry
from reedmace.keys.borrowing import Kinship, borrow, kinship
from reedmace.keys.cells import read_cell
from reedmace.keys.reading import AuthoredKey
from reedmace.keys.seasons import parse_third

NOT_KNOWN = -1
NOT_APPLICABLE = -2
# How often a mark is seen at all when somebody tries, by effort, where the character says nothing (practice).
VISIBLE = {"glance": 0.95, "look": 0.85, "close": 0.6, "hand": 0.35}


def compile_key(authored: AuthoredKey, digest: str) -> dict[str, Any]:
    """The compiled form. `authored` must be free of faults (see `crosscheck`)."""
    key = authored.key
    described = [(file.content, entry) for file in authored.species for entry in file.content.species]
    rows = [(content, entry, guise) for content, entry in described for guise in entry.guises]
    numbers = {entry.name: index for index, (_, entry) in enumerate(described)}
    named_by = _named_by(described, numbers)
    suborders = {family.name: family.suborder for family in key.families}
    regions = [region.id for region in key.regions]
    asked = [entry.id for entry in authored.characters.characters]
    kin = kinship((content.genus, guise.sex, guise.age) for content, _, guise in rows)
    return {
        "id": key.id,
        "title": key.title,
        "version": key.version,
        "scope": key.scope,
        "licence": key.licence,
        "caution": key.caution,
        "stage": key.stage,
        "digest": digest,
        "classification": key.classification.model_dump(by_alias=True),
        "families": {family.name: [family.title, family.suborder] for family in key.families},
        "regions": [[region.id, region.title, list(region.words)] for region in key.regions],
        "squares": {square: list(named) for square, named in key.squares.items()},
        "habitats": [[habitat.id, habitat.title, list(habitat.words)] for habitat in key.habitats],
        "characters": [_character(entry, rows, suborders, kin, asked) for entry in authored.characters.characters],
        "species": [
            _species(content, entry, authored, numbers, named_by[entry.name], regions) for content, entry in described
        ],
        "guises": [_guise(guise, numbers[entry.name], regions) for _, entry, guise in rows],
        "groups": _groups(authored, described),
        "undescribed": [
            {
                "name": other.name,
                "english": other.english,
                "group": other.group,
                "abundance": _weights(other.abundance, key.weights, regions),
                "flight": _thirds(other.flight),
            }
            for other in key.undescribed
        ],
        "namesakes": [[one.animal, list(one.names), [one.animal, *one.words]] for one in key.namesakes],
        "remarks": [[list(one.words), one.tell, one.instead, list(one.unless)] for one in key.remarks],
        "sources": [source.model_dump() for source in key.sources],
        "values_by_source": dict(sorted(_by_source(authored).items())),
    }


def _weights(levels: dict[str, str], weights: dict[str, float], regions: list[str]) -> list[float]:
    return [weights[levels.get(region, "absent")] for region in regions]


def _thirds(flight: Flight) -> list[int]:
    thirds = [parse_third(text) for text in (flight.first, *flight.peak, flight.last)]
    return [third for third in thirds if third is not None]


def _character(
    entry: CharacterEntry,
    rows: list[tuple[SpeciesFile, SpeciesEntry, GuiseEntry]],
    suborders: dict[str, str],
    kin: Kinship,
    ids_asked: list[str],
) -> dict[str, Any]:
    numbers: dict[tuple[float, ...], int] = {}
    column = []
    for content, species, guise in rows:
        # What a species shows counts for those of its guises only that the character is asked of.
        asked = applies_to(entry, content, guise, suborders)
        valued = (guise.traits.get(entry.id) or species.traits.get(entry.id)) if asked else None
        if valued is None:
            column.append(NOT_KNOWN if asked else NOT_APPLICABLE)
            continue
        cell = read_cell(entry, valued.value)
        if cell is None:
            column.append(NOT_APPLICABLE)
            continue
        column.append(numbers.setdefault(cell, len(numbers)))
    cells = list(numbers)
    described = len(cells)
    if entry.kind == "states":
        borrowed = borrow(kin, cells, column, len(entry.states))
        column = list(borrowed.column)
        cells += [tuple(round(value, 9) for value in cell) for cell in borrowed.cells]
    ids = [state.id for state in entry.states]
    return {
        "id": entry.id,
        "title": entry.title,
        "question": entry.question,
        "help": entry.help,
        "part": entry.part,
        "effort": entry.effort,
        "echo": entry.echo,
        "aliases": list(entry.aliases),
        "ordered": entry.ordered,
        "sexing": entry.sexing,
        "visible": entry.visible or VISIBLE[entry.effort],
        "photograph": entry.photograph,
        "confused": [[ids.index(one), ids.index(other)] for one, other in entry.confused],
        "misread": {
            eye: [rate.missed, rate.invented]
            for eye, rate in (("beginner", entry.beginner), ("practised", entry.practised))
            if rate
        },
        "states": [[state.id, state.title, list(state.words), state.absent] for state in entry.states],
        "unit": entry.unit,
        "range": list(entry.range) if entry.range else None,
        "by_eye": {eye: [by.half_width, by.bias] for eye, by in entry.by_eye.items()},
        # 0 and 1 as whole numbers: most cells are certain, and the form is read on every start.
        "described": described,
        "cells": [[int(value) if value in (0.0, 1.0) else value for value in cell] for cell in cells],
        "column": " ".join(map(str, column)),  # one text is read faster than its numbers
        "needs": ids_asked.index(entry.needs) if entry.needs else None,
        "shown_by": entry.shown_by,
        "colours": entry.colours,
    }


def _species(
    content: SpeciesFile,
    entry: SpeciesEntry,
    authored: AuthoredKey,
    numbers: dict[str, int],
    named_by: list[int],
    regions: list[str],
) -> dict[str, Any]:
    key = authored.key
    characters = authored.characters.characters
    # A character called length may have states; a size to show is only what was measured.
    measured = any(character.id == "length" and character.kind == "number" for character in characters)
    length = entry.traits.get("length") if measured else None
    ids = [character.id for character in characters]
    others = [other.name for other in key.undescribed]
    lookalikes = []
    for other in entry.lookalikes:
        decided = {
            name: [[state.id for state in characters[ids.index(name)].states].index(state) for state in states]
            for name, states in other.decided_by.items()
        }
        lookalikes.append(
            {
                "name": other.species,
                "species": numbers.get(other.species),
                "undescribed": others.index(other.species) if other.species in others else None,
                "guises": list(other.guises),
                "mark": other.mark.rstrip("."),  # the screen ends the sentence
                "decided_by": decided,
                "unseen": other.unseen,
            }
        )
    more = {
        "status": entry.status.value,
        "levels": entry.abundance.value,
        "hindwing": list(entry.hindwing.value) if entry.hindwing else None,
        "lookalikes": lookalikes,
        "protection": [note.model_dump() | {"source": list(note.source)} for note in entry.protection],
        "notes": list(entry.notes),
        "sources": sorted({source for _, named in _values(content, entry) for source in named}),
        "sources_of": _sources_of(content, entry),
    }
    return {
        "name": entry.name,
        "authority": entry.authority,
        "english": entry.english,
        "aliases": list(entry.aliases),
        "synonyms": list(entry.synonyms),
        "genus": content.genus,
        "family": content.family,
        "abundance": _weights(entry.abundance.value, key.weights, regions),
        "flight": _thirds(entry.flight.value) if entry.flight else None,
        "habitats": dict(entry.habitats.value),
        "length": list(length.value) if length and isinstance(length.value, tuple) else None,
        "protected": bool(entry.protection),
        "named_by": named_by,
        # Decoded only where it is asked for: a text inside the text costs next to nothing to read over.
        "text": json.dumps(more, ensure_ascii=False, separators=(",", ":")),
    }


def _named_by(described: list[tuple[SpeciesFile, SpeciesEntry]], numbers: dict[str, int]) -> dict[str, list[int]]:
    """For each species the numbers of those that list it as a look-alike."""
    found: dict[str, list[int]] = {name: [] for name in numbers}
    for _, entry in described:
        for other in dict.fromkeys(one.species for one in entry.lookalikes):
            if other in found:
                found[other].append(numbers[entry.name])
    return found


FIELDS = ("status", "abundance", "flight", "habitats", "hindwing")


def _sources_of(content: SpeciesFile, entry: SpeciesEntry) -> dict[str, list[str]]:
    """The sources of what is said of the species as a whole (a trait may be called `flight` too: it is not meant)."""
    fields = {name: getattr(entry, name) for name in FIELDS} | {"length": entry.traits.get("length")}
    return {name: list(valued.source or entry.source or content.source) for name, valued in fields.items() if valued}


def _guise(guise: GuiseEntry, species: int, regions: list[str]) -> list[Any]:
    return [
        species,
        guise.id,
        guise.title,
        guise.sex,
        guise.age,
        guise.form,
        guise.share,
        [[regions.index(region), share] for region, share in guise.share_in.items()],
        guise.evidence.value,
        guise.photograph,
        _thirds(guise.flight.value) if guise.flight else None,
    ]


def _groups(authored: AuthoredKey, described: list[tuple[SpeciesFile, SpeciesEntry]]) -> list[dict[str, Any]]:
    """Every group a verdict may climb to, smallest first: pairs and aggregates, genera, families, suborders, order."""
    key = authored.key
    suborders = {family.name: family.suborder for family in key.families}

    of_taxon: dict[str, list[int]] = {}
    for index, (content, entry) in enumerate(described):
        for taxon in {entry.name, content.genus, content.family, suborders.get(content.family, "")}:
            of_taxon.setdefault(taxon, []).append(index)

    def holding(*taxa: str) -> list[int]:
        return sorted({index for taxon in taxa for index in of_taxon.get(taxon, ())})

    found: list[tuple[str, str, str | None, list[int]]] = [
        (group.rank, group.title, None, holding(*group.members)) for group in key.groups
    ]
    titles = {content.genus: content.title for content, _ in reversed(described)}  # the first file's title counts
    genera = dict.fromkeys(content.genus for content, _ in described)
    found += [("genus", titles[genus], genus, holding(genus)) for genus in genera]
    found += [("family", family.title, family.name, holding(family.name)) for family in key.families]
    found += [("suborder", sub.title, sub.name, holding(sub.name)) for sub in key.suborders]
    found.append(("order", key.classification.title, key.classification.order, list(range(len(described)))))
    rows = [
        {"rank": rank, "title": title, "scientific": scientific, "members": members}
        for rank, title, scientific, members in found
        if len(members) > 1 or rank in ("genus", "family", "suborder")
    ]
    return sorted((row for row in rows if row["members"]), key=lambda row: len(row["members"]))


def _values(content: SpeciesFile, entry: SpeciesEntry) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Every value of a species with the sources that count for it."""

    def one(name: str, valued: Valued[Any], near: tuple[str, ...] = ()) -> tuple[str, tuple[str, ...]]:
        return name, valued.source or near or entry.source or content.source

    for field in FIELDS:
        valued = getattr(entry, field)
        if valued is not None:
            yield one(field, valued)
    for name, valued in entry.traits.items():
        yield one(name, valued)
    for guise in entry.guises:
        yield one("evidence", guise.evidence, guise.source)
        if guise.flight is not None:
            yield one("flight", guise.flight, guise.source)
        for name, valued in guise.traits.items():
            yield one(name, valued, guise.source)
    for other in entry.lookalikes:
        yield other.species, other.source or entry.source or content.source


def _by_source(authored: AuthoredKey) -> Counter[str]:
    """How many values each source stands for; a value with two sources counts for both."""
    counted: Counter[str] = Counter()
    for file in authored.species:
        for entry in file.content.species:
            for _, named in _values(file.content, entry):
                counted.update(named)
            for note in entry.protection:
                counted.update(note.source or entry.source or file.content.source)
    for character in authored.characters.characters:
        counted.update(character.source or authored.characters.source)
    for other in authored.key.undescribed:
        counted.update(other.source)
    for remark in authored.key.remarks:
        counted.update(remark.source)
    return counted
