"""What one command writes is written together: two at once, at a visit that changed, refused half way."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tarn import FOLDER

HERE = ("--place", "SU 431 118", "--date", "2026-07-12")


def people(run) -> list[str]:
    """Who is in the register."""
    return [json.loads(line)["name"] for line in run("people", "--json").stdout.splitlines()]


def test_what_is_logged_at_once_is_one_visit(tarn_run, owned, clean_env, tmp_path: Path) -> None:
    """Six people at six keyboards, or a loop in a script: one visit of that day and place, and six sightings."""
    script = Path(sys.executable).parent / "reedmace"
    command = [script, "log", "3", "pale", *HERE, "--key", FOLDER]
    running = [
        subprocess.Popen(
            command, env=clean_env, cwd=tmp_path, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True
        )
        for _ in range(6)
    ]
    assert [(one.communicate()[1].count("fault"), one.returncode) for one in running] == [(0, 0)] * 6
    [visit] = [json.loads(line) for line in owned("visit", "list", "--json").stdout.splitlines()]
    assert visit["sightings"] == 6


def test_a_visit_that_is_amended_while_lines_are_looked_at_keeps_what_was_amended(
    tarn_run, owned, seat, tmp_path: Path
) -> None:
    """The lines are shown, somebody else corrects the weather, and then they are confirmed."""
    assert tarn_run("visit", "start", "@ SU 431 118 21C").returncode == 0
    [visit] = [json.loads(line)["id"] for line in owned("visit", "list", "--json").stdout.splitlines()]
    (tmp_path / "notes.txt").write_text("3 pale\n")
    with seat("log", "--remarks", "windy", "--key", FOLDER, "--from", "notes.txt") as at:
        at.wait_for("Write this?")
        assert owned("ledger", "amend", visit, "weather=25C", "--reason", "the thermometer").returncode == 0
        at.type("y")
        assert at.leave() == 0
    [now] = [json.loads(line)["visit"] for line in owned("visit", "list", "--json").stdout.splitlines()]
    assert (now["temperature_c"], now["remarks"]) == (25, "windy")


def test_a_page_is_written_whole_or_not_at_all(owned, listed, clean_env, tmp_path: Path) -> None:
    """The second visit holds what no ledger keeps: nothing of the first is written, and its line is named."""
    page = b"visit 2026-07-12 @ SU 431 118\n3 pale\nvisit 2026-07-13 @ SU 431 118\n2 pale # a\xffb\n"
    script = Path(sys.executable).parent / "reedmace"
    command = [script, "log", "--key", FOLDER]
    ran = subprocess.run(command, input=page, capture_output=True, env=clean_env, cwd=tmp_path, check=False)
    assert (ran.returncode, ran.stdout) == (2, b"")
    assert b"standard input:4: text-unreadable" in ran.stderr
    assert listed() == []


@pytest.mark.parametrize(
    "command",
    [
        ("export", "--for", "Tarn Fenwick", "--to", "walks.txt"),
        ("export", "--for", "Tarn Fenwick", "--to", "walks.csv", "--draft"),
        ("log", "5 zebra", *HERE, "--by", "Otto Fen"),
        ("ledger", "withdraw", "ffffffffffff", "--reason", "slip", "--by", "Otto Fen"),
        ("ledger", "amend", "ffffffffffff", "count=3", "--reason", "slip", "--by", "Otto Fen"),
        ("ledger", "undo", "--by", "Otto Fen"),
        ("ledger", "import", "sheet.csv", "--yes", "--dry-run", "--by", "Otto Fen"),
        ("sites", "add", "", "SU 431 118", "--by", "Otto Fen"),
    ],
)
def test_what_is_refused_or_only_tried_leaves_no_name(tarn_run, log, owned, tmp_path: Path, command) -> None:
    """Nobody is in the register for ever because of a slip."""
    log("3 pale")
    (tmp_path / "sheet.csv").write_text("Date,Species,Grid ref\n12/07/2025,Pale Rushlet,SU 431 118\n")
    run = tarn_run if command[0] in ("log", "sites") else owned
    run(*command)
    assert people(owned) == ["Ada Marsh"]


def test_a_recipient_is_kept_with_what_was_sent(log, owned, tmp_path: Path) -> None:
    """As soon as there is something to keep of them."""
    log("3 pale")
    ran = owned("export", "--for", "Tarn Fenwick", "--to", "walks.csv")
    assert ran.returncode == 0, ran.stderr
    assert people(owned) == ["Ada Marsh", "Tarn Fenwick"]


def test_a_dry_run_begins_no_ledger(run, tmp_path: Path) -> None:
    """Nor does an import of what is not there."""
    (tmp_path / "sheet.csv").write_text("Date,Species,Grid ref\n12/07/2025,Emperor,SU 431 118\n")
    for file, more, code in (("sheet.csv", ("--dry-run",), 0), ("nowhere.csv", (), 2)):
        ran = run("ledger", "import", file, "--yes", "--by", "Ada Marsh", "--ledger", "new.ledger", *more)
        assert (ran.returncode, (tmp_path / "new.ledger").exists()) == (code, False), ran.stderr


def test_who_was_registered_in_two_ledgers_is_one_person_once_they_are_merged(tarn_run, owned, tmp_path: Path) -> None:
    """Each name is counted once, and a page of the other ledger is known when it is logged again here."""
    page = tmp_path / "walk.txt"
    line = 'visit 12/7/2025 @ SU 431 118 "Sallow Farm pond" by Ben Sallow with Ada Marsh'
    page.write_text(f"{line}\n3 pale m\n2 misty by Ben Sallow\n")
    other = ("--ledger", str(tmp_path / "ben.ledger"))
    assert owned("log", "4 pale by Ben Sallow", *HERE, "--key", FOLDER).returncode == 0
    assert owned("people", "--me", "Ben Sallow", *other).returncode == 0
    assert tarn_run("log", "--from", str(page), *other).returncode == 0
    assert owned("ledger", "merge", str(tmp_path / "ben.ledger")).returncode == 0
    assert sorted(people(owned)) == ["Ada Marsh", "Ada Marsh", "Ben Sallow", "Ben Sallow"]
    assert "2 observers" in tarn_run("season", "2025").stdout
    again = tarn_run("log", "--from", str(page))
    assert "already-logged" in again.stderr, again.stdout + again.stderr
