"""Typed answers: what was seen, in an author's words or one's own, and what is wrong with one that means nothing."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from reedmace.faults import Fault, Refused
from reedmace.keys.answers import CANNOT_TELL, CIRCUMSTANCES, Answer, read_trait, read_traits
from reedmace.keys.cache import load_key
from reedmace.keys.matching import find_character
from reedmace.keys.model import Character, Key


def states(key: Key, trait: str) -> list[str]:
    """The ids of the states that an answer allows."""
    answer = read_trait(key, trait)
    assert isinstance(answer, Answer), answer
    return [key.characters[answer.character].states[index].id for index in answer.states]


def measured(key: Key, trait: str) -> tuple[float | None, float | None, str]:
    """Low, high and instrument of a measured answer."""
    answer = read_trait(key, trait)
    assert isinstance(answer, Answer), answer
    return answer.low, answer.high, answer.instrument


def refused(key: Key, trait: str) -> Fault:
    """The fault of an answer; it always carries what was typed, and a hint."""
    fault = read_trait(key, trait)
    assert isinstance(fault, Fault), fault
    assert (fault.said, fault.typed) == (trait, True)
    assert fault.hint
    return fault


@pytest.mark.parametrize(
    "trait",
    [
        "wings-at-rest=closed",
        "Wings at rest=closed along the back",
        "WINGS_AT_REST = Closed",
        "wings=shut",
        "wings-at=clo",
        "rest=along",
        "wings-at-rest=closed/closed",
    ],
)
def test_ids_titles_words_and_beginnings_mean_the_same(made_key: Key, trait: str) -> None:
    assert states(made_key, trait) == ["closed"]


def test_several_states_are_either_of_them(made_key: Key) -> None:
    assert states(made_key, "wings=flat/closed") == ["closed", "flat"]
    assert states(made_key, "wings= spread / shut ") == ["closed", "flat"]


def test_a_tilde_says_unsure_and_nothing_else(made_key: Key) -> None:
    for trait in ("spur=absent", "wings=flat/closed", "length=33mm"):
        sure, unsure = read_trait(made_key, trait), read_trait(made_key, f"{trait}~")
        assert isinstance(sure, Answer)
        assert isinstance(unsure, Answer)
        assert (sure.unsure, unsure.unsure) == (False, True)
        assert unsure._replace(unsure=False, typed=trait) == sure


@pytest.mark.parametrize("said", [*CANNOT_TELL, "CAN'T TELL", "?~", " unknown "])
@pytest.mark.parametrize("character", ["spur", "length"])
def test_cannot_tell_is_an_answer_that_says_nothing(made_key: Key, character: str, said: str) -> None:
    answer = read_trait(made_key, f"{character}={said}")
    assert isinstance(answer, Answer)
    assert answer.says_nothing
    assert not answer.states


def test_an_answer_keeps_what_was_typed(made_key: Key) -> None:
    answer = read_trait(made_key, "Wings = SHUT~")
    assert isinstance(answer, Answer)
    assert answer.typed == "Wings = SHUT~"


@pytest.mark.parametrize(
    ("typed", "low", "high", "instrument"),
    [
        ("33mm", 33, 33, "eye"),
        ("33 mm", 33, 33, "eye"),
        ("33.5MM", 33.5, 33.5, "eye"),
        ("30-35mm", 30, 35, "eye"),
        ("30 – 35 mm", 30, 35, "eye"),
        ("30 to 35 mm", 30, 35, "eye"),
        ("33mm:eye", 33, 33, "eye"),
        ("33mm:ruler", 33, 33, "ruler"),
        ("33 mm ruler", 33, 33, "ruler"),
        ("33mm, finger", 33, 33, "ruler"),
        ("33.4mm:measured", 33.4, 33.4, "measured"),
    ],
)
def test_a_length_has_a_unit_and_perhaps_an_instrument(
    made_key: Key, typed: str, low: float, high: float, instrument: str
) -> None:
    """A finger held near is as good as a ruler held near."""
    assert measured(made_key, f"length={typed}") == (low, high, instrument)


@pytest.mark.parametrize(
    ("typed", "low", "high"),
    [
        *(("4 cm", 35, 45), ("4cm", 35, 45), ("3.3cm", 33, 33), ("3-3.5 cm", 30, 35), ("3 to 4 centimetres", 30, 40)),
        *(("2 inches", 45, 57), ('2"', 45, 57), ("2in", 45, 57), ("two inches", 45, 57), ("1.5 inches", 32, 44)),
        *(("an inch and a half", 32, 44), ("one and a half inches", 32, 44), ("1 1/2 inches", 32, 44)),
        *(("1½ inches", 32, 44), ("half an inch", 10, 16), ("1.75 inches", 41, 47), ("1-2 inches", 25, 51)),
        *(("one or two inches", 25, 51), ("thirty mm", 30, 30), ("three quarters of an inch", 16, 22)),
    ],
)
def test_centimetres_and_inches_are_worth_what_they_were_meant(
    made_key: Key, typed: str, low: float, high: float
) -> None:
    """Whoever says two inches has not measured 50.8 mm."""
    assert measured(made_key, f"length={typed}") == (low, high, "eye")


BAD = [
    # typed, code, what the hint must offer
    ("length=33", "missing-unit", "33mm"),
    ("length=30-35", "missing-unit", "30-35mm"),
    ("length=0.033m", "wrong-unit", "33mm"),
    ("length=.03-.035 m", "wrong-unit", "30-35mm"),
    ("length=5-4 cm", "range-order", "4-5cm"),
    ("length=40 cm", "absurd-number", "20 to 60 mm"),
    ("length=33 thumbs", "unknown-unit", "33mm"),
    ("length=33,5mm", "decimal-comma", "33.5mm"),
    ("length=-33mm", "negative-number", "33mm"),
    ("length=+33mm", "negative-number", "33mm"),
    ("length=nan", "not-a-number", "33mm"),
    ("length=nan mm", "not-a-number", "33mm"),
    ("length=inf", "not-a-number", "33mm"),
    ("length=1e2mm", "not-a-number", "33mm"),
    ("length=٣٣mm", "not-a-number", "33mm"),
    ("length=", "not-a-number", "33mm"),
    ("length=small", "not-a-number", "33mm"),
    ("length=900 mm", "absurd-number", "20 to 60 mm"),
    ("length=0mm", "absurd-number", "20 to 60 mm"),
    ("length=" + "9" * 400 + "mm", "absurd-number", "20 to 60 mm"),
    ("length=35-30mm", "range-order", "30-35mm"),
    ("length=0", "absurd-number", "20 to 60 mm"),
    ("spur=presnt", "unknown-state", "present"),
    ("spur=unsure", "unknown-state", "ends in a tilde:  absent~"),
    ("spur=present, not sure", "question-mark", "write  present~"),
    ("spur=maybe present", "question-mark", "write  present~"),
    ("spur=", "unknown-state", "absent, present"),
    ("spur=present/", "unknown-state", "absent, present"),
    ("spurr=present", "unknown-character", "spur"),
    ("=present", "unknown-character", "reedmace key"),
    ("xyzzy=present", "unknown-character", "reedmace key"),
    ("tail=all", "ambiguous-state", "blue/black"),
    ("spur", "no-equals", "spur=absent, spur=present"),
    ("", "no-equals", "wings-at-rest=closed"),
]


@pytest.mark.parametrize(("typed", "code", "offered"), BAD)
def test_a_bad_answer_is_named_with_its_remedy(made_key: Key, typed: str, code: str, offered: str) -> None:
    fault = refused(made_key, typed)
    assert fault.code == code
    assert offered in fault.hint


@pytest.mark.parametrize(("typed", "code", "offered"), [row for row in BAD if row[2].endswith("mm") and "-u" in row[1]])
def test_what_the_hint_offers_for_a_unit_can_be_typed(made_key: Key, typed: str, code: str, offered: str) -> None:
    assert isinstance(read_trait(made_key, f"length={offered}"), Answer)


@pytest.mark.parametrize("word", CIRCUMSTANCES)
def test_when_and_where_are_sent_to_their_options(made_key: Key, word: str) -> None:
    fault = refused(made_key, f"{word}=anything")
    assert fault.code == "circumstance-as-trait"
    assert CIRCUMSTANCES[word] in fault.hint


def test_no_character_of_the_shipped_key_is_taken_for_a_circumstance(key: Key) -> None:
    for character in key.characters:
        for name in (character.id, character.title, *character.aliases):
            assert name.casefold() not in CIRCUMSTANCES, f"{character.id} can never be answered as {name}"


def test_all_faults_of_a_look_are_told_at_once(made_key: Key) -> None:
    with pytest.raises(Refused) as caught:
        read_traits(made_key, ["spur=maybe", "wings=closed", "length=33", "wings-at-rest=flat"])
    assert [fault.code for fault in caught.value.faults] == ["unknown-state", "missing-unit", "answered-twice"]


def test_answers_keep_their_order(made_key: Key) -> None:
    answers = read_traits(made_key, ["spur=absent", "length=40mm", "wings=flat"])
    assert [made_key.characters[answer.character].id for answer in answers] == ["spur", "length", "wings-at-rest"]


HARD = ["length=" + "9" * 5000 + "cm", "wings=" + "/" * 300, "=~", "~=~", "length=~", "a=\x00", "length=1-\ud800mm"]
TEXTS = st.text(max_size=30) | st.text(st.characters(), max_size=30) | st.sampled_from(HARD)
NAMES = st.sampled_from(["spur", "length", "wings", "tail-colour", "date"]) | TEXTS
VALUES = TEXTS | st.from_regex(
    r"[+-]?[0-9.,]{0,6}\s?(-|to)?\s?[0-9.]{0,4}\s?(mm|cm|in|m)?:?(eye|ruler)?~?", fullmatch=True
)


@settings(deadline=None, max_examples=400)
@given(st.builds("{}={}".format, NAMES, VALUES) | TEXTS)
@example("length=" + "9" * 5000 + "cm")
@example("length=1" + "0" * 400 + "-2mm")
def test_whatever_is_typed_is_an_answer_or_a_fault_with_a_hint(made_key: Key, typed: str) -> None:
    """The sentence of the module: an answer, or what is wrong with it; never an exception."""
    read = read_trait(made_key, typed)
    if isinstance(read, Fault):
        assert read.hint
        assert (read.said, read.typed) == (typed, True)
    else:
        character = made_key.characters[read.character]
        assert all(0 <= index < len(character.states) for index in read.states)
        assert read.says_nothing or character.is_number == (read.low is not None)


def test_every_character_of_the_shipped_key_is_found_by_its_id_title_and_aliases(key: Key) -> None:
    for character in key.characters:
        for name in (character.id, character.title, *character.aliases):
            found = find_character(key, name)
            if isinstance(found, Fault):
                assert found.code == "ambiguous-character"
                assert character.id in found.message
            else:
                assert found.id == character.id, f"{name} finds {found.id}"
        assert find_character(key, character.id) == character


def _said_of(character: Character) -> list[tuple[str, int]]:
    """Everything that can be said for a state of a character, with the state's number."""
    return [
        (said, index) for index, state in enumerate(character.states) for said in (state.id, state.title, *state.words)
    ]


