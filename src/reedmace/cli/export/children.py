"""Names of children that an export holds: told beside it, with how to take them out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from reedmace.cli.options import load

if TYPE_CHECKING:
    from reedmace.checks.query import Grounds
    from reedmace.ledger.store import Ledger
    from reedmace.tasks.export.profiles import ExportProfile

_TOLD = 5  # names, of all there are


def tell_children(ledger: Ledger, given: dict[str, Any], profile: ExportProfile) -> None:
    """Say which names in what was written may be children's. A public version has no words of records."""
    from reedmace.checks.query import grounds
    from reedmace.cli.surroundings import today
    from reedmace.tasks.export.children import children_sent
    from reedmace.tasks.records.names_wanted import taxa_called
    from reedmace.terminal.plain import literal

    if profile.public or given["again"] is not None:
        return

    def called(name: str) -> tuple[str, ...]:
        return taxa_called(ledger, load(given["key_name"]), name)

    def judged() -> Grounds:
        return grounds(load(given["key_name"]), today())

    queries = children_sent(ledger, profile.choose, given["season"], today(), called, judged)
    for one in list({query.remedy: query for query in queries}.values())[:_TOLD]:
        click.echo(literal(f"{one.sighting[-12:]}: {one.reason}"), err=True)
        click.echo(literal(f"  before it is sent, {one.remedy}"), err=True)
    if queries:
        click.echo("Whoever is none:  reedmace check --answer ID child-named --reason WHY", err=True)
