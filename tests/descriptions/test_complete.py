"""Complete and true descriptions by eye: the page of those that stay narrow is what the key makes it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from descriptions.described import all_described

DOCS = Path(__file__).resolve().parents[2] / "docs"


@pytest.fixture(scope="module")
def told(key):
    """Every guise of every regular species, completely described to each eye."""
    return {eye: list(all_described(key, eye)) for eye in ("beginner", "practised")}


@pytest.mark.parametrize("eye", ["beginner", "practised"])
def test_a_complete_description_settles_its_species_or_narrows_to_a_set_that_holds_it(told, eye):
    for one in told[eye]:
        verdict = one.found.verdict
        said = f"{one.species.english}, {one.guise.title}: {verdict.word} {verdict.vernacular}"
        assert not one.settled_on_another, said
        assert verdict.word == "settled" or one.narrowed_rightly, said


def test_most_guises_can_be_told_by_eye_and_more_of_them_by_a_practised_one(told):
    settled = {eye: sum(one.found.verdict.word == "settled" for one in seen) for eye, seen in told.items()}
    assert len(told["beginner"]) > 200
    assert settled["beginner"] >= 130
    assert settled["practised"] > settled["beginner"]


def test_the_page_of_what_stays_narrow_is_what_the_key_makes_it(cache_home):
    ran = subprocess.run(
        [sys.executable, DOCS / "build_narrowed.py", "--check"],
        env=os.environ | {"REEDMACE_EXAMPLES_CACHE": str(cache_home)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert (ran.returncode, ran.stdout, ran.stderr) == (0, "", "")
