"""Lines that could say that nothing was there, signs that stand alone, and numbers that count no insects."""

from __future__ import annotations

import pytest

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.tasks.shorthand.line import Line, read_line, read_tallies
from reedmace.tasks.shorthand.line_words import show_line

# What is typed | how it was understood, in words.
READ = """
- emperor                        | present, not counted
• emperor 2m                     | 2 male
* emperor                        | present, not counted
- [x] emperor                    | present, not counted
emperor ✓                        | present, not counted
emperor - 2m                     | 2 male
3 emperor «au bord»              | 3; remark: au bord
3 emperor »am Ufer«              | 3; remark: am Ufer
3 emperor ‘at St Mark’s pond’    | 3; remark: at St Mark’s pond
3 emperor 'by the dog's bowl', terr | 3, territorial; remark: by the dog's bowl
3 emperor ''                     | 3
emperor 2m - perched             | 2 male, perched
emperor 12 – "lovely"            | 12; remark: lovely
a few emperor - "lovely"         | present, not counted; remark: lovely
two emperors - "lovely"          | 2; remark: lovely
> emperor 2                      | 2
>2 emperor                       | at least 3
large red > 20                   | at least 21
large red ≥ 15                   | at least 15
large red ≥15                    | at least 15
large red ± 15                   | about 15
large red ±15                    | about 15
large red ≈ 15 m                 | about 15 male
large red 12 ~                   | about 12
large red 12 ~ m                 | about 12 male
large red almost 20              | about 20
large red 15-ish                 | about 15
½ dozen large red                | 6
large red = 3                    | 3
emperor 12 noon                  | present, not counted, at 12:00
emperor m 12 midday              | male, not counted, at 12:00
3 emperor noon                   | 3, at 12:00
3 emperor 2.30 pm                | 3, at 14:30
3 emperor 11.20 a.m.             | 3, at 11:20
3 emperor at 11 am               | 3, at 11:00
3 emperor 1130hrs                | 3, at 11:30
3 emperor 14:30 BST              | 3, at 14:30
3 emperor by Ben Sallow.         | 3, seen by Ben Sallow
emperor m 3 photos               | male, not counted, evidence: photo; remark: 3 photos
emperor 1m, two photos           | 1 male, evidence: photo; remark: two photos
emperor 3, photos                | 3, evidence: photo
emperor m photo "on the reeds"   | male, not counted, evidence: photo; remark: on the reeds
emperor photo, "by #2 post"      | present, not counted, evidence: photo; remark: by #2 post
emperor photo "on the reeds.jpg" | present, not counted, evidence: photo, photo on the reeds.jpg
emperor m by Ada, 2              | 2 male, seen by Ada
emperor m by Ada Marsh 2         | 2 male, seen by Ada Marsh
large red 3 tens                 | 3, teneral
large red just emerged           | present, not counted, teneral
large red f egg‑laying           | female, not counted, ovipositing
emperor single male              | 1 male
emperor single                   | 1
emperor 2♂♂                      | 2 male
emperor 2 ♀♀                     | 2 female
emperor:3                        | 3
lrd-3                            | 3
emperor m=3 f=2                  | 3 male and 2 female
a common blue                    | 1
a cyanea                         | present, not counted
hawkers 3                        | 3
hawkers sp.                      | present, not counted
hawkers present                  | present, not counted
unidentified damselflies         | present, not counted
aeshna                           | present, not counted
Lestes                           | present, not counted
common blues                     | present, not counted
"""
ABSENT = """
emperor - | emperor – | emperor — | emperor: - | emperor ✗ | emperor ❌ | emperor ✘ | emperor ☒ | emperor ☐ | emperor ∅
emperor 2m ✗ | [ ] emperor | - [ ] emperor | [] emperor 2 | ( ) emperor | emperor -, 2 exuviae | emperor m -, f 2
emperor – # lovely | emperor nil | no emperor | emperor: none | emperor absent | emperor not seen | zero emperor
emperor ✖️
"""


@pytest.mark.parametrize(("typed", "understood"), [row.split("|") for row in READ.strip().splitlines()])
def test_signs_and_numbers_beside_the_count_are_read_for_what_they_say(key: Key, typed: str, understood: str) -> None:
    """A star of a list says nothing, an estimate stays one, and photographs are no insects."""
    line = read_line(key, typed.strip())
    assert isinstance(line, Line), line
    assert show_line(line) == understood.strip()


