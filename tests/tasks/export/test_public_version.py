"""The public version: from no column of no file can the 1 km square of a sensitive sighting be read.

The issue: "no output, in any column or file, from which the 1 km square can be read (test by searching for it in
every spelling), nor by joining rows of the same visit: a visit that holds a sensitive sighting is blurred whole."
"""

from __future__ import annotations

import csv
import io
import re
import zipfile
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from checks.records_made import judged_by
from ledger.pond import NOON, begun, refused
from reedmace.checks.county import County, LocalSpecies
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, find_name
from reedmace.places.place import Place, read_place
from reedmace.places.squares import SIDES, square_at
from reedmace.records import Answer, Circumstances, Naming, Photo, PlaceRecord, Sighting, Site, Visit
from reedmace.tasks.export.profiles import ExportProfile
from reedmace.tasks.export.public_rows import initials
from reedmace.tasks.export.season import Asked, export_season
from reedmace.tasks.shared.taxa import taxon_of

TODAY = date(2026, 12, 31)
COUNTY = County("Harrowshire", species={"Mossopa grandis": LocalSpecies("Mossopa grandis", blur_m=10_000)})
SECRET = "SU 431 118"
KEYS: list[Key] = []


@pytest.fixture(scope="module", autouse=True)
def _key(tarn: Key) -> None:
    """The made key, kept aside: hypothesis would write it out for every example."""
    KEYS.append(tarn)


def place(typed: str, **more: Any) -> PlaceRecord:
    """A place as it would be recorded."""
    found = read_place(typed)
    assert isinstance(found, Place)
    metres = round(found.uncertainty_m) if found.uncertainty_m else None
    made = PlaceRecord(typed, found.system, found.square, found.side_m, *found.rounded(), metres)
    return made._replace(**{"vice_county": "11", "locality": "Sallow Farm pond", **more})


def seen(name: str, number: int, visit: str, **more: Any) -> Sighting:
    """A sighting that says where it was in every field that could."""
    found = find_name(KEYS[0], name)
    assert isinstance(found, FoundName)
    naming = Naming("tarn", "1", "d", "beginner", (Answer("a", SECRET),), Circumstances("", SECRET, ""), "open", SECRET)
    return Sighting(
        f"s-{SECRET.replace(' ', '')}-{number}" if visit.startswith("SU") else f"s-{number}",
        f"l-{number}",
        visit,
        taxon_of(KEYS[0], found)._replace(typed=f"{name} at {SECRET}"),
        naming,
        count_typed=SECRET,
        behaviour=("feeding", f"sat at {SECRET}"),
        qualifier=SECRET,
        photos=(Photo(f"/pictures/SU4311/{number}.jpg", "0f" * 32),),
        remarks=f"by the sluice, {SECRET}, Sallow Farm pond",
        typed=f"1 {name} at {SECRET} by Ada Marsh",
    )._replace(**more)


def visit(number: int, day: str, where: PlaceRecord, **more: Any) -> Visit:
    """A visit that does so too."""
    words = f"{SECRET} Sallow Farm pond"
    made = Visit(
        f"SU431118-{number}" if number == 1 else f"v-{number}",
        day,
        f"{day} at {words}",
        "10:00",
        "11:00",
        where,
        ("p-1",),
        f"Farm walk, {words}",
    )
    told = {"habitat": words, "weather": words, "method": words, "remarks": words, "typed": words}
    return made._replace(permission_noted=words, **told)._replace(**more)


