"""What went to whom: only what is new, changed or withdrawn goes again, and any submission can be made once more."""

from __future__ import annotations

import csv
import hashlib
import json
import zipfile
from pathlib import Path
from typing import Any

import pytest

TARN = ("--for", "Tarn Fenwick")


def read(path: Path) -> dict[str, dict[str, str]]:
    """The rows of a file, by occurrenceID."""
    with path.open(encoding="utf-8", newline="") as file:
        return {row["occurrenceID"]: row for row in csv.DictReader(file)}


def told(row: dict[str, str]) -> tuple[str, str]:
    """What has become of a record, and the note on it."""
    properties = json.loads(row["dynamicProperties"])
    return properties.get("change", ""), properties.get("changeNote", "")


@pytest.fixture
def sent(log: Any, run: Any, listed: Any) -> dict[str, str]:
    """Three records sent to Tarn Fenwick; gives their ids by name."""
    log("2m pale", "3 misty", "1 great")
    assert run("export", "--to", "first.csv", *TARN).returncode == 0
    return {one["vernacular"]: one["id"] for one in listed()}


def test_only_news_goes_and_says_so_row_by_row(
    sent: dict[str, str], log: Any, tarn_run: Any, run: Any, tmp_path: Path
) -> None:
    """A withdrawn, an amended and a redetermined record keep their id and tell what changed."""
    first = read(tmp_path / "first.csv")
    assert {told(row) for row in first.values()} == {("", "")}
    nothing = run("export", "--to", "none.csv", *TARN, "--since-last")
    assert nothing.stdout.startswith("Nothing is new, changed or withdrawn since 20")
    assert not (tmp_path / "none.csv").exists()

    log("5 pale f")
    for command in (
        ("withdraw", sent["Great Boulderer"], "--reason", "it was a leaf"),
        ("redetermine", sent["Misty Rushlet"], "--name", "pale rushlet", "--reason", "photo shows the costa"),
        ("amend", sent["Pale Rushlet"], "count=4", "--reason", "counted again"),
    ):
        ran = (tarn_run if command[0] == "redetermine" else run)("ledger", *command)
        assert ran.returncode == 0, ran.stderr
    ran = run("export", "--to", "second.csv", *TARN, "--since-last")
    assert ran.stdout == "4 records written to second.csv (1 new, 2 changed, 1 withdrawn)\n"
    second = read(tmp_path / "second.csv")
    assert set(sent.values()) < set(second)
    gone = second[sent["Great Boulderer"]]
    assert told(gone) == ("withdrawn", "it was a leaf")
    assert gone["occurrenceRemarks"].startswith("Withdrawn on 20")
    assert "it was a leaf" in gone["occurrenceRemarks"]
    # Nobody who overlooks these words takes it for a sighting.
    assert [gone[term] for term in ("occurrenceStatus", "individualCount", "decimalLatitude", "recordedBy")] == [""] * 4
    named = second[sent["Misty Rushlet"]]
    assert told(named)[0] == "changed"
    assert "Misty Rushlet" in told(named)[1]
    assert "reason: photo shows the costa" in told(named)[1]
    assert named["previousIdentifications"].startswith("Tarnula")
    assert named["scientificName"] == "Tarnula pallida"
    assert told(second[sent["Pale Rushlet"]]) == ("changed", "count: 2, now 4; reason: counted again")
    assert [change for change, _ in map(told, second.values())].count("new") == 1
    assert run("export", "--to", "third.csv", *TARN, "--since-last").stdout.startswith("Nothing is new")
    # Somebody else has got nothing yet.
    ran = run("export", "--to", "other.csv", "--for", "Moss Linley", "--since-last")
    assert ran.stdout == "3 records written to other.csv (3 new)\n"


def test_a_submission_made_again_is_byte_identical(
    sent: dict[str, str], log: Any, tarn_run: Any, run: Any, tmp_path: Path
) -> None:
    """Whatever happened since; of files and of archives, whole or in part."""
    log("5 pale f")
    tarn_run("ledger", "redetermine", sent["Misty Rushlet"], "--name", "pale rushlet", "--reason", "photo")
    assert run("export", "--to", "second.zip", *TARN, "--since-last").returncode == 0
    run("ledger", "withdraw", *sent.values(), "--reason", "all leaves")
    assert run("export", "--to", "third.csv", *TARN, "--since-last").returncode == 0
    run("ledger", "reinstate", *sent.values(), "--reason", "no, they were right")
    log("7 pale f")
    assert run("export", "--to", "fourth.csv", *TARN, "--since-last").returncode == 0
    run("ledger", "amend", sent["Pale Rushlet"], "count=9", "--reason", "counted again")
    for number, name in enumerate(("first.csv", "second.zip", "third.csv", "fourth.csv"), 1):
        again = tmp_path / f"again{number}{name[-4:]}"
        ran = run("export", "--to", again.name, *TARN, "--again", str(number))
        assert (ran.returncode, ran.stderr) == (0, ""), ran.stderr
        assert again.read_bytes() == (tmp_path / name).read_bytes()
        assert "the same bytes as were sent" in ran.stdout
    log_lines = [json.loads(line) for line in run("export", "log", "--json").stdout.splitlines()]
    assert [line["number"] for line in log_lines] == [1, 2, 3, 4]
    for line in log_lines:
        assert line["sha256"] == hashlib.sha256((tmp_path / line["file"]).read_bytes()).hexdigest()
    with zipfile.ZipFile(tmp_path / "second.zip") as archive:
        assert len(archive.read("occurrence.csv").splitlines()) == 3


