"""A look in somebody's own words, "red one sitting on the path": what its parts could mean, and what stays unread.

Nothing here is taken for an answer: whoever said it chooses. What was denied is offered only where the key has a state
for there being nothing; names and sexes are no marks.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from reedmace.keys.answers import MOST_WORDS, Answer, split_doubt
from reedmace.keys.model import EFFORTS, Character, Key
from reedmace.keys.spoken_parts import NAME, SEX, Part, parts_of
from reedmace.keys.spoken_vocabulary import Words
from reedmace.keys.spoken_words import APOSTROPHES, COMPARED, DENIED, JOINING, SEEN, UNSEEN, stretches

CHOICES = 6  # answers offered at a time, or one for each part where there are more


class Heard(NamedTuple):
    """What a line could mean: answers, questions that it names, and the words that mean nothing here.

    Each answer is `typed` in the words that it is taken from. `left` was denied, compared or not seen, `names` are
    words of names; `sexed` where a sex was said; `slips` are words read as others: (typed, read).
    """

    answers: tuple[Answer, ...] = ()
    questions: tuple[Character, ...] = ()
    unread: tuple[str, ...] = ()
    left: tuple[str, ...] = ()
    names: tuple[str, ...] = ()
    sexed: bool = False
    slips: tuple[tuple[str, str], ...] = ()

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
    for stretch in stretches(plain, aside):
        found += parts_of(words, stretch._replace(unsure=stretch.unsure or unsure))
    parts = [part for part in found if part.meant]
    questions = dict.fromkeys(question for part in found for question in part.questions)
    plainly = [part for part in found if not part.meant and not part.questions and part.said not in JOINING]
    spelt = {
        re.sub(APOSTROPHES, "", word): word for word in re.findall(rf"[^\W_]+{APOSTROPHES}[^\W_]+", plain.casefold())
    }
    return Heard(
        _chosen(key, parts, order),
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
    )


def _chosen(key: Key, parts: list[Part], order: tuple[int, ...]) -> tuple[Answer, ...]:
    """As many meanings for each part, what is seen most easily first; the first of each part at least."""

    def rank(answer: Answer) -> tuple[int, int]:
        at = order.index(answer.character) if answer.character in order else len(order)
        return EFFORTS.index(key.characters[answer.character].effort), at

    each = max(1, CHOICES // max(1, len(parts)))
    chosen: dict[tuple[int, tuple[int, ...]], Answer] = {}
    for part in parts:
        for answer in sorted(part.meant, key=rank)[:each]:
            chosen.setdefault((answer.character, answer.states), answer)
    return tuple(chosen.values())
