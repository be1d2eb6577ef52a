"""The words of one line gone through one by one: each is taken for what it says, or left as a part of the name."""

import re

from reedmace.faults import Fault
from reedmace.places.place import Place
from reedmace.tasks.shorthand.field_words import FILE_NAME, PAIRING, SEXES, VOCABULARY, Word, clock, is_file, slip
from reedmace.tasks.shorthand.half_of_day import time_unclear
from reedmace.tasks.shorthand.line_asides import NOON, TEN, aside_told, near_told, person_or_place, photos_counted
from reedmace.tasks.shorthand.line_cut import DASH
from reedmace.tasks.shorthand.line_doubts import Doubted, doubt_last, doubts_ahead, doubts_behind, more_in_doubt
from reedmace.tasks.shorthand.line_signs import sign_told
from reedmace.tasks.shorthand.line_times import FOUR_FIGURES, count_or_time, time_after_at
from reedmace.tasks.shorthand.number_parts import count_parts
from reedmace.tasks.shorthand.people_names import name_doubtful, names_after
from reedmace.tasks.shorthand.person_unclear import person_unclear
from reedmace.tasks.shorthand.places_typed import place_at
from reedmace.tasks.shorthand.tallies import Part, Tally

_ALL = (["all"], ["both"])  # before what is said of all that were counted


