"""What somebody's words could mean: the reading that explains most of them, and what is no mark of the kind."""

from __future__ import annotations

import pytest

from reedmace.keys.hints import bare_word
from reedmace.keys.model import Key
from reedmace.tasks.naming.conversation import step
from reedmace.tasks.naming.replies import Choices, Note, Question, Standing, Wrong
from tasks.dialogue import start, typed


def offered(key: Key, line: str) -> dict[str, list[str]]:
    """What a line could mean: for each of its parts the traits, in their order."""
    _, (put,) = step(start(key), line)
    assert isinstance(put, Choices), put
    found: dict[str, list[str]] = {}
    for answer in put.answers:
        mark = key.characters[answer.character]
        states = "/".join(mark.states[state].id for state in answer.states)
        found.setdefault(answer.typed, []).append(f"{mark.id}={states}")
    return found


def all_offered(key: Key, line: str) -> set[str]:
    return {trait for traits in offered(key, line).values() for trait in traits}


@pytest.mark.parametrize(
    ("line", "part", "first"),
    [
        ("brown with green eyes, clear wings, yellow triangle at the waist", "clear wings", "wing-tint=clear"),
        (
            "brown with green eyes, clear wings, yellow triangle at the waist",
            "yellow triangle",
            "segment-2-top=triangle",
        ),
        (
            "fat flat powder blue body, brown patches at the bottom of all four wings",
            "brown patches",
            "wing-base=dark-large",
        ),
        ("red eyes, sort of brownish, hairy thorax", "brownish", "abdomen-colour=brown"),
        ("swollen at the end like a club", "swollen end", "abdomen-shape=clubbed"),
        ("black line down it", "black line down", "central-line=thin"),
        ("green at the front", "green front", "thorax-colour=apple-green"),
    ],
)
def test_the_reading_that_explains_most_of_the_words_comes_first(key: Key, line: str, part: str, first: str) -> None:
    """A state that only has one of the words in its name comes behind what is called so."""
    assert offered(key, line)[part][0] == first


def test_a_part_that_could_mean_more_says_so_and_shows_it_by_itself(key: Key) -> None:
    """Of a look of several parts only so much is put; nothing of it is hidden in silence."""
    line = "fat flat powder blue body, brown patches at the bottom of all four wings"
    _, (put,) = step(start(key), line)
    assert isinstance(put, Choices)
    assert 'More readings, each shown when typed by itself: "brown patches" (2), "four wings" (2).' in put.notes
    assert offered(key, "brown patches")["brown patches"][:2] == ["wing-base=dark-hind", "wing-base=dark-large"]


def test_a_tail_is_the_long_part_as_well_as_its_end(key: Key) -> None:
    """The program itself calls the abdomen the long tail part; the end alone is blue in a Blue-tailed Damselfly."""
    assert all_offered(key, "blue tail") == {"abdomen-colour=blue", "tip=blue"}
    assert all_offered(key, "blue tail, wings folded") >= {"abdomen-colour=blue", "tip=blue"}


def test_the_front_of_an_insect_is_its_thorax(key: Key) -> None:
    """And no part of a wing spot."""
    _, (put,) = step(start(key), "front")
    assert isinstance(put, Question)
    assert put.character.id == "thorax-colour"


@pytest.mark.parametrize(
    ("line", "never"),
    [
        ("two blue ones stuck together", "bloom-2=front"),
        ("blue hawker", "segment-2-top=saddle-top"),
        ("cruising low round the edge", "pronotum=rounded"),
        ("swollen at the end like a club", "bloom=ends"),
        ("two black lines on the side of the thorax", "side-line=line"),
        ("small dark dragonfly", "wing-base=dark-small"),
        ("black line on the legs", "side-line=line"),
    ],
)
def test_what_is_said_of_one_thing_is_not_offered_of_another(key: Key, line: str, never: str) -> None:
    """A number, a name or the words of another part make no mark."""
    traits = all_offered(key, line)
    assert not any(never.partition("=")[0] == trait.partition("=")[0] for trait in traits), traits


def test_what_stands_on_a_part_of_the_insect_is_asked_of_that_part(key: Key) -> None:
    """Lines on the side of the thorax are asked by the marks of its side."""
    _, (put,) = step(start(key), "two black lines on the side of the thorax")
    assert isinstance(put, Choices)
    assert {"spur", "thorax-side"} <= set(put.to_type)


@pytest.mark.parametrize("line", ["zoomed past", "came to the light"])
def test_words_of_no_mark_are_not_understood(key: Key, line: str) -> None:
    _, (told,) = step(start(key), line)
    assert isinstance(told, Wrong)


