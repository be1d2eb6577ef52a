"""The visit or sighting that is meant by an id, or by the last signs of one as `ledger list` shows them."""

from __future__ import annotations

from collections.abc import Sequence

from reedmace.faults import Fault, Refused
from reedmace.ledger.store import Ledger

_SHOWN = 12  # signs of an id in a list


def subjects(ledger: Ledger, typed: Sequence[str]) -> list[str]:
    """The ids meant; raises Refused with a fault for each that is none, or more than one."""
    found, faults = [], []
    for text in typed:
        meant = ledger.subjects_ending(text.strip().removeprefix("…")) if text.strip() else ()
        if len(meant) == 1:
            found.append(meant[0])
        elif meant:
            ends = ", ".join(one[-_SHOWN:] for one in meant)
            faults.append(
                Fault("ambiguous-id", "Several ids end like this.", f"give more of it: {ends}", text, typed=True)
            )
        else:
            faults.append(
                Fault(
                    "not-recorded",
                    "There is nothing with this id.",
                    "see the ids with  reedmace ledger list",
                    text,
                    typed=True,
                )
            )
    if faults:
        raise Refused(*faults)
    return list(dict.fromkeys(found))
