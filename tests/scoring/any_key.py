"""Hypothesis strategies: any small key, and any answers to it.

Characters with two to four states (sure, variable, with an absent state, ordered, with confusions named) and numbers
(judged by eye or measured); cells not known and not applicable; echo groups; one to three guises a species, in sexes,
with shares; species of few genera, so that there are relatives to borrow from. Answers name one state or several,
may be unsure, give a number or a range.
"""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import strategies as st

from reedmace.keys.answers import INSTRUMENTS, Answer
from reedmace.keys.model import EFFORTS, NOT_APPLICABLE, NOT_KNOWN, Character, Guise, Key
from scoring.tables_made import key_of, number, states

SPAN = (10.0, 90.0)  # of numbers, in mm
SPECIAL = (NOT_KNOWN, NOT_APPLICABLE)
# The guises of a species as (sex, share): drawing whole patterns keeps hypothesis quick.
PATTERNS = (
    ((None, 1.0),),
    (("male", 0.5), ("female", 0.5)),
    (("male", 0.6), ("female", 0.3), ("female", 0.1)),
    (("female", 0.97), (None, 0.03)),
)
ASPECTS = st.tuples(
    st.sampled_from([None, None, "one", "two"]), st.sampled_from(EFFORTS), st.sampled_from([0.2, 0.9]), st.booleans()
)
RATES = st.sampled_from([(0.01, 0.01), (0.1, 0.02), (0.2, 0.2), (0.05, 0.45), (0.45, 0.3)])
COMMON = (1.0, 0.3, 0.01, 1e-6)


def guises(patterns: Sequence[int]) -> list[Guise]:
    """Guises of species after these patterns."""
    return [
        Guise(species, f"g{at}", f"guise {at}", sex, "mature", "", share, (), "sight", "")
        for species, pattern in enumerate(patterns)
        for at, (sex, share) in enumerate(PATTERNS[pattern])
    ]


def cells_of_states(count: int) -> st.SearchStrategy:
    """One to three cells: a sure state or frequencies."""
    sure = st.integers(0, count - 1).map(lambda state: [float(k == state) for k in range(count)])
    parts = st.lists(st.integers(1, 40), min_size=count, max_size=count)
    return st.lists(sure | parts.map(lambda w: [x / sum(w) for x in w]), min_size=1, max_size=3)


def columns(cells: int, length: int, special: Sequence[int]) -> st.SearchStrategy:
    """Which cell each guise has; now and then none."""
    lowest = min(special, default=0)
    return st.lists(st.integers(lowest, cells - 1), min_size=length, max_size=length)


@st.composite
def characters(draw: st.DrawFn, index: int, guises: int, special: Sequence[int] = SPECIAL) -> Character:
    """A character of either kind; `special` are the cells that are none."""
    echo, effort, visible, sexing = draw(ASPECTS)
    more = {"echo": echo, "effort": effort, "visible": visible, "sexing": sexing}
    count = draw(st.sampled_from([0, 2, 2, 3, 4]))
    if not count:
        cells = draw(st.lists(st.tuples(st.integers(35, 65), st.sampled_from([0.5, 2.0, 5.0])), min_size=1, max_size=3))
        width, bias = draw(st.sampled_from([(0.05, 0.0), (0.25, 0.08)]))
        made = number(index, f"c{index}", cells, SPAN)
        by_eye = {"beginner": (width, bias), "practised": (width / 2, 0.0)}
        return made._replace(column=tuple(draw(columns(len(cells), guises, special))), by_eye=by_eye, **more)
    cells = draw(cells_of_states(count))
    made = states(index, f"c{index}", count, cells, draw(columns(len(cells), guises, special)), **more)
    absent, ordered, confused = draw(
        st.sampled_from([(None, False, ()), (0, False, ()), (count - 1, True, ()), (None, False, ((0, 1),))])
    )
    return made._replace(
        states=tuple(one._replace(absent=at == absent) for at, one in enumerate(made.states)),
        misread={"beginner": draw(RATES), "practised": (0.02, 0.01)},
        ordered=ordered,
        confused=confused,
    )


@st.composite
def keys(draw: st.DrawFn, special: Sequence[int] = SPECIAL) -> Key:
    """Any small key."""
    kinds = draw(
        st.lists(st.tuples(st.integers(0, len(PATTERNS) - 1), st.sampled_from(COMMON)), min_size=1, max_size=4)
    )
    made = guises([pattern for pattern, _ in kinds])
    key = key_of(
        [draw(characters(index, len(made), special)) for index in range(draw(st.integers(1, 4)))],
        [f"Genus{one % 2} s{chr(97 + one)}" for one in range(len(kinds))],
        guises=made,
    )
    species = tuple(one._replace(abundance=(weight,)) for one, (_, weight) in zip(key.species, kinds, strict=True))
    return key._replace(species=species)


@st.composite
def answers(draw: st.DrawFn, character: Character) -> Answer:
    """Any answer to a character that says something."""
    unsure = draw(st.booleans())
    if character.is_number:
        low, more, instrument = draw(
            st.tuples(st.floats(*SPAN), st.sampled_from([0.0, 0.0, 1.0, 8.0]), st.sampled_from(INSTRUMENTS))
        )
        return Answer(character.index, "", low=low, high=low + more, unsure=unsure, instrument=instrument)
    state = st.integers(0, len(character.states) - 1)
    chosen = draw(st.lists(state, unique=True, min_size=1, max_size=len(character.states)))
    return Answer(character.index, "", tuple(sorted(chosen)), unsure=unsure)


@st.composite
def looks(draw: st.DrawFn, special: Sequence[int] = SPECIAL) -> tuple[Key, list[Answer]]:
    """A key and answers to some of its characters, in any order."""
    key = draw(keys(special))
    chosen = draw(st.lists(st.sampled_from(key.characters), unique_by=lambda one: one.index, max_size=5))
    return key, [draw(answers(one)) for one in chosen]
