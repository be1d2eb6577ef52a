"""A look as people tell it: understood, put to them, or told to be no mark; never taken in silence."""

from __future__ import annotations

from pathlib import Path

import pytest

from reedmace.keys import spoken_denied
from reedmace.keys.cache import load_key
from reedmace.keys.model import Key
from reedmace.keys.shipped import find_key
from reedmace.tasks.naming.conversation import step
from reedmace.tasks.naming.replies import Choices, Note, Standing, Wrong
from tasks.dialogue import check, start, typed


def test_a_whole_look_is_put_part_by_part_and_several_numbers_take_several(tarn: Key) -> None:
    """What is no mark of the key is told; a number that is not put leaves all as it was."""
    state = check(
        start(tarn),
        """
        > a flash of blue by the mere in July, wings folded along its back
        could be body-colour=blue; eye-colour=blue; wings-at-rest=closed along the back | type habitat tarn, when July | not understood flash, back
        > 1 6
        fault no-such-number: numbers 1 to 5 are put
        > 1 2 1
        fault answered-twice: take one of the two
        > 1, 3 5
        understood Colour of the body: blue; Wings at rest: closed along the back; date 2026-07 (July of this year)
        > undo
        understood taken back: date 2026-07
        > undo
        understood taken back: Wings at rest: closed along the back
        """,  # noqa: E501  (a reply stands on one line)
    )
    assert [tarn.characters[answer.character].id for answer in state.answers] == ["body-colour"]


def test_a_question_taken_by_its_number_is_asked_after_the_answers(tarn: Key) -> None:
    """Only one question at a time can be open, so of two none is taken."""
    check(
        start(tarn),
        """
        > blue body, the eyes and the wings too far off
        could be body-colour=blue | type eye-colour, wings-at-rest | not understood off
        > 1 2 3
        fault answered-twice: take one of them, and type the other:  wings-at-rest
        > 1 3
        note: Colour of the body: blue
        asks: How are the wings held when it settles?
        """,
    )


def test_a_whole_look_is_taken_as_one_while_a_question_is_open(tarn: Key) -> None:
    """What plainly answers the question stays its answer; what has parts about other things is put."""
    check(
        start(tarn),
        """
        > wings
        asks: How are the wings held when it settles?
        > brown, wings folded, by the mere in July
        could be body-colour=rusty brown; eye-colour=brown; wings-at-rest=closed along the back | type habitat tarn, when July
        > 1 3
        understood Colour of the body: rusty brown; Wings at rest: closed along the back
        > colour
        asks: What colour is the body, seen from above?, so far rusty brown
        > blue or green
        understood Colour of the body: blue or green
        """,  # noqa: E501  (a reply stands on one line)
    )


def test_what_was_denied_is_not_offered_as_seen(tarn: Key) -> None:
    """Beside a question "no" is its state for there being nothing; beside a colour it is left."""
    check(
        start(tarn),
        """
        > not blue, more green
        could be body-colour=green | Left out, since it was denied, compared or not seen: not blue.
        > brown with no bar on it
        note: Nothing was taken of "not blue, more green".
        could be body-colour=rusty brown; eye-colour=brown; side-bar=no bar
        """,
    )


def test_date_place_water_and_size_need_no_question(tarn: Key) -> None:
    """Said by themselves they are taken, said back and taken back like anything else."""
    state = check(
        start(tarn),
        """
        > July
        understood date 2026-07 (July of this year)
        > fast brook
        understood habitat running beck
        > SU 43 11
        understood place SU4311 (the Lowland)
        > about 35 mm
        understood Length: 35 mm
        > between 30 and 35 mm
        understood Length: 30 to 35 mm
        > undo
        understood taken back: Length: 30 to 35 mm; again 35 mm
        > 3 cm
        understood Length: 25 to 35 mm
        > undo
        understood taken back: Length: 25 to 35 mm; again 35 mm
        """,
    )
    assert state.setting.habitat == tarn.habitats[1]


