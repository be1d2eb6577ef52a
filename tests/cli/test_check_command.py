"""`reedmace check`: ledger and files, answers, explanations, county files and boundaries."""

from __future__ import annotations

import json
import shlex
from pathlib import Path

import pytest

HEADER = "occurrenceID,basisOfRecord,scientificName,eventDate,recordedBy,decimalLatitude,decimalLongitude,geodeticDatum"
GOOD = "a-1,HumanObservation,Tarnula pallida,2026-07-12,Ada Marsh,50.904600,-1.388500,EPSG:4326"


def codes(stdout: str) -> list[str]:
    return [json.loads(line)["code"] for line in stdout.splitlines()]


def test_a_query_that_was_answered_is_not_shown_again_until_the_record_changes(tarn_run, log, run) -> None:
    """The answer is an entry: who, when and why can be listed."""
    log("3 pale f")
    (asked,) = [json.loads(line) for line in tarn_run("check", "--json").stdout.splitlines()]
    assert asked["code"] == "evidence-wanted"
    short = asked["sighting"][-12:]
    assert short in tarn_run("check", "--ids").stdout
    assert short not in tarn_run("check").stdout
    done = tarn_run("check", "--answer", short, "evidence-wanted", "--reason", "two of us saw the collar")
    assert (done.returncode, done.stdout.startswith("Answered for Pale Rushlet, 2025-07-12:")) == (0, True)
    assert "1 record checked; no queries. 1 query answered before." in tarn_run("check").stdout
    assert tarn_run("check", "--strict").returncode == 0
    answered = tarn_run("check", "--answered").stdout
    assert "evidence-wanted: two of us saw the collar (Ada Marsh, " in answered
    log("3 pale f")  # the same again is a query of its own
    assert codes(tarn_run("check", "--json").stdout) == ["evidence-wanted", "written-twice"]


def test_the_remedy_for_a_sighting_written_twice_takes_back_that_one(tarn_run, log, run, listed) -> None:
    """As printed, whatever was logged last."""
    log("3 pale f")
    log("3 pale f")
    log("2 misty m")
    told = [json.loads(line) for line in tarn_run("check", "--json").stdout.splitlines()]
    (twice,) = [one for one in told if one["code"] == "written-twice"]
    remedy = shlex.split(twice["remedy"].partition(":  ")[2])
    assert remedy[0] == "reedmace"
    assert run(*remedy[1:]).returncode == 0
    assert [one["vernacular"] for one in listed()].count("Pale Rushlet") == 1
    assert twice["sighting"] not in [one["id"] for one in listed()]
    assert "Misty Rushlet" in [one["vernacular"] for one in listed()]


def test_an_answer_stands_only_for_the_record_it_was_given_for(tarn_run, log, run, tmp_path: Path) -> None:
    """Amended in between: it is asked again."""
    from reedmace.ledger.store import open_ledger

    log("3 pale f")
    (asked,) = [json.loads(line) for line in tarn_run("check", "--json").stdout.splitlines()]
    tarn_run("check", "--answer", asked["sighting"], "evidence-wanted", "--reason", "so it was")
    assert codes(tarn_run("check", "--json").stdout) == []
    with open_ledger(tmp_path / "walks.ledger") as ledger:
        sighting, _ = ledger.standing(asked["sighting"])
        person = ledger.people.me()
        ledger.amend(sighting._replace(count=4), "miscounted", person, "2026-07-12T10:00:00Z", lambda: "e-amend")
    assert codes(tarn_run("check", "--json").stdout) == ["evidence-wanted"]
    tarn_run("check", "--answer", asked["sighting"], "evidence-wanted", "--reason", "and again")
    assert codes(tarn_run("check", "--json").stdout) == []


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        (("nobody", "out-of-season", "--reason", "x"), "not-recorded"),
        (("", "out-of-season", "--reason", "x"), "not-recorded"),
        (("ID", "out-of-season", "--reason", "x"), "no-such-query"),
        (("ID", "evidence-wanted"), "reason-missing"),
        (("ID", "evidence-wanted", "--reason", " "), "reason-missing"),
    ],
)
def test_an_answer_to_nothing_is_refused(tarn_run, log, arguments: tuple[str, ...], code: str) -> None:
    log("3 pale f")
    (asked,) = [json.loads(line) for line in tarn_run("check", "--json").stdout.splitlines()]
    ran = tarn_run("check", "--answer", *(asked["sighting"] if one == "ID" else one for one in arguments))
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.startswith(code)
    assert tarn_run("check", "--answered").stdout == "No query was answered.\n"


