"""What is asked before anything was said."""

from __future__ import annotations

import pytest

from reedmace.keys.model import Key
from reedmace.scoring.looknext import look_next
from reedmace.scoring.posterior import posterior
from reedmace.scoring.prior import Circumstances, prior
from reedmace.scoring.tables import Tables
from reedmace.scoring.verdict import judge


@pytest.mark.parametrize("third", [None, *range(0, 36, 2)])
def test_the_first_question_is_one_for_a_glance(key: Key, third: int | None) -> None:
    """Whatever the season: nobody who has said nothing yet is sent to look closely."""
    tables = Tables(key)
    before = prior(key, Circumstances(third=third), tables.assumptions)
    after = posterior(tables, before, [])
    [first, *_] = look_next(tables, after, judge(tables, before, after), []).looks
    assert key.characters[first.character].effort == "glance"
