"""Where the headings of a sheet are, and what is no heading: a record in the first row, a table that runs crosswise."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, find_name
from reedmace.places.place import read_place
from reedmace.tasks.shared.dates import read_date
from reedmace.tasks.sheets.columns import OURS, ColumnMapping
from reedmace.tasks.sheets.contents import cells_of, one_by_one
from reedmace.tasks.sheets.counts import read_count
from reedmace.tasks.sheets.form_rows import is_form
from reedmace.tasks.sheets.heading_words import heading_known
from reedmace.tasks.sheets.measures import counts_no_insects
from reedmace.tasks.sheets.parts import COUNTING

_LOOKED_AT = 20  # rows in which headings are looked for
_CROSSWISE = 2  # columns headed by numbers
_SURE = 3  # headings that must be known in a row that is not the first
_BELOW_A_FORM = 2  # there are few where place, day and people are said above


def title_rows(first: Sequence[Sequence[str]], known: Callable[[str], bool] = heading_known) -> int:
    """Give how many of the first rows stand above the headings: a title, who kept the sheet, and the like.

    None, where nothing says so: a row below is that of the headings only where it has several that are known, the
    first has not (`Site: Fen End` is none), and every row above has fewer cells filled, or is of a form.
    """
    heads = [cell for cell in _filled(first[0]) if ":" not in cell] if first else []
    if not first or (sum(map(known, heads)) > 1 and not is_form(first[0])):
        return 0
    for above, row in enumerate(first[:_LOOKED_AT]):
        cells = _filled(row)
        many = sum(map(known, cells))
        enough = _BELOW_A_FORM if any(map(is_form, first[:above])) else _SURE
        if many >= enough and 2 * many >= len(cells) and not is_form(row):
            return above if all(len(_filled(one)) < len(cells) or is_form(one) for one in first[:above]) else 0
    return 0


def _filled(row: Sequence[str]) -> list[str]:
    return [cell.strip() for cell in row if cell.strip()]


def record_as_headings(key: Key, columns: Sequence[str], today: date) -> Fault | None:
    """Say that the first row is a record itself, which would be lost as headings."""
    unknown = [column for column in columns if column and not heading_known(column)]
    found: dict[str, str] = {}
    for what, reads in (("a date", _is_date(today)), ("a place", _is_place), ("the name of a species", _is_name(key))):
        one = next((column for column in unknown if reads(column)), None)
        if one is not None:
            found[what] = one
    if len(found) < 2 and not ("a date" in found and len(unknown) == len([one for one in columns if one])):
        return None
    shown = ", ".join(f'"{said}" is {what}' for what, said in found.items())
    why = f"The first row is a record itself ({shown}), and would be lost as headings."
    hint = "write headings in a row above it, such as  Date, Species, Site, Grid ref, Count"
    return Fault("first-row-a-record", why, hint, ", ".join(columns), typed=True)


def crosswise(key: Key, mapping: ColumnMapping, today: date) -> Fault | None:
    """Say that a table that lacks a column of names or dates has a column for each of these instead."""
    fields = {field for _, field in mapping.columns}
    unknown = [column for column, field in mapping.columns if field is None and column]
    for what, lacking, reads in (
        ("date", not fields & {"date", "date_month_first", "year"}, _is_date(today)),
        ("species", not fields & {"name", "scientific_name"}, _is_name(key)),
    ):
        if lacking and (found := [column for column in unknown if reads(column)]):
            why = f'This table has a column for each {what} ("{found[0]}"); tables are read row by row.'
            hint = (
                "bring it into rows of one sighting each, with a column for the date, the place, the name and the count"
            )
            return Fault("table-crosswise", why, hint, found[0], typed=True)
    return None


def numbers_crosswise(mapping: ColumnMapping, columns: Sequence[str], sample: Sequence[Sequence[str]]) -> Fault | None:
    """Say that a table has a column for each number of insects, with ticks beneath, or counts for each section."""
    known, meant = mapping.passed_over, dict(mapping.columns)
    found = [
        column
        for place, column in enumerate(columns)
        if meant[column] is None and column not in known and _is_number(column) and cells_of(sample, place)
    ]
    if len(found) < _CROSSWISE or mapping.darwin_core:
        return None
    why = f'This table has a column for each number ("{found[0]}", "{found[1]}"); tables are read row by row.'
    hint = "write the number into one column, headed  Count , or leave each of these out: "
    return Fault("table-crosswise", why, f'{hint} --map "{found[0]}="', found[0], typed=True)


def uncounted(mapping: ColumnMapping, columns: Sequence[str], sample: Sequence[Sequence[str]]) -> Fault | None:
    """Say that no column counts, though one that is left out and of which nobody has spoken holds numbers.

    All of its insects would come in as present, and the numbers be lost. Measures, and numbers of rows, are no counts.
    """
    meant, known = dict(mapping.columns), mapping.passed_over
    if mapping.darwin_core or not {"count", *COUNTING}.isdisjoint(meant.values()):
        return None
    left = [
        column
        for place, column in enumerate(columns)
        if meant[column] is None and column and column not in known and column.casefold() not in OURS
        if not counts_no_insects(column)
        if (cells := cells_of(sample, place)) and all(map(_is_number, cells)) and not one_by_one(cells, len(sample))
    ]
    if not left:
        return None
    headings = ", ".join(f'"{column}"' for column in left)
    why = f"No column counts insects, but the numbers under {headings} may do so."
    hint = f'say which:  --map "{left[0]}=count"  if they do,  --map "{left[0]}="  if they do not'
    return Fault("count-or-not", why, hint + (", and so of the others" if len(left) > 1 else ""), left[0], typed=True)


def _is_number(heading: str) -> bool:
    return any(map(str.isdigit, heading)) and not any(map(str.isalpha, heading)) and not _unread(heading)


def _unread(text: str) -> bool:
    return isinstance(read_count(text), Fault)


def _is_date(today: date) -> Callable[[str], bool]:
    return lambda text: any(map(str.isdigit, text)) and not isinstance(read_date(text, today, future=True), Fault)


def _is_place(text: str) -> bool:
    return any(map(str.isdigit, text)) and not isinstance(read_place(text), Fault)


def _is_name(key: Key) -> Callable[[str], bool]:
    return lambda text: len(text) > 3 and isinstance(find_name(key, text), FoundName)
