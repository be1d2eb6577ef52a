"""`reedmace place`: what a reference means, and what is said of one that means nothing."""

from __future__ import annotations

import json

import pytest


def test_a_reference_is_told_in_a_few_lines(tarn_run) -> None:
    """With or without quotes and spaces, the same square."""
    whole = tarn_run("place", "SU431118").stdout
    apart = tarn_run("place", "SU", "431", "118").stdout
    assert "SU431118" in whole
    assert "100" in whole
    assert "lowland" in whole
    assert whole.splitlines()[1:] == apart.splitlines()[1:]


def test_a_position_with_a_sign_is_no_option(tarn_run) -> None:
    """A western longitude begins with a minus."""
    for words in (("51.0641,", "-1.3142"), ("51.0641, -1.3142",), ("-1.3142", "51.0641")):
        ran = tarn_run("place", *words)
        assert "Traceback" not in ran.stderr
        assert "No such option" not in ran.stderr
    assert "51.0641" in tarn_run("place", "51.0641,", "-1.3142").stdout


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("SU 43111", "grid-odd-digits"),
        ("SU 431 1180", "grid-unequal-groups"),
        ("ZZ 431 118", "grid-letters-unknown"),
        ("I 12 34", "grid-letter-i"),
        ("91.5, 0", ""),
        ("nan, nan", ""),
        ("inf, 1_0", ""),
        ("٥١.٠, -١.٣", ""),
        ("", ""),
        ("\x1b[31m", ""),
        ("SU 431 118 " * 200, ""),
    ],
)
def test_a_reference_that_means_nothing_is_a_fault_with_a_remedy(tarn_run, typed: str, code: str) -> None:
    """Exit code 2, in words or as JSON; never a traceback, never an escape sequence back."""
    plain = tarn_run("place", typed)
    assert (plain.returncode, plain.stdout) == (2, "")
    assert "hint: " in plain.stderr
    assert "\x1b" not in plain.stderr
    if code:
        assert plain.stderr.startswith(code)
    told = tarn_run("place", typed, "--json")
    assert told.returncode == 2
    assert json.loads(told.stdout)["fault"]["hint"]
