"""County files: read from YAML or CSV, faults with their lines, and what they say comes before the key."""

from __future__ import annotations

from pathlib import Path

import pytest

from checks.records_made import LOWLAND, codes, queries, record, visit
from reedmace.checks.county import County, LocalSpecies, wider
from reedmace.checks.county_file import read_county
from reedmace.faults import Refused
from reedmace.keys.model import Key
from reedmace.terminal.fault_text import show_faults

YAML = """\
format: 1
county: Harrowshire
updated: 2026-03-01
vice_counties: [11, South Wiltshire]
squares: [SU, sz 08]
wants: 1 km
species:
  - name: Pale Rushlet
    status: scarce
    flight: {first: 20 May, last: late-july}
    photo: females
    blur: 2 km
    note: One colony.
  - {name: lone, status: vagrant}
"""
CSV = """\
species,status,first,last,photo,blur,note
# a remark of the county recorder's
Pale Rushlet,scarce,20 May,late-july,females,2 km,One colony.
lone,vagrant,,,,,
"""
PALE = LocalSpecies("Tarnula pallida", "scarce", ((5, 20), (7, 31)), "females", 2000, "One colony.")
LONE = LocalSpecies("Mossopa rara", "vagrant")


def write(folder: Path, text: str, name: str = "harrowshire.yaml") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def faults(path: Path, key: Key) -> str:
    with pytest.raises(Refused) as refused:
        read_county(path, key)
    return show_faults(refused.value.faults, colour=False)


def test_a_county_file_in_yaml(tarn: Key, tmp_path: Path) -> None:
    found = read_county(write(tmp_path, YAML), tarn)
    species = {"Tarnula pallida": PALE, "Mossopa rara": LONE}
    assert found == County("Harrowshire", "2026-03-01", ("11", "8"), ("SU", "SZ08"), 1000, species)


@pytest.mark.parametrize("text", [CSV, CSV.replace(",", ";"), "\ufeff" + CSV, CSV.replace("\n", "\r\n")])
def test_the_same_species_in_csv_as_a_spreadsheet_may_save_it(tarn: Key, tmp_path: Path, text: str) -> None:
    path = tmp_path / "north-harrowshire.csv"
    path.write_bytes(text.encode())
    found = read_county(path, tarn)
    assert found.name == "North Harrowshire"
    assert found.species == {"Tarnula pallida": PALE, "Mossopa rara": LONE}


def test_every_slip_is_told_at_its_own_line(tarn: Key, tmp_path: Path) -> None:
    """One slip never hides the others."""
    text = """\
format: 1
county: Harrowshire
vice_counties: [999]
squares: [SI]
species:
  - name: Pail Rushlet
    flight: {first: 31 June, last: mid-may}
  - name: pale
  - {name: Pale Rushlet, flight: {first: 3 June, last: 1 June}}
"""
    shown = faults(write(tmp_path, text), tarn)
    assert [line for line in shown.splitlines() if line.startswith("harrowshire.yaml")] == [
        "harrowshire.yaml:3:17: vice-county-unknown",
        "harrowshire.yaml:4:11: county-square",
        "harrowshire.yaml:7:21: county-day",
        "harrowshire.yaml:6:11: unknown-name",
        "harrowshire.yaml:9:56: flight-order",
        "harrowshire.yaml:9:12: duplicate-species",
    ]
    assert shown.count("hint: ") == 6


@pytest.mark.parametrize(
    ("first", "last", "flight"),
    [
        ("12 May", "3 July", ((5, 12), (7, 3))),
        ("12-May", "03-Jul", ((5, 12), (7, 3))),
        ("May 12", "July 3rd", ((5, 12), (7, 3))),
        ("12th of May", "late Sept", ((5, 12), (9, 30))),
        ("mid-may", "early-june", ((5, 11), (6, 10))),
        ("late May", "Mid Jul.", ((5, 21), (7, 20))),
        ("May", "September", ((5, 1), (9, 30))),
    ],
)
def test_days_as_people_and_spreadsheets_write_them(
    tarn: Key, tmp_path: Path, first: str, last: str, flight: object
) -> None:
    """A month is its first day, or its last where it ends the period."""
    path = tmp_path / "h.csv"
    path.write_text(f"species,first,last,status,blur\nPale Rushlet,{first},{last},Scarce,2km\n", encoding="utf-8")
    [local] = read_county(path, tarn).species.values()
    assert (local.flight, local.status, local.blur_m) == (flight, "scarce", 2000)


@pytest.mark.parametrize("day", ["31 June", "June 31", "ma", "j", "12/5", "middle of May", "32-May", "0 May"])
def test_what_is_no_day_or_could_be_two_is_asked_about(tarn: Key, tmp_path: Path, day: str) -> None:
    """12/5 is one day here and another one elsewhere."""
    path = tmp_path / "h.csv"
    path.write_text(f"species,first,last\nPale Rushlet,{day},October\n", encoding="utf-8")
    assert "county-day" in faults(path, tarn)


def test_a_slip_of_shape_has_its_line_and_what_would_be_right(tarn: Key, tmp_path: Path) -> None:
    shown = faults(write(tmp_path, YAML.replace("photo: females", "foto: females")), tarn)
    assert shown.startswith("harrowshire.yaml:11:5: unknown-field")
    assert "did you mean photo?" in shown


