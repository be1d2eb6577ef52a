"""What an import came to, as it is shown."""

from __future__ import annotations

import io

from reedmace.tasks.sheets.corrected import Corrected
from reedmace.tasks.sheets.import_told import Imported, ReadAs
from reedmace.terminal.import_page import show_import
from reedmace.terminal.screen import Screen

NOTHING = Imported(0, 0, 0, 0, 0, 0, {}, None)


def shown(done: Imported, *, dry: bool = False) -> list[str]:
    """The lines on a screen of 100 columns."""
    out = io.StringIO()
    show_import(Screen(out, 100, colour=False), done, dry=dry)
    return out.getvalue().splitlines()


def test_who_is_credited_with_rows_that_name_nobody() -> None:
    """In words, of a dry run too."""
    done = NOTHING._replace(rows=3, sightings=3, visits=1, nobody=2, observer="Ada [b] Marsh")
    assert shown(done, dry=True) == [
        "Would bring in 3 sightings and 1 visit from 3 rows.",
        "Rows that name nobody who observed, credited to Ada [b] Marsh: 2.",
    ]


def test_at_most_twenty_names_are_listed_and_the_rest_is_counted() -> None:
    """Their rows too."""
    names = tuple(ReadAs(f"red {at}", "Ruddy Tarnling (Tarnula rubra)", 30 - at) for at in range(23))
    lines = shown(NOTHING._replace(read_as=names))
    assert lines[1] == "Names that are not in the key as they were typed. Read as:"
    assert lines[2] == "  red 0: Ruddy Tarnling (Tarnula rubra), 30 rows"
    assert lines[21].startswith("  red 19")
    assert lines[22:] == ["  and 3 names more, in 27 rows: all of them are in  --json"]
    assert shown(NOTHING._replace(read_as=names[:20]))[-1].startswith("  red 19")


def test_a_few_ids_are_listed_of_records_to_take_out() -> None:
    """And how many more there are."""
    lines = shown(NOTHING._replace(withdrawals=9, to_withdraw=tuple("abcdefg")))
    assert lines[1:] == [
        "9 rows ask that a record be taken out:",
        '  reedmace ledger withdraw ID --reason "..."',
        "  In this ledger stand:",
        *(f"    {one}" for one in "abcde"),
        "    and 2 more: all of them are in  --json",
    ]


def test_a_corrected_row_is_shown_beside_what_would_take_the_earlier_record_out() -> None:
    """Nothing is overwritten, and that both count is said."""
    rows = tuple(Corrected(at + 2, f"new-{at}", f"old-{at}", "Pale [r] Rushlet", ("count",)) for at in range(7))
    lines = shown(NOTHING._replace(corrected=rows[:1]))
    assert " ".join(lines[1:-2]) == (
        "1 new row looks like a correction of what this ledger has from an earlier sheet: no row of this"
        " file tells any more of the record named below. Nothing was overwritten; both count until one is withdrawn."
    )
    assert lines[-2:] == [
        "  line 2, Pale [r] Rushlet, another count:",
        '    reedmace ledger withdraw old-0 --reason "..."',
    ]
    assert shown(NOTHING._replace(corrected=rows))[-1] == "  and 2 more: all of them are in  --json"
