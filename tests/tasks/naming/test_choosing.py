"""What is put to be chosen from is answered as people answer a list; what is not taken is not lost without a word."""

from __future__ import annotations

import pytest

from reedmace.keys.model import Key
from reedmace.tasks.naming.choosing import Chosen, read_chosen
from reedmace.tasks.naming.conversation import step
from reedmace.tasks.naming.replies import Choices, Standing
from tasks.dialogue import check, start, typed

LOOK = "a flash of blue, wings folded along its back"  # blue is of the body or of the eyes


@pytest.mark.parametrize(
    ("text", "many", "numbers"),
    [
        *(("2", 3, (2,)), ("1 3", 3, (1, 3)), ("1,3", 3, (1, 3)), ("1 and 3", 3, (1, 3)), ("1 & 3", 3, (1, 3))),
        *(("1-3", 4, (1, 2, 3)), ("1 to 3", 4, (1, 2, 3)), ("1, 3-5", 5, (1, 3, 4, 5)), ("number 2", 3, (2,))),
        *(("both", 2, (1, 2)), ("Both of them", 2, (1, 2)), ("all", 3, (1, 2, 3)), ("all of these", 2, (1, 2))),
        *(("none", 2, ()), ("neither", 2, ()), ("none of them", 3, ()), ("no", 1, ()), ("nope", 4, ())),
        *(("yes", 1, (1,)), ("yep, that", 1, (1,)), ("ok", 1, (1,))),
    ],
)
def test_a_list_is_answered_as_people_answer_one(text: str, many: int, numbers: tuple[int, ...]) -> None:
    """By numbers in any form, all of it, or none of it; a yes takes the only one."""
    chosen = read_chosen(text, many)
    assert isinstance(chosen, Chosen)
    assert (chosen.numbers, chosen.unsure) == (numbers, False)


@pytest.mark.parametrize("text", ["1~", "1 ?", "maybe 1", "1 not sure", "both~"])
def test_a_doubt_goes_with_what_is_chosen(text: str) -> None:
    """As with every other answer."""
    chosen = read_chosen(text, 2)
    assert isinstance(chosen, Chosen)
    assert chosen.unsure


@pytest.mark.parametrize("text", ["blue", "both wings", "30mm", "all black", "not sure", "1 2 blue", ""])
def test_what_is_said_of_something_else_is_no_reply_to_a_list(text: str) -> None:
    """It is read as it would be without one."""
    assert read_chosen(text, 2) is None


def test_the_list_on_the_screen_comes_before_the_marks(tarn: Key) -> None:
    """`both` may be a word of the key too; of three nobody knows which two it means, and all stay put."""
    check(
        start(tarn),
        f"""
        > {LOOK}
        could be body-colour=blue; eye-colour=blue; wings-at-rest=closed along the back | not understood flash, back
        > both
        fault no-such-number: type their numbers, as  1 2 , or  all  or  none
        > yes
        fault no-such-number: type their numbers, as  1 2 , or  all  or  none
        > 1/3
        fault answered-twice: take them all:  1 3 , or the one that you are sure of
        > 1 and 3~
        understood Colour of the body: blue (unsure); Wings at rest: closed along the back (unsure)
        > blue
        could be eye-colour=blue; body-colour=blue
        > both
        understood Colour of the eyes: blue; Colour of the body: blue
        > {LOOK}
        could be eye-colour=blue; body-colour=blue; wings-at-rest=closed along the back | not understood flash, back
        > 2-3
        understood Colour of the body: blue; Wings at rest: closed along the back
        > blue
        could be eye-colour=blue; body-colour=blue
        > neither
        note: None of them was taken.
        > dark
        could be side-bar=a dark bar
        > yes
        understood Bar on the side: a dark bar
        """,
    )


def test_what_was_put_and_not_taken_is_told_at_the_next_line_and_at_the_end(tarn: Key) -> None:
    """Unless it was answered otherwise: by its question, or by typing what a number would have taken."""
    check(
        start(tarn),
        """
        > dark
        could be side-bar=a dark bar
        > length 33
        note: Nothing was taken of "dark".
        understood Length: 33 mm
        > blue
        could be eye-colour=blue; body-colour=blue
        > body-colour blue
        understood Colour of the body: blue
        > brown
        could be eye-colour=brown; body-colour=rusty brown
        > done
        note: Put to be chosen from and never taken, so not counted: "dark".
        ends narrowed: Pale, Misty or Doubtful Rushlet
        """,
    )


@pytest.mark.parametrize(
    ("line", "trait"),
    [
        ("thin like a needle", "build=thin"),
        ("on a lily pad", "perch=floating"),
        ("smoky wings", "wing-tint=smoky"),
        ("exclamation mark", "shoulder-stripe-form=broken"),
    ],
)
def test_words_that_have_one_reading_only_are_taken_and_said_back(key: Key, line: str, trait: str) -> None:
    """A list of one is no question."""
    after, (reply,) = step(start(key), line)
    assert isinstance(reply, Standing)
    assert f'("{line}" was taken so;  undo  takes it back)' in reply.note
    (answer,) = after.answers
    character = key.characters[answer.character]
    assert trait == f"{character.id}={'/'.join(character.states[at].id for at in answer.states)}"


@pytest.mark.parametrize("line", ["held", "both", "no wing spots"])
def test_one_word_and_what_is_denied_are_put(key: Key, line: str) -> None:
    """They may stand for more; nothing of it is lost without a word."""
    after, (reply,) = step(start(key), line)
    assert isinstance(reply, Choices)
    assert after.answers == ()
    assert f'"{line}"' in step(after, "done")[1][0].text  # type: ignore[union-attr]


def test_a_talk_is_led_as_people_lead_one(tarn: Key) -> None:
    """`drop` by what was answered, `why not`, `next`, `go back`, and `start again` once it is meant."""
    state = check(
        start(tarn),
        """
        > start again
        note: Nothing has been answered yet: say what you see.
        > colour blue
        understood Colour of the body: blue
        > bar present
        understood Bar on the side: a dark bar
        > drop blue
        understood taken back: Colour of the body
        > go back
        understood back again: Colour of the body: blue
        > eyes blue
        understood Colour of the eyes: blue
        > drop blue
        fault ambiguous-character: say which:  body-colour or eye-colour
        > start again
        note: Forget all 3 answers and begin again? yes or no. Date, place and habitat stay.
        > no
        note: Nothing was forgotten.
        > start over
        note: Forget all 3 answers and begin again? yes or no. Date, place and habitat stay.
        > yep
        understood begun again;  undo  brings the answers back
        > undo
        understood back again: Colour of the body: blue; back again: Bar on the side: a dark bar; back again: Colour of the eyes: blue
        """,  # noqa: E501  (a reply stands on one line)
    )
    assert [type(reply).__name__ for reply in step(state, "why not great")[1]] == ["Because"]
    assert step(state, "why not great")[1] == step(state, "why great")[1]


def test_next_asks_the_next_of_the_looks_that_are_offered(tarn: Key) -> None:
    """One after the other, and round; a question that was open is left."""
    state = start(tarn)
    looks = [look.character for look in state.named.assessment.looks.looks[:3]]
    asked = [typed(state, ["next"] * times).open for times in range(1, 5)]
    assert asked == [*looks, looks[0]]
