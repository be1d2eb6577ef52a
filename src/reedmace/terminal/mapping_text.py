"""What the columns of a file are taken to mean, as text with an example of each."""

from __future__ import annotations

import re
from itertools import islice

from reedmace.tasks.sheets.columns import ColumnMapping
from reedmace.tasks.sheets.everywhere import passed_over
from reedmace.tasks.sheets.faults_file import EXTRA
from reedmace.tasks.sheets.numbers import day_of
from reedmace.tasks.sheets.parts import PARTS
from reedmace.tasks.sheets.rows import Sheet, rows
from reedmace.tasks.sheets.totals import YOUNG
from reedmace.terminal.plain import literal

_SHOWN = 24  # signs of an example or a heading
_LOOKED_AT = 200  # rows in which examples are looked for
_NUMBER = re.compile(r"[~<>c]?\s*[+-]?[0-9]+(?:[.,][0-9]+)*\s*(?:[+%?]|°?\s*[CF])?", re.ASCII)


def mapping_text(sheet: Sheet, mapping: ColumnMapping, everywhere: tuple[str, str]) -> str:
    """One line a column: heading, what it means, an example; and the field that holds where no column says it."""
    examples: dict[str, str] = {}
    known = mapping.passed_over
    left = {
        column: [0, 0]
        for column, field in mapping.columns
        if field is None and column not in known and column.casefold() not in EXTRA
    }
    for row in islice(rows(sheet), _LOOKED_AT):
        for column, cell in zip(sheet.columns, row.cells, strict=False):
            if cell.strip():
                examples.setdefault(column, cell.strip())
                if column in left:
                    left[column][_NUMBER.fullmatch(cell.strip()) is not None] += 1
    wide = min(_SHOWN, max(len(_named(column)) for column, _ in mapping.columns))
    lines = _above(sheet)
    lines.append("The columns are taken to mean:")
    for column, field in mapping.columns:
        example = _short(examples.get(column, ""))
        means = field.replace("_", " ") if field else "- left out -"
        lines.append(f"  {_named(column):<{wide}}  {means:<16}{f'  such as {example}' if example else ''}".rstrip())
    lines += [
        f'Left out, for it numbers the rows: {_short(one)} (if it counts insects:  --map "{literal(one)}=count" )'
        for one in mapping.running
    ]
    lines += [f"Left out, for it says what {_short(kept)} says: {_short(spare)}" for spare, kept in mapping.alike]
    for column in mapping.numbering:
        lines.append(
            f"{_short(column)} is a running number, and no id that a record keeps: the next sheet begins with 1 again"
            f' (to take it for the id all the same:  --map "{literal(column)}=id" )'
        )
    numbers = [_named(column) for column, (others, some) in left.items() if some > others]
    if numbers:
        it = "they hold" if len(numbers) > 1 else "it holds"
        lines.append(f'Left out, though {it} numbers: {", ".join(numbers)} (to bring them in:  --map "Heading=field" )')
    fields = {field for _, field in mapping.columns}
    lines += _counting(fields)
    if "seen" in fields:
        lines.append("Seen is a column of ticks: no and blank mean there what 0 means in a count")
    lines += _said(mapping)
    if mapping.numbers:
        shown = next(
            (
                examples[column]
                for column, field in mapping.columns
                if field in ("date", "date_month_first") and column in examples
            ),
            "",
        )
        such = f": {literal(shown)} is {day_of(shown)}" if day_of(shown) else ""
        lines.append(f"Dates and times are a spreadsheet's numbers, days counted from 1900{such}")
    field, value = everywhere
    if value and field not in fields:
        lines.append(f"{field.capitalize()} of every row: {literal(value)}")
    lines.append(
        f"Read as {sheet.encoding}, cells parted by {'a tab' if sheet.delimiter == chr(9) else sheet.delimiter}"
    )
    return "\n".join(lines)


def _above(sheet: Sheet) -> list[str]:
    """Say what stands above the headings, and what is made of it."""
    lines = []
    if over := passed_over(sheet):
        lines.append(f"Above the headings, and passed over: {'; '.join(map(_short, over))}")
    if sheet.everywhere:
        said = "; ".join(f"{_short(heading)} {_short(cell)}" for heading, cell in sheet.everywhere)
        lines.append(f"Above the headings, and said of every row: {said}")
    return lines


def _said(mapping: ColumnMapping) -> list[str]:
    """Say what the user said of cells that say nothing by themselves."""
    said = []
    if mapping.as_above:
        said.append("Empty cells of the day, the place and the people mean what stands above them")
    if mapping.bands:
        means = ", ".join(f"{word.upper() if len(word) == 1 else word} is {band}" for word, band in mapping.bands)
        said.append(f"In a count {literal(means)}")
    return said


def _counting(fields: set[str | None]) -> list[str]:
    """Say how the numbers of several columns go together: nothing may be counted twice unsaid."""
    counting = [field for field in PARTS if field in fields]
    totals = [field for field in ("adults", "count") if field in fields and len({*counting} - {field}) > 0]
    beside = [field for field in counting if field not in totals]
    if not beside:
        return []
    each = f"Each number under {_listed(beside)} is a sighting of its own, beside those of the other columns"
    said = [each]
    for total in totals:
        grown = [field for field in counting if field not in (*YOUNG, total)]
        young = [field for field in beside if field in YOUNG]
        rest = "adults not said more of" if total == "adults" else "of no sex or stage said"
        if not grown:
            said.append(f"Under {total} are the others, beside those under {_listed(young)}")
            continue
        said.append(f"Under {total}, {_listed(grown)} are counted once more; what it has beyond them is {rest}")
        if young:
            said[-1] += f"; those under {_listed(young)} are not in it"
    return said


def _listed(fields: list[str]) -> str:
    return ", ".join(field.replace("_", " ") for field in fields)


def _named(heading: str) -> str:
    return _short(heading) or "(no heading)"


def _short(text: str) -> str:
    plain = literal(text)
    return plain if len(plain) <= _SHOWN else f"{plain[: _SHOWN - 3]}..."
