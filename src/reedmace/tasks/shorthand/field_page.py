"""A page of field notes → visits with their lines, all of it understood before anything is written.

A page has a line for the visit, then a line for each thing seen; a line that begins with `@` says where (and when)
the lines below it were; `#` alone begins a remark on the visit. Several visits may stand on one page. Every fault
of the page is told, with line and column. The grammar: docs/shorthand.md.
"""

import re
from collections.abc import Callable, Sequence
from datetime import date
from typing import NamedTuple

from reedmace.faults import Fault, Where
from reedmace.keys.model import Key
from reedmace.records import Site
from reedmace.tasks.shorthand.field_words import clock, slip, without_marks
from reedmace.tasks.shorthand.line import Line, read_line
from reedmace.tasks.shorthand.tallies import Tally, take_out
from reedmace.tasks.shorthand.visit_said import VisitSaid

# What a line of a page is asked again with, once it is a fault: the corrected reading, or None to leave it a fault.
Ask = Callable[[str, Fault], Line | None]


class SeenLine(NamedTuple):
    """A line of a visit, and the spot it stands under (None where that is the visit's own place)."""

    line: Line
    number: int
    spot: VisitSaid | None = None


class PageVisit(NamedTuple):
    """One visit of a page. `said` is None where the page has no line for it; `notes` are remarks on their own lines."""

    said: VisitSaid | None
    lines: tuple[SeenLine, ...] = ()
    notes: tuple[str, ...] = ()
    number: int = 1


class Reading(NamedTuple):
    """What reading a page needs besides the page.

    `source` is what a fault calls the page; `typed` says that it was typed just now rather than stored in a file;
    `now` is the local time `HH:MM`.
    """

    key: Key
    source: str
    today: date
    now: str = ""
    sites: Sequence[Site] = ()
    typed: bool = True
    ask: Ask | None = None


# What the line of a visit begins with; and a line that says what was noted of all.
_VISIT = ("visit", "walk")
_ALL = ("all", "none", "nil", "nothing")
# What a spot within a visit may not say: it belongs to the visit.
_ONLY_OF_A_VISIT = (
    *("day", "end", "site", "weather", "method", "all_damselflies", "all_dragonflies", "none_seen"),
    *("exuvia_passes", "permission", "observers", "company", "determiner", "party", "habitat"),
)


class _Page:
    def __init__(self, reading: Reading) -> None:
        self.reading = reading
        self.visits: list[PageVisit] = []
        self.said: VisitSaid | None = None
        self.begun = 1
        self.lines: list[SeenLine] = []
        self.notes: list[str] = []
        self.spot: VisitSaid | None = None
        self.faults: list[Fault] = []

    def take(self, number: int, text: str) -> None:
        """Take one line of the page."""
        text = without_marks(text)
        body = text.strip()
        if not body:
            return
        first = re.split(r"[\s,;:.]", body.casefold(), maxsplit=1)[0]
        if body.startswith("#"):
            note = body[1:].strip()
            if note:
                self.notes.append(note)
        elif first in _VISIT:
            self.close()
            self.begun = number
            self.said = self._visit(number, text)
        elif body[0] == "@" or (body[0].isdigit() and clock(body.partition("#")[0].strip().casefold())):
            self._spot(number, text)
        elif first in _ALL:
            self._all(number, text)
        else:
            self._seen(number, text)

    def close(self) -> None:
        """The end of a visit."""
        if self.said is not None or self.lines or self.notes:
            self.visits.append(PageVisit(self.said, tuple(self.lines), tuple(self.notes), self.begun))
        self.said, self.lines, self.notes, self.spot = None, [], [], None

    def _visit(self, number: int, text: str) -> VisitSaid:
        from reedmace.tasks.shorthand.visit_line import read_visit_line  # a single line needs none of it

        reading = self.reading
        said, faults = read_visit_line(reading.key, text, today=reading.today, now=reading.now, sites=reading.sites)
        self.faults += [placed(_childless(fault, text), reading, number, text) for fault in faults]
        return said

    def _spot(self, number: int, text: str) -> None:
        said = self._visit(number, text)
        wrong = [name for name in _ONLY_OF_A_VISIT if getattr(said, name) not in (None, "", False, ())]
        if "site" in wrong and said.site is not None:
            wrong.remove("site")
        if wrong:
            fault = slip(
                "spot-says-too-much",
                f"A place within a visit has no {wrong[0].replace('_', ' ')} of its own.",
                "say it on the line of the visit, or begin another:  visit …",
                text,
            )
            self.faults.append(placed(fault, self.reading, number, text))
        nowhere = said.place is None and not said.locality and said.site is None
        if nowhere and said.start is not None and self.spot is not None:
            self.spot = self.spot._replace(start=said.start)  # a time alone: later, at the same spot
        else:
            back = nowhere and said.start is None
            self.spot = None if back else said

    def _all(self, number: int, text: str) -> None:
        """`all dams` or `none seen` on a line of its own: of the visit, unless it reads as something seen."""
        from reedmace.tasks.shorthand.visit_line import read_visit_line

        said, faults = read_visit_line(self.reading.key, text, today=self.reading.today)
        if faults:
            self._seen(number, text)
            return
        before = self.said or VisitSaid()
        self.said = before._replace(
            all_damselflies=before.all_damselflies or said.all_damselflies,
            all_dragonflies=before.all_dragonflies or said.all_dragonflies,
            none_seen=before.none_seen or said.none_seen,
            typed="\n".join(filter(None, (before.typed, text.strip()))),
            notes=(*before.notes, *said.notes),
        )

    def _seen(self, number: int, text: str) -> None:
        line = read_line(self.reading.key, text)
        if isinstance(line, Fault):
            fault = placed(_childless(line, text), self.reading, number, text)
            asked = self.reading.ask(text, fault) if self.reading.ask else None
            if asked is None:
                self.faults.append(fault)
                return
            line = asked
        self.lines.append(SeenLine(line, number, self.spot))


