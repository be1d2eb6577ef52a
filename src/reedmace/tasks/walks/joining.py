"""What lines that join the visit under way say of the visit itself: it is added to it, or differs from it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from reedmace.faults import Fault
from reedmace.records import Visit
from reedmace.tasks.shorthand.visit_said import VisitSaid

_WORDS = {
    "permission_noted": "permission",
    "exuvia_passes": "searches for cast skins",
    "temperature_c": "temperature",
    "sun_percent": "sun",
    "wind_force": "wind",
    "party_size": "party",
    "vice_county": "vice-county",
    "locality": "name of the place",
    "kind": "kind of place",
}


def _of_visit(said: VisitSaid) -> dict[str, Any]:
    low, high = said.wind or (None, None)
    return {
        "start": said.start,
        "end": said.end,
        "party": said.party,
        "party_size": said.party_size,
        "habitat": said.habitat,
        "weather": said.weather,
        "temperature_c": said.temperature_c,
        "sun_percent": said.sun_percent,
        "wind_force": low,
        "wind_force_to": high if high != low else None,
        "method": said.method,
        "exuvia_passes": said.exuvia_passes,
        "permission_noted": said.permission,
    }


def _of_place(said: VisitSaid) -> dict[str, Any]:
    return {"locality": said.locality, "kind": said.place_kind, "vice_county": said.vice_county}


def differs(visit: Visit, said: VisitSaid, find: Callable[[str], str | None]) -> Fault | None:
    """What is wrong with lines that say something else of a visit than is known of it.

    `find` gives a person's id by name, None for nobody known.
    """
    there = {**visit._asdict(), **visit.place._asdict()}
    for name, value in {**_of_visit(said), **_of_place(said)}.items():
        before = there[name]
        if name == "weather" and _more_figures(visit, said):
            continue
        if value not in (None, "") and before not in (None, "", value):
            return _told(visit, _WORDS.get(name, name.replace("_", " ")), before, value)
    seen_by = {find(name.text) for name in said.observers}
    if seen_by and not seen_by <= set(visit.observers):
        names = " and ".join(name.text for name in said.observers)
        hint = f"put  by {names}  on the lines of what they saw; or say  with  on the line of the visit"
        return Fault("visit-differs", f"The visit under way is not by {names}.", hint, typed=True)
    return None


def _more_figures(visit: Visit, said: VisitSaid) -> bool:
    """Whether all that lines say of the weather is figures, and one of a kind that was not said before."""
    figures = {"temperature_c", "sun_percent", "wind_force"}
    added = any(getattr(visit, name) is None and _of_visit(said)[name] is not None for name in figures)
    return added and all(any(map(str.isdigit, part)) for part in said.weather.split(","))


def _told(visit: Visit, what: str, before: object, value: object) -> Fault:
    message = f"The {what} of the visit under way is {before}, and here it is {value}."
    amend = f"reedmace ledger amend {visit.id[-12:]} FIELD=VALUE --reason WHY"
    return Fault(
        "visit-differs",
        message,
        f"what changed is a remark, after  #  ; to correct the visit:  {amend}",
        typed=True,
    )


def added_to(visit: Visit, said: VisitSaid, typed: str, id_of: Callable[[str], str]) -> Visit:
    """The visit with what lines say of it beside what was said before; `typed` is the line with marks for people.

    What was typed of it before is not added again.
    """
    before = visit.typed.split("\n")
    if typed and all(line in before for line in typed.split("\n")):
        return visit
    values = {name: value for name, value in _of_visit(said).items() if value not in (None, "")}
    if said.habitat and said.habitat != visit.habitat:
        values["habitat_typed"] = said.habitat_typed
    place = {name: value for name, value in _of_place(said).items() if value not in (None, "")}
    if visit.weather and said.weather not in ("", visit.weather):
        values["weather"] = f"{visit.weather}, {said.weather}"
    company = [id_of(name.text) for name in said.company]
    return visit._replace(
        **values,
        place=visit.place._replace(**place),
        observers=tuple(dict.fromkeys((*visit.observers, *company))),
        typed="\n".join(filter(None, (visit.typed, typed))),
    )
