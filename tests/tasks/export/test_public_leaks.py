"""From no column of no file of the public version can the 1 km square of a sensitive sighting be read.

Ledgers are made that say where it was wherever a person, or another program, could have written it: in remarks,
names of places, people, photographs and insects, in the ids of records, in what was typed, at every precision, in
every spelling. Then every file is searched (public_search.py).
"""

from __future__ import annotations

import json
import uuid
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checks.records_made import judged_by
from ledger.pond import LATER, NOON, begun, counting
from reedmace.checks.county import County, LocalSpecies
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, find_name
from reedmace.ledger.store import Ledger, open_ledger
from reedmace.places.place import Place, read_place
from reedmace.places.squares import SIDES, square_at
from reedmace.records import Answer, Circumstances, Naming, Photo, PlaceRecord, Sighting, Site, Visit
from reedmace.tasks.export.coarse_places import as_square
from reedmace.tasks.export.profiles import ExportProfile
from reedmace.tasks.export.public_words import Telling
from reedmace.tasks.export.season import Asked, Exported, export_again, export_season, submission_of
from reedmace.tasks.shared.taxa import taxon_of
from tasks.public_search import Files, Kilometre, leaks, read_files, spelled

TODAY = date(2026, 12, 31)
KEYS: list[Key] = []
COLUMNS: list[str] = []
SU = Kilometre("GB", 443_000, 111_000)
SECRET = "Secret Mire"


@pytest.fixture(scope="module", autouse=True)
def _key(tarn: Key, tmp_path_factory: pytest.TempPathFactory) -> None:
    """The made key, kept aside: hypothesis would write it out for every example; and what describes the columns."""
    KEYS.append(tarn)
    elsewhere = walk("v", "2026-07-12", place("NT 46"), "by the alders")
    files = published(tmp_path_factory.mktemp("elsewhere"), [(elsewhere, [seen("great", "s", "v", "in flight")])])
    COLUMNS.extend(files.columns)


def place(typed: str, **more: Any) -> PlaceRecord:
    """A place as it would be recorded."""
    found = read_place(typed)
    assert isinstance(found, Place), typed
    metres = round(found.uncertainty_m) if found.uncertainty_m else None
    made = PlaceRecord(found.typed, found.system, found.square, found.side_m, *found.rounded(), metres)
    return made._replace(vice_county="11", **more)


def seen(name: str, mark: str, visit: str, words: str, **more: Any) -> Sighting:
    """A sighting that says `words` in every field that takes words."""
    found = find_name(KEYS[0], name)
    assert isinstance(found, FoundName)
    naming = Naming("tarn", "1", "d", "beginner", (Answer("a", words),), Circumstances("", words, ""), "open", words)
    taxon = taxon_of(KEYS[0], found)._replace(typed=words)
    made = Sighting(
        *(mark, f"l-{mark}", visit, taxon, naming),
        count_typed=words,
        behaviour=("feeding", words),
        qualifier=words,
        photos=(Photo(f"/{words}/1.jpg", "0f" * 32),),
        remarks=words,
        typed=words,
    )
    return made._replace(**more)


def walk(mark: str, day: str, where: PlaceRecord, words: str, **more: Any) -> Visit:
    """A visit that does so too."""
    said = dict.fromkeys(("habitat", "weather", "method", "remarks", "typed", "permission_noted", "party"), words)
    made = Visit(mark, day, f"{day} {words}", "10:00", "11:00", where, ("p-1",))
    return made._replace(**said)._replace(**more)


Walks = list[tuple[Visit, list[Sighting]]]


def asked(to: Path, blur_m: int, **more: Any) -> Asked:
    """The public version, as a county file wants it."""
    county = County("Harrowshire", species={"Mossopa grandis": LocalSpecies("Mossopa grandis", blur_m=blur_m)})
    profile = ExportProfile(format=1, public=True)
    return Asked(None, to, profile, TODAY, True, grounds=judged_by(KEYS[0], county))._replace(**more)


