"""Lines on which several things are counted: what belongs to which number, and what could be meant by it."""

from __future__ import annotations

import pytest

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.tasks.field_page import SeenLine
from reedmace.tasks.line_words import show_line
from reedmace.tasks.shorthand import Line, choices, read_line
from reedmace.terminal.walk_text import care_lines, seen_lines

# What is typed | how it was understood, in words.
STAGES = """
common blue 12m 3f 2imm                    | 12 male and 3 female and 2 immature
emperor 1m 3 exuviae                       | 1 male and 3 exuvia
emperor 1m, 2 exuviae, 1f ovip             | 1 male and 2 exuvia and 1 female ovipositing
large red 5m 3 ten                         | 5 male and 3 teneral
large red 5 m 3 ten                        | 5 male and 3 teneral
large red 3 ad 2 imm                       | 3 adult and 2 immature
large red ad 3 imm 2                       | 3 adult and 2 immature
large red 2m imm 3f ad                     | 2 male immature and 3 female adult
large red 2m, 3f imm                       | 2 male and 3 female immature
large red 2m, ten 3f                       | 2 male and 3 female teneral
imm large red 2m 3f                        | 2 male and 3 female, immature
large red 2m, 3f, imm                      | 2 male and 3 female, immature
2m 3f large red imm                        | 2 male and 3 female, immature
2m/3f imm large red                        | 2 male and 3 female, immature
large red 2 newly emerged m                | 2 male, teneral
emperor m, 2 exuviae                       | male, not counted and 2 exuvia
emperor 2, 2 exuviae                       | 2 and 2 exuvia
emperor 2 exuviae, 1f ovip                 | 2 exuvia and 1 female ovipositing
"""
TOTALS = """
3 emperor, 2m 1f                           | 2 male and 1 female, 3 in all
emperor 3 2m 1f                            | 2 male and 1 female, 3 in all
3 emperor 2 m 1 f                          | 2 male and 1 female, 3 in all
emperor 3 feeding 2m 1f                    | 2 male feeding and 1 female feeding, 3 in all
5 large red, 3 ten, 2 ad                   | 3 teneral and 2 adult, 5 in all
large red 5 imm 2m 3f                      | 2 male and 3 female, immature, 5 in all
5 emperor 3m 2f 1 exuvia                   | 3 male and 2 female and 1 exuvia, 5 in all beside the exuvia
6 common blue 3 cop                        | 3 pairs (copulating, 6 insects), 6 in all
common blue about 15 (10m 5f)              | 10 male and 5 female, about 15 in all
brown hawker 3 (2m, 1f)                    | 2 male and 1 female, 3 in all
6 emperor incl 2m                          | 4 and 2 male, 6 in all
2m plus 4 emperor                          | 2 male and 4
9 com bl 1 cop | 9 and 1 pair (copulating, 2 insects), the pairs beside the others: 11 in all
4 spot chaser 2m 1f                        | 2 male and 1 female
4 spot 6                                   | 6
3 4 spot chaser                            | 3
3 4-spot chaser                            | 3
4 4-spot                                   | 4
common blue 1m 1f in cop                   | 1 pair (copulating, 2 insects)
common blue 3 m 3 f ovip in tandem         | 3 pairs (tandem, 6 insects), ovipositing
common blue 3 pairs ovipositing in tandem  | 3 pairs (tandem, 6 insects), ovipositing
common blue 6 pairs in tandem              | 6 pairs (tandem, 12 insects)
common blue 3 in tandem                    | 3 pairs (tandem, 6 insects)
"""
EVERYDAY = """
common blue 20 or so                       | about 20
3 common blue or so                        | about 3
common blue 20m or so                      | about 20 male
common blue 20 or more                     | at least 20
common blue 20 plus                        | at least 20
9 plus 1 cop common blue | 9 and 1 pair (copulating, 2 insects), the pairs beside the others: 11 in all
common blue 2 to 4                         | about 2–4
common blue 2 - 5                          | 2–5
common blue 2 or 3 m                       | about 2–3 male
common blue 1,200                          | 1200
common blue 1200 m                         | 1200 male
1200 common blue                           | 1200
common blue 50 est                         | about 50
a few common blue                          | present, not counted
a pair of common blue in cop               | 1 pair (copulating, 2 insects)
a pair common blue                         | 1 pair (tandem, 2 insects)
half a dozen common blue                   | 6
an emperor                                 | 1
a dozen or so lrd                          | about 12
a female emperor ovip                      | 1 female, ovipositing
1 x brown hawker                           | 1
emperor x 2m                               | 2 male
emperor 1m seen by Ben Sallow              | 1 male, seen by Ben Sallow
2m emperor present                         | 2 male
2m f present emperor                       | 2 male and female, not counted
1 emperor seen                             | 1
emperor p                                  | present, not counted
brown hawker (1m)                          | 1 male
common blue (3 prs)                        | 3 pairs (tandem, 6 insects)
common blue 2 m. 3 f.                      | 2 male and 3 female
common blue 2 imm.                         | 2, immature
prob. common blue 3 ten.                   | 3, teneral, name probable
common blue 1m1f                           | 1 male and 1 female
common blue m1 f1                          | 1 male and 1 female
emperor ♂♀                                 | male, not counted and female, not counted
common blue 3 at 2pm                       | 3, at 14:00
common blue 3 at 1140                      | 3, at 11:40
common blue 3 at SU 433 119                | 3, at SU433119
emperor m (photo IMG(1).jpg)               | male, not counted, evidence: photo, photo IMG(1).jpg
"""
NAMES = """
large red (Pyrrhosoma nymphula) 3          | Large Red Damselfly
azure (C. puella) 3                        | Azure Damselfly
3 P. nymphula                              | Large Red Damselfly
skimmer, black-tailed 2                    | Black-tailed Skimmer
darter, common 2m, 3f                      | Common Darter
ruddy drt                                  | Ruddy Darter
1 clubtail                                 | Common Clubtail
1 club-tail                                | Common Clubtail
"""


