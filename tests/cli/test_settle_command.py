"""`reedmace ledger settle`: what two copies said differently of a site, a visit or a record, and choosing."""

from __future__ import annotations

import json
import time
from pathlib import Path
from typing import Any

import pytest

POND = "Sallow Farm pond"


@pytest.fixture
def copies(tarn_run, run, owned, log, tmp_path: Path):
    """Two copies that hold one site and one record; gives a runner for either: `copies("two", "sites", "add", ...)`."""
    added = tarn_run("sites", "add", POND, "SU 431 118", "--habitat", "mere", "--remarks", "ask at the farm")
    assert added.returncode == 0, added.stderr
    log("12 pale m")
    assert run("ledger", "backup", "two.ledger").returncode == 0

    def running(which: str, *arguments: str, **more: Any) -> Any:
        on = () if which == "one" else ("--ledger", f"{which}.ledger")
        runner = tarn_run if arguments[:2] == ("sites", "add") else run
        ran = runner(*arguments, *on, **more)
        assert ran.returncode == 0, ran.stderr
        return ran

    return running


@pytest.fixture
def diverged(copies):
    """The site was moved in one copy, and closed to others in the other; then the two were merged."""
    moved = ("sites", "add", POND, "SU 432 118", "--habitat", "mere", "--reason", "measured on the map")
    copies("one", *moved, "--remarks", "ask at the farm")
    time.sleep(1.1)  # entries are put in order by the second
    closed = ("sites", "add", POND, "SU 431 118", "--habitat", "mere", "--may-see", "nobody else")
    copies("two", *closed, "--reason", "the owner asked", "--also", "Farm pond", "--remarks", "ask at the farm")
    ran = copies("one", "ledger", "merge", "two.ledger")
    assert "Changed in different ways, to be decided: 1 record." in ran.stdout
    return copies


def choices(copies, which: str = "one") -> list[dict[str, Any]]:
    """What `settle --json` gives."""
    return [json.loads(line) for line in copies(which, "ledger", "settle", "--json").stdout.splitlines()]


def sites(copies, which: str) -> list[dict[str, Any]]:
    """The register of one copy."""
    return [json.loads(line) for line in copies(which, "sites", "--json").stdout.splitlines()]


def test_both_versions_of_a_site_are_shown_side_by_side(diverged) -> None:
    """At 60 columns: who changed it when and why, only what differs, and a line to copy for each."""
    shown = diverged("one", "ledger", "settle", env={"COLUMNS": "60"}).stdout
    lines = shown.splitlines()
    assert max(map(len, lines)) <= 60
    assert lines[0].startswith(f"site: {POND}  [")
    words = " ".join(shown.split())
    assert "amended by Ada Marsh at" in words
    for wanted in ("measured on the map", "place: SU432118", "who may see it: nobody else", "also called: Farm pond"):
        assert wanted in words
    assert words.count("(stands until you choose)") == 1
    assert "ask at the farm" not in words  # both say it
    [one] = choices(diverged)
    assert [(choice["stands"], choice["reason"]) for choice in one["choices"]] == [
        (True, "the owner asked"),
        (False, "measured on the map"),
    ]
    for choice in one["choices"]:
        ends = f"settle {one['subject'][-12:]} --keep {choice['entry'][-12:]}"
        assert ends in words