def published(
    folder: Path, walks: list[tuple[Visit, list[Sighting]]], sites: tuple[Site, ...] = (), **more: Any
) -> dict[str, str]:
    """The files of the public archive of a ledger, and the rows' CSV beside it."""
    with begun(folder / "pond") as (ledger, ada, mint):
        for at, some in walks:
            own = tuple(ada if one == "p-1" else ledger.people.register("Moss Linley", mint) for one in at.observers)
            ledger.record_walk(
                at._replace(observers=own), [one._replace(determiner=ada) for one in some], ada, NOON, mint
            )
        for site in sites:
            ledger.put_site(site, "", ada, NOON, mint)
        profile = ExportProfile(format=1, public=True, **more)
        for name in ("public.zip", "public.csv"):
            grounds = judged_by(KEYS[0], COUNTY)
            export_season(ledger, Asked(None, folder / name, profile, TODAY, True, None, False, grounds))
    with zipfile.ZipFile(folder / "public.zip") as archive:
        files = {name: archive.read(name).decode() for name in archive.namelist()}
    assert files["occurrence.csv"] == (folder / "public.csv").read_text(encoding="utf-8")
    return files


def told(files: dict[str, str]) -> list[dict[str, str]]:
    """The rows."""
    return list(csv.DictReader(io.StringIO(files["occurrence.csv"], newline="")))


def spellings(typed: str) -> list[str]:
    """Every spelling that tells the 1 km square of a place, as patterns over text without blanks, in small letters."""
    found = read_place(typed)
    assert isinstance(found, Place)
    assert found.grid
    assert found.easting is not None
    assert found.northing is not None
    east, north = found.easting, found.northing
    patterns = [
        re.escape(square_at(found.grid, east, north, side).reference.casefold()) for side in SIDES if side < 5000
    ]
    # The digits of the square alone, with its letters left out, and eastings and northings in metres and kilometres.
    patterns += [
        rf"{int(east) // 1000 * 1000 // 100:04}[0-9]{{0,2}}[,/;|]+{int(north) // 100:05}",
        f"{int(east)}",
        f"{int(north)}",
    ]
    # Latitude together with longitude, to the hundredth of a degree, which is about a kilometre; decimal or in minutes.
    both = []
    for degrees in (found.latitude, found.longitude):
        whole, part = int(abs(degrees)), abs(degrees) % 1
        both.append(rf"(?:(?<![0-9.]){whole}\.{f'{part:.2f}'[2:]}|{whole}°0?{int(part * 60)}['′])")
    return [*patterns, rf"(?s)(?=.*{both[0]}).*{both[1]}"]


def gives_away(files: dict[str, str], typed: str) -> list[str]:
    """What of it stands in the files."""
    text = "\n".join(files.values())
    bare = re.sub(r"[ \-]", "", text.casefold())
    return [pattern for pattern in spellings(typed) if re.search(pattern, bare)]


def test_the_search_finds_what_there_is_to_find(tmp_path: Path) -> None:
    """An ordinary sighting's square stands in the public version: so the search can fail."""
    plain = visit(1, "2026-07-12", place("SU 437 111"))
    files = published(tmp_path, [(plain, [seen("pale", 1, plain.id)])])
    assert gives_away(files, "SU 437 111")
    assert not gives_away(files, "NN 112 224")


def test_a_visit_with_a_sensitive_sighting_is_blurred_whole(tmp_path: Path) -> None:
    """All its rows, all their words; ordinary sightings elsewhere stay as exact as they are."""
    hot = visit(1, "2026-07-12", place(SECRET))
    cold = visit(2, "2026-07-13", place("SU 447 131", locality="Withy Pond"))
    files = published(
        tmp_path,
        [
            (
                hot,
                [
                    seen("great", 1, hot.id),
                    seen("pale", 2, hot.id, place=place("SU 4319 1187")),
                    seen("misty", 3, hot.id),
                ],
            ),
            (cold, [seen("pale", 4, cold.id)]),
        ],
    )
    assert gives_away(files, SECRET) == []
    text = "\n".join(files.values()).casefold()
    for word in ("sallow", "sluice", "ada ", "marsh", "farm", "pictures", "0f0f", SECRET.casefold(), "su431118"):
        assert word not in text, word
    rows = told(files)
    mine = [row for row in rows if row["verbatimCoordinates"] == "SU41"]
    assert len(mine) == 3
    assert len({row["eventID"] for row in mine}) == 1
    for row in mine:
        assert row["dataGeneralizations"] == "Place given as the 10 km square that holds the whole visit"
        assert "name of the place" in row["informationWithheld"].casefold()
        assert row["recordedBy"] == "A. M. | a party"
        assert row["coordinateUncertaintyInMeters"] == "7079"
        assert [row[term] for term in ("eventTime", "locality", "habitat", "higherGeography", "fieldNotes")] == [""] * 5
        assert row["eventDate"] == "2026-07-12"
        assert "exact" not in row["dynamicProperties"]
    [other] = [row for row in rows if row not in mine]
    assert (other["verbatimCoordinates"], other["locality"]) == ("SU447131", "Withy Pond")
    assert other["behavior"] == "feeding"
    assert "remarks" in other["informationWithheld"].casefold()


