"""`reedmace log`: what is written, what is refused, and that nothing is ever half written."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tarn import FOLDER

AT = ("--place", "SU 431 118", "--date", "12 July 2025")


def test_a_line_is_told_back_as_it_was_understood(tarn_run, owned) -> None:
    """Who, when, where, and each line in words; the way back on standard error."""
    ran = tarn_run("log", "12", "pale", "m", *AT, "--locality", "Harrowmere, Sallow Farm tarn")
    assert ran.stdout == (
        "2025-07-12 at SU431118, Harrowmere, Sallow Farm tarn, by Ada Marsh:\n"
        "  Pale Rushlet: 12 male\n"
        "Logged for Ada Marsh: 1 sighting.\n"
    )
    assert "ledger undo" in ran.stderr


def test_several_lines_are_one_visit(log, listed) -> None:
    """In quotes, each its own line."""
    log("2m 3f pale", "3 cop misty", "great f ?  # glimpse")
    kept = listed()
    assert len(kept) == 4
    assert len({one["visit_id"] for one in kept}) == 1
    assert len({one["line_id"] for one in kept}) == 3


@pytest.mark.parametrize("ends", ["\n", "\r\n", "\r", "\n\n"])
def test_a_line_break_within_quotes_ends_a_line(log, listed, ends: str) -> None:
    """As in a file: a remark goes to the end of its line and no further."""
    ran = log(ends.join(["3 pale m # over the reeds", "5 misty", "all dams", ""]))
    assert ran.returncode == 0, ran.stderr
    kept = {one["count"]: one for one in listed()}
    assert sorted(kept) == [3, 5]
    assert (kept[3]["remarks"], kept[3]["visit"]["all_damselflies"]) == ("over the reeds", True)


def test_the_line_of_a_visit_in_quotes_ends_with_its_line(tarn_run, owned, listed) -> None:
    """What stands below it in the same quotes was seen, and is no remark."""
    ran = tarn_run("log", "visit 2025-07-12 @ SU 431 118 all # warm\n3 pale # over the reeds\n5 misty")
    assert ran.returncode == 0, ran.stderr
    assert {one["count"] for one in listed()} == {3, 5}
    assert listed()[0]["visit"]["remarks"] == "warm"


def test_words_without_quotes_before_several_lines_belong_to_the_first(tarn_run, owned, listed) -> None:
    """The shell took the quotes of the rest away."""
    assert tarn_run("log", "3", "pale m # over the reeds\n5 misty", *AT).returncode == 0
    assert {(one["count"], one["sex"]) for one in listed()} == {(3, "male"), (5, None)}


def test_a_remark_in_quotes_is_never_broken_over_lines(tarn_run, owned, listed) -> None:
    """It could be a further line: it is refused, and nothing is written."""
    ran = tarn_run("log", "3", "pale", "by the reeds\n5 misty", *AT)
    assert (ran.returncode, listed()) == (2, [])


def test_an_insect_in_quotes_is_no_remark_of_another(tarn_run, owned, listed) -> None:
    """Where a line beside it is not understood that is told, and nothing is written; so is what could be either."""
    for words, code in (
        (("12 pale m", "misty"), "ambiguous-name"),  # alone it may be the weather
        (("12 pael m", "great"), "unknown-name"),
        (("2", "great", "misty rushlet"), "lines-or-remark"),
    ):
        ran = tarn_run("log", *words, *AT)
        assert (ran.returncode, code in ran.stderr) == (2, True), ran.stderr
    assert listed() == []
    for words in (("great boulderer", "12", "m"), ("2", "misty", "by the sluice"), ("pale", "3 m")):
        ran = tarn_run("log", *words, *AT)
        assert ran.returncode == 0, ran.stderr
    assert sorted((one["count"], one["remarks"]) for one in listed()) == [
        (2, "by the sluice"),
        (3, ""),
        (12, ""),
    ]


def test_a_visit_is_begun_in_one_line(tarn_run, owned) -> None:
    """What stands behind a line break would else be lost in a remark."""
    ran = tarn_run("visit", "start", "now @ SU 431 118 # warm\n3 pale")
    assert "several-lines" in ran.stderr


def test_lines_come_on_standard_input_with_blank_ones_and_remarks_between(tarn_run, owned, listed) -> None:
    """A notebook page, pasted."""
    page = "# after lunch\n12 pale m\n\n3 cop misty   # by the reeds\r\n   \n~40 great\n"
    ran = tarn_run("log", *AT, stdin=page)
    assert ran.returncode == 0, ran.stderr
    assert sorted(one["typed"] for one in listed()) == ["12 pale m", "3 cop misty   # by the reeds", "~40 great"]


def test_a_protected_species_is_answered_with_the_word_of_care(log) -> None:
    """At once, when it can still be left alone."""
    assert "it may not be caught (as of 2026-01-05)" in log("1 lone m").stdout


def test_a_position_pasted_from_a_phone_is_a_place(tarn_run, owned, listed) -> None:
    """Degrees as phones write them, with and without signs and letters."""
    for typed in ("51.0641, -1.3142", "51.0641,-1.3142", "51.0641° N, 1.3142° W", "51°03'50.8\"N 1°18'51.1\"W"):
        ran = tarn_run("log", "1 pale m", "--place", typed, "--date", "12 July 2025")
        assert ran.returncode == 0, ran.stderr
    for one in listed():
        assert one["latitude"] == pytest.approx(51.0641, abs=2e-5)
        assert one["longitude"] == pytest.approx(-1.3142, abs=2e-5)


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        (("12 pale m", "--place", "SU 431 118", "--date", "1 January 2999"), "date-in-future"),
        (("12 pale m", "--place", "SU 431 118", "--date", "31 June 2025"), "impossible-date"),
        (("12 pale m", "--place", "SU 431 118", "--date", "2025-06-31"), "impossible-date"),
        (("12 pale m", "--place", "SU 431 118", "--date", "12/7/25"), "two-digit-year"),
        (("12 pale m", "--place", "SU 43111"), "grid-odd-digits"),
        (("12 pale m", "--place", "ZZ 431 118"), "grid-letters-unknown"),
        (("12 pale m", "--place", "SU 431 1180"), "grid-unequal-groups"),
        (("12 pale m", "--place", "by the oak"), ""),
        (("12 pale m", "--place", ""), "place-missing"),
        (("12 pale m",), "place-missing"),
        (("0 pale", "--place", "SU 431 118"), "zero-count"),
        (("12 zebra", "--place", "SU 431 118"), "unknown-name"),
        (("12 tarn", "--place", "SU 431 118"), "ambiguous-name"),
        (("12 pale m", "--place", "SU 431 118", "--habitat", "moon"), "unknown-habitat"),
        (("12 pale m", "--place", "SU 431 118", "--vice-county", "300"), ""),
        (("12 pale m", "--place", "SU 431 118", "--evidence", "gossip"), ""),
        (("12 pale m", "--place", "SU 431 118", "--by", "  "), "name-unfit"),
        (("--place", "SU 431 118"), "nothing-to-log"),
    ],
)
def test_a_bad_input_is_a_fault_with_a_remedy_and_nothing_is_written(
    tarn_run, owned, listed, tmp_path: Path, arguments: tuple[str, ...], code: str
) -> None:
    """Exit code 2, on standard error, no traceback; the ledger holds what it held."""
    ran = tarn_run("log", *arguments)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "Traceback" not in ran.stderr
    if code:
        assert any(line.removeprefix(line.rpartition(": ")[0]).endswith(code) for line in ran.stderr.splitlines())
        assert "hint: " in ran.stderr
    assert listed() == []


def test_one_bad_line_among_good_ones_writes_none_of_them(tarn_run, owned, listed) -> None:
    """And all bad ones are told at once."""
    ran = tarn_run("log", *AT, stdin="12 pale m\n0 misty\n3 zebra\n4 great\n")
    assert ran.returncode == 2
    assert "zero-count" in ran.stderr
    assert "unknown-name" in ran.stderr
    assert listed() == []


def test_who_observes_is_asked_for_once(tarn_run, run, listed) -> None:
    """Without an owner it is a fault that says how to name one; --by and REEDMACE_BY serve for one time."""
    ran = tarn_run("log", "12 pale m", *AT)
    assert ran.returncode == 2
    assert "observer-unknown" in ran.stderr
    assert "people --me" in ran.stderr
    assert tarn_run("log", "12 pale m", *AT, "--by", "Ben Sallow").returncode == 0
    assert tarn_run("log", "12 misty m", *AT, env={"REEDMACE_BY": "Cat Rush"}).returncode == 0
    assert {one["observers"][0] for one in listed()} == {"Ben Sallow", "Cat Rush"}


def test_text_that_is_no_text_is_a_fault(clean_env, owned, tarn, listed, tmp_path: Path) -> None:
    """Bytes of another encoding are shown as what they are, and not kept."""
    script = Path(sys.executable).parent / "reedmace"
    for stdin, more in ((b"1 pale  # caf\xe9\n", []), (b"1 pal\xe9\n", []), (b"1 pale\n", ["--locality", b"caf\xe9"])):
        done = subprocess.run(
            [script, "log", *AT, "--key", FOLDER, *more],
            input=stdin,
            capture_output=True,
            env=clean_env,
            cwd=tmp_path,
            check=False,
        )
        assert done.returncode in (1, 2), done.stderr
        assert b"Traceback" not in done.stderr
    assert listed() == []


def test_words_that_look_like_something_else_are_kept_and_shown_as_typed(tarn_run, owned, run, listed) -> None:
    """Markup, emoji names and escape sequences in a place's name reach the screen as text."""
    tricky = "Aus bus [sensu lato] [/x] :bee: \x1b[31mred"
    ran = tarn_run("log", "12 pale m", *AT, "--locality", tricky)
    assert r"Aus bus [sensu lato] [/x] :bee: \x1b[31mred" in ran.stdout
    assert "\x1b" not in ran.stdout
    assert listed()[0]["locality"] == tricky
    shown = run("ledger", "list", env={"COLUMNS": "200"}).stdout
    assert "\x1b" not in shown
    assert "[sensu lato]" in " ".join(shown.split())


