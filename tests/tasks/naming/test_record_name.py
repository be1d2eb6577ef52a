"""The name offered for a record: one that its recipients can use."""

from __future__ import annotations

import pytest

from reedmace.keys.model import Key
from reedmace.scoring.verdict import NARROWED, Verdict
from reedmace.tasks.naming.record_name import record_name


def either(key: Key, *names: str) -> Verdict:
    """A verdict that leaves these species."""
    members = tuple(next(one.index for one in key.species if one.name == name) for name in names)
    return Verdict(NARROWED, " or ".join(names), "these", "pair", members, (), None, None, None, 0.97, ())


@pytest.mark.parametrize(
    ("names", "offered"),
    [
        (["Coenagrion puella", "Coenagrion pulchellum"], "these"),  # one genus
        (["Coenagrion puella", "Enallagma cyathigerum"], "these"),  # listed as look-alikes
        (["Pyrrhosoma nymphula", "Ischnura elegans", "Coenagrion puella"], "blue, red or red-eyed damselfly"),
        (["Calopteryx splendens", "Coenagrion puella", "Enallagma cyathigerum", "Calopteryx virgo"], "damselfly"),
        (["Calopteryx splendens", "Aeshna cyanea"], "these"),  # only the order holds both
    ],
)
def test_several_that_nobody_lists_together_are_offered_as_their_group(
    key: Key, names: list[str], offered: str
) -> None:
    """A pair of look-alikes and a genus stay what they are; the order itself is never offered."""
    assert record_name(key, either(key, *names)).typed == offered
