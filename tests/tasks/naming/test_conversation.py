"""The conversation at the pond: what is typed and what comes back, on a made key of six insects."""

from __future__ import annotations

import pytest

from reedmace.keys.answers import Answer
from reedmace.keys.model import Key
from reedmace.tasks.naming.conversation import CHOICES, COMMANDS, State, step
from reedmace.tasks.naming.replies import Choices, Standing, Wrong
from reedmace.tasks.shared.setting import Setting
from tasks.dialogue import check, start, typed


def answered(state: State) -> dict[str, Answer]:
    """The answers so far, by character."""
    return {state.key.characters[answer.character].id: answer for answer in state.answers}


def test_an_insect_is_named_by_answers_in_any_order(tarn: Key) -> None:
    """A number takes an offer, a name asks a question, a question and an answer go on one line."""
    check(
        start(tarn),
        """
        > bar
        asks: Is there a dark bar along the side?
        > 2
        understood Bar on the side: a dark bar
        > wings shut
        understood Wings at rest: closed along the back
        > collar=straight
        understood Collar: straight
        > colour
        asks: What colour is the body, seen from above?
        > blue
        understood Colour of the body: blue
        > back-mark cup
        understood Mark on the back: a cup, open to the front
        > done
        ends settled: Pale Rushlet
        """,
    )


def test_a_number_takes_one_of_the_looks_offered_and_no_other(tarn: Key) -> None:
    """What is offered can be counted on the screen: at most three."""
    state = start(tarn)
    first = state.named.assessment.looks.looks[0].character
    assert step(state, "1")[0].open == first
    check(
        state,
        """
        > 0
        fault no-such-number: numbers 1 to 3 are offered
        > 4
        fault no-such-number: numbers 1 to 3 are offered
        > 77
        fault no-such-number: numbers 1 to 3 are offered
        """,
    )


def test_one_answer_may_be_a_number_a_word_part_of_a_word_or_several(tarn: Key) -> None:
    """Every way of answering one question is understood, and the last one stands."""
    state = check(
        start(tarn),
        """
        > colour
        asks: What colour is the body, seen from above?
        > 3
        understood Colour of the body: rusty brown
        > colour
        asks: What colour is the body, seen from above?, so far rusty brown
        > Green
        understood Colour of the body: green
        > colour
        asks: What colour is the body, seen from above?, so far green
        > ru
        understood Colour of the body: rusty brown
        > colour
        asks: What colour is the body, seen from above?, so far rusty brown
        > 1/2
        understood Colour of the body: blue or green
        > colour
        asks: What colour is the body, seen from above?, so far blue or green
        > brown, 1
        understood Colour of the body: blue or rusty brown
        > colour
        asks: What colour is the body, seen from above?, so far blue or rusty brown
        > blue or green or brown
        understood Colour of the body: blue or green or rusty brown
        """,
    )
    assert list(answered(state)) == ["body-colour"]


@pytest.mark.parametrize(
    "line", ["blue~", "blue ~", "1~", "blue unsure", "blue, not sure", "perhaps blue", "blue maybe"]
)
def test_an_unsure_answer_keeps_its_doubt(tarn: Key, line: str) -> None:
    """However the doubt is put, the answer is the same and weighs less."""
    answer = answered(typed(start(tarn), ["colour", line]))["body-colour"]
    assert (answer.states, answer.unsure) == ((0,), True)


@pytest.mark.parametrize("line", ["can't tell", "can’t tell", "cant tell", "don't know", "not sure", "unknown", "~"])
def test_cannot_tell_is_an_answer_that_weighs_nothing(tarn: Key, line: str) -> None:
    """It is noted, so that the question is not put again, and nothing else changes."""
    before = start(tarn)
    after = typed(before, ["colour", line])
    assert answered(after)["body-colour"].says_nothing
    assert after.named.assessment.after.species == before.named.assessment.after.species
    offered = [look.character for look in after.named.assessment.looks.looks]
    assert tarn.character("body-colour").index not in offered


@pytest.mark.parametrize(
    ("line", "low", "high", "instrument", "unsure"),
    [
        ("33", 33, 33, "eye", False),
        ("33mm", 33, 33, "eye", False),
        ("30-35", 30, 35, "eye", False),
        ("30 to 35", 30, 35, "eye", False),
        ("30–35 mm", 30, 35, "eye", False),
        ("33~", 33, 33, "eye", True),
        ("33 ruler", 33, 33, "ruler", False),
        ("33mm:ruler", 33, 33, "ruler", False),
        ("33.5 measured", 33.5, 33.5, "measured", False),
        ("30-35 finger", 30, 35, "ruler", False),
        ("33 ruler, unsure", 33, 33, "ruler", True),
    ],
)
def test_a_length_needs_no_unit_where_the_question_names_it(
    tarn: Key, line: str, low: float, high: float, instrument: str, unsure: bool
) -> None:
    """The question on the screen says millimetres, and "33 ruler when held against one"."""
    answer = answered(typed(start(tarn), ["length", line]))["length"]
    assert (answer.low, answer.high, answer.instrument, answer.unsure) == (low, high, instrument, unsure)