@pytest.mark.parametrize("kept", [0, 1])
def test_either_version_of_a_site_can_be_kept_whole(diverged, kept: int) -> None:
    """By the site's name; nothing is typed again, nothing is left to decide, and the other copy learns of it."""
    [one] = choices(diverged)
    choice = one["choices"][kept]
    ran = diverged("one", "ledger", "settle", POND, "--keep", choice["entry"][-12:], "--reason", "asked the owner")
    settled, was_kept, was_not = ran.stdout.splitlines()
    assert settled == f"Settled: site {POND}."
    places = [f"place: {one['choices'][number]['says']['place']}" for number in (kept, 1 - kept)]
    assert was_kept.startswith("  Kept: ")
    assert all(words in was_kept for words in (places[0], choice["written_at"]))
    assert was_not.startswith("  Not kept: ")
    assert places[1] in was_not
    [site] = sites(diverged, "one")
    assert (site["may_see"], site["place"]["square"]) == (("nobody else", "SU431118"), ("everybody", "SU432118"))[kept]
    assert (site["habitat"], site["remarks"]) == ("tarn", "ask at the farm")
    assert diverged("one", "ledger", "settle").stdout == "Nothing to decide.\n"
    assert diverged("one", "ledger", "settle", POND).stdout == "Nothing to decide.\n"
    assert diverged("one", "ledger", "audit").stdout == "Everything is as it should be.\n"
    diverged("two", "ledger", "merge", "walks.ledger")
    assert sites(diverged, "two") == [site]
    assert diverged("two", "ledger", "settle").stdout == "Nothing to decide.\n"


def test_until_it_is_settled_nobody_sees_more_than_either_copy_allowed(copies) -> None:
    """Closed to others in one copy, and moved in the other, later: the later place stands, and it stays closed."""
    closed = ("sites", "add", POND, "SU 431 118", "--may-see", "nobody else", "--reason", "the owner asked")
    copies("two", *closed)
    time.sleep(1.1)
    copies("one", "sites", "add", POND, "SU 432 118", "--reason", "measured on the map")
    copies("one", "ledger", "merge", "two.ledger")
    copies("two", "ledger", "merge", "walks.ledger")
    assert sites(copies, "one") == sites(copies, "two")
    assert [(site["place"]["square"], site["may_see"]) for site in sites(copies, "one")] == [
        ("SU432118", "nobody else")
    ]


def test_a_wrong_choice_is_refused_with_what_there_is(diverged, run) -> None:
    """An entry that is none of them, an id that is nothing, a choice without an id: nothing is written."""
    before = diverged("one", "ledger", "dump").stdout
    [one] = choices(diverged)
    ran = run("ledger", "settle", POND, "--keep", "ffff")
    assert (ran.returncode, "no-such-choice" in ran.stderr) == (2, True)
    assert all(choice["entry"][-12:] in ran.stderr for choice in one["choices"])
    ran = run("ledger", "settle", "no-such-pond")
    assert (ran.returncode, "not-recorded" in ran.stderr) == (2, True)
    ran = run("ledger", "settle", "--keep", one["choices"][0]["entry"])
    assert (ran.returncode, "id-missing" in ran.stderr) == (2, True)
    assert diverged("one", "ledger", "dump").stdout == before


def test_a_record_amended_in_one_copy_and_taken_back_in_the_other(copies, run) -> None:
    """Both are told; what is kept stands, also where that is that it was taken back."""
    [record] = [json.loads(line) for line in copies("one", "ledger", "list", "--json").stdout.splitlines()]
    copies("one", "ledger", "amend", record["id"], "count=13", "--reason", "one more behind the reeds")
    copies("two", "ledger", "withdraw", record["id"], "--reason", "it was another pond")
    copies("one", "ledger", "merge", "two.ledger")
    words = " ".join(copies("one", "ledger", "settle").stdout.split())
    for wanted in ("sighting: Pale Rushlet", "taken back by Ada Marsh", "it was another pond", "count: 13"):
        assert wanted in words
    ran = run("ledger", "amend", record["id"], "count=14", "--reason", "x")
    assert (ran.returncode, "ledger settle" in ran.stderr) == (1, True)
    [one] = choices(copies)
    [gone] = [choice for choice in one["choices"] if choice["act"] == "withdrawn"]
    ran = copies("one", "ledger", "settle", record["id"], "--keep", gone["entry"])
    kept, other = ran.stdout.splitlines()[1:]
    assert kept.startswith("  Kept: taken back (Ada Marsh at ")
    assert other.startswith("  Not kept: ")
    assert "one more behind the reeds" in other
    assert copies("one", "ledger", "list", "--json").stdout == ""
    assert copies("one", "ledger", "audit").stdout.count("damaged") == 0


