"""What the cell of a count says beside a number (`3 exuviae`, `12?`), joined to what the other columns say."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from reedmace.faults import Fault
from reedmace.tasks.sheet_values import Count

_SAID = ("sex", "stage", "certainty", "evidence")


def contradiction(common: Mapping[str, Any], counts: Iterable[Count]) -> Fault | None:
    """Say where a count and a column contradict each other; `common` are the fields of a sighting by the columns."""
    for count in counts:
        for field in _SAID:
            one, other = getattr(count, field), common.get(field)
            if one is not None and other is not None and one != other:
                why = f'The count says "{one}", and another column of this row "{other}".'
                return Fault("cells-differ", why, f"correct one of them, or write a row for each {field}")
    return None


def with_count(common: Mapping[str, Any], count: Count) -> dict[str, Any]:
    """Give the fields of a sighting with those of its count."""
    values = dict(common)
    pairs = count.pairs or values.get("pairs")
    if count.behaviour:
        values["behaviour"] = tuple(dict.fromkeys((*count.behaviour, *values.get("behaviour", ()))))
    values |= {field: said for field in _SAID if (said := getattr(count, field)) is not None}
    if count.part:
        name = values["typed"].removeprefix(values["count_typed"]).strip() if values["count_typed"] else values["typed"]
        values["count_typed"] = "" if count.typed.isdecimal() else count.typed
        values["typed"] = f"{count.typed} {count.part} {name}"
    values["remarks"] = "; ".join(filter(None, (count.remarks, values.get("remarks", ""))))
    if pairs:
        values["sex"] = None
    return values | {"count": count.number, "count_to": count.to, "count_kind": count.kind, "pairs": pairs}