def test_every_state_of_the_shipped_key_is_found_by_its_id_title_and_each_of_its_words(key: Key) -> None:
    """Or the answer is ambiguous, and the fault names the right state among the others."""
    asked = 0
    for character in key.characters:
        for said, index in _said_of(character):
            asked += 1
            read = read_trait(key, f"{character.id}={said}")
            if isinstance(read, Fault):
                assert read.code == "ambiguous-state", (character.id, said, read)
                assert character.states[index].id in read.message
                assert said not in (character.states[index].id, character.states[index].title)
            else:
                listed = [at for at, state in enumerate(character.states) if said in (state.id, *state.words)]
                assert index in read.states, f"{character.id}={said} is read as another state"
                assert len(read.states) == 1 or list(read.states) == listed, f"{character.id}={said} means too much"
    assert asked > 2 * len(key.characters)


def test_no_word_of_the_shipped_key_reads_as_cannot_tell(key: Key) -> None:
    for character in key.characters:
        for said, _ in _said_of(character):
            assert said.casefold() not in CANNOT_TELL
            assert not said.endswith("~")


@pytest.mark.parametrize(
    ("trait", "meant"),
    [
        ("eyes=touching", ["point", "broad"]),
        ("wing-base=dark", ["dark-small", "dark-hind", "dark-large"]),
        ("abdomen=grey", ["blue", "black"]),
        ("abdomen=green", ["plain-green", "metallic-green"]),
        ("abdomen=plain-green", ["plain-green"]),
        ("thorax=green", ["apple-green", "metallic-green"]),
        ("thorax=apple green", ["apple-green"]),
        ("segment-9=blue", ["all-blue", "black-mark"]),
    ],
)
def test_a_word_that_fits_several_states_means_any_of_them(key: Key, trait: str, meant: list[str]) -> None:
    """A short word never decides between states that it fits alike; a state's own id does."""
    assert states(key, trait) == meant


