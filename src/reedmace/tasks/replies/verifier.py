"""Who decided, from the cell of an answer: one person, for whom nobody else is taken."""

from __future__ import annotations

from collections.abc import Callable

from reedmace.faults import Fault
from reedmace.tasks.sheets.determiners import read_determiner


def take_verifier(fields: dict[str, str], read_day: Callable[[str], str | Fault]) -> str | Fault:
    """Give the name of whoever decided; "" where the row names nobody.

    A day or year behind the name is the day of the decision, where no other cell says one.
    """
    read = read_determiner(fields.get("verifier", ""), "", read_day)
    if isinstance(read, Fault):
        if read.code != "two-determiners":
            return read
        why = "Several people are named here as those who decided."
        return Fault("two-verifiers", why, "one person answers for a decision: leave that name alone", read.said)
    if read.on and not fields.get("verified_on"):
        fields["verified_on"] = read.on
    return read.name or ""
