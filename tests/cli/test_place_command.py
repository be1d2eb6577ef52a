"""`reedmace place`: what a reference means, and what is said of one that means nothing."""

from __future__ import annotations

import json

import pytest


def test_a_reference_is_told_in_a_few_lines(tarn_run) -> None:
    """With or without quotes and spaces, the same square."""
    whole = tarn_run("place", "SU431118").stdout
    apart = tarn_run("place", "SU", "431", "118").stdout
    assert "SU431118" in whole
    assert "100" in whole
    assert "lowland" in whole
    assert whole.splitlines()[1:] == apart.splitlines()[1:]


def test_a_position_with_a_sign_is_no_option(tarn_run) -> None:
    """A western longitude begins with a minus."""
    for words in (("51.0641,", "-1.3142"), ("51.0641, -1.3142",), ("-1.3142", "51.0641")):
        ran = tarn_run("place", *words)
        assert "Traceback" not in ran.stderr
        assert "No such option" not in ran.stderr
    assert "51.0641" in tarn_run("place", "51.0641,", "-1.3142").stdout


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("SU 43111", "grid-odd-digits"),
        ("SU 431 1180", "grid-unequal-groups"),
        ("ZZ 431 118", "grid-letters-unknown"),
        ("I 12 34", "grid-letter-i"),
        ("91.5, 0", ""),
        ("nan, nan", ""),
        ("inf, 1_0", ""),
        ("٥١.٠, -١.٣", ""),
        ("", ""),
        ("\x1b[31m", ""),
        ("SU 431 118 " * 200, ""),
    ],
)
def test_a_reference_that_means_nothing_is_a_fault_with_a_remedy(tarn_run, typed: str, code: str) -> None:
    """Exit code 2, in words or as JSON; never a traceback, never an escape sequence back."""
    plain = tarn_run("place", typed)
    assert (plain.returncode, plain.stdout) == (2, "")
    assert "hint: " in plain.stderr
    assert "\x1b" not in plain.stderr
    if code:
        assert plain.stderr.startswith(code)
    told = tarn_run("place", typed, "--json")
    assert told.returncode == 2
    assert json.loads(told.stdout)["fault"]["hint"]


@pytest.mark.parametrize(
    ("typed", "latitude", "longitude"),
    [
        ("50.9046, -1.3885", 50.9046, -1.3885),
        ("50.9046N 1.3885W", 50.9046, -1.3885),
        ("N50.9046 W1.3885", 50.9046, -1.3885),
        ("50°54'16.56\"N 1°23'18.6\"W", 50.9046, -1.3885),
        ("50 54.276 N, 1 23.31 W", 50.9046, -1.3885),
        ("50° 54.276' N 1° 23.31' W", 50.9046, -1.3885),
        ("lat 50.9046, lon -1.3885", 50.9046, -1.3885),
    ],
)
def test_latitude_and_longitude_in_the_usual_spellings(tarn_run, typed: str, latitude: float, longitude: float) -> None:
    """Decimal, degrees and minutes, degrees, minutes and seconds; letters before or after."""
    told = json.loads(tarn_run("place", typed, "--json").stdout)
    assert (told["latitude"], told["longitude"]) == pytest.approx((latitude, longitude), abs=1e-6)
    assert told["wider"]["one_km"] == "SU4311"


def test_the_larger_squares_are_said_where_one_holds_it(tarn_run) -> None:
    """A tetrad in the middle of its 10 km square lies in several quarters."""
    whole = json.loads(tarn_run("place", "SU 431 118", "--json").stdout)
    assert whole["wider"] == {"ten_km": "SU41", "five_km": "SU41SW", "tetrad": "SU41F", "one_km": "SU4311"}
    middle = json.loads(tarn_run("place", "SU41M", "--json").stdout)
    assert middle["wider"] == {"ten_km": "SU41"}


@pytest.mark.parametrize("typed", ["11", "VC11", "S. Hants", "South Hampshire", "vc 11 South Hampshire"])
def test_a_vice_county_by_number_or_name(tarn_run, typed: str) -> None:
    told = json.loads(tarn_run("place", typed, "--json").stdout)
    assert (told["vice_county"], told["vice_county_name"]) == ("11", "South Hampshire")


def test_an_irish_vice_county_that_is_a_square_too_says_so(tarn_run) -> None:
    told = json.loads(tarn_run("place", "H21", "--json").stdout)
    assert (told["square"], told["also"]) == ("H21", "vice-county H21 Dublin")


def test_a_site_is_known_by_its_names(tarn_run, owned) -> None:
    arguments = ("--also", "the farm pond", "--vice-county", "11", "--may-see", "county recorder", "--habitat", "tarn")
    assert tarn_run("sites", "add", "Sallow Farm pond", "SU 431 118", *arguments).returncode == 0
    for name in ("Sallow Farm pond", "the  FARM pond"):
        told = json.loads(tarn_run("place", name, "--json").stdout)
        assert (told["square"], told["site"], told["vice_county"]) == ("SU431118", "Sallow Farm pond", "11")
        assert (told["may_see"], told["habitat"]) == ("county recorder", "tarn")
    assert "for the county recorder only" in owned("sites").stdout


def test_what_a_check_would_ask_is_said_and_nothing_is_refused(tarn_run, tmp_path) -> None:
    """The made key knows land in three squares only."""
    ran = tarn_run("place", "TQ 300 800")
    assert ran.returncode == 0
    assert "doubt square-without-land: TQ300800 lies in TQ" in ran.stdout
    (tmp_path / "h.yaml").write_text("format: 1\ncounty: Harrowshire\nsquares: [SU41]\n", encoding="utf-8")
    told = json.loads(tarn_run("place", "SU 118 431", "--county", "h.yaml", "--json").stdout)
    assert [query["code"] for query in told["queries"]] == ["looks-swapped"]
    assert "SU431118" in told["queries"][0]["remedy"]
    assert "queries" not in json.loads(tarn_run("place", "SU 431 118", "--county", "h.yaml", "--json").stdout)


def test_boundaries_say_what_holds_it_and_what_it_reaches(tarn_run, tmp_path) -> None:
    def shape(west: float, east: float, **properties: object) -> dict[str, object]:
        ring = [[west, 50.5], [east, 50.5], [east, 51.5], [west, 51.5], [west, 50.5]]
        return {"type": "Feature", "properties": properties, "geometry": {"type": "Polygon", "coordinates": [ring]}}

    features = [shape(-2, -1.3871, vc=11), shape(-1.3871, -1, name="Harrowmere")]
    (tmp_path / "b.geojson").write_text(json.dumps({"type": "FeatureCollection", "features": features}), "utf-8")
    told = json.loads(tarn_run("place", "SU 431 118", "--boundaries", "b.geojson", "--json").stdout)
    assert told["inside"] == ["VC11 South Hampshire"]
    assert told["perhaps_inside"] == ["Harrowmere"]
    assert told["vice_county"] == "11"
