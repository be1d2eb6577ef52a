"""What a terminal wishes: no colour, sixty columns, no UTF-8; and what it is when nobody looks."""

from __future__ import annotations

import re

import pytest

from tarn import FOLDER

ESCAPE = "\x1b["
NAME = ("name", "wings=closed", "colour=blue", "bar=present", "--key", FOLDER, "--date", "1 July 2026")


def test_a_pipe_gets_no_colour(run) -> None:
    """Also when the environment praises the terminal."""
    assert ESCAPE not in run(*NAME, env={"TERM": "xterm-256color", "COLORTERM": "truecolor"}).stdout
    assert ESCAPE not in run("name", "wings=sideways", "--key", FOLDER, env={"TERM": "xterm-256color"}).stderr


def test_a_terminal_gets_colour_for_results_and_faults(seat) -> None:
    """Only there."""
    with seat(*NAME) as there:
        assert there.leave() == 0
        assert ESCAPE in there.seen
    with seat("name", "wings=sideways", "--key", FOLDER) as there:
        assert there.leave() == 2
        assert ESCAPE in there.seen


@pytest.mark.parametrize("wish", [{"NO_COLOR": "1"}, {"NO_COLOR": ""}, {"TERM": "dumb"}])
def test_a_terminal_that_wants_no_colour_gets_none(seat, wish: dict[str, str]) -> None:
    """The words are the same: colour is never the only carrier of meaning."""
    with seat(*NAME) as plain:
        plain.leave()
    with seat(*NAME, env=wish) as there:
        assert there.leave() == 0
    assert ESCAPE not in there.seen
    assert there.text == plain.text
    with seat("name", "wings=sideways", "--key", FOLDER, env=wish) as there:
        assert there.leave() == 2
    assert ESCAPE not in there.seen


@pytest.mark.parametrize("columns", [60, 72, 100])
def test_a_terminals_width_is_kept(seat, columns: int) -> None:
    """Tables, paragraphs and faults; a wide one is not filled beyond 100."""
    with seat(*NAME, columns=columns) as there:
        there.leave()
    widest = max(map(len, there.text.split("\n")))
    assert columns - 25 < widest <= columns
    with seat("name", "wings=sideways", "spurr=present", "--key", FOLDER, columns=columns) as there:
        there.leave()
    assert max(map(len, there.text.split("\n"))) <= columns


def test_columns_rules_where_there_is_no_terminal(run) -> None:
    """Without it, 80."""
    assert max(map(len, run(*NAME, env={"COLUMNS": "60"}).stdout.split("\n"))) <= 60
    assert 60 < max(map(len, run(*NAME).stdout.split("\n"))) <= 80
    assert 80 < max(map(len, run(*NAME, env={"COLUMNS": "500"}).stdout.split("\n"))) <= 100


@pytest.mark.parametrize("columns", ["0", "-5", "wide", "1"])
def test_a_width_that_is_none_is_no_fault(run, columns: str) -> None:
    """Something sensible is taken instead."""
    ran = run(*NAME, env={"COLUMNS": columns})
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "Pale" in ran.stdout


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252"])
def test_a_stream_without_utf8_never_fails(log, tarn_run, run, encoding: str) -> None:
    """Not in a list with a foreign name in it, nor in a fault that quotes one, nor in the help."""
    poor = {"PYTHONIOENCODING": encoding}
    assert log("~40 pale  # 池", "--locality", "Bédoin 池", env=poor).returncode == 0
    for ran in (
        run("ledger", "list", env={**poor, "COLUMNS": "100"}),
        tarn_run("check", env=poor),
        run("log", "--help", env=poor),
        tarn_run(*NAME[:4], env=poor),
        run("ledger", "where", env=poor),
    ):
        assert ran.returncode == 0, ran.stderr
    slip = tarn_run("name", "池=é", env=poor)
    assert slip.returncode == 2
    assert re.search(r"\\u6c60", slip.stderr)


def test_plain_lines_are_not_longer_than_100_on_a_wide_terminal(log) -> None:
    """Whoever reads lines of two hundred signs loses the next one."""
    shown = log("12 pale m # " + "by the sluice " * 20, env={"COLUMNS": "200"}).stdout.splitlines()
    assert 90 < max(map(len, shown)) <= 100
