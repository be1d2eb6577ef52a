"""A name that may be a child's is asked about before anything is written."""

from __future__ import annotations

import json
import shlex
from collections.abc import Callable
from pathlib import Path

import pytest

from cli.seat import Seat
from conftest import Ran
from ledger.pond import counting
from reedmace.ledger.store import open_ledger
from reedmace.ledger.wanted import Wanted

AT = "visit 2026-07-12 @ SU 431 118"


@pytest.mark.parametrize(
    ("line", "seen"),
    [
        (f"{AT} with Mia # aged 8", "3 emp m"),
        (f"{AT} with Mia and 5 children", "3 emp m"),
        (f"{AT} with Ben Sallow, Mia Linley # Mia is aged 8", "3 emp m"),
        (AT, '3 emp m with Mia "aged 8"'),
        (f'{AT} with "Lily Marsh (8)"', "3 emp m"),
        (f"{AT} det Mia and 6 children", "3 emp m"),
        (AT, '2 large red by Tom "aged 8"'),
        (AT, "2 large red by Tom # aged 8"),
        (AT, "2 large red by Tom Linley # Tom is aged 8"),
        (AT, "2 large red by Tom # 8 years old"),
        (AT, '2 large red by Lily "my daughter, 8"'),
        (AT, '2 large red by Lily Marsh "my daughter, 8"'),
        (AT, '2 large red by "Lily (8)"'),
        (AT, "2 large red by Lily # (8)"),
        (f"{AT} with 6 children", "1 emp by Tom"),
        (f"{AT} # with the pupils", "1 emp det Tom"),
        (f"{AT} party of 12", "1 emp with Tom"),
        (f"{AT} party of 12 with Tom and Lily", "3 emp m"),
        (f"{AT} # walk with Tom aged 7", "3 emp m"),
        (f"{AT} # with Tom, 7, and Lily, 9", "3 emp m"),
        (f"{AT} # a 7-year-old Tom was the first", "3 emp m"),
        (AT, '1 emp "found by Tom, aged 7"'),
        (f"{AT} # Cubs walk", "1 emp by Tom"),
        (f"{AT} # walk of the playgroup", "1 emp det Tom"),
        (AT, "2 emp m # Finn Sallow (8) netted it"),
        (AT, "2 emp m # my daughter Poppy saw it first"),
        (AT, "2 emp m # Finn, Year 5, netted it"),
        (f"{AT} with 6 children", "2 emp # Finn saw it first"),
        (f"{AT} with 6 children # Finn saw the most", "2 emp"),
    ],
)
def test_a_childs_name_is_refused_where_nobody_can_be_asked(run: Callable[..., Ran], line: str, seen: str) -> None:
    for dry in ((), ("--dry-run",)):
        ran = run("log", "--by", "Ada Marsh", *dry, line, seen)
        assert ran.returncode == 2, ran.stdout
        assert "child-may-be-named" in ran.stderr
    assert run("ledger", "list", "--json").stdout == ""


@pytest.mark.parametrize(
    "line",
    [
        f"{AT} with Ben Sallow and 6 children",
        f"{AT} with Mia",
        f"{AT} 6 children",
        f"{AT} with Ben Sallow and 6 children # children aged 8 to 10",
        f"{AT} by Ben Sallow party of 12 # pupils (8-10 years old)",
        f"{AT} with T. and 6 children",
        f'{AT} with "a child" # aged 8',
        f"{AT} by Cat Child with Mia",
        f"{AT} by Ben Sallow # the pond is 3 years old",
        f"{AT} with Mia # Emperor (7), Brown Hawker (3)",
        f"{AT} # Cubs aged 8 to 10, and Ben Sallow, 61",
        f'{AT} "School Pond" with Mia',
        f"{AT} # with T., 7",
        f"{AT} by Ada Marsh with 6 children # Ada saw the last one by the sluice",
        f"{AT} with 6 children # Emperor caught a Common Darter at Tern Hollow",
        f"{AT} # Ben saw it first",
    ],
)
def test_children_without_names_and_people_without_children_are_no_question(run: Callable[..., Ran], line: str) -> None:
    ran = run("log", "--by", "Ada Marsh", line, "3 emp m")
    assert ran.returncode == 0, ran.stderr
    assert json.loads(run("ledger", "list", "--json").stdout)["count"] == 3


