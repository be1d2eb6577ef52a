"""A look in somebody's own words, "red one sitting on the path": what its parts could mean, and what stays unread.

Nothing here is taken for an answer: whoever said it chooses. What was denied is offered only where the key has a state
for there being nothing; names and sexes are no marks.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from reedmace.keys.answers import MOST_WORDS, Answer, split_doubt
from reedmace.keys.hints import singular, words_of
from reedmace.keys.matching import affirmed, roots, state_names
from reedmace.keys.model import EFFORTS, Character, Key
from reedmace.keys.spoken_parts import NAME, SEX, Part, parts_of
from reedmace.keys.spoken_vocabulary import Words
from reedmace.keys.spoken_words import APOSTROPHES, COMPARED, DENIED, JOINING, SEEN, UNSEEN, stretches

CHOICES = 6  # answers offered at a time, or one for each part where there are more


class Heard(NamedTuple):
    """What a line could mean: answers, questions that it names, and the words that mean nothing here.

    Each answer is `typed` in the words that it is taken from. `left` was denied, compared or not seen, `names` are
    words of names; `sexed` where a sex was said; `slips` are words read as others: (typed, read). `hidden` are parts
    that could mean still more, with how much.
    """

    answers: tuple[Answer, ...] = ()
    questions: tuple[Character, ...] = ()
    unread: tuple[str, ...] = ()
    left: tuple[str, ...] = ()
    names: tuple[str, ...] = ()
    sexed: bool = False
    slips: tuple[tuple[str, str], ...] = ()
    hidden: tuple[tuple[str, int], ...] = ()

    @property
    def parts(self) -> tuple[str, ...]:
        """The parts of the line that could be answers, in their order."""
        return tuple(dict.fromkeys(answer.typed for answer in self.answers))


def heard(key: Key, typed: str, aside: frozenset[str] = frozenset(), order: tuple[int, ...] = ()) -> Heard:
    """The parts of a line that mean something, best first for each.

    `aside` are words already understood; of meanings seen alike those of characters that come first in `order` do too.
    """
    plain, unsure = split_doubt(typed) if re.search(r"[~?]\s*$", typed) else (typed, False)
    if len(plain.split()) > MOST_WORDS:
        return Heard()
    words = Words(key)
    found: list[Part] = []
    beside: list[frozenset[str]] = []
    for stretch in stretches(plain, aside):
        read = parts_of(words, stretch._replace(unsure=stretch.unsure or unsure))
        found += read
        beside += [frozenset(map(singular, stretch.words)) for part in read if part.meant]
    parts = [part for part in found if part.meant]
    answers, hidden = _chosen(key, parts, beside, order)
    questions = dict.fromkeys(question for part in found for question in part.questions)
    plainly = [part for part in found if not part.meant and not part.questions and part.said not in JOINING]
    spelt = {
        re.sub(APOSTROPHES, "", word): word for word in re.findall(rf"[^\W_]+{APOSTROPHES}[^\W_]+", plain.casefold())
    }
    return Heard(
        answers,
        tuple(key.characters[index] for index in questions),
        tuple(part.said for part in found if part.unread or (part in plainly and part.kind == SEEN)),
        tuple(
            " ".join(spelt.get(word, word) for word in part.said.split())
            for part in found
            if part.kind in (DENIED, UNSEEN, COMPARED) and not part.meant
        ),
        tuple(dict.fromkeys(part.said for part in found if part.kind == NAME)),
        any(part.kind == SEX for part in found),
        tuple(words.slips.items()),
        hidden,
    )


def _chosen(
    key: Key, parts: list[Part], beside: list[frozenset[str]], order: tuple[int, ...]
) -> tuple[tuple[Answer, ...], tuple[tuple[str, int], ...]]:
    """As many meanings for each part, one at least, and the parts that have more of them, with how many.

    First comes what explains most of the words of the part, then of those it stands `beside`; then what is called so,
    and what is seen most easily.
    """

    def rank(answer: Answer, part: frozenset[str], near: frozenset[str]) -> tuple[int, ...]:
        character = key.characters[answer.character]
        at = order.index(answer.character) if answer.character in order else len(order)
        own = _words_of(character, answer.states)
        whole = min(_more(character, state, part) for state in answer.states)
        easy = EFFORTS.index(character.effort)
        return -_shared(part, own | words_of(character)), -_shared(near, own), whole, easy, at

    each = max(1, CHOICES // max(1, len(parts)))
    chosen: dict[tuple[int, tuple[int, ...]], Answer] = {}
    hidden: dict[str, int] = {}
    for part, near in zip(parts, beside, strict=True):
        said = frozenset(map(singular, part.said.split()))
        ranks = [rank(answer, said, near) for answer in part.meant]
        ranked = [part.meant[at] for at in sorted(range(len(ranks)), key=ranks.__getitem__)]
        for answer in ranked[:each]:
            chosen.setdefault((answer.character, answer.states), answer)
        more = sum((answer.character, answer.states) not in chosen for answer in ranked)
        if more:
            hidden[part.said] = more
    return tuple(chosen.values()), tuple(hidden.items())


def _shared(said: frozenset[str], explained: frozenset[str]) -> int:
    """How many of the words said are explained, a shade by its colour."""
    return sum(not explained.isdisjoint((word, *roots(word, ("ish",)))) for word in said)


def _words_of(character: Character, states: tuple[int, ...]) -> frozenset[str]:
    """The words that each of these states has."""
    return frozenset.intersection(*(_of(state_names(character.states[state])) for state in states))


def _more(character: Character, state: int, said: frozenset[str]) -> int:
    """1 where each name of a state has a word that was not said, "base and tip clear" for "clear wings"; else 0."""
    known = words_of(character).union(said, *(roots(word, ("ish",)) for word in said))
    return int(all(_of([name]) - known for name in state_names(character.states[state])))


def _of(names: list[str]) -> frozenset[str]:
    return frozenset(singular(word) for name in names for word in affirmed(name).split("-") if word)
