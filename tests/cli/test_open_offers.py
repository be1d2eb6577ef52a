"""Corrections on offer: listed until they are taken, or declined for a reason that stays in the ledger."""

from __future__ import annotations

import json
import shlex
from pathlib import Path
from typing import Any

import pytest

from ledger.pond import counting
from reedmace.ledger.store import open_ledger

HEAD = "Record ID,Verification,Verified by,Date verified,Comments,Correct name,Correct count"


@pytest.fixture
def walked(log, listed) -> dict[str, Any]:
    """Two records of 12 July 2025, by English name."""
    log("12 pale m", "2 misty m")
    return {one["vernacular"]: one for one in listed()}


@pytest.fixture
def offered(tmp_path: Path, tarn_run, walked):
    """Read answers that offer corrections: `offered("pale's id,incorrect,...")`."""

    def reading(*lines: str, more: tuple[str, ...] = ()):
        (tmp_path / "answers.csv").write_text("\n".join((HEAD, *lines)) + "\n", encoding="utf-8")
        ran = tarn_run("reply", "answers.csv", *more)
        assert ran.returncode == 0, ran.stderr
        return ran

    return reading


@pytest.fixture
def still(tarn_run):
    """What `reply --open --json` lists."""

    def listing(*more: str) -> list[dict[str, Any]]:
        ran = tarn_run("reply", "--open", "--json", *more)
        assert ran.returncode == 0, ran.stderr
        return [json.loads(line) for line in ran.stdout.splitlines()]

    return listing


def test_what_is_on_offer_is_listed_until_it_is_taken(offered, walked, still, tarn_run, listed) -> None:
    """With the sighting, what was said, what is proposed and how to take it; at 60 columns without wrapping a word."""
    pale, misty = walked["Pale Rushlet"]["id"], walked["Misty Rushlet"]["id"]
    ran = offered(
        f"{pale},incorrect,Tarn Fenwick,2/11/2025,wing bases,Misty Rushlet,11", f"{misty},correct,Tarn Fenwick,,,,"
    )
    assert "They stay on offer:  reedmace reply --open" in ran.stdout
    [one] = still()
    assert (one["id"], one["verifier"], one["status"], one["remark"]) == (
        pale,
        "Tarn Fenwick",
        "incorrect",
        "wing bases",
    )
    assert [(offer["field"], offer["now"]) for offer in one["offers"]] == [
        ("name", "Misty Rushlet (Tarnula nebula)"),
        ("count", "11"),
    ]
    shown = tarn_run("reply", "--open", env={"COLUMNS": "60"}).stdout
    assert f"take:     reedmace reply --accept {pale[-12:]}" in shown
    assert max(map(len, shown.splitlines())) <= 60
    ran = tarn_run("reply", "--accept", pale[-12:])
    assert ran.stdout == "Corrected: 1 record; what stood before stays in the history.\n"
    now = next(one for one in listed() if one["id"] == pale)
    assert (now["vernacular"], now["count"], now["determiner"]) == ("Misty Rushlet", 11, "Tarn Fenwick")
    assert still() == []
    assert tarn_run("reply", "--open").stdout == "No correction is on offer: all were taken or declined.\n"
    ran = tarn_run("reply", "--accept", pale[-12:])
    assert (ran.returncode, "nothing-on-offer" in ran.stderr) == (2, True)


def test_declining_needs_a_reason_and_keeps_it(offered, walked, still, tarn_run, run, listed, tmp_path: Path) -> None:
    """The record stays as it is, its history tells who and why, and the same file does not offer it again."""
    pale = walked["Pale Rushlet"]["id"]
    offered(f"{pale},unconfirmed,Tarn Fenwick,2/11/2025,,,11")
    before = listed()
    ran = tarn_run("reply", "--decline", pale[-12:])
    assert (ran.returncode, "reason-missing" in ran.stderr) == (2, True)
    ran = tarn_run("reply", "--decline", pale[-12:], "--reason", "twelve in the photograph")
    assert ran.stdout == "Declined: what was offered for 1 record; the answers stay in the history.\n"
    assert (still(), listed()) == ([], before)
    story = " ".join(run("ledger", "history", pale).stdout.split())
    assert "Ada Marsh declined what was offered (twelve in the photograph)" in story
    assert "count offered: 11" in story
    assert "offer" not in tarn_run("reply", "answers.csv").stdout
    assert tarn_run("check", "--answered").stdout == "No query was answered.\n"
    assert run("ledger", "audit").stdout == "Everything is as it should be.\n"
    # A later answer that says so again is a new offer.
    offered(f"{pale},unconfirmed,Tarn Fenwick,20/11/2025,look again,,11")
    assert [one["remark"] for one in still()] == ["look again"]


def test_what_was_declined_in_one_copy_is_declined_in_the_other(
    offered, walked, still, tarn_run, run, tmp_path
) -> None:
    """After a merge; and where both declined it, nothing is left to settle."""
    pale = walked["Pale Rushlet"]["id"]
    offered(f"{pale},unconfirmed,Tarn Fenwick,2/11/2025,,,11")
    for name in ("other", "third"):
        assert run("ledger", "backup", f"{name}.ledger").returncode == 0
    for name in ("other.ledger", "third.ledger"):
        assert tarn_run("reply", "--decline", "all", "--reason", f"in {name}", "--ledger", name).returncode == 0
    for name in ("other.ledger", "third.ledger", "other.ledger"):
        assert run("ledger", "merge", name).returncode == 0
        assert still() == []
    assert "Nothing" in run("ledger", "settle").stdout
    assert run("ledger", "audit").stdout == "Everything is as it should be.\n"