def test_a_word_inside_several_states_is_ambiguous_though_it_begins_one(key: Key) -> None:
    """Where an author has not listed it, it is asked which: "shining" begins no id, but is in three titles."""
    fault = refused(key, "abdomen=shining")
    assert (fault.code, fault.hint) == (
        "ambiguous-state",
        "write one of them, or all:  metallic-green/metallic-blue/bronze",
    )


@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        ("blue", ["abdomen-colour=blue", "eye-colour=blue", "tip=blue"]),
        ("blue tail", ["tip=blue"]),
        ("wings folded", ["wings-at-rest=closed"]),
        ("green eyes", ["eye-colour=green"]),
        ("wings", ["wings-at-rest=closed", "wings-at-rest=flat"]),
        ("Eye colour", ["eye-colour=blue", "eye-colour=brown"]),
    ],
)
def test_words_without_an_equals_sign_are_offered_as_traits(key: Key, typed: str, offered: list[str]) -> None:
    """At most five, every one of which can be typed; and where all questions are told."""
    hint = refused(key, typed).hint
    traits, _, more = hint.partition(": ")[2].partition("; ")
    listed = traits.split(", ")
    assert set(offered) <= set(listed)
    assert len(listed) <= 5
    assert all(isinstance(read_trait(key, trait), Answer) for trait in listed)
    assert more == "all questions:  reedmace key , then  questions"


