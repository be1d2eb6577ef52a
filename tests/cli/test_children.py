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
    ],
)
def test_a_childs_name_is_refused_where_nobody_can_be_asked(run: Callable[..., Ran], line: str, seen: str) -> None:
    for dry in ((), ("--dry-run",)):
        ran = run("log", "--by", "Ada Marsh", *dry, line, seen)
        assert ran.returncode == 2, ran.stdout
        assert "child-may-be-named" in ran.stderr
    assert run("ledger", "list", "--json").stdout == ""


@pytest.mark.parametrize("line", [f"{AT} with Ben Sallow and 6 children", f"{AT} with Mia", f"{AT} 6 children"])
def test_children_without_names_and_people_without_children_are_no_question(run: Callable[..., Ran], line: str) -> None:
    ran = run("log", "--by", "Ada Marsh", line, "3 emp m")
    assert ran.returncode == 0, ran.stderr
    assert json.loads(run("ledger", "list", "--json").stdout)["count"] == 3


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