def test_a_code_is_explained(run) -> None:
    said = run("check", "--why", "out-of-season").stdout
    assert said.startswith("out-of-season  (note, doubt)")
    assert json.loads(run("check", "--why", "DAY-INRANGE", "--json").stdout)["code"] == "day-inrange"
    slip = run("check", "--why", "out-of-seson")
    assert slip.returncode == 2
    assert "did you mean out-of-season or" in slip.stderr


def test_a_season_is_judged_by_the_years_before(tarn_run, owned) -> None:
    """New to the records in 2026; 2025 itself is not shown."""
    for line, day in (("1 pale m", "2025-07-12"), ("1 great m", "2026-07-12")):
        tarn_run("log", line, "--place", "SU 431 118", "--date", day)
    assert codes(tarn_run("check", "--season", "2026", "--json").stdout) == ["first-here"]
    assert codes(tarn_run("check", "--season", "2025", "--json").stdout) == []


def test_a_county_file_and_boundaries_come_in(tarn_run, owned, tmp_path: Path) -> None:
    (tmp_path / "h.csv").write_text("species,photo\nPale Rushlet,always\n", encoding="utf-8")
    ring = [[-1.0, 51.0], [-0.5, 51.0], [-0.5, 51.5], [-1.0, 51.0]]
    shape = {"type": "Feature", "properties": {"vc": 11}, "geometry": {"type": "Polygon", "coordinates": [ring]}}
    (tmp_path / "vc.geojson").write_text(json.dumps(shape), encoding="utf-8")
    tarn_run("log", "1 pale m", "--place", "SU 431 118", "--date", "2025-07-12", "--vice-county", "11")
    assert codes(tarn_run("check", "--json").stdout) == []
    assert codes(tarn_run("check", "--county", "h.csv", "--json").stdout) == ["evidence-wanted"]
    assert codes(tarn_run("check", "--boundaries", "vc.geojson", "--json").stdout) == ["vice-county-against-square"]
    for typed in (("--county", "none.yaml"), ("--boundaries", "none.json"), ("none.csv",)):
        ran = tarn_run("check", *typed)
        assert (ran.returncode, ran.stderr.split("\n")[0]) == (2, "file-cannot-read")
        assert f'you wrote: "{typed[-1]}"' in ran.stderr
    (tmp_path / "metres.json").write_text(json.dumps(shape).replace("-1.0", "431000"), encoding="utf-8")
    refused = tarn_run("check", "--boundaries", "metres.json")
    assert (refused.returncode, refused.stdout) == (1, "")
    assert "boundaries-not-degrees" in refused.stderr


@pytest.mark.parametrize(
    ("header", "row"),
    [
        (HEADER, GOOD),
        (HEADER.replace(",", "\t"), GOOD.replace(",", "\t")),
        (HEADER.replace(",", ";"), GOOD.replace(",", ";")),
        (HEADER.replace(",", "|"), GOOD.replace(",", "|")),
        ("\ufeff" + HEADER, GOOD),
        (",".join(f"dwc:{term}" for term in HEADER.split(",")), GOOD),
        (",".join(f"http://rs.tdwg.org/dwc/terms/{term}" for term in HEADER.split(",")), GOOD),
    ],
)
def test_any_darwin_core_csv_is_checked(tarn_run, tmp_path: Path, header: str, row: str) -> None:
    """With a good row nothing but the missing columns is told."""
    (tmp_path / "theirs.csv").write_text(f"{header}\n{row}\n", encoding="utf-8")
    ran = tarn_run("check", "theirs.csv", "--json")
    assert (ran.returncode, ran.stderr) == (0, "")
    assert codes(ran.stdout) == ["columns-missing"]


