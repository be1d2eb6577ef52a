"""What the cell of a count says beside a number (`3 exuviae`, `12?`), joined to what the other columns say."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from reedmace.faults import Fault
from reedmace.tasks.sheets.counts import Count
from reedmace.tasks.sheets.parts import acts_of
from reedmace.tasks.shorthand.field_words import BEHAVIOURS, PAIRS

_SAID = ("sex", "stage", "certainty", "evidence")
_ACTS = frozenset((*BEHAVIOURS.values(), *PAIRS.values()))
# What is done by grown ones only; words of the user's own may be about anything.
_NEVER = {"exuvia": _ACTS, "larva": _ACTS - {"feeding", "perched"}}


def contradiction(common: Mapping[str, Any], counts: Iterable[Count]) -> Fault | None:
    """Say where a count and a column contradict each other; `common` are the fields of a sighting by the columns."""
    for count in counts:
        for field in _SAID:
            one, other = getattr(count, field), common.get(field)
            if one is not None and other is not None and one != other:
                why = f'The count says "{one}", and another column of this row "{other}".'
                return Fault("cells-differ", why, f"correct one of them, or write a row for each {field}")
    return None


def misplaced(common: Mapping[str, Any], counts: Sequence[Count]) -> Fault | None:
    """Say where a row tells of skins or larvae alone what only grown ones do."""
    beside = () if some_grown(common, counts) else common.get("behaviour", ())
    for count in counts:
        stage = count.stage or common.get("stage") or ""
        never = _NEVER.get(stage)
        done = never and next((one for one in (*count.behaviour, *beside) if one in never), None)
        if done:
            why = f'This row says "{done}", and counts nothing of this name that does so, but of the stage "{stage}".'
            hint = "correct one of them; grown ones want a count of their own, such as under Adults"
            return Fault("cells-differ", why, hint, done)
    return None


def some_grown(common: Mapping[str, Any], counts: Sequence[Count]) -> bool:
    """Say whether some of those counted are neither larvae nor skins."""
    return any((count.stage or common.get("stage")) not in _NEVER for count in counts)


def with_count(common: Mapping[str, Any], count: Count, cell: str, *, grown: bool) -> dict[str, Any]:
    """Give the fields of a sighting with those of its count; what a row's `grown` ones did is of these alone.

    `cell` is that of the column of counts.
    """
    values = dict(common)
    if grown and (count.stage or values.get("stage")) in _NEVER:
        values.pop("behaviour", None)
    pairs = count.pairs or values.get("pairs")
    if count.behaviour:
        values["behaviour"] = acts_of(count.part, count.behaviour, values.get("behaviour", ()))
    values |= {field: said for field in _SAID if (said := getattr(count, field)) is not None}
    if count.part:
        name = values["typed"].removeprefix(cell).strip()
        values["count_typed"] = "" if count.typed.isdecimal() else count.typed
        values["typed"] = f"{count.typed} {count.part} {name}"
    values["remarks"] = "; ".join(filter(None, (count.remarks, values.get("remarks", ""))))
    if pairs:
        values["sex"] = None
    return values | {"count": count.number, "count_to": count.to, "count_kind": count.kind, "pairs": pairs}