def test_a_file_of_another_kind_is_not_made_again(sent: dict[str, str], run: Any, tmp_path: Path) -> None:
    """It says how it was sent, and writes nothing."""
    run("export", "--to", "second.zip", *TARN)
    for number, to, ending in (("1", "x.zip", ".csv"), ("2", "x.csv", ".zip"), ("2", "x.txt", ".zip")):
        ran = run("export", "--to", to, *TARN, "--again", number)
        assert (ran.returncode, ran.stdout) == (2, "")
        assert "export-format" in ran.stderr
        assert f"It was sent as a {ending} file" in ran.stderr
        assert f"hint: name it  x{ending}" in ran.stderr
        assert not (tmp_path / to).exists()


def test_a_receipt_is_for_what_the_list_of_submissions_shows(sent: dict[str, str], run: Any) -> None:
    """An id or its end, a file, a digest's beginning, a number that only one recipient has."""
    run("export", "--to", "second.zip", *TARN)
    run("export", "--to", "other.csv", "--for", "Moss Linley")
    submissions = [json.loads(line) for line in run("export", "log", "--json").stdout.splitlines()]
    first = next(one for one in submissions if one["file"] == "first.csv")
    second = next(one for one in submissions if one["file"] == "second.zip")

    def receipt(typed: str) -> Any:
        return run("reply", "--receipt", typed, "--loaded", "3", "--of", "3", "--json")

    for columns in ("60", "100"):
        shown = run("export", "log", env={"COLUMNS": columns}).stdout
        line = next(line for line in shown.splitlines() if "second.zip" in line)
        assert json.loads(receipt(line.split()[-1]).stdout)["submission"] == second["id"]
    for typed in (second["id"], second["id"][-9:].upper(), "2", "SECOND.ZIP", second["sha256"][:12]):
        assert json.loads(receipt(typed).stdout)["submission"] == second["id"], typed
    ran = receipt("1")
    assert (ran.returncode, "ambiguous-id" in ran.stderr) == (2, True)
    assert f"{first['id'][-12:]} (Tarn Fenwick 1)" in " ".join(ran.stderr.split())
    assert "(Moss Linley 1)" in " ".join(ran.stderr.split())
    # The end of an id is four signs or more: fewer could be a number that nobody has.
    for typed in ("3", f"…{second['id'][-3:]}", "none.csv", "…", second["sha256"][:5] + "zz"):
        assert "unknown-submission" in receipt(typed).stderr


def test_the_same_again_is_no_new_submission(sent: dict[str, str], run: Any, tmp_path: Path) -> None:
    """A draft is none either, nor what is for nobody in particular."""
    for options in (TARN, (*TARN, "--draft"), ()):
        assert run("export", "--to", "again.csv", "--force", *options).returncode == 0
    assert (tmp_path / "again.csv").read_bytes() == (tmp_path / "first.csv").read_bytes()
    assert len(run("export", "log", "--json").stdout.splitlines()) == 1


def test_a_record_that_moved_out_of_the_choice_is_told_of(
    sent: dict[str, str], log: Any, tarn_run: Any, run: Any, tmp_path: Path
) -> None:
    """Its recipient holds it as it was."""
    log("2 pale", "--vice-county", "12", "--locality", "Withy Pond")
    assert run("export", "--to", "a.csv", "--for", "Moss Linley", "--vice-county", "12").returncode == 0
    [mine] = read(tmp_path / "a.csv")
    ran = run(
        "ledger", "amend", read(tmp_path / "a.csv")[mine]["eventID"], "vice-county=11", "--reason", "beyond the stream"
    )
    assert ran.returncode == 0, ran.stderr
    run("export", "--to", "b.csv", "--for", "Moss Linley", "--vice-county", "12", "--since-last")
    assert {name: told(row)[0] for name, row in read(tmp_path / "b.csv").items()} == {mine: "changed"}


