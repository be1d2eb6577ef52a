"""Correcting, finding, bringing in and taking out, as somebody does it at the command line."""

from __future__ import annotations

import json
import shlex
from pathlib import Path

import pytest

from tarn import FOLDER

EVIL = "[/x] :bee: \x1b[31mred\u202e שלום"


@pytest.fixture
def logged(log, listed):
    """Three sightings of one walk; gives them by English name."""
    log("12 pale m", "3 cop misty", "1 great f #by the sluice")
    return {one["vernacular"]: one for one in listed()}


def test_amending_says_what_was_and_what_is(run, logged, listed) -> None:
    """By the last signs of an id; a new entry with its reason, and the first stays in the history."""
    one = logged["Pale Rushlet"]
    ran = run("ledger", "amend", one["id"][-12:], "count=13", "sex=fen", "--reason", "counted again")
    assert ran.returncode == 2
    assert "unknown-word" in ran.stderr
    ran = run("ledger", "amend", one["id"][-12:], "count=13", "sex=female", "--reason", "counted again")
    assert ran.stdout.splitlines()[0].startswith("Was:  Pale Rushlet; 12 male")
    assert ran.stdout.splitlines()[1].startswith("Now:  Pale Rushlet; 13 female")
    [now] = listed("--species", "Pale Rushlet")
    assert (now["count"], now["sex"], now["act"]) == (13, "female", "amended")
    assert [row["id"] for row in listed("--status", "amended")] == [one["id"]]


def test_amending_says_what_the_two_lines_do_not_show(run, logged) -> None:
    """A vice-county stands in no line of the list, so it is told by itself; a count is told once."""
    one = logged["Pale Rushlet"]
    ran = run("ledger", "amend", one["visit_id"], "vice-county=12", "--reason", "looked at the map")
    was, now, *more = ran.stdout.splitlines()
    assert was.removeprefix("Was:") == now.removeprefix("Now:")
    assert [line.strip().startswith("place: SU431118") and line.endswith("VC 12") for line in more] == [True]
    ran = run("ledger", "amend", one["id"], "count=13", "--reason", "counted again")
    assert len(ran.stdout.splitlines()) == 2


def test_the_line_that_amends_the_visit_can_be_typed(run, logged, listed) -> None:
    """Once its reason is filled in; a value of several words is quoted."""
    one = logged["Pale Rushlet"]
    ran = run("ledger", "amend", one["id"], "date=11 July 2025", "--reason", "wrong day")
    remedy = " ".join(ran.stderr.split()).partition("amend the visit: ")[2].partition(" more:")[0]
    assert remedy.startswith("reedmace ledger amend")
    assert run(*shlex.split(remedy)[1:]).returncode == 0
    assert {row["date"] for row in listed()} == {"2025-07-11"}


def test_a_backup_is_gone_back_to_by_the_line_that_is_printed(run, logged, listed, tmp_path: Path) -> None:
    """Into a new file, for nothing is overwritten."""
    ran = run("ledger", "backup", "my pond.backup")
    remedy = shlex.split(ran.stdout.partition("Go back to it with:")[2])
    assert run(*remedy[1:]).returncode == 0
    assert len(listed("--ledger", remedy[-1])) == len(listed()) == 3


def test_a_visit_takes_its_sightings_along(run, logged, listed) -> None:
    """Its date belongs to all of them; asked for on a sighting, the hint names the visit."""
    one = logged["Pale Rushlet"]
    ran = run("ledger", "amend", one["id"], "date=11/07/2025", "--reason", "wrong day")
    assert ran.returncode == 2
    assert f"reedmace ledger amend {one['visit_id']} date=11/07/2025" in ran.stderr.replace("\n  ", " ")
    assert run("ledger", "amend", one["visit_id"], "date=11/07/2025", "--reason", "wrong day").returncode == 0
    assert {row["date"] for row in listed()} == {"2025-07-11"}
    assert len(listed("--since", "11 July 2025", "--until", "11 July 2025")) == 3


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        (["count"], "no-equals"),
        (["cuont=3"], "unknown-field"),
        (["name=misty"], "unknown-field"),
        (["count=2m 3f"], "two-counts"),
        (["count=0"], "zero-count"),
        (["time=25:00"], "time-not-read"),
        (["count=12"], "nothing-changed"),
    ],
)
def test_what_cannot_be_changed_like_this(run, logged, changes: list[str], code: str) -> None:
    """A fault with a remedy; nothing is written."""
    ran = run("ledger", "amend", logged["Pale Rushlet"]["id"], *changes, "--reason", "x")
    assert ran.returncode in (1, 2)
    assert code in ran.stderr
    assert "hint: " in ran.stderr


