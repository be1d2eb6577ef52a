"""What stands above the headings and is said of every row, as on a form for one walk: `Site: Fen End`, `Date: 4 July`.

Each becomes a column of the sheet, so that it is shown, mapped and handed back like any.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reedmace.tasks.sheets.above import DAY, PLACE, VISIT
from reedmace.tasks.sheets.heading_words import headed
from reedmace.tasks.sheets.rows import Sheet

_SAID = DAY | PLACE | VISIT | {"determiner"}


def with_said_above(sheet: Sheet) -> Sheet:
    """Give a sheet with a column for each thing said above its headings that no column of its own says."""
    own = {headed(column) for column in sheet.columns}
    said: dict[str, tuple[str, str]] = {}
    for row in sheet.above:
        for heading, value in _pairs(row):
            field = headed(heading)
            if field in _SAID and field not in own and not (field in DAY and own & DAY):
                said.setdefault(field, (heading, value))
    everywhere = tuple(said.values())
    return sheet._replace(columns=(*sheet.columns, *(heading for heading, _ in everywhere)), everywhere=everywhere)


def passed_over(sheet: Sheet) -> list[str]:
    """Give what stands above the headings and was not taken, a text for each row of it."""
    taken = {said for heading, value in sheet.everywhere for said in (heading, value, f"{heading}:{value}")}
    left = (", ".join(cell.strip() for cell in row if cell.strip() and _bare(cell) not in taken) for row in sheet.above)
    return [text for text in left if text]


def _bare(cell: str) -> str:
    return ":".join(part.strip() for part in cell.strip().removesuffix(":").split(":", 1))


def _pairs(row: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Give each heading of a row with what is said of it: behind a colon, or in the next cell."""
    cells = [cell.strip() for cell in row if cell.strip()]
    for at, cell in enumerate(cells):
        heading, colon, value = (part.strip() for part in cell.partition(":"))
        if colon and not value:
            value = cells[at + 1] if at + 1 < len(cells) and not cells[at + 1].endswith(":") else ""
        elif not colon and len(cells) == 2 and at == 0:
            value = cells[1]
        if value and headed(heading) is not None:
            yield heading, value
