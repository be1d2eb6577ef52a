"""What the line of a visit said, and the reader that goes through its words."""

import re
from collections.abc import Sequence
from datetime import date
from typing import Any, NamedTuple

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.places.place import Place
from reedmace.records import Site, unless_blank
from reedmace.tasks.shared.dates import TypedDate
from reedmace.tasks.shorthand.field_words import Word, slip
from reedmace.tasks.shorthand.place_words import PLACES

# Small words within names of places.
_IN_NAMES = ("a", "an", "and", "ar", "at", "by", "de", "le", "na", "of", "on", "the", "under", "upon", "y", "yr")


# What a second place on the line could be written as.
_PLACES = ("place", "site", "locality")
_OTHER_PLACES = (
    'a visit has one place: each further one begins a line of its own above what was seen there,  @ SU 433 119 "ditch"'
)


class VisitSaid(NamedTuple):
    """A visit as it was written; what was not said is empty or None. `observers` and `company` are names as typed.

    `observers` stand instead of whoever writes, `company` beside them. `notes` are remarks, in their order.
    """

    typed: str = ""
    day: TypedDate | None = None
    start: str | None = None
    end: str | None = None
    place: Place | None = None
    site: Site | None = None
    locality: str = ""
    place_kind: str | None = None
    vice_county: str | None = None
    habitat: str = ""
    habitat_typed: str = ""
    weather: str = ""
    temperature_c: float | None = None
    sun_percent: int | None = None
    wind: tuple[int, int] | None = None
    method: str = ""
    all_damselflies: bool = False
    all_dragonflies: bool = False
    none_seen: bool = False
    exuvia_passes: int | None = None
    permission: str = ""
    observers: tuple[Word, ...] = ()
    company: tuple[Word, ...] = ()
    determiner: Word | None = None
    party: str = ""
    party_size: int | None = None
    notes: tuple[str, ...] = ()

    @property
    def people(self) -> tuple[Word, ...]:
        """Everybody who is named here."""
        return (*self.observers, *self.company, *((self.determiner,) if self.determiner else ()))


class Reader:
    """A visit's line being read, word by word; every fault of the line is kept."""

    def __init__(
        self, key: Key, typed: str, words: tuple[Word, ...], today: date, now: str, sites: Sequence[Site]
    ) -> None:
        self.key, self.typed, self.words, self.today, self.now, self.sites = key, typed, words, today, now, sites
        self.said = VisitSaid(typed)
        self.weather: list[str] = []
        self.breezes: set[int] = set()  # forces that the weather's words stand for
        self.notes: list[str] = []
        self.faults: list[Fault] = []
        self.named = False
        self.behind_place = -1  # the word right behind a place
        self.behind_weather = -1  # and that right behind the weather

    def plain(self, at: int) -> str:
        """The word at `at` as compared; empty beyond the end and for quoted text."""
        return self.words[at].plain if at < len(self.words) and not self.words[at].quoted else ""

    def joined(self, at: int, end: int) -> str:
        """Several words written as one; empty where the line ends before or one of them is in quotes."""
        words = self.words[at:end]
        whole = len(words) == end - at and not any(word.quoted for word in words)
        return "".join(word.plain for word in words) if whole else ""

    def fault(self, code: str, message: str, hint: str, first: Word, last: Word | None = None) -> None:
        """Keep a fault, with carets from one word to another."""
        told = slip(code, message, hint, self.typed, first.start, (last or first).end)
        if told not in self.faults:  # a place and its name said twice are one slip
            self.faults.append(told)

    def put(self, word: Word, **values: Any) -> None:
        """Take what was said, or refuse it where another value stands already."""
        for name, value in values.items():
            before = getattr(self.said, name)
            if before not in (None, "", False, ()) and before != value:
                hint = _OTHER_PLACES if name in _PLACES else "say it once"
                self.fault("said-twice", "This was said before on this line, otherwise.", hint, word)
                return
        self.said = self.said._replace(**values)

    def name_run(self, at: int) -> tuple[str, int]:
        """Words from `at` on that could be a name of a place without its quotes, as one, and where they end."""
        end = at
        while end < len(self.words) and not self.words[end].quoted:
            bare = self.words[end].text.strip("()[]'‘’«».")
            gap = self.typed[self.words[end - 1].end : self.words[end].start] if end > at else ""
            inner = end > at and (bare in _IN_NAMES or bare in PLACES)
            if not (bare[:1].isupper() or inner) or any(sign in gap for sign in ",;") or re.search(r"[0-9]", bare):
                break
            end += 1
        while end > at and self.words[end - 1].text in _IN_NAMES:
            end -= 1
        said = self.typed[self.words[at].start : self.words[end - 1].end] if end > at else ""
        return said.strip("()[]'‘’«»"), end

    def quoted(self, word: Word) -> None:
        """Take text in quotes: the name of the place, then remarks."""
        if not unless_blank(word.text):
            return
        if self.named:
            self.notes.append(word.text)
        else:
            self.named = True
            self.put(word, locality=word.text)
