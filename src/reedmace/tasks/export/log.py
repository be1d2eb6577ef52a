"""What went to whom, when, and what they said of having received it."""

from __future__ import annotations

from collections import Counter
from typing import Any, NamedTuple

from reedmace.faults import Fault, Refused, did_you_mean
from reedmace.ledger.store import Ledger
from reedmace.ledger.submissions import WITHDRAWN, Receipt, Submission


class Sent(NamedTuple):
    """One submission, by the name of its recipient and its number among those to them; its receipts."""

    recipient: str
    number: int
    submission: Submission
    receipts: tuple[Receipt, ...]

    @property
    def withdrawn(self) -> int:
        """How many records it withdrew."""
        return sum(told == WITHDRAWN for told in self.submission.sent.values())

    def as_json(self) -> dict[str, Any]:
        """Give it as plain values."""
        one = self.submission
        return {
            "id": one.id,
            "recipient": self.recipient,
            "number": self.number,
            "made_at": one.made_at,
            "file": one.file_name,
            "format": one.format,
            "sha256": one.digest,
            "rows": one.rows,
            "withdrawn": self.withdrawn,
            "follows": one.previous or None,
            "records": list(one.sent),
            "how": dict(one.how),
            "receipts": [
                {"loaded": receipt.loaded, "of": receipt.of, "note": receipt.note, "written_at": receipt.written_at}
                for receipt in self.receipts
            ],
        }


def export_log(ledger: Ledger, recipient: str | None) -> list[Sent]:
    """Give what was sent, the oldest first, to everybody or to one; raises Refused for a name that got nothing."""
    numbers: Counter[str] = Counter()
    found = []
    for submission in ledger.submissions():
        name = ledger.people.name_of(submission.recipient)
        numbers[name] += 1
        found.append(Sent(name, numbers[name], submission, tuple(ledger.receipts(submission.id))))
    if recipient is None:
        return found
    wanted = [one for one in found if one.recipient.casefold() == " ".join(recipient.split()).casefold()]
    if not wanted:
        hint = did_you_mean(recipient, numbers, "see everybody with  reedmace export log")
        raise Refused(Fault("unknown-recipient", "Nothing was sent to this recipient.", hint, recipient, typed=True))
    return wanted