@pytest.mark.parametrize(
    ("line", "seen"),
    [
        (f"{AT} with Tom (8)", "3 emp m"),
        (f"{AT} with Tom, 8", "3 emp m"),
        (f"{AT} with Tom my son", "3 emp m"),
        (f"{AT} with 6 children, Tom and Lily", "3 emp m"),
        (f"{AT} with Tom (7) and Lily", "3 emp m"),
        (AT, "2 large red by Tom (8)"),
        (AT, "2 large red by Tom aged 8"),
    ],
)
def test_nobody_is_advised_to_keep_a_childs_name_in_a_remark(run: Callable[..., Ran], line: str, seen: str) -> None:
    ran = run("log", "--by", "Ada Marsh", line, seen, env={"COLUMNS": "200"})
    assert ran.returncode == 2, ran.stdout
    assert 'write initials or "a child" in place of the name' in ran.stderr
    assert "remark" not in ran.stderr


def test_a_word_not_read_beside_an_adult_can_still_be_a_remark(run: Callable[..., Ran]) -> None:
    ran = run("log", "--by", "Ada Marsh", AT, "by Ben Sallow 2 emp lovely")
    assert "to keep it as a remark" in ran.stderr


def test_a_party_under_way_has_no_bare_first_names_on_later_lines(run: Callable[..., Ran]) -> None:
    ada = ("--by", "Ada Marsh")
    assert run("visit", "start", *ada, "@ SU 431 118 with 6 children").returncode == 0
    assert "child-may-be-named" in run("log", *ada, "1 emp by Tom").stderr
    assert run("log", *ada, "1 emp by Tom Linley").returncode == 0


def test_who_is_named_in_full_on_the_visits_line_is_meant_by_the_first_name(run: Callable[..., Ran]) -> None:
    """The whole name is asked for, and no child is thought of; another name in the party may still be a child's."""
    said = ("--by", "Ada Marsh", "--dry-run", f"{AT} with Ben Sallow and party of 12")
    for line in ("1 emp by Ben", "1 emp (seen by Ben)"):
        ran = run("log", *said, line)
        assert (ran.returncode, "child-may-be-named" in ran.stderr) == (2, False)
        assert "write the whole name,  Ben Sallow" in ran.stderr
    for line in ("1 emp by Tom", '1 emp by "Ben"', "1 emp by Ben # aged 8"):
        assert "child-may-be-named" in run("log", *said, line).stderr


def test_at_a_terminal_every_such_name_is_asked_about(run: Callable[..., Ran], seat: Callable[..., Seat]) -> None:
    with seat("log", "--by", "Ada Marsh", f"{AT} party of 12 with Tom and Lily", "3 emp m", columns=160) as sat:
        sat.wait_for('"Tom" may be a child')
        sat.type("y")
        sat.wait_for('"Lily" may be a child')
        sat.type("n")
        sat.leave()
    assert run("ledger", "list", "--json").stdout == ""


def test_a_visit_under_way_names_no_child_either(run: Callable[..., Ran]) -> None:
    ran = run("visit", "start", "--by", "Ada Marsh", "@ SU 431 118 with Mia # aged 8")
    assert ran.returncode == 2
    assert "child-may-be-named" in ran.stderr


@pytest.mark.parametrize(("answer", "left"), [("n", 0), ("y", 1)])
def test_at_a_terminal_it_is_a_question(
    run: Callable[..., Ran], seat: Callable[..., Seat], answer: str, left: int
) -> None:
    with seat("log", "--by", "Ada Marsh", f"{AT} with Mia # aged 8", "3 emp m") as sat:
        sat.wait_for("adult's name?")
        sat.type(answer)
        sat.leave()
    assert len(run("ledger", "list", "--json").stdout.splitlines()) == left


