"""Columns that would both say one thing, columns that number the rows, and columns that are left out."""

from __future__ import annotations

from pathlib import Path

import pytest

from reedmace.faults import Refused
from reedmace.keys.model import Key
from reedmace.tasks.sheets.columns import ColumnMapping, by_cells, corrected, from_body, guess
from reedmace.tasks.sheets.rows import look_at, rows
from reedmace.tasks.sheets.twins import settled
from reedmace.terminal.mapping_text import mapping_text
from tasks.importing import TODAY, Import, faulty, kept

ROW = "{},12/07/2026,Sallow,SU 431 118,pale rushlet,{}\n"


def meant(key: Key, path: Path, text: str, *typed: str) -> ColumnMapping:
    """What the columns of a sheet are taken for, as an import takes them."""
    path.write_text(text)
    sheet = look_at(str(path))
    sample = [row.cells for row in rows(sheet)]
    mapping = by_cells(corrected(guess(key, sheet.columns, sample, TODAY), typed), sheet.columns, sample)
    return settled(sheet, mapping, {one.rpartition("=")[0] for one in typed})


@pytest.mark.parametrize(
    ("heads", "cells", "counts"),
    [
        ("No,Count", [("11", "3"), ("12", ""), ("13", "m")], "Count"),
        ("No.,Quantity", [("4", "3"), ("2", "1"), ("9", "1")], "Quantity"),
        ("No,Count", [("1", "5"), ("2", "5"), ("1", "2"), ("2", "2")], "Count"),
        ("Number,Count", [("1", "3"), ("2", "3")], "Count"),
        ("No,Males", [("11", "3"), ("12", "4")], None),
        ("No,Ring", [("1", "a"), ("2", "a"), ("3", "a")], "No"),
        ("No,Ring", [("1", "a"), ("2", "a"), ("4", "a"), ("5", "a"), ("6", "a")], "No"),
        ("#,Count", [("1", "3"), ("2", "")], "Count"),
    ],
)
def test_a_column_that_numbers_the_rows_counts_no_insects(
    tarn: Key, tmp_path: Path, heads: str, cells: list[tuple[str, str]], counts: str | None
) -> None:
    """Where another one counts; and that is said."""
    first, last = heads.split(",")
    text = f"{first},Date,Site,Grid ref,Species,{last}\n" + "".join(ROW.format(*pair) for pair in cells)
    mapping = meant(tarn, tmp_path / "n.csv", text)
    assert [heading for heading, field in mapping.columns if field == "count"] == ([counts] if counts else [])
    said = mapping_text(look_at(str(tmp_path / "n.csv")), mapping, ("observer", "Ada Marsh"))
    assert (f"Left out, for it numbers the rows: {first}" in said) == (counts != first and first != "#")


def test_a_number_of_the_row_is_never_the_number_of_insects(bring: Import, tmp_path: Path) -> None:
    """Not even where the count is blank or a word."""
    head = "No,Date,Site,Grid ref,Species,Count\n"
    sheet = head + ROW.format(11, 3) + ROW.format(12, "") + ROW.format(13, "m") + ROW.format(14, "+")
    assert bring(sheet).faulty == 0
    assert sorted((one.count or 0, one.sex or "") for one, _ in kept(tmp_path)) == [
        (0, ""),
        (0, ""),
        (0, "male"),
        (3, ""),
    ]


def test_who_says_that_it_counts_is_believed_or_asked(tarn: Key, tmp_path: Path) -> None:
    """Alone it counts; beside another column that counts, one of the two has to go."""
    text = "No,Date,Site,Grid ref,Species,Count\n" + ROW.format(11, 3) + ROW.format(12, 4)
    assert dict(meant(tarn, tmp_path / "n.csv", text, "No=count", "Count=").columns)["No"] == "count"
    with pytest.raises(Refused) as refused:
        meant(tarn, tmp_path / "n.csv", text, "No=count")
    [fault] = refused.value.faults
    assert (fault.code, '--map "Count="' in fault.hint, '--map "No="' in fault.hint) == ("columns-differ", True, True)
    assert 'line 2 says "11" in one and "3" in the other' in fault.message


@pytest.mark.parametrize(
    ("cells", "left"),
    [
        ([("3", "3"), ("4", "4")], "Total"),
        ([("3", "3.0"), ("", ""), ("2m", "")], "Total"),
        ([("3", "3"), ("", "4")], "Count"),
    ],
)
def test_of_two_columns_that_say_the_same_one_is_left_out(
    tarn: Key, tmp_path: Path, cells: list[tuple[str, str]], left: str
) -> None:
    """The one that says no more; it is told."""
    text = "Count,Date,Site,Grid ref,Species,Total\n" + "".join(ROW.format(*pair) for pair in cells)
    mapping = meant(tarn, tmp_path / "n.csv", text)
    [(spare, other)] = mapping.alike
    assert ({spare, other}, spare, dict(mapping.columns)[left]) == ({"Count", "Total"}, left, None)
    said = mapping_text(look_at(str(tmp_path / "n.csv")), mapping, ("observer", "Ada Marsh"))
    assert f"Left out, for it says what {other} says: {left}" in said