def test_a_state_of_a_character_akin_is_offered_there(key: Key) -> None:
    """Eyes are asked about in several characters."""
    assert refused(key, "eyes=blue").hint == "perhaps  eye-colour=blue or eye-underside=blue"


@pytest.mark.parametrize(
    ("typed", "hint"),
    [
        ("abdomen=purple", "its states are "),  # not pale
        ("sex=male", "reedmace key  asks them one by one"),  # not size
        ("lenght=33mm", "did you mean length?"),  # not leg
        ("abdomen=bleu", "did you mean blue?"),
        ("xwings=flat", "reedmace key  asks them one by one"),
        ("winsg=flat", "did you mean wings?"),
    ],
)
def test_only_a_near_miss_is_guessed_at(key: Key, typed: str, hint: str) -> None:
    """A letter in three or so, and the first one right or two swapped."""
    assert refused(key, typed).hint.startswith(hint)


def test_a_question_mark_after_a_state_is_told_of_the_tilde(key: Key) -> None:
    """And a question mark after nonsense is nonsense still."""
    fault = refused(key, "wings=folded?")
    assert (fault.code, fault.hint) == ("question-mark", "write  folded~")
    assert refused(key, "wings=nonsense?").code == "unknown-state"


@pytest.mark.parametrize(
    ("trait", "code", "hint"),
    [
        ("colour=black and yellow", "ambiguous-state", "write one of them, or both:  yellow/black"),
        ("colour=blue-green", "ambiguous-state", "write one of them, or all:  blue/plain-green/metallic-"),
        ("colour=electric blue", "unknown-state", "perhaps  blue or metallic-blue"),
        ("build=medium", "ambiguous-state", "write one of them, or both:  slight/stout"),
        ("size=big", "not-a-number", "perhaps  build=long; or write  33mm"),
        ("wings=unsure", "unknown-state", "ends in a tilde:  closed~"),
        ("colour=tartan", "unknown-state", "its states are blue, red"),
    ],
)
def test_words_that_are_no_state_by_themselves_are_told_of_what_they_speak(
    key: Key, trait: str, code: str, hint: str
) -> None:
    """Two colours at once are never taken for one, and an odd shade for none."""
    fault = refused(key, trait)
    assert fault.code == code
    assert hint in fault.hint