def fill(ledger: Ledger, walks: Walks, ada: str, mint: Any, at: str = NOON) -> None:
    """Write walks into a ledger; p-1 is its keeper, everybody else is registered by name."""
    for visit, some in walks:
        own = tuple(ada if one == "p-1" else ledger.people.register(one, mint) for one in visit.observers)
        ledger.record_walk(visit._replace(observers=own), [one._replace(determiner=ada) for one in some], ada, at, mint)


def published(folder: Path, walks: Walks, blur_m: int = 10_000, sites: tuple[Site, ...] = ()) -> Files:
    """What is published of a ledger, as an archive and as a table."""
    with begun(folder / "pond") as (ledger, ada, mint):
        for site in sites:
            ledger.put_site(site, "", ada, NOON, mint)
        fill(ledger, walks, ada, mint)
        for name in ("all.zip", "all.csv"):
            export_season(ledger, asked(folder / name, blur_m))
    return read_files(folder / "all.zip", folder / "all.csv")


def middles(at: Kilometre, side_m: int) -> set[tuple[str, str]]:
    """The middles of the squares that may be published.

    A tetrad that lies in several squares of 5 km is blurred to the next size that holds it whole. That it was tells
    that it is one of the nine tetrads across those lines: 36 square kilometres, more than a square of 5 km has.
    """
    squares = [as_square(square_at(at.grid, at.east, at.north, side)) for side in SIDES if side >= side_m]
    return {(f"{middle.latitude:.6f}", f"{middle.longitude:.6f}") for middle in squares}


kilometres = st.one_of(
    st.builds(
        Kilometre,
        st.just("GB"),
        st.integers(260, 580).map(lambda km: km * 1000),
        st.integers(80, 600).map(lambda km: km * 1000),
    ),
    st.builds(
        Kilometre,
        st.just("IE"),
        st.integers(100, 330).map(lambda km: km * 1000),
        st.integers(60, 400).map(lambda km: km * 1000),
    ),
)

# Metres within the square; a position to four decimals may lie 8 m off.
offsets = st.tuples(st.integers(15, 984), st.integers(15, 984))


@st.composite
def ledgers(draw: st.DrawFn) -> tuple[Kilometre, int, Walks, list[str]]:
    """A sensitive place, how far it is blurred, and visits to it, beside it, and far from it that speak of it."""
    at = draw(kilometres)
    blur_m = draw(st.sampled_from([2000, 5000, 10_000]))
    off = draw(offsets)
    ways = spelled(at, *off)
    read = [way for way in ways if isinstance(read_place(way), Place)]
    words = draw(st.sampled_from(ways))
    typed = draw(st.sampled_from([way for way in read if not way.startswith("tetrad") or blur_m > 2000]))
    name = draw(st.sampled_from(["Sallow Farm pond", "", words]))
    observers = draw(st.sampled_from([("p-1",), ("p-1", "Moss Linley"), ()]))
    marks = draw(st.sampled_from(["plain", "telling"]))
    mark = (lambda what: f"{what}-{'_'.join(words.split())}") if marks == "telling" else (lambda what: what)
    hot = walk(mark("v-hot"), "2026-07-12", place(typed, locality=name), words, observers=observers)
    inside = square_at(at.grid, at.east + off[0], at.north + off[1], 1).reference
    first = [seen("great", mark("s-1"), hot.id, words), seen("pale", mark("s-2"), hot.id, words)]
    first.append(seen("misty", mark("s-3"), hot.id, words, place=place(inside, locality=name)))
    walks: Walks = [(hot, first)]
    for number, (east, north, day, who, beside) in enumerate(
        draw(
            st.lists(
                st.tuples(
                    st.integers(-30, 30),
                    st.integers(-30, 30),
                    st.sampled_from(["2026-07-12", "2026-07-13", "2025-06-01"]),
                    st.sampled_from([("p-1",), ("Moss Linley",), ("p-1", "Fen Sallow"), ()]),
                    st.sampled_from(["", "Withy Pond", "Sallow Farm pond", "sallow farm-pond ", words, f"by {words}"]),
                ),
                min_size=1,
                max_size=4,
            )
        )
    ):
        where = square_at(at.grid, at.east + east * 1000, at.north + north * 1000, draw(st.sampled_from([1000, 100])))
        other = walk(mark(f"v-{number}"), day, place(where.reference, locality=beside), words, observers=who)
        taxon = seen("pale", mark(f"t-{number}"), other.id, words)
        if draw(st.booleans()):
            taxon = taxon._replace(
                taxon=taxon.taxon._replace(vernacular=words, authorship=f"{words}, 1764", family=words)
            )
        walks.append((other, [taxon]))
    return at, blur_m, walks, ways


