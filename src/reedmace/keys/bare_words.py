"""Words typed without a question, `folded` or `blue eyes`: the answers that they could be, best matches first.

What only one state can be meant by is an answer; what several can is put to the user.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from reedmace.keys.answers import Answer, split_doubt
from reedmace.keys.hints import SHARED, singular, words_of
from reedmace.keys.matching import affirmed, character_names, fold, roots, state_names
from reedmace.keys.model import EFFORTS, Character, Key

_COUNTING = {"two", "three", "four", "five", "six", "both", "all"}
STEM = 5  # letters that words of one stem share
SELDOM = 0.3  # what can be seen less often than this needs something to happen first, as laying eggs does


class Meant(NamedTuple):
    """The answers that words could be, best first. `clear` when one state is called so, and no other has the words.

    Of what can seldom be seen nothing is clear: "water" need not be where the eggs go; nor is a colour by itself, for
    "rust" may be said of any part.
    `loose` when nothing is called so: the words are only a part of what a state is called. The first `exact` of the
    answers are called or listed so.
    """

    answers: tuple[Answer, ...] = ()
    clear: bool = False
    loose: bool = False
    exact: int = 0


class _Row(NamedTuple):
    """What a character makes of the words: how well they fit, and for each of them its states."""

    grade: int
    effort: int
    character: int
    states: tuple[tuple[int, ...], ...]


def words_meant(key: Key, typed: str) -> Meant:
    """What words could mean: one or several states (`red or orange`), alone or beside a word of their question."""
    plain, unsure = split_doubt(typed)
    parts = [fold(part) for part in re.split(r"\s*(?:/|,|&|\bor\b|\band\b)\s*", plain)]
    both = bool(re.search(r"&|\band\b", plain))  # of two colours at once one is to be chosen
    rows = _rows(key, [fold(plain)])
    rows += _shades(key, fold(plain), {row.character for row in rows})
    if both or not rows:
        known = {row.character for row in rows}
        rows += [row for row in _rows(key, parts) if row.character not in known]
    if len(parts) == 1 and all(row.grade > 1 for row in rows):
        # "blue tail" is of a tail that is blue, though a "blue tail light" has the words, too.
        beside = _beside(key, parts[0])
        rows = beside if any(row.grade < 2 for row in beside) else rows or beside
    kin = _kin(key, rows[0], parts) if len(rows) == 1 else []
    kin += _headed(key, rows, parts)
    if len(rows) == 1 and not kin:
        row = rows[0]
        together = tuple(sorted({state for states in row.states for state in states}))
        alone = all(len(states) == 1 for states in row.states)
        single = [] if alone else [(state,) for states in row.states for state in states]
        found = [(row.character, states) for states in dict.fromkeys((*single, together))]
        return Meant(
            tuple(Answer(at, typed, states, unsure=unsure) for at, states in found),
            alone and row.grade < 2 and not both and _of_itself(key.characters[row.character], typed),
            row.grade > 1,
            len(found) if row.grade < 2 else 0,
        )
    put = []
    for row in sorted([*rows, *kin]):
        states = tuple(sorted({state for states in row.states for state in states}))
        put.append(Answer(row.character, typed, states, unsure=unsure))
    exact = sum(row.grade < 2 for row in (*rows, *kin))
    return Meant(tuple(put), loose=all(row.grade > 1 for row in rows), exact=exact)


def _of_itself(character: Character, typed: str) -> bool:
    """Whether words can be about this character alone, without a question: no colour, nothing hardly ever seen."""
    asked = bool(set(map(singular, re.split(r"[\s_-]+", typed.casefold()))) & words_of(character))
    return character.visible >= SELDOM and (asked or not character.colours)


def has_name(key: Key, typed: str) -> bool:
    """True where some state is called so, or listed under these very words."""
    return any(row.grade < 2 for row in _rows(key, [fold(split_doubt(typed)[0])]))


def _rows(key: Key, parts: list[str], among: tuple[Character, ...] | None = None) -> list[_Row]:
    if any(len(part) < 3 for part in parts):
        return []
    rows = []
    for character in key.characters if among is None else among:
        found = [_states(character, part) for part in parts]
        if all(states for _, states in found):
            grade = max(grade for grade, _ in found)
            states = tuple(states for _, states in found)
            rows.append(_Row(grade, EFFORTS.index(character.effort), character.index, states))
    return rows


def _shades(key: Key, word: str, known: set[int]) -> list[_Row]:
    """What else has the colour of which a word is a shade: somebody lists "reddish" for eyes, and bodies are red."""
    for root in roots(word, ("ish",)):
        if rows := [row for row in _rows(key, [root]) if row.grade < 2]:
            return [row for row in rows if row.character not in known]
    return []


def _kin(key: Key, row: _Row, parts: list[str]) -> list[_Row]:
    """Other questions that know a word of the same stem: `stripy` is one state's, but others have stripes."""
    if len(parts) != 1 or "-" in parts[0] or len(parts[0]) < STEM or row.grade == 0:
        return []
    rows = []
    for character in key.characters:
        states = tuple(
            index
            for index, state in enumerate(character.states)
            if not state.absent
            and any(word[:STEM] == parts[0][:STEM] for name in state_names(state) for word in name.split("-"))
        )
        if states and character.index != row.character:
            rows.append(_Row(3, EFFORTS.index(character.effort), character.index, (states,)))
    return rows