@pytest.mark.parametrize("encoding", ["cp1252", "utf-16", "utf-16-le", "utf-8-sig", "utf-8"])
def test_a_file_is_read_in_the_encoding_that_it_is_written_in(tarn_run, tmp_path: Path, encoding: str) -> None:
    """As `ledger import` reads it; that it is not UTF-8 is told once, for files of the standard are."""
    row = GOOD.replace("Ada Marsh", "Zoë Märsch").replace("2026-07-12", "2026-01-12")
    (tmp_path / "theirs.csv").write_bytes(f"{HEADER}\n{row}\n".encode(encoding))
    ran = tarn_run("check", "theirs.csv", "--json")
    said = codes(ran.stdout)
    assert (ran.returncode, ran.stderr, "out-of-season" in said) == (0, "", True)
    assert [code for code in said if code == "encoding-guessed"] == ["encoding-guessed"] * ("utf-8" not in encoding)


@pytest.mark.parametrize(
    ("name", "known"),
    [
        ("Tarnula pallida", True),
        ('"Tarnula pallida (Made, 1764)"', True),
        ("Tarnula pallida Made", True),
        ("Tarnula pallida/nebula", True),
        ("Tarnula", True),
        ("Tarnula inventa", False),
        ("Tarnula pallida/inventa", False),
        ("Turdus merula", False),
    ],
)
def test_a_name_that_the_key_has_is_known_with_its_author_and_another_is_told(
    tarn_run, tmp_path: Path, name: str, known: bool
) -> None:
    """Else a season or a range that was never looked at would look as if it were in order."""
    row = GOOD.replace("Tarnula pallida", name).replace("2026-07-12", "2026-01-12")
    (tmp_path / "theirs.csv").write_text(f"{HEADER}\n{row}\n", encoding="utf-8")
    said = codes(tarn_run("check", "theirs.csv", "--json").stdout)
    assert ("not-in-key" in said) != known, said
    assert ("out-of-season" in said) == (known and name != "Tarnula"), said


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (("2026-07-12", "2026-06-31"), ["date-impossible"]),
        (("2026-07-12", "2026-01-12"), ["out-of-season"]),
        (("Ada Marsh", ""), ["who-missing"]),
        (("Tarnula pallida", ""), ["scientificname-notempty", "what-missing"]),
        (("EPSG:4326", "WGS84"), ["geodeticdatum-standard"]),
        (("50.904600,-1.388500", "-1.388500,50.904600"), ["position-swapped", "square-without-land"]),
        (("50.904600,-1.388500", "51.5,7.3885"), ["position-sign"]),
        (("50.904600,-1.388500", "0,0"), ["coordinates-notzero"]),
        (("a-1,", ","), ["occurrenceid-notempty"]),
        (("EPSG:4326", "EPSG:4326,more"), ["row-misshapen"]),
    ],
)
def test_a_row_with_a_slip_says_which(tarn_run, tmp_path: Path, change: tuple[str, str], said: list[str]) -> None:
    (tmp_path / "theirs.csv").write_text(f"{HEADER}\n{GOOD.replace(*change)}\n", encoding="utf-8")
    found = set(codes(tarn_run("check", "theirs.csv", "--json").stdout))
    assert set(said[:1]) <= found
    assert found <= {*said, "columns-missing"}


MORE = "individualCount,occurrenceStatus,verbatimCoordinates"


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ("3,present,SU 431 118", []),
        ("3.0,,SU4310011800", []),
        ("-2,present,", ["count-no-number"]),
        ("2-5,present,", ["count-no-number"]),
        ("1.5,present,", ["count-no-number"]),
        ("0,present,", ["count-against-status"]),
        ("0,,", ["count-against-status"]),
        ("3,absent,", ["count-against-status"]),
        ("0,absent,", []),
        (f"{'9' * 5000},present,", []),
        ("3,present,SU 531 118", ["place-differs"]),
        ("3,present,the old mill", []),
    ],
)
def test_counts_and_places_that_cannot_be_are_told(tarn_run, tmp_path: Path, more: str, said: list[str]) -> None:
    """A number that is none, nothing that was there, and two places in one row."""
    (tmp_path / "theirs.csv").write_text(f"{HEADER},{MORE}\n{GOOD},{more}\n", encoding="utf-8")
    ran = tarn_run("check", "theirs.csv", "--json")
    assert (ran.returncode, ran.stderr) == (0, "")
    found = codes(ran.stdout)
    assert [code for code in found if code not in ("columns-missing", "occurrencestatus-notempty")] == said