def test_a_visit_changed_in_both_copies(copies) -> None:
    """Its day in one, its weather in the other: fields by their names, nothing else."""
    [record] = [json.loads(line) for line in copies("one", "ledger", "list", "--json").stdout.splitlines()]
    copies("one", "ledger", "amend", record["visit_id"], "date=2025-07-13", "--reason", "wrong day")
    copies("two", "ledger", "amend", record["visit_id"], "weather=warm", "--reason", "forgotten")
    copies("one", "ledger", "merge", "two.ledger")
    [one] = choices(copies)
    assert one["kind"] == "visit"
    said = sorted((choice["says"].get("date"), choice["says"].get("weather")) for choice in one["choices"])
    assert said == [("2025-07-12", "warm"), ("2025-07-13", "nothing")]
    mine = next(choice for choice in one["choices"] if choice["says"]["date"] == "2025-07-13")
    copies("one", "ledger", "settle", record["visit_id"], "--keep", mine["entry"][-12:])
    assert choices(copies) == []


def test_a_sighting_whose_visit_has_two_versions_points_to_the_visit(copies, run) -> None:
    """The list marks it, and the line that shows both versions can be typed."""
    [record] = [json.loads(line) for line in copies("one", "ledger", "list", "--json").stdout.splitlines()]
    copies("one", "ledger", "amend", record["visit_id"], "weather=dull", "--reason", "looked it up")
    copies("two", "ledger", "amend", record["visit_id"], "weather=warm", "--reason", "forgotten")
    copies("one", "ledger", "merge", "two.ledger")
    assert "(two versions)" in copies("one", "ledger", "list").stdout
    shown = copies("one", "ledger", "settle", record["id"]).stdout
    assert "It is not this sighting that has two versions, but its visit." in shown
    assert ("weather: dull" in shown, f"ledger settle {record['visit_id'][-12:]}" in shown) == (True, True)
    [one] = choices(copies)
    ran = run("ledger", "settle", record["id"], "--keep", one["choices"][0]["entry"])
    assert (ran.returncode, "visit-diverged" in ran.stderr) == (2, True)


def test_the_history_tells_of_two_versions_until_one_was_kept(copies, run) -> None:
    """Then which was kept, by whom and instead of what; and nothing more of it after a later amendment."""
    [record] = [json.loads(line) for line in copies("one", "ledger", "list", "--json").stdout.splitlines()]
    copies("one", "ledger", "amend", record["id"], "count=13", "--reason", "one more behind the reeds")
    copies("two", "ledger", "amend", record["id"], "count=11", "--reason", "one was a leaf")
    copies("one", "ledger", "merge", "two.ledger")
    shown = copies("one", "ledger", "history", record["id"]).stdout
    assert "Diverged: 2 entries stand side by side" in shown
    assert f"reedmace ledger settle {record['id'][-12:]}" in shown
    [one] = choices(copies)
    [kept] = [choice for choice in one["choices"] if choice["reason"] == "one was a leaf"]
    copies("one", "ledger", "settle", record["id"], "--keep", kept["entry"], "--reason", "looked at the film")
    copies("one", "ledger", "amend", record["id"], "sex=female", "--reason", "seen on the film too")
    words = " ".join(copies("one", "ledger", "history", record["id"]).stdout.split())
    assert "Diverged" not in words
    assert "Ada Marsh settled it (looked at the film) Two copies differed. Kept: count: 11 (Ada Marsh at" in words
    assert "one was a leaf). Not kept: count: 13 (Ada Marsh at" in words
    assert "one more behind the reeds)." in words
    told = [json.loads(line) for line in copies("one", "ledger", "history", record["id"], "--json").stdout.splitlines()]
    assert [step["reason"] for step in told if step["head"]] == ["seen on the film too"]


