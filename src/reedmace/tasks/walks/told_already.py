"""What is said of a page that was logged before: the fault, what would correct it, and what is new as its own page."""

from __future__ import annotations

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import clock
from reedmace.tasks.shorthand.page_said import PageVisit
from reedmace.tasks.shorthand.visit_said import VisitSaid
from reedmace.tasks.walks.already_logged import Already


def told_again(already: Already) -> Fault:
    """The fault of a page that was logged before, wholly or but for a few lines."""
    visit = already.visit
    said = in_one_line(already) or visit.date
    if already.header:
        amend = f"reedmace ledger amend {visit.id[-12:]} FIELD=VALUE --reason WHY"
        hint = f"nothing was written; to correct the visit:  {amend}"
        if already.others:
            hint += f"{_to_correct(already)}  ; then log what is new as the lines above"
        hint += "  ; if it is another visit, give its lines as arguments"
        return Fault("visit-again", f"{shown(already)}{_numbers_told(already)}.", hint, said)
    if not already.anew:
        what = "Every line of this visit stands" if already.there else "This visit stands"
        hint = "nothing was written; take out what is there, or log further lines by themselves"
        return Fault("already-logged", f"{what} in the ledger already.", hint, said)
    hint = "nothing was written; log the lines above as a page of their own (--from FILE):"
    hint += f" they join the visit …{visit.id[-12:]}"
    if already.numbers:
        hint = f"nothing was written; to correct what stands:{_to_correct(already)}"
        hint += "  ; only if both were seen, log the lines above as a page of their own (--from FILE)"
    return Fault("partly-logged", f"{shown(already)}; new {_listed(already)}{_numbers_told(already)}.", hint, said)


def in_one_line(already: Already) -> str:
    """The line of a visit as typed; of a form, its lines in one."""
    return " / ".join(filter(None, map(str.strip, already.as_typed.split("\n"))))


def _to_correct(already: Already) -> str:
    return "".join(f"  reedmace ledger amend {one.sighting} {one.change} --reason WHY" for one in already.numbers)


def _numbers_told(already: Already) -> str:
    told = [f'"{one.seen.line.typed.strip()}" is "{one.stands}" with another number' for one in already.numbers]
    return f"; {', '.join(told)}" if told else ""


def new_page(page: PageVisit, said: VisitSaid, already: Already) -> list[str]:
    """The lines of a page that are new, as a page of their own: below its visit's line, each at its spot and time."""
    first = already.as_typed if already.header else said.typed if page.said is not None else ""
    lines = [*first.split("\n"), *(f"# {note}" for note in already.notes if note in page.notes)]
    spot: VisitSaid | None = None
    for seen in already.others:
        if seen.spot != spot:
            lines += _spot_lines(seen.spot)
            spot = seen.spot
        lines.append(seen.line.typed.strip())
    return [line for line in lines if line]


def _spot_lines(spot: VisitSaid | None) -> list[str]:
    if spot is None:
        return ["@"]
    lines = [spot.typed.strip()]
    # A time on a line of its own is later at the same spot.
    if spot.start and spot.start not in [clock(word) for word in spot.typed.casefold().split()]:
        lines.append(spot.start)
    return lines


def shown(already: Already) -> str:
    """How many lines of a page are there, in words."""
    there, lines = len(already.there), len(already.there) + len(already.others)
    number = f"{there} of the {lines} lines" if already.others else "Every line"
    one = there == 1 or not already.others
    if already.header:
        as_said = f'"{in_one_line(already) or already.visit.date}"'
        if not lines:
            return f"A visit of the same day, place and people stands in the ledger already, as {as_said}"
        place = "in a visit of the same day, place and people"
        return f"{number} of this page stand{'s' if one else ''} in the ledger already, {place}: {as_said}"
    return f"{number} of this visit stand{'s' if one else ''} in the ledger already"


def _listed(already: Already) -> str:
    numbers = ", ".join(str(seen.number) for seen in already.others)
    if not numbers:
        return "is a remark" if len(already.notes) == 1 else "are remarks"
    return f"is line {numbers}" if len(already.others) == 1 else f"are lines {numbers}"
