"""`reedmace ledger amend`: what `log` would refuse is refused here, and all that `log` takes can be corrected."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest


@pytest.fixture
def amend(tarn_run):
    """Amend with a reason; gives what came of it: `amend(one["id"], "count=3")`."""
    return lambda subject, *changes: tarn_run("ledger", "amend", subject, *changes, "--reason", "a slip")


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        (["place="], "place-missing"),
        (["place=", "locality="], "place-missing"),
        (["date="], "date-missing"),
        (["none-seen=yes"], "none-seen-but-seen"),
        (["habitat=moon"], "unknown-habitat"),
        (["all=birds"], "unknown-word"),
        (["exuvia-passes=many"], "passes-not-read"),
        (["exuvia-passes=0"], "passes-not-read"),
        (["observers="], "observer-unknown"),
        (["observers=and so on"], "person-not-read"),
        (["start=10:00", "start=11:00"], "said-twice"),
    ],
)
def test_a_visit_keeps_to_what_log_takes(amend, log, listed, run, changes: list[str], code: str) -> None:
    """Nothing is written, and nobody is registered."""
    log("3 pale")
    [one] = listed()
    before = run("ledger", "dump").stdout
    ran = amend(one["visit_id"], *changes)
    assert (ran.returncode, code in ran.stderr, "hint: " in ran.stderr) == (2, True, True), ran.stderr
    assert run("ledger", "dump").stdout == before


@pytest.mark.parametrize(
    ("line", "changes", "code"),
    [
        ("2 pale larva", ["count=3cop"], "stage-and-behaviour"),
        ("3 cop pale", ["stage=larva"], "stage-and-behaviour"),
        ("2 pale larva", ["behaviour=ovip"], "stage-and-behaviour"),
        ("3 pale", ["count=12 noon"], "count-not-read"),
        ("3 pale", ["behaviour=cop"], "behaviour-without-pairs"),
        ("3 pale", ["behaviour=moonwalking"], "unknown-word"),
        ("3 pale", ["observers=Cora Reed"], "field-of-the-visit"),
        ("3 pale", ["determiner=Cora Reed, Ben Sallow"], "person-not-read"),
        ("3 pale", ["photos=-a.jpg"], "no-such-photo"),
        ("3 pale a.jpg", ["photos=+b.jpg a.jpg"], "photos-unclear"),
    ],
)
def test_a_sighting_keeps_to_what_log_takes(amend, log, listed, line: str, changes: list[str], code: str) -> None:
    """A larva makes no pairs, and what is no word of the shorthand is no behaviour."""
    log(line)
    [one] = listed()
    ran = amend(one["id"], *changes)
    assert (ran.returncode, code in ran.stderr, "hint: " in ran.stderr) == (2, True, True), ran.stderr
    assert listed() == [one]


def test_a_correction_may_change_the_stage_with_the_count(amend, log, listed) -> None:
    """Only what the record says afterwards counts."""
    log("2 pale larva")
    assert amend(listed()[0]["id"], "count=3cop", "stage=adult").returncode == 0
    assert (listed()[0]["pairs"], listed()[0]["stage"]) == (3, "adult")


def test_a_visit_that_says_none_were_seen_takes_no_sighting_back_in(amend, run, log, listed) -> None:
    """Neither is written over the other."""
    log("3 pale")
    [one] = listed()
    run("ledger", "withdraw", one["id"], "--reason", "a leaf")
    assert amend(one["visit_id"], "none-seen=yes").returncode == 0
    ran = run("ledger", "reinstate", one["id"], "--reason", "no leaf")
    assert (ran.returncode, "none-seen-but-seen" in ran.stderr) == (1, True)


def test_the_words_of_log_are_taken(amend, log, listed, run) -> None:
    """For what was noted, the weather with its figures, a party with its number, a method, times."""
    log("3 pale")
    visit = listed()[0]["visit_id"]
    ran = amend(visit, "all=dams", "weather=21C sun70 F2-3", "party=party of 12", "method=timed", "start=2pm")
    assert ran.returncode == 0, ran.stderr
    shown = ran.stdout
    for line in (
        "all damselflies noted: no → yes",
        "temperature in °C: nothing → 21",
        "wind force up to: nothing → 3",
        "party size: nothing → 12",
        "method: nothing → timed count",
        "start: nothing → 14:00",
    ):
        assert line in shown
    shown = amend(visit, "weather=dull later", "party=the Thursday people").stdout
    assert "temperature in °C: 21 → nothing" in shown
    assert "party size: 12 → nothing" in shown
    assert "all damselflies noted: yes → no" in amend(visit, "all=dragonflies").stdout


def test_a_named_spot_lies_in_the_square_of_its_visit(amend, log, listed) -> None:
    """A sighting that gets a name of its own place keeps where it was."""
    log("3 pale")
    assert amend(listed()[0]["id"], "locality=outflow").returncode == 0
    assert (listed()[0]["locality"], listed()[0]["place"]) == ("outflow", "SU431118")


def test_observers_and_determiner_can_be_corrected(amend, tarn_run, log, listed, run) -> None:
    """By name, as in `log`; who is still named in sightings is told, with the line that amends it."""
    tarn_run("log", "3 pale", "--by", "Bne Sallow", "--place", "SU 43 11", "--date", "12 July 2025")
    [one] = listed()
    ran = amend(one["visit_id"], 'observers=Ben Sallow and "van Reed"')
    assert ran.returncode == 0, ran.stderr
    assert "seen by: Bne Sallow → Ben Sallow and van Reed" in ran.stdout
    assert f'reedmace ledger amend {one["id"][-12:]} determiner="NAME" --reason WHY' in ran.stdout
    assert amend(one["id"], "determiner=Ben Sallow").returncode == 0
    [now] = listed()
    assert (now["observers"], now["determiner"]) == (["Ben Sallow", "van Reed"], "Ben Sallow")
    tarn_run("log", "2 misty by Cora Rede", "--place", "SU 43 11", "--date", "13 July 2025")
    [own] = listed("--species", "Misty Rushlet")
    assert amend(own["id"], "observers=Cora Reed").returncode == 0
    assert listed("--species", "Misty Rushlet")[0]["observers"] == ["Cora Reed"]
    assert amend(own["id"], "observers=").returncode == 0
    assert listed("--species", "Misty Rushlet")[0]["observers"] == ["Ada Marsh"]


def test_a_name_that_may_be_a_childs_is_not_taken(amend, log, listed, run) -> None:
    """As in `log`: one name alone, on a visit with children."""
    log("3 pale", "1 misty # with 6 children")
    visit = listed()[0]["visit_id"]
    assert amend(visit, "party=with 6 children").returncode == 0
    ran = amend(visit, "observers=Ada Marsh and Poppy")
    assert (ran.returncode, "child-may-be-named" in ran.stderr) == (2, True)
    assert "Poppy" not in run("people").stdout


def test_photographs_come_later_and_go_again(amend, log, listed, tmp_path: Path) -> None:
    """With their checksum, as `log` takes it; a late one is the evidence where none was said."""
    for name in ("one.jpg", "by the reeds.jpg"):
        (tmp_path / name).write_text(name)
    log("3 pale")
    [one] = listed()

    def photos() -> list[str]:
        photos = listed()[0]["record"].get("photos", [])
        return [photo if isinstance(photo, str) else photo[0] for photo in photos]

    assert amend(one["id"], "photos=+one.jpg").returncode == 0
    assert photos() == ["one.jpg"]
    assert listed()[0]["evidence"] == "photo"
    ran = amend(one["id"], 'photos=+"by the reeds.jpg" +lost.jpg')
    assert "The photograph lost.jpg was not found here" in ran.stderr
    assert photos() == ["one.jpg", "by the reeds.jpg", "lost.jpg"]
    assert amend(one["id"], "photos=-lost.jpg").returncode == 0
    (tmp_path / "one.jpg").write_text("another")
    assert hashlib.sha256(b"one.jpg").hexdigest() in str(listed()[0])
    assert amend(one["id"], 'photos="by the reeds.jpg"').returncode == 0
    assert photos() == ["by the reeds.jpg"]
    assert amend(one["id"], "photos=").returncode == 0
    assert photos() == []


def test_every_field_stands_in_the_help(run, log, listed, amend) -> None:
    """`unknown-field` lists them, and so does `--help`."""
    log("3 pale")
    [one] = listed()
    shown = " ".join(run("ledger", "amend", "--help").stdout.replace("(", " ").replace(",", " ").split())
    for subject in (one["id"], one["visit_id"]):
        fields = " ".join(amend(subject, "zzz=1").stderr.split()).partition("fields: ")[2].partition(" more")[0]
        assert all(f" {field} " in shown.replace(":", " ").replace(".", " ") for field in fields.split(", ")), fields