def test_what_was_only_named_is_asked_by_its_marks(key: Key) -> None:
    """A beginner's "damselfly" is a judgement: what it was judged by is put as a question, unless it was said."""
    _, (put,) = step(start(key), "small red damselfly on a lily pad")
    assert "wings-at-rest" in put.to_type
    assert put.notes[0].endswith("damselfly. What makes it one is asked by  wings-at-rest .")
    _, (put,) = step(start(key), "red damselfly, wings folded")
    assert "wings-at-rest" not in put.to_type
    _, (note,) = step(start(key), "damselfly")
    assert "say what you saw of it. What makes it one is asked by  wings-at-rest" in note.text


def test_a_name_and_a_sex_are_told_to_be_no_marks(tarn: Key) -> None:
    """Names come last, and the sex is read off marks: neither is asked for, nor said to be unknown."""
    check(
        start(tarn),
        """
        > Pale Rushlet
        note: "Pale Rushlet" is a name, and names come last: say what you saw of it.
        > male
        note: Male or female is read off its marks: type  bump  to be asked.
        > wings closed
        understood Wings at rest: closed along the back
        > pale rushlet
        note: "pale rushlet" is a name, and names come last: say what you saw of it. How it stands so far:  why pale rushlet
        """,  # noqa: E501  (a reply stands on one line)
    )


@pytest.mark.parametrize(
    ("line", "among"),
    [
        ("all black", "abdomen-colour=black"),
        ("dull brown", "abdomen-colour=brown"),
        ("orange wings", "wing-tint=amber/rusty"),
        ("shiny", "abdomen-colour=metallic-green/metallic-blue"),
        ("two joined together laying eggs in weed", "company=held"),
        ("wood", "eggs=in-wood"),
        ("wings with a dark band", "wing-band=middle/whole/near-tip"),
        ("green-eyed", "eye-colour=green"),
        ("on a reed", "perch=low-plants"),
        ("no shoulder stripes", "shoulder-stripes=none"),
    ],
)
def test_words_that_could_mean_more_than_one_thing_are_put(key: Key, line: str, among: str) -> None:
    """The body is black as well as the legs; who sees a pair need not see it lay eggs."""
    after, (reply,) = step(start(key), line)
    assert isinstance(reply, Choices)
    assert after.answers == ()
    offered = []
    for answer in reply.answers:
        character = key.characters[answer.character]
        offered.append(f"{character.id}={'/'.join(character.states[state].id for state in answer.states)}")
    assert among in offered


LOOKS = """
flash of blue
wings folded
big green and brown one flew round me
red one sitting on the path in October
tiny, dark metallic, wings half open
yellow fat one
blue one with black spots on the wings
two joined together laying eggs in weed
dull brown one no markings
long thin blue body, wings folded, on a reed
black and yellow stripes like a wasp, big
metallic blue wings fluttering over the river in June
its eyes were huge and green and touching
hovering over water
flies up and down
landed on a stone, wings swept forward
never landed
turquoise
blue tail light
no markings
white legs
furry green thorax
July
garden pond
yesterday
SU 431 118
35 mm
damselfly
damselflies
female
"""


@pytest.mark.parametrize("line", LOOKS.strip().splitlines())
def test_what_beginners_say_is_understood_or_put(key: Key, line: str) -> None:
    """None of it is answered with "the key asks nothing called so"."""
    after, (reply, *_) = step(start(key), line)
    assert isinstance(reply, Standing | Choices | Note)
    if isinstance(reply, Choices):
        assert reply.answers or reply.to_type
        assert after.answers == ()