def test_a_count_of_nought_is_told_what_could_be_meant_by_it(run, logged, listed) -> None:
    """There is no line to leave out: the record is there, and either is typed as the hint has it."""
    one = logged["Pale Rushlet"]["id"]
    told = " ".join(run("ledger", "amend", one, "count=0", "--reason", "wrong pond").stderr.split())
    assert "count=present" in told
    remedy = shlex.split(told.partition("not there: ")[2])
    assert run(*remedy[1:]).returncode == 0, remedy
    assert one not in [row["id"] for row in listed()]


def test_redetermining_withdrawing_and_reinstating(run, tarn_run, logged, listed) -> None:
    """Each with its reason; the determiner is whoever says it."""
    one = logged["Great Boulderer"]["id"]
    ran = tarn_run("ledger", "redetermine", one, "--name", "pale/misty?", "--reason", "wings", "--by", "Ben Sallow")
    assert "Now:  Pale Rushlet or Misty Rushlet ?" in ran.stdout
    [now] = [row for row in listed() if row["id"] == one]
    assert (now["determiner"], now["certainty"], now["act"]) == ("Ben Sallow", "uncertain", "redetermined")
    assert run("ledger", "withdraw", one, "--reason", "  ").returncode == 1
    assert run("ledger", "withdraw", one, "--reason", "not sure").returncode == 0
    assert [row["id"] for row in listed("--status", "withdrawn")] == [one]
    assert run("ledger", "reinstate", one, "--reason", "sure after all").returncode == 0
    assert listed("--status", "withdrawn") == []
    assert run("ledger", "withdraw", "nothing-like-it", "--reason", "x").returncode == 2


def test_lists_by_every_filter(run, tarn_run, logged, listed) -> None:
    """Season, days, place by square and name, person, stage, words; several must all hold."""
    tarn_run("log", "2 misty ten", "--place", "NY 21 08", "--locality", "Upper Beck", "--date", "2 June 2024")
    tarn_run("log", "1 sunny", "--place", "SU 431 119", "--date", "3 June 2024", "--by", "Ben Sallow")
    count = {
        ("--season", "2024"): 2,
        ("--since", "2025"): 3,
        ("--until", "June 2024"): 2,
        ("--place", "SU 43 11"): 4,
        ("--place", "upper"): 1,
        ("--person", "ben sallow"): 1,
        ("--stage", "teneral"): 1,
        ("--text", "slui"): 1,
        ("--text", "rushlet misty"): 2,
        ("--text", "luice"): 0,
        ("--text", "--stage"): 0,
        ("--text", '" OR *'): 0,
        ("--season", "2024", "--person", "Ada Marsh", "--text", "beck"): 1,
        ("--first", "2"): 2,
    }
    assert {words: len(listed(*words)) for words in count} == count
    ran = run("ledger", "list", "--person", "Nobody Known")
    assert ran.returncode == 2
    assert "unknown-person" in ran.stderr


def test_the_review_looks_at_what_was_named_by_answers(run, tarn_run, logged) -> None:
    """Nothing here was, so nothing is listed, and it says so."""
    ran = tarn_run("ledger", "review")
    assert ran.stdout == "0 named with this key looked at; 0 listed. Nothing was changed.\n"


