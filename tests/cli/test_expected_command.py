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
    told = json.loads(run("expected", "--date", "2026-07-12", "--place", "SU 431 118", "--json").stdout)
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
