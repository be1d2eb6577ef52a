"""Names of children in words that are kept with records, whatever way they came."""

from __future__ import annotations

import pytest

from reedmace.keys.model import Key
from reedmace.tasks.shorthand.children import children_in_text
from reedmace.tasks.shorthand.children_kept import children_in_words, name_told
from tasks.shorthand.test_names_with_ages import CHILDREN

MORE = """
Poppy (she is 8) saw it first
tilly found it; she is 8
Finn and Poppy netted it, with the cubs
Harrow, Reception, drew it
mum of Finn took the photo
jack aged 8 saw it
Tim - 8 y/o
"""


@pytest.mark.parametrize(
    "text", [*(row.partition("|")[0].strip() for row in CHILDREN.strip().splitlines()), *MORE.strip().splitlines()]
)
def test_what_is_looked_over_quickly_is_found_all_the_same(tarn: Key, text: str) -> None:
    """Most words speak of no age and no child, and are not looked at closely; none of these is passed over."""
    slowly = {name_told(fault) for fault in children_in_text(text)}
    assert {name_told(fault) for fault in children_in_words([text], lambda: tarn)} == slowly
    assert slowly or text in MORE


def test_the_key_is_read_only_where_there_is_a_name() -> None:
    """Records without words, and words without names, cost nothing."""

    def none() -> Key:
        raise AssertionError

    assert children_in_words(["by the sluice, 3 males", ""], none) == []


def test_a_name_is_told_once_and_other_words_may_speak_of_children(tarn: Key) -> None:
    told = children_in_words(["Finn saw it first", "Finn netted it"], lambda: tarn, beside="with 6 children")
    assert [(name_told(one), one.code) for one in told] == [("Finn", "child-may-be-named")]
