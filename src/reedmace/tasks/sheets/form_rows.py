"""A row of a form, as it stands above the headings of a sheet for one walk: `Site: Fen End`, or `Date` and `4 July`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reedmace.tasks.sheets.heading_words import headed


def said_on_form(row: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Give each heading of a row with what is said of it: behind a colon, or in the next cell."""
    cells = [cell.strip() for cell in row if cell.strip()]
    in_turn = len(cells) == 2 or _in_turn(row)
    for at, cell in enumerate(cells):
        heading, colon, value = (part.strip() for part in cell.partition(":"))
        if colon and not value:
            value = cells[at + 1] if at + 1 < len(cells) and not cells[at + 1].endswith(":") else ""
        elif not colon and in_turn and at % 2 == 0:
            value = cells[at + 1]
        if value and headed(heading) is not None:
            yield heading, value


def is_form(row: Sequence[str]) -> bool:
    """Say whether a row is of a form, and so heads no columns, however many cells it has.

    That is one of which labels and what they say are the half or more: `Notes: what else you saw` among headings is
    a heading.
    """
    cells = [cell.strip() for cell in row if cell.strip()]
    said = [(heading, value) for heading, value in said_on_form(row) if headed(value) is None]
    taken = sum(1 + (value in cells) for _, value in said)
    return bool(said) and 2 * taken >= len(cells)


def _in_turn(row: Sequence[str]) -> bool:
    """Say whether labels without colons and what they say stand in turn: `Site`, `Fen End`, `Date`, `4 July 2026`.

    Each beside what it says, for headings of groups stand apart.
    """
    where = [place for place, cell in enumerate(row) if cell.strip()]
    if len(where) < 4 or len(where) % 2:
        return False
    pairs = list(zip(where[::2], where[1::2], strict=True))
    beside = all(value == label + 1 for label, value in pairs)
    return beside and all(headed(row[label]) and headed(row[value]) is None for label, value in pairs)
