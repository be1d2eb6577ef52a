"""The words of a key, to be asked about one by one: what they mean, what they are a slip for, what is a name."""

from __future__ import annotations

import re
from itertools import groupby

from reedmace.keys.answers import Answer
from reedmace.keys.bare_words import Meant, words_meant
from reedmace.keys.hints import STAGES, singular, words_of
from reedmace.keys.matching import SHORTEST, character_names, roots, state_names
from reedmace.keys.model import EFFORTS, Key
from reedmace.keys.name_fits import all_names
from reedmace.keys.names import key_words
from reedmace.keys.spoken_words import JOINING, SEASONS

LONG = 6  # letters of a word that may be read with one letter off: shorter ones are often words of their own
# What has a colour of its own, and does not give it to the whole insect: "blue spots".
_MARKS = {"spot", "stripe", "band", "line", "ring", "mark", "dot", "triangle", "patch", "dash", "streak", "bar", "tip"}
_MARKS |= {"end", "edge", "vein", "head", "feeler", "antennae", "antenna", "neck", "jaw", "hair", "blotch", "shape"}


class Words:
    """The words of a key, to be asked about one by one."""

    def __init__(self, key: Key) -> None:
        self.key = key
        self.slips: dict[str, str] = {}
        self._meant: dict[str, Meant] = {}
        names = [name for one in key.characters for name in character_names(one)]
        names += [name for one in key.characters for state in one.states for name in state_names(state)]
        self.known = {singular(word) for name in names for word in re.split(r"[^\w]+", name) if word}
        self.of_parts = {word for one in key.characters for word in words_of(one)}
        plain = [name for one in key.characters for name in (one.id, *one.aliases)]
        plain += [name for one in key.characters for state in one.states for name in state_names(state)]
        self.known_as_marks = {singular(word) for name in plain for word in re.split(r"[^\w]+", name) if word}
        stages = {word for words in STAGES.values() for said in words for word in said.split()}
        self.of_names = key_words(key) - stages
        full = {_plain(name) for one in key.species for name in all_names(one)}
        self.full_names = {" ".join(self.parted(word) or word for word in name.split()) for name in full}
        self.kinds = set(re.findall("[a-z]+", key.classification["title"].casefold())) - JOINING - stages
        self.full_names |= {name.rpartition(" ")[0] for name in self.full_names if name.split()[-1] in self.kinds}

    def read(self, word: str) -> str:
        """The word as the key knows it: "greeny" is green, and "yelow" a slip for yellow, which is told."""
        if singular(word) in self.known or not word.isalpha():
            return word
        if root := self.parted(word) or self.root(word):
            return root
        if singular(word) in self.of_names:
            return word
        near = [one for one in self.known if _once(one) == _once(word)] if len(word) > SHORTEST else []
        if len(word) >= LONG and not near:
            near = [one for one in self.known if one[0] == word[0] and one_off(word, one)]
        if len(near) != 1:
            return word
        self.slips[word] = near[0]
        return near[0]

    def parted(self, word: str) -> str:
        """The part that it is called after, "eyed" the eye; else nothing."""
        return next((form for form in _parted(word) if form in self.of_parts), "")

    def root(self, word: str) -> str:
        """The known word of which this is a shade: of "greeny" green, of "reddish" red; else nothing."""
        return next((root for root in roots(word) if root in self.known), "")

    def has_part(self, word: str) -> bool:
        """True for what has a colour or shape of its own: eyes, spots."""
        if singular(word) in _MARKS or word.isdecimal():
            return True
        if self.named(word) or singular(word) not in self.of_parts:
            return False
        # "front" is the front of the insect, though there is a mark with a state called so that is seen close.
        looks = EFFORTS[: EFFORTS.index("look") + 1]
        return not any(self.key.characters[one.character].effort in looks for one in self.exact(word))

    def named(self, word: str) -> bool:
        """True for a word that stands in names and says nothing of what was seen: hawker, emperor."""
        forms = {singular(word), *_parted(word)}
        if word in SEASONS:
            return False
        return singular(word) in self.of_names and not forms & self.known_as_marks and not self.exact(word)

    def meant(self, said: str) -> Meant:
        """What words could mean."""
        if said not in self._meant:
            self._meant[said] = words_meant(self.key, said)
        return self._meant[said]

    def exact(self, said: str) -> tuple[Answer, ...]:
        """The answers that are called or listed so; none that only has the words in its name."""
        meant = self.meant(said)
        return meant.answers[: meant.exact]


def _plain(name: str) -> str:
    return " ".join(re.findall(r"[^\s_-]+", name.casefold().replace("'", "").replace("’", "")))


def _parted(word: str) -> tuple[str, ...]:
    """What has a part is called after it: of "eyed" the eye, of "legged" the leg, of "bodied" the body."""
    return (word[:-1], word[:-2], word[:-3], f"{word[:-3]}y") if word.endswith("ed") and len(word) > SHORTEST else ()


def _once(word: str) -> str:
    """The word with no letter twice in a row: "yelow" and "greeen" differ from what they should be in that alone."""
    return "".join(letter for letter, _ in groupby(word))


def one_off(word: str, other: str) -> bool:
    """One letter more, less or swapped with its neighbour; in a longer word another letter, too."""
    shorter, longer = sorted((word, other), key=len)
    if len(longer) - len(shorter) == 1:
        return any(longer[:at] + longer[at + 1 :] == shorter for at in range(len(longer)))
    wrong = [at for at, letter in enumerate(word) if other[at : at + 1] != letter]
    if len(word) != len(other) or len(wrong) > 2:
        return False
    return sorted(word) == sorted(other) or (len(wrong) == 1 and len(word) > LONG)
