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
    (
        ("ledger", "list", "--first", "0"),
        "value-not-taken",
        "--first: 0 is not between 1 and 1000000000.",
        "more:  reedmace",
    ),
    (("keys", "trial", "--runs", "0"), "value-not-taken", "--runs: 0 is too small: 1 or more.", "more:  reedmace"),
    (("keys", "trial", "--wrong-sex", "2"), "value-not-taken", "2.0 is not between 0 and 1.", "more:  reedmace"),
    (("keys", "trial", "--chain", "x"), "value-not-taken", "--chain: 'x' is no number.", "more:  reedmace"),
    (("name", "--eye", "good"), "value-not-taken", "--eye: 'good' is not one of", "more:  reedmace name --help"),
    (
        ("ledger", "import", "a.csv", "--delimiter", ";;"),
        *("value-not-taken", '--delimiter: ";;" parts no cells.', "more:  reedmace ledger import --help"),
    ),
    (("reply", "a.csv", "--delimiter", "\n"), "value-not-taken", "Write one sign", "more:  reedmace reply --help"),
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


def test_what_cannot_be_used_is_a_fault_and_no_bug_of_ours(log, run, tarn_run, tmp_path) -> None:
    """Names of files that no disk takes, names of people without a letter, bytes that are no text, empty words."""
    log("12 pale m")
    long = "x" * 300
    for typed, code in (
        (("ledger", "backup", ""), "backup-cannot-write"),
        (("ledger", "backup", "."), "backup-cannot-write"),
        (("ledger", "backup", str(tmp_path)), "backup-cannot-write"),
        (("ledger", "where", "--ledger", long), "file-cannot-read"),
        (("ledger", "list", "--ledger", long), "file-cannot-read"),
        (("ledger", "list", "--person", "."), "unknown-person"),
        (("ledger", "list", "--first", "9" * 30), "value-not-taken"),
        (("ledger", "list", "--place", "a\udcffb"), "text-unreadable"),
        (("ledger", "list", "--species", "a\udcffb"), "text-unreadable"),
        (("ledger", "history", "a\udcffb"), "text-unreadable"),
        (("ledger", "merge", "none.ledger"), "file-cannot-read"),
        (("ledger", "dump", "--to", ""), "file-cannot-write"),
        (("people", "--me", "."), "person-unclear"),
    ):
        ran = run(*typed)
        assert ran.returncode in (1, 2), (typed, ran)
        assert ran.stdout == ""
        assert code in ran.stderr, (typed, ran)
    assert tarn_run("log", "2 pale m", "--ledger", long, "--by", "Ada Marsh").returncode == 2


def test_a_sign_that_parts_cells_may_be_named(tarn_run, owned, tmp_path) -> None:
    """`--delimiter semicolon` is `;`, and a tab can be written in more than one way."""
    for name, sign in (("semicolon", ";"), ("tab", "\t"), ("\\t", "\t"), ("|", "|")):
        cells = ("Date", "Gridref", "Species", "No"), ("12/07/2025", "SU 431 118", "pale rushlet", "4")
        (tmp_path / "walk.csv").write_text("".join(f"{sign.join(row)}\n" for row in cells))
        ran = tarn_run("ledger", "import", "walk.csv", "--delimiter", name, "--yes", "--dry-run", "--json")
        assert ran.returncode == 0, ran
