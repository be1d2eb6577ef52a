"""Visits on the screen."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from reedmace.records import Sighting, Visit, habitat_said, with_names
from reedmace.terminal.ledger_list import seen
from reedmace.terminal.screen import Screen
from reedmace.terminal.words import plural


def show_visits(screen: Screen, rows: Sequence[tuple[Visit, int]], under_way: Visit | None) -> None:
    """A table of visits."""
    if not rows:
        screen.say("No visits.")
        return
    table: list[list[str | tuple[str, str]]] = []
    for visit, number in rows:
        when = " ".join(filter(None, (visit.date or "no date", _times(visit))))
        where = " ".join(filter(None, (visit.place.square or visit.place.typed, visit.place.locality)))
        mark = " (under way)" if under_way is not None and under_way.id == visit.id else ""
        what = "none seen" if visit.none_seen else plural(number, "sighting")
        table.append([when + mark, where, what, (visit.id[-12:], "dim")])
    screen.table([("when", "left"), ("where", "left"), ("what", "left"), ("id", "left")], table)
    screen.say(plural(len(rows), "visit"))


def show_visit(
    screen: Screen, visit: Visit, rows: Iterable[tuple[Sighting, Visit, Any]], name_of: Callable[[str], str]
) -> None:
    """One visit: all that is known of it, what was typed, and its sightings."""
    screen.say((f"{visit.date or 'no date'} {_times(visit)}".rstrip(), "bold"))
    for label, value in _known(visit, name_of):
        screen.say(f"{label}: {value}", indent=2, hang=2)
    if visit.typed:
        screen.say(f"typed: {with_names(visit.typed, name_of)}", indent=2, hang=2)
    screen.blank()
    table: list[list[str | tuple[str, str]]] = []
    for sighting, _, _ in rows:
        own = sighting.place
        where = " ".join(filter(None, (sighting.time, own and (own.locality or own.square or own.typed))))
        name = sighting.taxon.vernacular or sighting.taxon.scientific_name
        doubt = " ?" if sighting.certainty == "uncertain" else ""
        table.append([(f"{name}{doubt}", "bold"), seen(sighting), where, (sighting.id[-12:], "dim")])
    if table:
        screen.table([("name", "left"), ("seen", "left"), ("when, where", "left"), ("id", "left")], table)
    screen.say("none seen" if visit.none_seen else plural(len(table), "sighting"))


def _times(visit: Visit) -> str:
    if visit.start and visit.end:
        return f"{visit.start}-{visit.end}"
    return visit.start or (f"until {visit.end}" if visit.end else "")


def _known(visit: Visit, name_of: Callable[[str], str]) -> list[tuple[str, str]]:
    place = visit.place
    noted = [
        word for word, flag in (("damselflies", visit.all_damselflies), ("dragonflies", visit.all_dragonflies)) if flag
    ]
    passes = visit.exuvia_passes
    known = [
        ("place", ", ".join(filter(None, (place.square or place.typed, place.locality, place.kind or "")))),
        ("vice-county", place.vice_county or ""),
        ("observers", " and ".join(map(name_of, visit.observers))),
        ("with", visit.party),
        ("habitat", habitat_said(visit)),
        ("weather", visit.weather),
        ("method", visit.method),
        ("noted", f"all {' and all '.join(noted)}" if noted else ""),
        ("searches for cast skins (exuviae)", str(passes) if passes else ""),
        ("permission", visit.permission_noted),
        ("remarks", " / ".join(visit.remarks.split("\n"))),
        ("id", visit.id),
    ]
    return [(label, value) for label, value in known if value]
