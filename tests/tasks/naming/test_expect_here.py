"""What place, date and habitat make likely, and why a species is far down: with the shipped key and a made one."""

from __future__ import annotations

import pytest

from reedmace.keys.model import Key
from reedmace.scoring.prior import prior
from reedmace.tasks.naming.expect_here import expect, far_down
from reedmace.tasks.shared.setting import read_setting
from tarn import TODAY

HAMPSHIRE, SPEYSIDE, FERMANAGH, BROADS = "SU 431 118", "NH 94 17", "H 25 40", "TG 41 21"


def setting(key: Key, where: str, when: str = "2026-07-12", habitat: str = ""):
    """A day, a place and perhaps a water."""
    return read_setting(key, when, where, habitat, today=TODAY)


def found(key: Key, name: str) -> int:
    return next(species.index for species in key.species if species.name == name)


# Species of one country or a few places: where they live, and a place that is none of theirs.
OF_FEW_PLACES = {
    "Coenagrion hastulatum": (SPEYSIDE, HAMPSHIRE),
    "Coenagrion lunulatum": (FERMANAGH, HAMPSHIRE),
    "Coenagrion mercuriale": (HAMPSHIRE, SPEYSIDE),
    "Coenagrion scitulum": ("TR 03 70", SPEYSIDE),
    "Aeshna caerulea": (SPEYSIDE, HAMPSHIRE),
    "Aeshna isoceles": (BROADS, SPEYSIDE),
    "Somatochlora arctica": (SPEYSIDE, BROADS),
    "Leucorrhinia dubia": (SPEYSIDE, FERMANAGH),
}


@pytest.mark.parametrize("name", OF_FEW_PLACES)
def test_a_species_of_a_few_places_comes_far_down_elsewhere_and_says_why(key: Key, name: str) -> None:
    home, elsewhere = OF_FEW_PLACES[name]
    species = found(key, name)
    at_home = prior(key, setting(key, home).circumstances(key)).species[species]
    away = prior(key, setting(key, elsewhere).circumstances(key)).species[species]
    assert away < at_home / 4
    against = far_down(key, setting(key, elsewhere), species)
    assert any("not known from" in why or "stray" in why for why in against), against
    ranked = [one.species for one in expect(key, setting(key, elsewhere))]
    assert ranked.index(species) > 25


@pytest.mark.parametrize("square", ["SU", "TG", "NH", "H", "SH", "SV", "HP"])
def test_no_species_is_excluded_from_anywhere(key: Key, square: str) -> None:
    where = f"{square} 5 5" if square != "H" else "H 5 5"
    chances = [one.probability for one in expect(key, setting(key, where, "2026-01-05"))]
    assert min(chances) > 0
    assert sum(chances) == pytest.approx(1)


def test_a_common_species_in_its_season_needs_no_reason(key: Key) -> None:
    assert far_down(key, setting(key, HAMPSHIRE), found(key, "Coenagrion puella")) == ()


def test_out_of_season_is_said_with_the_season(key: Key) -> None:
    assert any(
        why.startswith("on the wing from ")
        for why in far_down(key, setting(key, HAMPSHIRE, "2026-11-05"), found(key, "Pyrrhosoma nymphula"))
    )


def test_with_all_taken_as_equally_likely_nothing_is_far_down(key: Key) -> None:
    flat = setting(key, HAMPSHIRE)._replace(flat=True)
    assert far_down(key, flat, found(key, "Coenagrion lunulatum")) == ()
