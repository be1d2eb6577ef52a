"""What shows that an insect is a damselfly: marks of the shipped key, and of a key made for it."""

from __future__ import annotations

import pytest

from reedmace.keys.group_marks import marks_of_group
from reedmace.keys.model import Key


@pytest.mark.parametrize("said", ["damselfly", "Damselflies", "dragonfly"])
def test_the_wings_at_rest_tell_damselflies_from_dragonflies(key: Key, said: str) -> None:
    """The first look taught on a walk: wings along the back, or spread (practice, as in the key)."""
    found = [mark.id for mark in marks_of_group(key, said)]
    assert found[:1] == ["wings-at-rest"]
    assert len(found) <= 2


@pytest.mark.parametrize("said", ["azure", "emperor", "blue damselfly", "ies", ""])
def test_other_words_have_no_marks_of_a_group(key: Key, said: str) -> None:
    """A species has its own page for that."""
    assert marks_of_group(key, said) == ()


def test_no_mark_is_named_that_some_of_the_group_lack(key: Key) -> None:
    """A mark that is not there to be looked at shows nothing of the whole group."""
    for said in ("damselfly", "dragonfly"):
        for mark in marks_of_group(key, said):
            assert min(mark.column) >= -1, f"{mark.id} does not apply to every form"
