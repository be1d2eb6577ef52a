"""Which sightings are wanted, as conditions that SQLite can answer; how they are put together: finding.py."""

from __future__ import annotations

import json
import re
from typing import Any, NamedTuple


class Wanted(NamedTuple):
    """A choice of sightings; every condition given must hold.

    `year` is the year the whole date lies in; `without_year` takes what has no date, or one of several years.
    `since` and `until` (`YYYY-MM-DD`) take dates that may overlap.
    `taxon` is a scientific name, a genus, or a vernacular name, in any case; `taxa` are scientific names instead.
    `square` takes that square and the smaller ones inside it; `site` is a site's id, `locality` part of a
    name of the place or of its visit's. `people` are ids of whom one saw or named it (a person may have several,
    after a merge). `text` takes sightings in which, or in the visit of which, every one of its words begins a word.
    `status` is `withdrawn`,
    `amended` (changed since it was recorded, and standing), `diverged`, or what the county recorder said of the name
    that stands: one of `REPLIES`. Without one, `withdrawn` says whether to take those too.
    """

    year: int | None = None
    since: str | None = None
    until: str | None = None
    taxon: str | None = None
    square: str | None = None
    site: str | None = None
    locality: str | None = None
    visit_id: str | None = None
    line_id: str | None = None
    sighting_id: str | None = None
    stage: str | None = None
    sex: str | None = None
    withdrawn: bool = False
    people: tuple[str, ...] = ()
    text: str | None = None
    status: str | None = None
    taxa: tuple[str, ...] = ()
    without_year: bool = False


# What is asked for → what the answer says. An answer was about one name, and holds while that one stands.
REPLIES: dict[str, tuple[str, ...]] = {
    "verified": ("correct", "considered correct"),
    "plausible": ("plausible",),
    "unconfirmed": ("unconfirmed", "unable to verify"),
    "incorrect": ("incorrect",),
    "not-reviewed": ("not reviewed",),
}


class Condition(NamedTuple):
    """One condition as SQL over the table `listed` (named `l`), with its values.

    `driver` is how to find what meets it by itself: FROM and WHERE of a select of `l.id`; empty where only a
    walk through everything can tell; its values are those of the term unless it has its own. `order` says by what
    columns that comes in the order of days and visits; empty where it does not, and has to be sorted. `bound` is
    the part of a condition on days that an index with the day in it can use, of whatever column stands for `{day}`
    there, with its values. `few` says that it is known to find few enough to be fetched and sorted.
    """

    term: str
    values: tuple[Any, ...]
    driver: str = ""
    order: str = ""
    bound: str = ""
    bound_values: tuple[str, ...] = ()
    driver_values: tuple[Any, ...] | None = None
    few: bool = False


_IN_DAYS = "l.day, l.visit_id"
_LIKE = str.maketrans({"\\": r"\\", "%": r"\%", "_": r"\_"})
_NAMES = "(SELECT value FROM json_each(?))"
_AT_COMMON_PLACES = f"""(l.locality IN {_NAMES} OR EXISTS (
  SELECT 1 FROM listed_visit AS w WHERE w.subject = l.visit_id AND w.locality COLLATE NOCASE IN {_NAMES}))"""  # noqa: S608
_AT_PLACES = f"""(l.locality IN {_NAMES} OR l.visit_id IN (
  SELECT subject FROM listed_visit INDEXED BY listed_visit_place
  WHERE locality IS NOT NULL AND locality COLLATE NOCASE IN {_NAMES}))"""  # noqa: S608
_SQUARE = r"([A-Z]{1,2})([0-9]*)"


def conditions(wanted: Wanted, taxa: tuple[str, ...] | None) -> list[Condition]:
    """Give the conditions of a choice; `taxa` are the scientific names that its `taxon` means, None for any."""
    found = [*_status(wanted), *_days(wanted), *_place_conditions(wanted)]
    if wanted.site is not None:
        found.append(Condition("l.site = ?", (wanted.site,)))
    if wanted.sex is not None:
        found.append(_indexed("listed_sex", "l.sex = ?", wanted.sex))
    if wanted.visit_id is not None:
        of_visit = "l.subject IN (SELECT subject FROM entry WHERE kind = 'sighting' AND visit_id = ?)"
        # Those that were ever of this visit, by index; and of them those that are so now.
        found += [_driven(of_visit, wanted.visit_id), Condition("l.visit_id = ?", (wanted.visit_id,))]
    if wanted.sighting_id is not None:
        found.append(_driven("l.subject = ?", wanted.sighting_id))
    if wanted.line_id is not None:
        of_line = "l.subject IN (SELECT subject FROM entry WHERE kind = 'sighting' AND line_id = ?)"
        found.append(_driven(of_line, wanted.line_id))
    if taxa is not None:
        found.append(_taxa(taxa))
    if wanted.stage is not None:
        found.append(_indexed("listed_stage", "l.stage = ?", wanted.stage))
    if wanted.people:
        found.append(_people(wanted.people))
    return found


