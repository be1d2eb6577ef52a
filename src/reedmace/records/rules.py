"""What the fields of one record must say together. Queries about likely slips are the checks' business."""

from __future__ import annotations

from datetime import date, timedelta

from reedmace.faults import Fault
from reedmace.records.sighting import Sighting
from reedmace.records.visit import Visit, past_midnight

_QUALIFIERS = frozenset({"cf", "cf.", "aff", "aff.", "nr", "nr.", "sp", "sp.", "spp", "spp.", "indet", "indet.", "?"})
_TOGETHER = ("tandem", "copulating")
_LONGEST_NIGHT = 16  # hours; a visit over midnight that would be longer has its times or its days wrong


def slips_in_visit(visit: Visit) -> tuple[Fault, ...]:
    """Find every way in which a visit contradicts itself."""
    slips = []
    if past_midnight(visit) and not _night(visit.date):
        days = _and_the_next(visit.date) if _hours_overnight(visit) <= _LONGEST_NIGHT else ""
        slips.append(
            Fault(
                "ends-before-start",
                f"The visit ends at {visit.end}, before it starts at {visit.start}.",
                "give times of one day, the earlier one first"
                + (f"; past midnight, both days:  {days}" if days else ""),
                f"{visit.start} {visit.end}",
            )
        )
    elif _night(visit.date) and (hours := _hours_overnight(visit)) > _LONGEST_NIGHT:
        slips.append(
            Fault(
                "ends-before-start",
                f"A visit from {visit.start} to {visit.end} of the next day would last {hours} hours.",
                f"give the times as they were; of one day, that day alone:  {(visit.date or '').partition('/')[0]}",
                f"{visit.start} {visit.end}",
            )
        )
    low, high = visit.wind_force, visit.wind_force_to
    if high is not None and (low is None or high < low):
        slips.append(
            Fault(
                "wind-range",
                f"A wind from force {low} to {high} does not rise.",
                "give the lower force first, such as  F2-3",
                visit.weather or None,
            )
        )
    return tuple(slips)


def _hours_overnight(visit: Visit) -> int:
    """How many hours, rounded down, a visit lasts that ends on the next day, no later than it began; 0 for others."""
    if not (visit.start and visit.end and visit.end <= visit.start):
        return 0
    (start, past), (end, minutes) = (map(int, time.split(":")) for time in (visit.start, visit.end))
    return 24 - (start * 60 + past - end * 60 - minutes + 59) // 60


def _night(day: str | None) -> bool:
    """Whether a date is two days, one after the other."""
    first, _, last = (day or "").partition("/")
    return bool(last) and _and_the_next(first) == day


def _and_the_next(day: str | None) -> str:
    """A day and the one after it as an interval, ISO 8601; "" for what is no day."""
    try:
        first = date.fromisoformat(day or "")
        return f"{first.isoformat()}/{(first + timedelta(days=1)).isoformat()}"
    except (ValueError, OverflowError):
        return ""


def slips_in_sighting(sighting: Sighting) -> tuple[Fault, ...]:
    """Find every way in which a sighting contradicts itself."""
    return (*_name_slips(sighting), *_count_slips(sighting), *_pair_slips(sighting))


def _name_slips(sighting: Sighting) -> list[Fault]:
    slips = []
    taxon = sighting.taxon
    words = taxon.scientific_name.casefold().split()
    if any(word in _QUALIFIERS or word.endswith("?") for word in words):
        slips.append(
            Fault(
                "qualifier-in-name",
                "A scientific name holds no sign of doubt.",
                "put the doubt into the certainty or the qualifier, and the plain name here",
                taxon.scientific_name,
            )
        )
    if len(taxon.one_of) == 1 or len(set(taxon.one_of)) != len(taxon.one_of):
        slips.append(
            Fault(
                "one-of-few",
                "A name that could not be split needs two or more different names to choose between.",
                "name each of them once, or leave the choice out",
                " or ".join(taxon.one_of),
            )
        )
    return slips


def _count_slips(sighting: Sighting) -> list[Fault]:
    count, to, kind = sighting.count, sighting.count_to, sighting.count_kind
    said = sighting.count_typed or (None if count is None else str(count))
    if count == 0:
        return [
            Fault(
                "zero-count",
                "A sighting of 0 says nothing: some mean absent by it, others present and not counted.",
                "leave the count out for present, not counted; for nothing at all, say none seen on a visit",
                said,
            )
        ]
    if (count is None) != (kind == "present"):
        return [
            Fault(
                "count-and-kind",
                f"The count is {'missing' if count is None else count}, but its kind is {kind!r}.",
                "a kind of 'present' goes without a count, every other kind with one",
                said,
            )
        ]
    if to is not None and (kind not in ("band", "estimate") or count is None or to < count):
        return [
            Fault(
                "count-range",
                f"A count from {count} to {to} does not fit the kind {kind!r}.",
                "only a band or an estimate has an upper end, and it is not below the lower",
                said,
            )
        ]
    return []


def _pair_slips(sighting: Sighting) -> list[Fault]:
    pairs = sighting.pairs
    if pairs is None:
        return []
    slips = []
    if sighting.count != 2 * pairs or pairs == 0:
        slips.append(
            Fault(
                "pairs-and-count",
                f"{pairs} pairs are {2 * pairs} individuals, but the count is {sighting.count}.",
                "count two for each pair, and single insects as a sighting of their own",
                sighting.count_typed or None,
            )
        )
    if sighting.sex is not None:
        slips.append(
            Fault(
                "pair-with-sex",
                "A pair is a male and a female, so it has no one sex.",
                "leave the sex out, or log single insects as a sighting of their own",
                sighting.sex,
            )
        )
    if not any(word in sighting.behaviour for word in _TOGETHER):
        slips.append(
            Fault(
                "pair-without-behaviour",
                "Pairs are insects in tandem or copulating, but the behaviour says neither.",
                "add tandem or copulating to the behaviour",
                ", ".join(sighting.behaviour) or None,
            )
        )
    return slips
