"""A receipt for a submission: found by the end of its id, kept apart from what was decided about any record."""

from __future__ import annotations

from collections.abc import Callable

from reedmace.faults import Fault, Refused
from reedmace.ledger.store import Ledger
from reedmace.ledger.submissions import Receipt, Submission


def take_receipt(
    ledger: Ledger,
    typed: str,
    said: tuple[int, int, str],
    person: str,
    written_at: str,
    new_id: Callable[[], str],
) -> Submission:
    """Keep "loaded n of m", with a remark, for the submission whose id is or ends in what was typed; gives it."""
    loaded, total, note = said
    found = find_submission(ledger, typed)
    ledger.acknowledge(Receipt(found.id, loaded, total, note.strip()), person, written_at, new_id)
    return found


def find_submission(ledger: Ledger, typed: str) -> Submission:
    """Give the one submission meant; raises `Refused` for none or several."""
    plain = typed.strip().removeprefix("…").casefold()
    everything = ledger.submissions()
    found = [one for one in everything if plain and one.id.casefold().endswith(plain)]
    exact = [one for one in found if one.id.casefold() == plain]
    if len(exact or found) == 1:
        return (exact or found)[0]
    if found:
        ends = ", ".join(one.id[-12:] for one in found[:4])
        hint = f"give more of it: {ends}"
        raise Refused(Fault("ambiguous-id", "Several submissions end like this.", hint, typed, typed=True))
    hint = "see what was sent with  reedmace export log" if everything else "nothing was sent from this ledger yet"
    raise Refused(Fault("unknown-submission", "There is no submission with this id.", hint, typed, typed=True))
