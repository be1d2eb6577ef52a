"""A name beside words that speak of a child: asked about before anything is written, for children are not named."""

from __future__ import annotations

import re
from collections.abc import Iterable

from reedmace.faults import Fault
from reedmace.keys.care import care_on
from reedmace.tasks.field_page import PageVisit
from reedmace.tasks.field_words import Word
from reedmace.tasks.visit_said import VisitSaid

# Words that tell the age of somebody who is named; the other words may speak of children who are not.
_AGES = ("aged", "year-old")


def child_may_be_named(walks: Iterable[tuple[PageVisit, VisitSaid]]) -> Fault | None:
    """The first name that may be a child's: one alone where the words speak of children, any where they tell an age."""
    for page, said in walks:
        noted = " ".join((said.typed, *said.notes))
        found = _named(noted, said.company, said.typed)
        for seen in page.lines:
            line = seen.line.said
            found = found or _named(line.typed, line.company, line.typed)
        if found:
            return found
    return None


def _named(text: str, names: tuple[Word, ...], typed: str) -> Fault | None:
    if not names:
        return None  # before the notes are read: most lines name nobody
    words = [word for note in care_on("child") for word in note.words]
    if not words:
        return None
    spoken = re.findall(rf"\b(?:{'|'.join(map(re.escape, words))})\b", text, re.IGNORECASE)
    aged = any(word.casefold() in _AGES for word in spoken)
    name = next((name.text for name in names if spoken and (aged or " " not in name.text.strip())), None)
    if name is None:
        return None
    return Fault(
        "child-may-be-named",
        f'"{name}" may be a child, for the line says "{spoken[0]}". Children\'s names go into nothing.',
        "leave the name out and count children:  party of 7  or  with 6 children ; of an adult write the full name",
        typed,
        typed=True,
    )
