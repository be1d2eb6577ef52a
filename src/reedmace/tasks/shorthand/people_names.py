"""People's names within a line: where each begins and ends, though the words behind it may have capitals too.

A phone begins words with capitals. A word that the line knows otherwise (weather, a day, a vice-county, a word of the
shorthand) ends a name that has a surname; where it could be a surname itself, the line says both and is refused.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import VOCABULARY, Word, slip

# Words within a name that have no capital, where one with a capital follows.
_PARTICLES = frozenset(
    ("van", "de", "der", "den", "von", "zu", "du", "le", "la", "di", "da", "del", "della", "dos", "ap")
)
_ALWAYS = frozenset(
    (
        *("by", "with", "det", "observer", "observers", "recorder", "party", "group", "visit", "vc", "and"),
        *("from", "to", "at", "on", "in", "of", "until", "till", "til", "now", "incl", "including", "plus"),
        *("all", "none", "nil", "complete", "permission", "permitted", "method", "habitat", "remark", "remarks"),
        *("locality", "weather", "exact", "map", "mapped", "centroid"),
    )
)
# Words of notes that are surnames too, and those that are first names.
_SURNAMES = frozenset(
    (
        *("young", "tan", "hand", "sure", "wheel", "bright", "still", "rain", "cool", "cold", "mist", "fog"),
        *("sun", "cloud", "north", "south", "east", "west", "march", "april", "may", "june", "august"),
    )
)
_FIRST_NAMES = frozenset(("may", "june", "april", "august", "jan", "clare", "ross"))
_STRENGTHS = frozenset(("light", "slight", "gentle", "moderate", "fresh", "strong"))
_MEASURED = frozenset(("wind", "winds", "force", "beaufort", "temp", "temperature", "sun", "cloud", "breeze", "calm"))

_AND = ("and", "&", "+")
# What else a word may be: nothing, a word that is hardly a surname, one that is a surname too, surely no name here.
_NAME, _WORD, _BOTH, _OTHER = range(4)


class Named(NamedTuple):
    """People's names, each as one word of the line, and where they end.

    `doubtful` could be a part of the last name (`whole` then is that name with it) or a word of its own.
    """

    names: tuple[Word, ...]
    end: int
    doubtful: Word | None = None
    whole: str = ""


def names_after(
    words: tuple[Word, ...],
    at: int,
    *,
    alone: bool = False,
    of_visit: bool = False,
    habitats: Collection[str] = (),
) -> Named:
    """People's names from `at` on.

    A name is text in quotes, or words that begin with a capital; "and", "&" and a comma part two names. Quotes right
    behind a name are no further one. `alone` says that the words are names and nothing else, `of_visit` that they
    stand on the line of a visit, where `habitats` are said too.
    """
    reading = _Names(words, alone, of_visit, habitats)
    while at < len(words) and not reading.over and (step := reading.step(at)):
        at += step
    reading.close()
    return Named(tuple(reading.found), at, reading.doubtful, reading.whole)


def name_doubtful(named: Named, begins: str, typed: str) -> Fault:
    """The fault of a word that could be a part of a name; `begins` is what the names stand behind."""
    word = named.doubtful
    assert word is not None
    more = named.whole == word.text
    one = "one more person" if more else "a part of the name before it"
    quoted = f'"{word.text}"' if more else f'{begins} "{named.whole}"'
    return slip(
        "name-or-word",
        f'"{word.text}" could be {one}, or a word of its own.',
        f"for a name write it in quotes:  {quoted}  ; else write  {word.text}  before  {begins}",
        typed,
        word.start,
        word.end,
    )


class _Names:
    """Names being read."""

    def __init__(self, words: tuple[Word, ...], alone: bool, of_visit: bool, habitats: Collection[str]) -> None:
        self.words, self.alone, self.of_visit, self.habitats = words, alone, of_visit, habitats
        self.found: list[Word] = []
        self.parts: list[Word] = []
        self.joined = True  # the next name stands behind "by" or "and", not behind a comma
        self.over = False
        self.doubtful: Word | None = None
        self.whole = ""

    def step(self, at: int) -> int:
        """Take what stands at `at`; 0 where the names end before it."""
        word = self.words[at]
        last = self.parts[-1] if self.parts else self.found[-1] if self.found else None
        if word.quoted:
            apart = last is None or self.words[at - 1].plain in _AND or word.start - last.end > 1
            if not apart or (last is not None and any(sign.isdigit() for sign in word.text)):
                return 0
            self.close()
            self.found.append(word)
            self.joined = False
            return 1
        if word.plain in _AND and last is not None and at + 1 < len(self.words):
            following = self.words[at + 1]
            if not following.quoted and (not self._begins(at + 1) or self._other(at + 1) in (_WORD, _OTHER)):
                return 0
            self.close()
            self.joined = True
            return 1
        if not self._begins(at):
            return 0
        comma = not self.joined and last is not None and word.start - last.end > 1
        if comma:
            self.close()
        return self._take(at, comma=comma)

    def close(self) -> None:
        """End the name that is being read."""
        if self.parts:
            text = " ".join(part.text for part in self.parts)
            stop = text.endswith(".") and len(self.parts[-1].text) > 3 and "." not in self.parts[-1].text[:-1]
            text = text[:-1] if stop and len(self.parts) > 1 else text  # the stop of a sentence, and no initial's
            end = self.parts[0].start + len(text) if len(self.parts) == 1 else self.parts[-1].end - stop
            self.found.append(Word(text, text.casefold(), self.parts[0].start, end))
            self.parts.clear()

    def _take(self, at: int, *, comma: bool) -> int:
        word = self.words[at]
        if _possessive(word):
            if self._plain(at + 1) in ("party", "group"):  # `Ben Sallow's party of 12`
                bare = word.text[:-2]
                self.parts.append(Word(bare, bare.casefold(), word.start, word.end - 2))
                self.over = True
                return 1
            return 0
        begun = sum(part.text[:1].isupper() for part in self.parts)
        if not begun and not comma and not self.joined and self.found:
            begun = 2  # right behind quotes, which are a whole name
        sort = self._other(at)
        if begun == 0 and comma and sort == _BOTH and (word.plain in _FIRST_NAMES or self._goes_on(at)):
            sort = _NAME
        if sort == _OTHER or (sort == _WORD and begun != 1):
            return 0
        if (sort == _WORD and begun == 1) or (sort == _BOTH and (begun > 1 or comma)):
            before = self.parts or (self.found[-1:] if begun else [])
            self.doubtful = word
            self.whole = " ".join([*(part.text for part in before), word.text])
            return 0
        self.parts.append(word)
        self.joined = False
        return 1

    def _plain(self, at: int) -> str:
        """The word at `at` as compared, without the stop of a short form; empty for quotes and beyond the end."""
        word = self.words[at] if at < len(self.words) else None
        return "" if word is None or word.quoted else word.plain.rstrip(".:")

    def _begins(self, at: int) -> bool:
        """Whether a word has the capital of a name, or is a particle before one that has it."""
        while self._plain(at) in _PARTICLES and self.words[at].text.islower():
            at += 1
            if at >= len(self.words) or self.words[at].start - self.words[at - 1].end > 1:
                return False
            if self._capital(at):
                return self.alone or self._other(at) in (_NAME, _BOTH)
        return self._capital(at)

    def _capital(self, at: int) -> bool:
        if at >= len(self.words) or self.words[at].quoted:
            return False
        text = self.words[at].text
        begins = text[:1].isupper() or re.match(r"[dl]['’][A-Z]", text) is not None
        return begins and not any(sign.isdigit() for sign in text)

    def _other(self, at: int) -> int:
        """What else the word at `at` may be than a part of a name."""
        plain, word = self._plain(at), self.words[at]
        if self.alone or word.text[:1].islower():
            return _NAME
        if plain in _ALWAYS:
            return _OTHER
        if len(plain) == 1 or (word.text.isupper() and len(plain) < 4 and self._initials()):
            return self._letter(at)
        if self._begins_more(at):
            return _OTHER
        if plain in VOCABULARY and not self.of_visit:
            return _BOTH if plain in _SURNAMES else _WORD
        if plain in VOCABULARY:  # the line of a visit does not know it: refused behind a surname
            return _BOTH
        return self._of_visit(at)

    def _goes_on(self, at: int) -> bool:
        """Whether more of a name stands right behind the word."""
        near = at + 1 < len(self.words) and self.words[at + 1].start - self.words[at].end == 1
        return near and self._begins(at + 1) and self._other(at + 1) == _NAME

    def _initials(self) -> bool:
        """Whether letters in capitals stand where a name is begun, as in `by AM, EM`."""
        before = self.found[-1] if self.found else None
        return not self.parts and (self.joined or (before is not None and before.text.isupper()))

    def _letter(self, at: int) -> int:
        """A letter or two: an initial of a name, or a short form of the line."""
        word = self.words[at]
        if self._plain(at) in ("n", "s", "e", "w") and self._wind_behind(at):
            return _OTHER
        if self.of_visit or self.joined or len(self._plain(at)) > 1 or self._plain(at) not in VOCABULARY:
            return _NAME
        if len(self.parts) > 1 or at + 1 >= len(self.words):
            return _WORD
        following = self.words[at + 1]
        close = following.start - word.end == 1 and self._capital(at + 1) and self._plain(at + 1) not in _ALWAYS
        known = self._plain(at + 1) in VOCABULARY or len(self._plain(at + 1)) == 1
        return _NAME if close and not known else _WORD

    def _wind_behind(self, at: int) -> bool:
        pattern = r"(?:f|bf|bft|force|wind)?[0-9]+(?:[-–][0-9]+)?|winds?|breeze"
        return re.fullmatch(pattern, self._plain(at + 1), re.ASCII) is not None

    def _begins_more(self, at: int) -> bool:
        """Whether the words behind tell that it is no name: `Sunday 12`, `May 2026`, `SW F2`, `South Hants`."""
        from reedmace.keys.seasons import month_of
        from reedmace.tasks.shared.dates import weekday_of
        from reedmace.tasks.shorthand.visit_weather import FROM

        plain, following, then = (self._plain(one) for one in (at, at + 1, at + 2))
        figures = following[:1].isdigit()
        if figures and (plain in _MEASURED or weekday_of(plain) is not None):
            return True
        if month_of(plain):
            year = r"[12][0-9]{3}"
            day = re.fullmatch(r"[0-9]{1,2}(?:st|nd|rd|th)?", following, re.ASCII) is not None
            return re.fullmatch(year, following) is not None or (day and not month_of(then))
        if plain in FROM and self._wind_behind(at):
            return True
        if plain in _STRENGTHS:
            return any(one in ("wind", "winds", "breeze", "air", "airs") for one in (following, then))
        if (plain, following) == ("full", "sun") or (plain in _MEASURED and following in FROM):
            return True
        return self._run_read(at, 2)

    def _run_read(self, at: int, least: int) -> bool:
        """Whether words from `at` on, `least` of them or more, are a vice-county or a habitat."""
        from reedmace.places.vice_counties import find_vice_county

        for end in range(min(len(self.words), at + 5), at + least - 1, -1):
            run = self.words[at:end]
            text = " ".join(word.text for word in run)
            if any(word.quoted or word.plain in _AND for word in run):
                continue
            if text.casefold() in self.habitats:
                return True
            if re.fullmatch(r"[^\W\d_](?:[^\W\d_]|[ .'’-])*", text):
                read = find_vice_county(text)
                if not isinstance(read, Fault) or (end - at == 1 and read.code == "vice-county-ambiguous"):
                    return True
        return False

    def _of_visit(self, at: int) -> int:
        """A word of the line of a visit: its weather, day, method, place."""
        from reedmace.keys.seasons import month_of
        from reedmace.tasks.shared.dates import weekday_of
        from reedmace.tasks.shorthand.visit_how import METHODS
        from reedmace.tasks.shorthand.visit_weather import FROM, SKIES

        plain = self._plain(at)
        known = plain in SKIES or plain in METHODS or plain in FROM or plain in _MEASURED
        if known or weekday_of(plain) is not None or month_of(plain):
            return _BOTH if plain in _SURNAMES else _WORD
        return _BOTH if self._run_read(at, 1) else _NAME


def _possessive(word: Word) -> bool:
    return word.text.endswith(("'s", "’s")) and len(word.text) > 3
