"""`about` and `apart` as a user runs them."""

from __future__ import annotations

import json
import shlex

import pytest


def test_about_prints_one_object_of_the_contract(run):
    told = json.loads(run("about", "emperor dragonfly", "--json").stdout)
    for name in ("name", "vernacular", "length_mm", "flight", "regions", "habitats", "lookalikes", "needs", "sources"):
        assert told[name], name
    assert told["name"] == "Anax imperator"
    assert told["length_mm"] == [66, 84]  # Powney et al. 2014
    assert set(told["flight"]) == {"first", "peak", "last"}
    assert {"name", "mark", "unseen", "decided_by", "guises"} <= set(told["lookalikes"][0])
    assert {one["evidence"] for one in told["needs"]} <= {"sight", "photo", "hand", "panel"}


def test_about_tells_that_there_is_nothing_to_see_where_that_decides(run) -> None:
    """Black legs tell a Large Red from a Small Red; that it has no wing band need not be said."""
    shown = run("about", "large red").stdout
    every = shown.partition("Every one of them")[2].partition("Male")[0]
    assert "Legs" in every
    assert "all black" in every
    assert "Wing band" not in every


def test_about_shows_season_range_marks_and_where_they_come_from(run):
    shown = run("about", "broad-bodied").stdout
    for words in ("Libellula depressa", "On the wing", "Where", "Every one of them", "Look-alikes", "Sources"):
        assert words in shown
    assert "Powney, G. D." in shown
    assert all(len(line) <= 80 for line in shown.splitlines())


def test_the_page_of_a_cast_skin_tells_when_it_emerges(run) -> None:
    """A skin is on no wing: what the key of skins gives is the period of emergence."""
    shown = run("about", "--key", "odonata-exuviae", "emperor dragonfly").stdout
    assert "\nEmerges\n" in shown
    assert "On the wing" not in shown
    ran = run("expected", "--key", "odonata-exuviae", "--date", "2026-12-25", "--place", "NH 50 50")
    assert "Hardly anything emerges then" in " ".join(ran.stdout.split())
    assert "on the wing" not in ran.stdout


def test_the_spur_of_an_emerald_is_no_black_one(run) -> None:
    """By published accounts it is a point of the shining green (De Vlinderstichting, Dragonfly Prime)."""
    page = " ".join(run("about", "willow emerald").stdout.split())
    assert "Spur on the thorax side a short spur, in emeralds a green point" in page
    assert "black spur" not in page


def test_a_mark_of_one_sex_is_not_listed_under_the_other(run) -> None:
    """Males are described by what is seen of a pair that lays eggs, and lay none."""
    shown = run("apart", "willow emerald", "emerald damselfly").stdout
    males, _, females = shown.partition("Mature males")[2].partition("Mature females")
    assert "Where the eggs go" not in males
    assert "Where the eggs go" in females
    page = run("about", "willow emerald").stdout
    males, _, females = page.partition("\nMale ")[2].partition("\nFemale ")
    assert "eggs" not in males
    assert "Where the eggs go" in females
    assert "eggs" not in page.partition("Every one of them")[2].partition("\nMale ")[0]


def test_a_protected_species_says_so_at_its_head(run):
    head = " ".join(run("about", "norfolk hawker").stdout.partition("On the wing")[0].split())
    assert "Wildlife and Countryside Act 1981" in head
    assert "Photograph" in head


@pytest.mark.parametrize(
    ("names", "code"), [(["blue"], "ambiguous-name"), (["darter sp"], "not-one-species"), (["xyzzy"], "unknown-name")]
)
def test_about_wants_one_species(run, names, code):
    ran = run("about", *names)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert code in ran.stderr
    assert "hint:" in ran.stderr


def test_apart_names_what_decides_and_what_to_write_when_it_cannot_be_seen(run):
    shown = run("apart", "azure damselfly", "common blue").stdout
    decided = " ".join(shown.split()).partition("Decided by: ")[2].partition(". ")[0]
    assert "spur on the thorax side" in decided
    assert "When that can't be seen, write: Azure or Common Blue Damselfly." in " ".join(shown.split())
    assert shown.index("Mature males") < shown.index("Mature females")


def test_apart_gives_weights_by_sex_and_age_as_json(run):
    told = json.loads(run("apart", "red-eyed damselfly", "small red-eyed", "--json").stdout)
    assert told["species"] == ["Erythromma najas", "Erythromma viridulum"]
    assert {(one["sex"], one["age"]) for one in told["classes"]} >= {("male", "mature"), ("female", "mature")}
    first = told["classes"][0]["marks"][0]
    assert first["weight"] > 1
    assert set(first["shows"]) == set(told["species"])


@pytest.mark.parametrize("names", [["azure damselfly"], ["sympetrum"], ["common blue", "common blue"]])
def test_apart_wants_two_to_five_species(run, names):
    ran = run("apart", *names)
    assert ran.returncode == 2
    assert "two-to-five" in ran.stderr
    assert "This is one species." in run("apart", "brown hawker").stderr


def test_the_key_check_reports_what_a_key_cannot_tell(run):
    report = json.loads(run("keys", "check", "--json").stdout)
    pairs = {frozenset((one["one"], one["other"])) for one in report["inseparable"]}
    assert frozenset(("Coenagrion puella", "Coenagrion pulchellum")) in pairs
    assert frozenset(("Anax imperator", "Libellula depressa")) not in pairs
    assert isinstance(report["idle_characters"], list)
    assert report["not_known"]["Coenagrion puella"]["cells"] < report["not_known"]["Coenagrion puella"]["of"]
    shown = run("keys", "check", "odonata-exuviae").stdout  # the smaller one: the words are the same
    for words in ("values by source", "no visible mark separates", "cells not known", "no faults"):
        assert words in shown


def test_the_examples_of_apart_can_be_typed(run):
    """That of its help, and that of the hint for too few or too many species."""
    shown = " ".join(run("apart", "--help").stdout.split())
    example = shown.partition("in quotes. reedmace ")[2].partition(" Options:")[0]
    hint = " ".join(run("apart", "emperor dragonfly").stderr.split()).partition("several words: ")[2]
    for words in (example, f"apart {hint}"):
        assert '"' in words
        ran = run(*shlex.split(words))
        assert ran.returncode == 0, ran.stderr
        assert "When that can't be seen" in ran.stdout


def test_name_says_what_it_understood_of_words_of_ones_own(run):
    """Not of a state's own id or title; and a word that fits several says so."""
    shown = run("name", "eyes=touching", "wings=flat", "eye-colour=blue~", "wing-base=dark/clear", "length=40mm").stdout
    head = shown.partition("Open:")[0].partition("Narrowed")[0]
    assert " ".join(head.split()) == (
        "eyes=touching: meeting at a point or meeting along a line "
        "wing-base=dark/clear: clear or small dark marks on all four wings or a dark patch on the hindwings only or "
        "large dark patches on all four wings"
    )
    assert run("name", "wings=flat").stdout.startswith(("Open", "Narrowed"))


def test_green_alone_does_not_shut_out_the_shining_greens(run):
    """An emerald damselfly that sits with its wings half open is green enough for a beginner."""
    traits = ("abdomen=green", "thorax=green", "wings=half-open", "eye-colour=blue", "build=thin")
    told = json.loads(run("name", *traits, "--date", "2026-08-08", "--place", "SU 431 118", "--json").stdout)
    assert told["candidates"][0]["name"] == "Lestes sponsa"