@pytest.mark.parametrize(
    ("line", "offered", "never"),
    [
        ("no dark patches on the wings", "wing-band=none", "wing-band=middle/whole/near-tip"),
        ("no broad stripes", "", "shoulder-stripes=none"),
        ("no black legs", "", "legs=black"),
        ("no long tail", "", "tip=same"),
        ("it didn't have spots", "", "top-pattern=paired-spots/pale-dashes"),
        ("blue, not sure if it had spots", "abdomen-colour=blue", "top-pattern=paired-spots/pale-dashes"),
        ("couldn't see the eyes, body red", "abdomen-colour=red", "eyes=apart"),
        ("spur on thorax side missing", "spur=absent", "spur=present"),
        ("bigger than a wasp, yellow body", "abdomen-colour=yellow", "thorax-colour=yellow-black"),
        ("bright red eyes on black body", "eye-colour=red", "abdomen-colour=red"),
        ("pale blue legs, wings shut", "wings-at-rest=closed", "abdomen-colour=blue"),
        ("brown body with blue spots", "abdomen-colour=brown", "abdomen-colour=blue"),
        ("dark blue, wings shut", "abdomen-colour=blue", "abdomen-colour=black/bronze"),
        ("its wings were dark at the tips", "wing-tint=dark", "clasper-colour=pale"),
        ("four-spotted chaser with dark wings", "wing-tint=dark", "node-spot=present"),
        ("white-faced dragonfly by a bog", "face=pale", "abdomen-colour=pale"),
        ("all blue wings, fluttering", "wing-tint=dark", "segment-8=all-blue"),
        ("black all over", "abdomen-colour=black", "segment-2-mark=filled"),
        ("greeny blue one, thin", "abdomen-colour=blue/plain-green/metallic-green", "abdomen-colour=blue"),
        ("yelow body, gren eyes", "eye-colour=green", "eyes=apart"),
        ("demoiselle crane", "", "perch=stem-top"),
        ("I am sure the legs were black", "legs=black", "abdomen-colour=black"),
        ("lovely eyes were green", "eye-colour=green", "abdomen-colour=plain-green/metallic-green"),
        ("eyes: green, wings: shut", "eye-colour=green", "abdomen-colour=plain-green/metallic-green"),
        ("the tip of the tail was blue", "tip=blue", "ovipositor=spike"),
        ("spot on segment 7, big", "build=long", "segment-8=black-mark"),
        ("spotted wings, thin body", "build=thin", "wing-spot-match=staggered"),
        ("face yellow, eyes brown", "face=yellow", "abdomen-colour=brown"),
        ("blue apart from the green thorax", "abdomen-colour=blue", "eyes=apart"),
        ("neither red nor blue, eyes green", "eye-colour=green", "abdomen-colour=blue"),
        ("not red, nor blue", "", "abdomen-colour=blue"),
        ("there was nothing blue on it", "", "abdomen-colour=blue"),
        ("green instead of blue", "eye-colour=green", "abdomen-colour=blue"),
        ("it was anything but blue", "", "abdomen-colour=blue"),
        ("it isn`t blue", "", "abdomen-colour=blue"),
        ("I have never seen such a blue one", "", "perch=seldom"),
        ("never landing, wings clear", "perch=seldom", "abdomen-colour=blue"),
        ("wasn't red more orange", "abdomen-colour=orange", "abdomen-colour=red"),
        ("long as a pencil, red", "abdomen-colour=red", "build=slight/long"),
        ("didn't notice the wings but body was blue", "abdomen-colour=blue", "wing-tint=dark"),
    ],
)
def test_words_are_about_what_they_stand_beside(key: Key, line: str, offered: str, never: str) -> None:
    """What was denied, compared or not seen is no mark; a colour is of the eyes, legs or spots that it is said of."""
    after, (reply, *_) = step(start(key), line)
    said = []
    for answer in reply.answers if isinstance(reply, Choices) else after.answers:
        character = key.characters[answer.character]
        said.append(f"{character.id}={'/'.join(character.states[state].id for state in answer.states)}")
    assert (offered in said) == bool(offered)
    assert never not in said