@pytest.mark.parametrize(
    ("trait", "state"),
    [
        ("build=tiny", "thin"),
        ("build=fat", "stout"),
        ("colour=light blue", "blue"),
        ("colour=dark red", "red"),
        ("colour=pale green", "plain-green"),
        ("thorax=yellow and black", "yellow-black"),
        ("thorax=black and yellow", "yellow-black"),
        ("top=black and yellow bands", "rings"),
        ("tip=turquoise", "blue"),
    ],
)
def test_everyday_words_mean_one_state(key: Key, trait: str, state: str) -> None:
    """What people say at the pond."""
    assert states(key, trait) == [state]


@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        ("red one on the path in October", "abdomen-colour=red"),
        ("red one on the path in October", "perch=ground, --date October"),
        ("all black", "abdomen-colour=black"),
        ("red legs", "red legs: legs=red;"),
        ("July", "--date July"),
        ("12 July", '--date "12 July"'),
        ("the 3rd of may", '--date "3 May"'),
        ("garden pond", "--habitat garden-pond"),
        ("35mm", "length=35mm"),
        ("damselfly", "a name is no mark"),
        ("blue wings folded", "wings-at-rest=closed, abdomen-colour=blue"),
        ("male", "bump=absent or bump=present"),
    ],
)
def test_words_in_place_of_a_trait_are_told_what_to_write(key: Key, typed: str, offered: str) -> None:
    """Whatever `reedmace key` would understand of them."""
    fault = refused(key, typed)
    assert fault.code == "no-equals"
    assert offered in fault.hint


def test_words_that_the_shell_took_apart_are_one_look(key: Key) -> None:
    """One fault for all of them, with what the whole could mean; what was quoted apart stays apart."""
    with pytest.raises(Refused) as refused_:
        read_traits(key, ("bright", "red", "eyes", "wings=closed", "blue", "wings folded"))
    first, second = refused_.value.faults
    assert first.said == "bright red eyes"
    assert "eye-colour=red" in first.hint
    assert "abdomen-colour" not in first.hint
    assert second.said == "blue, wings folded"
    assert "abdomen-colour=blue" in second.hint
    assert "wings-at-rest=closed" in second.hint


def test_a_question_called_skin_is_not_taken_for_a_cast_skin_and_the_example_is_the_keys_own(tmp_path: Path) -> None:
    """A key's own names come before the stages that other keys name; nothing in it need be called wings."""
    folder = tmp_path / "made-fen"
    shutil.copytree(Path(__file__).parent / "faults" / "base", folder)
    for path in folder.rglob("*.yaml"):
        text = path.read_text(encoding="utf-8")
        path.write_text(text.replace("id: wings\n", "id: skin\n").replace("wings:", "skin:"), encoding="utf-8")
    made = load_key(folder, None)
    assert "skin: skin=closed" in refused(made, "skin").hint
    assert "for example  skin=closed" in refused(made, "xyzzy").hint