def test_one_correction_made_in_both_copies_is_no_difference(copies) -> None:
    """Both say the same, so there is nothing to choose."""
    [record] = [json.loads(line) for line in copies("one", "ledger", "list", "--json").stdout.splitlines()]
    for which in ("one", "two"):
        copies(which, "ledger", "amend", record["id"], "count=13", "--reason", f"in copy {which}")
    copies("one", "ledger", "merge", "two.ledger")
    assert "Diverged" not in copies("one", "ledger", "history", record["id"]).stdout
    copies("one", "ledger", "amend", record["id"], "count=14", "--reason", "one more")
    shown = copies("one", "ledger", "history", record["id"]).stdout
    assert ("Diverged" in shown, "settled" in shown) == (False, False)


def days_of_naming(copies, which: str) -> list[str]:
    """The day of the naming of each sighting, from one copy."""
    listed = copies(which, "ledger", "list", "--json").stdout.splitlines()
    return [json.loads(line)["record"]["determined_on"] for line in listed]


@pytest.mark.parametrize("kept", ["2025-07-11", "2025-07-13"])
def test_the_day_of_the_naming_goes_along_with_the_date_that_is_chosen(copies, log, kept: str) -> None:
    """Both copies corrected the date of the visit: one choice settles it, and nothing is left to decide."""
    visit = json.loads(copies("one", "ledger", "list", "--json").stdout)["visit"]["id"]
    copies("one", "ledger", "amend", visit, "date=11 July 2025", "--reason", "diary")
    copies("two", "ledger", "amend", visit, "date=13 July 2025", "--reason", "photo")
    copies("one", "ledger", "merge", "two.ledger")
    [at] = [one for one in choices(copies) if one["kind"] == "visit"]
    [choice] = [one for one in at["choices"] if one["says"]["date"] == kept]
    ran = copies("one", "ledger", "settle", visit, "--keep", choice["entry"])
    assert "The day of the naming goes along in 1 sighting." in ran.stdout
    assert copies("one", "ledger", "settle").stdout == "Nothing to decide.\n"
    assert days_of_naming(copies, "one") == [kept]


def test_the_day_of_the_naming_goes_back_with_a_date_that_is_not_chosen(copies) -> None:
    """One copy corrected the date, the other the weather, and the other stands."""
    visit = json.loads(copies("one", "ledger", "list", "--json").stdout)["visit"]["id"]
    copies("one", "ledger", "amend", visit, "date=11 July 2025", "--reason", "diary")
    copies("two", "ledger", "amend", visit, "weather=21C", "--reason", "from the notebook")
    copies("one", "ledger", "merge", "two.ledger")
    assert days_of_naming(copies, "one") == ["2025-07-11"]
    [at] = choices(copies)
    [choice] = [one for one in at["choices"] if one["says"]["date"] == "2025-07-12"]
    copies("one", "ledger", "settle", visit, "--keep", choice["entry"])
    assert days_of_naming(copies, "one") == ["2025-07-12"]


def test_a_season_says_how_many_of_its_records_wait_for_a_choice(copies, tarn_run, listed) -> None:
    """Until it is made, one of the two versions is counted; an export says so too."""
    [one] = listed()
    copies("one", "ledger", "amend", one["id"], "count=13", "--reason", "recounted")
    copies("two", "ledger", "amend", one["id"], "count=11", "--reason", "one flew twice")
    copies("one", "ledger", "merge", "two.ledger")
    assert "1 record has two versions; choose with  reedmace ledger settle" in tarn_run("season", "2025").stdout
    sent = tarn_run("export", "--season", "2025", "--to", "two.csv", "--json")
    assert json.loads(sent.stdout)["two_versions"] == 1
    for more in ((), ("--for", "Tarn Fenwick"), ("--for", "Tarn Fenwick", "--since-last"), ("--species", "pale")):
        said = tarn_run("export", "--season", "2025", "--to", f"two{len(more)}.csv", "--force", *more).stderr
        waits = "--since-last" not in more
        assert ("1 record has two versions, and the later was written" in said) == waits, (more, said)
    [told] = choices(copies)
    kept = told["choices"][0]
    copies("one", "ledger", "settle", one["id"], "--keep", kept["entry"])
    assert "two versions" not in tarn_run("season", "2025").stdout
    assert "two versions" not in tarn_run("export", "--season", "2025", "--to", "settled.csv").stderr