def test_withdrawn_rows_come_to_no_record_when_read_in_again(
    sent: dict[str, str], tarn_run: Any, run: Any, listed: Any
) -> None:
    """And the others do."""
    run("ledger", "withdraw", sent["Great Boulderer"], "--reason", "a leaf")
    run("ledger", "amend", sent["Pale Rushlet"], "count=4", "--reason", "again")
    run("export", "--to", "b.csv", *TARN, "--since-last")
    ran = tarn_run("ledger", "import", "b.csv", "--yes", "--ledger", "other.ledger", "--by", "Ada Marsh")
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert [one["id"] for one in listed("--ledger", "other.ledger")] == [sent["Pale Rushlet"]]


def test_a_receiver_is_told_which_records_to_take_out(
    sent: dict[str, str], tarn_run: Any, run: Any, listed: Any
) -> None:
    """Whether they stand there or not, and nothing is done before she does it; no check asks more of such rows."""
    run("ledger", "withdraw", sent["Great Boulderer"], "--reason", "a leaf")
    run("export", "--to", "b.csv", *TARN, "--since-last")
    there = ("--yes", "--ledger", "other.ledger", "--by", "Ada Marsh")
    asks = "1 row asks that a record be taken out"
    early = tarn_run("ledger", "import", "b.csv", *there)
    assert early.stdout.splitlines()[1:] == [f"{asks}; none of these stands in this ledger."]
    assert tarn_run("ledger", "import", "first.csv", *there).returncode == 0
    ran = tarn_run("ledger", "import", "b.csv", *there)
    assert ran.stdout.splitlines()[1:] == [
        f"{asks}:",
        '  reedmace ledger withdraw ID --reason "..."',
        "  In this ledger stands:",
        f"    {sent['Great Boulderer']}",
    ]
    told = json.loads(tarn_run("ledger", "import", "b.csv", *there, "--json").stdout)
    assert (told["withdrawals"], told["to_withdraw"], told["left_out"]) == (1, [sent["Great Boulderer"]], 0)
    assert sent["Great Boulderer"] in [one["id"] for one in listed("--ledger", "other.ledger")]
    checked = tarn_run("check", "b.csv")
    assert checked.returncode == 0, checked.stderr
    assert "1 record checked; no queries." in checked.stdout


def test_the_log_on_a_narrow_screen(sent: dict[str, str], run: Any) -> None:
    """What, when, to whom."""
    for columns in ("60", "100"):
        shown = run("export", "log", env={"COLUMNS": columns}).stdout
        assert "Tarn Fenwick" in shown
        assert "first.csv" in shown
        assert max(map(len, shown.splitlines())) <= int(columns)
    assert "unknown-recipient" in run("export", "log", "--for", "Nobody").stderr
    assert "unknown-submission" in run("export", "--to", "x.csv", *TARN, "--again", "9").stderr


def test_what_is_told_since_last_time_belongs_to_what_is_asked_for(
    log: Any, tarn_run: Any, run: Any, listed: Any, tmp_path: Path
) -> None:
    """Or belonged to it when it was sent: not the change, or the withdrawal, of another season's record."""
    log("2m pale", "3 misty")
    for line, day in (("4 pale", "3 July 2024"), ("1 great", "4 July 2024")):
        assert tarn_run("log", line, "--place", "SU 431 118", "--date", day).returncode == 0
    for season in ("2024", "2025"):
        assert run("export", "--season", season, "--to", f"{season}.csv", *TARN).returncode == 0
    ids = {(one["date"][:4], one["vernacular"]): one["id"] for one in listed()}
    visits = {one["date"]: one["visit_id"] for one in listed()}
    run("ledger", "amend", ids["2025", "Pale Rushlet"], "count=9", "--reason", "counted again")
    run("ledger", "withdraw", ids["2025", "Misty Rushlet"], "--reason", "a leaf")

    def news(season: str, name: str, *options: str) -> dict[str, dict[str, str]]:
        ran = tarn_run("export", "--season", season, "--to", name, *TARN, "--since-last", *options)
        assert ran.returncode == 0, ran.stderr
        return read(tmp_path / name) if (tmp_path / name).exists() else {}

    assert not news("2024", "none.csv")
    assert set(news("2025", "b.csv")) == {ids["2025", "Pale Rushlet"], ids["2025", "Misty Rushlet"]}
    # What moved out of the season is told with it: the recipient holds it as one of that season.
    run("ledger", "amend", visits["2024-07-03"], "date=3 July 2023", "--reason", "wrong year")
    run("ledger", "withdraw", ids["2025", "Pale Rushlet"], "--reason", "a leaf too")
    moved = news("2024", "c.csv", "--cover", "c.md")
    assert set(moved) == {ids["2024", "Pale Rushlet"]}
    page = (tmp_path / "c.md").read_text(encoding="utf-8")
    assert "**As before, not sent again:** 1" in page
    assert "a leaf too" not in page
    assert set(news("2025", "d.csv", "--species", "great boulderer")) == set()
    assert set(news("2025", "e.csv", "--place", "SU41", "--species", "pale rushlet")) == {ids["2025", "Pale Rushlet"]}
