"""Words behind "by" and "with" that are hardly anybody's name, and names of one person."""

from __future__ import annotations

import pytest

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.tasks.shorthand.line import read_line
from reedmace.tasks.shorthand.person_typed import person_typed
from reedmace.tasks.shorthand.visit_line import read_visit_line
from tarn import TODAY

UNCLEAR = [
    ("EMPEROR M PATROLLING BY THE SLUICE", "THE SLUICE"),
    ("BROWN HAWKER BY ME", "ME"),
    ("COMMON DARTER BY BRIDGE", "BRIDGE"),
    ("COMMON DARTER BY SALLOW", "SALLOW"),
    ("emperor By The Sluice", "The Sluice"),
    ("emperor by Sluice", "Sluice"),
    ("emperor by Top Pond", "Top Pond"),
    ("emperor by Me", "Me"),
    ("emperor by Ben & Cat Sallow", "Ben"),
    ("emperor by Mr & Mrs Sallow", "Mr"),
    ("emperor by Ben Sallow, Dr", "Dr"),
    ("emperor by Fenn, A.", "Fenn"),
    ("emperor by Fenn, A.B.", "Fenn"),
    ("emperor by Fenn, A., Sallow, B.", "Fenn"),
    ("emperor by Ada Marsh Sallow Farm", "Ada Marsh Sallow Farm"),
]
CLEAR = [
    *("emperor by Ben Field", "emperor by Lily Brook", "emperor by Cat", "emperor by AM, EM", "emperor by A Marsh"),
    *("EMPEROR BY BEN SALLOW", "EMPEROR BY AM", "emperor by Dr Ben Sallow", "emperor by Ben Sallow & Cat Sallow"),
    *(
        'emperor by "The Sluice"',
        "emperor by Ben and Cat",
        'emperor by "Ben" & Cat Sallow',
        "emperor by Mrs Sallow",
        "emperor by Ben, Cat",
        "emperor by AM, B.",
    ),
]


@pytest.mark.parametrize(("typed", "name"), UNCLEAR)
def test_what_is_hardly_a_name_is_a_fault(key: Key, typed: str, name: str) -> None:
    line = read_line(key, typed)
    assert isinstance(line, Fault)
    assert (line.code, line.message.split('"')[1]) == ("person-unclear", name)
    _, faults = read_visit_line(key, f"visit {typed.partition(' ')[2].lstrip('M ')}", today=TODAY)
    if "PATROLLING" not in typed and "DARTER" not in typed and "HAWKER" not in typed:
        assert "person-unclear" in [fault.code for fault in faults]


@pytest.mark.parametrize("typed", CLEAR)
def test_names_and_quotes_are_people(key: Key, typed: str) -> None:
    line = read_line(key, typed)
    assert not isinstance(line, Fault), line
    assert line.said.observers


@pytest.mark.parametrize("name", ["Ada Marsh and Ben Sallow", "Ada Marsh & Ben Sallow", "me", "Dr", "the warden", "7"])
def test_one_person_has_one_name(name: str) -> None:
    assert isinstance(person_typed(name), Fault)


@pytest.mark.parametrize("name", ["Ada Marsh", "Marsh, Ada", "Ada", "Fen d'Arcy", "Dr Ada Marsh", "Ada Marsh-Andrews"])
def test_a_name_is_a_name(name: str) -> None:
    assert person_typed(name) is None
