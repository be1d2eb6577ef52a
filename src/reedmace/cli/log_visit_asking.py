"""The prompts of `reedmace log` for the visit: when and where it was, the weather, and whether all was noted."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from reedmace.cli.asking import InTurn, ask
from reedmace.cli.surroundings import now, today
from reedmace.faults import Fault
from reedmace.tasks.shared.prompt_words import own_place
from reedmace.tasks.shorthand.children import no_childs_name
from reedmace.tasks.shorthand.places_typed import find_site, site_unclear
from reedmace.tasks.shorthand.visit_line import read_visit_line
from reedmace.tasks.shorthand.visit_said import VisitSaid

if TYPE_CHECKING:
    from reedmace.cli.given_back import Answered
    from reedmace.keys.model import Key
    from reedmace.records import Site


def visit_asked(key: Key, answered: Answered, sites: Sequence[Site]) -> InTurn[VisitSaid]:
    """The questions about the visit: the day, the place, its name, times and weather, and what was noted.

    Only what has not been said is asked; each answer is kept at once.
    """
    said = answered.said
    steps: list[Callable[[VisitSaid, VisitSaid], VisitSaid]] = []
    if not answered.joins:
        placed = said.place is not None or said.site is not None
        steps += [] if said.day else [_day(key)]
        steps += [] if placed else [_place(sites)]
        steps += [] if said.locality or said.site is not None else [_locality]
        steps += [_conditions(key, sites), _all_noted]
    return InTurn(said, steps, answered.keep)


def _day(key: Key) -> Callable[[VisitSaid, VisitSaid], VisitSaid]:
    from reedmace.tasks.shared.dates import read_date

    def asked(said: VisitSaid, before: VisitSaid) -> VisitSaid:
        today_itself = read_date("today", today())
        assert not isinstance(today_itself, Fault)
        offered = VisitSaid(day=before.day or today_itself, start=before.start, end=before.end)
        shown = before.day.iso if before.day else "today"
        found = ask(f"Date [{shown}]: ", lambda text: _when(key, text), offered, back=True)
        assert found is not None
        typed = ", ".join(filter(None, (said.typed, found.typed)))
        return said._replace(day=found.day, start=found.start, end=found.end, typed=typed)

    return asked


def _place(sites: Sequence[Site]) -> Callable[[VisitSaid, VisitSaid], VisitSaid]:
    from reedmace.places.place import read_place

    def where(text: str) -> VisitSaid | Fault:
        site = find_site(sites, text)
        if site is not None:
            return VisitSaid(site=site)
        place = read_place(text)
        if isinstance(place, Fault) and (unclear := site_unclear(sites, text)) is not None:
            return unclear
        if isinstance(place, Fault):
            return _named_place(text) or place
        return VisitSaid(place=place)

    def asked(said: VisitSaid, before: VisitSaid) -> VisitSaid:
        known = "Place, as grid reference or latitude, longitude" + (", or a site's name" if sites else "")
        was = before.site.name if before.site else before.place.typed if before.place else ""
        known += f" [{was}]: " if was else ": "
        offered = VisitSaid(site=before.site, place=before.place, locality=before.locality) if was else None
        found = ask(known, where, offered, needed=True, back=True) or VisitSaid()
        return said._replace(site=found.site, place=found.place, locality=said.locality or found.locality)

    return asked


def _locality(said: VisitSaid, before: VisitSaid) -> VisitSaid:
    """The name of the place; nothing where the place, or the site, has its own by now."""
    if said.locality or said.site is not None:
        return said
    prompt = f"Name of the place, village first [{before.locality or 'none'}]: "
    return said._replace(locality=ask(prompt, own_place, before.locality, back=True) or "")


def _conditions(key: Key, sites: Sequence[Site]) -> Callable[[VisitSaid, VisitSaid], VisitSaid]:
    def asked(said: VisitSaid, _: VisitSaid) -> VisitSaid:
        def conditions(text: str) -> VisitSaid | Fault:
            read, faults = read_visit_line(key, text, today=today(), now=now(), sites=sites)
            if faults:
                return no_childs_name(faults[0], text)
            again = read.day is not None and said.day is not None and read.day.iso != said.day.iso
            if again or (said.start and read.start not in (None, said.start)):
                what = f"The day is {said.day.iso if said.day else ''}" if again else f"The start is {said.start}"
                hint = "leave it out here;  back  goes to the question before, to answer that anew"
                return Fault("said-twice", f"{what}, as was answered before.", hint, text, typed=True)
            return read

        times = "Weather, as  21C F2" if said.start else "Times and weather, as  10:30-12:00 21C F2"
        more = ask(f"{times}  [none]: ", conditions, VisitSaid(), back=True)
        assert more is not None
        filled = {name: value for name, value in more._asdict().items() if value not in (None, "", False, ())}
        filled["notes"] = (*said.notes, *more.notes)
        filled["typed"] = ", ".join(filter(None, (said.typed, more.typed)))
        return said._replace(**filled)

    return asked


def _all_noted(said: VisitSaid, _: VisitSaid) -> VisitSaid:
    noted = ask("Every species noted? all, dams, dragons or no [no]: ", _noted, VisitSaid(), back=True)
    assert noted is not None
    return said._replace(
        all_damselflies=noted.all_damselflies or said.all_damselflies,
        all_dragonflies=noted.all_dragonflies or said.all_dragonflies,
    )


def _when(key: Key, text: str) -> VisitSaid | Fault:
    """A day, or a day with its times: `yesterday 10.30-12`."""
    from reedmace.tasks.shared.dates import read_day

    day = read_day(text, today())
    if not isinstance(day, Fault):
        return VisitSaid(day=day)
    read, faults = read_visit_line(key, text, today=today(), now=now())
    if read._replace(typed="", day=None, start=None, end=None) != VisitSaid() or read.day is None:
        return day
    if faults:
        return no_childs_name(faults[0], text)
    return VisitSaid(day=read.day, start=read.start, end=read.end, typed="-".join(filter(None, (read.start, read.end))))


def _named_place(text: str) -> VisitSaid | None:
    """A reference with the name of the place behind it: `SU 44 12 Heron Pools`."""
    from reedmace.places.place import read_place
    from reedmace.tasks.shorthand.visit_words import REFERENCE

    found = re.fullmatch(rf"({REFERENCE})[\s,]+[\"“]?([^\W\d_]{{3}}[^\"”]*)[\"”]?", text)
    place = read_place(found[1]) if found else None
    if found is None or place is None or isinstance(place, Fault):
        return None
    return VisitSaid(place=place, locality=found[2].strip())


def _noted(text: str) -> VisitSaid | Fault:
    plain = text.casefold().strip()
    if plain in ("n", "no", "none"):
        return VisitSaid()
    if plain in ("y", "yes", "all", "both"):
        return VisitSaid(all_damselflies=True, all_dragonflies=True)
    if plain.startswith("dam"):
        return VisitSaid(all_damselflies=True)
    if plain.startswith("dra"):
        return VisitSaid(all_dragonflies=True)
    hint = "answer  all , dams , dragons  or  no"
    return Fault("answer-not-read", "This is none of the answers.", hint, text, typed=True)
