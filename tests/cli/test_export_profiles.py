"""What is kept about a recipient: by options, by a YAML file; and the filters."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import pytest

PROFILE = """\
format: 1
recipient: Tarn Fenwick
contact: tarn@example.org
licence: cc0
dataset: Harrowmere pond walks
choose:
  vice-counties: [11, H33]
  species: [Pale Rushlet, Great Boulderer]
columns: [occurrenceID, scientificName, license, datasetName]
"""


def read(path: Path) -> list[dict[str, str]]:
    """The rows of a file."""
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.fixture
def season(log: Any) -> Any:
    """Two places, a doubt, three species."""
    for written in (
        log("2m 3f pale", "3 misty", "1 great ?", "--vice-county", "11"),
        log("4 pale", "--locality", "Withy Pond"),
    ):
        assert written.returncode == 0, written.stderr
    return log


def test_filters_must_all_hold_and_one_of_several_values_must(season: Any, run: Any, tmp_path: Path) -> None:
    """Species, vice-county, certainty, place by square and by name, days."""

    def count(*options: str) -> int:
        ran = run("export", "--to", "one.csv", "--force", *options)
        assert ran.returncode == 0, ran.stderr
        return len(read(tmp_path / "one.csv"))

    assert count() == 5
    assert count("--vice-county", "South Hampshire") == 4
    assert count("--species", "pale rushlet") == 3
    assert count("--species", "pale rushlet", "--species", "Tarnula pallida") == 3
    assert count("--species", "misty rushlet", "--species", "great boulderer") == 2
    assert count("--species", "misty rushlet", "--species", "great boulderer", "--certainty", "certain") == 1
    assert count("--place", "SU41") == 5
    assert count("--place", "withy", "--place", "SU 431 118") == 5
    assert count("--place", "withy") == 1
    assert count("--since", "2025-07-13") == 0
    assert count("--since", "July 2025", "--until", "2025") == 5
    assert count("--status", "amended") == 0
    assert count("--status", "recorded") == 5


def test_a_spot_of_a_visit_is_looked_for_in_the_visits_vice_county(tarn_run: Any, owned: Any, tmp_path: Path) -> None:
    """Unless it says another; its row says no vice-county that nobody gave."""
    lines = ('visit 2025-07-12 @ SU 431 118 "Sallow Farm" vc 11', "1 great", '@ SU 432 118 "outflow"', "3 pale")
    assert tarn_run("log", *lines).returncode == 0

    def rows(*options: str) -> list[dict[str, str]]:
        ran = owned("export", "--to", "one.csv", "--force", *options)
        assert ran.returncode == 0, ran.stderr
        return read(tmp_path / "one.csv")

    found = {row["vernacularName"]: row["dynamicProperties"] for row in rows("--vice-county", "11")}
    assert set(found) == {"Great Boulderer", "Pale Rushlet"}
    assert '"viceCounty": "11"' in found["Great Boulderer"]
    assert "viceCountyName" not in found["Pale Rushlet"]
    assert len(rows("--place", "sallow farm")) == 2
    assert len(owned("ledger", "list", "--json", "--place", "SALLOW").stdout.splitlines()) == 2
    assert len(owned("ledger", "list", "--json", "--place", "outflow").stdout.splitlines()) == 1


def test_a_spot_that_states_a_vice_county_is_looked_for_in_that(tarn_run: Any, owned: Any, tmp_path: Path) -> None:
    """Whatever the visit's is."""
    head = "visit id,date,species,grid ref,locality,vc\n"
    spots = ("great boulderer,SU431118,Fen,11", "misty rushlet,SU433118,Fen,12", "pale rushlet,SU432118,Fen,")
    (tmp_path / "in.csv").write_text(head + "".join(f"v1,2025-07-12,{spot}\n" for spot in spots))
    ran = tarn_run("ledger", "import", "in.csv", "--yes")
    assert ran.returncode == 0, ran.stderr
    found = {}
    for county in ("11", "12"):
        assert owned("export", "--to", f"{county}.csv", "--vice-county", county).returncode == 0
        found[county] = {row["vernacularName"] for row in read(tmp_path / f"{county}.csv")}
    assert found == {"11": {"Great Boulderer", "Pale Rushlet"}, "12": {"Misty Rushlet"}}


