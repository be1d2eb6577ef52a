"""Sightings whose visit is not there, and people who are in no register: said, and not passed over in silence."""

from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture
def cut_short(run, log, tmp_path: Path):
    """A ledger restored from a dump in which lines of one sort are missing: `cut_short('"kind": "visit"')`."""

    def restoring(without: str):
        log("3 pale")
        lines = run("ledger", "dump").stdout.splitlines()
        left = [line for line in lines if without not in line]
        left[-1] = f'{{"entries": {sum("entry_id" in line for line in left)}}}'
        (tmp_path / "cut.dump").write_text("\n".join(left) + "\n", encoding="utf-8")
        return run("ledger", "restore", "cut.dump", "--ledger", "cut.ledger")

    return restoring


def test_list_and_export_say_how_many_sightings_are_left_out(run, cut_short) -> None:
    """On the side of the results, with where to look."""
    assert cut_short('"kind": "visit"').returncode == 0
    on = ("--ledger", "cut.ledger")
    for arguments in (("ledger", "list"), ("ledger", "list", "--json"), ("export", "--to", "out.csv")):
        ran = run(*arguments, *on)
        assert "1 sighting is left out, for its visit is not there; see  reedmace ledger audit" in ran.stderr, arguments
    assert "left out" not in run("ledger", "list").stderr
    shown = " ".join(run("ledger", "audit", *on).stdout.split())
    assert "in no list and no export" in shown


def test_restore_says_whose_names_are_missing(cut_short) -> None:
    """And the exit code says that something is."""
    ran = cut_short('{"person": ')
    assert ran.returncode == 1
    assert "Restored 2 entries" in ran.stdout
    assert "1 person named in the entries" in ran.stdout
    assert "seen or named by them, 1 sighting" in ran.stdout
    assert "reedmace ledger merge FILE" in ran.stdout
