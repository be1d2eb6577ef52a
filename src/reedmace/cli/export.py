"""`reedmace export`: a season as a Darwin Core file."""

from __future__ import annotations

from pathlib import Path

import click

from reedmace.cli.options import ledger_option


@click.command(name="export")
@click.option(
    "--season",
    type=click.IntRange(1600, 2999),
    metavar="YEAR",
    help="One year's sightings; all when left out.",
)
@click.option(
    "--to",
    "to",
    type=click.Path(path_type=Path),
    required=True,
    metavar="FILE",
    help="The file to write, ending in .csv.",
)
@click.option(
    "--licence",
    type=click.Choice(["cc0", "cc-by", "cc-by-nc"]),
    default="cc-by",
    show_default=True,
    help="What others may do with the records.",
)
@click.option("--dataset", metavar="NAME", default="", help="A name for the whole, such as your garden's or group's.")
@click.option("--force", is_flag=True, help="Replace the file if it is there.")
@ledger_option
def command(season: int | None, to: Path, licence: str, dataset: str, force: bool, ledger_name: str | None) -> None:
    """Write a season as a Darwin Core CSV file for a county recorder.

    Every record keeps its identifier for ever; the same ledger gives the same file, byte for byte. The exact
    places of protected species are in it: send it to the county recorder, do not publish it.
    """
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.export_season import export_season
    from reedmace.terminal.plain import literal
    from reedmace.terminal.words import plural

    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        rows = export_season(ledger, season, to, licence=licence, dataset=dataset, overwrite=force)
    click.echo(f"{plural(rows, 'record')} written to {literal(str(to))}")