@pytest.mark.parametrize(
    ("where", "day", "people", "blurred"),
    [
        (place("SU 434 112", locality="Long Pool"), "2025-06-01", ("p-2",), True),  # the same 1 km square
        (place("SU 439 119", locality="Sallow Farm Pond"), "2025-06-01", ("p-2",), True),  # the same name
        (place("51.0, -1.9", locality="sallow  farm pond"), "2025-06-01", ("p-2",), True),
        (place("SU 488 177", locality="Withy Pond"), "2026-07-12", ("p-2", "p-1"), True),  # the same day and person
        (place("SU 488 177", locality="Withy Pond"), "2026-07-13", ("p-1",), False),  # another day
        (place("SU 488 177", locality="Withy Pond"), "2026-07-12", ("p-2",), False),  # another person
        (place("SU 588 177", locality="Withy Pond"), "2026-07-12", ("p-1",), False),  # beyond the blurred square
    ],
)
def test_what_lies_beside_it_does_not_give_it_away(
    tmp_path: Path, where: PlaceRecord, day: str, people: tuple[str, ...], blurred: bool
) -> None:
    """Visits to the same place at any time, and those of the same person on that day."""
    hot, other = visit(1, "2026-07-12", place(SECRET)), visit(2, day, where, observers=people)
    files = published(tmp_path, [(hot, [seen("great", 1, hot.id)]), (other, [seen("pale", 2, other.id)])])
    assert gives_away(files, SECRET) == []
    [row] = [row for row in told(files) if row["scientificName"] == "Tarnula pallida"]
    assert ("Place given as" in row["dataGeneralizations"]) == blurred
    assert ("Withy" in row["locality"]) == (not blurred)


def test_a_visit_on_the_border_of_two_squares_goes_into_neither(tmp_path: Path) -> None:
    """Rows in two squares would say that the pond lies between."""
    hot = visit(1, "2026-07-12", place("SU 499 118"))
    files = published(tmp_path, [(hot, [seen("great", 1, hot.id), seen("pale", 2, hot.id, place=place("SU 501 118"))])])
    assert {row["verbatimCoordinates"] for row in told(files)} == {""}
    assert {row["decimalLatitude"] for row in told(files)} == {""}
    assert {row["dataGeneralizations"] for row in told(files)} == {"Place left out"}


def test_sites_of_the_register_are_kept_as_the_register_says(tmp_path: Path) -> None:
    """For the county recorder only: blurred. For nobody else: not there at all."""
    one, two = place("SU 437 111", locality="Long Pool"), place("SU 667 121", locality="Dark Mere")
    sites = (
        Site("site-1", "Long Pool", (), one, may_see="county recorder"),
        Site("site-2", "Dark Mere", (), two, may_see="nobody else"),
    )
    walks = [
        (visit(1, "2026-07-12", one._replace(site="site-1")), [seen("pale", 1, "SU431118-1")]),
        (visit(2, "2026-07-13", two), [seen("misty", 2, "v-2")]),
    ]
    files = published(tmp_path, walks, sites)
    assert [row["verbatimCoordinates"] for row in told(files)] == ["SU41"]
    text = "\n".join(files.values())
    assert "Long Pool" not in text
    assert "Dark Mere" not in text
    assert gives_away(files, "SU 437 111") == gives_away(files, "SU 667 121") == []


