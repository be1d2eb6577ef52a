"""Tallies: how many insects alike, the parts of a line that they are read from, and pairs taken out of singles."""

from collections.abc import Sequence
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import Word, slip

NOT_AMONG = ("exuvia", "larva")  # nobody counts these among the insects that fly


class Tally(NamedTuple):
    """A number of insects alike.

    `count` None is "present, not counted"; `to` is the upper end of a band or an estimated range. `pairs` count
    two insects each. `in_pairs` were counted here and taken out again, for they are in pairs counted beside.
    `stage` is None where none was said.
    """

    count: int | None  # type: ignore[assignment]  # hides tuple.count, which nobody needs here
    kind: str
    typed: str
    sex: str | None = None
    pairs: int | None = None
    to: int | None = None
    behaviour: tuple[str, ...] = ()
    in_pairs: int | None = None
    stage: str | None = None


class Part(NamedTuple):
    """One part of a line that says how many, what sex or stage, whether paired, or what they did, as typed."""

    kind: str  # count, sex, pairs, pair, behaviour, stage; rest ("others") and whole ("in all")
    value: str | Tally
    word: Word
    glued: bool = False  # written in one with the number before it: 3m, 3cop
    within: bool = False  # "in" stands before it (in tandem), or it says what insects do: mating
    of_all: bool = False  # "all" stands before it


class Met(NamedTuple):
    """A number with its sex or pair word: where the first and the last of its words begin, and whether it is bare.

    `plain` are pairs of which their word says no more; `whole` is said to be the number of all.
    """

    tally: Tally
    first: int
    at: int
    bare: bool = False
    plain: bool = False
    whole: bool = False


class Layout(NamedTuple):
    """A line as it lies: where its commas stand, and where the words of its name begin.

    `opens` is where "incl", a colon or a dash behind a number says that the rest is among it; `dashes` are the dashes.
    """

    typed: str
    commas: tuple[int, ...] = ()
    names: tuple[int, ...] = ()
    opens: tuple[int, ...] = ()
    dashes: tuple[int, ...] = ()

    def inside(self, column: int) -> int:
        """Which brackets a column lies in, counted from 1; -1 behind "incl" or a colon, 0 in none."""
        if self.in_brackets(column):
            return sum(self.typed[:column].count(sign) for sign in "([")
        return -1 if any(one < column for one in self.opens) else 0

    def place(self, column: int) -> tuple[int, int]:
        """Between which commas and in which brackets a column lies."""
        return self.stretch(column), self.inside(column)

    def dashed(self, start: int, end: int) -> bool:
        """Whether a dash that says "of these" stands between two columns."""
        return any(start < dash < end for dash in self.dashes)

    def brackets(self) -> tuple[int, int]:
        """Where the first brackets of the line begin and end."""
        begins = min((at for sign in "([" if (at := self.typed.find(sign)) >= 0), default=0)
        ends = min((at for sign in ")]" if (at := self.typed.find(sign, begins)) >= 0), default=len(self.typed))
        return begins, ends

    def is_more(self, place: int) -> bool:
        """Whether "plus" stands right before brackets: `10 plus (2f)`."""
        begins = [at for at, sign in enumerate(self.typed) if sign in "(["]
        return self.typed[: begins[place - 1]].rstrip().casefold().endswith(("plus", "+"))

    def stretch(self, column: int) -> int:
        """Which stretch between commas a column lies in."""
        return sum(comma < column for comma in self.commas)

    def in_brackets(self, column: int) -> bool:
        """Whether a column lies in brackets."""
        before = self.typed[:column]
        return sum(before.count(sign) for sign in "([") > sum(before.count(sign) for sign in ")]")

    def named_between(self, start: int, end: int) -> bool:
        """Whether a word of the name stands between two columns."""
        return any(start < name < end for name in self.names)


def take_out(tallies: Sequence[Tally], typed: str) -> tuple[Tally, ...] | Fault:
    """Take the pairs of these tallies out of the singles among which they were counted.

    A male and a female of each pair leave the males and the females, where these were counted; where no sex was
    given, two insects of each pair leave the number. What has nothing left is no tally any more.
    """
    pairs = sum(one.pairs or 0 for one in tallies)
    stages = {one.stage or "adult" for one in tallies if one.pairs}
    singles = [one for one in tallies if not one.pairs and (one.stage or "adult") in stages]
    left = list(tallies)
    sexed = {one.sex for one in singles if one.sex}
    if sexed and any(one.sex is None for one in singles):
        return slip(
            "pairs-unclear",
            "The pairs could be among those with a sex or among those without.",
            "write the singles without the pairs:  9m 3 cop common blue",
            typed,
        )
    for sex in (*sorted(sexed),) or (None,):
        wanted = pairs if sex else 2 * pairs
        for index, one in enumerate(left):
            if one not in singles or one.sex != sex or not wanted:
                continue
            if one.count is None or one.to is not None:
                return slip(
                    "pairs-among-uncounted",
                    "Pairs can be taken out only of a number that was counted or estimated.",
                    "write the singles without the pairs, as a number or a line of their own",
                    typed,
                )
            out = min(wanted, one.count)
            wanted -= out
            left[index] = one._replace(count=one.count - out, in_pairs=(one.in_pairs or 0) + out)
        if wanted:
            what = f"{pairs} pairs are {pairs} {sex}s" if sex else f"{pairs} pairs are {2 * pairs} insects"
            return slip(
                "pairs-more-than-counted",
                f"{what}, more than the line they should be among.",
                "check the numbers, or leave out  incl  to count the pairs beside the others",
                typed,
            )
    return tuple(one for one in left if one.count != 0)