def test_slips_are_told_with_a_remedy_and_the_question_stays(tarn: Key) -> None:
    """Faults never end the conversation, and never lose what was answered."""
    check(
        start(tarn),
        """
        > wings closed
        understood Wings at rest: closed along the back
        > purple
        fault unknown-character: type  questions  to see every question, or  help
        > coler blue
        could be body-colour=blue; eye-colour=blue | not understood coler (did you mean collar or colour?)
        > colour
        asks: What colour is the body, seen from above?
        > purple
        fault unknown-state: its states are blue, green, rust
        > 4
        fault no-such-number: the answers are numbered 1 to 3
        > blue/purple
        fault unknown-state: its states are blue, green, rust
        > blue
        understood Colour of the body: blue
        > length
        asks: How long is the body, in millimetres?
        > 0.03 m
        fault wrong-unit: write  30mm
        > 33,5
        fault decimal-comma: write  33.5
        > 35-30
        fault range-order: write  30-35mm
        > -3
        fault negative-number: write  3mm
        > 900
        fault absurd-number: they are 20 to 70 mm; was it another unit, or a slip?
        > 33
        understood Length: 33 mm
        > wings=sideways
        fault unknown-state: its states are closed, half-open, flat
        > done
        ends narrowed: Pale, Misty or Doubtful Rushlet
        """,
    )


def test_another_question_may_be_answered_while_one_is_open(tarn: Key) -> None:
    """The question put is an offer: a name, or a name and an answer, goes elsewhere; a slip there comes back."""
    check(
        start(tarn),
        """
        > length
        asks: How long is the body, in millimetres?
        > bar
        asks: Is there a dark bar along the side?
        > eyes brown
        understood Colour of the eyes: brown
        > length
        asks: How long is the body, in millimetres?
        > eyes purple
        fault unknown-state: its states are blue, brown
        > 31
        understood Length: 31 mm
        > collar
        asks: How is the hind edge of the collar cut?
        > wings=flat
        understood Wings at rest: spread flat
        > collar
        asks: How is the hind edge of the collar cut?
        > skip
        as before
        > collar
        asks: How is the hind edge of the collar cut?
        >
        as before
        > answers
        given
        """,
    )


def test_answers_are_taken_back_changed_and_dropped(tarn: Key) -> None:
    """The last one by undo, any other by its name; each is said aloud."""
    state = check(
        start(tarn),
        """
        > undo
        note: There is nothing to take back.
        > wings closed
        understood Wings at rest: closed along the back
        > colour blue
        understood Colour of the body: blue
        > eyes blue
        understood Colour of the eyes: blue
        > undo
        understood taken back: Colour of the eyes: blue
        > change wings
        asks: How are the wings held when it settles?, so far closed along the back
        > half-open
        understood Wings at rest: half open
        > drop colour
        understood taken back: Colour of the body
        > undo
        understood back again: Colour of the body: blue
        > drop colour
        understood taken back: Colour of the body
        > drop colour
        fault not-answered: type  answers  to see what has been answered
        > change bar
        fault not-answered: type  answers  to see what has been answered
        """,
    )
    assert list(answered(state)) == ["wings-at-rest"]


def test_undo_takes_back_the_last_thing_said_whatever_it_was(tarn: Key) -> None:
    """An answer given anew gives way to the earlier one; date, place and habitat are said, too, and can be unsaid."""
    state = check(
        start(tarn),
        """
        > wings closed
        understood Wings at rest: closed along the back
        > wings flat
        understood Wings at rest: spread flat
        > colour blue
        understood Colour of the body: blue
        > habitat beck
        understood habitat running beck
        > when 2 July 2026
        understood date 2026-07-02
        > when 3 July 2026
        understood date 2026-07-03
        > where SU 43 11
        understood place SU4311 (the Lowland)
        > undo
        understood taken back: place SU4311
        > undo
        understood taken back: date 2026-07-03; again 2026-07-02
        > undo
        understood taken back: date 2026-07-02
        > back
        understood taken back: habitat running beck
        > drop wings
        understood taken back: Wings at rest
        > undo
        understood back again: Wings at rest: spread flat
        > undo
        understood taken back: Colour of the body: blue
        > wings flat
        understood Wings at rest: spread flat
        > undo
        understood taken back: it had been said before, so all stands as it did
        > undo
        understood taken back: Wings at rest: spread flat; again closed along the back
        > answers
        given
        """,
    )
    assert [answer.typed for answer in state.answers] == ["closed"]
    assert (state.setting.date, state.setting.place, state.setting.habitat) == (None, None, None)


