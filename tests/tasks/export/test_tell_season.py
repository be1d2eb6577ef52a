"""The page of a season for anybody: its figures are the records', and it gives away no person and no tender place."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest

from ledger.pond import NOON, begun
from reedmace.checks.county import County, LocalSpecies
from reedmace.checks.query import grounds
from reedmace.keys.model import Key
from reedmace.ledger.store import Ledger
from reedmace.records import PlaceRecord, Sighting, Site, Taxon, Visit
from reedmace.reports.document import html, markdown
from reedmace.reports.season import Season, season_page
from reedmace.tasks.export.tell_season import tell_season

TODAY = date(2026, 11, 25)
FEN = PlaceRecord("SU 431 118", "GB", "SU431118", 100, 50.904, -1.388, 76, locality="Sallow Farm pond")
BECK = PlaceRecord("NN 112 224", "GB", "NN112224", 100, 56.36, -5.05, 76, locality="Heron Beck")
COMMON, OTHER, PROTECTED = 3, 5, 1  # their numbers in the made key


@dataclass
class Year:
    """A ledger kept by Ada Marsh, and the key it is judged by."""

    ledger: Ledger
    ada: str
    mint: object
    key: Key
    county: County | None = None
    made: int = 0

    def walk(self, day: str, place: PlaceRecord, *species: int, **fields: object) -> None:
        """Write one visit with a record of each of these species."""
        self.made += 1
        visit = Visit(f"v-{self.made}", date=day, place=place, observers=(self.ada,), remarks="with Robin and Wren")
        sightings = []
        for number in species:
            one = self.key.species[number]
            taxon = Taxon(one.name, rank="species", vernacular=one.english)
            mark = f"{self.made}-{len(sightings)}"
            made = Sighting(f"s-{mark}", f"l-{mark}", visit.id, taxon, count=2, count_kind="exact", remarks="by Robin")
            sightings.append(made._replace(**fields))
        self.ledger.record_walk(visit, sightings, self.ada, NOON, self.mint)

    def tell(self, exact: bool = False) -> Season:
        """The summary of 2026."""
        return tell_season(self.ledger, grounds(self.key, TODAY, self.county), 2026, TODAY, exact)


@pytest.fixture
def year(tmp_path: Path, tarn: Key):
    """An empty ledger of the made tarn flies."""
    assert [tarn.species[number].protected for number in (COMMON, PROTECTED)] == [False, True]
    with begun(tmp_path / "pond") as (ledger, ada, mint):
        yield Year(ledger, ada, mint, tarn)


def pages(season: Season) -> list[str]:
    """The page in both forms."""
    return [html(season_page(season)), markdown(season_page(season))]


def test_figures_days_and_thirds_are_those_of_the_records(year: Year) -> None:
    """Another year is not in it; skins stand apart; what is vague, doubtful or a larva is said."""
    year.walk("2026-06-10", FEN, COMMON, OTHER)
    year.walk("2026-06-11", FEN, COMMON)
    year.walk("2026-06-12", FEN, COMMON, stage="exuvia")
    year.walk("2026-06", FEN, COMMON, certainty="uncertain")
    year.walk("2026-05-01", FEN, COMMON, stage="larva")
    year.walk("2025-06-11", BECK, COMMON)
    told = year.tell()
    assert (told.records, told.species, told.visits, told.days, told.observers) == (6, 2, 5, 4, 1)
    assert (told.undated, told.uncharted, told.uncertain, told.larvae, told.kept_back) == (1, 1, 1, 1, 0)
    of = {strip.scientific_name: strip for strip in told.chart}[year.key.species[COMMON].name]
    seen = {third: (of.adults[third], of.skins[third]) for third in range(36) if of.adults[third] or of.skins[third]}
    assert seen == {15: (1, 0), 16: (1, 1)}  # the 10th is early June, the 11th mid-June
    flight = year.key.species[COMMON].flight
    assert flight is not None
    assert (of.flies, of.peak) == ((flight[0], flight[3]), flight[1:3])
    [place] = told.places
    assert place == ("Sallow Farm pond", "SU4311", 5, 2, "2026-05-01", "2026-06-12")


def test_names_that_are_not_certain_are_marked_and_counted_apart(year: Year) -> None:
    """In the list and in the chart; words of a determiner's own are not told."""
    year.walk("2026-06-10", FEN, COMMON)
    year.walk("2026-06-11", FEN, COMMON, OTHER, certainty="uncertain")
    year.walk("2026-06-12", FEN, OTHER, qualifier="Robin thinks so")
    year.walk("2026-06-13", FEN, OTHER, certainty="probable")
    told = year.tell()
    assert (told.species, told.in_doubt, told.uncertain) == (1, 1, 4)
    common, other = (year.key.species[number].english for number in (COMMON, OTHER))
    wanted = {common: 1, f"{common} ?": 1, f"{other} ?": 2, f"{other} (probable)": 1}
    assert {line.shown: line.records for line in told.lines} == wanted
    assert {strip.name: sum(strip.adults) for strip in told.chart} == wanted
    assert [place.species for place in told.places] == [1]
    for page in pages(told):
        assert "1, 1 more in doubt" in page
        assert f"{other} ?" in page
        assert "Robin" not in page