@pytest.mark.parametrize(
    "change",
    [
        ("remarks=Poppy aged 7 was there",),
        ("party=6 children, Poppy and Finn",),
        ("remarks=by the sluice", "--reason", "Poppy (7) said so"),
        ("party=6 children", "remarks=Finn saw most"),
    ],
)
def test_a_correction_brings_in_no_child(run: Callable[..., Ran], change: tuple[str, ...]) -> None:
    assert run("log", "--by", "Ada Marsh", f"{AT} with 6 children", "3 emp m").returncode == 0
    [visit] = [json.loads(line)["id"] for line in run("visit", "list", "--json").stdout.splitlines()]
    reason = () if "--reason" in change else ("--reason", "slip")
    ran = run("ledger", "amend", visit, *change, *reason, "--by", "Ada Marsh")
    assert (ran.returncode, "child-may-be-named" in ran.stderr) == (2, True), ran.stdout
    assert len(run("ledger", "history", visit, "--json").stdout.splitlines()) == 1
    sighting = json.loads(run("ledger", "list", "--json").stdout)["id"]
    ran = run("ledger", "amend", sighting, "remarks=Finn saw it first", "--reason", "slip", "--by", "Ada Marsh")
    assert "child-may-be-named" in ran.stderr


def test_a_reason_that_stands_for_ever_names_no_child(run: Callable[..., Ran]) -> None:
    assert run("log", "--by", "Ada Marsh", AT, "3 emp m").returncode == 0
    sighting = json.loads(run("ledger", "list", "--json").stdout)["id"]
    for command in (("withdraw",), ("redetermine", "--name", "southern hawker")):
        ran = run("ledger", *command, sighting, "--reason", "my son Finn was not sure", "--by", "Ada Marsh")
        assert "child-may-be-named" in ran.stderr
    assert "child-may-be-named" in run("ledger", "undo", "--reason", "Poppy (7) said so", "--by", "Ada Marsh").stderr


@pytest.mark.parametrize("name", ["Poppy, 7", "Poppy (aged 7)", "my daughter Poppy"])
def test_no_child_is_put_into_the_register(run: Callable[..., Ran], name: str) -> None:
    for words in (("people", "--me", name), ("people", "--add", name), ("log", "--by", name, AT, "3 emp m")):
        ran = run(*words)
        assert (ran.returncode, "child-may-be-named" in ran.stderr) == (2, True), ran.stdout
    assert run("people").stdout == ""


SHEET = "Record ID,Species,Date,Grid ref,Number,Observer,Comment,Visit comment,Behaviour\n"
ROW = "a-1,Pale Rushlet,12/07/2026,SU 431 118,3,Ada Marsh,{}\n"


def imported(tarn_run: Callable[..., Ran], tmp_path: Path, cells: str, *more: str) -> Ran:
    (tmp_path / "walks.csv").write_text(SHEET + ROW.format(cells))
    mapped = ("--map", "Visit comment=visit_remarks")
    return tarn_run("ledger", "import", "walks.csv", "--yes", *mapped, *more)


@pytest.mark.parametrize(
    "cells",
    [
        "with Poppy (age 7) on the bank,,",
        ",with Poppy (age 7) on the bank,",
        ",,on the hat of Poppy aged 7",
        "Finn saw it first,walk with 6 children,",
        "my daughter Poppy saw it,,",
    ],
)
def test_a_childs_name_in_the_words_of_a_sheet_comes_back(tarn_run, owned, listed, tmp_path: Path, cells: str) -> None:
    """As `log` refuses it; whatever else the row says is in the file of faults, and comes in once it is corrected."""
    for dry in (["--dry-run"], []):
        ran = imported(tarn_run, tmp_path, cells, *dry)
        assert (ran.returncode, "child-may-be-named" in ran.stdout) == (1, True), ran.stdout + ran.stderr
    assert listed() == []
    [back] = tmp_path.glob("*faults*.csv")
    back.write_text(back.read_text(encoding="utf-8-sig").replace("Poppy", "a child").replace("Finn", "a child"))
    assert tarn_run("ledger", "import", back.name, "--yes", "--map", "Visit comment=visit_remarks").returncode == 0
    assert [one["id"] for one in listed()] == ["a-1"]


@pytest.mark.parametrize("cells", ["Ada saw it first,walk with 6 children,", "3 (7 in all),,", "with the cubs,,"])
def test_a_sheet_that_names_no_child_comes_in(tarn_run, owned, tmp_path: Path, cells: str) -> None:
    """Whoever saw it is known in full."""
    ran = imported(tarn_run, tmp_path, cells)
    assert ran.returncode == 0, ran.stdout