def test_a_lines_own_sign_for_an_estimate_reaches_it_through_a_shell(clean_env, owned, tarn, listed, tmp_path) -> None:
    """`~40` and `?` need no quotes of their own inside a quoted line."""
    script = Path(sys.executable).parent / "reedmace"
    command = f"'{script}' log '~40 great ?' --place 'SU 431 118' --date 2025-07-12 --key '{FOLDER}'"
    done = subprocess.run(command, shell=True, capture_output=True, env=clean_env, cwd=tmp_path, check=False)
    assert done.returncode == 0, done.stderr
    (kept,) = listed()
    assert (kept["count"], kept["count_kind"], kept["certainty"]) == (40, "estimate", "uncertain")


def test_a_dry_run_refuses_what_the_real_run_refuses(run, owned, listed) -> None:
    """A visit that ends before it starts."""
    page = ("visit 12/7/2025 14:00-13:00 @ SU 431 118", "3 emp m")
    dry, real = run("log", "--dry-run", *page), run("log", *page)
    assert (dry.returncode, dry.stdout) == (real.returncode, "")
    assert "ends-before-start" in dry.stderr
    assert "ends-before-start" in real.stderr
    assert listed() == []


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("21C sun70 F2", "  weather: 21 °C, sun 70 %, wind force 2\n  Pale"),
        ("21 deg C Beaufort 2", "  weather: 21 °C, wind force 2\n  Pale"),
        ("W F2", "  weather: wind force 2\n    as typed: W F2\n"),
        ("light breeze", "  weather: wind force 2\n    as typed: light breeze\n"),
    ],
)
def test_weather_in_words_is_shown_beside_what_it_was_understood_to_mean(tarn_run, owned, typed, shown) -> None:
    """Figures are shown as understood alone."""
    assert shown in tarn_run("log", "--dry-run", f"visit 2025-07-12 @ SU 431 118 {typed}", "12 pale m").stdout


