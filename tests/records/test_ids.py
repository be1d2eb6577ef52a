"""One id, however another program spells it."""

from __future__ import annotations

import uuid

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedmace.records import read_id, spellings_of

ONE = "0198c2a1-b3d4-7e55-8a66-0123456789ab"


@pytest.mark.parametrize(
    "spelt",
    [
        ONE,
        ONE.upper(),
        f"{{{ONE}}}",
        f"{{{ONE.upper()}}}",
        ONE.replace("-", ""),
        f"urn:uuid:{ONE}",
        f"URN:UUID:{ONE.upper()}",
        f"'{ONE}",
        f"  {ONE}\t",
        f"' urn:uuid:{ONE}",
    ],
)
def test_a_uuid_is_the_same_in_every_spelling(spelt: str) -> None:
    assert read_id(spelt) == ONE


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("WA-0017", "WA-0017"),
        (" wa-0017 ", "wa-0017"),
        ("'0017", "0017"),
        ("urn:catalog:WA:17", "urn:catalog:WA:17"),
        (f"{{{ONE}", f"{{{ONE}"),
        (ONE[:-1], ONE[:-1]),
        (f"{ONE}-2", f"{ONE}-2"),
        (ONE.replace("-", "", 1), ONE.replace("-", "", 1)),
        ("", ""),
    ],
)
def test_other_ids_stay_as_they_are(text: str, kept: str) -> None:
    """But for blanks around them and a spreadsheet's apostrophe."""
    assert read_id(text) == kept


@given(st.uuids())
def test_every_spelling_of_an_id_is_read_as_the_one(identifier: uuid.UUID) -> None:
    """And so is the reading itself."""
    forms = spellings_of(identifier.hex.upper())
    assert forms[0] == str(identifier)
    assert {read_id(form) for form in forms} == {str(identifier)}