def kept_already(clean_env: dict[str, str], where: str) -> str:
    """Have a child's name in the words of the only record, as a ledger of earlier days may; gives the record's id."""
    with open_ledger(clean_env["REEDMACE_LEDGER"]) as ledger:
        [(sighting, visit, _)] = ledger.current_sightings(Wanted())
        standing = ledger.standing(sighting.id if where == "sighting" else visit.id)
        assert standing is not None
        record, meta = standing
        changed = record._replace(remarks="with Poppy (age 7) on the bank")
        me = ledger.people.me()
        assert me is not None
        ledger.amend_all([(changed, meta.entry_id)], "more told", me, "2026-07-20T18:00:00Z", counting(700, "e"))
        return sighting.id


@pytest.mark.parametrize("where", ["sighting", "visit"])
def test_what_a_ledger_holds_of_a_child_already_is_asked_about(
    tarn_run, log, run, clean_env, listed, tmp_path: Path, where: str
) -> None:
    """By `check` and beside an export; the remedy can be typed, and leaves no byte of the name."""
    log("3 pale")
    record = kept_already(clean_env, where)
    told = [json.loads(line) for line in tarn_run("check", "--json").stdout.splitlines()]
    [asked] = [one for one in told if one["code"] == "child-named"]
    assert (asked["severity"], asked["sighting"]) == ("doubt", record)
    assert tarn_run("check", "--strict").returncode == 1
    sent = tarn_run("export", "--season", "2025", "--to", "season.csv", "--cover", "cover.html")
    assert sent.returncode == 0, sent.stderr
    assert '"Poppy" may be a child' in " ".join(sent.stderr.split())
    assert '"Poppy" may be' not in (tmp_path / "cover.html").read_text()
    remedy = shlex.split(asked["remedy"].partition(":  ")[2])
    assert asked["remedy"].partition(":  ")[2] in sent.stderr
    ran = run(*remedy[1:])
    assert (ran.returncode, "not-confirmed" in ran.stderr) == (2, True)
    assert run(*remedy[1:], "--yes").returncode == 0
    assert "Poppy" not in Path(clean_env["REEDMACE_LEDGER"]).read_bytes().decode("utf-8", "replace")
    assert "child-named" not in tarn_run("check").stdout
    sent = tarn_run("export", "--season", "2025", "--to", "season.csv", "--force")
    assert "may be a child" not in sent.stderr


def test_an_answer_that_it_is_no_child_holds_for_exports_too(tarn_run, log, clean_env) -> None:
    """Until the record is changed."""
    log("3 pale")
    record = kept_already(clean_env, "sighting")
    done = tarn_run("check", "--answer", record, "child-named", "--reason", "the boat is called so")
    assert done.returncode == 0, done.stderr
    sent = tarn_run("export", "--season", "2025", "--to", "season.csv")
    assert "may be a child" not in sent.stderr


def test_a_public_version_holds_no_words_and_asks_nothing(tarn_run, log, clean_env) -> None:
    log("3 pale")
    kept_already(clean_env, "sighting")
    sent = tarn_run("export", "--season", "2025", "--to", "season.csv", "--public")
    assert (sent.returncode, "may be a child" in sent.stderr) == (0, False)


def test_a_childs_name_in_a_file_is_asked_about_too(tarn_run, tmp_path: Path) -> None:
    """There the remedy is the file's own to take."""
    head = "occurrenceID,basisOfRecord,scientificName,eventDate,recordedBy,occurrenceRemarks"
    row = "a-1,HumanObservation,Tarnula pallida,2026-07-12,Ada Marsh,with Poppy (age 7) on the bank"
    (tmp_path / "friend.csv").write_text(f"{head}\n{row}\n")
    told = [json.loads(line) for line in tarn_run("check", "friend.csv", "--json").stdout.splitlines()]
    [asked] = [one for one in told if one["code"] == "child-named"]
    assert (asked["severity"], asked["remedy"].startswith("write initials")) == ("doubt", True)


def test_a_word_that_nobody_says_is_no_name_to_forget(owned, run) -> None:
    ran = run("ledger", "forget", "Poppy", "--redact", "--yes")
    assert (ran.returncode, "unknown-person" in ran.stderr) == (2, True)
