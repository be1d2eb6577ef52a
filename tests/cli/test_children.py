"""A name that may be a child's is asked about before anything is written."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest

from cli.seat import Seat
from conftest import Ran

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
