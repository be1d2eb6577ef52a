"""The habitat goes out by the word that was typed for it, and comes back as the same record."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import pytest

AT = ("--place", "SU 431 118", "--date", "12 July 2025")
SHEET = "format: 1\nsheet:\n  columns: {Name: english name, Water: habitat, Id: id}\n"


def waters(path: Path, column: str = "habitat") -> list[str]:
    """The habitats of a file."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        return [row[column] for row in csv.DictReader(file)]


def kept(listed: Any) -> list[tuple[str, str]]:
    """What the ledger holds of each visit: as understood, and as typed."""
    return [(one["visit"].get("habitat", ""), one["visit"].get("habitat_typed", "")) for one in listed()]


@pytest.fixture
def exported(run: Any, tmp_path: Path) -> Any:
    """Export, and give the habitats."""

    def exporting(*options: str, to: str = "out.csv", column: str = "habitat") -> list[str]:
        ran = run("export", "--to", to, "--force", *options)
        assert ran.returncode == 0, ran.stderr
        return waters(tmp_path / to, column)

    return exporting


def test_the_word_that_was_typed_goes_out(owned: Any, listed: Any, exported: Any, tmp_path: Path) -> None:
    """By options, on the line of a visit, by a site; into Darwin Core, an archive, a sheet and a public version."""
    assert owned("sites", "add", "Withy Pond", "SU 452 131", "--habitat", "meadow").returncode == 0
    for words in (
        ("2 emperor", *AT, "--habitat", "ditch"),
        ("visit 13 July 2025 @ SU 431 118 habitat heath", "3 emperor"),
        ("visit 14 July 2025 @ SU 431 118 garden-pond", "4 emperor"),
        ('visit 15 July 2025 @ "Withy Pond"', "5 emperor"),
    ):
        ran = owned("log", *words)
        assert ran.returncode == 0, ran.stderr
    said = ["ditch", "heath", "garden pond", "meadow"]
    assert kept(listed) == [("fen", "ditch"), ("bog", "heath"), ("garden-pond", "garden pond"), ("away", "meadow")]
    assert exported() == exported("--for", "Tarn Fenwick") == said
    (tmp_path / "sheet.yaml").write_text(SHEET)
    assert exported("--profile", "sheet.yaml", column="Water") == said
    # In public only words of the program's: the titles of the key.
    titles = ["fen, ditch or grazing marsh", "bog, heath or moorland pool", "garden pond", "away from water"]
    assert sorted(exported("--public")) == sorted(titles)


def test_read_in_again_it_is_the_same_record(owned: Any, run: Any, listed: Any, exported: Any, tmp_path: Path) -> None:
    """Here and in another ledger, from our file, an archive, a dump and a merge; the same bytes go out again."""
    owned("log", "2 emperor", *AT, "--habitat", "ditch")
    exported()
    before = run("ledger", "dump").stdout
    for name in ("out.csv", "out.zip"):
        assert run("export", "--to", name, "--force").returncode == 0
        ran = run("ledger", "import", name, "--yes")
        assert (ran.returncode, run("ledger", "dump").stdout) == (0, before), ran.stdout
    other = {"REEDMACE_LEDGER": str(tmp_path / "other.ledger")}
    ran = run("ledger", "import", "out.csv", "--by", "Ada Marsh", env=other)
    assert ran.returncode == 0, ran.stderr
    assert run("export", "--to", "other.csv", env=other).returncode == 0
    assert (tmp_path / "other.csv").read_bytes() == (tmp_path / "out.csv").read_bytes()
    (tmp_path / "whole.txt").write_text(before, encoding="utf-8")
    third = {"REEDMACE_LEDGER": str(tmp_path / "third.ledger")}
    assert run("ledger", "restore", "whole.txt", env=third).returncode == 0
    assert run("ledger", "merge", "third.ledger").returncode == 0
    assert kept(listed) == [("fen", "ditch")]
    assert run("check", "out.csv").returncode == 0


def test_a_cell_that_was_corrected_is_told(owned: Any, run: Any, exported: Any, tmp_path: Path) -> None:
    """The exact fields do not hide it."""
    owned("log", "2 emperor", *AT, "--habitat", "ditch")
    exported()
    text = (tmp_path / "out.csv").read_text(encoding="utf-8")
    (tmp_path / "out.csv").write_text(text.replace(",ditch,", ",canal,"), encoding="utf-8")
    ran = run("ledger", "import", "out.csv", "--yes")
    assert "with another habitat" in (tmp_path / "out.csv.faults.csv").read_text(encoding="utf-8"), ran.stdout


def test_amending_says_it_by_the_new_word(owned: Any, run: Any, listed: Any, exported: Any) -> None:
    """And an empty value takes both away."""
    owned("log", "2 emperor", *AT, "--habitat", "ditch")
    visit = listed()[0]["visit_id"]
    for value, both, out in (("moor", ("bog", "moor"), "moor"), ("", ("", ""), "")):
        assert run("ledger", "amend", visit, f"habitat={value}", "--reason", "looked again").returncode == 0
        assert [*kept(listed), *exported()] == [both, out]


def test_another_word_for_the_habitat_of_the_visit_under_way_is_no_contradiction(owned: Any, listed: Any) -> None:
    """What was said first stays."""
    assert owned("visit", "start", "@ SU 431 118 habitat ditch").returncode == 0
    ran = owned("log", "visit habitat marsh", "2 emperor")
    assert ran.returncode == 0, ran.stderr
    assert kept(listed) == [("fen", "ditch")]


def test_a_visit_whose_word_was_not_kept_goes_out_by_the_keys_title(
    owned: Any, run: Any, listed: Any, exported: Any, tmp_path: Path
) -> None:
    """As those written by earlier versions; read in again it is the same record, and so is an earlier export."""
    owned("log", "2 emperor", *AT, "--habitat", "ditch")
    dumped = run("ledger", "dump").stdout
    older = dumped.replace('"habitat_typed": "ditch"', "").replace(", }", "}").replace(", ,", ",")
    assert older != dumped
    (tmp_path / "old.txt").write_text(older, encoding="utf-8")
    env = {"REEDMACE_LEDGER": str(tmp_path / "old.ledger")}
    ran = run("ledger", "restore", "old.txt", env=env)
    assert ran.returncode == 0, ran.stderr
    assert run("export", "--to", "old.csv", env=env).returncode == 0
    assert waters(tmp_path / "old.csv") == ["fen, ditch or grazing marsh"]
    before = run("ledger", "dump", env=env).stdout
    text = (tmp_path / "old.csv").read_text(encoding="utf-8")
    rows = list(csv.reader(text.splitlines()))
    at, exact = rows[0].index("habitat"), rows[0].index("dynamicProperties")
    rows[1][at] = "fen"
    properties = json.loads(rows[1][exact])
    del properties["exact"]["visit"]["habitat"]
    rows[1][exact] = json.dumps(properties)
    with (tmp_path / "earlier.csv").open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(rows)
    for name in ("old.csv", "earlier.csv"):
        ran = run("ledger", "import", name, "--yes", env=env)
        assert (ran.returncode, run("ledger", "dump", env=env).stdout) == (0, before), ran.stdout
