"""The page of a season, for anybody to see: totals, names with first and last days, places, and a flight chart.

Pure functions of a summary that holds nobody's name; who makes the summary: tasks/export/tell_season.py.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from reedmace.reports.covering import SpeciesLine, species_words
from reedmace.reports.document import Block, Facts, Heading, Items, Page, Paragraph, Table
from reedmace.reports.strips import Strip, Strips, in_words


class PlaceLine(NamedTuple):
    """One place that may be named: its squares, visits, species, and first and last day."""

    name: str
    square: str
    visits: int
    species: int
    first: str
    last: str


class Season(NamedTuple):
    """All that the page of a season says; days are ISO dates.

    `species` have a certain name, `in_doubt` more have none, of `rejected` more each was answered as
    incorrect by the county recorder; `not_accepted` records were. `undated` records have no exact day, `uncertain` no
    certain name, `larvae` are of larvae, and `uncharted` (adults
    and cast skins) have dates too vague for the chart. `unnamed` visits were at places that are not named; `kept_back`
    records stand nowhere on the page, as nobody else is to see their place. `exact` where every place is named.
    """

    year: int
    made_on: str
    records: int
    species: int
    visits: int
    days: int
    observers: int
    lines: tuple[SpeciesLine, ...] = ()
    chart: tuple[Strip, ...] = ()
    places: tuple[PlaceLine, ...] = ()
    unnamed: int = 0
    kept_back: int = 0
    undated: int = 0
    uncertain: int = 0
    larvae: int = 0
    uncharted: int = 0
    exact: bool = False
    flight: str = ""
    in_doubt: int = 0
    rejected: int = 0
    not_accepted: int = 0


def season_page(season: Season) -> Page:
    """Give the page, to be written as Markdown or HTML (document.py)."""
    return Page(f"The season of {season.year}", tuple(_blocks(season)))


def _blocks(season: Season) -> Iterator[Block]:
    totals = [("Visits", season.visits), ("Days", season.days), ("Observers", season.observers)]
    species = species_words(season.species, season.in_doubt, season.rejected)
    more = ((name, f"{value:,}") for name, value in totals)
    yield Facts((("Records", f"{season.records:,}"), ("Species", species), *more, ("Made on", season.made_on)))
    notes = tuple(_notes(season))
    if season.chart:
        yield Heading("Flight chart")
        yield Strips(season.chart)
        yield Paragraph(f"One step is a third of a month. {season.flight}".strip())
    if season.lines:
        yield Heading("Species")
        yield Table(
            ("name", "scientific name", "records", "most", "first", "last"), tuple(_rows(season)), (2, 3), (4, 5)
        )
    yield from _places(season)
    if notes:
        yield Heading("What these figures hold")
        yield Items(notes)
    if season.chart:
        yield Heading("The chart in words")
        rows = tuple((strip.name, *(words or "–" for words in in_words(strip))) for strip in season.chart)
        yield Table(("name", "flight period", "adults seen", "cast skins"), rows)


def _rows(season: Season) -> Iterator[tuple[str, ...]]:
    for one in season.lines:
        most = "" if one.most is None else f"{one.most:,}"
        yield one.shown, one.scientific_name, f"{one.records:,}", most, one.first, one.last


def _places(season: Season) -> Iterator[Block]:
    if not (season.places or season.unnamed):
        return
    yield Heading("Places visited")
    if season.places:
        rows = tuple(
            (one.name, one.square, f"{one.visits:,}", f"{one.species:,}", one.first, one.last) for one in season.places
        )
        yield Table(("place", "square", "visits", "species", "first", "last"), rows, (2, 3), (4, 5))
    if season.unnamed:
        more = "more " if season.places else ""
        visits = f"{season.unnamed:,} {more}visit{'' if season.unnamed == 1 else 's'}"
        yield Paragraph(f"And {visits} at places that are not named here." if more else f"{visits}; no place is named.")
    if season.exact:
        yield Paragraph("Sensitive places are named on this page: do not publish it.")


def _notes(season: Season) -> Iterator[str]:
    for number, what in (
        (
            season.uncertain,
            "under a name that is not certain; they are marked, and no species is counted by them",
        ),
        (
            season.not_accepted,
            "under a name that the county recorder answered as incorrect; they are marked, and no species is counted "
            "by them",
        ),
        (season.undated, "without an exact day; no first or last day comes from them"),
        (season.uncharted, "with a date too vague for the chart"),
        (season.larvae, "of larvae; not in the chart"),
        (season.kept_back, "of places that nobody else is to see; counted nowhere on this page"),
    ):
        if number:
            yield f"{number:,} record{'' if number == 1 else 's'} {what}."