def test_date_place_and_habitat_can_be_cleared(tarn: Key) -> None:
    """By `none`, and by what means not knowing; that is a thing said and can be taken back."""
    state = check(
        start(tarn),
        """
        > habitat none
        note: No habitat has been said.
        > habitat beck
        understood habitat running beck
        > habitat unknown
        understood no habitat any more
        > undo
        understood back again: habitat running beck
        > habitat none
        understood no habitat any more
        > when 2 July 2026
        understood date 2026-07-02
        > date=none
        understood no date any more
        > where SU 43 11
        understood place SU4311 (the Lowland)
        > where can’t tell
        understood no place any more
        > where ?
        note: To say the place: where SU 43 11, a region, or none
        """,
    )
    assert state.setting == Setting()
    assert state.named.assessment.before == start(tarn).named.assessment.before


def test_who_why_against_and_what_would_settle_it(tarn: Key) -> None:
    """At any moment the reasons can be asked for, without an answer being changed by it."""
    state = check(
        start(tarn),
        """
        > why
        note: Nothing has been answered yet; so far only date, place and habitat speak.
        > wings closed
        understood Wings at rest: closed along the back
        > bar present
        understood Bar on the side: a dark bar
        > back spot
        understood Mark on the back: a round spot
        > who
        ranks Pale Rushlet, Misty Rushlet
        > why
        why Pale Rushlet and not Misty Rushlet
        > why great
        why Pale Rushlet and not Great Boulderer
        > why boulderer
        why Pale Rushlet and not Great Boulderer
        > why pale
        note: Pale Rushlet is the first itself; here it is held against its next rival.
        why Pale Rushlet and not Misty Rushlet
        > why nobody
        fault unknown-name: write any part of an English or scientific name
        > against
        against: back-mark for Great Boulderer
        """,
    )
    before = answered(state)
    state, _ = step(state, "settle")
    assert answered(state) == before


def test_reasons_may_be_asked_while_a_question_is_open(tarn: Key) -> None:
    """Help leaves the question open; a look at the standing puts it aside."""
    state = typed(start(tarn), ["wings closed", "bar"])
    assert typed(state, ["help"]).open == state.open
    assert typed(state, ["who"]).open is None


def test_when_and_where_are_said_in_between(tarn: Key) -> None:
    """Date, place and habitat may come at any moment; a slip in them changes nothing."""
    state = check(
        start(tarn),
        """
        > wings flat
        understood Wings at rest: spread flat
        > when 31 June 2026
        fault impossible-date: check the day; the last is 2026-06-30
        > where SU 43 1
        fault grid-unequal-groups: both need the same number of figures: look for one missing or one too many
        > when 2 July 2026
        understood date 2026-07-02
        > when July
        understood date 2026-07 (July of this year)
        > where NN 11 22
        understood place NN1122 (the Upland)
        > where TQ 11 22
        understood place TQ1122 (no region known)
        > where NN 11 22
        understood place NN1122 (the Upland)
        > habitat moon
        fault unknown-habitat: it knows tarn, beck
        > habitat brook
        understood habitat running beck
        > date=3 July 2026
        understood date 2026-07-03
        > place = SU 43 11
        understood place SU4311 (the Lowland)
        > region=NN1122
        understood place NN1122 (the Upland)
        > when
        note: To say the date: when 2026-07-12, July or none
        > where
        note: To say the place: where SU 43 11, a region, or none
        > habitat
        note: To say the habitat: habitat pond, or habitat none. It knows tarn, beck.
        """,
    )
    assert state.setting.date.iso == "2026-07-03"
    assert [region.id for region in state.setting.regions] == ["upland"]
    assert state.setting.habitat.id == "beck"
    assert list(answered(state)) == ["wings-at-rest"]


def test_place_and_date_change_what_is_likely(tarn: Key) -> None:
    """The rare boulderer flies in the upland in July; in the lowland nobody need think of it."""
    rara = next(one.index for one in tarn.species if one.name == "Mossopa rara")
    chance = {}
    for where in ("NN 11 22", "SU 43 11"):
        state = typed(start(tarn), ["wings flat", "bar present", "length 55", "when 10 July 2026", f"where {where}"])
        chance[where] = state.named.assessment.after.species[rara]
    assert chance["NN 11 22"] > 10 * chance["SU 43 11"]


