"""Every row of the collected grid, datum and vice-county examples (each row names its own source)."""

from __future__ import annotations

import csv
import re
from math import hypot

import pytest

from reedmace.faults import Fault
from reedmace.places.datum import project, to_grid
from reedmace.places.grid import Square, parse_grid, square_reference
from reedmace.places.place import Place, read_place
from reedmace.places.position import Position, parse_position
from reedmace.places.vice_counties import find_vice_county
from reference import reference


def rows(name: str, kind: str | None = None) -> list:
    """Read the rows of a reference file as parameters; one skipped parameter where the file is absent."""
    try:
        path = reference(name)
    except pytest.skip.Exception as absent:
        return [pytest.param({}, marks=pytest.mark.skip(reason=str(absent)), id="absent")]
    with path.open(encoding="utf-8", newline="") as file:
        chosen = [row for row in csv.DictReader(file) if kind is None or row["kind"] == kind]
    assert chosen, f"{name} holds no rows of kind {kind}"
    return [pytest.param(row, id=ascii(row.get("input") or row.get("name") or "(empty)")) for row in chosen]


# What the file's reasons say, as our codes.
CODES = {
    "SI1234": "grid-letter-i",
    "SU123": "grid-odd-digits",
    "SU123456789012": "grid-too-many-digits",
    "SU12O": "grid-tetrad-o",
    "XX12": "grid-letters-unknown",
    "WV 65 47": "grid-channel-islands",
    "MC0316": "grid-outside",
    "SU1234A": "grid-suffix-needs-10km",
    "SU 12 34 56": "grid-three-groups",
    "SU12 SU13": "grid-two-references",
    "SU": "grid-too-coarse",
    "SU12ENE": "grid-suffix-unknown",
    "412500 134500": "grid-which-grid",
    "SUl234": "grid-letter-for-digit",
    "": "grid-empty",
    "SU-12-34": "grid-unexpected-characters",
    "-1.5, 52.5": "position-swapped",
    "52.08, 4.66": "position-sign",
    "91, -1.5": "position-beyond-range",
    "0, 0": "position-zero",
    "52,5, -1,5": "position-decimal-comma",
    "5_2.5, -1.5": "position-underscore",
    "5.25e1, -1.5": "position-exponent",
}


def first_number(text: str) -> float:
    """Find the metres in a tolerance such as "5.5 with Helmert"."""
    found = re.search(r"[0-9.]+", text)
    assert found
    return float(found[0])


@pytest.mark.parametrize("row", rows("grid_examples.csv", "parse"))
def test_a_reference_row(row):
    """Corner, size and uncertainty exactly; the centre within the tolerance stated for the shift."""
    square, place = parse_grid(row["input"]), read_place(row["input"])
    assert isinstance(square, Square)
    assert isinstance(place, Place)
    assert square.system == place.system == row["system"]
    assert (square.easting, square.northing) == (int(row["sw_easting"]), int(row["sw_northing"]))
    assert square.side_m == int(row["size_m"])
    assert square.typed == row["input"]
    assert place.centre_easting == float(row["centre_easting"])
    assert place.centre_northing == float(row["centre_northing"])
    assert place.uncertainty_m >= float(row["min_uncertainty_m"])
    # The file's centres were made with the surveyed shift; compare on the ground.
    metres = re.sub(r"^.*;", "", row["tol_m"])
    expected = to_grid(square.system, float(row["centre_lat"]), float(row["centre_lon"]))
    ours = to_grid(square.system, place.latitude, place.longitude)
    assert hypot(ours[0] - expected[0], ours[1] - expected[1]) <= first_number(metres)


@pytest.mark.parametrize("row", rows("grid_examples.csv", "refuse"))
def test_a_refusal_row(row):
    """Each is refused, under the code that says the file's own reason."""
    fault = parse_grid(row["input"])
    assert isinstance(fault, Fault)
    assert fault.code == CODES[row["input"]], row["reason_or_note"]
    assert isinstance(read_place(row["input"]), Fault)


@pytest.mark.parametrize("row", rows("grid_examples.csv", "latlon"))
def test_a_position_row(row):
    """Read or refused as the file says; where it leaves the choice, the reading must be right."""
    outcome = parse_position(row["input"])
    if row["input"] in CODES:
        assert row["result"].startswith("refuse")
        assert isinstance(outcome, Fault)
        assert outcome.code == CODES[row["input"]]
    else:
        assert row["result"].startswith("ok")
        assert isinstance(outcome, Position)
        assert outcome[1:3] in ((52.5, -1.5), (52.5, 1.5))
        assert (outcome.longitude < 0) == bool(re.search("-|W", row["input"]))


@pytest.mark.parametrize("row", rows("grid_examples.csv", "datum"))
def test_a_datum_row(row):
    """Within the stated metres of the surveyed point, and in the same 100 m square."""
    latitude, longitude = (float(part) for part in row["input"].split(","))
    easting, northing = float(row["sw_easting"]), float(row["sw_northing"])
    found = to_grid(row["system"], latitude, longitude)
    within = first_number(row["tol_m"].split(";")[-1].replace("0.01 with OSTN15", ""))
    assert hypot(found[0] - easting, found[1] - northing) <= within
    # The squares of the surveyed point, of every size the row names.
    sizes = {"10km": 10_000, "tetrad": 2_000, "1km": 1_000, "100m": 100, "10m": 10, "1m": 1}
    named = re.findall(r"(\w+) ([A-Z]{1,2}[0-9]+[A-Z]?)(?:;|$)", row["reason_or_note"])
    assert len(named) >= 5
    for size, square in named:
        assert square_reference(row["system"], easting, northing, sizes[size]) == square
    place = read_place(row["input"])
    assert isinstance(place, Place)
    assert place.square == dict(named)["100m"]


@pytest.mark.parametrize("row", rows("grid_examples.csv", "projection") + rows("grid_examples.csv", "helmert"))
def test_a_worked_row(row):
    """The guide's worked examples, degrees, minutes and seconds as printed."""
    numbers = [float(n) for n in re.findall(r"[0-9]+(?:\.[0-9]+)?", row["input"].split("(")[0])]
    latitude = numbers[0] + numbers[1] / 60 + numbers[2] / 3600
    longitude = (numbers[3] + numbers[4] / 60 + numbers[5] / 3600) * (-1 if "W" in row["input"] else 1)
    if row["kind"] == "projection":
        found = project("GB", latitude, longitude)
    else:
        found = to_grid("GB", latitude, longitude, numbers[6])
    expected = float(row["sw_easting"]), float(row["sw_northing"])
    assert found == pytest.approx(expected, abs=first_number(row["tol_m"]))


@pytest.mark.parametrize("row", rows("vice_counties.csv"))
def test_a_vice_county_row(row):
    """The same number and name as in the collected list."""
    assert find_vice_county(row["number"]) == find_vice_county(row["name"]) == (row["number"], row["name"])
