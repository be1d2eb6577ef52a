"""A key whose marks are never misread: the certain is certain, and nothing divides by nothing."""

from __future__ import annotations

from reedmace.scoring.assessment import assess
from reedmace.scoring.prior import Circumstances
from reedmace.scoring.tables import Tables
from scoring.tables_made import answer, two_state_key


def test_a_mark_without_errors_can_still_change_the_verdict() -> None:
    """Its weight is without bound, so looks are offered; one answer then settles it."""
    key = two_state_key({"Aus primus": (1.0, 1.0), "Aus alter": (0.0, 1.0)}, error=0.0)
    found = assess(Tables(key), Circumstances(), [answer(1, 0)])
    assert [look.character for look in found.looks.looks] == [0]
    assert found.looks.end is None
    assert assess(Tables(key), Circumstances(), [answer(1, 0), answer(0, 0)]).after.species == [1.0, 0.0]
