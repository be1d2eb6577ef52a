"""A child's name in a cell of people: looked for as on a line of the shorthand, before anybody is registered."""

from __future__ import annotations

import re
from collections.abc import Iterator

from reedmace.faults import Fault
from reedmace.tasks.sheets.people_words import are_beside, is_code, is_company

_NAME = r"[A-Z][\w’'-]*\.?(?:(?: (?:de|van|von|der|la|le|di|da))* [A-Z][\w’'-]*\.?)*"
_PIECES = re.compile(r"[|;&+/()\[\]]|\b(?:and|with|plus)\b", re.IGNORECASE)
_SURNAME_FIRST = re.compile(r"\s*(?P<name>[A-Z][\w’'-]+,\s*[A-Z][\w’'.-]*)\s*")
# With initials behind it a surname is no first name alone, whatever else its piece says: `Quill, P., party`.
_ONE = re.compile(rf"[A-Z][\w’'-]+,\s*[A-Z]\b\.?(?:[\s-]?[A-Z]\b\.?){{0,3}}(?=\s*(?:,|$))|{_NAME}")
_END = r"(?=\s*(?:$|[|;&+/,()\[\]]|\b(?:and|with)\b))"
_YEARS = r"(?:1[0-7]|[1-9])(?:\s*(?:yrs?|years?)(?:\s+old)?)?"
_AGED = re.compile(rf"(?P<name>{_NAME})(?:,?\s+|\s*\(\s*)(?P<age>{_YEARS})(?!/){_END}")
_LITTLE = re.compile(
    rf"(?:^|[|;&+/,(]|\b(?:and|with)\b)\s*(?P<age>[Ll]ittle|[Yy]oung|[Bb]aby|wee) (?P<name>[A-Z][\w’'-]+){_END}"
)


def child_in(cell: str) -> Fault | None:
    """Say that a name of a cell may be a child's: it stands beside an age, or alone where children are spoken of."""
    # Many cells are one name: nothing in them speaks of anybody else.
    if cell.replace(" ", "").isalpha() and cell.istitle() and cell.count(" ") < 2 and not _LITTLE.match(cell):
        return None
    from reedmace.tasks.shorthand.children import children_beside  # most cells need none of it

    shown = cell if any(sign.isupper() for sign in cell) or len(cell.title()) != len(cell) else cell.title()
    aged = [found for found in (*_AGED.finditer(shown), *_LITTLE.finditer(shown)) if not is_code(found[0])]
    told = [(cell[slice(*found.span("name"))], cell[slice(*found.span("age"))]) for found in aged]
    names = [(cell[start:end], start) for start, end in _names(shown) if not _unnamed(cell[start:end])]
    return children_beside(cell, names, [(name, age) for name, age in told if not _unnamed(name)], _NAME)


def _unnamed(name: str) -> bool:
    return is_company(name) or is_code(name) or are_beside(name)


def _names(cell: str) -> Iterator[tuple[int, int]]:
    """Give where what may be names in a cell begins and ends."""
    begins = 0
    for ends, following in [*(found.span() for found in _PIECES.finditer(cell)), (len(cell), 0)]:
        piece = cell[begins:ends]
        if whole := _SURNAME_FIRST.fullmatch(piece):
            yield begins + whole.start("name"), begins + whole.end("name")
        else:
            yield from ((begins + one.start(), begins + one.end()) for one in _ONE.finditer(piece))
        begins = following
