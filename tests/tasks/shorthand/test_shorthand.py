"""Lines as people write them by the water, and what is understood of each."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from reedmace.faults import Fault
from reedmace.keys.cache import load_key
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName
from reedmace.keys.shipped import find_key
from reedmace.tasks.shorthand.field_words import VOCABULARY
from reedmace.tasks.shorthand.line import Line, choices, read_chosen, read_line, read_tallies
from reedmace.tasks.shorthand.line_words import show_line

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
2m plus 4 emperor           | Emperor Dragonfly                    | 2 male and 4
1 emperor f ovip            | Emperor Dragonfly                    | 1 female, ovipositing
emperor 1 terr m            | Emperor Dragonfly                    | 1 male, territorial
banded dem f ?              | Banded Demoiselle                    | female, not counted, name uncertain
3 teneral large red         | Large Red Damselfly                  | 3, teneral
17 emperor exuviae          | Emperor Dragonfly                    | 17, exuvia
2 imm m common darter       | Common Darter                        | 2 male, immature
azure/variable 4            | Azure Damselfly + Variable Damselfly | 4
4 azure/variable damselfly  | Azure Damselfly + Variable Damselfly | 4
6 Coenagrion puella         | Azure Damselfly                      | 6
6 C. puella                 | Azure Damselfly                      | 6
1 darter sp.                | Common Darter + Ruddy Darter         | 1
2m 3 cop azure dam          | Azure Damselfly                      | 2 male and 3 pairs (copulating, 6 insects), the pairs beside the others: 8 in all
12m 3 cop com bl            | Common Blue Damselfly                | 12 male and 3 pairs (copulating, 6 insects), the pairs beside the others: 18 in all
12m 5f incl 3 cop com bl    | Common Blue Damselfly                | 9 male and 2 female and 3 pairs (copulating, 6 insects), the pairs among those counted: 17 in all
20 com bl incl 3 tan        | Common Blue Damselfly                | 14 and 3 pairs (tandem, 6 insects), the pairs among those counted: 20 in all
~10 cop com bl              | Common Blue Damselfly                | about 10 pairs (copulating, 20 insects)
2 tandem 1 cop azure dam    | Azure Damselfly                      | 2 pairs (tandem, 4 insects) and 1 pair (copulating, 2 insects)
2 em dam f                  | Emerald Damselfly                    | 2 female
1 em emerald dam            | Emerald Damselfly                    | 1, emerging
Coenagrion puella (Linnaeus, 1758) 3 | Azure Damselfly             | 3
C. puella L. 3m             | Azure Damselfly                      | 3 male
Pyrrhosoma nymphula Sulzer  | Large Red Damselfly                  | present, not counted
emp ✓                       | Emperor Dragonfly                    | present, not counted
Coenagrion nr. puella 3     | Azure Damselfly                      | 3, nr.
will em dam 1 prs           | Willow Emerald Damselfly             | 1 pair (tandem, 2 insects)
2 m darter sp.              | Common Darter + Ruddy Darter         | 2 male
c. 40 lrd                   | Large Red Damselfly                  | about 40
about 40 lrd                | Large Red Damselfly                  | about 40
at least 40 lrd             | Large Red Damselfly                  | at least 40
over 500 lrd                | Large Red Damselfly                  | at least 501
6-20 lrd                    | Large Red Damselfly                  | 6–20
30-40 lrd                   | Large Red Damselfly                  | about 30–40
some lrd                    | Large Red Damselfly                  | present, not counted
LRD X12                     | Large Red Damselfly                  | 12
2m+3f emp                   | Emperor Dragonfly                    | 2 male and 3 female
2m/3f emp                   | Emperor Dragonfly                    | 2 male and 3 female
2m,3f emp                   | Emperor Dragonfly                    | 2 male and 3 female
m/f emp                     | Emperor Dragonfly                    | male, not counted and female, not counted
2m 1f ovip emp              | Emperor Dragonfly                    | 2 male and 1 female ovipositing
2 m emp, ovip f 3           | Emperor Dragonfly                    | 2 male and 3 female ovipositing
2ex s haw                   | Southern Hawker                      | 2, exuvia
4-spot 6                    | Four-spotted Chaser                  | 6
brown hawker 3 in tandem    | Brown Hawker                         | 3 pairs (tandem, 6 insects)
azure dam or variable 3     | Azure Damselfly + Variable Damselfly | 3
4 cf. azure dam             | Azure Damselfly                      | 4, cf.
5 prob azure dam            | Azure Damselfly                      | 5, name probable
1 s haw photo IMG_1.jpg     | Southern Hawker                      | 1, evidence: photo, photo IMG_1.jpg
1 s haw f in hand           | Southern Hawker                      | 1 female, evidence: in hand
2 ban dem 11:40             | Banded Demoiselle                    | 2, at 11:40
2 ban dem @ SU 4330 1191    | Banded Demoiselle                    | 2, at SU43301191
2 ban dem by Cat Rush       | Banded Demoiselle                    | 2, seen by Cat Rush
2 ban dem det "Dan O'Fen"   | Banded Demoiselle                    | 2, named by Dan O'Fen
2 ban dem with Ben and Cat  | Banded Demoiselle                    | 2, also seen by Ben and Cat
"by the oak" 2 ban dem      | Banded Demoiselle                    | 2; remark: by the oak
1 blue female emperor       | Emperor Dragonfly                    | 1 female; remark: blue female
2 green f lrd "low"         | Large Red Damselfly                  | 2 female; remark: green f; low
12 common blue F            | Common Blue Damselfly                | 12 female
C puella 3                  | Azure Damselfly                      | 3
two emperors                | Emperor Dragonfly                    | 2
about a dozen lrd           | Large Red Damselfly                  | about 12
twelve lrd m                | Large Red Damselfly                  | 12 male
four spot                   | Four-spotted Chaser                  | present, not counted
four four-spotted           | Four-spotted Chaser                  | 4
two four-spotted chasers    | Four-spotted Chaser                  | 2
emp x 2                     | Emperor Dragonfly                    | 2
emp x2                      | Emperor Dragonfly                    | 2
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
    typed = "  banded dem f ?   # glimpse, 3 of them? # really  "
    line = read_line(key, typed)
    assert isinstance(line, Line)
    assert line.said.remarks == "glimpse, 3 of them? # really"
    assert line.typed == typed
    assert line.said.certainty == "uncertain"
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
        ("12 f ovip", "name-empty", "common blue"),
        ("3 ten", "name-empty", "common blue"),
        ("common blue D", "letter-for-count", "2-5"),
        ("common blue F", "letter-for-count", "for females  f"),
        ("F common blue", "letter-for-count", "for females  f"),
        ("common blue A ?", "letter-for-count", "2-5"),
        ("two azures", "ambiguous-name", "Azure Damselfly"),
        ("a couple of emperors", "couple-unclear", "1 tan"),
        ("3 im", "ambiguous-name", "did you mean"),
        ("1 emerald sp.", "ambiguous-name", "Lestidae"),
        ("3 azzure damselfly", "unknown-name", "Azure Damselfly"),
        ("5 zebra", "unknown-name", "write any part"),
        ("1 teneral imm azure", "two-stages", "a line for each"),
        ("some cop azure dam", "pairs-uncounted", "3 cop common blue"),
        ("12m incl 14 cop azure dam", "pairs-more-than-counted", "incl"),
        ("some m incl 3 cop azure dam", "pairs-among-uncounted", "without the pairs"),
        ("21-100 incl 3 cop azure dam", "pairs-among-uncounted", "without the pairs"),
        ("2m 4 incl 1 cop azure dam", "pairs-unclear", "9m 3 cop common blue"),
        ("12 incl azure dam", "no-pairs-to-include", "incl"),
        ("20-6 azure dam", "count-range", "6-20"),
        ("<5 azure dam", "count-not-read", "2-5"),
        ("12 common blue m nice", "word-not-read", "in quotes"),
        ('3 azure dam "on the sedge', "quote-not-closed", "close it"),
        ("3 azure dam by the sluice", "person-not-read", "capitals"),
        ("3 azure dam det Ben and Cat", "person-not-read", "capitals"),
        ("3 azure dam 10:30 11:30", "said-twice", "one of them"),
        ("3 azure dam prob certain", "said-twice", "one of them"),
        ("3 azure dam @ SU 431 11", "grid-unequal-groups", ""),
        ("3 azure dam @", "place-missing", "SU 433 119"),
        ("3m cop azure", "pairs-unclear", "3 cop common blue"),
        ("cop tandem azure", "pairs-unclear", "3 cop common blue"),
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
    assert fault.where is not None
    assert fault.where.excerpt == typed
    assert 1 <= (fault.where.column or 0) <= len(typed) + 1


def test_the_carets_stand_under_the_word_that_is_not_understood(key: Key) -> None:
    """Not under the whole line: `nice` alone is what has to go into quotes."""
    fault = read_line(key, "12 common blue m nice")
    assert isinstance(fault, Fault)
    assert fault.where is not None
    assert (fault.where.column, fault.where.width) == (18, 4)


def test_an_ambiguous_name_can_be_chosen_and_the_line_stays_as_typed(tarn: Key) -> None:
    """At a terminal the user says which; what was typed is kept."""
    offered = choices(tarn, "12 tarn m ?")
    assert len(offered) == 3
    index = next(one.index for one in tarn.species if one.name == offered[1])
    line = read_chosen("12 tarn m ?", FoundName("", (index,)))
    assert isinstance(line, Line)
    assert (line.name.species, line.name.typed, line.typed) == ((index,), "tarn", "12 tarn m ?")
    assert show_line(line) == "12 male, name uncertain"


def test_pairs_among_those_counted_leave_what_was_counted_beside_them(key: Key) -> None:
    """Nothing is counted twice: 12 m and 5 f with 3 pairs among them are 17 insects, 9 m, 2 f and 3 pairs."""
    line = read_line(key, "12m 5f incl 3 cop common blue")
    assert isinstance(line, Line)
    assert sum(tally.count or 0 for tally in line.tallies) == 17
    assert [(one.sex, one.count, one.in_pairs, one.pairs) for one in line.tallies] == [
        ("male", 9, 3, None),
        ("female", 2, 3, None),
        (None, 6, None, 3),
    ]
    males = read_line(key, "12m incl 3 cop common blue")
    assert isinstance(males, Line)
    assert [one.count for one in males.tallies] == [9, 6]


def test_singles_that_are_all_in_pairs_leave_the_pairs_alone(key: Key) -> None:
    """Three males, all of them paired: three pairs and nothing else."""
    line = read_line(key, "3m incl 3 cop common blue")
    assert isinstance(line, Line)
    assert [(one.count, one.pairs) for one in line.tallies] == [(6, 3)]


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
    *VOCABULARY,
    "pair",
    "?",
    "#",
    "/",
    "@",
    '"',
    "incl",
    "by",
    "10:30",
    "SU 431 118",
    "6-20",
    "photo",
    "azure",
    "blue",
    "sp.",
    "0",
    "3",
    "~4",
    "2m",
    "9+",
    "(",
    ")",
    "2m1f",
    "f2",
    "or so",
    "or more",
    "plus",
    "- 7",
    "1,200",
    "1130",
    "at",
    "4 spot",
    ",",
    "3 ten",
    "3 ex",
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


@given(
    st.lists(st.sampled_from(["12", "m", "azure", "dam", "ovip", "nice", "zzz", "cop", "2f", "oak", "?"]), max_size=7)
)
def test_no_word_is_dropped(key: Key, parts: list[str]) -> None:
    """A word is part of the name, a word of the shorthand or a fault; it never goes without a trace."""
    read = read_line(key, " ".join(parts))
    if isinstance(read, Line):
        assert not {"nice", "zzz", "oak"} & set(parts)
        assert ("12" in parts) == any(tally.typed == "12" for tally in read.tallies)
        assert ("ovip" in parts) == any("ovipositing" in tally.behaviour for tally in read.tallies)
        assert ("?" in parts) == (read.said.certainty == "uncertain")


@given(st.text(st.characters(exclude_categories=["Cs"], exclude_characters='"\x00\r\n'), min_size=1, max_size=30))
@example("🐉 [sensu lato] :bee: \x1b[31m")
@example("שלום \u200f")
@example("# not a comment in here")
def test_a_remark_in_quotes_comes_back_as_it_went_in(key: Key, remark: str) -> None:
    """Whatever stands between quotes is a remark, sign for sign."""
    line = read_line(key, f'2 azure dam "{remark}" m')
    assert isinstance(line, Line), line
    assert line.said.remarks == remark
    assert [(tally.count, tally.sex) for tally in line.tallies] == [(2, "male")]


@pytest.mark.parametrize("folder", ["odonata-britain-ireland", "odonata-exuviae"])
def test_every_name_of_a_key_is_read_as_itself(folder: str, cache_home: Path) -> None:
    """No word of the shorthand hides a name, in English or scientific, singular or plural, in capitals or not."""
    key = load_key(find_key(folder), cache_home / "reedmace")
    for species in key.species:
        for name in (species.english.upper(), species.name, f"{species.english}s"):
            line = read_line(key, f"2 {name} m")
            assert isinstance(line, Line), (name, line)
            assert line.name.species == (species.index,), name
            assert show_line(line) == "2 male"


def test_the_one_that_was_chosen_keeps_a_number_in_words(key: Key) -> None:
    assert choices(key, "two azures") == ("Coenagrion puella", "Aeshna caerulea")
    line = read_chosen("two azures", FoundName("", (0,)))
    assert isinstance(line, Line)
    assert [tally.count for tally in line.tallies] == [2]


def test_for_a_slip_english_names_come_first_and_another_name_says_whose_it_is(key: Key) -> None:
    found = read_line(key, "12 comon blue")
    assert isinstance(found, Fault)
    assert found.hint.startswith("did you mean Common Blue Damselfly")
    other = read_line(key, "2 emporer")
    assert isinstance(other, Fault)
    assert other.hint.startswith("did you mean Emperor Dragonfly or ")
    science = read_line(key, "2 Coenagrion puela")
    assert isinstance(science, Fault)
    assert "Coenagrion puella (the Azure Damselfly)" in science.hint
