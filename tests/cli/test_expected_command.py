"""`reedmace expected`, and the reasons that `reedmace name` gives for what is far down here."""

from __future__ import annotations

import json


def test_expected_lists_the_likeliest_with_level_season_and_chance(run):
    ran = run("expected", "--date", "2026-07-12", "--place", "SU 431 118", "--habitat", "garden-pond")
    first = next(line for line in ran.stdout.splitlines() if line.lstrip().startswith("1 "))
    assert first.split()[1:3] == ["Azure", "Damselfly"]
    assert "abundant" in first
    assert "peak" in first
    assert "none is impossible" in ran.stdout


def test_expected_as_json_holds_every_species_with_what_speaks_against_it(run, key):
    ran = run("expected", "--date", "2026-07-12", "--place", "SU 431 118", "--json")
    told = [json.loads(line) for line in ran.stdout.splitlines()]
    assert len(told) == len(key.species)
    irish = next(one for one in told if one["name"] == "Coenagrion lunulatum")
    assert irish["level"] == "absent"
    assert any("not known from" in why for why in irish["reasons_against"])


def test_name_says_why_a_species_is_far_down_here(run):
    """A Northern Damselfly described in Hampshire: in the running by its marks, against all that is known of it."""
    blue = ("wings=closed", "abdomen-colour=blue", "spur=present", "shoulder-stripes=thin", "eye-bar=present")
    northern = ("segment-2-mark=spear", "eye-underside=green", "face=green", "segment-9=black-mark", "legs=black")
    ran = run("name", *blue, *northern, "--date", "2026-06-12", "--place", "SU 431 118")
    shown = " ".join(ran.stdout.split())
    assert "Northern Damselfly: not to be expected here and now (not known from" in shown, ran.stdout + ran.stderr


def test_on_a_day_when_nothing_flies_that_is_said_and_nothing_agrees_with_it(run):
    """A name in the dead of winter may be right, but what is likely here and now does not say the same."""
    ran = run("expected", "--date", "2026-12-25", "--place", "NH 50 50")
    assert "Hardly anything is on the wing then" in " ".join(ran.stdout.split())
    assert "Hardly anything" not in run("expected", "--date", "2026-07-12", "--place", "NH 50 50").stdout
    marks = ("wings=closed", "abdomen-colour=red", "legs=black", "stripes=thin", "wing-spot=dark")
    named = " ".join(run("name", *marks, "--date", "2026-02-15", "--place", "NH 50 50").stdout.split())
    assert "Large Red Damselfly: not to be expected here and now (on the wing from early-April" in named
    assert "neither is to be expected here and now" in named
    assert "says the same" not in named
