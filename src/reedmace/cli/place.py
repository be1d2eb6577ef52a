"""`reedmace place`: what a reference means."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from reedmace.cli.options import boundaries_option, county_option, json_option, key_option, ledger_option, load
from reedmace.cli.output import fault_values, say_json
from reedmace.faults import Fault, Refused

if TYPE_CHECKING:
    from reedmace.records import Site


@click.command(name="place", context_settings={"ignore_unknown_options": True})
@click.argument("reference", nargs=-1, required=True, metavar="REF")
@boundaries_option
@county_option
@key_option
@ledger_option
@json_option
def command(
    reference: tuple[str, ...],
    boundaries: Path | None,
    county: Path | None,
    key_name: str | None,
    ledger_name: str | None,
    as_json: bool,
) -> None:
    """What a place means: square, centre, uncertainty, region, and what a check would ask.

    REF is a grid reference, a latitude and longitude, a vice-county by number or name, or the name of a site in
    the ledger.

    \b
      reedmace place SU 431 118
      reedmace place "50.904, -1.389" --boundaries vice-counties.geojson
      reedmace place "S. Hants"
    """
    from reedmace.cli.surroundings import today
    from reedmace.tasks.checking.judging import judging
    from reedmace.tasks.shared.explain_place import explain

    typed = " ".join(reference)
    told = explain(judging(load(key_name), today(), county, boundaries), typed, _sites(ledger_name))
    if isinstance(told, Fault):
        if as_json:
            say_json({"fault": fault_values(told)})
            raise SystemExit(2)
        raise Refused(told._replace(typed=True))
    if as_json:
        say_json(told, indent=2)
        return
    _tell(told)


def _sites(ledger_name: str | None) -> list[Site]:
    """The registered sites, where there is a ledger; the command needs none."""
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.store import open_ledger

    path = ledger_path(ledger_name)
    if ledger_name is None and not path.is_file():
        return []
    with open_ledger(path, create=False) as ledger:
        return ledger.sites()


def _tell(told: dict[str, Any]) -> None:
    from reedmace.terminal.plain import literal

    queries = told.pop("queries", [])
    width = max(len(name) for name in told)
    for name, value in told.items():
        if value is not None:
            said = _in_words(value)
            click.echo(f"{name.replace('_', ' '):{width}}  {literal(said)}")
    for query in queries:
        click.echo(f"{query['severity']} {query['code']}: {literal(query['reason'])}\n  → {literal(query['remedy'])}")


def _in_words(value: Any) -> str:
    if isinstance(value, dict):
        return ", ".join(value.values())
    return ", ".join(value) if isinstance(value, list) else str(value)
