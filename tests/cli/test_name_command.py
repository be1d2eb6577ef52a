"""`reedmace name`: what it says of a species asked about, of care, of when, and of what the key does not name."""

from __future__ import annotations

import json
from datetime import date

import pytest

AT = ("--date", "2026-07-12", "--place", "SU 43 11")
BLUE = ("wings=closed", "colour=blue", "bar=present")
FITTING_NOTHING = (
    *("wings=flat", "length=22mm:measured", "colour=rust", "eyes=blue", "bar=present", "back-mark=none"),
    *("collar=lobed", "bump=present"),
)


def test_why_asked_of_the_first_says_that_it_is_the_first(tarn_run) -> None:
    """And holds it against its next rival, in JSON too."""
    out = " ".join(tarn_run("name", *BLUE, *AT, "--why", "pale").stdout.split())
    assert "Pale Rushlet is the first itself; here it is held against its next rival." in out
    assert "Why Pale Rushlet and not Misty Rushlet" in out
    why = json.loads(tarn_run("name", *BLUE, *AT, "--why", "pale", "--json").stdout)["why"]
    assert why["for"] == "Tarnula pallida"
    assert why["against"] != why["for"]


@pytest.mark.parametrize(
    ("traits", "because"), [((), "nothing has been answered"), (FITTING_NOTHING, "nothing described here fits")]
)
def test_why_is_never_passed_over_in_silence(tarn_run, traits: tuple[str, ...], because: str) -> None:
    """Where there are no reasons, that is said of the one asked about."""
    out = " ".join(tarn_run("name", *traits, *AT, "--why", "great").stdout.split())
    assert f"Why not Great Boulderer can't be said: {because}" in out
    assert "Why not" not in tarn_run("name", *traits, *AT).stdout


def test_a_word_of_care_for_one_that_the_ranking_leaves_out_says_how_likely_it_is(run) -> None:
    """It would come out of the blue; one that is shown needs no more than its name."""
    out = run("name", "eyes=apart", "wings=flat", "build=long", "--date", "2026-06-10").stdout
    ranking, _, cautions = out.partition("Look next")
    assert "Norfolk Hawker" not in ranking.replace("\n", " ")
    assert "Norfolk Hawker, among the others with " in cautions
    shown = run("name", "eye-colour=green", "thorax=brown", "base=yellow-small", "wings=flat", "--date", "2026-06-10")
    assert "Norfolk Hawker: " in shown.stdout


@pytest.mark.parametrize("typed", ["mid july", "July"])
def test_a_month_is_a_date_and_the_year_taken_is_told(tarn_run, typed: str) -> None:
    """Of this year once it has begun, of last year before."""
    today = date.today()
    year = "this" if today >= date(today.year, 7, 11 if "mid" in typed else 1) else "last"
    assert f"July of {year} year" in tarn_run("name", *BLUE, "--date", typed).stdout


@pytest.mark.parametrize("trait", ["exuvia=yes", "exuvia", "cast skin", "skins", "stage=exuvia", "Exuviae"])
def test_cast_skins_are_shown_the_way_to_their_own_key(run, trait: str) -> None:
    """The key of adults asks nothing about them."""
    ran = run("name", trait)
    assert ran.returncode == 2
    assert "reedmace key --key odonata-exuviae" in " ".join(ran.stderr.split())


def test_larvae_have_no_key_and_adults_have_theirs(run) -> None:
    """Whichever key is used, no key but a real one is named."""
    larva = " ".join(run("name", "larva").stderr.split())
    assert "no key here names larvae; cast skins have one: reedmace key --key odonata-exuviae" in larva
    adult = " ".join(run("name", "adult", "--key", "odonata-exuviae").stderr.split())
    assert "reedmace key --key odonata-britain-ireland" in adult
    skin = " ".join(run("name", "exuvia", "--key", "odonata-exuviae").stderr.split())
    assert "--key" not in skin