def _headed(key: Key, rows: list[_Row], parts: list[str]) -> list[_Row]:
    """Questions more easily answered that know the last word: "all black" legs, but a body is black as well."""
    if not rows or len(parts) != 1 or "-" not in parts[0] or any(row.grade == 1 for row in rows):
        return []  # what authors list as a word is meant so
    first = min(row.effort for row in rows)
    easier = tuple(one for one in key.characters if EFFORTS.index(one.effort) < first)
    return [row._replace(grade=3) for row in _rows(key, [parts[0].rpartition("-")[2]], easier) if row.grade < 2]


def _states(character: Character, word: str) -> tuple[int, tuple[int, ...]]:
    """How well a word fits (0 its own name, 1 a word for it, 2 a part of one), and the states it fits so."""
    fits: tuple[list[int], ...] = ([], [], [])
    for index, state in enumerate(character.states):
        names = state_names(state)
        if word in (fold(state.id), fold(state.title)):
            fits[0].append(index)
        if word in names or singular(word) in map(singular, names):
            fits[1].append(index)
        # "no spots" are no spots
        elif not state.absent and any(f"-{word}-" in f"-{affirmed(name)}-" for name in names):
            fits[2].append(index)
    best = next((grade for grade in (1, 2) if fits[grade]), 2)
    return (0 if fits[0] else best), tuple(fits[0] or fits[best])


def _beside(key: Key, typed: str) -> list[_Row]:
    """A word of a state beside one of its question: `blue eyes`, `folded wings`."""
    words = [word for word in typed.split("-") if word]
    rows: dict[tuple[int, tuple[tuple[int, ...], ...]], _Row] = {}
    alike = []  # called so but for a word that many share, as the "tail colour" is of a tail
    for cut in range(1, len(words)):
        for part, value in ((words[:cut], words[cut:]), (words[cut:], words[:cut])):
            among = tuple(one for one in key.characters if all(_forms(word) & words_of(one) for word in part))
            for row in _rows(key, ["-".join(value)], among):
                if row.grade > 1 and _COUNTING.issuperset(value):
                    continue  # of "two blue ones" the bloom does not reach "two thirds"
                named = len(among) == 1 or any(_same(part, name) for name in character_names(key.characters[row[2]]))
                # A word that several questions share names none of them: "orange wings" may be veins or the skin.
                grade = row.grade if named else max(row.grade, 2)
                rows.setdefault((row.character, row.states), row._replace(grade=grade))
                if any(_nearly(part, name) for name in character_names(key.characters[row.character])):
                    alike.append(row)
    if any(row.grade < 2 for row in rows.values()):  # where one is meant the others are, too
        rows |= {(row.character, row.states): row for row in alike}
    return list(rows.values())


def _forms(word: str) -> set[str]:
    """A word of a question as it may be said: `eyes`, and `eyed` as in "green-eyed"."""
    joined = {word[:-1], word[:-2], word[:-3]} if word.endswith("ed") and len(word) > 3 else set()
    return {singular(word), *joined}


def _same(words: list[str], name: str) -> bool:
    return [singular(word) for word in words] == [singular(word) for word in name.split("-")]


def _nearly(words: list[str], name: str) -> bool:
    return _same(words, "-".join(word for word in name.split("-") if word not in SHARED))
