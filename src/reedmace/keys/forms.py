"""The form of every field of a key that is more than a word: an example that can be put there as it stands.

Faults show it, so that whoever has no pages at hand can go on. The examples belong together: what one of them names
another one adds.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel

from reedmace.keys import authoring as key
from reedmace.keys import authoring_characters as characters

_STATES = "[{id: closed, title: closed along the back}, {id: flat, title: spread flat}]"
_CHARACTER = {
    "id": "wings",
    "title": "Wings at rest",
    "question": "How are the wings held?",
    "help": "Watch it settle twice.",
    "part": "first look",
    "effort": "glance",
    "beginner": "{missed: 0.1, invented: 0.1}",
    "practised": "{missed: 0.05, invented: 0.05}",
    "states": _STATES,
}
_GUISE = {"id": "any", "title": "either sex", "age": "mature", "share": "1", "evidence": "sight"}
_SPECIES = {
    "name": "Exemplum primum",
    "authority": '"Marsh, 1901"',
    "english": "First Example",
    "status": "resident",
    "abundance": "{north: common}",
    "habitats": "{pond: main}",
    "traits": "{wings: closed}",
}
_FLIGHT = {"first": "mid-may", "peak": "[early-june, late-july]", "last": "early-september"}


def _map(fields: Mapping[str, str]) -> str:
    return f"{{{', '.join(f'{name}: {form}' for name, form in fields.items())}}}"


_GUISES = f"[{_map(_GUISE)}]"

# what is authored → field, as it is written → its form
FORMS: Mapping[type[BaseModel], Mapping[str, str]] = {
    key.KeyFile: {
        "id": "my-key",
        "title": "Insects of my pond",
        "version": "0.1.0",
        "scope": "the insects of one pond",
        "licence": "CC0-1.0",
        "classification": "{kingdom: Animalia, phylum: Arthropoda, class: Insecta, order: Fictoptera, title: made fly}",
        "suborders": "[{name: Tenuiptera, title: slim fly}]",
        "families": "[{name: Exemplidae, suborder: Tenuiptera, title: example fly}]",
        "groups": "[{id: first-ones, title: one of the first, rank: aggregate, members: [Exemplum]}]",
        "abundance": "{common: 0.5, scarce: 0.02, absent: 0.000002}",
        "regions": "[{id: north, title: the North}]",
        "squares": "{NZ: [north]}",
        "habitats": "[{id: pond, title: pond, words: [pool]}]",
        "undescribed": "[{name: Exemplum absens, english: Missing Example, group: Exemplum,"
        f" abundance: {{north: scarce}}, flight: {_map(_FLIGHT)}}}]",
        "namesakes": "[{animal: butterfly, names: [example], words: [butterflies]}]",
        "remarks": "[{words: [mayfly], tell: A mayfly has two or three long tails.}]",
        "sources": "[{id: memory, title: stated from memory}, {id: practice, title: common practice}]",
    },
    key.Classification: {
        "kingdom": "Animalia",
        "phylum": "Arthropoda",
        "class": "Insecta",
        "order": "Fictoptera",
        "title": "made fly",
    },
    key.Suborder: {"name": "Tenuiptera", "title": "slim fly"},
    key.Family: {"name": "Exemplidae", "suborder": "Tenuiptera", "title": "example fly"},
    key.Namesake: {"animal": "butterfly", "names": "[example]", "words": "[butterflies]"},
    key.Remark: {"words": "[mayfly]", "tell": "A mayfly has two or three long tails."},
    key.Group: {
        "id": "first-ones",
        "title": "one of the first",
        "rank": "aggregate",
        "members": "[Exemplum]",
    },
    key.Region: {"id": "north", "title": "the North"},
    key.Habitat: {"id": "pond", "title": "pond"},
    key.Undescribed: {
        "name": "Exemplum absens",
        "english": "Missing Example",
        "group": "Exemplum",
        "abundance": "{north: scarce}",
        "flight": _map(_FLIGHT),
    },
    key.Flight: _FLIGHT,
    key.Source: {"id": "memory", "title": "stated from memory"},
    characters.CharactersFile: {"characters": f"[{_map(_CHARACTER)}]"},
    characters.CharacterEntry: {
        **_CHARACTER,
        "needs": "wings",
        "shown_by": "female",
        "applies": "{sexes: [male]}",
        "confused": "[[closed, flat]]",
        "unit": "mm",
        "range": "[20, 70]",
        "by_eye": "{beginner: {half_width: 0.25, bias: 0.08}, practised: {half_width: 0.15, bias: 0.02}}",
    },
    characters.Misreading: {"missed": "0.1", "invented": "0.1"},
    characters.ByEye: {"half_width": "0.25"},
    characters.CharacterState: {"id": "closed", "title": "closed along the back"},
    key.SpeciesFile: {
        "genus": "Exemplum",
        "family": "Exemplidae",
        "title": "example fly",
        "species": f"[{_map({**_SPECIES, 'guises': _GUISES})}]",
    },
    key.SpeciesEntry: {
        **_SPECIES,
        "flight": _map(_FLIGHT),
        "hindwing": "[16, 22]",
        "guises": _GUISES,
        "lookalikes": "[{species: Exemplum secundum, mark: what tells them apart}]",
        "protection": "[{text: may not be caught, checked: 2026-05-31}]",
    },
    key.GuiseEntry: {
        **_GUISE,
        "share_in": "{north: 0.6}",
        "flight": _map(_FLIGHT),
        "traits": "{wings: closed}",
    },
    key.LookalikeEntry: {
        "species": "Exemplum secundum",
        "mark": "what tells them apart",
        "decided_by": "{wings: closed}",
    },
    key.Protection: {"text": "may not be caught", "checked": "2026-05-31"},
}


def form_of(model: type[BaseModel], path: tuple[Any, ...]) -> str | None:
    """`field: form` for what stands at a path of a file, or for what it stands in as an item; None where none is known.

    Where a value may be written in a wrapper, its form is the value.
    """
    while path and (isinstance(path[-1], int) or path[-1] in ("is", "[key]")):
        path = path[:-1]
    if not path:
        return None
    form = FORMS.get(model_at(model, path[:-1]), {}).get(str(path[-1]))
    return f"{path[-1]}: {form}" if form else None


def model_at(model: type[BaseModel], path: tuple[Any, ...]) -> Any:
    """The model of what stands at a path of a file that is read as `model`."""
    here: Any = model
    for part in path:
        if isinstance(part, int) or not (isinstance(here, type) and issubclass(here, BaseModel)):
            continue
        field = here.model_fields.get(part) or next((f for f in here.model_fields.values() if f.alias == part), None)
        here = _model_in(field.annotation) if field else here
    return here


def _model_in(annotation: Any) -> Any:
    """The first model named inside a type such as `tuple[Region, ...] | None`."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    inner = getattr(annotation, "__args__", ())
    return next((found for found in map(_model_in, inner) if found is not None), None)
