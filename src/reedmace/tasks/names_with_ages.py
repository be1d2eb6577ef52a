"""Names that stand beside a child's age in a remark: `walk with Tim, 7`, `found by Tim aged 7`, `7-year-old Tim`."""

from __future__ import annotations

import re
from collections.abc import Iterator

from reedmace.keys.care import care_on

# Groups of children, in general words.
GROUPS = (
    *("cubs", "brownies", "beavers", "scouts", "guides", "class", "classes", "school", "schools", "schoolchildren"),
    *("nursery", "playgroup", "youngsters", "boys", "girls"),
)
_NOBODY = frozenset(("aged", "age", "boy", "girl", "group", "party", "year", "all", "mixed", "everybody", *GROUPS))
_NAME = r"((?!(?:With|By|For|And|Found|The)\b)[A-Z][^\W\d_]*[a-z][\w’'-]*(?: [A-Z][\w’'-]+)?)"
_AGE = r"(?:1[0-7]|[1-9])(?!\d|\s*(?:-|–|to|or)\s*\d)"
_YEARS = r"[\s-]*(?:yrs?|years?)[\s-]*olds?"
_TOLD = rf"{_NAME}(?: is| was)?[\s,]*\(?(age[d:]?\s*{_AGE}|{_AGE}{_YEARS})"
_BEFORE = rf"\b({_AGE}{_YEARS})\s+{_NAME}"
# A number alone is an age in a list of people only: insects are listed with numbers too.
_PEOPLE = r"\b(?i:with|by|for)\s"
_LISTED = rf"{_NAME}(?:,\s*|\s*\()({_AGE})(?=\s*(?:[,.;)]|and\b|&|$))"


def beside_age(text: str) -> Iterator[tuple[str, str]]:
    """Each name of a remark with the age of a child that stands beside it; people in initials are not named."""
    if not any(sign.isdigit() for sign in text):
        return
    found = [(one[1], one[2]) for one in re.finditer(_TOLD, text)]
    found += [(one[2], one[1]) for one in re.finditer(_BEFORE, text)]
    if people := re.search(rf"{_PEOPLE}{_LISTED}", text):
        found += [(one[1], one[2]) for one in re.finditer(_LISTED, text[people.start(1) :])]
    nobody = _NOBODY | {word for note in care_on("child") for word in note.words}
    for name, age in found:
        if not any(word.casefold() in nobody for word in name.split()):
            yield name, age