def _driven(term: str, value: str) -> Condition:
    return Condition(term, (value,), f"listed AS l WHERE {term}")


def _indexed(index: str, term: str, *values: Any, order: str = _IN_DAYS) -> Condition:
    return Condition(term, values, f"listed AS l INDEXED BY {index} WHERE {term}", order)


def _people(people: tuple[str, ...]) -> Condition:
    """Take what one of these people saw or named; of one person, found in the order of days."""
    among = f"w.person IN ({', '.join('?' * len(people))})"
    # The key of the table is person, day, visit, id: whether one sighting is in it takes one look.
    here = f"{among} AND w.day = l.day AND w.visit_id = l.visit_id AND w.id = l.id"
    term = f"EXISTS (SELECT 1 FROM listed_person AS w WHERE {here})"  # noqa: S608  (marks only)
    if len(people) == 1:
        by_person = f"listed_person AS w CROSS JOIN listed AS l ON l.id = w.id WHERE {among}"
        return Condition(term, people, by_person, "w.day, w.visit_id")
    ids = f"SELECT w.id FROM listed_person AS w WHERE {among}"  # noqa: S608
    return Condition(term, people, f"listed AS l WHERE l.id IN ({ids})")


def _taxa(taxa: tuple[str, ...]) -> Condition:
    """Take these species; of one, found in the order of days."""
    if len(taxa) == 1:
        return _indexed("listed_taxon", "l.taxon = ?", *taxa)
    return _indexed("listed_taxon", f"l.taxon IN ({', '.join('?' * len(taxa))})", *taxa, order="")


def _status(wanted: Wanted) -> list[Condition]:
    if wanted.status == "diverged":
        return [_indexed("listed_diverged", "l.diverged")]
    if wanted.status in REPLIES:
        return [Condition("l.status <> 'withdrawn'", ()), _replied(wanted.status)]
    if wanted.status in ("withdrawn", "amended"):
        return [_indexed("listed_status", f"l.status = '{wanted.status}' AND l.status <> 'recorded'")]
    return [] if wanted.withdrawn else [Condition("l.status <> 'withdrawn'", ())]


def _replied(asked: str) -> Condition:
    """Take what the county recorder said this of: of the name that stands, or gave it that name."""
    words = ", ".join(f"'{word}'" for word in REPLIES[asked])
    holds = f"r.status IN ({words}) AND r.about = l.taxon AND r.name <> l.taxon"
    if asked == "verified":
        holds = f"({holds}) OR r.name = l.taxon"
    term = f"EXISTS (SELECT 1 FROM replied AS r WHERE r.subject = l.subject AND ({holds}))"  # noqa: S608  (constants)
    # An answer that gave another name is found under that, whatever its status.
    among = f"r.said IN ({words}, 'named anew') AND ({holds})"
    driver = f"replied AS r INDEXED BY replied_said CROSS JOIN listed AS l ON l.subject = r.subject WHERE {among}"
    return Condition(term, (), driver)


def _days(wanted: Wanted) -> list[Condition]:
    found = []
    if wanted.year is not None:
        ends = (f"{wanted.year:04}-01-01", f"{wanted.year:04}-12-31")
        found.append(_bounded("{day} >= ? AND {day} <= ?", ends, "l.year = ?", wanted.year))
    if wanted.without_year:
        found.append(Condition("l.year IS NULL", ()))
    if wanted.since is not None:
        # A vague date may begin before and reach beyond: the earliest such beginning is looked up first.
        begins = """coalesce((SELECT min(vague.day) FROM listed AS vague INDEXED BY listed_vague
          WHERE vague.last_day <> vague.day AND vague.last_day >= ?), '9')"""
        found.append(_bounded(f"{{day}} >= min(?, {begins})", (wanted.since,) * 2, "l.last_day >= ?", wanted.since))
    if wanted.until is not None:
        found.append(_bounded("{day} <= ? AND {day} > ''", (wanted.until,), "true"))
    return found


