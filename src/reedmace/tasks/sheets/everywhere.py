"""What stands above the headings and is said of every row, as on a form for one walk: `Site: Fen End`, `Date: 4 July`.

Each becomes a column of the sheet, so that it is shown, mapped and handed back like any.
"""

from __future__ import annotations

from reedmace.tasks.sheets.above import DAY, PLACE, VISIT
from reedmace.tasks.sheets.form_rows import said_on_form
from reedmace.tasks.sheets.heading_words import headed
from reedmace.tasks.sheets.rows import Sheet

_SAID = DAY | PLACE | VISIT | {"determiner"}


def with_said_above(sheet: Sheet) -> Sheet:
    """Give a sheet with a column for each thing said above its headings that no column of its own says."""
    own = {headed(column) for column in sheet.columns}
    said: dict[str, tuple[str, str]] = {}
    for row in sheet.above:
        for heading, value in said_on_form(row):
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