class TestImporting:
    """`ledger import`."""

    SHEET = "Date,Where,Gridref,Species,No\n12/07/2025,Sallow Farm,SU 431 118,pale rushlet,0\n"

    @pytest.mark.usefixtures("owned")
    def test_a_guess_is_shown_and_wants_a_yes(self, tarn_run, tmp_path: Path) -> None:
        """Not at a terminal: nothing is written before --yes."""
        (tmp_path / "walks.csv").write_text(self.SHEET)
        ran = tarn_run("ledger", "import", "walks.csv")
        assert (ran.returncode, ran.stdout) == (2, "")
        assert "Gridref  place             such as SU 431 118" in ran.stderr
        assert "mapping-not-confirmed" in ran.stderr

    @pytest.mark.usefixtures("owned")
    def test_faulty_rows_come_back_and_the_exit_code_says_so(self, tarn_run, listed, tmp_path: Path) -> None:
        """By the name of the file, beside it."""
        (tmp_path / "walks.csv").write_text(self.SHEET)
        ran = tarn_run("ledger", "import", "walks.csv", "--yes")
        assert ran.returncode == 1
        assert "1 zero-unclear" in ran.stdout
        assert "walks.csv.faults.csv" in ran.stdout
        ran = tarn_run("ledger", "import", "walks.csv", "--yes", "--zero", "present", "--save-as", "Sheet")
        assert ran.stdout.splitlines() == [
            "Brought in 1 sighting and 1 visit from 1 row.",
            "Rows that name nobody who observed, credited to Ada Marsh: 1.",
        ]
        assert [one["count_kind"] for one in listed()] == ["present"]
        ran = tarn_run("ledger", "import", "walks.csv", "--mapping", "sheet", "--json")
        assert json.loads(ran.stdout)["there"] == 1

    @pytest.mark.usefixtures("owned")
    def test_asked_at_a_terminal(self, seat, tmp_path: Path) -> None:
        """Whether the mapping is right, and what 0 means."""
        (tmp_path / "walks.csv").write_text(self.SHEET)
        with seat("ledger", "import", "walks.csv", "--key", FOLDER) as terminal:
            terminal.wait_for("Is this right?")
            terminal.type("y")
            terminal.wait_for("What does 0 mean")
            terminal.type("present")
            terminal.wait_for("Brought in 1 sighting")
            assert terminal.leave() == 0

    @pytest.mark.usefixtures("owned")
    def test_words_that_look_like_something_else_come_to_the_screen_as_text(
        self, tarn_run, run, listed, tmp_path: Path
    ) -> None:
        """Markup, escapes and turners of a sheet, in a heading, a cell and a fault."""
        rows = f'12/07/2025,"{EVIL}",SU 431 118,pale,1\n12/07/2025,x,SU 431 118,"{EVIL}",1\n'
        (tmp_path / "walks.csv").write_text(f"Date,Site,Gridref,Species,No,{EVIL}\n{rows}", encoding="utf-8")
        ran = tarn_run("ledger", "import", "walks.csv", "--yes")
        for shown in (ran.stdout, ran.stderr, run("ledger", "list", env={"COLUMNS": "100"}).stdout):
            assert "\x1b" not in shown
            assert "\u202e" not in shown
        [one] = listed()
        assert one["locality"] == EVIL


def test_out_and_back_and_looked_after(run, logged, tmp_path: Path) -> None:
    """Backup, dump, restore, merge, audit: each says what it did."""
    assert run("ledger", "backup", "copy.ledger").returncode == 0
    assert run("ledger", "dump", "--to", "walks.dump").returncode == 0
    assert run("ledger", "dump").stdout == (tmp_path / "walks.dump").read_text(encoding="utf-8")
    assert "file-exists" in run("ledger", "dump", "--to", "walks.dump").stderr
    assert "restore-exists" in run("ledger", "restore", "walks.dump").stderr
    ran = run("ledger", "restore", "walks.dump", "--ledger", "new.ledger")
    assert ran.stdout == "Restored 4 entries to new.ledger.\n"
    ran = run("ledger", "merge", "copy.ledger", "--ledger", "new.ledger")
    assert ran.stdout == "Taken over: 0 entries, 0 people. In both already: 4.\n"
    assert run("ledger", "audit").stdout == "Everything is as it should be.\n"
    assert run("ledger", "settle").stdout == "Nothing to decide.\n"
    assert "not-a-ledger" in run("ledger", "merge", "walks.dump").stderr


