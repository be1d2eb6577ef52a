"""Names beside what makes them a child's, in remarks; and what looks like that and is none."""

from __future__ import annotations

import pytest

from reedmace.tasks.shorthand.children import children_in_party, children_in_text
from reedmace.tasks.shorthand.names_with_ages import beside_age, first_names

KNOWN = frozenset(("emperor", "brown", "hawker", "common", "darter", "large", "red", "ruby", "azure", "blue"))

CHILDREN = """
Finn Sallow (8) netted it                  | Finn Sallow | 8
Finn, 8 yrs, netted it                     | Finn        | 8 yrs
found by Poppy, aged seven                 | Poppy       | aged seven
my daughter Poppy saw it first             | Poppy       | daughter
netted by a child, Finn                    | Finn        | child
Finn, Year 5, netted it                    | Finn        | Year 5
Finn (Y5) saw it                           | Finn        | Y5
Poppy (7) said so                          | Poppy       | 7
Poppy, 7                                   | Poppy       | 7
found by poppy aged 7                      | poppy       | aged 7
FINN (8) NETTED IT                         | FINN        | 8
FOUND BY POPPY, AGED SEVEN                 | POPPY       | AGED SEVEN
Poppy (my daughter) saw it                 | Poppy       | daughter
Poppy is my daughter                       | Poppy       | daughter
Finn's mum took the photo                  | Finn        | mum
the kids Poppy and Finn                    | Poppy       | kids
with the children, Poppy and Finn          | Poppy       | children
Ben Sallow's son Finn found it             | Finn        | son
a 7-year-old Tim was the first             | Tim         | 7-year-old
Finn Marsh (8) netted it                   | Finn Marsh  | 8
found by Ruby, aged 7                      | Ruby        | aged 7
When Finn, aged 8, shouted                 | Finn        | aged 8
"""

NONE = """
Emperor (7), Brown Hawker (3)
Brown Hawker (8) netted
2 males 8 yrs ago
Year 5 of the survey
Harrowmere, Year 5 of the survey
Pond Survey, Year 5
Top Pond (7)
the pond is 3 years old
Tern Hollow, 8 years since the dredging
Emperors, 8 yrs ago
Common Darter aged 2 days
By Pond 2, 7 males
Section 3, 7 males
with JM, 7
At Harrowmere, my son saw it first
with a child at Harrowmere
Walk with 6 children at Tern Hollow, Harrowmere
with 6 children, Harrowmere
the boy saw Common Darter
July 7
=SUM(1)
GPS, 7
LRD (7)
"""


@pytest.mark.parametrize(("text", "name", "said"), [row.split("|") for row in CHILDREN.strip().splitlines()])
def test_a_name_beside_an_age_or_a_word_for_a_child_is_told(text: str, name: str, said: str) -> None:
    assert (name.strip(), said.strip()) in list(beside_age(text.strip(), KNOWN))


@pytest.mark.parametrize("text", NONE.strip().splitlines())
def test_places_animals_and_years_are_no_children(text: str) -> None:
    assert list(beside_age(text, KNOWN)) == []


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("Finn saw it first", ["Finn"]),
        ("netted by Finn", ["Finn"]),
        ("Mia and Tom found it", ["Mia", "Tom"]),
        ("FINN SAW IT", ["FINN"]),
        ("Finn's find", ["Finn"]),
        ("the second is Mia’s first", ["Mia"]),
        ("Today's first", []),
        ("Sunday's first", []),
        ("Emperor's first", []),
        ("Ada's photo", []),
        ("Ben Sallow's find", []),
        ("Ben Sallow counted again", []),
        ("with Piet van der Berg", []),
        ("seen by Ben Sallow", []),
        ("Emperor caught a Common Darter", []),
        ("by the sluice", []),
        ("He saw it, then everybody saw it", []),
        ("JM found it", []),
        ("Ada found it", []),
    ],
)
def test_first_names_alone_are_those_of_somebody_who_did_something(text: str, names: list[str]) -> None:
    assert list(first_names(text, KNOWN, {"ada"})) == names


def test_a_first_name_alone_is_asked_about_among_children_only() -> None:
    assert children_in_text("Finn saw it first", KNOWN) == []
    [fault] = children_in_text("Finn saw it first", KNOWN, beside="with 6 children")
    assert fault.code == "child-may-be-named"
    assert "write the full name" in fault.hint


@pytest.mark.parametrize(
    ("party", "names"),
    [
        ("6 children, Poppy and Finn", 2),
        ("party of 12 with Tom", 1),
        ("Poppy, 7", 1),
        ("party of 12", 0),
        ("Cubs", 0),
        ("12 people including 5 children", 0),
        ("Ben Sallow's group of 12", 0),
    ],
)
def test_a_party_is_a_number(party: str, names: int) -> None:
    assert len(children_in_party(party)) == names


@pytest.mark.parametrize(
    ("beside", "text", "names"),
    [
        ("6 children", "tilly saw it first", ["tilly"]),
        ("6 children", "first seen here, then jack spotted one", ["jack"]),
        ("with kids", "tilly and jack netted the first", ["jack", "tilly"]),
        ("", "tilly saw it first, she is 8", ["tilly"]),
        ("", "Tilly saw it first, she's 8", ["Tilly"]),
        ("", "Tilly saw it first. She is 8.", ["Tilly"]),
        ("", "netted by jack (aged 7)", ["jack"]),
        ("", "with my daughter tilly", ["tilly"]),
        ("", "our grandson jack, who netted it", ["jack"]),
        ("", "Mum of Jack came along", ["Jack"]),
    ],
)
def test_a_name_in_small_letters_is_told_where_nothing_else_could_stand(
    beside: str, text: str, names: list[str]
) -> None:
    told = children_in_text(text, KNOWN, beside=beside)
    assert sorted(fault.message.split('"')[1] for fault in told) == names


@pytest.mark.parametrize(
    "text",
    [
        *("everyone saw it; they found one", "the boy saw it, children found skins", "a girl spotted it"),
        *("heron took one", "red damselfly spotted", "mum found a skin", "female spotted, later found dead"),
        *("skin found on reeds", "exuviae found, larvae netted", "frog netted, newts found", "children aged 8"),
        *("teneral aged 2 days", "my daughter saw it", "my son watching", "with my daughter again.", "one netted"),
        *("the teacher saw it", "hawker said to be here", "nearly counted the lot"),
    ],
)
def test_other_words_in_small_letters_are_nobody(text: str) -> None:
    assert children_in_text(text, KNOWN, beside="6 children") == []


@pytest.mark.parametrize(
    "text",
    [
        "he was 10 minutes late, bob saw it",
        "jack saw it; she is 8 mm longer",
        "jack saw it. It is hers: she was 2.5 m off",
    ],
)
def test_a_length_or_a_time_is_no_age(text: str) -> None:
    assert children_in_text(text, KNOWN) == []