def test_nobody_is_registered_twice_under_a_shortened_name(tarn_run, owned, listed) -> None:
    """Nothing is written; the whole name is taken, and in quotes somebody else's."""
    page = ("visit 2025-07-12 @ SU 431 118 with Ben Sallow", "3 pale m by {}")
    ran = tarn_run("log", page[0], page[1].format("Ben"))
    assert (ran.returncode, listed()) == (2, [])
    assert 'hint: write the whole name,  Ben Sallow  ; of somebody else the name in quotes:  "Ben"' in ran.stderr
    assert tarn_run("log", page[0], page[1].format("Ben Sallow")).returncode == 0
    assert tarn_run("log", page[0], page[1].format('"Ben"')).returncode == 0
    assert [one["observers"] for one in listed()] == [["Ben Sallow"], ["Ben"]]


def test_whoever_logs_for_somebody_names_them_whole(tarn_run, run, owned, listed) -> None:
    """Who is in the register already is asked about no more."""
    ran = tarn_run("log", "3 pale m", *AT, "--by", "Ada")
    assert (ran.returncode, listed()) == (2, [])
    assert '--by "Ada Marsh"' in ran.stderr
    assert run("people", "--add", "Ada").returncode == 0
    assert tarn_run("log", "3 pale m", *AT, "--by", "Ada").returncode == 0
    assert [one["observers"] for one in listed()] == [["Ada"]]