@pytest.mark.parametrize(
    "typed", [*(one.strip() for row in ABSENT.strip().splitlines() for one in row.split("|")), "| emperor | - |"]
)
def test_a_mark_of_absence_is_a_fault_as_a_zero_is(key: Key, typed: str) -> None:
    """Nothing that was not there becomes a sighting; the hint says what to do in either case."""
    fault = read_line(key, typed)
    assert isinstance(fault, Fault), fault
    assert (fault.code, fault.said) == ("absence-on-line", typed)
    assert "leave the line out" in fault.hint
    assert fault.where is not None
    assert fault.where.column is not None
    assert typed[fault.where.column - 1 :][: fault.where.width] in fault.message


@pytest.mark.parametrize(
    ("typed", "code", "hint"),
    [
        ("large red < 10", "count-not-read", "2-5"),
        ("large red ≤ 10 m", "count-not-read", "2-5"),
        ("large red ≤15", "count-not-read", "2-5"),
        ("large red 10 %", "word-not-read", "in quotes"),
        ("large red $ 10", "word-not-read", "in quotes"),
        ("large red ^ 3", "word-not-read", "in quotes"),
        ("> 2 emperor", "quoted-or-more", "over 2"),
        ("large red 3 of 5 exuviae", "total-unclear", "5 exuviae"),
        ("emperor m 11 am", "count-or-time", "11am  for the time"),
        ("emperor 3 pm", "count-or-time", '3 "pm"'),
        ("emperor m 14:30 GMT", "time-by-which-clock", "14:30"),
        ("emperor m photo x3", "insects-or-photos", "3 photos"),
        ("emperor photo x 3", "insects-or-photos", "3 photos"),
        ("emperor m photo 2", "insects-or-photos", "2 photos"),
        ("emperor 2 m, photo 3, perched", "insects-or-photos", "3 photos"),
        ("emperor m by Pond 2", "person-or-place", '"by Pond 2"'),
        ("tens of large red", "tens-unclear", "~30"),
        ("large red tens", "tens-unclear", "teneral"),
        ("3 tens of large red", "tens-unclear", "teneral"),
        ("large red 20 at a time", "word-not-read", "in quotes"),
        ("Damselflies", "heading-or-sighting", "Damselflies sp."),
        ("Dragonflies:", "heading-or-sighting", "Dragonflies sp."),
        ("**Hawkers**", "heading-or-sighting", "Hawkers sp."),
        ("DARTERS", "heading-or-sighting", "DARTERS sp."),
        ("Zygoptera", "heading-or-sighting", "Zygoptera sp."),
        ("Aeshnidae", "heading-or-sighting", "Aeshnidae sp."),
        ("Emperor:", "heading-or-sighting", "a number"),
    ],
)
def test_what_could_count_something_else_or_head_a_list_is_asked_about(
    key: Key, typed: str, code: str, hint: str
) -> None:
    fault = read_line(key, typed)
    assert isinstance(fault, Fault), fault
    assert fault.code == code
    assert hint in fault.hint


def test_a_name_that_was_asked_for_is_no_heading(key: Key) -> None:
    """Where a name alone is wanted, the group is named."""
    assert isinstance(read_line(key, "Hawkers", listed=False), Line)


def test_a_time_is_no_count(key: Key) -> None:
    """Twelve insects are not read from "12 noon", wherever a count stands alone."""
    read = read_tallies("12 noon")
    assert not isinstance(read, Fault)
    assert [tally.count for tally in read.tallies] == [None]


@pytest.mark.parametrize("typed", ["~~3 emperor~~", "emperor ~~3~~ 4", "3\u0336 e\u0336m\u0336p\u0336eror"])
def test_what_is_crossed_out_is_no_record(key: Key, typed: str) -> None:
    """Of the line nothing is taken; in a remark it may stand."""
    read = read_line(key, typed)
    assert isinstance(read, Fault)
    assert read.code == "crossed-out"
    assert isinstance(read_line(key, f"3 emperor # {typed}"), Line)


def test_figures_of_another_script_are_shown_as_they_are_written_here(key: Key) -> None:
    read = read_line(key, "emperor \uff11\uff12 m")
    assert isinstance(read, Fault)
    assert (read.code, read.hint) == ("word-not-read", "write  12")