def test_a_tetrad_across_squares_of_5_km_is_blurred_to_10_km(tmp_path: Path) -> None:
    """Its middle, and the middle of its 10 km, are one point: no other square of 2 km is as central, none is told."""
    hot = walk("v-hot", "2026-07-12", place("W98M"), "by the alders")
    files = published(tmp_path, [(hot, [seen("great", "s-1", hot.id, "by the alders")])], 5000)
    assert {row["verbatimCoordinates"] for row in files.occurrences} == {"W98"}
    half_diagonal = {row["coordinateUncertaintyInMeters"] for row in files.occurrences}
    assert half_diagonal == {"7079"}, "and the datum's share"
    at = Kilometre("IE", 195_000, 85_000)
    assert leaks(files, at, middles(at, 5000), 5000) == []
    assert leaks(files, at, set(), 5000), "the middle of the 10 km, if it could not be published"


@pytest.mark.parametrize(
    ("told", "stays"),
    [
        *(("Fellman, 1899", True), ("(Fellman, 1899)", True), ("de Hollin & Fellman 1899", True)),
        *(("N 1701 1701", False), ("N 1701 1701, 1764", False), ("N, 1717", False), ("1764, 1701", False)),
    ],
)
def test_a_year_stands_behind_its_author(told: str, stays: bool, tmp_path: Path) -> None:
    """Figures that could be years can as well be half of a position: they stay only where a name has its year."""
    hot = walk("v-hot", "2026-07-12", place("N1717"), "by the alders")
    far = walk("v-far", "2026-07-13", place("N4040"), "by the alders")
    pale = seen("pale", "s-2", far.id, "in flight")
    pale = pale._replace(taxon=pale.taxon._replace(authorship=told))
    files = published(tmp_path, [(hot, [seen("great", "s-1", hot.id, "in flight")]), (far, [pale])])
    assert leaks(files, Kilometre("IE", 217_000, 217_000), set(), 10_000) == []
    authors = {row["scientificNameAuthorship"] for row in files.occurrences if row["eventDate"] == "2026-07-13"}
    assert authors == {told if stays else ""}


@settings(max_examples=60)
@given(ledgers())
def test_nothing_published_tells_the_square(made: tuple[Kilometre, int, Walks, list[str]]) -> None:
    """In any column or file, in any spelling; and nothing exact stands beside what is blurred."""
    at, blur_m, walks, _ = made
    with TemporaryDirectory() as folder:
        files = published(Path(folder), walks, blur_m)
    assert len(files.occurrences) == 2 * sum(len(some) for _, some in walks)
    assert files.columns == COLUMNS, "the same whatever the ledger: nothing can be read in it"
    assert leaks(files, at, middles(at, blur_m), blur_m) == []
    blurred = {row["eventID"] for row in files.occurrences if row["dataGeneralizations"]}
    assert blurred
    around = square_at(at.grid, at.east, at.north, blur_m)
    for row in files.occurrences:
        if row["eventID"] in blurred:
            assert row["dataGeneralizations"], "a visit is blurred whole"
            told = [row[term] for term in ("locality", "verbatimLocality", "eventTime", "habitat", "higherGeography")]
            assert told == [""] * 5
            continue
        found = read_place(row["verbatimCoordinates"])
        assert isinstance(found, Place)
        assert found.easting is not None
        assert found.northing is not None
        same_day = row["eventDate"] == "2026-07-12" and "A. M." in row["recordedBy"].split(" | ")
        if same_day and "A. M." in _recorders(walks[0]):
            assert not around.holds(found.easting, found.northing), "the same observer, on that day, close by"
        assert _letters(row["locality"]) != _letters(walks[0][0].place.locality) or not row["locality"]


