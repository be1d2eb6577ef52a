"""Lines as people write them by the water, and what is understood of each."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.tasks.shorthand import BEHAVIOURS, PAIRS, SEXES, STAGES, Line, read_line, read_tallies, show_line

# What is typed | the English names meant | how it was understood, in words.
LINES = """
12 common blue m            | Common Blue Damselfly                | 12 male
m common blue 12            | Common Blue Damselfly                | 12 male
common blue, 12 males       | Common Blue Damselfly                | 12 male
12m common blue             | Common Blue Damselfly                | 12 male
3 cop azure dam             | Azure Damselfly                      | 3 pairs (copulating, 6 insects)
cop azure dam               | Azure Damselfly                      | 1 pair (copulating, 2 insects)
2 pairs azure dam           | Azure Damselfly                      | 2 pairs (tandem, 4 insects)
2 pairs cop azure dam       | Azure Damselfly                      | 2 pairs (copulating, 4 insects)
5 tandem azure dam ovip     | Azure Damselfly                      | 5 pairs (tandem, 10 insects), ovipositing
mating wheel azure dam      | Azure Damselfly                      | 1 pair (copulating, 2 insects)
~40 large red               | Large Red Damselfly                  | about 40
c40 large red               | Large Red Damselfly                  | about 40
40+ large red               | Large Red Damselfly                  | at least 40
large red                   | Large Red Damselfly                  | present, not counted
2m 3f emperor               | Emperor Dragonfly                    | 2 male and 3 female
2 m 3 f emperor             | Emperor Dragonfly                    | 2 male and 3 female
emperor 2 males, 3 females  | Emperor Dragonfly                    | 2 male and 3 female
2♂ 3♀ emperor               | Emperor Dragonfly                    | 2 male and 3 female
m 2 f 3 emperor             | Emperor Dragonfly                    | 2 male and 3 female
2m 4 emperor                | Emperor Dragonfly                    | 2 male and 4
1 emperor f ovip            | Emperor Dragonfly                    | 1 female, ovipositing
emperor 1 terr m            | Emperor Dragonfly                    | 1 male, territorial
banded dem f ?              | Banded Demoiselle                    | present, not counted female, name uncertain
banded dem f?               | Banded Demoiselle                    | present, not counted female, name uncertain
3 teneral large red         | Large Red Damselfly                  | 3, teneral
17 emperor exuviae          | Emperor Dragonfly                    | 17, exuvia
2 imm m common darter       | Common Darter                        | 2 male, immature
azure/variable 4            | Azure Damselfly + Variable Damselfly | 4
4 azure/variable damselfly  | Azure Damselfly + Variable Damselfly | 4
6 Coenagrion puella         | Azure Damselfly                      | 6
6 C. puella                 | Azure Damselfly                      | 6
1 darter sp.                | Common Darter + Ruddy Darter         | 1
"""
ROWS = [[cell.strip() for cell in row.split("|")] for row in LINES.strip().splitlines()]


@pytest.mark.parametrize(("typed", "names", "understood"), ROWS)
def test_a_line_is_understood_in_whatever_order_it_is_written(
    key: Key, typed: str, names: str, understood: str
) -> None:
    """Numbers count, words for sex, stage and behaviour are taken out, what is left is the name."""
    line = read_line(key, typed)
    assert isinstance(line, Line), line
    assert {key.species[index].english for index in line.name.species} >= set(names.split(" + "))
    assert len(line.name.species) == len(names.split(" + ")) or line.name.group is not None
    assert show_line(line) == understood


def test_everything_after_the_sign_is_a_remark_and_the_line_is_kept_verbatim(key: Key) -> None:
    """`banded dem f ?  # glimpse` keeps its doubt, its remark and its own words."""
    line = read_line(key, "  banded dem f ?   # glimpse, 3 of them? # really  ")
    assert isinstance(line, Line)
    assert line.remarks == "glimpse, 3 of them? # really"
    assert line.typed == "banded dem f ?   # glimpse, 3 of them? # really"
    assert line.doubtful
    assert [tally.sex for tally in line.tallies] == ["female"]
    assert line.tallies[0].count is None


def test_what_was_typed_of_a_count_is_kept_with_it(key: Key) -> None:
    """An estimate stays an estimate, and "40+" stays "at least"; the sign is kept as typed."""
    kinds = {}
    for typed in ("~40 large red", "c40 large red", "40+ large red", "40 large red"):
        line = read_line(key, typed)
        assert isinstance(line, Line)
        kinds[line.tallies[0].typed] = line.tallies[0].kind
    assert kinds == {"~40": "estimate", "c40": "estimate", "40+": "at least", "40": "exact"}


@pytest.mark.parametrize(
    ("typed", "code", "hint"),
    [
        ("0 azure", "zero-count", "leave the line out"),
        ("00 azure", "zero-count", "leave the line out"),
        ("2m 0f azure", "zero-count", "leave the line out"),
        ("~0 azure", "zero-count", "leave the line out"),
        ("", "line-empty", "12 common blue m"),
        ("   # only a remark", "line-empty", "12 common blue m"),
        ("12", "name-empty", "common blue"),
        ("12 m ovip", "name-empty", "common blue"),
        ("3 azzure damselfly", "unknown-name", "Azure Damselfly"),
        ("5 zebra", "unknown-name", "write any part"),
        ("1 teneral imm azure", "two-stages", "a line for each"),
        ("2m 3 cop azure", "pairs-unclear", "3 cop azure"),
        ("3m cop azure", "pairs-unclear", "3 cop azure"),
        ("cop tandem azure", "pairs-unclear", "3 cop azure"),
        ("3 m f azure", "count-and-sex", "2m 3f"),
        ("3 m 2 azure", "count-and-sex", "2m 3f"),
        ("3 5 azure", "two-counts", "2m 3f"),
        ("variable/zebra 4", "unknown-name", "write any part"),
    ],
)
def test_what_cannot_be_used_is_a_fault_that_quotes_the_line(key: Key, typed: str, code: str, hint: str) -> None:
    """No count is guessed at: 0 could mean absent or uncounted, `3 m f` could mean several things."""
    fault = read_line(key, typed)
    assert isinstance(fault, Fault)
    assert (fault.code, fault.said, fault.typed) == (code, typed, True)
    assert hint in fault.hint


def test_sexes_without_numbers_are_present_and_not_counted(key: Key) -> None:
    """`m f emperor` says that both were there, and nothing of how many."""
    line = read_line(key, "m f emperor")
    assert isinstance(line, Line)
    assert [(tally.sex, tally.count, tally.kind) for tally in line.tallies] == [
        ("male", None, "present"),
        ("female", None, "present"),
    ]


def test_an_ambiguous_name_is_told_with_all_it_could_be(tarn: Key) -> None:
    """Three species of the made key begin with "tarn"; the hint names each of them."""
    fault = read_line(tarn, "12 tarn m")
    assert isinstance(fault, Fault)
    assert fault.code == "ambiguous-name"
    assert all(name in fault.hint for name in ("Pale Rushlet", "Misty Rushlet", "Sunny Rushlet"))


def test_a_genus_by_its_english_word_is_no_ambiguity(tarn: Key) -> None:
    """A bare "rushlet sp." is a good record of a genus or family, not a slip."""
    line = read_line(tarn, "3 rushlet sp.")
    assert isinstance(line, Line)
    assert line.name.group is not None
    assert len(line.name.species) == 3


def test_a_slip_in_a_name_gets_the_nearest_name(tarn: Key) -> None:
    """A typing slip costs one more look at the screen, not a search in a book."""
    fault = read_line(tarn, "2 gret boulderr")
    assert isinstance(fault, Fault)
    assert "Great Boulderer" in fault.hint


@pytest.mark.parametrize(
    ("typed", "understood"),
    [("2m 1f", "2 male and 1 female"), ("1 f imm", "1 female, immature"), ("", "present, not counted"), ("7", "7")],
)
def test_a_count_alone_is_read_after_a_conversation(typed: str, understood: str) -> None:
    """At the end of `reedmace key` the name is known, and only how many is asked."""
    read = read_tallies(typed)
    assert not isinstance(read, Fault)
    assert show_line(read) == understood


def test_a_name_where_only_a_count_is_asked_is_a_fault() -> None:
    """What is left over is quoted, so that nothing is dropped silently."""
    fault = read_tallies("2m azure")
    assert isinstance(fault, Fault)
    assert fault.code == "count-not-read"
    assert '"azure"' in fault.message


WORDS = [
    *SEXES,
    *STAGES,
    *BEHAVIOURS,
    *PAIRS,
    "pair",
    "?",
    "#",
    "/",
    "azure",
    "blue",
    "sp.",
    "0",
    "3",
    "~4",
    "2m",
    "9+",
]


@given(st.text() | st.lists(st.sampled_from(WORDS)).map(" ".join))
@example("3\u00a0azure")
@example("\x1b[31m 3 azure")
@example("/")
@example("azure//variable")
@example("? ? ?")
def test_no_line_makes_reading_it_raise(key: Key, typed: str) -> None:
    """Whatever is written gives sightings with a count that is never 0, or a fault with a remedy."""
    read = read_line(key, typed)
    if isinstance(read, Fault):
        assert read.hint
        assert read.said is not None
    else:
        assert read.tallies
        assert all(tally.count is None or tally.count > 0 for tally in read.tallies)
        assert all((tally.count is None) == (tally.kind == "present") for tally in read.tallies)
        assert show_line(read)


@given(st.permutations(["2", "imm", "common", "darter", "feeding"]))
def test_the_order_of_the_parts_is_free(key: Key, parts: list[str]) -> None:
    """As long as the words of the name keep their order, every order says the same."""
    if parts.index("common") > parts.index("darter"):
        parts = [{"common": "darter", "darter": "common"}.get(part, part) for part in parts]
    line = read_line(key, " ".join(parts))
    assert isinstance(line, Line)
    assert [key.species[index].english for index in line.name.species] == ["Common Darter"]
    assert show_line(line) == "2, immature, feeding"