def test_a_slip_in_csv_has_line_and_column(tarn: Key, tmp_path: Path) -> None:
    shown = faults(write(tmp_path, CSV.replace("scarce", "scarse"), "h.csv"), tarn)
    assert shown.startswith("h.csv:3:14: wrong-value\n  3 | Pale Rushlet,scarse")
    shown = faults(write(tmp_path, CSV.replace("status", "state", 1), "h.csv"), tarn)
    assert shown.startswith("h.csv:1:1: unknown-field")
    shown = faults(write(tmp_path, CSV.replace("One colony.", "One, or two"), "h.csv"), tarn)
    assert "row-too-long" in shown


@pytest.mark.parametrize(
    ("content", "code"),
    [(b"\xff\xfe", "not-utf8"), (b"a: &b 1", "yaml-anchor"), (b"county: X", "missing-field"), (b"", "missing-field")],
)
def test_what_is_no_county_file_is_a_clear_fault(tarn: Key, tmp_path: Path, content: bytes, code: str) -> None:
    path = tmp_path / "h.yaml"
    path.write_bytes(content)
    shown = faults(path, tarn)
    assert code in shown
    assert "key file" not in shown


HERE = LOWLAND._replace(vice_county="11")
COUNTY = County("Harrowshire", "2026-03-01", ("11",), ("SU",), None, {})


def with_pale(**said: object) -> County:
    return COUNTY._replace(species={"Tarnula pallida": LocalSpecies("Tarnula pallida", **said)})  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("date", "said"),
    [
        ("2026-05-19", "note"),
        ("2026-05-09", "doubt"),
        ("2026-05-20", None),
        ("2026-07-31", None),
        ("2026-08-01", "note"),
    ],
)
def test_local_flight_dates_come_before_the_keys_and_say_so(tarn: Key, date: str, said: str | None) -> None:
    """Pale Rushlet flies mid-May to early September by the key."""
    found = queries(tarn, record(tarn, at=visit(date=date, place=HERE)), with_pale(flight=((5, 20), (7, 31))))
    assert [query.severity for query in found if query.code == "out-of-season"] == ([said] if said else [])
    if said:
        assert "here (county file of Harrowshire, 2026-03-01) 20 May to 31 July" in found[0].reason


@pytest.mark.parametrize(
    ("status", "said"),
    [
        ("absent", ["doubt out-of-range"]),
        ("lost", ["doubt out-of-range"]),
        ("vagrant", ["doubt vagrant-here"]),
        ("rare", ["note rare-here"]),
        ("scarce", []),
    ],
)
def test_local_status_comes_before_the_keys(tarn: Key, status: str, said: list[str]) -> None:
    found = queries(tarn, record(tarn, at=visit(place=HERE)), with_pale(status=status))
    assert [f"{query.severity} {query.code}" for query in found] == said
    assert all("county file of Harrowshire" in query.reason for query in found)


def test_a_species_the_key_has_not_here_may_be_common_by_the_county_file(tarn: Key) -> None:
    """Lone Boulderer is no lowland insect by the key."""
    county = COUNTY._replace(species={"Mossopa rara": LocalSpecies("Mossopa rara", "common", photo="never")})
    assert codes(tarn, record(tarn, "lone", at=visit(place=HERE)), county) == ["note protected"]


@pytest.mark.parametrize(
    ("photo", "sex", "asked"),
    [
        ("always", "male", True),
        ("males", "male", True),
        ("males", "female", False),
        ("males", None, True),
        ("females", "male", False),
        ("unsexed", None, True),
        ("unsexed", "female", False),
        ("never", "female", False),
    ],
)
def test_what_needs_a_photograph_here(tarn: Key, photo: str, sex: str | None, asked: bool) -> None:
    said = codes(tarn, record(tarn, sex=sex, at=visit(place=HERE)), with_pale(photo=photo))
    assert said == (["doubt evidence-wanted"] if asked else [])
    assert codes(tarn, record(tarn, sex=sex, evidence="photo", at=visit(place=HERE)), with_pale(photo=photo)) == []


def test_a_sensitive_species_says_how_far_to_blur(tarn: Key) -> None:
    (query,) = queries(tarn, record(tarn, at=visit(place=HERE)), with_pale(blur_m=2000))
    assert (query.severity, query.code) == ("note", "sensitive")
    assert "nothing finer than 2 km" in query.remedy


def test_the_county_file_keeps_silent_elsewhere(tarn: Key) -> None:
    """Another vice-county is another county recorder's; that it is elsewhere is told."""
    there = visit(place=LOWLAND._replace(vice_county="8"))
    assert codes(tarn, record(tarn, at=there), with_pale(status="absent", blur_m=1000)) == ["doubt outside-county"]


def test_a_square_outside_the_county_that_turned_round_lies_inside_looks_swapped(tarn: Key) -> None:
    county = COUNTY._replace(squares=("SU41",), vice_counties=())
    at = visit(place=LOWLAND._replace(square="SU118431"))
    (query,) = queries(tarn, record(tarn, at=at), county)
    assert query.code == "looks-swapped"
    assert query.remedy == "if easting and northing were swapped, write SU431118"


@pytest.mark.parametrize(
    ("square", "parts"),
    [
        ("SU431118", ("SU", "SU41")),
        ("SU43A", ("SU", "SU43")),
        ("SU43NE", ("SU", "SU43")),
        ("H1234", ("H", "H13")),
        ("?", ()),
    ],
)
def test_the_squares_a_square_lies_in(square: str, parts: tuple[str, ...]) -> None:
    assert wider(square) == parts


def test_what_the_county_recorder_wants_of_places(tarn: Key) -> None:
    at = visit(place=HERE._replace(square="SU4311", side_m=1000))
    assert codes(tarn, record(tarn, at=at), COUNTY) == ["note place-coarse"]
    assert codes(tarn, record(tarn, at=at), COUNTY._replace(wants_m=1000)) == []