def _recorders(walk_: tuple[Visit, list[Sighting]]) -> list[str]:
    return ["A. M." for one in walk_[0].observers if one == "p-1"]


def _letters(text: str) -> str:
    return "".join(sign for sign in text.casefold() if sign.isalnum())


@settings(max_examples=60)
@given(kilometres, offsets, st.data())
def test_the_search_finds_every_spelling(at: Kilometre, off: tuple[int, int], data: st.DataObject) -> None:
    """So the property above can fail; and what finds words that tell is not blind to any of them either."""
    way = data.draw(st.sampled_from(spelled(at, *off)))
    assert leaks(Files([[f"by the sluice at {way}, left"]], [], [], []), at, set(), 10_000), way
    telling = Telling([("GB" if at.grid == "GB" else "IE", at.east // 1000, at.north // 1000)])
    assert telling.in_place_name(f"by the sluice at {way}, left"), way
    assert telling.in_text(way), way
    assert not telling.in_text("Withy Pond, by the old mill")
    assert not telling.in_place_name("Withy Pond 3")


def test_ids_worked_out_from_a_place_cannot_be_worked_out_again(tmp_path: Path) -> None:
    """An imported row's ids come from its place and day: whoever tries all squares of the 10 km finds none."""
    space = uuid.UUID("5b0c6b1e-5c1f-5c6e-8d52-0c7a7d3b9f11")
    guesses = {str(uuid.uuid5(space, f"2026-07-12 SU4{e}1{n}")): (e, n) for e in range(10) for n in range(10)}
    one = str(uuid.uuid5(space, "2026-07-12 SU4311"))
    assert one in guesses
    hot = [(walk(one, "2026-07-12", place("SU 43 11"), "x"), [seen("great", f"{one}-1", one, "x")])]
    [row, _] = published(tmp_path, hot).occurrences
    first = {row["occurrenceID"], row["eventID"]}
    assert first.isdisjoint({*guesses, f"{one}-1"})
    # Nor is it a mere digest of the id, for which a list of guesses would do: another ledger gives another one.
    with begun(tmp_path / "other", counting(1, "b")) as (ledger, ada, mint):
        fill(ledger, hot, ada, mint)
        for name in ("once.csv", "twice.csv"):
            export_season(ledger, asked(tmp_path / name, 10_000))
    [once], [twice] = (read_files(tmp_path / name).occurrences for name in ("once.csv", "twice.csv"))
    assert once == twice
    assert first.isdisjoint({once["occurrenceID"], once["eventID"]})


def test_random_ids_stay(tmp_path: Path) -> None:
    """As they were in every export before."""
    visit, sighting = "7d9f2c64-1f3a-4b6e-9c1d-2a5e8b7c6d5f", "0198c2a1-b3d4-7e5f-8a6b-9c0d1e2f3a4b"
    files = published(
        tmp_path, [(walk(visit, "2026-07-12", place("SU 431 118"), "x"), [seen("great", sighting, visit, "x")])]
    )
    assert {(row["occurrenceID"], row["eventID"]) for row in files.occurrences} == {(sighting, visit)}


def test_the_order_of_rows_does_not_tell(tmp_path: Path) -> None:
    """Ids made of squares would put the blurred visit between its neighbours."""
    walks: Walks = []
    for name, square, insect in (
        ("SU4307", "SU 430 079", "pale"),
        ("SU4311", "SU 431 118", "great"),
        ("SU4318", "SU 431 189", "pale"),
    ):
        visit = walk(name, "2026-07-12", place(square), "x", observers=(f"Moss {name[-1]}x",))
        walks.append((visit, [seen(insect, f"s-{name}", name, "x")]))
    rows = published(tmp_path, walks).occurrences
    assert [row["eventID"] for row in rows] == sorted(row["eventID"] for row in rows[:3]) * 2


def test_a_withdrawn_sighting_still_blurs_its_visit(tmp_path: Path) -> None:
    """It may have been published: its visit would join the exact place to it. Its own row tells nothing, either."""
    hot = walk("v-SU4311", "2026-07-12", place("SU 431 118"), "SU 431 118")
    words = [seen("great", "s-SU431118", hot.id, "x"), seen("pale", "t-SU431118", hot.id, "x")]
    with begun(tmp_path / "pond") as (ledger, ada, mint):
        fill(ledger, [(hot, words)], ada, mint)
        tarn = ledger.people.register("Tarn Fenwick", mint)
        first = asked(tmp_path / "first.csv", 10_000, recipient=tarn)
        _submit(ledger, first, export_season(ledger, first), ada, mint)
        ledger.withdraw(["s-SU431118"], "not for SU 43 11", ada, LATER, mint)
        since = first._replace(to=tmp_path / "since.csv", since_last=True)
        export_season(ledger, since)
        export_season(ledger, asked(tmp_path / "all.csv", 10_000))
    before = {row["occurrenceID"] for row in read_files(tmp_path / "first.csv").occurrences}
    files = read_files(tmp_path / "since.csv", tmp_path / "all.csv")
    assert leaks(files, SU, middles(SU, 10_000), 10_000) == []
    gone = [row for row in files.occurrences if "withdrawn" in row["dynamicProperties"]]
    assert len(gone) == 1
    assert gone[0]["occurrenceID"] in before
    assert gone[0]["occurrenceRemarks"].startswith("Withdrawn on 2026-06-14. Please delete")
    assert [row["dataGeneralizations"][:11] for row in files.occurrences if row not in gone] == ["Place given"]


def _submit(ledger: Ledger, one: Asked, done: Exported, ada: str, mint: Any) -> None:
    ledger.submit(submission_of(one, done, NOON, mint), ada, mint)


def test_a_submission_made_again_keeps_back_what_became_sensitive_since(tmp_path: Path) -> None:
    """An ordinary visit moved away, and its old square turned out to be a sensitive place."""
    plain = walk("v-1", "2026-07-12", place("SU 433 114", locality="Long Pool"), "x", observers=("Moss Linley",))
    with begun(tmp_path / "pond") as (ledger, ada, mint):
        fill(ledger, [(plain, [seen("pale", "s-1", "v-1", "x")])], ada, mint)
        tarn = ledger.people.register("Tarn Fenwick", mint)
        first = asked(tmp_path / "first.csv", 10_000, recipient=tarn)
        _submit(ledger, first, export_season(ledger, first), ada, mint)
        assert leaks(read_files(tmp_path / "first.csv"), SU, middles(SU, 10_000), 10_000) != []
        standing = ledger.standing("v-1")
        assert standing is not None
        ledger.amend(standing[0]._replace(place=place("SU 513 114")), "wrong square", ada, LATER, mint)
        fill(
            ledger,
            [(walk("v-2", "2026-08-12", place("SU 431 118"), "x"), [seen("great", "s-2", "v-2", "x")])],
            ada,
            mint,
        )
        export_again(ledger, first._replace(to=tmp_path / "again.csv"), 1)
    assert leaks(read_files(tmp_path / "again.csv"), SU, middles(SU, 10_000), 10_000) == []


def test_one_person_under_two_ids_is_one(tmp_path: Path) -> None:
    """After a merge of copies: the initials in the rows are the same."""
    for name, mark, square, insect in (("one", "a", "SU 431 118", "great"), ("two", "b", "SU 488 177", "pale")):
        with begun(tmp_path / name, counting(1, mark)) as (ledger, ada, mint):
            at = walk(f"v-{name}", "2026-07-12", place(square), "x")
            fill(ledger, [(at, [seen(insect, f"s-{name}", at.id, "x")])], ada, mint)
    with open_ledger(tmp_path / "one") as ledger:
        ledger.merge(tmp_path / "two", lambda _: None)
        assert len(ledger.people.ids_of("Ada Marsh")) == 2
        export_season(ledger, asked(tmp_path / "all.csv", 10_000))
    rows = read_files(tmp_path / "all.csv").occurrences
    assert [row["dataGeneralizations"][:11] for row in rows] == ["Place given"] * 2


@pytest.mark.parametrize(
    ("typed", "beside"),
    [
        ("51.0596, -1.3101 ±4000 m", "51.0597, -1.3102"),  # known roughly: what was written down is kept back
        ("49.2143, -2.1312", "49.2141, -2.1313"),  # the Channel Islands, which no grid reaches
        ("J 338 742", "54.60, -5.93"),
    ],
)
def test_what_was_written_of_the_same_spot_is_blurred_on_any_grid(tmp_path: Path, typed: str, beside: str) -> None:
    """On another day, by somebody else, under another name."""
    hot = walk("v-1", "2026-07-12", place(typed, locality="Sallow Farm pond"), "x")
    other = walk("v-2", "2025-06-01", place(beside, locality="Long Pool"), "x", observers=("Moss Linley",))
    files = published(tmp_path, [(hot, [seen("great", "s-1", "v-1", "x")]), (other, [seen("pale", "s-2", "v-2", "x")])])
    assert all(row["dataGeneralizations"] for row in files.occurrences)
    assert not any(row["locality"] for row in files.occurrences)


@pytest.mark.parametrize(
    ("name", "blurred"),
    [
        *((f"100 m south of {SECRET}", True), (f"{SECRET.upper()} (west)", True), (f"{SECRET}-car park", True)),
        *(("Secretmire", False), ("Mire", False), ("Withy Pond", False)),
    ],
)
def test_a_longer_name_that_holds_that_of_a_blurred_place_tells_it(tmp_path: Path, name: str, blurred: bool) -> None:
    """Beside an exact square it would give the place to a hundred metres; that a name is missing would tell it too."""
    hot = walk("v-1", "2026-07-12", place("SU 431 118", locality=SECRET), "x")
    other = walk("v-2", "2025-06-01", place("SU 447 103", locality=name), "x", observers=("Moss Linley",))
    files = published(tmp_path, [(hot, [seen("great", "s-1", "v-1", "x")]), (other, [seen("pale", "s-2", "v-2", "x")])])
    rows = [row for row in files.occurrences if row["eventDate"] == "2025-06-01"]
    assert {bool(row["dataGeneralizations"]) for row in rows} == {blurred}
    assert {row["locality"] for row in rows} == ({""} if blurred else {name})
    assert SECRET.casefold() not in str(files).casefold()


def test_a_short_common_name_does_not_blur_every_pond(tmp_path: Path) -> None:
    """Only the very same name does."""
    hot = walk("v-1", "2026-07-12", place("SU 431 118", locality="Pond"), "x")
    other = walk("v-2", "2025-06-01", place("SU 447 103", locality="Withy Pond"), "x", observers=("Moss Linley",))
    files = published(tmp_path, [(hot, [seen("great", "s-1", "v-1", "x")]), (other, [seen("pale", "s-2", "v-2", "x")])])
    assert {row["locality"] for row in files.occurrences} == {"", "Withy Pond"}


def test_other_names_of_a_site_are_names_of_it(tmp_path: Path) -> None:
    """A registered site, by one name here and by another there."""
    where = place("SU 431 118", locality="Long Pool")
    sites = (Site("site-1", "Long Pool", ("The Dip",), where),)
    hot = walk("v-1", "2026-07-12", where._replace(site="site-1"), "x")
    other = walk("v-2", "2025-06-01", place("SU 442 125", locality="the dip!"), "x", observers=("Moss Linley",))
    files = published(
        tmp_path, [(hot, [seen("great", "s-1", "v-1", "x")]), (other, [seen("pale", "s-2", "v-2", "x")])], sites=sites
    )
    assert all(row["dataGeneralizations"] for row in files.occurrences)


def test_what_tells_nothing_stays_as_it_was(tmp_path: Path) -> None:
    """Names of places without figures, years behind authors, ids of other programs."""
    hot = walk("v-1", "2026-07-12", place("SU 431 118"), "x")
    other = walk("walk-2026/7", "2026-07-13", place("SU 642 125", locality="Withy Pond, plot 12"), "x")
    taxon = seen("pale", "my-77", other.id, "x")
    taxon = taxon._replace(taxon=taxon.taxon._replace(authorship="(Fellman, 1899)"))
    files = published(tmp_path, [(hot, [seen("great", "s-1", "v-1", "x")]), (other, [taxon])])
    [row] = [row for row in files.occurrences if row["scientificName"] == "Tarnula pallida"][:1]
    assert (row["eventID"], row["occurrenceID"], row["locality"]) == ("walk-2026/7", "my-77", "Withy Pond, plot 12")
    assert row["scientificNameAuthorship"] == "(Fellman, 1899)"
    assert "name of the place" not in row["informationWithheld"].casefold()
    assert json.loads(row["dynamicProperties"])["viceCounty"] == "11"


def test_no_blurred_place_is_finer_than_was_asked_for(tmp_path: Path) -> None:
    """Where the county file would have let a tetrad be published."""
    with begun(tmp_path / "pond") as (ledger, ada, mint):
        hot = walk("v-1", "2026-07-12", place("SU 431 118"), "x")
        fill(ledger, [(hot, [seen("great", "s-1", "v-1", "x")])], ada, mint)
        for side, square in ((None, "SU41F"), ("1 km", "SU41F"), ("10 km", "SU41")):
            profile = ExportProfile(format=1, public=True, precision=side)
            export_season(ledger, asked(tmp_path / "all.csv", 2000, profile=profile))
            [row] = read_files(tmp_path / "all.csv").occurrences
            assert row["verbatimCoordinates"] == square


@pytest.mark.parametrize("text", ["9" * 5000, f"{'9' * 400}.5 {'8' * 400}.5", "1.5" * 2000, "\u0664\u0663", "SU" * 900])
def test_any_text_can_be_looked_at(text: str) -> None:
    """Numbers beyond all measure, too."""
    telling = Telling([("GB", 443, 111)])
    assert not telling.in_text(text)
    assert telling.in_text(f"SU \u0664\u0663 \u0661\u0661 {text}")


def test_a_figure_too_many_in_the_name_of_a_place_is_kept_back_and_said(tmp_path: Path) -> None:
    """Only where there is something to keep back at all."""
    other = walk("v-2", "2026-07-13", place("SU 642 125", locality="Pond 1977 B"), "x")
    pale = (other, [seen("pale", "s-2", "v-2", "x")])
    (tmp_path / "one").mkdir()
    (tmp_path / "two").mkdir()
    [row, _] = published(tmp_path / "one", [pale]).occurrences
    assert row["locality"] == "Pond 1977 B"
    hot = walk("v-1", "2026-07-12", place("SU 431 118"), "x")
    files = published(tmp_path / "two", [(hot, [seen("great", "s-1", "v-1", "x")]), pale])
    [row] = [row for row in files.occurrences if row["scientificName"] == "Tarnula pallida"][:1]
    assert (row["locality"], row["verbatimLocality"], row["verbatimCoordinates"]) == ("", "", "SU642125")
    assert row["informationWithheld"].startswith("Name of the place, remarks")
