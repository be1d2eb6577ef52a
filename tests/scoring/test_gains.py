"""What a look promises: against its definition, and its two forms against each other, on any key."""

from __future__ import annotations

import sys
from math import exp, log2
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.big_key import big_key
from reedmace.scoring import gains as module
from reedmace.scoring.gains import plain_gains, weights
from reedmace.scoring.gains_by_array import gains as gains_by_array
from reedmace.scoring.posterior import posterior
from reedmace.scoring.prior import Circumstances, prior
from reedmace.scoring.tables import Tables
from scoring.any_key import looks
from scoring.tables_made import answer


def looked(key, answers):
    """Tables and posterior of a look."""
    tables = Tables(key)
    return tables, posterior(tables, prior(key, Circumstances()), answers)


def entropy(species):
    return -sum(one * log2(one) for one in species if one > 0)


class TestTheGainIsTheExpectedDropInSpeciesEntropy:
    @given(looks(special=()))
    def test_by_giving_every_answer_in_turn(self, look):
        """Each possible answer is given to the engine; nothing of `gains` is used but its result."""
        key, answers = look
        tables, after = looked(key, answers)
        answered = {one.character for one in answers}
        asked = [one for one in key.characters if one.index not in answered and not one.is_number]
        found = plain_gains(tables, after, weights(tables, after.guises), asked)
        for character, gain in zip(asked, found, strict=True):
            drop = 0.0
            for state in range(len(character.states)):
                again = posterior(tables, prior(key, Circumstances()), [*answers, answer(character.index, state)])
                chance = sum(
                    held * exp(now - before)
                    for held, now, before in zip(after.guises, again.logs, after.logs, strict=True)
                )
                drop += chance * (entropy(after.species) - entropy(again.species))
            assert gain == pytest.approx(character.visible * drop, abs=2e-5)  # guises that do not show are left out


class TestWithNumpyTheSameFigures:
    @given(looks(), st.data())
    def test_on_any_key(self, look, data):
        key, answers = look
        tables, after = looked(key, answers)
        focus = data.draw(st.sampled_from([after.guises, only_two(key, after.guises)]))
        weighed = weights(tables, focus)
        plain = plain_gains(tables, after, weighed, key.characters)
        assert gains_by_array(tables, after, weighed, key.characters) == pytest.approx(plain, abs=1e-9)

    @pytest.mark.parametrize("own_cells", [False, True])
    @pytest.mark.parametrize("guises", [1, 3])
    def test_on_a_key_of_six_hundred_species(self, guises, own_cells):
        key = big_key(Random(3), 600, 20, guises=guises, own_cells=own_cells)
        tables, after = looked(key, [answer(0, 1), answer(4, 2), answer(9, 0)])
        weighed = weights(tables, after.guises)
        plain = plain_gains(tables, after, weighed, key.characters)
        assert gains_by_array(tables, after, weighed, key.characters) == pytest.approx(plain, abs=1e-9)
        assert max(plain) > 0.1


def only_two(key, guises):
    """The guises of the first two species, as when only these are weighed against each other."""
    kept = [one if guise.species < 2 else 0.0 for guise, one in zip(key.guises, guises, strict=True)]
    return [one / sum(kept) for one in kept] if sum(kept) > 0 else guises


class TestFewInTheRunning:
    def test_the_same_figures_as_when_all_are_gone_through(self):
        """A hundred species of which few are left: only those are sorted, and the figures stay the same."""
        key = big_key(Random(5), 100, 12, guises=2)
        tables, after = looked(key, [answer(index, 0) for index in range(8)])
        six = [one if guise.species < 6 else 0.0 for guise, one in zip(key.guises, after.guises, strict=True)]
        weighed = weights(tables, [one / sum(six) for one in six])
        assert len(weighed.held) == 6
        few = plain_gains(tables, after, weighed, key.characters)
        assert not tables.layouts, "only six were sorted, and nothing of them is kept"
        often = Tables(key, tables.eye, tables.assumptions, many=True)
        assert plain_gains(often, after, weighed, key.characters) == pytest.approx(few, abs=1e-12)
        assert len(often.layouts) == len(key.characters), "all hundred were sorted"
        assert max(few) > 0.1


class TestNumpyIsForBigKeysOnly:
    def test_a_small_key_never_asks_for_it(self, key, monkeypatch):
        monkeypatch.setitem(sys.modules, "reedmace.scoring.gains_by_array", None)
        tables, after = looked(key, [])
        assert module.gains(tables, after, weights(tables, after.guises), key.characters)

    def test_one_asked_thousands_of_times_does(self, key, monkeypatch):
        monkeypatch.setitem(sys.modules, "reedmace.scoring.gains_by_array", None)
        tables, after = looked(key, [])
        often = Tables(key, tables.eye, tables.assumptions, many=True)
        with pytest.raises(ImportError):
            module.gains(often, after, weights(often, after.guises), key.characters)

    def test_a_big_key_does(self, monkeypatch):
        monkeypatch.setattr(module, "BIG", 10)
        monkeypatch.setitem(sys.modules, "reedmace.scoring.gains_by_array", None)
        tables, after = looked(big_key(Random(1), 20, 5), [])
        with pytest.raises(ImportError):
            module.gains(tables, after, weights(tables, after.guises), tables.key.characters)

    def test_a_big_key_without_numpy_is_worked_out_all_the_same(self, monkeypatch):
        monkeypatch.setattr(module, "BIG", 10)
        monkeypatch.setattr(module, "_numpy_is_there", lambda: False)
        monkeypatch.setitem(sys.modules, "reedmace.scoring.gains_by_array", None)
        tables, after = looked(big_key(Random(1), 20, 5), [])
        found = module.gains(tables, after, weights(tables, after.guises), tables.key.characters)
        assert found == plain_gains(tables, after, weights(tables, after.guises), tables.key.characters)
