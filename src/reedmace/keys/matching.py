"""What a typed word can mean in a key: a character, or states of one; and what was nearly typed.

An id, a title, an everyday word or the beginning of one will do, as long as only one thing can be meant. A word that
the key lists under several states of a character means any of them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from reedmace.faults import Fault
from reedmace.keys.model import Character, Key, State

SHORTEST = 3  # letters of a word that others are made from
SMALL = {"the", "and", "a", "of", "at", "on", "in", "is", "to", "or", "by", "with", "like", "not", "but"}  # of no state


def find_character(key: Key, name: str) -> Character | Fault:
    """The character meant by an id, alias, title or the beginning of one."""
    wanted = fold(name)
    for character in key.characters:
        if wanted == character.id:
            return character
    by_name: dict[str, set[int]] = {}
    for character in key.characters:
        for known in character_names(character):
            by_name.setdefault(known, set()).add(character.index)
    found = by_name.get(wanted) or _partly(wanted, by_name)
    if len(found) == 1:
        return key.characters[found.pop()]
    if found:
        ids = sorted(key.characters[index].id for index in found)
        return Fault(
            "ambiguous-character", f'"{name}" could be {either_or(ids)}.', "write one of them", name, typed=True
        )
    hint = _mean(wanted, by_name) or "reedmace key  asks them one by one"
    return Fault("unknown-character", f'The key asks nothing called "{name}".', hint, name, typed=True)


def find_states(character: Character, text: str) -> tuple[int, ...] | Fault:
    """The states meant by an id, title, word or the beginning of one: several where the key lists a word so."""
    wanted = fold(text)
    states = character.states
    for index, state in enumerate(states):
        if wanted in (fold(state.id), fold(state.title)):
            return (index,)
    by_name: dict[str, set[int]] = {}
    for index, state in enumerate(states):
        for known in state_names(state):
            by_name.setdefault(known, set()).add(index)
    if wanted in by_name:
        return tuple(sorted(by_name[wanted]))
    shade = next((by_name[root] for root in roots(wanted, ("ish",)) if root in by_name), None)
    if shade:  # bluish is blue
        return tuple(sorted(shade))
    found = _partly(wanted, by_name)
    if len(found) == 1:
        return tuple(found)
    ids = [state.id for state in states]
    close = "" if found else _mean(wanted, by_name)
    spoken, apart = (set(), False) if found or close else _by_word(wanted, by_name)
    if apart:  # "black and yellow", "blue-green"
        found = spoken
    if len(found) > 1:
        meant = [ids[index] for index in sorted(found)]
        return Fault(
            "ambiguous-state",
            f'"{text.strip()}" could be {either_or(meant)} of {character.id}.',
            f"write one of them, or {'both' if len(meant) == 2 else 'all'}:  {'/'.join(meant)}",
            text,
            typed=True,
        )
    perhaps = " or ".join(ids[index] for index in sorted(spoken))
    return Fault(
        "unknown-state",
        f'"{text.strip()}" is no state of {character.id} ({character.title.lower()}).',
        close or (f"perhaps  {perhaps}" if perhaps else f"its states are {', '.join(ids)}"),
        text,
        typed=True,
    )


def character_names(character: Character) -> list[str]:
    """What a character is called, as names are compared."""
    return [fold(known) for known in (character.id, character.title, *character.aliases)]


def state_names(state: State) -> list[str]:
    """What a state is called, as names are compared."""
    return [fold(known) for known in (state.id, state.title, *state.words)]


def _partly(wanted: str, by_name: Mapping[str, set[int]]) -> set[int]:
    """What a whole word inside a name can mean, or a beginning of two letters or more."""
    if len(wanted) < 2:
        return set()
    return {
        index
        for known, found in by_name.items()
        if known.startswith(wanted) or f"-{wanted}-" in f"-{affirmed(known)}-"
        for index in found
    }


def affirmed(name: str) -> str:
    """A name without what it says is not there: "a cup without a stalk" has no stalk. "No stalk" stays as it is."""
    return re.split(r"-(?:without|not|no)-", name)[0]


def _by_word(wanted: str, by_name: Mapping[str, set[int]]) -> tuple[set[int], bool]:
    """The states of which words of several speak, and whether each of two or more words is a state of its own."""
    words = [word for word in wanted.split("-") if len(word) > 2 and word not in SMALL]
    if wanted in words:
        return set(), False
    found = {word: {at for known, of in by_name.items() if word in known.split("-") for at in of} for word in words}
    spoken = {word: states for word, states in found.items() if states}
    if not spoken:
        return set(), False
    in_all = set.intersection(*spoken.values())
    if in_all:
        return in_all, False
    # Of two apart each is what is called so, "blue", before what has it in its name, "shining deep blue".
    return set.union(*(by_name.get(word, states) for word, states in spoken.items())), True


def fold(text: str) -> str:
    """Case, spaces and signs do not matter: `Wings at rest` is `wings-at-rest`."""
    return "-".join(re.split(r"[\s_-]+", text.strip().casefold().replace("'", "").replace("’", "")))


def roots(word: str, endings: tuple[str, ...] = ("ish", "ey", "y")) -> tuple[str, ...]:
    """The words of which this may be a shade, "blue" of "bluish" and "red" of "reddish"; most are no words."""
    stems = [word.removesuffix(ending) for ending in endings if word.endswith(ending)]
    return tuple(
        root
        for stem in stems
        for root in (stem, f"{stem}e", stem[:-1] if stem[-2:-1] == stem[-1:] else stem)
        if len(root) >= SHORTEST
    )


def either_or(names: Sequence[str]) -> str:
    """`A`, `A or B`, `A, B or C`."""
    return " or ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))


def _mean(wanted: str, known: Iterable[str]) -> str:
    close = near_misses(wanted, known)
    return f"did you mean {' or '.join(close)}?" if close else ""


def near_misses(word: str, known: Iterable[str], most: int = 3) -> list[str]:
    """The known words that are a slip away: one letter in three or so, and the same first letter or two swapped.

    Only the nearest are told, those that begin most alike first.
    """
    reach = max(1, min(3, (len(word) + 1) // 3))
    close: list[tuple[int, int, str]] = []
    for other in known:
        if abs(len(other) - len(word)) > reach or min(len(word), len(other)) < 3:
            continue
        slips = _slips(word, other)
        if 0 < slips <= reach and (word[0] == other[0] or _swapped(word, other)):
            shared = next((at for at, (one, two) in enumerate(zip(word, other, strict=False)) if one != two), len(word))
            close.append((slips, -shared, other))
    ranked = sorted(set(close))
    return [other for slips, _, other in ranked[:most] if slips == ranked[0][0]]


def _swapped(word: str, other: str) -> bool:
    return sorted(word) == sorted(other)


def _slips(word: str, other: str) -> int:
    """How many letters must be put in, left out, changed or swapped with their neighbour."""
    before: list[int] = []
    row = list(range(len(other) + 1))
    for i, letter in enumerate(word, 1):
        earlier, before, row = before, row, [i]
        for j, opposite in enumerate(other, 1):
            steps = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (letter != opposite))
            if i > 1 and j > 1 and letter == other[j - 2] and word[i - 2] == opposite:
                steps = min(steps, earlier[j - 2] + 1)
            row.append(steps)
    return row[-1]