def _childless(fault: Fault, text: str) -> Fault:
    from reedmace.tasks.shorthand.children import no_childs_name  # a line without a fault needs none of it

    return no_childs_name(fault, text)


def placed(fault: Fault, reading: Reading, number: int, text: str) -> Fault:
    """A fault of a line as a fault of its page."""
    column, width = (fault.where.column, fault.where.width) if fault.where else (None, 1)
    return fault._replace(where=Where(reading.source, number, column, text, width), typed=reading.typed)


def split_lines(text: str) -> list[str]:
    """The lines of a text. Only line breaks end one; other signs that some take for one may stand in a remark."""
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


def read_page(text: str | Sequence[str], reading: Reading) -> tuple[list[PageVisit], list[Fault]]:
    """Read a whole page, or its lines; every fault in it at once."""
    page = _Page(reading)
    lines = split_lines(text) if isinstance(text, str) else text
    for number, line in enumerate(lines, start=1):
        page.take(number, line)
    page.close()
    visits = []
    for visit in page.visits:
        settled, faults = _pairs_among_others(visit, reading)
        visits.append(settled)
        page.faults += faults
        if visit.said is not None and visit.said.none_seen and visit.lines:
            first = visit.lines[0]
            fault = slip(
                "none-seen-but-seen",
                "The visit says that none were seen, but there is this line.",
                "leave out one or the other",
                first.line.typed,
            )
            page.faults.append(placed(fault, reading, first.number, first.line.typed))
    return visits, sorted(page.faults, key=lambda fault: (fault.where and fault.where.line) or 0)


def _pairs_among_others(visit: PageVisit, reading: Reading) -> tuple[PageVisit, list[Fault]]:
    """`3 cop common blue incl`: the pairs are among the singles on other lines for the same insect and spot."""
    lines, faults = list(visit.lines), []
    for paired in visit.lines:
        if not paired.line.said.among_others:
            continue
        pairs = [tally for tally in paired.line.tallies if tally.pairs]
        like = [index for index, one in enumerate(lines) if _same_insects(one, paired)]
        stages = {_stage(tally) for tally in pairs}
        singles: list[tuple[int, Tally]] = [
            (index, tally)
            for index in like
            for tally in lines[index].line.tallies
            if not tally.pairs and _stage(tally) in stages
        ]
        if not singles:
            fault = slip(
                "nothing-to-include-in",
                "These pairs are to be among others (incl), but no line counts the others.",
                "write the others too, or leave out  incl",
                paired.line.typed,
            )
            faults.append(placed(fault, reading, paired.number, paired.line.typed))
            continue
        left = take_out([*pairs, *(tally for _, tally in singles)], paired.line.typed)
        if isinstance(left, Fault):
            faults.append(placed(left, reading, paired.number, paired.line.typed))
            continue
        waiting = [tally for tally in left if not tally.pairs]
        for index in like:
            kept = []
            for tally in lines[index].line.tallies:
                if tally.pairs or _stage(tally) not in stages:
                    kept.append(tally)
                elif waiting and _same_count(waiting[0], tally):
                    kept.append(waiting.pop(0))
            seen = lines[index]
            said = seen.line.said._replace(tallies=tuple(kept))
            lines[index] = seen._replace(line=seen.line._replace(said=said))
    # A line of which nothing is left beside the pairs is no sighting of its own; its words stay with the visit.
    gone = [f"{one.line.typed.strip()} (all of them in pairs)" for one in lines if not one.line.tallies]
    kept_lines = tuple(one for one in lines if one.line.tallies)
    return visit._replace(lines=kept_lines, notes=(*visit.notes, *gone)), faults


def _same_insects(one: SeenLine, other: SeenLine) -> bool:
    mine, theirs = one.line, other.line
    return (
        one is not other
        and (mine.name.species, mine.name.others) == (theirs.name.species, theirs.name.others)
        and one.spot == other.spot
        and mine.said.place == theirs.said.place
    )


def _stage(tally: Tally) -> str:
    return tally.stage or "adult"


def _same_count(left: Tally, before: Tally) -> bool:
    """Whether a tally is what is left of another one."""
    return (left.sex, left.kind, left.typed) == (before.sex, before.kind, before.typed)