def test_a_long_denial_is_not_tried_in_every_stretch_of_it(key: Key, monkeypatch: pytest.MonkeyPatch) -> None:
    """No question is called so in more words than a part has; a look of the most words is still read at once."""
    tried: list[list[str]] = []
    known = spoken_denied.question_called
    monkeypatch.setattr(spoken_denied, "question_called", lambda key, words: tried.append(words) or known(key, words))
    step(start(key), "no spots and " * 16)
    assert tried
    assert max(map(len, tried)) <= spoken_denied.LONGEST


DENIALS = [
    ("no spots on the wings", "wing-band=none node-spot=absent wing-base=clear wing-spot=none"),
    ("no marks on the wings", "wing-band=none node-spot=absent wing-base=clear wing-spot=none"),
    ("no wing spots", "wing-spot=none"),
    ("no spots, bands or stripes", "wing-band=none shoulder-stripes=none"),
    ("neither bands nor stripes", "wing-band=none shoulder-stripes=none"),
    ("no spots, spur present", "spur=present"),
    ("blue or green eyes", "eye-colour=blue/green eye-underside=green/blue"),
    ("no spots, red or brown eyes", "eye-colour=brown/red eye-underside=brown/red"),
]


@pytest.mark.parametrize(("look", "offered"), DENIALS)
def test_what_was_denied_or_said_as_either_is_offered_as_it_was_meant(key: Key, look: str, offered: str) -> None:
    """Spots on the wings are dark marks as well as the small one near the tip; a list is denied thing by thing."""
    _, (reply,) = step(start(key), look)
    assert isinstance(reply, Choices)
    put = [(key.characters[one.character], one.states) for one in reply.answers]
    said = [f"{one.id}={'/'.join(one.states[at].id for at in states)}" for one, states in put]
    assert sorted(said) == sorted(offered.split())
    assert not reply.to_type


@pytest.mark.parametrize("pasted", ["blue with folded wings " * 2000, "blue wings " * 30, "wings=" + "folded" * 9000])
def test_what_was_pasted_is_refused_with_a_word_and_not_gone_through(key: Key, pasted: str) -> None:
    """It would take minutes; what was answered before stays."""
    before, _ = step(start(key), "wings folded")
    state, (reply,) = step(before, pasted)
    assert isinstance(reply, Wrong)
    assert (reply.fault.code, state) == ("look-too-long", before)
    assert len(reply.fault.said or "") < 50
    assert "up to 48 words on a line" in reply.fault.hint


def test_sizes_and_places_of_a_look_are_put_with_it(key: Key) -> None:
    """What spans the wings is no length."""
    _, (reply,) = step(start(key), "blue body near SU4311, about 30 mm long")
    assert isinstance(reply, Choices)
    assert reply.to_type == ("where SU4311", "length 30 mm")
    _, (reply,) = step(start(key), "blue body, wingspan 50 mm")
    assert isinstance(reply, Choices)
    assert not any(line.startswith("length") for line in reply.to_type if " " in line)


def test_a_big_skin_is_a_matter_of_its_length(cache_home: Path) -> None:
    """Though hooks along the back are called big; gills that are seen at a glance are put beside their question."""
    skins = load_key(find_key("odonata-exuviae"), cache_home / "reedmace")
    _, (reply,) = step(start(skins), "big skin, gills, on a reed")
    assert isinstance(reply, Choices)
    titles = [skins.characters[answer.character].id for answer in reply.answers]
    assert titles[:1] == ["tail"]
    assert "length" in reply.to_type


def test_a_maybe_is_of_its_own_part(key: Key) -> None:
    """Only what stands beside it is unsure."""
    _, (reply,) = step(start(key), "wings folded, maybe blue, legs black not sure")
    assert isinstance(reply, Choices)
    unsure = {answer.typed: answer.unsure for answer in reply.answers}
    assert unsure == {"wings folded": False, "blue": True, "legs black": True}