def test_of_what_was_not_there_it_is_not_asked_whether_it_is_likely(tarn_run, tmp_path: Path) -> None:
    """Nor is it shown as present."""
    row = GOOD.replace("2026-07-12", "2026-01-12").replace("a-1", "a-2")
    (tmp_path / "theirs.csv").write_text(f"{HEADER},{MORE}\n{row},0,absent,\n", encoding="utf-8")
    assert codes(tarn_run("check", "theirs.csv", "--json").stdout) == ["columns-missing"]
    (tmp_path / "theirs.csv").write_text(f"{HEADER},{MORE}\n{row},3,absent,\n", encoding="utf-8")
    assert "Tarnula pallida, 0, 2026-01-12" in tarn_run("check", "theirs.csv").stdout


@pytest.mark.parametrize("content", [b"Species,Date\npale,2026-07-12\n", b"Art,Ort\nblass,M\xfchle\n"])
def test_another_sheet_is_shown_the_way_in(tarn_run, tmp_path: Path, content: bytes) -> None:
    """Into a ledger of its own, where it is checked like any."""
    (tmp_path / "theirs.csv").write_bytes(content)
    ran = tarn_run("check", "theirs.csv")
    assert "reedmace ledger import theirs.csv --ledger trial.ledger" in ran.stderr


def test_the_same_row_twice_is_told(tarn_run, tmp_path: Path) -> None:
    (tmp_path / "theirs.csv").write_text(f"{HEADER}\n{GOOD}\n{GOOD}\n", encoding="utf-8")
    assert codes(tarn_run("check", "theirs.csv", "--json").stdout)[1:] == ["id-twice"]
    assert tarn_run("check", "theirs.csv", "--strict").returncode == 1


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "not-darwin-core"),
        (b"a,b\n1,2\n", "not-darwin-core"),
        (b"eventDate,eventDate\n1,2\n", "column-twice"),
        (b'eventDate,sex\n"2026,male\n', "not-csv"),
        (b"eventDate\n\xff\n", ""),
        (b"eventDate\n\x81\xff\n", "not-utf8"),
        (b"eventDate\n" + b"9" * 2_000_000, "not-csv"),
        (b"eventDate,sex\n\x00,\n", ""),
    ],
)
def test_what_is_no_such_file_is_a_clear_fault(tarn_run, tmp_path: Path, content: bytes, code: str) -> None:
    (tmp_path / "theirs.csv").write_bytes(content)
    ran = tarn_run("check", "theirs.csv")
    assert "Traceback" not in ran.stderr
    if code:
        assert ran.returncode == 1
        assert code in ran.stderr
        assert "hint: " in ran.stderr


def test_our_own_export_meets_the_published_validations(tarn_run, log, run) -> None:
    """Nothing but what only a name service could fill in."""
    log("12 pale m", "3 cop pale", "2 great f")
    assert run("export", "--season", "2025", "--to", "out.csv").returncode == 0
    assert codes(tarn_run("check", "out.csv", "--json").stdout) == ["columns-missing"]


@pytest.mark.parametrize(
    ("latitude", "metres", "square"),
    [("50.90", "", "SU4211\n"), ("50.90", "20", "SU429113\n"), ("50.904600", "", "SU430118\n")],
)
def test_a_position_is_in_no_finer_a_square_than_it_was_written(
    tarn_run, tmp_path: Path, latitude: str, metres: str, square: str
) -> None:
    """As in the ledger; a row that says how exact it is, is believed."""
    row = GOOD.replace("50.904600", latitude).replace("-1.388500", "-1.39" if latitude == "50.90" else "-1.388500")
    row = row.replace("2026-07-12", "2026-01-12")
    text = f"{HEADER},coordinateUncertaintyInMeters\n{row},{metres}\n"
    (tmp_path / "theirs.csv").write_text(text, encoding="utf-8")
    assert f", {square}" in tarn_run("check", "theirs.csv").stdout