def test_a_profile_of_options_is_kept_and_used_again(season: Any, run: Any, tmp_path: Path) -> None:
    """Under the recipient's name, in any case; what is typed later comes before what was kept."""
    first = run("export", "--to", "a.csv", "--for", "Tarn Fenwick", "--vice-county", "11", "--licence", "cc0", "--save")
    assert first.returncode == 0, first.stderr
    run("export", "--to", "b.csv", "--for", "TARN FENWICK")
    assert (tmp_path / "a.csv").read_bytes() == (tmp_path / "b.csv").read_bytes()
    assert {row["license"][-18:] for row in read(tmp_path / "a.csv")} == {"publicdomain/zero/1.0/"[-18:]}
    run("export", "--to", "c.csv", "--for", "Tarn Fenwick", "--species", "misty rushlet")
    assert len(read(tmp_path / "c.csv")) == 1
    assert run("export", "profiles").stdout == "Tarn Fenwick  csv or archive\n"
    kept = json.loads(run("export", "profiles", "Tarn Fenwick", "--json").stdout)
    assert kept == {"format": 1, "licence": "cc0", "choose": {"vice-counties": ["11"]}}


def test_a_profile_in_a_file_is_read_kept_and_shown_again(season: Any, run: Any, tmp_path: Path) -> None:
    """What is shown can be read again; contact details are in the register and nowhere else."""
    (tmp_path / "tarn.yaml").write_text(PROFILE)
    ran = run("export", "--to", "a.csv", "--profile", "tarn.yaml", "--save")
    assert ran.returncode == 0, ran.stderr
    assert len(read(tmp_path / "a.csv")) == 3
    assert list(read(tmp_path / "a.csv")[0]) == ["occurrenceID", "scientificName", "license", "datasetName"]
    assert "tarn@example.org" in run("people", "--contacts").stdout
    shown = run("export", "profiles", "tarn fenwick").stdout
    assert "tarn@example.org" not in shown
    (tmp_path / "again.yaml").write_text(shown)
    run("export", "--to", "b.csv", "--profile", "again.yaml")
    assert (tmp_path / "a.csv").read_bytes() == (tmp_path / "b.csv").read_bytes()


@pytest.mark.parametrize(
    ("change", "code"),
    [
        (("licence: cc0", "licence: mine"), "wrong-value"),
        (("dataset:", "datset:"), "unknown-field"),
        (("[11, H33]", "[11, H99]"), "wrong-value"),
        (("license, datasetName", "licence, datasetName"), "wrong-value"),
        (("format: 1", "format: 2"), "wrong-value"),
        (("format: 1\n", ""), "missing-field"),
        (("format: 1", "format: 1\nfile: sheet"), "wrong-value"),
    ],
)
def test_a_slip_in_a_profile_is_told_with_its_line(
    season: Any, run: Any, tmp_path: Path, change: Any, code: str
) -> None:
    """And nothing is written."""
    (tmp_path / "tarn.yaml").write_text(PROFILE.replace(*change))
    ran = run("export", "--to", "a.csv", "--profile", "tarn.yaml")
    assert (ran.returncode, ran.stdout) == (1, "")
    assert f": {code}" in ran.stderr
    assert "tarn.yaml:" in ran.stderr
    assert "hint: " in ran.stderr
    assert not (tmp_path / "a.csv").exists()


def test_what_cannot_be_asked_is_wrong_usage(season: Any, run: Any) -> None:
    """With a remedy."""
    for options in (
        ("--vice-county", "Atlantis"),
        ("--save",),
        ("--since", "yesterweek"),
    ):
        ran = run("export", "--to", "a.csv", *options)
        assert (ran.returncode, ran.stdout) == (2, ""), options
        assert "hint: " in ran.stderr
    assert run("export").returncode == 2
    assert "unknown-profile" in run("export", "profiles", "Nobody").stderr


