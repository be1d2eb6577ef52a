"""Corrections of a visit: what was noted, the weather, who was there in numbers, read as `log` reads them."""

from __future__ import annotations

import re
from typing import Any

from reedmace.faults import Fault
from reedmace.records import Visit
from reedmace.tasks.records import amend_values as values
from reedmace.tasks.records.amend_values import Around, Change, Reader
from reedmace.tasks.shared.setting import find_habitat
from reedmace.tasks.shorthand.visit_how import DAMSELFLIES, DRAGONFLIES, METHODS
from reedmace.tasks.shorthand.visit_line import read_visit_line
from reedmace.tasks.shorthand.visit_said import VisitSaid

_YES_NO = {"yes": True, "no": False}
_BOTH = frozenset(("all", "both", "yes", "complete"))
_NEITHER = frozenset(("", "none", "no", "neither"))
_JOINING = frozenset(("and", "noted", "seen", "species"))
_MOST_PASSES = 99
# Weather that cannot be; words that are not understood are kept as they are.
_IMPOSSIBLE = ("sun-over-100", "temperature-unlikely", "wind-not-beaufort")


def _all(value: str, _record: Any, _around: Around) -> Change | Fault:
    words = {word for word in re.findall(r"[^\s,&+]+", value.casefold()) if word not in _JOINING}
    if not words or (len(words) == 1 and words <= _NEITHER):
        return {"all_damselflies": False, "all_dragonflies": False}
    if not words <= DAMSELFLIES | DRAGONFLIES | _BOTH:
        hint = "one of: damselflies, dragonflies, both, none"
        return Fault("unknown-word", "Say all of what was noted.", hint, typed=True)
    groups = words - _BOTH
    return {
        "all_damselflies": not groups or bool(groups & DAMSELFLIES),
        "all_dragonflies": not groups or bool(groups & DRAGONFLIES),
    }


def _none_seen(value: str, _record: Any, around: Around) -> Change | Fault:
    if value.casefold() not in _YES_NO:
        return Fault("unknown-word", "Say yes or no.", "none-seen=yes  or  none-seen=no", typed=True)
    none = _YES_NO[value.casefold()]
    if none and around.holds_sightings:
        hint = "withdraw its sightings first, if they were not seen:  reedmace ledger withdraw ID --reason WHY"
        return Fault("none-seen-but-seen", "This visit holds sightings, so something was seen.", hint, typed=True)
    return {"none_seen": none}


def _habitat(value: str, _record: Any, around: Around) -> Change | Fault:
    if not value or around.key is None:
        return {"habitat": value, "habitat_typed": ""}
    found = find_habitat(around.key(), value)
    return found if isinstance(found, Fault) else {"habitat": found[0].id, "habitat_typed": found[1]}


def _method(value: str, _record: Any, _around: Around) -> Change | Fault:
    return {"method": METHODS.get(value.casefold(), value)}


def _weather(value: str, _record: Any, around: Around) -> Change | Fault:
    """As typed, and beside it what can be understood: figures that stood for other weather go."""
    said, faults = _read(value, around)
    impossible = next((fault for fault in faults if fault.code in _IMPOSSIBLE), None)
    if impossible is not None:
        return impossible._replace(where=None)
    known = said if said is not None and said == VisitSaid(weather=said.weather)._replace(**_figures(said)) else None
    wind = (known.wind if known else None) or (None, None)
    return {
        "weather": value,
        "temperature_c": known.temperature_c if known else None,
        "sun_percent": known.sun_percent if known else None,
        "wind_force": wind[0],
        "wind_force_to": wind[1] if wind[1] != wind[0] else None,
    }


def _figures(said: VisitSaid) -> dict[str, Any]:
    return {name: getattr(said, name) for name in ("typed", "temperature_c", "sun_percent", "wind")}


def _party(value: str, _record: Any, around: Around) -> Change | Fault:
    """As typed, and beside it how many they were, where it says so."""
    said = _said(f"party of {value}" if value.isdecimal() else value, around)
    return {"party": value, "party_size": said.party_size if said and said.party else None}


def _said(value: str, around: Around) -> VisitSaid | None:
    """The value as the line of a visit says it; None where it is not understood as a whole."""
    return _read(value, around)[0]


def _read(value: str, around: Around) -> tuple[VisitSaid | None, tuple[Fault, ...]]:
    """The value as the line of a visit says it, or what is wrong with it."""
    if not value or around.key is None:
        return None, ()
    said, faults = read_visit_line(around.key(), value, today=around.today)
    return (None if faults else said), faults


def _passes(value: str, _record: Any, _around: Around) -> Change | Fault:
    if not value:
        return {"exuvia_passes": None}
    if not (value.isascii() and value.isdecimal() and 0 < int(value) <= _MOST_PASSES):
        return Fault(
            "passes-not-read",
            "This is no number of searches for cast skins.",
            "write, for example,  exuvia-passes=2 ; nothing after the  =  where none was made",
            typed=True,
        )
    return {"exuvia_passes": int(value)}


def somebody(was: Visit, now: Visit) -> Fault | None:
    """Somebody has to have been there: refused where nobody is named any more."""
    if now.observers or now.party or not (was.observers or was.party):
        return None
    hint = 'give the right name:  observers="Ada Marsh"   or a party:  party="party of 12"'
    return Fault("observer-unknown", "Nobody is named who observed.", hint, typed=True)


FIELDS: dict[str, Reader] = {
    "date": values.day,
    "start": values.clock("start"),
    "end": values.clock("end"),
    "place": values.place,
    "locality": values.locality,
    "vice-county": values.vice_county,
    "habitat": _habitat,
    "weather": _weather,
    "method": _method,
    "party": _party,
    "all": _all,
    "none-seen": _none_seen,
    "exuvia-passes": _passes,
    "permission": values.text("permission_noted"),
    "remarks": values.text("remarks"),
}
