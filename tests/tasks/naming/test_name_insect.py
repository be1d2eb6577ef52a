"""The engine's answer as plain values: what `name --json` prints and what is kept beside a record."""

from __future__ import annotations

import json

import pytest

from reedmace import __version__
from reedmace.faults import Refused
from reedmace.keys.answers import read_trait
from reedmace.keys.model import Key
from reedmace.records import Naming
from reedmace.tasks.naming.answer_words import trait_text
from reedmace.tasks.naming.keep_naming import as_naming
from reedmace.tasks.naming.name_insect import as_json
from tarn import look

SETTLED = "wings=closed colour=blue bar=present collar=straight bump=present back-mark=cup"
PAIR = "wings=closed colour=blue bar=present bump=present back-mark=cup"


def test_a_settled_look_names_one_species_with_its_form(tarn: Key) -> None:
    """Word, name, rank, set, guise and probability say the same thing."""
    verdict = as_json(look(tarn, SETTLED))["verdict"]
    assert verdict.pop("probability") > 0.95
    assert verdict == {
        "word": "settled",
        "name": "Tarnula pallida",
        "vernacular": "Pale Rushlet",
        "rank": "species",
        "set": ["Tarnula pallida"],
        "guise": "male",
    }


def test_a_narrowed_look_names_every_species_that_is_left(tarn: Key) -> None:
    """The set holds what the name joins."""
    verdict = as_json(look(tarn, PAIR))["verdict"]
    assert (verdict["word"], verdict["rank"]) == ("narrowed", "pair")
    assert verdict["name"] == "Tarnula pallida or Tarnula nebula"
    assert set(verdict["set"]) == {"Tarnula pallida", "Tarnula nebula"}


def test_a_look_alike_that_is_not_described_is_in_the_set_too(tarn: Key) -> None:
    """Without the bar, Doubtful Rushlet is not excluded and is named."""
    told = as_json(look(tarn, "wings=closed colour=blue collar=straight bump=present back-mark=cup"))
    assert "Tarnula dubia" in told["verdict"]["set"]
    rule_out = {rival["name"]: rival["told_apart"] for rival in told["rule_out"]}
    assert rule_out["Tarnula dubia"] is False
    assert rule_out["Tarnula nebula"] is True


def test_candidates_fall_and_add_up_to_one(tarn: Key) -> None:
    """Probabilities inside the key; the last candidate has nobody to be weighed against."""
    candidates = as_json(look(tarn, PAIR))["candidates"]
    chances = [one["probability"] for one in candidates]
    assert chances == sorted(chances, reverse=True)
    assert sum(chances) == pytest.approx(1)
    assert len(candidates) == 6
    assert [one["evidence"] is None for one in candidates] == [False] * 5 + [True]


def test_what_is_expected_says_nothing_of_the_answers(tarn: Key) -> None:
    """Place, date and habitat alone: the same before and after any answer."""
    assert as_json(look(tarn, PAIR))["expected"] == as_json(look(tarn, "wings=flat"))["expected"]
    assert as_json(look(tarn, PAIR))["expected"] != as_json(look(tarn, PAIR, where="NN 11 22"))["expected"]


def test_fit_needs_four_answers(tarn: Key) -> None:
    """With fewer it is null, and no guess."""
    assert as_json(look(tarn, "wings=closed colour=blue bar=present"))["fit"] is None
    assert 0 < as_json(look(tarn, "wings=closed colour=blue bar=present bump=present"))["fit"] <= 1


def test_the_object_is_plain_json(tarn: Key) -> None:
    """Whatever is answered, the standard library can write it and reads the same back."""
    for traits in ("", SETTLED, "length=33mm", "collar=?", "wings=flat~ length=20-64mm:ruler"):
        told = as_json(look(tarn, traits))
        assert json.loads(json.dumps(told, allow_nan=False)) == told


@pytest.mark.parametrize(
    "trait",
    [
        "wings-at-rest=closed",
        "wings-at-rest=closed/half-open",
        "side-bar=present~",
        "collar=cant-tell",
        "length=33mm",
        "length=30-35mm",
        "length=30-35mm:ruler~",
        "length=33.5mm:measured",
    ],
)
def test_an_answer_can_be_typed_again_as_it_is_shown(tarn: Key, trait: str) -> None:
    """The hinge and the kept answers are traits in the form that `name` reads."""
    assert trait_text(tarn, read_trait(tarn, trait)) == trait


def test_every_fault_in_the_traits_is_told_at_once(tarn: Key) -> None:
    """Three slips in one line are three faults."""
    with pytest.raises(Refused) as refused:
        look(tarn, "wings=sideways nonsense length=33 wings=closed")
    assert [fault.code for fault in refused.value.faults] == ["unknown-state", "no-equals", "missing-unit"]


def test_what_is_kept_beside_a_record_is_the_whole_reasoning(tarn: Key) -> None:
    """Key with version and digest, eye, answers as typed, circumstances as typed, verdict and ranking."""
    named = look(tarn, f"{PAIR} eyes=blue~", when="1 July 2026", where="SU 43 11", habitat="mere", eye="practised")
    kept = as_naming(named)
    assert isinstance(kept, Naming)
    assert (kept.key_id, kept.key_version, kept.key_digest) == ("tarn-flies", "1.0.0", tarn.digest)
    assert (kept.eye, kept.reedmace) == ("practised", __version__)
    assert [tuple(answer) for answer in kept.answers][-1] == ("eye-colour", "blue~")
    assert len(kept.answers) == 6
    assert kept.circumstances._asdict() == {
        "date": "1 July 2026",
        "place": "SU 43 11",
        "habitat": "tarn",
        "flat": False,
    }
    assert kept.verdict == "narrowed"
    assert kept.verdict_name == "Tarnula pallida or Tarnula nebula"
    assert [one.name for one in kept.ranking][:2] == ["Tarnula pallida", "Tarnula nebula"]


def test_a_verdict_outside_the_key_keeps_no_name(tarn: Key) -> None:
    """Nothing in the key was meant, so nothing of it is claimed."""
    kept = as_naming(look(tarn, OUTSIDE))
    assert (kept.verdict, kept.verdict_name) == ("outside", "")


OUTSIDE = "wings=flat length=22mm:measured colour=rust eyes=blue bar=present back-mark=none collar=lobed bump=present"