def test_the_word_for_what_was_there_is_the_recipients(season: Any, run: Any, tmp_path: Path) -> None:
    """`present` as receivers know it, or `detected` as the list of 2026 has it; either comes in again."""
    (tmp_path / "fenwick.yaml").write_text(
        "format: 1\nrecipient: Tarn Fenwick\noccurrence-status: detected/notDetected\n", encoding="utf-8"
    )
    assert run("export", "--to", "a.csv").returncode == 0
    assert {row["occurrenceStatus"] for row in read(tmp_path / "a.csv")} == {"present"}
    # By a profile from a file, and by the same one kept; plain rows and others are written in different ways.
    for name in ("b.csv", "c.csv"):
        profile = ("--profile", "fenwick.yaml", "--save") if name == "b.csv" else ()
        ran = run("export", "--to", name, "--for", "Tarn Fenwick", *profile)
        assert ran.returncode == 0, ran.stderr
        assert {row["occurrenceStatus"] for row in read(tmp_path / name)} == {"detected"}
    ran = run("ledger", "import", "b.csv", "--yes", "--ledger", "other.ledger", "--by", "Ben Sallow")
    assert (ran.returncode, "5 sightings" in ran.stdout) == (0, True), ran.stderr


SHEET = """\
format: 1
sheet:
  columns: {Taxon: english name, Date: date, Grid ref: grid reference, Number: count, Comment: remarks}
  bands: {few: 1-9, another word: 10+}
"""


def test_a_saved_sheet_keeps_its_columns_in_the_order_wanted(season: Any, run: Any, tmp_path: Path) -> None:
    """Through the ledger, a dump, another copy of it; and the same wish is the same note."""
    order = "Taxon,Date,Grid ref,Number,Comment"
    (tmp_path / "ord.yaml").write_text(SHEET)

    def heads(*options: str) -> str:
        ran = run("export", "--to", "moss.csv", "--for", "Moss Linley", "--draft", "--force", *options)
        assert ran.returncode == 0, ran.stderr
        return (tmp_path / "moss.csv").read_text(encoding="utf-8-sig").splitlines()[0]

    assert heads("--profile", "ord.yaml", "--save") == order
    assert heads() == order
    assert list(json.loads(run("export", "profiles", "Moss Linley", "--json").stdout)["sheet"]["bands"]) == [
        "few",
        "another word",
    ]
    dumped = run("ledger", "dump").stdout
    assert heads("--save") == order
    assert run("ledger", "dump").stdout == dumped
    (tmp_path / "whole.jsonl").write_text(dumped)
    assert run("ledger", "restore", "whole.jsonl", "--ledger", "restored.ledger").returncode == 0
    assert heads("--ledger", "restored.ledger") == order
    run("people", "--me", "Ada Marsh", "--ledger", "merged.ledger")
    assert run("ledger", "merge", "restored.ledger", "--ledger", "merged.ledger").returncode == 0
    assert heads("--ledger", "merged.ledger") == order


def test_what_does_not_say_what_is_asked_for_is_told_when_it_is_left_out(
    season: Any, tarn_run: Any, run: Any, listed: Any, tmp_path: Path
) -> None:
    """On the screen with what to type, on the covering page, and as JSON; nothing where all of it says so."""
    visit = next(one["visit_id"] for one in listed() if one["locality"] == "Withy Pond")

    def told(*options: str) -> str:
        ran = run("export", "--to", "one.csv", "--force", *options)
        assert ran.returncode == 0, ran.stderr
        return str(ran.stderr)

    amend = f"reedmace ledger amend {visit[-12:]} vice-county=VC --reason WHY"
    said = f"1 record of 1 visit was left out, for it states no vice-county. Say it:  {amend}\n"
    assert told("--vice-county", "11") == said
    assert told("--vice-county", "11", "--species", "great boulderer") == ""
    assert told() == told("--season", "2025") == told("--place", "SU41") == told("--certainty", "certain") == ""
    # A profile that keeps it, a covering page, and other programs.
    assert said in told("--vice-county", "11", "--for", "Tarn Fenwick", "--save")
    ran = tarn_run(*("export", "--to", "two.csv", "--for", "Tarn Fenwick", "--cover", "c.md", "--json"))
    assert json.loads(ran.stdout)["unstated"] == {"vice-county": 1}
    page = (tmp_path / "c.md").read_text(encoding="utf-8")
    assert "- **Left out:** 1 record that states no vice-county; it follows once that is stated" in page
    assert "1 record of 1 visit" in told("--for", "Tarn Fenwick", "--since-last")
    assert run(*amend.replace("VC", "11").split()[1:]).returncode == 0
    assert told("--vice-county", "11") == ""
