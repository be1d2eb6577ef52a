"""A year told for anybody: its flight chart beside the key's flight periods, and the places that may be named.

Nobody's name is in it. What a public version would blur is not named unless it is asked for, squares are no finer
than a kilometre, and what nobody else is to see stands nowhere.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date

from reedmace.checks.query import Grounds, Record, record_of
from reedmace.keys.model import Species
from reedmace.keys.seasons import third_of
from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.records import Site, Span
from reedmace.records.verification import Verification
from reedmace.reports.covering import marked
from reedmace.reports.season import PlaceLine, Season
from reedmace.reports.strips import THIRDS, Strip
from reedmace.tasks.export.choice import Chosen
from reedmace.tasks.export.coarse_places import coarsened
from reedmace.tasks.export.cover_tally import REJECTED, Tally, doubt_of
from reedmace.tasks.export.public_plan import Plan, plan

SQUARE_M = 1000
"""The side of the smallest square that the page gives, unless all is asked for."""

_MOST_SQUARES = 3  # of one place, told in its line
Ends = tuple[int, int]


def chart(
    grounds: Grounds, chosen: Iterable[Chosen], said: Callable[[str], Verification | None] = lambda _: None
) -> tuple[Strip, ...]:
    """Give the flight chart of these sightings, by scientific name; `said` gives the county recorder's word on one."""
    made = _Chart(grounds)
    for sighting, visit, _ in chosen:
        made.take(record_of(grounds, sighting, visit), doubt_of(sighting, said(sighting.id)))
    return made.strips()


def tell_season(ledger: Ledger, grounds: Grounds, year: int, today: date, exact: bool = False) -> Season:
    """Summarise a year for its page; with `exact`, every place by name and square, but what nobody else may see."""
    sites = {site.id: site for site in ledger.sites()}
    grounds = grounds._replace(sites=sites, memo={})
    hidden = plan(ledger, grounds)
    tally, flights, places = Tally(), _Chart(grounds), _Places(sites, hidden, exact)
    kept_back = uncertain = larvae = not_accepted = 0
    verification = ledger.verifications()
    for sighting, visit, meta in ledger.current_sightings(Wanted(year=year)):
        if visit.id in hidden.left_out:
            kept_back += 1
            continue
        record, said = record_of(grounds, sighting, visit), verification(sighting.id)
        doubt = doubt_of(sighting, said)
        tally.take(sighting, visit, meta, said)
        flights.take(record, doubt)
        places.take(record, doubt)
        uncertain += bool(doubt) and doubt != REJECTED
        not_accepted += doubt == REJECTED
        larvae += sighting.stage == "larva"
    return Season(
        year,
        today.isoformat(),
        len(tally.ids),
        len(tally.species),
        len(tally.visits),
        len(tally.days),
        tally.people(ledger.people.twice()),
        tally.lines(),
        flights.strips(),
        tuple(places.lines()),
        len(places.unnamed),
        kept_back,
        tally.undated,
        uncertain,
        larvae,
        flights.vague,
        exact,
        flights.cited(),
        tally.in_doubt,
        tally.rejected,
        not_accepted,
    )


class _Row:
    """One name of the chart, as far as it was counted."""

    __slots__ = ("adults", "flies", "peak", "skins")

    def __init__(self, flies: Ends | None, peak: Ends | None) -> None:
        self.flies, self.peak = flies, peak
        self.adults, self.skins = [0] * THIRDS, [0] * THIRDS


