"""Visits of which nothing is left, once what was seen on them was taken back."""

from __future__ import annotations

from collections.abc import Iterable

import click

from reedmace.records import Visit
from reedmace.terminal.plain import literal


def tell_emptied(visits: Iterable[Visit]) -> None:
    """Say which visits hold nothing any more, and how to take each back too."""
    for visit in visits:
        where = visit.place.locality or visit.place.square or visit.place.typed
        click.echo(
            f"Nothing is left of the visit of {visit.date or 'no date'} at {literal(where)}. To take it back too:"
        )
        click.echo(f"  reedmace ledger withdraw {visit.id[-12:]} --reason WHY")