def rows(text: str) -> list[list[str]]:
    """The rows of a table of lines."""
    return [[cell.strip() for cell in row.split("|")] for row in text.strip().splitlines()]


def read(key: Key, typed: str) -> Line:
    """A line that is understood."""
    line = read_line(key, typed)
    assert isinstance(line, Line), line
    return line


@pytest.mark.parametrize(("typed", "understood"), rows(STAGES))
def test_a_stage_belongs_to_the_number_beside_it_and_apart_from_all_to_the_line(
    key: Key, typed: str, understood: str
) -> None:
    """Nobody's living male becomes a cast skin, and what was understood shows each part's stage."""
    assert show_line(read(key, typed)) == understood


@pytest.mark.parametrize(("typed", "understood"), rows(TOTALS))
def test_a_number_beside_its_breakdown_is_the_total_and_nothing_is_counted_twice(
    key: Key, typed: str, understood: str
) -> None:
    assert show_line(read(key, typed)) == understood


@pytest.mark.parametrize(("typed", "understood"), rows(EVERYDAY))
def test_what_people_write_every_day_is_read(key: Key, typed: str, understood: str) -> None:
    """Brackets and stops add nothing; "seen" beside a number says nothing more; "or so" is an estimate."""
    line = read(key, typed)
    assert show_line(line) == understood
    assert len(line.name.species) == 1


@pytest.mark.parametrize(("typed", "english"), rows(NAMES))
def test_a_name_is_read_as_lists_and_labels_have_it(key: Key, typed: str, english: str) -> None:
    """With the scientific name in brackets, the family's word first, or without its vowels."""
    assert [key.species[index].english for index in read(key, typed).name.species] == [english]


def test_an_unidentified_insect_is_one_of_its_group(key: Key) -> None:
    assert read(key, "1 unidentified hawker").name.group == read(key, "1 hawker sp.").name.group is not None