def test_two_observers_of_one_walk(run, tarn_run, log, listed, tmp_path: Path) -> None:
    """Recognised by day, place and name; the larger count stands once somebody says that they are the same."""
    log("12 pale m", "2 great")
    lines = ("log", "9 pale m", "4 misty", "--place", "SU 4311 1184", "--date", "12 July 2025")
    tarn_run(*lines, "--by", "Ben Sallow", "--ledger", "bens.ledger")
    ran = run("ledger", "merge", "bens.ledger")
    assert "Written down by two observers, probably the same insects: 1 name on 1 walk." in ran.stdout
    assert len(listed()) == 4
    shown = run("ledger", "same").stdout
    assert "Ada Marsh: 12 male; --larger keeps this" in shown
    assert "Ben Sallow: 9 male\n" in shown
    visits = sorted({one["visit_id"] for one in listed()})
    assert run("ledger", "same", *visits, "--different").stdout == "Noted: different insects.\n"
    assert run("ledger", "same").stdout == "Nothing to decide.\n"
    tarn_run(*lines, "--by", "Cora Reed", "--ledger", "coras.ledger")
    run("ledger", "merge", "coras.ledger")
    mine, coras = (next(one["visit_id"] for one in listed("--person", who)) for who in ("Ada Marsh", "Cora Reed"))
    ran = run("ledger", "same", mine, coras, "--larger")
    assert ran.stdout.startswith("Taken back: Pale Rushlet; 9 male")
    assert sorted(one["count"] for one in listed("--species", "Pale Rushlet")) == [9, 12]


def test_contact_details_stay_in_the_ledger(run, logged, tmp_path: Path) -> None:
    """In no export and no dump that does not ask; `forget` removes both, and says what is left."""
    ran = run("people", "--add", "Ben Sallow", "--contact", "ben@example.org")
    assert ran.stdout == "In the register: Ben Sallow.\n"
    assert "ben@example.org" in run("people", "--contacts").stdout
    run("export", "--to", "out.csv")
    shown = run("people").stdout + run("ledger", "dump").stdout + (tmp_path / "out.csv").read_text(encoding="utf-8")
    assert "ben@example.org" not in shown
    assert "not-confirmed" in run("ledger", "forget", "Ada Marsh").stderr
    ran = run("ledger", "forget", "Ada Marsh", "--yes")
    assert ran.returncode == 0
    assert "3 sightings seen or named, 4 entries written" in " ".join(ran.stdout.split())
    assert b"Ada Marsh" not in b"".join(one.read_bytes() for one in tmp_path.glob("walks.ledger*"))
    assert "name removed [" in run("people").stdout
    assert "name removed" in run("ledger", "list", "--json").stdout


def test_the_day_of_the_naming_can_be_corrected(log, run, listed) -> None:
    """Typed, it can contradict the visit's day; the remedy of the query runs as printed."""
    log("12 pale m")
    [one] = listed()
    run("ledger", "amend", one["id"][-12:], "named=10/7/2025", "--reason", "from a photograph")
    shown = " ".join(run("check").stdout.split())
    assert "named-before-seen" in shown
    assert f"reedmace ledger amend {one['id'][-12:]} named=DATE --reason WHY" in shown
    ran = run("ledger", "amend", one["id"][-12:], "named=20/7/2025", "--reason", "from a photograph")
    assert ran.returncode == 0, ran.stderr
    assert "named-before-seen" not in run("check").stdout


def test_a_day_of_the_naming_that_nobody_typed_goes_along_with_the_visits(log, run, listed) -> None:
    """Twice, too; one that was typed stays."""
    log("12 pale m", "2 misty")
    misty, pale = sorted(listed(), key=lambda one: one["vernacular"])
    run("ledger", "amend", misty["id"], "named=13/7/2025", "--reason", "from a photograph")
    for day in ("20/7/2025", "21/7/2025"):
        ran = run("ledger", "amend", pale["visit_id"], f"date={day}", "--reason", "wrong day")
        assert "The day of the naming goes along in 1 sighting." in ran.stdout
    assert {one["vernacular"]: one["record"]["determined_on"] for one in listed()} == {
        "Pale Rushlet": "2025-07-21",
        "Misty Rushlet": "2025-07-13",
    }
    checked = run("check").stdout
    assert checked.count("named-before-seen") == 1


