"""Out, in again elsewhere, and out: the same bytes, whatever a ledger holds.

The issue: "Export → import into an empty ledger → export: byte-identical (current records; the history needs the
dump)." Made from visits and sightings as anyone might log them, odd text included.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import Phase, assume, given, settings
from hypothesis import strategies as st

from ledger.pond import NOON, begun, counting
from records.strategies import places as any_places
from records.strategies import sightings, visits
from reedmace.keys.model import Key
from reedmace.ledger.store import Ledger, open_ledger
from reedmace.places.place import read_place
from reedmace.places.squares import EXTENT, SIDES, square_reference
from reedmace.records import PlaceRecord, Sighting, Taxon, Visit
from reedmace.tasks.export.profiles import ExportProfile
from reedmace.tasks.export.season import Asked, export_season
from reedmace.tasks.sheets.columns import guess
from reedmace.tasks.sheets.import_file import Importing, import_file
from reedmace.tasks.sheets.import_told import Imported
from reedmace.tasks.sheets.rows import look_at

TODAY = date(2100, 1, 1)
MUCH_LATER = "2100-01-01T12:00:00Z"
PEOPLE = {"p-1": "Ada Marsh", "p-2": "Ben & Cora Sallow", "p-3": "O'Reed, Dan (party 3)", "p-4": "Éva Ng"}
people = st.sampled_from(list(PEOPLE))


@pytest.fixture(scope="module", autouse=True)
def _key(tarn: Key) -> None:
    """The made key, kept aside: hypothesis would write it out for every example."""
    KEYS.append(tarn)


KEYS: list[Key] = []
# Every example makes two ledgers: to shrink one takes minutes.
WITHOUT_SHRINKING = (Phase.explicit, Phase.reuse, Phase.generate)


@st.composite
def squares(draw: st.DrawFn) -> PlaceRecord:
    """Draw any square of any size on both grids, as a place that was typed."""
    system = draw(st.sampled_from(["GB", "IE"]))
    width, height = EXTENT[system]
    east, north = draw(st.integers(0, width - 1)), draw(st.integers(0, height - 1))
    found = read_place(square_reference(system, east, north, draw(st.sampled_from(SIDES))))
    if not hasattr(found, "rounded"):
        return PlaceRecord(locality="off the map")  # a square that no reference may name, such as a far sea
    assert found.uncertainty_m
    return PlaceRecord(
        *(found.typed, found.system, found.square, found.side_m, *found.rounded(), round(found.uncertainty_m)),
        kind=draw(st.sampled_from([None, "exact", "map estimate", "centroid"])),
        vice_county=draw(st.sampled_from([None, "11", "H33", "71"])),
        locality=draw(st.sampled_from(["", "Harrowmere, Sallow Farm", "Withy\nPond"])),
    )


@st.composite
def walks(draw: st.DrawFn) -> tuple[Visit, list[Sighting]]:
    """Draw a visit with some sightings."""
    where = squares() | any_places
    visit = draw(visits(st.lists(people, max_size=3, unique=True).map(tuple)))._replace(place=draw(where))
    seen = draw(st.lists(sightings(visit.id, people), min_size=1, max_size=4))
    return visit, [one._replace(place=draw(st.none() | where)) for one in seen]


def filled(path: Path, made: list[tuple[Visit, list[Sighting]]]) -> None:
    """Write walks into a new ledger, with redeterminations for every third sighting."""
    with begun(path) as (ledger, ada, mint):
        for person, name in PEOPLE.items():
            ledger.people.register(name, lambda person=person: person)
        ids = {name: ledger.people.ids_of(name)[0] for name in PEOPLE.values()}
        assert ids["Ben & Cora Sallow"] == "p-2"
        for number, (visit, seen) in enumerate(made):
            mine = tuple(ada if one == "p-1" else one for one in visit.observers)
            ledger.record_walk(visit._replace(observers=mine), [_of(ada, one) for one in seen], ada, NOON, mint)
            if number % 3 == 0:
                first = _of(ada, seen[0])
                taxon = first.taxon._replace(scientific_name="Aeshna juncea", typed="common hawker")
                later = f"2026-06-15T12:00:{number % 60:02}Z"
                again = first._replace(taxon=taxon, determiner="p-4", determined_on="2026-06-15")
                ledger.amend(again, "photo\nshows the costa", ada, later, mint, "redetermined")


def _of(ada: str, seen: Sighting) -> Sighting:
    def known(person: str) -> str:
        return ada if person == "p-1" else person

    return seen._replace(
        observers=None if seen.observers is None else tuple(map(known, seen.observers)),
        determiner=seen.determiner and known(seen.determiner),
    )


def exported(ledger: Ledger, to: Path) -> bytes:
    """Export everything; gives the bytes."""
    export_season(ledger, Asked(None, to, ExportProfile(format=1), TODAY, overwrite=True))
    return to.read_bytes()


def brought_in(path: Path, file: Path) -> Imported:
    """Import a file into a new ledger."""
    with open_ledger(path) as ledger:
        key, mint = KEYS[0], counting(1, "f")
        me = ledger.people.register("Dan Fen", mint)
        sheet = look_at(str(file))
        mapping = guess(key, sheet.columns, [], TODAY)
        how = Importing(me, "Dan Fen", MUCH_LATER, mint, TODAY)
        return import_file(ledger, key, sheet, mapping, how, lambda _: None)


def there_and_back(folder: Path, made: list[tuple[Visit, list[Sighting]]]) -> None:
    """Export, import into an empty ledger, export: the same bytes, and nothing left over."""
    ids = [one.id for _, seen in made for one in seen] + [visit.id for visit, _ in made]
    assume(len(set(ids)) == len(ids))
    filled(folder / "one", made)
    with open_ledger(folder / "one") as ledger:
        out = exported(ledger, folder / "one.csv")
    done = brought_in(folder / "two", folder / "one.csv")
    assert done.faulty == 0, Path(str(done.faults_file)).read_text(encoding="utf-8-sig")
    assert done.sightings == sum(len(seen) for _, seen in made)
    with open_ledger(folder / "two") as ledger:
        assert exported(ledger, folder / "two.csv").decode().splitlines() == out.decode().splitlines()


@settings(max_examples=40, phases=WITHOUT_SHRINKING)
@given(st.lists(walks(), min_size=1, max_size=5, unique_by=lambda one: one[0].id))
def test_any_ledger_comes_back_byte_by_byte(made: list[tuple[Visit, list[Sighting]]]) -> None:
    """Pairs, counts of every kind, vague dates, doubts, photographs, answers, people, places of all sorts."""
    with TemporaryDirectory() as folder:
        there_and_back(Path(folder), made)


@settings(max_examples=120)
@given(squares())
def test_any_square_in_both_grids_comes_back_the_same(place: PlaceRecord) -> None:
    """Read from the columns alone: the square, its side, system and centre."""
    from reedmace.darwincore.csvfile import one_line
    from reedmace.darwincore.location import location_terms, read_location

    cells = {term: one_line(text) for term, text in location_terms(place, {}).items()}
    assert read_location(cells, place.vice_county) == place._replace(locality=one_line(place.locality))


@given(st.sampled_from(["\x1f", "\u200b", "\u00a0", " "]))
def test_a_blank_name_of_a_place_is_none_on_the_way_back_either(blank: str) -> None:
    """Also where the place goes along exactly, for its columns do not say all of it."""
    place = PlaceRecord(typed="a\u2028b", square="O1234", side_m=100, kind="map estimate", locality=blank)
    seen = Sighting("s-1", "l-1", "v-1", Taxon("Aeshna mixta"))
    with TemporaryDirectory() as folder:
        there_and_back(Path(folder), [(Visit("v-1", "2026-07-12", place=place, observers=("p-1",)), [seen])])
