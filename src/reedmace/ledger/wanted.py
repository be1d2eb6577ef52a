"""Which sightings are wanted, and the question that asks SQLite for them."""

from __future__ import annotations

import re
from typing import Any, NamedTuple


class Wanted(NamedTuple):
    """A choice of sightings; every condition given must hold.

    `year` is the year the whole date lies in; `since` and `until` (`YYYY-MM-DD`) take dates that may overlap.
    `taxon` is a scientific name, a genus, or a vernacular name, in any case.
    `square` takes that square and the smaller ones inside it; `site` is a site's id, `locality` part of a
    name. `withdrawn` takes those too.
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


# One condition each: SQL over the visit `v` and the sighting `s`.
_PLAIN = (
    ("since", "v.last_day >= ?"),
    ("until", "v.first_day <= ?"),
    ("visit_id", "v.subject = ?"),
    ("line_id", "s.line_id = ?"),
    ("sighting_id", "s.subject = ?"),
    ("stage", "s.stage = ?"),
    ("sex", "s.sex = ?"),
)
# Found by one index each. The last holds every species of a genus: the names from "Genus " up to the sign
# after the blank. SQLite would walk every sighting for the same written with OR over the view.
_NAMED = """s.seq IN (
  SELECT seq FROM entry WHERE kind = 'sighting' AND taxon = ?
  UNION ALL SELECT seq FROM entry WHERE kind = 'sighting' AND vernacular = ?
  UNION ALL SELECT seq FROM entry WHERE kind = 'sighting' AND taxon > ? AND taxon < ?)"""
_LIKE = str.maketrans({"\\": r"\\", "%": r"\%", "_": r"\_"})
_SQUARE = r"([A-Z]{1,2})([0-9]*)"
_HAS_OWN = "(s.square IS NOT NULL OR s.site IS NOT NULL OR s.locality IS NOT NULL)"


def question(wanted: Wanted) -> tuple[str, list[Any]]:
    """Give the whole SQL question and its parameters.

    The order is the date's, then visit, name and id: free of `seq`, the same in every copy of the ledger.
    CROSS JOIN tells SQLite which table to go through first: a name or an id finds few sightings by index;
    otherwise the visits are walked in order of their days and nothing has to be sorted.
    """
    terms, values = _conditions(wanted)
    few = wanted.taxon is not None or wanted.line_id is not None or wanted.sighting_id is not None
    join = "standing AS s CROSS JOIN standing AS v" if few else "standing AS v CROSS JOIN standing AS s"
    where = " AND ".join(["v.kind = 'visit'", "s.kind = 'sighting'", "s.visit_id = v.subject", *terms])
    asked = (
        's.entry_id, s.parent, s.kind, s.subject, s.act, s.reason, s."by", s.written_at,'
        " s.diverged OR v.diverged, max(s.written_at, v.written_at), s.body, v.entry_id, v.body"
    )
    order = "v.first_day, v.subject, s.taxon, s.subject"
    return f"SELECT {asked} FROM {join} WHERE {where} ORDER BY {order}", values  # noqa: S608  (values are bound)


def _conditions(wanted: Wanted) -> tuple[list[str], list[Any]]:
    terms: list[str] = []
    values: list[Any] = []
    if not wanted.withdrawn:
        terms.append("s.act <> 'withdrawn'")
    for name, term in _PLAIN:
        value = getattr(wanted, name)
        if value is not None:
            terms.append(term)
            values.append(value)
    if wanted.year is not None:
        # The bounds let the index find the year's visits; the year leaves out dates that run beyond it.
        terms.append("v.first_day >= ? AND v.first_day <= ? AND v.year = ?")
        values += [f"{wanted.year:04}-01-01", f"{wanted.year:04}-12-31", wanted.year]
    if wanted.taxon is not None:
        name = wanted.taxon
        terms.append(_NAMED)
        values += [name, name, f"{name} ", f"{name}!"]
    for term, parts in _place_conditions(wanted):
        # A sighting's own place, where it has one, stands instead of the visit's.
        own, visits = term.replace("{}", "s"), term.replace("{}", "v")
        terms.append(f"(({_HAS_OWN} AND ({own})) OR (NOT {_HAS_OWN} AND ({visits})))")
        values += [*parts, *parts]
    return terms, values


def _place_conditions(wanted: Wanted) -> list[tuple[str, list[str]]]:
    found = []
    if wanted.square is not None:
        patterns = _inside(wanted.square)
        found.append((" OR ".join(["{}.square GLOB ?"] * len(patterns)), patterns))
    if wanted.site is not None:
        found.append(("{}.site = ?", [wanted.site]))
    if wanted.locality is not None:
        found.append((r"{}.locality LIKE ? ESCAPE '\'", [f"%{wanted.locality.translate(_LIKE)}%"]))
    return found


def _inside(square: str) -> list[str]:
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