@pytest.mark.parametrize("name", ["Walks at Sallow Farm Pond", "SU4311 2026", "su 43 11", "Tetrad SU41F"])
def test_a_name_that_gives_the_place_away_is_refused(tmp_path: Path, name: str) -> None:
    """Of the dataset."""
    hot = visit(1, "2026-07-12", place(SECRET))
    with refused("public-name-tells"):
        published(tmp_path, [(hot, [seen("great", 1, hot.id)])], dataset=name)


@pytest.mark.parametrize(
    ("name", "tells"),
    [
        ("Sallow Farm 2026", True),
        ("sallow-farm", True),
        ("The old mill by the Farm Pond", False),
        ("Harrowmere walks", False),
        ("Harrowshire pond walks", False),
    ],
)
def test_a_part_of_a_places_name_gives_it_away_too(tmp_path: Path, name: str, tells: bool) -> None:
    """Two words that it has alone; a village's by itself, and what half of all ponds are called, do not."""
    hot = visit(1, "2026-07-12", place("SU 431 118", locality="Harrowmere, Sallow Farm pond"))
    walks = [(hot, [seen("great", 1, hot.id)])]
    if tells:
        with refused("public-name-tells"):
            published(tmp_path, walks, dataset=name)
    else:
        assert told(published(tmp_path, walks, dataset=name))


def test_no_finer_than_was_asked_for(tmp_path: Path) -> None:
    """For everybody, or for one recipient."""
    plain = visit(1, "2026-07-12", place("SU 437 111", locality="Withy Pond"))
    files = published(tmp_path, [(plain, [seen("pale", 1, plain.id)])], precision="1 km")
    [row] = told(files)
    assert (row["verbatimCoordinates"], row["dataGeneralizations"]) == ("SU4311", "Place no finer than 1 km")


def test_initials() -> None:
    """Of names of all kinds."""
    assert initials("Ada Marsh") == "A. M."
    assert initials("Éva-Lou de la Mare") == "É. L. D. L. M."
    assert initials("name removed") == "N. R."
    assert initials("(42)") == ""


squares = st.builds(
    lambda e, n, side: square_at("GB", e, n, side).reference,
    st.integers(300_000, 500_000),
    st.integers(100_000, 400_000),
    st.sampled_from([1, 10, 100, 1000]),
)


@settings(max_examples=25)
@given(squares, squares, st.booleans())
def test_of_any_square(one: str, other: str, position: bool) -> None:
    """Sensitive at one square, given as a reference or a position; an ordinary one elsewhere, on another day."""
    from tempfile import TemporaryDirectory

    found = read_place(one)
    assert isinstance(found, Place)
    typed = f"{found.latitude:.5f}, {found.longitude:.5f}" if position else one
    assume(square_at("GB", *_corner(one), 10_000) != square_at("GB", *_corner(other), 10_000))
    hot, cold = visit(1, "2026-07-12", place(typed)), visit(2, "2026-08-13", place(other, locality="Withy Pond"))
    walks = [(hot, [seen("great", 1, hot.id, remarks=one, typed=one)]), (cold, [seen("pale", 2, cold.id)])]
    # The middle of the 10 km square is what is published: a place there is not given away by it.
    assume(not all(30 <= metres % 10_000 // 100 < 70 for metres in _corner(one)))
    with TemporaryDirectory() as folder:
        files = published(Path(folder), walks)
    rows = told(files)
    text = "\n".join(",".join(value for value in row.values()) for row in rows if row["genus"] == "Mossopa")
    assert gives_away({"row": text, "eml": ""}, one) == []


def _corner(reference: str) -> tuple[float, float]:
    found = read_place(reference)
    assert isinstance(found, Place)
    assert found.easting is not None
    assert found.northing is not None
    return found.easting, found.northing