def test_no_part_of_a_long_look_is_lost(key: Key) -> None:
    """Each part has an answer, though there are more than six of them."""
    line = "small, blue body, wings folded, red eyes, black legs, hairy thorax, on a lily pad, white face, fluttery"
    _, (reply,) = step(start(key), line)
    assert isinstance(reply, Choices)
    assert len({answer.typed for answer in reply.answers}) == 9
    assert reply.unread == ()


@pytest.mark.parametrize("line", ["wings", "club tail", "large red"])
def test_a_part_of_a_name_that_says_what_was_seen_is_no_name(key: Key, line: str) -> None:
    """Clubtails and Large Reds are called by what one sees of them."""
    _, (reply,) = step(start(key), line)
    assert not isinstance(reply, Note)


def test_what_is_offered_to_type_can_be_typed(key: Key) -> None:
    """Of a look that names a month, a water and a question."""
    state, (reply,) = step(start(key), "big one by the garden pond in July, spots on the wings")
    assert isinstance(reply, Choices)
    assert reply.to_type == ("habitat garden-pond", "when July", "wing-spot")
    for line in reply.to_type:
        state, (answer,) = step(state, line)
        assert not isinstance(answer, Wrong)
    assert state.open == key.character("wing-spot").index


def test_a_pair_that_lays_eggs_is_no_proof_of_a_female(key: Key) -> None:
    """Who tells of two joined may describe the one in front: the blue of the male is no blue form of the female."""
    state = typed(start(key), ["when 12 July 2026", "company=held eggs=in-plants colour=blue wings=closed"])
    best = state.named.assessment.candidates[0]
    assert key.guises[best.guise].sex == "male"


@pytest.mark.parametrize(
    ("question", "reply", "understood"),
    [
        ("length", "about 40", "Body length: 40 mm"),
        ("length", "40ish", "Body length: 40 mm"),
        ("length", "35 to 40 or so", "Body length: 35 to 40 mm"),
        ("spur", "y", "Spur on the thorax side: a short spur, in emeralds a green point"),
        ("spur", "nope", "Spur on the thorax side: no spur"),
        ("spur", "no idea", "Spur on the thorax side: can't tell"),
        ("spur", "I don't know", "Spur on the thorax side: can't tell"),
        ("colour", "1 2", "Colour of the abdomen: blue or red"),
        ("colour", "1 and 3", "Colour of the abdomen: blue or orange or pinkish"),
    ],
)
def test_a_question_is_answered_as_people_answer(key: Key, question: str, reply: str, understood: str) -> None:
    """A length by eye is about so long anyway; of two numbers put side by side it is either."""
    _, (told,) = step(typed(start(key), [question]), reply)
    assert isinstance(told, Standing)
    assert told.note == understood


def test_two_colours_are_the_two_that_are_called_so(key: Key) -> None:
    """What has one of them in its name, "shining deep blue", is none of the two."""
    _, (told,) = step(typed(start(key), ["colour"]), "blue and black")
    assert isinstance(told, Wrong)
    assert told.fault.hint == "write one of them, or both:  blue/black"


def test_all_answers_are_dropped_at_once_and_come_back(tarn: Key) -> None:
    """What is dropped that was never answered is told by a word that can be typed here."""
    check(
        start(tarn),
        """
        > wings=closed bar=present
        understood Wings at rest: closed along the back; Bar on the side: a dark bar
        > drop nonsense
        fault unknown-character: type  answers  to see what has been answered
        > drop all
        understood taken back: every answer
        > undo
        understood back again: Wings at rest: closed along the back; back again: Bar on the side: a dark bar
        """,
    )


def test_a_day_or_a_month_without_a_year_is_of_the_latest_that_has_come(tarn: Key) -> None:
    """What the look is judged by is the time of the year; the year that was taken is told, and logging asks."""
    check(
        start(tarn),
        """
        > 12 July
        understood date 2026-07-12 (12 July of this year)
        > 12 July 2026
        understood date 2026-07-12
        """,
    )
