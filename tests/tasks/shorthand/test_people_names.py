"""People's names on lines whose other words may have capitals too, as phones write them."""

from __future__ import annotations

import pytest

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.tasks.shorthand.line import read_line
from reedmace.tasks.shorthand.visit_line import read_visit_line
from tarn import TODAY

# The line | the people | what else was said with a capital.
VISITS = """
with Ben Sallow South Hants                  | Ben Sallow            | vice_county 11
with Ben Sallow Sunny 21C                    | Ben Sallow            | weather Sunny, 21C
with Ben Sallow Sunday 12 July 2026          | Ben Sallow            | day 2026-07-12
with Ben Sallow July 12 2026                 | Ben Sallow            | day 2026-07-12
by Ada Marsh Overcast Transect               | Ada Marsh             | method transect
by Ada Marsh, Breezy                         | Ada Marsh             | weather Breezy
by Ada Marsh From 10:30                      | Ada Marsh             | start 10:30
with Ben Sallow SW F2                        | Ben Sallow            | wind (2, 2)
with Ben Sallow West F2                      | Ben Sallow            | weather West F2
with Ben Sallow Garden Pond                  | Ben Sallow            | habitat garden-pond
with Ben Sallow's party of 12                | Ben Sallow            | party party of 12
with "Ben Sallow" Sunny                      | Ben Sallow            | weather Sunny
with Ada May 12 July 2026                    | Ada May               | day 2026-07-12
with Ada May, June Field and Dan Wood        | Ada May + June Field + Dan Wood |
with Kit Young, Ben M. Sallow                | Kit Young + Ben M. Sallow       |
by Ben Kent, Clare and May                   | Ben Kent + Clare + May          |
with Piet van der Berg, Fen d'Arcy           | Piet van der Berg + Fen d'Arcy  |
with Jean de la Fen Sunny                    | Jean de la Fen        | weather Sunny
det. D. Fen Sunny                            | D. Fen                | weather Sunny
"""

LINES = """
Emperor By Ben Sallow Male                   | Ben Sallow            | sex male
Emperor 1 F Det Dan Fen Ovip                 | Dan Fen               | behaviour ('ovipositing',)
emperor 1m by Ben Sallow Photo IMG_1.jpg     | Ben Sallow            | photos ('IMG_1.jpg',)
emperor by Ben Sallow M                      | Ben Sallow            | sex male
emperor by AM, EM                            | AM + EM               |
emperor 1m det. D. Fen                       | D. Fen                |
emperor with Kit Young                       | Kit Young             |
"""


def rows(table: str) -> list[list[str]]:
    """The rows of a table, by column."""
    return [[cell.strip() for cell in row.split("|")] for row in table.strip().splitlines()]


@pytest.mark.parametrize(("typed", "people", "beside"), rows(VISITS))
def test_a_word_that_a_visits_line_knows_ends_a_name_with_its_surname(
    key: Key, typed: str, people: str, beside: str
) -> None:
    said, faults = read_visit_line(key, typed, today=TODAY)
    assert faults == ()
    names = (*said.observers, *said.company, *((said.determiner,) if said.determiner else ()))
    assert " + ".join(name.text for name in names) == people
    if beside:
        field, _, value = beside.partition(" ")
        found = getattr(said, field)
        assert str(getattr(found, "iso", found)) == value


@pytest.mark.parametrize(("typed", "people", "beside"), rows(LINES))
def test_a_word_of_the_shorthand_ends_a_name_with_its_surname(key: Key, typed: str, people: str, beside: str) -> None:
    line = read_line(key, typed)
    assert not isinstance(line, Fault), line
    said = line.said
    names = (*said.observers, *said.company, *((said.determiner,) if said.determiner else ()))
    assert " + ".join(name.text for name in names) == people
    if beside:
        field, _, value = beside.partition(" ")
        assert str(getattr(said if field == "photos" else said.tallies[0], field)) == value


@pytest.mark.parametrize(
    ("typed", "hint"),
    [
        ("with Ben Sunny", 'with "Ben Sunny"  ; else write  Sunny  before  with'),
        ("by Ada Marsh Kent", 'by "Ada Marsh Kent"  ; else write  Kent  before  by'),
        ("by Ada Marsh, Kent", 'in quotes:  "Kent"  ; else write  Kent  before  by'),
        ("with Ada May Marsh", 'with "Ada May Marsh"'),
    ],
)
def test_a_word_that_could_be_of_the_name_or_its_own_is_a_fault(key: Key, typed: str, hint: str) -> None:
    """Quotes settle it, and so does the other order."""
    _, faults = read_visit_line(key, typed, today=TODAY)
    assert [fault.code for fault in faults] == ["name-or-word"]
    assert hint in faults[0].hint
    word = typed.split()[-1]
    begins = typed.split()[0]
    for settled in (faults[0].hint.partition(":  ")[2].partition("  ;")[0], f"{word} {typed.removesuffix(word)}"):
        line = settled if begins in settled else typed.replace(word, settled)
        assert not any(fault.code == "name-or-word" for fault in read_visit_line(key, line, today=TODAY)[1])


@pytest.mark.parametrize("typed", ["emperor by Ben M", "emperor by Ben Male", "emperor with Ben, Young"])
def test_a_short_form_behind_a_first_name_alone_is_a_fault(key: Key, typed: str) -> None:
    line = read_line(key, typed)
    assert isinstance(line, Fault)
    assert line.code == "name-or-word"
