"""Options: one spelling for one thing in every command; earlier spellings are still taken."""

from __future__ import annotations

import json
from collections import defaultdict

import click
import pytest

from cli.test_help import ALL

# Spellings that stand for two things, and why.
TWO_THINGS = {
    "--since": "of years where a status is of years",
    "--until": "of years where a status is of years",
    "--also": "another name of a site; words to look for",
    "--why": "a species; a code",
    "--status": "words of the ledger; a choice of what is sent",
}


def spelled() -> dict[str, set[tuple[str, bool]]]:
    """What each spelling takes, over all commands: its metavar and whether it is a flag."""
    found = defaultdict(set)
    for _, command in ALL:
        for one in command.params:
            if isinstance(one, click.Option):
                for spelling in one.opts:
                    found[spelling].add((one.metavar or one.type.name.upper(), one.is_flag))
    return found


def test_an_option_takes_the_same_in_every_command() -> None:
    """`--season YEAR` is not `--season TEXT` elsewhere."""
    several = {spelling for spelling, taken in spelled().items() if len({*taken}) > 1}
    assert several - {"--name", "--profile"} == set(TWO_THINGS)


def test_an_earlier_spelling_is_taken_and_not_shown(run) -> None:
    """`--name` of a list is `--species`, `--profile` of an import `--mapping`, `--note` of a receipt `--remarks`."""
    for path, shown, earlier in (
        (("ledger", "list"), "--species NAME", "--name"),
        (("breeding",), "--species NAME", "--name"),
        (("breeding",), "--place PLACE", "--site"),
        (("ledger", "import"), "--mapping NAME", "--profile"),
        (("reply",), "--remarks TEXT", "--note"),
    ):
        told = run(*path, "--help").stdout
        assert shown in told
        assert earlier not in told
        [command] = [one for at, one in ALL if at == path]
        assert any(earlier in one.opts for one in command.params)


def test_an_earlier_spelling_does_the_same(log, listed) -> None:
    """Both find what was logged."""
    log("12 pale rushlet m", "3 misty rushlet f")
    [one] = listed("--species", "Pale Rushlet")
    assert listed("--name", "Pale Rushlet") == [one]


def test_breeding_is_of_the_place_and_the_years_asked_for(log, tarn_run, run) -> None:
    """A square holds the smaller ones in it; part of a name will do; years are whole years."""
    log("12 pale rushlet m", "ex pale rushlet")
    elsewhere = ("--place", "SU 55 20", "--date", "3 July 2024", "--locality", "Moss Farm pond", "--by", "Ada Marsh")
    assert tarn_run("log", "ex misty rushlet", *elsewhere).returncode == 0

    def names(*asked: str) -> list[str]:
        ran = run("breeding", "--json", *asked)
        assert ran.returncode == 0, ran.stderr
        return sorted({json.loads(line)["vernacular"] for line in ran.stdout.splitlines()})

    assert names() == ["Misty Rushlet", "Pale Rushlet"]
    for asked in (("--place", "SU 41"), ("--site", "SU4311"), ("--since", "2025"), ("--species", "pale rushlet")):
        assert names(*asked) == ["Pale Rushlet"], asked
    for asked in (("--place", "moss farm"), ("--until", "2024")):
        assert names(*asked) == ["Misty Rushlet"], asked
    assert names("--place", "SU 99") == []


@pytest.mark.parametrize("typed", ["last", "26", "1599", "3000", "12026", "２０２６", "-2026"])
@pytest.mark.parametrize("command", [("season",), ("ledger", "list", "--season"), ("breeding", "--since")])
def test_what_is_no_year_is_told_in_plain_words(run, command: tuple[str, ...], typed: str) -> None:
    """With what was typed and what to write instead, in the terms of no programming language."""
    ran = run(*command, *(["--", typed] if command == ("season",) else [typed]))
    assert (ran.returncode, ran.stdout) == (2, "")
    assert f'"{typed}" is no year. Write one with four digits, such as 2026.' in ran.stderr
    assert "integer" not in ran.stderr
