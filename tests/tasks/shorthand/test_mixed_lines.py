"""Lines on which several things are counted: what belongs to which number, and what could be meant by it."""

from __future__ import annotations

import pytest

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.tasks.shorthand.line import Line, choices, read_line, read_lines
from reedmace.tasks.shorthand.line_words import show_line
from reedmace.tasks.shorthand.page_said import SeenLine
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
emperor m, exuvia                          | male, not counted and present, not counted exuvia
emperor m + exuvia                         | male, not counted and present, not counted exuvia
emperor exuvia & m                         | present, not counted exuvia and male, not counted
emperor 2 + exuvia                         | 2 and present, not counted exuvia
emperor m with exuvia                      | male, not counted and present, not counted exuvia
emperor m and larva                        | male, not counted and present, not counted larva
emperor exuvia, f ovip                     | present, not counted exuvia and female ovipositing, not counted
emperor 2m, 3f, exuviae                    | 2 male and 3 female and present, not counted exuvia
emperor exuviae + 2m 3f                    | present, not counted exuvia and 2 male and 3 female
emperor 1 exuvia, m                        | 1 exuvia and male, not counted
emperor 2 exuviae and m                    | 2 exuvia and male, not counted
emperor m exuvia                           | male, not counted, exuvia
emperor exuvia m                           | male, not counted, exuvia
"""
TOTALS = """
large red 2m, total 2                      | 2 male, 2 in all
large red 2m 1f 3 ad                       | 2 male and 1 female, adult, 3 in all
large red 3 (2m, 1 unsexed)                | 2 male and 1, 3 in all
large red 10 (5m, 3f, 2)                   | 5 male and 3 female and 2, 10 in all
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
common blue x1200 m                        | 1200 male
1,200 common blue                          | 1200
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
BEHAVIOUR = """
emperor 2 patrolling males, 1 hawking male | 2 male patrolling and 1 male feeding
azure dam 3 m, 2 perched f                 | 3 male and 2 female perched
brown hawker 1 m hawking, 1 terr f         | 1 male feeding and 1 female territorial
emperor 3 plus exuviae                     | 3 and present, not counted exuvia
emperor 3 plus 1 f                         | 3 and 1 female
willow 2m                                  | 2 male
beautiful m                                | male, not counted
emp                                        | present, not counted
2 emperors, both males                     | 2 male
2 emperors, both in cop                    | 1 pair (copulating, 2 insects)
emperor 3 "here and" f                     | 3 female; remark: here and
willow, em                                 | present, not counted, emerging
3 em willow                                | 3, emerging
emperor 10m + others                       | 10 male and present, not counted
emperor 2 pairs, singles | 2 pairs (tandem, 4 insects) and present, not counted, the pairs beside the others
emperor 4 m / 2 f                          | 4 male and 2 female
4 m / 2 f emperor                          | 4 male and 2 female
emperor f ten                              | female, not counted, teneral
emperor 3 f ovip                           | 3 female, ovipositing
emperor 3, females ovip                    | 3 female, ovipositing
emperor 3, all f ovip                      | 3 female, ovipositing
emperor 1, f ovip                          | 1 female, ovipositing
emperor 3, m, terr                         | 3 male, territorial
common darter 5 m incl 1 terr m            | 4 male and 1 male territorial, 5 male in all
common darter 5 m plus 1 terr m, 1 f       | 5 male and 1 male territorial and 1 female
common darter 5 m perched, 1 m terr        | 5 male perched and 1 male territorial
common darter 3 pairs plus 2 ovip pairs | 3 pairs (tandem, 6 insects) and 2 pairs (tandem, 4 insects) ovipositing
common darter 3 (2 terr m, 1 ovip f)       | 2 male territorial and 1 female ovipositing, 3 in all
beautiful demoiselle 3 (1 guarding m, 2 f) | 1 male guarding and 2 female, 3 in all
common darter 6 incl 1 ovipositing female  | 5 and 1 female ovipositing, 6 in all
common darter 3 (2m, 1f) feeding           | 2 male feeding and 1 female feeding, 3 in all
common darter 2 m (terr), 1 f (ovip)       | 2 male territorial and 1 female ovipositing
common darter terr m 3, ovip f 2           | 3 male territorial and 2 female ovipositing
common darter 2 m, 1 f, all feeding        | 2 male feeding and 1 female feeding
common darter 2m, 1f, feeding              | 2 male feeding and 1 female feeding
feeding common darter 2m 1f                | 2 male feeding and 1 female feeding
common darter 2m 1f feeding                | 2 male and 1 female feeding
common darter 1f 2m ovip                   | 1 female ovipositing and 2 male
common darter 2m, 1f, 3 ex, ovip           | 2 male and 1 female ovipositing and 3 exuvia
common darter 4 m, 2 ovip                  | 4 male and 2 ovipositing
common darter 2 hawking, 1 ovip            | 2 feeding and 1 ovipositing
"""
AMONG = """
emperor 5 exuviae (3m, 2f)                 | 3 male and 2 female, exuvia, 5 in all
emperor exuviae 5 (3m 2f)                  | 3 male and 2 female, exuvia, 5 in all
emperor 6 exuviae, 3m 2f                   | 6 exuvia and 3 male and 2 female
emperor 5 exuviae plus 3m 2f               | 5 exuvia and 3 male and 2 female
emperor 7 (4 m, 1 f, 2 ten)                | 4 male and 1 female and 2 teneral, 7 in all
emperor 7 (4 males, 1 female, 2 tenerals)  | 4 male and 1 female and 2 teneral, 7 in all
emperor 6, 3 m, 1 f, 2 imm                 | 3 male and 1 female and 2 immature, 6 in all
brown hawker 2 (1 ovip)                    | 1 and 1 ovipositing, 2 in all
brown hawker 2 incl 1 ovip                 | 1 and 1 ovipositing, 2 in all
brown hawker 2 (1 f ovip)                  | 1 and 1 female ovipositing, 2 in all
5 brown hawkers, one ovipositing           | 4 and 1 ovipositing, 5 in all
brown hawker 10 f incl 3 ovip              | 7 female and 3 female ovipositing, 10 female in all
brown hawker 10 m 3 f (3 ovip)             | 10 male and 3 female ovipositing
brown hawker 15 (10 m)                     | 5 and 10 male, 15 in all
brown hawker 12 (7m 5f), of which 3 ten m | 4 male and 5 female and 3 male teneral, 12 in all
brown hawker 12 (7m 5f), of which 2 ovip | 7 male and 3 female and 2 female ovipositing, 12 in all
brown hawker 12: 7m, 5f (2 ovip) | 7 male and 3 female and 2 female ovipositing, 12 in all
brown hawker 12: 7m (2 ten), 5f | 5 male and 2 male teneral and 5 female, 12 in all
brown hawker 12 (7m), of which 3 f | 2 and 7 male and 3 female, 12 in all
brown hawker 12 (7m 5f), of which 2 ten m, 1 ten f | 5 male and 4 female and 2 male teneral and \
1 female teneral, 12 in all
brown hawker 12 (7m 5f) plus 3 ten         | 7 male and 5 female and 3 teneral
brown hawker 10 plus (2f)                  | 10 and 2 female
brown hawker 12, 3 of them teneral         | 9 and 3 teneral, 12 in all
brown hawker 5m, 3 of them teneral         | 2 male and 3 male teneral, 5 male in all
brown hawker 7m 5f incl 2m 1f teneral | 5 male and 4 female and 2 male teneral and 1 female teneral
brown hawker 10 (2f) (1 imm)               | 7 and 2 female and 1 immature, 10 in all
common darter 10m incl 2 ten               | 8 male and 2 male teneral, 10 male in all
common darter 12m incl 2 ten m             | 10 male and 2 male teneral, 12 male in all
common darter 10 adults incl 3 f           | 7 and 3 female, adult, 10 in all
common darter 10 ad incl 2 imm             | 8 adult and 2 immature, 10 in all
common darter 15 of which 3 teneral        | 12 and 3 teneral, 15 in all
common darter 7 in all (4m 3f)             | 4 male and 3 female, 7 in all
one ovipositing common darter, five in all | 1 ovipositing and 4, 5 in all
common darter 3m, 2f, 5 others             | 3 male and 2 female and 5
emperor 5 ad (3m 2f), 2 exuviae | 3 male adult and 2 female adult and 2 exuvia, 5 in all beside the exuvia
emperor 3: 2 males, 1 female               | 2 male and 1 female, 3 in all
emperor 7 - 4 males, 3 females             | 4 male and 3 female, 7 in all
emperor 3 - 2m, 1f ovip                    | 2 male and 1 female ovipositing, 3 in all
common darter 7 - 12                       | about 7–12
emperor x2 (m+f)                           | 1 male and 1 female, 2 in all
common darter 10 incl 2 pairs, 1 teneral | 5 and 2 pairs (tandem, 4 insects) and 1 teneral, \
the pairs among those counted: 10 in all
common darter 10 incl 2 tandem, 1 exuvia | 6 and 2 pairs (tandem, 4 insects) and 1 exuvia, \
the pairs among those counted: 10 in all
common darter 12m incl 2 ten, 3 cop | 7 male and 2 male teneral and 3 pairs (copulating, 6 insects), \
the pairs among those counted: 15 in all
"""
PAIRED = """
common darter 4 pairs, 3 in tandem, 1 in cop | 3 pairs (tandem, 6 insects) and 1 pair (copulating, 2 insects)
common darter 5 pairs, 4 in tandem, 1 in cop | 4 pairs (tandem, 8 insects) and 1 pair (copulating, 2 insects)
common darter 4 pairs (1 cop) | 3 pairs (tandem, 6 insects) and 1 pair (copulating, 2 insects), 8 in all
emperor one pair + single | 1 pair (tandem, 2 insects) and 1, the pairs beside the others: 3 in all
emperor 2 pairs, single | 2 pairs (tandem, 4 insects) and 1, the pairs beside the others: 5 in all
emperor 2 pairs, a single | 2 pairs (tandem, 4 insects) and 1, the pairs beside the others: 5 in all
common darter 8 (all in tandem)            | 4 pairs (tandem, 8 insects)
common darter 2 mating pairs               | 2 pairs (copulating, 4 insects)
common darter 3 mating                     | 3 pairs (copulating, 6 insects)
common darter 1m 1f tandem                 | 1 pair (tandem, 2 insects)
common darter m + f in tandem              | 1 pair (tandem, 2 insects)
common darter one male + one tandem pair | 1 male and 1 pair (tandem, 2 insects), the pairs beside the others: 3 in all
azure dam 5 cop, 3 ovip f | 5 pairs (copulating, 10 insects) and 3 female ovipositing, \
the pairs beside the others: 13 in all
"""
WORDED = """
brown hawker 2 males and an ovip female    | 2 male and 1 female ovipositing
brown hawker male, 2 females               | male, not counted and 2 female
brown hawker 2m, f ovip                    | 2 male and female ovipositing, not counted
common darter a teneral                    | 1, teneral
common darter thirteen                     | 13
common darter twenty-five m                | 25 male
common darter about a hundred              | about 100
common darter two dozen                    | 24
common darter fifty or so                  | about 50
common darter 3 ten                        | 3, teneral
common darter one male 3 ten               | 1 male and 3 teneral
common darter 5 unsexed                    | 5
common darter up to 12                     | about 12
common darter max 12                       | about 12
common darter approximately 20             | about 20
large red 12 @ 11:40                       | 12, at 11:40
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
    return [[cell.strip() for cell in row.split("|")] for row in text.replace("\\\n", "").strip().splitlines()]


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


@pytest.mark.parametrize(("typed", "understood"), rows(BEHAVIOUR))
def test_what_they_did_is_said_of_the_number_it_stands_by(key: Key, typed: str, understood: str) -> None:
    """Between a number and its sex too; apart from the numbers it is said of all."""
    assert show_line(read(key, typed)) == understood


@pytest.mark.parametrize(("typed", "understood"), rows(AMONG))
def test_what_is_among_a_number_is_taken_out_of_it(key: Key, typed: str, understood: str) -> None:
    """In brackets, behind a colon, "incl" or "of which": the rest remains, and nothing is counted twice."""
    assert show_line(read(key, typed)) == understood


@pytest.mark.parametrize(("typed", "understood"), rows(PAIRED))
def test_pairs_are_counted_once_however_often_they_are_told(key: Key, typed: str, understood: str) -> None:
    assert show_line(read(key, typed)) == understood


@pytest.mark.parametrize(("typed", "understood"), rows(WORDED))
def test_numbers_in_words_and_sexes_without_a_number_are_read(key: Key, typed: str, understood: str) -> None:
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
        (
            "common darter 3m (1 imm)",
            "total-unclear",
            "3m incl 1 imm  where it is among them",
        ),
        ("common blue 10m 5f (2 pairs)", "total-unclear", "10m 5f incl 2 pairs"),
        ("LRD 10 (3 pairs)", "total-unclear", "LRD 10 incl 3 pairs  where it is among them,  LRD 10 plus 3 pairs"),
        ("common darter 4 pairs, 1 cop", "total-unclear", "4 pairs incl 1 copulating  or  4 pairs plus 1"),
        ("common darter 4 f, 2 ovip", "total-unclear", "incl 2  for 4 in all"),
        ("large red 20 min", "count-or-time", "20+  for the insects,  for 20 min  for the time"),
        ("emperor 3 + f", "count-and-sex", "3 plus 1 f  for one more,  3 f  for them"),
        ("emperor 3 plus pair", "count-and-sex", "3 plus 1 pair  for one more"),
        ("emperor m m f", "said-twice", "2m 1f"),
        ("emperor both m", "word-not-read", "remark"),
        ("willow em 3", "stage-or-name", "willow, emerging"),
        ("Aeshna grandis (Sulzer, 1776) 2", "names-differ", "leave the author out"),
        ("emp 1m ovip", "behaviour-unclear", "2 m, 1 f ovip"),
        ("emp ♂ ovip", "behaviour-unclear", "2 m, 1 f ovip"),
        ("emp 1 SU 4321 1190", "place-without-sign", "@ SU 4321 1190"),
        ("emp 1m chasing 4-spot", "several-on-line", "in quotes"),
        ("1 emp BS", "several-on-line", "initials of a person behind  by"),
        ("emp ✓✓✓", "word-not-read", "3  for the number"),
        ("emp ✓ ✓", "word-not-read", "2  for the number"),
        ('lrd nr. "inlet"', "word-not-read", '"nr. inlet"  in quotes'),
        ("3 azure dam nr", "word-not-read", "the sign stands before the name"),
        ("southern em dam 3", "stage-or-name", "southern dam, emerging"),
        ("s. em. dam. 2", "stage-or-name", "s. dam., emerging"),
        ("2 m hawkers", "sex-or-name", "hawkers, male"),
        ("large white 3", "ambiguous-name", "Large White-faced Darter"),
        ("2 wings", "ambiguous-name", "Yellow-winged Darter"),
        ("dry", "ambiguous-name", "Scarce Emerald Damselfly"),
        ("2 for", "ambiguous-name", "Emperor Dragonfly"),
        ("Brilliant!", "ambiguous-name", "Brilliant Emerald"),
        ("willow", "ambiguous-name", "Willow Emerald Damselfly"),
        ("large red ten", "ten-unclear", "10  for the number,  teneral  for the stage"),
        ("ten males large red", "ten-unclear", "10  for the number"),
        ("large red ten m, 3 f", "ten-unclear", "teneral  for the stage"),
        ("common darter 4 f, 2 ovip f", "total-unclear", "4 f incl 2 ovip f  if among them"),
        ("common darter 5 m, 1 terr m, 1 f", "total-unclear", "5 m plus 1 terr m, 1 f  if more"),
        ("common darter 3 pairs, 2 ovip pairs", "total-unclear", "3 pairs incl 2 ovip pairs"),
        ("emperor 3, f ovip", "count-and-sex", "3 f ovip  ; of one of them  3 incl 1 f ovip"),
        ("3 emperors (female ovipositing)", "count-and-sex", "3 incl 1 female ovipositing"),
        ("emperor loads, f ovip", "count-and-sex", "loads, all f ovip"),
        ("common darter 20, pairs ovip", "pairs-or-insects", "20 pairs  ; or how many of them:  20 incl 2 pairs"),
        ("common blue 8, in cop", "pairs-or-insects", "8 pairs copulating"),
        ("common darter 1, 3 ovip", "total-unclear", "plus 1"),
        ("common darter 3 f incl 5 ovip", "total-unclear", "plus 5"),
        ("common darter 12m 5f incl 2 ten", "total-unclear", "say their sex"),
        ("common darter 10 (4m, 2f, 1 ovip)", "total-unclear", "say their sex"),
        ("common darter 7 - 4 males", "total-unclear", "7 incl"),
        ("common darter 12 (7m 5f), of which 3 teneral", "total-unclear", "say their sex"),
        ("common darter 12 (7m 5f), 3 of them teneral", "total-unclear", "say their sex"),
        ("common darter 10 (5m 5f) incl 3 teneral", "total-unclear", "say their sex"),
        ("common darter 12 (7m), of which 3 teneral", "total-unclear", "say their sex"),
        ("common darter 12: 7m, 5f (2 imm)", "total-unclear", "say their sex"),
        ("common darter 12: 7m, 5f (2 pairs)", "total-unclear", "plus 2"),
        ("common darter 12 (7m), of which 6 f", "total-unclear", "plus 6"),
        ("common darter 12 (7m 5f), 3 ten", "total-unclear", "plus 3"),
        ("common darter 5m 5f, of which 3 teneral", "total-unclear", "say their sex"),
        ("emperor 12 ex, 7m 5f", "total-unclear", "12 exuvia (7m 5f)"),
        ("emperor 5 larvae 3m 2f", "total-unclear", "5 larva plus 3m 2f"),
        ("large red exuviae, 2m 3f", "stage-unclear", "5 exuviae (2m 3f)"),
        ("large red exuviae: 2m, 3f", "stage-unclear", "5 exuviae (2m 3f)"),
        ("large red 2m 1f 5 ad", "total-unclear", "5 incl"),
        ("large red 10, exuviae", "stage-unclear", "10 + exuviae"),
        ("10 large red, larva", "stage-unclear", "10 larva"),
        ("large red 1m 1", "total-unclear", "plus 1  for 2 in all"),
        ("large red one pair + 2", "total-unclear", "plus 2"),
        ("large red 1m, 1?", "total-unclear", "plus 1"),
        ("large red 4 cop 2", "pairs-unclear", "4 cop, 2 singles  or  4 singles, 2 cop"),
        ("large red 3 tan ex", "behaviour-unclear", "2 tan, 3 exuvia"),
        ("large red 2 pairs larvae", "behaviour-unclear", "2 pairs, 3 larva"),
        ("3 exuviae in tandem emperor", "behaviour-unclear", "2 tandem, 3 exuvia"),
        ("emperor 2m 2m", "said-twice", "one number"),
        ("emperor 2m, 3 m", "said-twice", "one number"),
        ("emperor 2 imm, 3 imm", "said-twice", "one number"),
        ("common darter 4 mating", "pairs-or-insects", "4 pairs mating  or  2 pairs mating"),
        ("azure dam pairs", "pairs-uncounted", "how many pairs"),
        ("azure dam pairs ovip", "pairs-uncounted", "how many pairs"),
        ("large red tandems", "pairs-uncounted", "how many pairs"),
        ("tandem pairs azure dam", "pairs-uncounted", "how many pairs"),
        ("emperor 5 ex ovip", "behaviour-unclear", "1 f ovip"),
        ("emperor ex 5 patrolling", "behaviour-unclear", "leave it out"),
        ("common darter 2 f 3 ex ovip", "behaviour-unclear", "1 f ovip"),
        ("common darter 2 ovip m, 1 f", "behaviour-unclear", "1 f ovip"),
        ("common darter 1f, 2m ovip", "behaviour-unclear", "1 f ovip"),
        ("common darter 5 3 m", "count-and-sex", "2m, f"),
        ("emperor 1130 m", "count-or-time", "11:30  for the time,  x1130"),
        ("1130 emperor m ovip", "count-or-time", "x1130  or  1,130"),
        ("1200 common blue", "count-or-time", "x1200  or  1,200"),
        ("common blue 1130-1200", "count-or-time", "x1130-1200"),
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
        ("large red 3 on reeds", "word-not-read", "@ SU 433 119"),
        ("emperor over the reed bed 2m", "word-not-read", "@ SU 433 119"),
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
    assert show_line(read(key, "1,130 emperor")) == "1130"
    assert show_line(read(key, "common darter 3m incl 1 imm")) == "2 male and 1 male immature, 3 male in all"
    assert show_line(read(key, "common darter 3m plus 1 imm")) == "3 male and 1 immature"
    assert show_line(read(key, "LRD 10 plus 3 pairs")).endswith("16 in all")
    assert [one.pairs for one in read(key, "common darter 4 pairs incl 1 copulating").tallies] == [3, 1]
    assert [one.pairs for one in read(key, "common darter 4 pairs plus 1 copulating").tallies] == [4, 1]
    assert show_line(read(key, "common darter 15-25 plus 5m")) == "about 15–25 and 5 male"
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


# What is written in one or says one thing in two words | how it was understood.
TOGETHER = """
large red 5 male(s), 2 female(s)           | 5 male and 2 female
large red exuvia(e)                        | present, not counted, exuvia
large red 3m-2f                            | 3 male and 2 female
large red 3m–2f                            | 3 male and 2 female
large red 3m.2f                            | 3 male and 2 female
large red m5/f2                            | 5 male and 2 female
large red 3pr+1ex                          | 3 pairs (tandem, 6 insects) and 1 exuvia
large red 2+m                              | at least 2 male
large red 3-4m                             | about 3–4 male
large red 3m on territory                  | 3 male, territorial
large red 3 larval skins                   | 3, exuvia
large red 10 (5m, 3f, 2 sex unknown)       | 5 male and 3 female and 2, 10 in all
large red in wheel position                | 1 pair (copulating, 2 insects)
large red m mate guarding                  | male, not counted, guarding
large red 2 prs ov.                        | 2 pairs (tandem, 4 insects), ovipositing
large red 12 (approx)                      | about 12
large red 3 at least                       | at least 3
large red 3 minimum                        | at least 3
large red 3, watched 20 min                | 3; remark: watched 20 min
large red 1 patrolling for half an hour    | 1, patrolling; remark: for half an hour
large red 3 (45 mins)                      | 3; remark: 45 mins
large red m min 3 for 1.5 h                | at least 3 male; remark: for 1.5 h
large red 3!!                              | 3
large red 2 (see photo)                    | 2, evidence: photo
large red 2m??                             | 2, sex in doubt; remark: 2m?
large red 4 singles, 2 ex                   | 4 and 2 exuvia
large red half-dozen                       | 6
loads of large reds                        | present, not counted
also 2 large red                           | 2
large red 1 m or f                         | 1, sex in doubt; remark: 1 m or f
large red m @ 14.30                        | male, not counted, at 14:30
large red m @ 1430                         | male, not counted, at 14:30
"""


@pytest.mark.parametrize(("typed", "understood"), rows(TOGETHER))
def test_what_is_written_in_one_or_in_two_words_is_read_as_what_it_says(key: Key, typed: str, understood: str) -> None:
    assert show_line(read(key, typed)) == understood


@pytest.mark.parametrize(
    ("typed", "code", "hint"),
    [
        ("large red 5m+f", "count-and-sex", "2m, f"),
        ("large red m/f 3/4", "two-counts", "3m 4f  or  3-4"),
        ("large red hundreds", "many-unclear", "~200"),
        ("a handful of large reds", "many-unclear", "many"),
        ("2 large red SU433119", "word-not-read", "@ SU433119"),
        ("large red photo IMG_1234", "word-not-read", 'photo "IMG_1234"'),
        ("large red m @ 2.30", "time-unclear", "14:30"),
    ],
)
def test_what_does_not_say_what_was_seen_gets_a_remedy_of_its_own(key: Key, typed: str, code: str, hint: str) -> None:
    fault = read_line(key, typed)
    assert isinstance(fault, Fault), fault
    assert (fault.code, hint in fault.hint) == (code, True)


@pytest.mark.parametrize(
    ("typed", "parts"),
    [
        ("Emperor 2, Brown hawker 3", ["Emperor 2", "Brown hawker 3"]),
        ("2 emperor 3 brown hawker", ["2 emperor", "3 brown hawker"]),
        ("2 emperors & 3 brown hawkers", ["2 emperors", "3 brown hawkers"]),
        ("emperor and brown hawker", ["emperor", "brown hawker"]),
        ("large red; emperor, 2 m; common blue", ["large red", "emperor, 2 m", "common blue"]),
    ],
)
def test_several_insects_on_one_line_are_told_a_line_for_each(key: Key, typed: str, parts: list[str]) -> None:
    """Each of which can be typed."""
    fault = read_line(key, typed)
    assert isinstance(fault, Fault), fault
    assert (fault.code, fault.hint.partition(":  ")[2]) == ("several-on-line", "  and  ".join(parts))
    for part in parts:
        assert isinstance(read_line(key, part), Line)


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ("2 emperor, 3 large red", [("Emperor Dragonfly", 2), ("Large Red Damselfly", 3)]),
        ("Emperor 2, Brown hawker 3", [("Emperor Dragonfly", 2), ("Brown Hawker", 3)]),
        ("2 emperors & 3 brown hawkers", [("Emperor Dragonfly", 2), ("Brown Hawker", 3)]),
        (
            "emperor; brown hawker; large red",
            [("Emperor Dragonfly", None), ("Brown Hawker", None), ("Large Red Damselfly", None)],
        ),
        ("2m emperor, 1f large red", [("Emperor Dragonfly", 2), ("Large Red Damselfly", 1)]),
        ("2m emperor, 3 large red", [("Emperor Dragonfly", 2), ("Large Red Damselfly", 3)]),
        ("12 common blue m", [("Common Blue Damselfly", 12)]),
    ],
)
def test_several_insects_that_say_no_more_than_their_number_are_a_line_each(key: Key, typed: str, wanted) -> None:
    lines = read_lines(key, typed)
    assert not isinstance(lines, Fault), lines
    assert [(key.species[line.name.species[0]].english, line.tallies[0].count) for line in lines] == wanted


@pytest.mark.parametrize(
    "typed",
    [
        "2 emperor, 3 large red in tandem",
        "2 emperor, 3 large red, mating",
        "2 emperor, 3 large red m",
        "2 emperor, 3 large red by Ben Sallow",
        "2 emperor, 3 large red at 11:40",
        "2 emperor, 3 large red  # by the sluice",
        "3 emperor and brown hawker",
        "2 emperor 3 brown hawker",
    ],
)
def test_what_could_be_meant_of_all_is_asked_about(key: Key, typed: str) -> None:
    """Pairs, a sex, a person, a time, a remark behind the last; and a number before the first alone."""
    lines = read_lines(key, typed)
    assert isinstance(lines, Fault), lines
    assert lines.hint


@pytest.mark.parametrize("typed", ["emperor 12 ex, 7m 5f", "large red 12, 3", "zebra 3, quagga 2", "emperor 2m 3"])
def test_numbers_of_one_insect_are_not_told_as_several(key: Key, typed: str) -> None:
    fault = read_line(key, typed)
    assert isinstance(fault, Fault)
    assert fault.code in ("total-unclear", "two-counts")
