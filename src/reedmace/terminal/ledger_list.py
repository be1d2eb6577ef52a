"""The ledger on the screen."""

from __future__ import annotations

from collections.abc import Iterable

from reedmace.ledger.entries import EntryMeta
from reedmace.records import Sighting, Visit, habitat_said
from reedmace.terminal.plain import literal
from reedmace.terminal.screen import Screen
from reedmace.terminal.words import plural

PAGE = 200  # rows set in one table: memory stays flat however long the ledger is


def show_sightings(screen: Screen, rows: Iterable[tuple[Sighting, Visit, EntryMeta]]) -> None:
    """A table of sightings, in pages, and how many there are."""
    page: list[list[str | tuple[str, str]]] = []
    count = 0
    for sighting, visit, meta in rows:
        page.append(_row(screen, sighting, visit, meta))
        count += 1
        if len(page) == PAGE:
            _show(screen, page)
            page = []
    if page:
        _show(screen, page)
    screen.say(plural(count, "sighting") if count else "No sightings.")


def _show(screen: Screen, page: list[list[str | tuple[str, str]]]) -> None:
    heads = [("date", "left"), ("place", "left"), ("name", "left"), ("seen", "left"), ("id", "left")]
    screen.table(heads, page)


def _row(screen: Screen, sighting: Sighting, visit: Visit, meta: EntryMeta) -> list[str | tuple[str, str]]:
    place = sighting.place or visit.place
    where = place.square or place.typed
    if place.locality and screen.width >= 80:
        where = f"{where} {place.locality}".lstrip()
    name = sighting.taxon.vernacular or sighting.taxon.scientific_name
    doubt = " ?" if sighting.certainty == "uncertain" else ""
    gone = " (withdrawn)" if meta.act == "withdrawn" else ""
    gone += " (two versions)" if meta.diverged else ""
    row: list[str | tuple[str, str]] = [
        visit.date or "no date",
        where,
        (f"{name}{doubt}{gone}", "bold"),
        seen(sighting),
    ]
    # The end of an id is enough to name a record by; where there is little room, the very end.
    row.append((sighting.id[-12:] if screen.width >= 80 else sighting.id[-6:], "dim"))
    return row


def told(record: Sighting | Visit) -> str:
    """A sighting or visit in one line of plain text, made safe for the screen, with the last signs of its id."""
    place = record.place
    where = "" if place is None else " ".join(part for part in (place.square or place.typed, place.locality) if part)
    if isinstance(record, Visit):
        parts = [f"visit, {record.date or 'no date'}", where, habitat_said(record), record.weather, record.remarks]
    else:
        name = record.taxon.vernacular or record.taxon.scientific_name
        doubt = " ?" if record.certainty == "uncertain" else ""
        parts = [f"{name}{doubt}", seen(record), record.time or "", where, record.remarks]
    return literal(f"{'; '.join(part for part in parts if part)}  [{record.id[-12:]}]")


def seen(sighting: Sighting) -> str:
    """Count, sex, stage and behaviour in a few words."""
    if sighting.pairs:
        count = plural(sighting.pairs, "pair")
    elif sighting.count is None:
        count = "present"
    else:
        lead = {"estimate": "about ", "at least": "at least "}.get(sighting.count_kind, "")
        count = f"{lead}{sighting.count}"
        if sighting.count_to:
            count += f"–{sighting.count_to}"
    parts = [
        count,
        sighting.sex or "",
        "" if sighting.stage == "adult" else sighting.stage or "",
        *sighting.behaviour,
    ]
    return " ".join(part for part in parts if part)