@pytest.mark.parametrize("word", ["quit", "exit", "QUIT"])
def test_quit_leaves_without_a_verdict(tarn: Key, word: str) -> None:
    """Nothing is said any more, and nothing is offered to be logged."""
    state, replies = step(typed(start(tarn), ["wings closed"]), word)
    assert (state.ended, replies) == ("quit", ())


@pytest.mark.parametrize("word", sorted(COMMANDS))
def test_every_word_of_the_help_does_something(tarn: Key, word: str) -> None:
    """No word promised by `help` is answered with a fault about questions."""
    state, replies = step(typed(start(tarn), ["wings closed", "colour blue"]), word)
    assert state.ended == {"done": "done", "quit": "quit"}.get(word, "")
    assert replies or word == "quit"
    assert not any(isinstance(reply, Wrong) for reply in replies)


def test_each_standing_carries_what_stood_before(tarn: Key) -> None:
    """The screen can say what an answer changed."""
    state = typed(start(tarn), ["wings closed"])
    following, (reply,) = step(state, "bar present")
    assert isinstance(reply, Standing)
    assert reply.before is state.named
    assert reply.named is following.named


def test_a_state_is_never_changed_in_place(tarn: Key) -> None:
    """A pure machine: the same line typed twice at one state gives the same twice."""
    state = typed(start(tarn), ["wings closed"])
    kept = state.answers
    once, again = step(state, "colour blue"), step(state, "colour blue")
    assert once[0].answers == again[0].answers
    assert state.answers == kept


def test_a_question_mark_explains(tarn: Key) -> None:
    """The question put, with how it may be answered; where none is put, the words that are understood."""
    check(
        start(tarn),
        """
        > ?
        help
        > wings
        asks: How are the wings held when it settles?
        > ?
        explains: How are the wings held when it settles?
        > folded?
        fault question-mark: write  folded~
        > folded~
        understood Wings at rest: closed along the back (unsure)
        """,
    )


def test_back_leaves_a_question_or_takes_back_an_answer(tarn: Key) -> None:
    """And what is not sure is told of where nothing is asked, taken for can't tell where something is."""
    check(
        start(tarn),
        """
        > wings closed
        understood Wings at rest: closed along the back
        > colour
        asks: What colour is the body, seen from above?
        > back
        as before
        > back
        understood taken back: Wings at rest: closed along the back
        > not sure
        note: Nothing is asked just now. What can't be told is left out; an answer that is not sure ends in ~ .
        > colour
        asks: What colour is the body, seen from above?
        > not sure
        understood Colour of the body: can't tell
        """,
    )


def test_words_that_answer_nothing_put_are_offered_as_traits(tarn: Key) -> None:
    """Another question's state in reply to one."""
    check(
        start(tarn),
        """
        > wings
        asks: How are the wings held when it settles?
        > blue
        fault unknown-state: blue: eye-colour=blue, body-colour=blue; or type  questions
        """,
    )


def test_a_word_that_one_state_alone_has_is_that_answer(tarn: Key) -> None:
    """It is said what it was taken for, and undo is at hand; what stood before comes back."""
    state = check(
        start(tarn),
        """
        > folded
        understood Wings at rest: closed along the back ("folded" was taken so;  undo  takes it back)
        > perhaps spread
        understood Wings at rest: spread flat (unsure) ("perhaps spread" was taken so;  undo  takes it back)
        > undo
        understood taken back: Wings at rest: spread flat (unsure); again closed along the back
        > shut or spread
        understood Wings at rest: closed along the back or spread flat ("shut or spread" was taken so;  undo  takes it back)
        > blue eyes
        understood Colour of the eyes: blue ("blue eyes" was taken so;  undo  takes it back)
        > undo
        understood taken back: Colour of the eyes: blue
        """,  # noqa: E501  (a reply stands on one line)
    )
    assert list(answered(state)) == ["wings-at-rest"]


def test_a_word_that_several_states_have_is_asked_about(tarn: Key) -> None:
    """Plain names before words for one and parts of one; a number takes one, another line leaves them."""
    check(
        start(tarn),
        """
        > brown
        could be eye-colour=brown; body-colour=rusty brown
        > 3
        fault no-such-number: numbers 1 to 2 are put
        > 2
        understood Colour of the body: rusty brown
        > blue~
        could be eye-colour=blue (unsure); body-colour=blue (unsure)
        > wings closed
        understood Wings at rest: closed along the back
        > straight
        understood Collar: straight ("straight" was taken so;  undo  takes it back)
        > round
        could be back-mark=a round spot
        > 1
        understood Mark on the back: a round spot
        > yes
        note: Nothing is asked just now. Type a number of the list, a question's name, or what you saw.
        > blue/purple
        fault unknown-character: type  questions  to see every question, or  help
        """,
    )


