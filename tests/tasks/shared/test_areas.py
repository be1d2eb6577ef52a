"""Where a look was had, said by a region of the key or a 100 km square: enough to name by, not to record."""

from __future__ import annotations

import pytest

from reedmace.faults import Refused
from reedmace.keys.model import Key
from reedmace.tasks.naming.conversation import step
from reedmace.tasks.naming.replies import Choices
from reedmace.tasks.shared.setting import Setting, area_said, read_setting
from tarn import TODAY
from tasks.dialogue import check, start


def read(key: Key, where: str, *, future: bool = True) -> Setting:
    return read_setting(key, None, where, None, today=TODAY, future=future)


@pytest.mark.parametrize(
    ("typed", "regions"),
    [
        ("Wales", {"wales"}),
        ("Jersey", {"channel"}),
        ("the Channel Islands", {"channel"}),
        ("scotland", {"scotland-south", "highlands"}),
        ("in Ireland", {"ireland"}),
        ("Norfolk", {"east"}),
        ("south-west england", {"south-west"}),
        ("NH", {"highlands"}),
        ("nt", {"scotland-south", "north"}),
        ("H", {"ireland"}),
    ],
)
def test_a_region_or_a_100_km_square_is_enough_to_name_by(key: Key, typed: str, regions: set[str]) -> None:
    """By its title or a plain name of the key; what several regions share means all of them."""
    setting = read(key, typed)
    assert {region.id for region in setting.regions} == regions
    assert (setting.place, setting.area) == (None, typed)


def test_a_record_needs_a_place(key: Key) -> None:
    """What is logged is somewhere in particular."""
    for typed, code in (("Wales", "place-not-read"), ("NH", "grid-too-coarse")):
        with pytest.raises(Refused) as refused:
            read(key, typed, future=False)
        assert [fault.code for fault in refused.value.faults] == [code]


def test_a_name_that_is_no_region_is_told_of_those_that_are(key: Key) -> None:
    """With the one that it is a slip away from, where there is one."""
    hints = {}
    for typed in ("Nowhere", "Norfork"):
        with pytest.raises(Refused) as refused:
            read(key, typed)
        hints[typed] = refused.value.faults[0].hint
    assert "a region will do too:" in hints["Nowhere"]
    assert "Wales" in hints["Nowhere"]
    assert "Norfolk" in hints["Norfork"]


def test_a_region_is_said_back_with_what_it_stands_for(key: Key) -> None:
    """Its own title needs no other."""
    assert area_said(read(key, "Wales")) == "Wales"
    assert area_said(read(key, "Norfolk")) == "Norfolk (East of England)"
    assert area_said(read(key, "nh")) == "NH (the Highlands and islands)"


def test_a_region_is_said_and_taken_back_in_the_conversation(tarn: Key) -> None:
    """Instead of a place that was said before; by itself, and within a look."""
    check(
        start(tarn),
        """
        > where the Lowland
        understood place the Lowland
        > where SU 43 11
        understood place SU4311 (the Lowland)
        > in the Upland
        understood place the Upland
        > undo
        understood taken back: place the Upland; again SU4311
        > undo
        understood taken back: place SU4311; again the Lowland
        > where none
        understood no place any more
        """,
    )
    (put,) = step(start(tarn), "blue one in the Upland, wings folded")[1]
    assert isinstance(put, Choices)
    assert "where Upland" in put.to_type