@pytest.mark.parametrize(
    ("typed", "code", "hint"),
    [
        ("large red 2m 3f imm", "stage-unclear", "2m, 3f imm"),
        ("large red ten 2m, 3f", "stage-unclear", "ten, 2m 3f"),
        ("large red ten, 2m 3f ad, 4", "two-stages", "a line for each"),
        ("4 emperor, 2m 1f", "total-unclear", "4 incl"),
        ("2m 4 emperor", "total-unclear", "plus 4"),
        ("2 emperor 2m 1f", "total-unclear", "plus 2"),
        ("5 large red 3 ten", "total-unclear", "plus 5"),
        ("common blue 15+ (10m 5f)", "total-unclear", "plus 15+"),
        ("common blue 3 pairs, 1 ovip", "total-unclear", "plus 1"),
        ("common darter 3m (1 imm)", "total-unclear", "without brackets"),
        ("common blue 10m 5f (2 pairs)", "total-unclear", "without brackets"),
        ("4 spot chaser", "number-or-name", "4-spot  for the name,  4 4-spot"),
        ("4 spotted chaser", "number-or-name", "4-spotted"),
        ("4 spot chaser m", "number-or-name", "4-spot"),
        ("4 spot chaser, 2 exuviae", "number-or-name", "4-spot"),
        ("common blue 6 in tandem", "pairs-or-insects", "6 pairs in tandem  or  3 pairs in tandem"),
        ("common blue 2 in cop", "pairs-or-insects", "2 pairs in cop  or  1 pair in cop"),
        ("emperor m 1130", "count-or-time", "11:30  for the time,  x1130"),
        ("emperor 2 at 11", "time-not-read", "11:00"),
        ("common blue or so", "ambiguous-name", "20 or so"),
        ("common blue or sd 3", "ambiguous-name", "more of the other name"),
        ("azure/so 3", "ambiguous-name", "Azure Damselfly"),
        ("large red (Aeshna cyanea) 3", "names-differ", "leave out"),
        ("red drt", "ambiguous-name", "Common Darter"),
        ("common blue 3 at the sluice", "word-not-read", "@ SU 433 119"),
        ("GR", "ambiguous-name", "Golden-ringed Dragonfly"),
    ],
)
def test_what_could_be_two_things_is_a_fault_that_shows_how_to_write_each(
    key: Key, typed: str, code: str, hint: str
) -> None:
    fault = read_line(key, typed)
    assert isinstance(fault, Fault), fault
    assert fault.code == code
    assert hint in fault.hint
    assert fault.where is not None
    assert fault.where.excerpt == typed


@pytest.mark.parametrize(
    ("typed", "offered"),
    [("3 ruddy dater", "Ruddy Darter"), ("comon blue 2m", "Common Blue Damselfly"), ("2 emporer", "Emperor Dragonfly")],
)
def test_what_was_nearly_typed_is_offered_as_a_choice(key: Key, typed: str, offered: str) -> None:
    """A slip is offered by number, as a name of several is."""
    english = {species.name: species.english for species in key.species}
    assert english[choices(key, typed)[0]] == offered


def test_every_hint_of_a_number_or_a_name_can_be_typed(key: Key) -> None:
    assert show_line(read(key, "x1130 emperor")) == "1130"
    assert len(read(key, "common blue 3 pairs plus 1 ovip").tallies) == 2
    assert show_line(read(key, "4-spot chaser")) == "present, not counted"
    assert show_line(read(key, "4 4-spotted chaser")) == "4"
    assert show_line(read(key, "large red ten, 2m 3f")) == "2 male and 3 female, teneral"
    assert show_line(read(key, "3 cop common blue")) == "3 pairs (copulating, 6 insects)"


def test_what_is_shown_before_writing_says_the_stage_of_each_part(key: Key) -> None:
    """Those without a stage are written as adults, and beside others that is shown; so is the care they ask for."""
    lines = [SeenLine(read(key, "emperor 1m, 2 exuviae, 3 ten"), 1)]
    assert seen_lines(key, lines) == ["  Emperor Dragonfly: 1 male adult and 2 exuvia and 3 teneral"]
    told = " ".join(care_lines(key, lines))
    assert "cast skin" in told
    assert "newly emerged" in told
    assert seen_lines(key, [SeenLine(read(key, "emperor 1m"), 1)]) == ["  Emperor Dragonfly: 1 male"]
