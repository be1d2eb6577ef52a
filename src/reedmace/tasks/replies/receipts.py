"""A receipt for a submission, by what the list of them shows; kept apart from what was decided about any record."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from reedmace.faults import Fault, Refused
from reedmace.ledger.store import Ledger
from reedmace.ledger.submissions import Receipt, Submission
from reedmace.tasks.export.log import Sent, export_log

_SHOWN = 4  # of several that may be meant
_DIGEST = 6  # signs of a digest that say which it is
_END = 4  # signs of the end of an id; fewer could be a number that nobody has


def take_receipt(
    ledger: Ledger,
    typed: str,
    said: tuple[int, int, str],
    person: str,
    written_at: str,
    new_id: Callable[[], str],
) -> Submission:
    """Keep "loaded n of m", with a remark, for the submission that was typed; gives it.

    Meant by its id or the end of that, its number where only one recipient has such a one, its file or its digest.
    """
    loaded, total, note = said
    found = find_submission(ledger, typed)
    ledger.acknowledge(Receipt(found.id, loaded, total, note.strip()), person, written_at, new_id)
    return found


def find_submission(ledger: Ledger, typed: str) -> Submission:
    """Give the one submission meant; raises `Refused` for none or several."""
    everything = export_log(ledger, None)
    found = _meant(everything, typed.strip().casefold())
    if len(found) == 1:
        return found[0].submission
    if found:
        which = [f"{one.submission.id[-12:]} ({one.recipient} {one.number})" for one in found[:_SHOWN]]
        hint = f"give its id: {', '.join(which)}{' …' if len(found) > _SHOWN else ''}"
        raise Refused(Fault("ambiguous-id", "Several submissions are meant by this.", hint, typed, typed=True))
    hint = (
        "give the id, number or file that  reedmace export log  shows"
        if everything
        else "nothing was sent from this ledger yet"
    )
    raise Refused(Fault("unknown-submission", "There is no such submission.", hint, typed, typed=True))


def _meant(everything: Sequence[Sent], typed: str) -> list[Sent]:
    """Give the submissions that something typed means: by its first reading that any answers to."""
    plain = typed.removeprefix("…")
    if not plain:
        return []
    readings: tuple[Callable[[Sent], bool], ...] = (
        lambda one: one.submission.id.casefold() == plain,
        lambda one: str(one.number) == typed,
        lambda one: one.submission.file_name.casefold() == typed,
        lambda one: len(plain) >= _END and one.submission.id.casefold().endswith(plain),
        lambda one: len(plain) >= _DIGEST and one.submission.digest.startswith(plain),
    )
    return next(filter(None, ([*filter(reads, everything)] for reads in readings)), [])
