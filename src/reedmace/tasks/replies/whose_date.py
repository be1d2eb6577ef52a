"""Whose a date later than the sighting's is: the decision's, or the sighting's own, corrected."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from reedmace.faults import Fault
from reedmace.ledger.store import Ledger
from reedmace.tasks.replies.as_sent import AsSent
from reedmace.tasks.replies.days import day_of_reply, turned, year_of
from reedmace.tasks.replies.match import Found


def whose_date(
    ledger: Ledger, sent: AsSent, found: Sequence[Found], fields: dict[str, str], today: date
) -> Fault | None:
    """Tell of a date that may be the decision's as well as the sighting's: one with no other beside it, and later.

    One that is later than the record itself can only be the decision's, and is taken for it: nothing is seen after
    it was written down. One that was sent with the record is the sighting's.
    """
    text = fields.get("date", "")
    if not text or fields.get("verified_on") or not all(one.by_id for one in found):
        return None
    day = day_of_reply(text, today, year_of(found[0].visit) if found else None)
    if isinstance(day, Fault) or not all(one.visit.date and one.visit.date[:10] < day for one in found):
        return None
    if all(_as_sent(sent, one, text, day) for one in found):
        return None
    if all(_written_before(ledger, one, day) for one in found):
        fields["verified_on"] = fields.pop("date")
        return None
    said = "This date is later than the sighting's: it may be the day of the decision, or a correction."
    hint = 'say which, "HEADING" being that of its column:  --map "HEADING=verified_on"  or  --map "HEADING=new_date"'
    return Fault("reply-date-unclear", said, hint, text, typed=True)


def _as_sent(sent: AsSent, one: Found, text: str, day: str) -> bool:
    """Say whether a date is the record's as it was sent, with day and month turned perhaps."""
    stood = sent.stood_so(one, lambda _, visit: visit.date == day)
    return stood or sent.came_back(one, "date", text) or turned(text, one.visit.date or "")


def _written_before(ledger: Ledger, one: Found, day: str) -> bool:
    """Say whether a record was first written before a day; one more day for clocks that go by another zone."""
    written = min(meta.written_at for meta, _ in ledger.history(one.sighting.id))[:10]
    return len(day) == len(written) and date.fromisoformat(written) + timedelta(days=1) < date.fromisoformat(day)