@pytest.mark.parametrize("line", ["wasp", "gold", "rust", "beige", "sandy", "hazel"])
def test_a_colour_by_itself_is_asked_about(key: Key, line: str) -> None:
    """It may be of any part of the insect, though only one question lists the word."""
    after, (put,) = step(start(key), line)
    assert isinstance(put, Choices)
    assert after.answers == ()


@pytest.mark.parametrize("line", ["gliding", "matchstick", "red legs", "wings closed over its back"])
def test_a_word_that_names_its_question_or_is_no_colour_is_taken(key: Key, line: str) -> None:
    after, _ = step(start(key), line)
    assert len(after.answers) == 1


def test_what_was_never_seen_is_no_mark(key: Key) -> None:
    """Whoever never saw the wings closed may have seen them open, or not at all: it is asked."""
    _, (put,) = step(start(key), "never saw its wings closed")
    assert isinstance(put, Choices)
    assert (put.answers, put.to_type) == ((), ("wings-at-rest",))


def test_none_of_the_wings_is_no_wing(key: Key) -> None:
    """It says that there are no spots on the wings, and not that something else has spots."""
    assert all_offered(key, "none of the wings had spots") == all_offered(key, "no spots on the wings")


@pytest.mark.parametrize(
    ("question", "reply", "states"),
    [
        ("wings", "not closed", "half-open flat swept-forward"),
        ("wings", "they were flat and not closed", "flat"),
        ("wings", "flat, not closed", "flat"),
        ("eyes", "they aren't apart", "point broad"),
        ("wing-spot-length", "everything but short", "oblong long"),
        ("colour", "bluish", "blue"),
        ("colour", "sort of brownish", "brown"),
        ("s2", "stalk", "goblet ball-on-stalk"),
        ("s2", "U on a stalk", "goblet"),
    ],
)
def test_a_reply_that_denies_leaves_the_other_states(key: Key, question: str, reply: str, states: str) -> None:
    """And a shade is its colour; what is "without a stalk" has none."""
    after, (told,) = step(typed(start(key), [question]), reply)
    assert isinstance(told, Standing)
    (answer,) = after.answers
    mark = key.characters[answer.character]
    assert [mark.states[state].id for state in answer.states] == states.split()


def test_a_denial_that_leaves_most_colours_is_still_no_red(key: Key) -> None:
    for said in ("isn't red", "everything but red", "not red"):
        after, _ = step(typed(start(key), ["colour"]), said)
        (answer,) = after.answers
        mark = key.characters[answer.character]
        assert "red" not in [mark.states[state].id for state in answer.states]
        assert len(answer.states) == len(mark.states) - 1


PAIRS = ["tandem", "in tandem", "mating", "mating wheel", "pair joined", "two joined together", "stuck together"]


@pytest.mark.parametrize("line", PAIRS)
def test_that_two_are_joined_tells_nothing_of_the_kind(key: Key, line: str) -> None:
    """All of them do so; what can be told is which of the two is the male."""
    _, (told,) = step(start(key), line)
    assert isinstance(told, Note)
    assert "tells nothing of the kind" in told.text
    assert "is the male" in told.text
    assert "tells nothing of the kind" in bare_word(key, line)


def test_a_pair_that_lays_eggs_tells_something(key: Key) -> None:
    """Who is with her is a mark then, and beside other marks the pair is told apart from them."""
    assert "company=held" in all_offered(key, "in tandem, laying eggs")
    _, (put,) = step(start(key), "red pair in tandem, wings folded")
    assert isinstance(put, Choices)
    assert "tells nothing of the kind" in put.notes[0]
    assert {key.characters[answer.character].id for answer in put.answers} >= {"abdomen-colour", "wings-at-rest"}


OTHERS = [
    ("mayfly", "threads for a tail"),
    ("three long tails, wings straight up like a sail", "threads for a tail"),
    ("hoverfly", "one pair of wings"),
    ("lacewing", "like a roof"),
    ("ant-lion", "feelers that end in a knob"),
    ("moths", "covered with scales"),
    ("wasp", "feelers that are easily seen"),
    ("crane fly", "spindly legs"),
    ("blue butterfly", "feelers with a knob"),
]


@pytest.mark.parametrize(("line", "told"), OTHERS)
def test_another_animal_is_told_how_to_be_known_and_the_talk_goes_on(key: Key, line: str, told: str) -> None:
    """One line; what else the words could be is put beside it."""
    _, (reply,) = step(start(key), line)
    assert told in (reply.text if isinstance(reply, Note) else " ".join(reply.notes))


@pytest.mark.parametrize(
    "line", ["black and yellow stripes like a wasp", "bigger than a hornet, red", "not a moth, red"]
)
def test_what_an_insect_is_compared_with_it_is_not(key: Key, line: str) -> None:
    _, (put,) = step(start(key), line)
    assert not any("feelers" in note for note in put.notes)
