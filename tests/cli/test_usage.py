"""Wrong usage is told as every other fault is: code, what was typed, what is wrong, what to type instead."""

from __future__ import annotations

import pytest

CASES = (
    (("about",), "word-missing", "NAME is missing.", "for example:  reedmace about emperor"),
    (("season",), "word-missing", "YEAR is missing.", "for example:  reedmace season 2026"),
    (
        ("ledger", "amend", "12ab", "count=2"),
        *("word-missing", "--reason TEXT is needed: why, in a few words.", "for example:  reedmace ledger amend"),
    ),
    (("export",), "word-missing", "--to FILE is needed: the file to write.", "--to season.csv"),
    (("name", "--halp"), "unknown-option", "There is no such option in  reedmace name .", "did you mean --help? More:"),
    (("name", "--zzz"), "unknown-option", "no such option", "options: --date, --place, --habitat,"),
    (
        ("ledger", "amned"),
        "unknown-command",
        "in  reedmace ledger .",
        "did you mean amend or same? More:",
    ),
    (("visit", "strat"), "unknown-command", "no such command in  reedmace visit .", "did you mean start? More:"),
    (("keys", "chekc"), "unknown-command", "no such command in  reedmace keys .", "did you mean check? More:"),
    (
        ("export", "2026"),
        *(
            "unknown-command",
            "in  reedmace export .",
            "without a command:  reedmace export --season 2026",
        ),
    ),
    (("ledger", "list", "--first", "x"), "value-not-taken", "--first: 'x' is no whole number.", "more:  reedmace"),
    (("ledger", "list", "--first", "0"), "value-not-taken", "--first: 0 is too small: 1 or more.", "more:  reedmace"),
    (("keys", "trial", "--wrong-sex", "2"), "value-not-taken", "2.0 is not between 0 and 1.", "more:  reedmace"),
    (("keys", "trial", "--chain", "x"), "value-not-taken", "--chain: 'x' is no number.", "more:  reedmace"),
    (("name", "--eye", "good"), "value-not-taken", "--eye: 'good' is not one of", "more:  reedmace name --help"),
    (("name", "--date"), "option-misused", "Something is missing behind --date: DATE.", "reedmace name --help"),
    (("name", "--json=3"), "option-misused", "Nothing belongs behind --json.", "reedmace name --help"),
    (("ledger", "where", "there"), "too-many-words", "There are more words than this takes: there.", "in quotes"),
)


@pytest.mark.parametrize(("typed", "code", "message", "hint"), CASES, ids=[" ".join(case[0]) for case in CASES])
def test_wrong_usage_is_a_fault_with_a_remedy(run, typed: tuple[str, ...], code: str, message: str, hint: str) -> None:
    """On standard error, with exit code 2, in no word of a parser's."""
    ran = run(*typed)
    assert (ran.returncode, ran.stdout) == (2, "")
    lines = ran.stderr.splitlines()
    assert lines[0] == code
    assert message in ran.stderr
    assert lines[-1].startswith("hint: ")
    assert hint in lines[-1]
    for word in ("Usage", "Error", "argument", "parameter", "valid"):
        assert word not in ran.stderr


def test_what_was_typed_is_shown_as_plain_text(run) -> None:
    """An escape in a command or an option does nothing to the terminal."""
    for typed in (("\x1b[31mred",), ("name", "--\x1b[31mred"), ("ledger", "list", "--first", "\x1b[31m")):
        ran = run(*typed)
        assert ran.returncode == 2
        assert "\x1b" not in ran.stderr
