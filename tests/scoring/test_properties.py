"""What must hold for any key and any answers; each class is named after a sentence of the method."""

from __future__ import annotations

from math import exp, isfinite

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from reedmace.keys.answers import Answer
from reedmace.keys.model import NOT_KNOWN
from reedmace.scoring.assessment import assess
from reedmace.scoring.assumptions import DEFAULTS
from reedmace.scoring.gains import gains, weights
from reedmace.scoring.posterior import posterior
from reedmace.scoring.prior import Circumstances, prior
from reedmace.scoring.tables import Tables
from scoring.any_key import SPAN, characters, looks
from scoring.tables_made import answer, key_of, number, states

COUNT = 3  # states
STEPS = 40  # in which a number is reported, for an expectation over its reports


def after(key, answers, assumptions=DEFAULTS):
    tables = Tables(key, "beginner", assumptions)
    return posterior(tables, prior(key, Circumstances(), assumptions), answers)


def with_characters(key, made):
    """The key with other characters, numbered anew."""
    return key.with_characters(one._replace(index=at) for at, one in enumerate(made))


class TestPosteriorsSumToOne:
    @given(looks(), st.sampled_from(["beginner", "practised"]))
    def test_for_any_key_and_answers(self, look, eye):
        key, answers = look
        tables = Tables(key, eye)
        found = posterior(tables, prior(key, Circumstances()), answers)
        assert sum(found.species) == pytest.approx(1, abs=1e-12)
        assert sum(found.guises) == pytest.approx(1, abs=1e-12)
        assert 0 <= found.outside <= 1

    @given(looks())
    def test_without_any_error_assumed(self, look):
        """Where nothing is excused a set of answers may be impossible for all but one guise."""
        key, answers = look
        found = after(key, answers, DEFAULTS._replace(error_factor=1e-9, echo_lapse=0.0))
        assert sum(found.species) == pytest.approx(1, abs=1e-12)


class TestOneGuiseAloneIsReadAsAmongAll:
    @given(looks())
    def test_to_the_last_bit(self, look):
        key, answers = look
        tables = Tables(key)
        for one in answers:
            if key.characters[one.character].is_number:
                whole, _ = tables.likelihoods(one)
                assert [tables.likelihood_of_number(one, guise) for guise in range(len(key.guises))] == whole


class TestAnswerOrderNeverMatters:
    @given(looks(), st.randoms(use_true_random=False))
    def test_to_the_last_bit(self, look, chance):
        key, answers = look
        shuffled = list(answers)
        chance.shuffle(shuffled)
        assert after(key, shuffled) == after(key, answers)


class TestCannotTellChangesNothing:
    @given(looks())
    def test_to_the_last_bit(self, look):
        key, answers = look
        answered = {one.character for one in answers}
        silent = [Answer(one.index, "?") for one in key.characters if one.index not in answered]
        assert after(key, [*silent, *answers]) == after(key, answers)


class TestRelabellingOnlyRelabels:
    @given(looks(), st.randoms(use_true_random=False))
    def test_species_and_their_guises_in_any_order(self, look, chance):
        """Species numbers change, and with them those of all guises; the guises of a species change places too."""
        key, answers = look
        order = list(range(len(key.species)))
        chance.shuffle(order)
        old = [
            guise
            for species in order
            for guise in chance.sample(key.species[species].guises, k=len(key.species[species].guises))
        ]
        guises = [key.guises[one]._replace(species=order.index(key.guises[one].species)) for one in old]
        species = tuple(
            key.species[one]._replace(
                index=at, guises=tuple(new for new, guise in enumerate(guises) if guise.species == at)
            )
            for at, one in enumerate(order)
        )
        turned = [one._replace(column=tuple(one.column[guise] for guise in old)) for one in key.characters]
        other = key._replace(species=species, guises=tuple(guises)).with_characters(turned)
        once, again = after(key, answers), after(other, answers)
        assert again.species == pytest.approx([once.species[one] for one in order], abs=1e-12)
        assert again.guises == pytest.approx([once.guises[one] for one in old], abs=1e-12)
        assert again.outside == pytest.approx(once.outside, abs=1e-12)
        assert promised(other, again) == pytest.approx(promised(key, once), abs=1e-9)

    @given(looks(), st.randoms(use_true_random=False))
    def test_characters_in_any_order(self, look, chance):
        key, answers = look
        order = list(range(len(key.characters)))
        chance.shuffle(order)
        other = with_characters(key, [key.characters[one] for one in order])
        moved = [one._replace(character=order.index(one.character)) for one in answers]
        once, again = after(key, answers), after(other, moved)
        assert again.guises == pytest.approx(once.guises, abs=1e-12)
        assert again.outside == pytest.approx(once.outside, abs=1e-12)
        was = promised(key, once)
        assert promised(other, again) == pytest.approx([was[one] for one in order], abs=1e-9)

    @given(looks(), st.data())
    def test_the_states_of_a_character_turned_round(self, look, data):
        key, answers = look
        chosen = data.draw(st.sampled_from(key.characters))
        assume(not chosen.is_number)
        last = len(chosen.states) - 1
        turned = chosen._replace(
            states=tuple(reversed(chosen.states)),
            cells=tuple(tuple(reversed(cell)) for cell in chosen.cells),
            confused=tuple((last - one, last - other) for one, other in chosen.confused),
        )
        other = with_characters(key, [turned if one is chosen else one for one in key.characters])
        said = [
            one._replace(states=tuple(last - state for state in one.states)) if one.character == chosen.index else one
            for one in answers
        ]
        once, again = after(key, answers), after(other, said)
        assert again.guises == pytest.approx(once.guises, abs=1e-12)
        assert promised(other, again) == pytest.approx(promised(key, once), abs=1e-9)