def test_how_many_pairs_says_nothing_of_what_they_did(log, run, listed) -> None:
    """Copulating pairs that were fewer were copulating still; "tandem" would say something else."""
    log("3 cop misty")
    one = listed()[0]["id"]
    run("ledger", "amend", one, "count=2 pairs", "--reason", "counted again")
    assert (listed()[0]["pairs"], listed()[0]["behaviour"]) == (2, ["copulating"])
    run("ledger", "amend", one, "count=2 tandem", "--reason", "looked again")
    assert listed()[0]["behaviour"] == ["tandem", "copulating"]
    run("ledger", "amend", one, "count=4 singles", "--reason", "no pairs after all")
    assert (listed()[0]["pairs"], listed()[0]["behaviour"]) == (None, [])


def test_a_bare_number_in_place_of_pairs_is_asked_about(log, run, listed) -> None:
    """It may be so many pairs, and what they did would go with them; both remedies work."""
    log("3 cop misty")
    one = listed()[0]["id"]
    ran = run("ledger", "amend", one, "count=4", "--reason", "counted again")
    assert (ran.returncode, "pairs-or-insects" in ran.stderr, listed()[0]["pairs"]) == (2, True, 3)
    assert 'write  count="4 pairs"  or  count="4 singles"' in ran.stderr
    assert run("ledger", "amend", one, "count=4 pairs", "--reason", "counted again").returncode == 0
    assert (listed()[0]["count"], listed()[0]["behaviour"]) == (8, ["copulating"])
    assert run("ledger", "amend", one, "count=4 singles", "--reason", "no pairs").returncode == 0
    assert (listed()[0]["count"], listed()[0]["pairs"], listed()[0]["behaviour"]) == (4, None, [])


def test_a_male_lays_no_eggs_in_a_correction_either(log, run, listed) -> None:
    log("3 pale m", "1 misty f ovip")
    pale, misty = sorted(listed(), key=lambda one: one["count"], reverse=True)
    for one, change in ((pale, "behaviour=ovip"), (misty, "sex=m")):
        ran = run("ledger", "amend", one["id"], change, "--reason", "looked again")
        assert (ran.returncode, "sex-and-behaviour" in ran.stderr) == (2, True)
    ran = run("ledger", "amend", pale["id"], "behaviour=ovip", "sex=f", "--reason", "looked again")
    assert ran.returncode == 0


def test_what_is_no_cast_skin_any_more_does_not_rest_on_one(log, run, listed) -> None:
    log("3 pale ex")
    one = listed()[0]
    assert one["evidence"] == "exuvia"
    run("ledger", "amend", one["id"], "stage=larva", "certainty=prob", "--reason", "looked again")
    assert (listed()[0]["stage"], listed()[0]["evidence"], listed()[0]["certainty"]) == ("larva", None, "probable")


def test_a_party_is_corrected_by_its_number_alone(log, run) -> None:
    log("6 pale m")
    [visit] = [json.loads(line)["id"] for line in run("visit", "list", "--json").stdout.splitlines()]
    ran = run("ledger", "amend", visit, "party=8", "--reason", "counted")
    assert "party size: nothing → 8" in ran.stdout


def test_the_right_place_may_be_a_registered_site(log, run, listed) -> None:
    """With its reference and name; a name that no site has is refused."""
    log("6 pale m")
    [visit] = [json.loads(line)["id"] for line in run("visit", "list", "--json").stdout.splitlines()]
    run("sites", "add", "Top pond", "SU 433 119")
    assert run("ledger", "amend", visit, "place=top pond", "--reason", "wrong pond").returncode == 0
    assert (listed()[0]["place"], listed()[0]["locality"]) == ("SU433119", "Top pond")
    assert run("ledger", "amend", visit, "place=nowhere", "--reason", "wrong pond").returncode == 2