def test_nobody_and_no_tender_place_is_named(year: Year) -> None:
    """No person, nothing typed, no place of a protected species; every other place by its kilometre square only."""
    year.walk("2026-06-10", FEN, COMMON)
    year.walk("2026-07-10", BECK, PROTECTED)
    year.walk("2026-07-20", BECK, COMMON)
    told = year.tell()
    assert ([place.name for place in told.places], told.unnamed) == (["Sallow Farm pond"], 2)
    for page in pages(told):
        assert year.key.species[PROTECTED].english in page
        assert not [word for word in ("Ada", "Marsh", "Robin", "Heron Beck", "NN11", "SU431118") if word in page]
        assert "And 2 more visits at places that are not named here." in page


def test_tender_places_are_named_when_it_is_asked_for(year: Year) -> None:
    """With their squares as recorded, and a warning on the page; people still are not."""
    year.walk("2026-07-10", BECK, PROTECTED)
    told = year.tell(exact=True)
    assert [(place.name, place.square) for place in told.places] == [("Heron Beck", "NN112224")]
    for page in pages(told):
        assert "do not publish it" in page
        assert "Robin" not in page


def test_what_nobody_else_is_to_see_stands_nowhere(year: Year) -> None:
    """Not its name, not its species, not even when every place is asked for; but it is said that something is left."""
    hidden = BECK._replace(site="site-1")
    year.ledger.put_site(Site("site-1", "Heron Beck", (), BECK, may_see="nobody else"), "", year.ada, NOON, year.mint)
    year.walk("2026-07-10", hidden, OTHER)
    year.walk("2026-06-10", FEN, COMMON)
    for exact in (False, True):
        told = year.tell(exact)
        assert (told.records, told.kept_back, len(told.chart)) == (1, 1, 1)
        for page in pages(told):
            assert "Heron Beck" not in page
            assert year.key.species[OTHER].english not in page
            assert "1 record of places that nobody else is to see" in page


def test_a_county_file_comes_before_the_key(year: Year) -> None:
    """Its flight period is the one of the chart, and it is cited."""
    name = year.key.species[COMMON].name
    year.county = County("Harrowshire", "2026-01", species={name: LocalSpecies(name, flight=((5, 12), (9, 1)))})
    year.walk("2026-06-10", FEN, COMMON)
    told = year.tell()
    assert (told.chart[0].flies, told.chart[0].peak) == ((13, 24), None)
    assert "county file of Harrowshire, 2026-01" in pages(told)[0]


def test_each_drawing_says_in_words_what_it_shows(year: Year) -> None:
    """For whoever cannot see it: a text alternative on each drawing, and a table of the same."""
    year.walk("2026-06-10", FEN, COMMON)
    year.walk("2026-08-30", FEN, COMMON, stage="exuvia")
    page = pages(year.tell())[0]
    assert page.count('<svg role="img" aria-label="flight period: ') == 1
    assert "adults seen: early-June; cast skins: late-August" in page
    assert "The chart in words" in page


def test_a_year_without_records_makes_a_page_too(year: Year) -> None:
    """Noughts, no chart, no fault."""
    assert all("Flight chart" not in page for page in pages(year.tell()))
