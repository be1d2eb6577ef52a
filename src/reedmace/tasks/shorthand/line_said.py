"""What a line says but for its name: the value that its reading gives."""

from __future__ import annotations

from typing import NamedTuple

from reedmace.places.place import Place
from reedmace.tasks.shorthand.field_words import Word
from reedmace.tasks.shorthand.tallies import Tally


class Counted(NamedTuple):
    """The parts of a line that are not its name.

    `remarks` is the comment and what stood in quotes, verbatim. `observers` are names instead of the visit's,
    `company` names beside them, each with the columns it takes in `typed`, as has `determiner`. `among` says
    that the pairs are among single insects counted, on this line or (`among_others`) on others of the visit.
    `in_all` is a total that was written beside its breakdown, and is none of the tallies; `whole` says that the one
    tally was called the number of all ("total 7"). `doubts` are what was doubted
    and left open ("sex"); the words that say so are among the remarks.
    """

    typed: str
    tallies: tuple[Tally, ...] = ()
    certainty: str | None = None
    qualifier: str = ""
    remarks: str = ""
    evidence: str | None = None
    photos: tuple[str, ...] = ()
    time: str | None = None
    place: Place | None = None
    locality: str = ""
    observers: tuple[Word, ...] = ()
    company: tuple[Word, ...] = ()
    determiner: Word | None = None
    among: bool = False
    among_others: bool = False
    in_all: Tally | None = None
    whole: bool = False
    left: tuple[Word, ...] = ()
    doubts: tuple[str, ...] = ()

    @property
    def stages(self) -> tuple[str, ...]:
        """The stages that were said, each once."""
        return tuple(dict.fromkeys(tally.stage for tally in self.tallies if tally.stage))

    @property
    def people(self) -> tuple[Word, ...]:
        """Everybody who is named here."""
        return (*self.observers, *self.company, *((self.determiner,) if self.determiner else ()))