def test_a_question_by_its_own_name_is_asked_though_a_state_has_it_too(key: Key) -> None:
    """Where only a part of a question's name has the word, the states come first: `blue` is no question of bloom."""
    state = start(key)
    assert typed(state, ["line"]).open == key.character("central-line").index
    after, (reply,) = step(state, "blue")
    assert (after.open, after.answers) == (None, ())
    assert isinstance(reply, Choices)
    assert [key.characters[answer.character].id for answer in reply.answers][:2] == ["abdomen-colour", "eye-colour"]
    assert len(reply.answers) + reply.others > CHOICES
    (answer,) = step(after, "1")[0].answers
    assert key.characters[answer.character].id == "abdomen-colour"


def test_a_word_of_several_states_of_one_question_is_asked_about(key: Key) -> None:
    """Each of them, and either."""
    check(
        start(key),
        """
        > touching
        could be eyes=meeting at a point; eyes=meeting along a line; eyes=meeting at a point or meeting along a line
        """,
    )


def test_a_reply_that_is_no_answer_is_not_taken_for_another_question_by_a_few_letters(key: Key) -> None:
    """`up` is said of the wings, and "black and yellow" of what is asked; another question is named in full."""
    check(
        start(key),
        """
        > wings
        asks: How are the wings held when it settles?
        > up
        understood Wings at rest: closed above or along the back
        > colour
        asks: What colour is most of the abdomen?
        > black and yellow
        fault ambiguous-state: write one of them, or both:  yellow/black
        > eyes purple
        fault unknown-state: its states are apart, point, broad
        > pterostigma
        asks: What colour is the spot near each wing tip?
        """,
    )


def test_a_word_in_the_state_that_says_no_is_no_match(tarn: Key) -> None:
    """Whoever says "mark" or "bar" means that there is one."""
    check(
        start(tarn),
        """
        > dark
        could be side-bar=a dark bar
        > mark
        note: Nothing was taken of "dark".
        asks: What mark is on the second ring of the back?
        """,
    )


def test_two_at_once_and_words_of_one_stem_are_never_taken_unasked(key: Key) -> None:
    """Two colours are put as either; a word that others know in another form could be theirs."""
    state = start(key)
    colours = [(f"{one} and {other}", "abdomen-colour") for one, other in (("black", "yellow"), ("yellow", "black"))]
    for line, first in (*colours, ("stripy", "legs")):
        after, (reply,) = step(state, line)
        assert isinstance(reply, Choices)
        assert after.answers == ()
        assert key.characters[reply.answers[0].character].id == first
    assert isinstance(step(state, "green purple")[1][0], Choices)
    assert step(state, "green purple")[0].answers == ()
    assert isinstance(step(state, "wing")[1][0], Wrong)


def test_several_traits_may_stand_on_one_line(tarn: Key) -> None:
    """With a fault in one of them none is taken; the numbers are those of the question's answers."""
    state = check(
        start(tarn),
        """
        > wings=closed bar=present
        understood Wings at rest: closed along the back; Bar on the side: a dark bar
        > undo
        understood taken back: Bar on the side: a dark bar
        > colour = rusty brown, collar=sideways, bar=present
        fault unknown-state: its states are straight, lobed
        > colour=1/2 date=2 July 2026
        understood Colour of the body: blue or green; date 2026-07-02
        > bar=2~
        understood Bar on the side: a dark bar (unsure)
        > bar=3
        fault no-such-number: the answers are numbered 1 to 2
        > length=33
        fault missing-unit: write  33mm
        > wings=not sure
        understood Wings at rest: can't tell
        """,
    )
    assert {name: answer.states for name, answer in answered(state).items()} == {
        "wings-at-rest": (),
        "body-colour": (0, 1),
        "side-bar": (1,),
    }


@pytest.mark.parametrize("line", ["exuvia", "Cast skin", "exuviae"])
def test_a_cast_skin_is_shown_the_way_to_its_own_key(key: Key, line: str) -> None:
    """Also while a question is put."""
    for before in ([], ["wings"]):
        _, (reply,) = step(typed(start(key), before), line)
        assert isinstance(reply, Wrong)
        assert "reedmace key --key odonata-exuviae" in reply.fault.hint