def test_undo_after_a_correction_takes_back_no_other_record(log, run, listed) -> None:
    """Who says undo means what was done last; the line before it is taken back only when it is asked for."""
    log("12 pale m")
    log("5 misty f")
    pale = next(one for one in listed() if one["vernacular"] == "Pale Rushlet")
    run("ledger", "amend", pale["id"], "count=20", "--reason", "slip")
    ran = run("ledger", "undo")
    assert (ran.returncode, "undo-after-change" in ran.stderr, len(listed())) == (2, True, 2)
    assert f"reedmace ledger history {pale['id'][-12:]}" in ran.stderr.replace("\n  ", " ")
    ran = run("ledger", "undo", "--line")
    assert (ran.returncode, ran.stdout) == (0, "Taken back: Misty Rushlet: 5 misty f\n")
    ran = run("ledger", "undo")
    assert (ran.returncode, "undo-after-change" in ran.stderr) == (2, True), "the line before it was corrected"
    assert run("ledger", "undo", "--line").returncode == 0
    assert listed() == []


def test_a_visit_of_which_nothing_is_left_is_told(log, run, listed) -> None:
    """With what takes it back too; of one that goes on, or says none were seen, nothing is told."""
    log("12 pale m", "3 misty")
    assert "Nothing is left" not in run("ledger", "undo").stdout
    [left] = listed()
    ran = run("ledger", "withdraw", left["id"], "--reason", "another pond")
    assert "Nothing is left of the visit of 2025-07-12 at SU431118." in ran.stdout
    words = ran.stdout.splitlines()[-1].split()[1:]
    assert run(*words[:-1], "another pond").returncode == 0
    assert "No visits." in run("visit", "list").stdout


def test_undo_stops_at_a_line_that_was_corrected_before_another_was_logged(log, run, listed) -> None:
    log("6 pale m")
    [one] = listed()
    run("ledger", "amend", one["id"], "count=7", "--reason", "recounted")
    log("1 misty f")
    assert run("ledger", "undo").returncode == 0
    ran = run("ledger", "undo", env={"COLUMNS": "200"})
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "You amended a record of this line since, for this reason: recounted" in ran.stderr
    assert [one["count"] for one in listed()] == [7]


def test_undo_takes_nothing_that_somebody_else_changed_though_i_changed_it_again(log, tarn_run, run, listed) -> None:
    log("12 pale m")
    [one] = listed()
    for name, more in (("misty", ("--by", "Dan Fen")), ("pale", ())):
        tarn_run("ledger", "redetermine", one["id"], "--name", name, "--reason", "from the photograph", *more)
    for words in (("undo",), ("undo", "--line")):
        ran = run("ledger", *words, env={"COLUMNS": "200"})
        assert ran.returncode == 2
    assert "Dan Fen has given it another name" in ran.stderr
    assert len(listed()) == 1


def test_what_is_corrected_in_two_steps_is_refused_as_in_one(log, run, listed) -> None:
    """Pairs that were not counted are no reason to count single insects as pairs."""
    log("6 pale m")
    one = listed()[0]["id"]
    for change in ("count=3 pairs", "count="):
        assert run("ledger", "amend", one, change, "--reason", "looked again").returncode == 0
    assert listed()[0]["behaviour"] == ["tandem"]
    run("ledger", "amend", one, "behaviour=tandem", "--reason", "looked again")
    ran = run("ledger", "amend", one, "count=12", "--reason", "counted")
    assert (ran.returncode, "behaviour-without-pairs" in ran.stderr) == (2, True)
    assert run("ledger", "amend", one, "count=12", "behaviour=", "--reason", "counted").returncode == 0
    ran = run("ledger", "amend", one, "sex=m", "stage=ten", "--reason", "looked again")
    assert (ran.returncode, listed()[0]["sex"], listed()[0]["stage"]) == (0, "male", "teneral")


@pytest.mark.parametrize(
    ("weather", "code"),
    [("12C sun 110", "sun-over-100"), ("99C", "temperature-unlikely"), ("F15", "wind-not-beaufort")],
)
def test_weather_that_cannot_be_is_refused_as_in_log(log, run, listed, weather: str, code: str) -> None:
    log("6 pale m")
    [visit] = [json.loads(line)["id"] for line in run("visit", "list", "--json").stdout.splitlines()]
    ran = run("ledger", "amend", visit, f"weather={weather}", "--reason", "slip")
    assert (ran.returncode, code in ran.stderr) == (2, True)
    assert run("ledger", "amend", visit, "weather=heavy dew at first", "--reason", "slip").returncode == 0
