"""A page of field notes → visits with their lines, all of it understood before anything is written.

A page has a line for the visit, then a line for each thing seen; a line that begins with `@` says where (and when)
the lines below it were; `#` alone begins a remark on the visit. Several visits may stand on one page. Every fault
of the page is told, with line and column. The grammar: docs/shorthand.md.
"""

import re
from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import clock, slip, without_marks
from reedmace.tasks.shorthand.line import read_lines
from reedmace.tasks.shorthand.page_among import pairs_among_others, totals_of_others
from reedmace.tasks.shorthand.page_others import ditto_told, namesake_told, spoken_of
from reedmace.tasks.shorthand.page_said import PageVisit, Reading, SeenLine, placed
from reedmace.tasks.shorthand.time_words import halves_joined
from reedmace.tasks.shorthand.visit_said import VisitSaid

# What the line of a visit begins with; and a line that says what was noted of all.
_VISIT = ("visit", "walk")
_ALL = ("all", "none", "nil", "nothing")
# What a spot within a visit may not say: it belongs to the visit.
_ONLY_OF_A_VISIT = (
    *("day", "end", "site", "weather", "method", "all_damselflies", "all_dragonflies", "none_seen"),
    *("exuvia_passes", "permission", "observers", "company", "determiner", "party", "habitat"),
)


class _Page:
    def __init__(self, reading: Reading, lines: Sequence[str]) -> None:
        self.reading = reading
        self.others = spoken_of(reading.key, lines)
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
        elif (":" in body or "=" in body) and self._form(number, text):
            pass
        elif first in _VISIT:
            self.close()
            self.begun = number
            self.said = self._visit(number, text)
        elif body[0] == "@" or (body[0].isdigit() and _time_alone(body)):
            self._spot(number, text)
        elif first in _ALL:
            self._all(number, text)
        else:
            self._seen(number, text)

    def close(self) -> None:
        """The end of a visit; remarks above the first one are that visit's."""
        if self.said is None and not self.lines and not self.visits:
            return
        if self.said is not None or self.lines or self.notes:
            self.visits.append(PageVisit(self.said, tuple(self.lines), tuple(self.notes), self.begun))
        self.said, self.lines, self.notes, self.spot = None, [], [], None

    def _visit(self, number: int, text: str) -> VisitSaid:
        from reedmace.tasks.shorthand.visit_line import read_visit_line  # a single line needs none of it

        reading = self.reading
        said, faults = read_visit_line(reading.key, text, today=reading.today, now=reading.now, sites=reading.sites)
        self.faults += [placed(_childless(fault, text), reading, number, text) for fault in faults]
        return said

    def _form(self, number: int, text: str) -> bool:
        """`Site: …`, `Weather: …`: a line of a visit that is written as a form, before anything was seen on it."""
        if self.lines or self.spot is not None:
            return False
        from reedmace.tasks.shorthand.page_form import form_line, put_together

        read = form_line(text, self.reading)
        if read is None:
            return False
        self.faults += [placed(_childless(fault, text), self.reading, number, text) for fault in read.faults]
        self.begun = self.begun if self.said is not None else number
        whole = put_together(self.said or VisitSaid(), read.said)
        if isinstance(whole, Fault):
            self.faults.append(placed(whole, self.reading, number, text))
        else:
            self.said = whole
        return True

    def _spot(self, number: int, text: str) -> None:
        if text.lstrip().startswith("@") and _time_alone(text.replace("@", "", 1)):
            text = text.replace("@", " ", 1)  # @ 11:40: a time, and no place
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
        lines = read_lines(self.reading.key, text)
        if self.others and not isinstance(lines, Fault):
            told = (namesake_told(self.reading.key, line, self.others) for line in lines)
            lines = next(filter(None, told), lines)
        if isinstance(lines, Fault):
            from reedmace.tasks.shorthand.page_strays import stray  # a line without a fault needs none of it

            other = ditto_told(text) or stray(text, lines, self.reading)
            if isinstance(other, VisitSaid):
                self.close()
                self.begun, self.said = number, other
                return
            fault = placed(_childless(other, text), self.reading, number, text)
            asked = self.reading.ask(text, fault) if self.reading.ask else None
            if asked is None:
                self.faults.append(fault)
                return
            lines = [asked]
        self.lines += [SeenLine(line, number, self.spot) for line in lines]


def _time_alone(body: str) -> bool:
    """Whether a line is a time of day, or one before a place: `11:40`, `2.30 pm`, `11:40 @ SU 433 119`."""
    time = body.partition("#")[0].strip().casefold()
    if re.fullmatch(r"[^@\s]+\s*@\s*[a-z]{1,2} ?[0-9 ]+(?:\".*\")?", time, re.ASCII):
        time = time.partition("@")[0].strip()
    return clock(halves_joined(time)) is not None


def _childless(fault: Fault, text: str) -> Fault:
    from reedmace.tasks.shorthand.children import no_childs_name  # a line without a fault needs none of it

    return no_childs_name(fault, text)


def split_lines(text: str) -> list[str]:
    """The lines of a text. Only line breaks end one; other signs that some take for one may stand in a remark."""
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


def read_page(text: str | Sequence[str], reading: Reading) -> tuple[list[PageVisit], list[Fault]]:
    """Read a whole page, or its lines; every fault in it at once."""
    lines = split_lines(text) if isinstance(text, str) else text
    page = _Page(reading, lines)
    for number, line in enumerate(lines, start=1):
        page.take(number, line)
    page.close()
    if page.notes:  # and nothing else
        page.visits.append(PageVisit(None, (), tuple(page.notes)))
    visits = []
    for visit in page.visits:
        settled, faults = pairs_among_others(visit, reading)
        summed, more = totals_of_others(settled, reading)
        visits.append(summed)
        page.faults += [*faults, *more]
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
