"""What of a page stands in the ledger already, word for word: so that a file logged again adds nothing twice."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.records import Sighting, Visit
from reedmace.tasks.field_page import PageVisit, SeenLine
from reedmace.tasks.log_walk import Writer, sightings_of, visit_of
from reedmace.tasks.visit_said import VisitSaid


class Already(NamedTuple):
    """The visit of a page that is there, which lines of the page stand in it, and what would be new.

    `alone` says that the visit holds no other line than these.
    """

    visit: Visit
    there: tuple[SeenLine, ...]
    others: tuple[SeenLine, ...]
    notes: tuple[str, ...]
    alone: bool

    @property
    def anew(self) -> bool:
        """Whether something of the page is not there yet."""
        return bool(self.others or self.notes)

    @property
    def again(self) -> bool:
        """Whether the page was probably logged before: all of it, most of it, or as it was before it grew."""
        if not self.others:
            return bool(self.there) or not self.notes
        return bool(self.there) and (self.alone or 2 * len(self.there) >= len(self.there) + len(self.others))


def already_logged(
    ledger: Ledger, key: Key, page: PageVisit, said: VisitSaid, person: str, joins: Visit | None
) -> Already | None:
    """Find the visit that a page is about, `joins` or the one with the same words; None where there is none.

    `person` is whoever writes. Nobody is registered for it: a name that is not known has no line yet.
    """

    def id_of(name: str) -> str:
        return ledger.people.find(name) or f"nobody called {name}"

    wanted = visit_of(key, said, person, id_of)
    visit = joins or _same(ledger, wanted)
    if visit is None:
        return None
    determiner = id_of(said.determiner.text) if said.determiner else person
    writer = Writer(person, "", lambda: "")
    standing = {one.line_id: one for one, _, _ in ledger.current_sightings(Wanted(visit_id=visit.id))}
    new = [sightings_of(key, seen, visit, determiner, None, None, writer, id_of)[0] for seen in page.lines]
    # A line at the same spot and time first; else one with the same words, for place and time may be corrected since.
    found = _matched([(one.typed, one.place, one.time) for one in new], map(_where, standing.values()))
    rest = Counter(one.typed for one in standing.values())
    rest.subtract(one.typed for one, known in zip(new, found, strict=True) if known)
    for index, one in enumerate(new):
        if not found[index] and rest[one.typed] > 0:
            found[index] = True
            rest[one.typed] -= 1
    there = tuple(seen for seen, known in zip(page.lines, found, strict=True) if known)
    others = tuple(seen for seen, known in zip(page.lines, found, strict=True) if not known)
    notes = tuple(note for note in said.notes if note not in visit.remarks.split("\n"))
    return Already(visit, there, others, notes, alone=len(there) == len(standing))


def told_again(already: Already) -> Fault:
    """The fault of a page that was logged before, wholly or but for a few lines."""
    visit = already.visit
    said = visit.typed or visit.date
    if not already.anew:
        what = "Every line of this visit stands" if already.there else "This visit stands"
        hint = "nothing was written; take out what is there, or log further lines by themselves"
        return Fault("already-logged", f"{what} in the ledger already.", hint, said)
    return Fault(
        "partly-logged",
        f"{shown(already)}; new {_listed(already)}.",
        "nothing was written; log the line of the visit with what is new below it:"
        f" that joins the visit …{visit.id[-12:]}",
        said,
    )


def shown(already: Already) -> str:
    """How many lines of a page are there, in words."""
    there, lines = len(already.there), len(already.there) + len(already.others)
    number = f"{there} of the {lines} lines" if already.others else "Every line"
    return f"{number} of this visit stand{'s' if there == 1 or not already.others else ''} in the ledger already"


def _listed(already: Already) -> str:
    numbers = ", ".join(str(seen.number) for seen in already.others)
    if not numbers:
        return "is a remark" if len(already.notes) == 1 else "are remarks"
    return f"is line {numbers}" if len(already.others) == 1 else f"are lines {numbers}"


def _matched(new: list[tuple[Hashable, ...]], standing: Iterable[Hashable]) -> list[bool]:
    left = Counter(standing)
    found = []
    for one in new:
        found.append(left[one] > 0)
        left[one] -= found[-1]
    return found


def _where(sighting: Sighting) -> tuple[Hashable, ...]:
    return sighting.typed, sighting.place, sighting.time


def _same(ledger: Ledger, wanted: Visit) -> Visit | None:
    """The visit written down in the same words, though times, weather or remarks may have been added since."""
    year = int((wanted.date or "0")[:4])
    plain = wanted._replace(remarks="")
    for visit, _ in ledger.current_visits(year):
        if visit._replace(id="", remarks="") == plain:
            return visit
        if wanted.typed and _words(visit) == _words(wanted):
            return visit
    return None


def _words(visit: Visit) -> tuple[Hashable, ...]:
    return visit.typed, visit.date, visit.place, visit.observers
