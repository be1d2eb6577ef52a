"""A name that may be short for somebody else's is asked about, so that nobody stands in the register twice."""

from __future__ import annotations

from datetime import date

import pytest

from reedmace.keys.model import Key
from reedmace.tasks.shorthand.field_page import read_page
from reedmace.tasks.shorthand.page_said import Reading
from reedmace.tasks.shorthand.people_short import longer_names, shortened
from reedmace.tasks.shorthand.visit_said import VisitSaid

ME = "Ada Marsh"


def told(key: Key, text: str, *register: str) -> list[str]:
    """The faults of a page, in words."""
    pages, faults = read_page(text, Reading(key, "notes.txt", date(2026, 11, 30)))
    assert not faults
    walks = [(page, page.said or VisitSaid(), None) for page in pages]
    return [f"{one.said}: {one.message}" for one in shortened(walks, register)]


@pytest.mark.parametrize(
    ("name", "other"),
    [("Ben", "Ben Sallow"), ("B Sallow", "Ben Sallow"), ("B. Sallow", "Ben Sallow"), ("BS", "Ben Sallow")],
)
def test_a_name_short_for_one_of_the_page_is_asked_about(key: Key, name: str, other: str) -> None:
    text = f"visit 2026-07-12 @ SU 431 118 with {other}\n12 common blue by {name}\n3 emperor by {name}\n"
    assert told(key, text, ME) == [f'12 common blue by {name}: "{name}" could be {other}, or somebody else.']


def test_a_surname_that_stands_first_hides_no_short_name(key: Key) -> None:
    assert longer_names("Marsh, A.", [ME, "Ben Sallow"]) == [ME]
    assert longer_names("Marsh, Ada", [ME]) == []


@pytest.mark.parametrize("name", ["Ada", "A. Marsh", "AM", "A M Marsh"])
def test_a_name_short_for_one_of_the_register_is_asked_about(key: Key, name: str) -> None:
    """Also where the register has a middle name."""
    known = "Ada Mary Marsh" if name == "A M Marsh" else ME
    text = f'12 common blue by "Ben Sallow" with {name}\n' if name != "A M Marsh" else '12 common blue by "A M Marsh"\n'
    found = told(key, text, known)
    if name == "A M Marsh":
        assert found == [], "in quotes it is a name of its own"
    else:
        assert found == [f'{text.strip()}: "{name}" could be {known}, or somebody else.']


@pytest.mark.parametrize(
    ("text", "register"),
    [
        ("12 common blue by Ben\n", (ME,)),
        ("12 common blue by Ben\n", ("Ben Sallow", "Ben")),
        ('12 common blue by "Ben"\n', ("Ben Sallow",)),
        ("12 common blue by Ben Marsh\n", (ME,)),
        ("12 common blue by Bea Marsh\n", ("Ben Marsh",)),
        ("12 common blue by Ben Sallow\n", ("B. Sallow",)),
        ("12 common blue\n", ("Ben Sallow",)),
    ],
)
def test_whoever_is_known_named_in_full_or_in_quotes_is_not(key: Key, text: str, register: tuple[str, ...]) -> None:
    """A shared surname or first letter makes nobody short for another."""
    assert told(key, text, *register) == []


def test_of_several_all_are_named(key: Key) -> None:
    found = told(key, "12 common blue by B Marsh\n", "Ben Marsh", "Bea Marsh")
    assert found == ['12 common blue by B Marsh: "B Marsh" could be Ben Marsh or Bea Marsh, or somebody else.']


def test_a_name_asked_for_in_short_finds_those_it_may_be() -> None:
    assert longer_names("ben", ["Ben Sallow", "Ben Fen", "Benno Rush", "Ada Marsh"]) == ["Ben Sallow", "Ben Fen"]
    assert longer_names("Ben Sallow", ["Ben Sallow"]) == []