def promised(key, found):
    """What every character of the key promises."""
    tables = Tables(key)
    return gains(tables, found, weights(tables, found.guises), key.characters)


class TestAnAnswerThatAllGiveEquallyChangesNothing:
    @given(looks(), st.sampled_from([None, "one"]), st.booleans(), st.sampled_from([(1,), (0, 2), (0, 1, 2)]))
    def test_a_state(self, look, echo, unsure, chosen):
        key, answers = look
        at = len(key.characters)
        same = states(at, "same", COUNT, [[0.2, 0.5, 0.3]], [0] * len(key.guises), error=0.1, echo=echo)
        wider = with_characters(key, [*key.characters, same])
        told = [*answers, answer(at, *chosen, unsure=unsure)]
        assert after(wider, told).guises == pytest.approx(after(key, answers).guises, abs=1e-9)

    @given(looks(), st.sampled_from([None, "one"]), st.floats(*SPAN), st.sampled_from([0.0, 5.0]))
    def test_a_number(self, look, echo, low, width):
        key, answers = look
        at = len(key.characters)
        same = number(at, "same", [(50.0, 4.0)], SPAN)._replace(column=(0,) * len(key.guises), echo=echo)
        wider = with_characters(key, [*key.characters, same])
        told = [*answers, Answer(at, "", low=low, high=low + width, instrument="ruler")]
        assert after(wider, told).guises == pytest.approx(after(key, answers).guises, abs=1e-9)


class TestNobodysAnswerChangesNothing:
    @given(looks(), st.data())
    def test_a_character_nobody_answered(self, look, data):
        """Of any kind, in any echo group, at any place among the characters."""
        key, answers = look
        at = data.draw(st.integers(0, len(key.characters)))
        more = data.draw(characters(at, len(key.guises), special=()))
        wider = with_characters(key, [*key.characters[:at], more, *key.characters[at:]])
        moved = [one._replace(character=one.character + (one.character >= at)) for one in answers]
        once, again = after(key, answers), after(wider, moved)
        assert again.guises == pytest.approx(once.guises, abs=1e-12)
        assert again.outside == pytest.approx(once.outside, abs=1e-12)


class TestMoreAgreeingAnswersNeverLowerTheTrueGuise:
    """In expectation over what its observer may report, each report as likely as the key and the observer make it."""

    @given(looks(), st.data())
    def test_expected_posterior(self, look, data):
        key, answers = look
        answered = {one.character for one in answers}
        asked = data.draw(st.sampled_from(key.characters))
        assume(asked.index not in answered)
        true = data.draw(st.integers(0, len(key.guises) - 1))
        assume(Tables(key).readings(asked).seeable[true])
        once = after(key, answers)
        foreseen = reports(asked)
        chances, held = [], []
        for report in foreseen:
            again = after(key, [*answers, report])
            # Answers to one guise multiply: how likely this report is, is what it adds to the whole likelihood.
            chances.append(exp(again.logs[true] - once.logs[true]))
            held.append(again.guises[true])
        expected = sum(chance * one for chance, one in zip(chances, held, strict=True)) / sum(chances)
        assert expected >= once.guises[true] - 1e-9


def reports(character):
    """Everything that may be reported of a character, numbers in steps."""
    if not character.is_number:
        return [answer(character.index, state) for state in range(len(character.states))]
    low, high = SPAN[0] - 8, SPAN[1] + 8  # the widened range
    width = (high - low) / STEPS
    return [
        Answer(character.index, "", low=low + width * step, high=low + width * (step + 1), instrument="ruler")
        for step in range(STEPS)
    ]


def test_three_hundred_answers_do_not_underflow():
    """Each answer is unlikely under every species, and there are three hundred of them."""
    characters = [
        states(
            i,
            f"c{i}",
            COUNT,
            [[0.98, 0.01, 0.01], [0.97, 0.02, 0.01]],
            [0, 1],
            error=0.01,
            echo="one" if i % 2 else None,
        )
        for i in range(300)
    ]
    key = key_of(characters, ["A a", "B b"])
    found = after(key, [answer(i, 1) for i in range(300)], DEFAULTS._replace(outside_prior=0.02))
    assert all(isfinite(value) for value in found.logs)
    assert sum(found.species) == pytest.approx(1)
    assert found.species[1] > 0.999
    assert found.outside > 0.999


def test_ignorance_is_not_rewarded():
    """A species about which nothing is known never overtakes one that fits."""
    cells = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]]
    characters = [states(i, f"c{i}", COUNT, cells, [0, 1, NOT_KNOWN], error=0.1) for i in range(6)]
    key = key_of(characters, ["A a", "B b", "C c"])
    found = after(key, [answer(i, 0) for i in range(6)])
    assert found.species[0] > 0.9
    assert found.species[2] < 0.1


def test_more_agreeing_answers_never_lower_the_true_species():
    """Within an echo group too: what agrees may add little, never take away."""
    cells = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]
    characters = [states(i, f"c{i}", COUNT, cells, [0, 1, 2], error=0.15, echo="one") for i in range(6)]
    key = key_of(characters, ["A a", "B b", "C c"])
    rising = [after(key, [answer(i, 0) for i in range(count)]).species[0] for count in range(7)]
    assert rising == sorted(rising)
    assert rising[1] > rising[0]


@given(looks())
def test_the_same_input_gives_the_same_output(look):
    """Pure functions: two engines made anew agree in everything, look next included."""
    key, answers = look
    once = assess(Tables(key), Circumstances(), answers)
    again = assess(Tables(key), Circumstances(), answers)
    assert once == again