class _Chart:
    """Records by name and third of a month."""

    def __init__(self, grounds: Grounds) -> None:
        self._grounds = grounds
        self._rows: dict[tuple[str, str, str], _Row] = {}
        self._local = False
        self.vague = 0

    def take(self, record: Record, doubt: str) -> None:
        """Count one record under its name with the sign of its doubt.

        It is of an adult (or one that is just becoming one), or of cast skins; larvae fly nowhere.
        """
        sighting = record.sighting
        if sighting.stage == "larva":
            return
        third = _third(record.days)
        if third is None:
            self.vague += 1
            return
        name = (sighting.taxon.scientific_name, sighting.taxon.vernacular, doubt)
        if name not in self._rows:
            self._rows[name] = _Row(*self._period(record))
        row = self._rows[name]
        skin = sighting.stage == "exuvia" or (sighting.stage is None and sighting.evidence == "exuvia")
        (row.skins if skin else row.adults)[third] += 1

    def strips(self) -> tuple[Strip, ...]:
        """Give the rows."""
        return tuple(
            Strip(
                marked(english or scientific, doubt),
                scientific,
                row.flies,
                row.peak,
                tuple(row.adults),
                tuple(row.skins),
            )
            for (scientific, english, doubt), row in sorted(self._rows.items())
        )

    def cited(self) -> str:
        """Say whose flight periods these are."""
        key, county = self._grounds.key, self._grounds.county
        said = f"Flight periods are those of the key {key.id} {key.version}"
        return f"{said}, or of the {county.cited}." if county and self._local else f"{said}."

    def _period(self, record: Record) -> tuple[Ends | None, Ends | None]:
        """Give from the first of any to the last of any species that the name holds; nothing where one has none."""
        county = self._grounds.county_of(record)
        local = [
            county.species[one.name].flight if county and one.name in county.species else None for one in record.species
        ]
        self._local |= any(local)
        periods = [_of_days(*days) if days else _of_key(one) for days, one in zip(local, record.species, strict=True)]
        whole = [flies for flies, _ in periods if flies]
        peaks = [peak for _, peak in periods if peak]
        return (_joined(whole, len(periods)), _joined(peaks, len(periods)))


def _third(days: Span | None) -> int | None:
    """Give the third of a month that a date lies in wholly."""
    if days is None or days.first[:7] != days.last[:7]:
        return None
    month = int(days.first[5:7])
    first, last = (third_of(month, int(day[8:])) for day in days)
    return first if first == last else None


def _of_days(first: tuple[int, int], last: tuple[int, int]) -> tuple[Ends, None]:
    return (third_of(*first), third_of(*last)), None


def _of_key(species: Species) -> tuple[Ends | None, Ends | None]:
    if species.flight is None:
        return None, None
    first, peak_from, peak_to, last = species.flight
    return (first, last), (peak_from, peak_to)


def _joined(ends: list[Ends], wanted: int) -> Ends | None:
    if not ends or len(ends) < wanted:
        return None
    return min(first for first, _ in ends), max(last for _, last in ends)


class _Place:
    """One place, as far as it was counted."""

    __slots__ = ("days", "name", "species", "squares", "visits")

    def __init__(self, name: str) -> None:
        self.name = name
        self.squares: dict[str, None] = {}
        self.visits: set[str] = set()
        self.species: set[str] = set()
        self.days: set[str] = set()


class _Places:
    """The places that may be named; and the visits to others, by id."""

    def __init__(self, sites: dict[str, Site], hidden: Plan, exact: bool) -> None:
        self._sites = sites
        self._hidden = hidden
        self._exact = exact
        self._places: dict[str, _Place] = {}
        self.unnamed: set[str] = set()

    def take(self, record: Record, doubt: str) -> None:
        """Count one record under its own place, else that of its visit."""
        place, visit = record.place, record.visit
        site = self._sites.get(place.site or "")
        name = site.name if site else place.locality
        if not self._exact and self._hidden.blurred(record.sighting, visit) is not None:
            self.unnamed.add(visit.id)
            return
        shown = place if self._exact else coarsened(place, SQUARE_M)
        square = shown.square or (place.typed if self._exact else "") or ""
        if not (name or square):
            return
        known = self._places.setdefault(" ".join(name.casefold().split()) or square, _Place(name))
        if square:
            known.squares[square] = None
        known.visits.add(visit.id)
        if record.sighting.taxon.rank in ("species", "") and not doubt:
            known.species.add(record.sighting.taxon.scientific_name)
        if record.days and record.days.first == record.days.last:
            known.days.add(record.days.first)

    def lines(self) -> Iterator[PlaceLine]:
        """Give the places by name, those without one last."""
        for one in sorted(self._places.values(), key=lambda one: (not one.name, one.name.casefold(), *one.squares)):
            squares = list(one.squares)
            more = f" and {len(squares) - _MOST_SQUARES} more" if len(squares) > _MOST_SQUARES else ""
            told = ", ".join(squares[:_MOST_SQUARES]) + more
            days = min(one.days, default=""), max(one.days, default="")
            yield PlaceLine(one.name, told, len(one.visits), len(one.species), *days)