def _bounded(bound: str, ends: tuple[str, ...], term: str, *values: Any) -> Condition:
    whole = f"{bound.format(day='l.day')} AND {term}"
    driver = f"listed AS l INDEXED BY listed_day WHERE {whole}"
    return Condition(whole, (*ends, *values), driver, _IN_DAYS, bound, ends)


def at_places(names: str, *, common: bool) -> Condition:
    """Take what is at a place of one of these names (JSON); a spot of a visit is at the place of the visit, too.

    The visits there are looked up once for all, or sighting by sighting where they are `common`.
    """
    return Condition(_AT_COMMON_PLACES if common else _AT_PLACES, (names, names))


def gathered(ids: str) -> Condition:
    """Take the sightings of these ids (JSON) in the list."""
    among = "l.id IN (SELECT value FROM json_each(?))"
    return Condition(among, (ids,), f"listed AS l WHERE {among}", few=True)


def part_of_name(name: str) -> str:
    """Give the pattern of what holds these words."""
    return f"%{name.translate(_LIKE)}%"


def _place_conditions(wanted: Wanted) -> list[Condition]:
    found = []
    if wanted.square is not None:
        patterns = inside(wanted.square)
        term = " OR ".join(["l.square GLOB ?"] * len(patterns))
        start = _start(patterns)
        strips = _strips(wanted.square)
        within = f"l.square >= ? AND l.square < ? AND ({term})"
        if strips:
            found.append(Condition(f"({term})", tuple(patterns), _BY_STRIPS, driver_values=(json.dumps(strips),)))
        else:
            found.append(_indexed("listed_square", within, start, f"{start}~", *patterns, order=""))
    return found


# Strip by strip what lies within: the patterns have one length each, so no row is found twice.
_BY_STRIPS = (
    "json_each(?) AS p CROSS JOIN listed AS l INDEXED BY listed_square"
    " WHERE l.square >= rtrim(p.value, '?') AND l.square < rtrim(p.value, '?') || '~' AND l.square GLOB p.value"
)


def _strips(square: str) -> list[str]:
    """Give GLOB patterns of what lies in a square of 1 km or less, all figures of the easting named; [] for others.

    A reference goes on in the middle: all that begins like the square itself is a strip ten kilometres long.
    """
    found = re.fullmatch(_SQUARE, "".join(square.upper().split()))
    if found is None or len(found[2]) % 2 or len(found[2]) < 4:
        return []
    half = len(found[2]) // 2
    before, after = found[1] + found[2][:half], found[2][half:]
    finer = range(1, 5 - half + 1)
    return [before + after, *(f"{before}{at:0{n}}{after}{'?' * n}" for n in finer for at in range(10**n))]


def _start(patterns: list[str]) -> str:
    """Give what all these patterns begin with, as plain text."""
    first, last = min(patterns), max(patterns)
    shared = next((place for place, sign in enumerate(first) if last[place : place + 1] != sign), len(first))
    return re.split(r"[?*\[]", first[:shared], maxsplit=1)[0]


def inside(square: str) -> list[str]:
    """Give GLOB patterns for a grid square and the smaller squares inside it, by their compact references.

    The digits of a reference are its easting, then its northing, so a smaller square goes on in both halves:
    inside TQ38 lie TQ3?8?, TQ3??8?? and so on, and the tetrads and quadrants of it, written TQ38 and letters.
    """
    compact = "".join(square.upper().split())
    found = re.fullmatch(_SQUARE, compact)
    if found is None or len(found[2]) % 2:
        # A tetrad, a quadrant, or no reference at all: only that very text. A bracket keeps GLOB signs plain.
        return ["".join(f"[{sign}]" if sign in "*?[" else sign for sign in compact)]
    letters, digits = found.groups()
    half = len(digits) // 2
    east, north = digits[:half], digits[half:]
    if not half:
        return [f"{letters}[0-9]*", letters]
    deeper = [f"{letters}{east}{'?' * more}{north}{'?' * more}" for more in range(5 - half + 1)]
    return [*deeper, f"{compact}[A-Z]", f"{compact}[NS][EW]"] if half == 1 else deeper
