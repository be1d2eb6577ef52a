"""The visit under way: begun by `reedmace visit start`, joined by every `log` until it is ended."""

from __future__ import annotations

from datetime import date

from reedmace.faults import Fault, Refused
from reedmace.ledger.store import Ledger
from reedmace.records import Visit

_KEPT = "visit under way"


def begin(ledger: Ledger, visit: Visit, today: date) -> None:
    """Let further lines join this visit."""
    ledger.people.keep(_KEPT, f"{visit.id} {today.isoformat()}")


def finish(ledger: Ledger) -> None:
    """No visit is under way any more."""
    ledger.people.keep(_KEPT, None)


def under_way(ledger: Ledger, today: date | None = None) -> Visit | None:
    """The visit that is under way; None where there is none, or where it was withdrawn.

    With `today`, a visit that was begun on another day is refused: it was probably forgotten.
    """
    kept = ledger.people.kept(_KEPT)
    if kept is None:
        return None
    visit_id, _, begun = kept.partition(" ")
    found = ledger.standing(visit_id)
    if found is None or not isinstance(found[0], Visit) or found[1].act == "withdrawn":
        return None
    if today is not None and begun != today.isoformat():
        raise Refused(
            Fault(
                "visit-of-another-day",
                f"A visit begun on {begun} is still under way.",
                "end it with  reedmace visit end  ; or say where and when this was:  --place … --date …",
                typed=True,
            )
        )
    return found[0]
