"""Cells as long as a page: told in short, and not made sense of where they cannot be what they should."""

from __future__ import annotations

import pytest

from tasks.importing import Import, faulty

HEADS = ("Date", "Grid Ref", "Species", "Count", "Sex", "Recorder", "Comments")
ROW = ("12/07/2025", "SU431118", "pale rushlet", "3", "m", "Ada Marsh", "by the gate")


def with_cell(heading: str, cell: str) -> str:
    """A sheet of one row with this cell in it."""
    row = [cell if head == heading else one for head, one in zip(HEADS, ROW, strict=True)]
    return f"{','.join(HEADS)}\n" + ",".join(f'"{one}"' for one in row) + "\n"


@pytest.mark.parametrize("heading", [head for head in HEADS if head != "Comments"])
@pytest.mark.parametrize("cell", ["x" * 9000, "3 male and 2 female " * 450, "x y, " * 1800])
def test_a_cell_of_a_page_comes_back_told_in_short(bring: Import, heading: str, cell: str) -> None:
    """Of the cell the fault tells the beginning; the row that comes back has all of it."""
    done = bring(with_cell(heading, cell))
    assert {code: len(kind.why) < 200 for code, kind in done.faults.items()} == {"cell-too-long": True}
    [row] = faulty(done)
    assert (row[heading], len(row["why"]) < 200) == (cell, True)


@pytest.mark.parametrize("heading", ["Date", "Grid Ref", "Species", "Count", "Sex"])
def test_what_a_fault_tells_of_a_cell_is_its_beginning(bring: Import, heading: str) -> None:
    """Message and hint too, whatever they quote."""
    done = bring(with_cell(heading, "x" * 300))
    [kind] = done.faults.values()
    assert (done.faulty, len(kind.why) < 200, len(kind.hint) < 300) == (1, True, True), kind
    assert "x" * 61 not in f"{kind.why}{kind.hint}"


def test_remarks_may_be_of_any_length(bring: Import) -> None:
    """They are kept as they are."""
    done = bring(with_cell("Comments", "by the gate " * 5000))
    assert (done.faulty, done.sightings) == (0, 1)


@pytest.mark.parametrize("row", ["Total,,,48,,,", ',,Totals:,"1,204",,,', ",,,12,,Grand total,", ",Sub-total,,3,,,"])
def test_a_row_of_totals_comes_back_as_what_it_is(bring: Import, row: str) -> None:
    """Not as one that lacks a date, a place and a name."""
    done = bring(with_cell("Sex", "m") + row + "\n")
    assert (done.sightings, [(code, kind.rows) for code, kind in done.faults.items()]) == (1, [("row-of-totals", 1)])


def test_a_row_of_totals_is_one_among_merged_cells_too(bring: Import) -> None:
    """Its day and place are those above it, which were merged."""
    text = "Date,Grid Ref,Species,Count\n12/07/2025,SU431118,pale rushlet,3\n,,misty rushlet,1\n,,Total,4\n"
    done = bring(text, as_above=True)
    assert (done.sightings, list(done.faults)) == (2, ["row-of-totals"])


def test_a_row_of_totals_is_one_below_a_form_too(bring: Import) -> None:
    """What the form says of every row is none of it."""
    done = bring("Site:,Withy Pond,Date:,4 July 2025\nSpecies,Males,Females,Pairs\npale rushlet,3,1,\nTotals,3,1,\n")
    assert (done.sightings, list(done.faults)) == (2, ["row-of-totals"])


@pytest.mark.parametrize("row", ["12/07/2025,SU431118,Total,3,,,", ",,Total of the pond,3,,Ada Marsh,"])
def test_a_row_that_says_more_is_none_of_totals(bring: Import, row: str) -> None:
    """What is wrong with it is told."""
    done = bring(with_cell("Sex", "m") + row + "\n")
    assert (done.faulty, "row-of-totals" in done.faults) == (1, False)
