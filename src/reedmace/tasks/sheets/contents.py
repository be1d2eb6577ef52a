"""What a column means by what is in it: dates, places, names, counts; and whether its numbers only number the rows."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date
from itertools import pairwise

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, find_name
from reedmace.places.place import read_place
from reedmace.tasks.shared.dates import read_date
from reedmace.tasks.sheets.counts import read_count
from reedmace.tasks.sheets.parts import PARTS

_LOOKED_AT = 40  # different cells that are tried
_MOSTLY = 0.8
# One place that cannot be read makes its row faulty, and not the places of all the others unread.
_PLACES = 0.5
# Headings under which people count insects, or rows; under the first of them rows, where another column counts.
_NUMBERS_ROWS = frozenset({"no", "n"})
_MAY_NUMBER_ROWS = _NUMBERS_ROWS | {"number"}
_SURE_ALONE, _SURE_BESIDE = 5, 2  # rows numbered one by one: with nothing else that counts, and beside what does


def cells_of(rows: Iterable[Sequence[str]], place: int) -> list[str]:
    """Give the cells of a column that are not blank."""
    return [row[place].strip() for row in rows if place < len(row) and row[place].strip()]


def are_counts(cells: Sequence[str]) -> bool:
    """Say whether most of these cells read as counts."""
    return mostly(cells, lambda cell: not isinstance(read_count(cell), Fault), _MOSTLY)


def reads_as_place(text: str) -> bool:
    """Say whether a cell is a grid reference or a position."""
    return any(map(str.isdigit, text)) and not isinstance(read_place(text), Fault)


def finer(cells: Sequence[str], others: Sequence[str]) -> bool:
    """Say whether places have more figures than others, on the whole."""
    return _figures(cells) * len(others) > _figures(others) * len(cells)


def _figures(cells: Sequence[str]) -> int:
    return sum(sign.isdigit() for cell in cells for sign in cell)


def by_contents(key: Key, cells: Sequence[str], today: date) -> str | None:
    """Guess what a column means by its cells: most of them have to read, of places more than half."""
    readers: dict[str, tuple[Callable[[str], bool], float]] = {
        "date": (lambda text: not isinstance(read_date(text, today, future=True), Fault), _MOSTLY),
        "place": (reads_as_place, _PLACES),
        "name": (lambda text: isinstance(find_name(key, text), FoundName), _MOSTLY),
    }
    return next((field for field, (reads, share) in readers.items() if mostly(cells, reads, share)), None)


def mostly(cells: Sequence[str], reads: Callable[[str], bool], share: float = 0.5) -> bool:
    """Say whether more of the different cells read than this share; just so many will do where that is most of them."""
    some = list(dict.fromkeys(cells))[:_LOOKED_AT]
    read = sum(map(reads, some))
    return bool(some) and (read >= share * len(some) if share > 0.5 else read > share * len(some))


def running_numbers(
    columns: Sequence[tuple[str, str]], meant: Mapping[str, str | None], rows: Sequence[Sequence[str]]
) -> Iterator[str]:
    """Give the headings of columns that number the rows beside others that count, though they are headed like a count.

    `columns` are headings with their plain words, `meant` what each was taken for.
    """
    counted = [plain for heading, plain in columns if meant[heading] == "count"]
    clear = any(plain not in _MAY_NUMBER_ROWS for plain in counted)
    parts = not PARTS.keys().isdisjoint(field for field in meant.values() if field)
    for place, (heading, plain) in enumerate(columns):
        if not (clear or parts) or meant[heading] != "count" or plain not in _MAY_NUMBER_ROWS:
            continue
        numbers = _whole_numbers(cells_of(rows, place))
        if clear and plain in _NUMBERS_ROWS:
            # Rows taken out of a longer sheet, or numbered anew for each walk.
            anew = all(after in (before + 1, 1) for before, after in pairwise(numbers))
            if numbers and (anew or len(set(numbers)) == len(numbers)):
                yield heading
        elif _by_one(numbers, len(rows)) and len(numbers) >= _SURE_BESIDE:
            yield heading


def perhaps_running(
    columns: Sequence[tuple[str, str]], meant: Mapping[str, str | None], rows: Sequence[Sequence[str]]
) -> Fault | None:
    """Ask about the only column that counts, where it is headed so and each number is one more than the one above."""
    for place, (heading, plain) in enumerate(columns):
        if meant[heading] != "count" or plain not in _MAY_NUMBER_ROWS:
            continue
        numbers = _whole_numbers(cells_of(rows, place))
        if _by_one(numbers, len(rows)) and len(numbers) >= _SURE_ALONE:
            why = f'Each number under "{heading}" is one more than the one above ({numbers[0]}, {numbers[1]}, '
            why += f"{numbers[2]} …): it may number the rows, and not count insects."
            hint = f'say which:  --map "{heading}="  if it numbers the rows,  --map "{heading}=count"  if it counts'
            return Fault("count-or-row-number", why, hint, heading, typed=True)
    return None


def one_by_one(cells: Sequence[str], rows: int) -> bool:
    """Say whether cells number the rows, of which there are so many: each is one more than the one above."""
    numbers = _whole_numbers(cells)
    return len(numbers) >= _SURE_ALONE and _by_one(numbers, rows)


def _whole_numbers(cells: Sequence[str]) -> list[int]:
    whole = all(cell.isdecimal() and cell.isascii() and len(cell) < 8 for cell in cells)
    return [int(cell) for cell in cells] if whole else []


def _by_one(numbers: Sequence[int], rows: int) -> bool:
    return len(numbers) == rows and all(after == before + 1 for before, after in pairwise(numbers))
