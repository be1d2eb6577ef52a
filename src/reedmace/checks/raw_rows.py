"""What the published validations say of a raw row, as queries like any other."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Sequence
from operator import itemgetter

from reedmace.checks.catalogue import FILE, Entry
from reedmace.checks.quality import VALIDATIONS, Basis, Row, Status, Validation
from reedmace.checks.quality.outcome import empty
from reedmace.checks.quality.positions import number
from reedmace.checks.quality.presence import TERM_OF
from reedmace.checks.query import Query
from reedmace.faults import Fault
from reedmace.places.agreement import far_apart, gap_m, rounded_m
from reedmace.places.place import read_place
from reedmace.places.position import around_british_isles
from reedmace.records.text import is_absent

# What rules over records ask too, in better words.
TOLD_BY_RULES = frozenset(
    {"EVENTTEMPORAL_NOTEMPTY", "LOCATION_NOTEMPTY", "TAXON_NOTEMPTY", "EVENTDATE_STANDARD", "EVENTDATE_NOTEMPTY"}
)
_ERRORS = frozenset({"COORDINATES_NOTZERO", "DECIMALLATITUDE_INRANGE", "DECIMALLONGITUDE_INRANGE"})
# Without these a row cannot be told from another, or says too little of what it is.
_NEEDED = frozenset({"OCCURRENCEID_NOTEMPTY", "BASISOFRECORD_NOTEMPTY", "SCIENTIFICNAME_NOTEMPTY"})
_REMEDIES = {
    "NOTEMPTY": "fill it in where it is known",
    "STANDARD": "write it as the standard has it",
    "INRANGE": "check the figures against the notebook",
    "CONSISTENT": "correct whichever of them is wrong",
    "COMPLETE": "write the whole identifier, with the register it comes from",
    "NOTZERO": "leave both empty where the position is not known",
}
_ASKED = tuple((label, ask) for label, ask in VALIDATIONS.items() if label not in TOLD_BY_RULES)


def code_of(label: str) -> str:
    """The code of a validation: `DAY_INRANGE` → `day-inrange`."""
    return label.lower().replace("_", "-")


def severity_of(label: str) -> str:
    """How loud it is told."""
    if label in _ERRORS:
        return "error"
    return "note" if label.endswith("_NOTEMPTY") and label not in _NEEDED else "doubt"


# Which validations look at which terms: rows share days, places and names, so each is asked once of each.
_DAYS = ("eventDate", "year", "month", "day", "startDayOfYear", "endDayOfYear", "dateIdentified")
_PLACES = (
    "decimalLatitude",
    "decimalLongitude",
    "coordinateUncertaintyInMeters",
    "geodeticDatum",
    "country",
    "countryCode",
    "verbatimCoordinates",
)
_NAMES = (
    *("scientificName", "scientificNameAuthorship", "scientificNameID", "taxonRank", "kingdom"),
    *("genericName", "specificEpithet", "infraspecificEpithet"),
)
_KINDS = ("type", "basisOfRecord", "occurrenceStatus", "license", "sex")
_COUNTED = ("individualCount", "occurrenceStatus")
_LOOKS_AT: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...] = (
    (_DAYS, ("EVENT_", "EVENTDATE", "DATEIDENTIFIED", "YEAR", "MONTH", "DAY", "STARTDAY", "ENDDAY")),
    (_PLACES, ("DECIMAL", "COORDINATE", "GEODETICDATUM", "COUNTRY")),
    (_NAMES, ("SCIENTIFICNAME", "TAXONRANK", "KINGDOM", "POLYNOMIAL")),
    (_KINDS, ("DCTYPE", "BASISOFRECORD", "OCCURRENCESTATUS", "LICENSE", "SEX")),
    (("occurrenceID",), ("OCCURRENCEID",)),
    (_COUNTED, ()),
)
GROUPS = tuple((terms, tuple(one for one in _ASKED if one[0].startswith(begins))) for terms, begins in _LOOKS_AT)
_REMEMBERED = 20_000  # outcomes of a group; then it is forgotten, so that memory stays flat

Cells = Sequence[str]
_Unmet = tuple[tuple[str, str, str, str], ...]  # code, severity, reason, remedy: a query without its row


def picker(header: Sequence[str], terms: Sequence[str]) -> Callable[[Cells], tuple[str, ...]]:
    """Give what takes the cells of some terms out of a row, in the order of the terms; of those that are there."""
    places = [header.index(term) for term in terms if term in header]
    if len(places) > 1:
        return itemgetter(*places)
    return (lambda cells: (cells[places[0]],)) if places else (lambda _: ())


class RawRows:
    """The published validations over the rows of one file, whose columns are the terms of `header`.

    `lacking` are labels told for the whole file already.
    """

    def __init__(self, basis: Basis, header: Sequence[str], lacking: frozenset[str] = frozenset()) -> None:
        self._basis = basis
        self._lacking = lacking
        self._groups: list[_Group] = []
        for terms, asked in GROUPS:
            here = tuple(term for term in terms if term in header)
            known: dict[Hashable, _Unmet] = {}
            self._groups.append((picker(header, terms), here, asked, known, _OURS.get(terms)))

    def queries(self, cells: Cells, name: str) -> list[Query]:
        """Every validation that a row does not meet, and slips that can be put right. A row is as long as `header`."""
        found: list[Query] = []
        for pick, terms, asked, known, ours in self._groups:
            values = pick(cells)
            # An id is another one in each row; all that is asked is whether there is one.
            which = empty(values[0]) if terms == _ID else values
            unmet = known.get(which)
            if unmet is None:
                if len(known) >= _REMEMBERED:
                    known.clear()
                row = dict(zip(terms, values, strict=True))
                unmet = known[which] = (*self._unmet(row, asked), *(ours(row) if ours else ()))
            if unmet:
                found += [Query(one[0], one[1], name, one[2], one[3]) for one in unmet]
        return found

    def _unmet(self, row: Row, asked: tuple[tuple[str, Validation], ...]) -> Iterator[tuple[str, str, str, str]]:
        for label, ask in asked:
            if label not in self._lacking:
                outcome = ask(row, self._basis)
                if outcome.status is Status.NOT_COMPLIANT:
                    remedy = _REMEDIES[label.rpartition("_")[2]]
                    yield code_of(label), severity_of(label), f"{outcome.why}.", remedy


_Group = tuple[
    Callable[[Cells], tuple[str, ...]],
    tuple[str, ...],
    tuple[tuple[str, Validation], ...],
    dict[Hashable, _Unmet],
    Callable[[Row], Iterator[tuple[str, str, str, str]]] | None,
]
_ID = ("occurrenceID",)


def _slips(row: Row) -> Iterator[tuple[str, str, str, str]]:
    """A position that is not where the typed coordinates are; one that comes right swapped, or with its minus back."""
    latitude, longitude = number(row.get("decimalLatitude")), number(row.get("decimalLongitude"))
    if latitude is None or longitude is None:
        return
    if (typed := row.get("verbatimCoordinates", "").strip()) and abs(latitude) <= 90 and abs(longitude) <= 180:
        yield from _two_places(typed, latitude, longitude, number(row.get("coordinateUncertaintyInMeters")))
    # Most rows lie well inside; the whole question takes a projection.
    if (50 <= latitude <= 61 and -14 <= longitude <= 1.5) or around_british_isles(latitude, longitude):
        return
    for code, right, slip in (
        ("position-swapped", (longitude, latitude), "if latitude and longitude were swapped"),
        ("position-sign", (latitude, -longitude), "if the minus of a western longitude was lost"),
    ):
        if abs(right[0]) <= 90 and around_british_isles(*right):
            reason = f"{latitude:g}, {longitude:g} lies outside the British Isles."
            yield code, "doubt", reason, f"{slip}, write {right[0]:g}, {right[1]:g}"
            return


def _counts(row: Row) -> Iterator[tuple[str, str, str, str]]:
    """A number of individuals that is none, or that says otherwise than whether they were there."""
    count, status = (row.get(term, "").strip() for term in _COUNTED)
    if not count:
        return
    if not (count.isascii() and count.removesuffix(".0").isdigit()):
        reason = f'individualCount "{count}" is no number of individuals.'
        yield (
            "count-no-number",
            "error",
            reason,
            "write a whole number; an estimate or a range goes to organismQuantity",
        )
    elif (not count.removesuffix(".0").strip("0")) != is_absent(status):
        reason = f'individualCount is {count}, and occurrenceStatus "{status}".' if status else "individualCount is 0."
        yield "count-against-status", "doubt", reason, "leave the count empty where they were not counted"


def _two_places(
    typed: str, latitude: float, longitude: float, reach_m: float | None
) -> Iterator[tuple[str, str, str, str]]:
    one, other = read_place(typed), read_place(f"{latitude:.6f}, {longitude:.6f}")
    reach_m = max(reach_m or 0, rounded_m(f"{latitude:.15g}", f"{longitude:.15g}"))
    if isinstance(one, Fault) or isinstance(other, Fault) or not far_apart(one, other, reach_m):
        return
    kilometres = max(1, round(gap_m(one, other, reach_m) / 1000))
    reason = f"{latitude:g}, {longitude:g} lies {kilometres} km from {typed}."
    yield "place-differs", "error", reason, "look up which of the two is right, and correct the other"


_OURS = {_PLACES: _slips, _COUNTED: _counts}


def absent_columns(header: frozenset[str]) -> frozenset[str]:
    """The labels of validations that ask for a column which the whole file does not have."""
    told = {label for label, term in TERM_OF.items() if term not in header}
    return frozenset(told - TOLD_BY_RULES)


def _entries() -> Iterator[tuple[str, Entry]]:
    for label, ask in VALIDATIONS.items():
        asks = _QUESTIONS.get(label) or (ask.__doc__ or "").strip().partition("\n")[0]
        told = " Asked by our own rules too, which tell it." if label in TOLD_BY_RULES else ""
        why = f"VALIDATION_{label} of the Biodiversity Data Quality standard (TDWG, draft of 2026-07-29).{told}"
        remedy = _REMEDIES[label.rpartition("_")[2]]
        yield code_of(label), Entry(FILE, severity_of(label), asks, why, f"{remedy[0].upper()}{remedy[1:]}.")
    slip = "Which way round is the usual slip; where the other way lies in the British Isles it is suggested."
    yield "position-swapped", Entry(FILE, "doubt", "Latitude and longitude look swapped.", slip, "Swap them, if so.")
    lost = "West of Greenwich longitude is negative; where it comes right with a minus, that is suggested."
    yield "position-sign", Entry(FILE, "doubt", "The minus of a longitude looks lost.", lost, "Put it back, if so.")
    two = "A point and a reference of one row are one place; where they lie over 1 km apart, one of them is wrong."
    yield (
        "place-differs",
        Entry(FILE, "error", "The position is not where the typed coordinates are.", two, "Correct one of them."),
    )
    whole = "Whoever loads it reads another number, or none."
    yield (
        "count-no-number",
        Entry(FILE, "error", "individualCount is no whole number.", whole, "Write how many; else leave it empty."),
    )
    none = "A 0 beside a record of presence is read as absence by some, and a number beside absence as presence."
    yield (
        "count-against-status",
        Entry(FILE, "doubt", "Count and occurrenceStatus say different things.", none, "Correct one of them."),
    )
    shape = "Cells have moved: a comma, a quote or a line break stands where it should not."
    yield (
        "row-misshapen",
        Entry(FILE, "error", "The row has more or fewer cells than the heading.", shape, "Save it again."),
    )
    again = "Two rows of one identifier are one record to whoever loads them."
    yield "id-twice", Entry(FILE, "error", "An occurrenceID stands in the file twice.", again, "Give each its own.")
    guessed = "Files of the standard are UTF-8; in another encoding a letter may be taken for another one."
    yield (
        "encoding-guessed",
        Entry(FILE, "note", "The file is not UTF-8.", guessed, "Look at letters with accents; send it on as UTF-8."),
    )
    columns = "What a column would say is missing from every row, so it is told once."
    yield "columns-missing", Entry(FILE, "note", "Columns are missing from the file.", columns, "Add what is known.")


_QUESTIONS = {
    **{label: f"Is there a value in {term}?" for label, term in TERM_OF.items()},
    "EVENTTEMPORAL_NOTEMPTY": "Does any term tell when?",
    "LOCATION_NOTEMPTY": "Does any term tell where?",
    "TAXON_NOTEMPTY": "Does any term tell what?",
    **{
        f"{label}_STANDARD": f"Does {term} come from its list?"
        for label, term in (
            ("DCTYPE", "type"),
            ("BASISOFRECORD", "basisOfRecord"),
            ("OCCURRENCESTATUS", "occurrenceStatus"),
            ("SEX", "sex"),
            ("TAXONRANK", "taxonRank"),
            ("COUNTRYCODE", "countryCode"),
        )
    },
}
FILE_CODES: dict[str, Entry] = dict(_entries())
