"""What a file of answers came to."""

from __future__ import annotations

from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.records.verification import Verification
from reedmace.tasks.replies.match import Found
from reedmace.tasks.replies.offers import Offer
from reedmace.tasks.sheets.rows import Row

Faulty = list[tuple[Row, tuple[Fault, ...]]]
"""Rows that come back, each with its faults."""


class Answered(NamedTuple):
    """One row's answer about one record, and what it offers to correct. `verifier` is a name.

    `stated` says that the row has a decision in words, `given` is the scientific name in it. `there` says that the
    ledger holds this answer already, and `reply` is its entry's id there. `overwritten` are the fields of the offers
    that stand in columns that were sent; `turned` says that the date came back with day and month turned.
    """

    row: Row
    found: Found
    verifier: str
    said: Verification
    offers: tuple[Offer, ...]
    stated: bool = True
    given: str = ""
    there: bool = False
    reply: str = ""
    overwritten: tuple[str, ...] = ()
    turned: bool = False

    @property
    def of_another_name(self) -> bool:
        """Whether it was about a name that the record has no more, and says nothing of the one that it has."""
        return not self.said.holds_for(self.found.sighting.taxon.scientific_name)


class Read(NamedTuple):
    """What a file came to: answers, faulty rows with their faults, how many rows, and how many without an answer."""

    answers: tuple[Answered, ...]
    faulty: tuple[tuple[Row, tuple[Fault, ...]], ...]
    rows: int
    silent: int

    @property
    def by_words(self) -> tuple[Answered, ...]:
        """The answers whose record was found by name, date and place, to be confirmed."""
        return tuple(one for one in self.answers if not one.found.by_id)