def test_of_one_verifiers_answers_the_latest_counts_and_two_verifiers_are_told_apart(offered, walked, still, tarn_run):
    """An earlier answer's offer is open no longer; two people's offers of one record are chosen by name."""
    pale = walked["Pale Rushlet"]["id"]
    offered(f"{pale},unconfirmed,Tarn Fenwick,2/11/2025,,,11")
    offered(f"{pale},unconfirmed,Tarn Fenwick,3/11/2025,,,10")
    assert [one["offers"][0]["now"] for one in still()] == ["10"]
    offered(f"{pale},unconfirmed,Bryony Sedge,1/11/2025,,,9")
    assert sorted(one["verifier"] for one in still()) == ["Bryony Sedge", "Tarn Fenwick"]
    ran = tarn_run("reply", "--accept", pale[-12:])
    assert (ran.returncode, "several-offers" in ran.stderr) == (2, True)
    assert f'reply --accept {pale[-12:]} --verifier "Tarn Fenwick"' in tarn_run("reply", "--open").stdout
    # Seen for one of them alone, it still takes the name.
    shown = tarn_run("reply", "--open", "--verifier", "Bryony Sedge").stdout
    assert f'reply --decline {pale[-12:]} --verifier "Bryony Sedge" --reason' in " ".join(shown.split())
    assert [one["offers"][0]["now"] for one in still("--verifier", "bryony sedge")] == ["9"]
    assert tarn_run("reply", "--accept", pale[-12:], "--verifier", "Bryony Sedge").returncode == 0
    assert [(one["verifier"], one["offers"][0]["was"]) for one in still()] == [("Tarn Fenwick", "9")]


def test_all_takes_what_is_plain_and_says_what_it_left(offered, walked, still, tarn_run, listed) -> None:
    """Of a record that two people correct differently nothing is taken, and the line to take each is printed."""
    pale, misty = walked["Pale Rushlet"]["id"], walked["Misty Rushlet"]["id"]
    offered(f"{pale},unconfirmed,Tarn Fenwick,2/11/2025,,,11", f"{misty},unconfirmed,Tarn Fenwick,2/11/2025,,,3")
    offered(f"{pale},unconfirmed,Bryony Sedge,1/11/2025,,,9")
    ran = tarn_run("reply", "--accept", "all", "--dry-run")
    assert "Not taken: 1 record of which several people say different things" in " ".join(ran.stdout.split())
    assert {one["count"] for one in listed()} == {12, 2}
    ran = tarn_run("reply", "--accept", "all")
    assert ran.returncode == 1
    words = " ".join(ran.stdout.split())
    assert words.startswith("Corrected: 1 record; what stood before stays in the history. Not taken: 1 record")
    assert {one["count"] for one in listed()} == {12, 3}
    takes = [one["take"] for one in still()]
    assert sorted(takes) == [
        f'reedmace reply --accept {pale} --verifier "{name}"' for name in ("Bryony Sedge", "Tarn Fenwick")
    ]
    told = [json.loads(line) for line in tarn_run("reply", "--accept", "all", "--json").stdout.splitlines()]
    assert [(one["accepted"], one["faults"]) for one in told] == [(False, ["several-offers"])] * 2
    assert tarn_run(*shlex.split(takes[0])[1:]).returncode == 0
    ran = tarn_run("reply", "--decline", "all", "--reason", "eleven at most")
    assert (ran.returncode, still()) == (0, [])


def test_what_was_taken_and_changed_again_is_open_no_longer(offered, walked, still, tarn_run, run, clean_env) -> None:
    """Amended since by somebody who knew better; and what was withdrawn is not on offer either."""
    pale, misty = walked["Pale Rushlet"]["id"], walked["Misty Rushlet"]["id"]
    offered(f"{pale},unconfirmed,Tarn Fenwick,2/11/2025,,,11", more=("--accept", "all"))
    assert run("ledger", "amend", pale, "count=13", "--reason", "recounted on the film").returncode == 0
    assert still() == []
    offered(f"{misty},unconfirmed,Tarn Fenwick,2/11/2025,,,3")
    assert len(still()) == 1
    assert run("ledger", "withdraw", misty, "--reason", "not mine").returncode == 0
    assert still() == []
    with open_ledger(clean_env["REEDMACE_LEDGER"]) as ledger:
        assert len(ledger.replies()) == 2
        assert ledger.people.register("Tarn Fenwick", counting()) == ledger.replies()[0].said.verifier


def test_one_thing_at_a_time_and_a_dry_run_writes_nothing(offered, walked, still, tarn_run, run) -> None:
    """Listing, taking and declining do not go together, nor with a file."""
    pale = walked["Pale Rushlet"]["id"]
    offered(f"{pale},unconfirmed,Tarn Fenwick,2/11/2025,,,11")
    before = run("ledger", "dump").stdout
    for more in (("--open", "answers.csv"), ("--open", "--accept", "all"), ("--accept", "all", "--decline", "all")):
        ran = tarn_run("reply", *more)
        assert (ran.returncode, "offers-unclear" in ran.stderr) == (2, True)
    ran = tarn_run("reply", "--accept", "all", "--dry-run")
    assert (ran.returncode, "count: 12 → 11" in ran.stdout) == (0, True)
    assert tarn_run("reply", "--decline", "ffff", "--reason", "x").returncode == 2
    assert run("ledger", "dump").stdout == before
