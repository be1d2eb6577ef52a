"""How a column for all of them (a count, a total, or adults) goes with columns that count a part each.

Beside grown parts it counts these once more: what it has beyond them is a sighting, and it cannot have less. Skins,
larvae, tenerals and what is emerging are counted apart, and never in it: where such columns alone stand beside it, it
counts the others. That is so in every row of a sheet, whatever its numbers come to.
"""

from __future__ import annotations

from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.tasks.sheets.counts import Count

YOUNG = frozenset({"teneral", "emerging", "exuviae", "larvae"})


def added_up(parts: dict[str, list[Count]], whole: list[Count], typed: str) -> tuple[Count, ...] | Fault:
    """Give the parts of a row and what is counted beyond them; `parts` are by their columns.

    What the total says beside its number is true of each grown one. Pairs and ovipositing females are among the
    adults counted, as recorders count them.
    """
    young = [one for field, counts in parts.items() if field in YOUNG for one in counts]
    grown = [one for field, counts in parts.items() if field not in YOUNG | {"adults"} for one in counts]
    adults = parts.get("adults", [])
    every = [one for counts in parts.values() for one in counts]
    if adults and grown:
        rest = _rest(adults, grown)
        if rest is None:
            return _differs("adults", adults[0].typed, grown)
        every = [one for field, counts in parts.items() if field != "adults" for one in counts] + rest
        adults = rest
    grown += adults
    if not whole:
        return tuple(every)
    if twice := next((one.stage for one in whole if one.stage and one.stage in {other.stage for other in young}), None):
        why = f'The count says "{twice}", and another column of this row counts them too.'
        return Fault("cells-differ", why, "write them once", typed)
    if not grown:
        return (*every, *(one for one in whole if not one.zero))
    total, all_of_them = _sum(whole), _sum(every)
    if total is not None and total != _sum(grown):
        if young and total == all_of_them:
            return _unclear(typed, _sum(grown), total)
        rest = _rest(whole, grown)
        if rest is None:
            return _differs("all of them", typed, grown)
        every += (more := [one._replace(typed=one.typed or typed) for one in rest])
        grown += more
    said = whole[0]
    return tuple(_also(one, said) if one in grown else one for one in every)


def _also(one: Count, said: Count) -> Count:
    return one._replace(
        stage=one.stage or said.stage,
        certainty=one.certainty or said.certainty,
        evidence=one.evidence or said.evidence,
        remarks="; ".join(dict.fromkeys(filter(None, (one.remarks, said.remarks)))),
    )


def _rest(total: Sequence[Count], parts: Sequence[Count]) -> list[Count] | None:
    """Give what a total counts beyond its parts, nothing where they come to it; None where they are no parts of it."""
    all_of_them, counted_apart = _sum(total), _sum(parts)
    if all_of_them is None:
        return []
    if counted_apart is None or len(total) > 1 or counted_apart > all_of_them:
        return None if counted_apart != all_of_them else []
    if counted_apart == all_of_them:
        return []
    [one] = total
    return [one._replace(number=all_of_them - counted_apart, to=one.to and one.to - counted_apart, part="others")]


def _sum(counts: Sequence[Count]) -> int | None:
    """Give how many insects these are; None where one was not counted."""
    numbers = [0 if count.zero else count.number for count in counts]
    return None if None in numbers else sum(number or 0 for number in numbers)


def _differs(what: str, typed: str, parts: Sequence[Count]) -> Fault:
    come_to = _sum(parts)
    told = f"come to {come_to}" if come_to is not None else "are not all numbers"
    paired = ", a pair being two" if any(one.pairs for one in parts) else ""
    why = f'The column for {what} says "{typed}", and the columns beside it {told}{paired}.'
    hint = 'correct one of them; where columns overlap, leave one out:  --map "Heading=" ; where this one counts others'
    hint += ' than they do:  --map "Heading=unsexed"'
    return Fault("total-differs", why, hint, typed)


def _unclear(typed: str, grown: int | None, total: int) -> Fault:
    why = f'The column for all of them says "{typed}". A total is of the grown ones, here {grown}; but with the young '
    why += f"and the skins it is just {total}."
    hint = 'where those are counted in it, leave it out:  --map "Heading=" ; where not:  --map "Heading=adults"'
    return Fault("total-unclear", why, hint, typed)