class Reading:
    """A line being read: what has been said so far."""

    def __init__(self, typed: str, words: tuple[Word, ...], as_name: Word | None, needed: bool) -> None:
        self.typed = typed
        self.needed = needed
        self.words = words
        self.as_name = as_name
        self.parts: list[Part] = []
        self.said: dict[str, str] = {}
        self.quoted: list[str] = []
        self.photos: list[str] = []
        self.left: list[Word] = []
        self.doubts: list[str] = []
        self.opens: list[int] = []  # where "incl", a colon or a dash says that what follows is among it
        self.dashes: list[int] = []
        self.time: str | None = None
        self.place: Place | None = None
        self.locality = ""
        self.people: dict[str, tuple[Word, ...]] = {}

    def step(self, at: int) -> int | Fault:
        """Take the word at `at`, and what belongs to it; gives where the next one begins."""
        word = self.words[at]
        following = self.words[at + 1] if at + 1 < len(self.words) else None
        if word.quoted:
            self.quoted.append(word.text)
        elif word.plain == "@":
            # @ 11:40 is when, and no place; so is @ 2.30, for no latitude here is as low as an hour.
            when = following is not None and not following.quoted and clock(following.plain)
            if when or (following is not None and re.fullmatch(FOUR_FIGURES, following.plain, re.ASCII)):
                after = time_after_at(following, self.typed)
                assert after is not None
                return after if isinstance(after, Fault) else self._once("time", after, word) or at + 2
            return self._place(at)
        elif (end := self._joint(word, following, at)) is not None:
            return end
        elif word.plain.rstrip(":.") in ("by", "with", "det") and following and self._person(word, following):
            return self._people(at)
        elif word == self.as_name:
            self.left.append(word)
        elif (time := clock(word.plain)) is not None:
            return time_unclear(word, self.typed) or self._once("time", time, word) or at + 1
        elif word.plain == "at" and (after := time_after_at(following, self.typed)) is not None:
            return after if isinstance(after, Fault) else self._once("time", after, word) or at + 2
        elif word.plain == "at" and (end := self._spot(at)):
            return end
        elif (counted := self._numbered(word, following, at)) is not None:
            return counted
        else:
            return self._worded(word, following, at)
        return at + 1

    def _numbered(self, word: Word, following: Word | None, at: int) -> int | Fault | None:
        """A number: how many, or one that counts something else."""
        if word.plain == "12" and following and following.plain in NOON:
            return self._once("time", "12:00", word) or at + 2
        if photos_counted(self.words, at, self.typed) and following:
            self.quoted.append(self.typed[word.start : following.end])
            return at + 1
        told = aside_told(self.words, at, self.typed)
        if told is None and self.needed:
            told = count_or_time(self.words, at, self.typed)
        counts = count_parts(self.words, at, self.typed) if told is None else told
        if counts is None or isinstance(counts, Fault):
            return counts
        self.parts += counts[0]
        return counts[1]

    def _worded(self, word: Word, following: Word | None, at: int) -> int | Fault:
        if "." in word.text and re.fullmatch(FILE_NAME, word.text, re.IGNORECASE | re.ASCII):
            self._photo(re.sub(r"(?i)^photo[=:]", "", word.text))
        elif len(each := re.split("[/+&]", word.plain)) > 1 and all(part in SEXES for part in each):  # m/f, m+f
            self.parts += [Part("sex", SEXES[part], word) for part in each]
        elif word.plain in VOCABULARY:
            return self._word(word, following, at)
        elif (told := sign_told(self.words, at, self.typed)) is not None:
            return told
        else:
            self.left.append(word)
        return at + 1

    def _word(self, word: Word, following: Word | None, at: int) -> int | Fault:
        kind, meaning = VOCABULARY[word.plain]
        if word.plain in TEN and (told := TEN[word.plain](self.words, at, self.typed)) is not None:
            return told
        if kind in ("sex", "pairs", "pair", "behaviour", "stage"):
            before = [one.plain for one in self.words[max(0, at - 2) : at] if not one.quoted]
            within = before[-1:] == ["in"] or word.plain in PAIRING
            of_all = before[-1:] in _ALL or before in (["all", "in"], ["both", "in"])
            self.parts.append(Part(kind, meaning, word, within=within, of_all=of_all))
        elif kind in ("rest", "whole"):
            self._one_single(word)
            self.parts.append(Part(kind, meaning, word))
        elif kind == "present":
            self.parts.append(Part("count", Tally(None, meaning, word.text), word))
        elif kind == "evidence":
            if meaning == "photo" and following and following.quoted and is_file(following.text):
                self._photo(following.text)
                return self._once("evidence", meaning, word) or at + 2
            return self._once("evidence", meaning, word) or at + 1
        elif kind == "qualifier":
            if (near := near_told(word, following, self.typed)) is not None:
                return near
            self.said["certainty"] = "uncertain"
            return self._once("qualifier", meaning, word) or at + 1
        elif kind == "certainty":
            return self._certainty(word, meaning, at)
        elif kind in ("pairs-among", "pairs-beside"):
            self.opens += [word.start] if kind == "pairs-among" else []
            return self._once("pairs", kind, word) or at + 1
        return at + 1

    def _one_single(self, word: Word) -> None:
        """`2 pairs, single` and `single male`: one, where no number stands before it."""
        before = self.parts[-1] if self.parts else None
        number = before is not None and isinstance(before.value, Tally) and before.value.kind != "mark"
        counted = number and before is not None and not self.typed[before.word.end : word.start].strip()
        if word.plain == "single" and not counted:
            self.parts.append(Part("count", Tally(1, "exact", word.text), word))

    def _certainty(self, word: Word, meaning: str, at: int) -> int | Fault:
        """A doubt about the name, or about the sex, stage or number that it stands by."""
        end = at + 1
        before = self.words[at - 1] if at else None
        if before is not None and (before.plain, before.end) == (word.plain, word.start):
            return end  # 2m??
        if doubts_ahead(self.words, at, self.left, self.typed):
            stepped = self.step(end)
            if isinstance(stepped, Fault):
                return stepped
            end = stepped
        elif (told := more_in_doubt(self.words, at, self.parts, self.typed)) is not None:
            return told
        elif not doubts_behind(self.words, at, self.parts, self.typed):
            return self._once("certainty", meaning, word) or end
        doubted = doubt_last(self.parts, word.start, self.words[end - 1].end, self.typed)
        if not isinstance(doubted, Doubted):
            return doubted
        self.doubts.append(doubted.what)
        self.quoted.append(doubted.said)
        return end

    def _joint(self, word: Word, following: Word | None, at: int) -> int | Fault | None:
        """What says that words are of those before them: a colon, a dash, `of which`, `all feeding`; and `in all`."""
        then = following.plain if following and not following.quoted else ""
        if word.plain in (":", DASH):
            self.opens.append(word.start)
            self.dashes += [word.start] if word.plain == DASH else []
            return at + 1
        if word.plain == "of" and then in ("which", "whom", "them", "these", "those"):
            last = self.parts[-1] if self.parts and self.parts[-1].kind == "count" else None
            # "3 of them" begins with its number.
            ahead = last is not None and not self.typed[last.word.end : word.start].strip()
            self.opens.append(last.word.start - 1 if last is not None and ahead else word.start)
            return self._once("pairs", "pairs-among", word) or at + 2
        if word.plain == "or" and then in SEXES and following is not None and self._sexed(at):
            # 1 m or f: one of a sex that was not seen.
            doubted = doubt_last(self.parts, word.start, following.end, self.typed)
            if not isinstance(doubted, Doubted):
                return doubted
            self.doubts.append(doubted.what)
            self.quoted.append(doubted.said)
            return at + 2
        if word.plain == "just" and then in ("emerged", "emerging"):
            return at + 1
        if word.plain == "all" and at and self.words[at - 1].plain == "in":
            self.parts.append(Part("whole", word.text, word))
            return at + 1
        sorts = ("sex", "stage", "behaviour", "pairs", "pair")
        two = word.plain == "all" or any(isinstance(part.value, Tally) and part.value.count == 2 for part in self.parts)
        said = two and [word.plain] in _ALL and (VOCABULARY.get(then, ("",))[0] in sorts or then == "in")
        return at + 1 if said else None

    def _sexed(self, at: int) -> bool:
        """Whether the part right before the word at `at` says a sex."""
        part = self.parts[-1] if self.parts else None
        if part is None or part.word.end != self.words[at - 1].end:
            return False
        return part.kind == "sex" or (isinstance(part.value, Tally) and part.value.sex is not None)

    def _once(self, what: str, meaning: str, word: Word) -> Fault | None:
        before = self.said.setdefault(what, meaning)
        if before == meaning:
            if what == "time":
                self.time = meaning
            return None
        return slip(
            "said-twice",
            f"This line says both {before} and {meaning}.",
            "say one of them, or write a line for each",
            self.typed,
            word.start,
            word.end,
        )

    def _photo(self, path: str) -> None:
        self.photos.append(path)

    def _person(self, word: Word, following: Word) -> bool:
        # "with" joins other words too ("with photo"); before a capital or a quote it is company.
        return following.quoted or following.text[:1].isupper() or word.plain.rstrip(":.") != "with"

    def _people(self, at: int) -> int | Fault:
        word = self.words[at]
        named = names_after(self.words, at + 1)
        if named.doubtful is not None:
            return name_doubtful(named, word.text, self.typed)
        names = named.names
        if not names or (word.plain.startswith("det") and len(names) > 1):
            return slip(
                "person-not-read",
                f'After "{word.text}" comes the name of a person.',
                f'write it with capitals or in quotes:  {word.text} "Ada Marsh"',
                self.typed,
                word.start,
                word.end,
            )
        if (told := person_or_place(self.words, names, named.end, word, self.typed)) is not None:
            return told
        if (unclear := person_unclear(names, word.text, self.typed)) is not None:
            return unclear
        self.people[word.plain.rstrip(":.")] = names
        return named.end

    def _spot(self, at: int) -> int | Fault | None:
        """`at SU 433 119` is where it was, as after `@`; what is no reference is no spot."""
        if not any(sign.isdigit() for word in self.words[at + 1 : at + 3] for sign in word.plain):
            return None  # 20 at a time
        found = place_at(self.typed, self.words, at)
        return self._place(at) if isinstance(found, Fault) or found[0] is not None else None

    def _place(self, at: int) -> int | Fault:
        found = place_at(self.typed, self.words, at)
        if isinstance(found, Fault):
            return found
        self.place, self.locality, end = found
        if self.place is None:
            return slip(
                "place-missing",
                "After @ on this line comes a grid reference or a position.",
                "write, for example,  @ SU 433 119  ; a site or a named spot goes on a line of its own",
                self.typed,
                self.words[at].start,
                self.words[at].end,
            )
        return end