def test_two_columns_that_fill_each_other_up_are_one_count(bring: Import, tmp_path: Path) -> None:
    """Nothing of either is lost, and what both say is said once."""
    head = "Count,Date,Site,Grid ref,Species,Total\n"
    assert bring(head + ROW.format(3, "") + ROW.format("", 4) + ROW.format(5, 5)).faulty == 0
    assert sorted(one.count or 0 for one, _ in kept(tmp_path)) == [3, 4, 5]


def test_two_columns_that_contradict_each_other_are_refused(tarn: Key, tmp_path: Path) -> None:
    """In whatever row they do; the same for one heading that stands twice, and for other things said once."""
    rows_ = "".join(ROW.format(1, 1) for _ in range(300))
    for heads, code in (("Count,{},Total", "columns-differ"), ("Count,{},Count", "column-twice")):
        text = heads.format("Date,Site,Grid ref,Species") + "\n" + rows_ + ROW.format(3, 10)
        with pytest.raises(Refused) as refused:
            meant(tarn, tmp_path / "n.csv", text)
        assert (refused.value.faults[0].code, "line 302" in refused.value.faults[0].message) == (code, True)
    with pytest.raises(Refused, match="columns-differ"):
        meant(tarn, tmp_path / "n.csv", "Survey date,Date,Site,Grid ref,Species,Count\n" + ROW.format("13/07/2026", 1))


def test_who_puts_two_columns_together_gets_them_together(bring: Import, tmp_path: Path) -> None:
    """A number and what it counts, each in a column of its own."""
    head = "How many,Date,Site,Grid ref,Species,Of what\n"
    bring(head + ROW.format(3, "cop") + ROW.format(2, "m"), typed=("How many=count", "Of what=count"))
    assert sorted((one.count, one.pairs or 0, one.sex or "") for one, _ in kept(tmp_path)) == [
        (2, 0, "male"),
        (6, 3, ""),
    ]


def test_a_row_that_counts_something_in_a_column_left_out_is_never_nothing(bring: Import, tmp_path: Path) -> None:
    """A skin found is no proof that none are there. Whoever leaves the column out on purpose has said so."""
    head = "Date,Site,Grid ref,Species,Count,Skins found,Oviposit,pH\n"
    row = "12/07/2026,Sallow,SU 431 118,pale rushlet,{}\n"
    sheet = head + "".join(row.format(cells) for cells in ("0,2,,7.2", "0,,✓,7.2", "0,0,no,7.2", "0,,,", "3,1,,7.2"))
    done = bring(sheet, zero="absent")
    assert (done.left_out, done.sightings) == (2, 1)
    skins, laying = faulty(done)
    assert (skins["fault"], '"2" under "Skins found"' in skins["why"]) == ("left-out-counts", True)
    assert '--map "Skins found="' in skins["what to do"]
    assert '"✓" under "Oviposit"' in laying["why"]
    said = ("Skins found=", "Oviposit=")
    assert bring(sheet, "said.csv", ledger="other", typed=said, zero="absent").left_out == 4
    assert (
        bring(sheet, "read.csv", ledger="third", typed=("Skins found=exuviae", said[1]), zero="absent").sightings == 3
    )


def test_in_a_column_of_numbers_a_word_counts_too(bring: Import) -> None:
    """And in one of words a number."""
    head = "Date,Site,Grid ref,Species,Count,Skins found,Odd\n"
    row = "12/07/2026,Sallow,SU 431 118,pale rushlet,{}\n"
    sheet = head + "".join(row.format(cells) for cells in ("0,several,", "1,2,", "1,3,sunny", "0,,windy", "0,,4 ex"))
    assert [one["fault"] for one in faulty(bring(sheet, zero="skip"))] == ["left-out-counts"] * 2


def test_what_was_left_out_on_purpose_is_kept_with_the_mapping(tarn: Key, tmp_path: Path) -> None:
    """So that next year nobody is asked again; what was not spoken of is."""
    text = "No,Date,Site,Grid ref,Species,Count,Ring,Wheels\n11,12/07/2026,Sallow,SU431118,pale,1,2,3\n"
    mapping = meant(tarn, tmp_path / "n.csv", text, "Ring=")
    again = from_body(mapping.as_body())
    assert (again.columns, again.passed_over) == (mapping.columns, {"No", "Ring"})
    assert corrected(again, ["Ring=exuviae"]).passed_over == {"No"}
    assert "left" not in meant(tarn, tmp_path / "n.csv", text.replace("No,", "A,")).as_body()
