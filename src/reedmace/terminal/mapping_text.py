"""What the columns of a file are taken to mean, as text with an example of each."""

from __future__ import annotations

from itertools import islice

from reedmace.tasks.sheet_columns import ColumnMapping
from reedmace.tasks.sheet_numbers import day_of
from reedmace.tasks.sheet_parts import PARTS
from reedmace.tasks.sheet_rows import Sheet, rows
from reedmace.terminal.plain import literal

_SHOWN = 24  # signs of an example or a heading


def mapping_text(sheet: Sheet, mapping: ColumnMapping, everywhere: tuple[str, str]) -> str:
    """One line a column: heading, what it means, an example; and the field that holds where no column says it."""
    examples: dict[str, str] = {}
    for row in islice(rows(sheet), 50):
        for column, cell in zip(sheet.columns, row.cells, strict=False):
            if cell.strip():
                examples.setdefault(column, cell.strip())
    wide = min(_SHOWN, max(len(column) for column, _ in mapping.columns))
    lines = []
    if sheet.above:
        lines.append(f"Above the headings, and passed over: {'; '.join(map(_short, sheet.above))}")
    lines.append("The columns are taken to mean:")
    for column, field in mapping.columns:
        example = _short(examples.get(column, ""))
        means = field.replace("_", " ") if field else "- left out -"
        lines.append(f"  {_short(column):<{wide}}  {means:<16}{f'  such as {example}' if example else ''}".rstrip())
    fields = {field for _, field in mapping.columns}
    lines += _counting(fields)
    if "seen" in fields:
        lines.append("Seen is a column of ticks: no and blank mean there what 0 means in a count")
    if mapping.numbers:
        shown = next(
            (examples[column] for column, field in mapping.columns if field == "date" and column in examples), ""
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


def _counting(fields: set[str | None]) -> list[str]:
    """Say how the numbers of several columns go together: nothing may be counted twice unsaid."""
    counting = [field for field in PARTS if field in fields]
    totals = [field for field in ("adults", "count") if field in fields and len({*counting} - {field}) > 0]
    beside = [field.replace("_", " ") for field in counting if field not in totals]
    if not beside:
        return []
    said = [f"Each number under {', '.join(beside)} is a sighting of its own, beside those of the other columns"]
    for total in totals:
        rest = "adults not said more of" if total == "adults" else "of no sex or stage said"
        said.append(f"Under {total} they are counted once more; what it has beyond them is {rest}")
    return said


def _short(text: str) -> str:
    plain = literal(text)
    return plain if len(plain) <= _SHOWN else f"{plain[: _SHOWN - 3]}..."
