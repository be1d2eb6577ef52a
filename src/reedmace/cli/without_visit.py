"""Sightings whose visit is not there: they stand in no list and no export, and that is said."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from reedmace.ledger.store import Ledger


def tell_without_visit(ledger: Ledger) -> None:
    """Say how many sightings are passed over, beside the results."""
    number = ledger.without_visit()
    if number:
        what = "1 sighting is" if number == 1 else f"{number} sightings are"
        whose = "its visit is" if number == 1 else "their visits are"
        click.echo(f"{what} left out, for {whose} not there; see  reedmace ledger audit", err=True)
