"""`reedmace breeding`: breeding status, derived by rules."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from reedmace.cli.options import Year, json_option, key_option, ledger_option, load, place_option, species_option
from reedmace.cli.output import say_json

if TYPE_CHECKING:
    from reedmace.records import Sighting
    from reedmace.reports.breeding import LeftOut, Status


@click.command(name="breeding")
@species_option
@place_option
@click.option("--since", type=Year(), metavar="YEAR", help="From this year on.")
@click.option("--until", type=Year(), metavar="YEAR", help="Up to this year.")
@click.option("--rules", default="criteria-2004", show_default=True, metavar="ID", help="The rule set to go by.")
@key_option
@ledger_option
@json_option
def command(
    name: str | None,
    place: str | None,
    since: int | None,
    until: int | None,
    rules: str,
    key_name: str | None,
    ledger_name: str | None,
    as_json: bool,
) -> None:
    """Breeding status of each species at each site, over the years asked for: confirmed, probable or possible.

    It is derived from stages, sexes and behaviour by a named rule set, and the rule that fired is told with it.
    What was left out (uncertain names, those that the county recorder answered as incorrect, dates too vague) is
    told too; in JSON by objects whose status is null.

    \b
      reedmace breeding --place "Sallow Farm pond" --since 2024
    """
    from reedmace.cli.surroundings import ledger_path, today
    from reedmace.ledger.store import open_ledger
    from reedmace.ledger.wanted import Wanted
    from reedmace.reports.breeding import breeding, read_rules
    from reedmace.tasks.records.list_sightings import choice
    from reedmace.tasks.records.names_wanted import taxa_called

    rule_set = read_rules(rules)
    years = {"since": str(since) if since else None, "until": str(until) if until else None}
    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        taxa = taxa_called(ledger, load(key_name), name) if name is not None else ()
        wanted = choice(ledger, Wanted(taxa=taxa), **years, place=place, person=None, today=today())
        rows = ((row[0], row[1]) for row in ledger.current_sightings(wanted))
        verification = ledger.verifications()

        def rejected(sighting: Sighting) -> bool:
            said = verification(sighting.id)
            return said is not None and said.rejects(sighting.taxon.scientific_name)

        told = breeding(rule_set, rows, since, until, rejected)
    if as_json:
        for status in told.found:
            say_json(
                {
                    **_values(status),
                    "evidence": [one.sighting.id for one in status.evidence],
                    "rules": f"{rule_set.id} {rule_set.version}",
                }
            )
        for left in told.left_out:
            say_json({**_values(left), "status": None})
        return
    from reedmace.terminal.breeding_page import show_breeding
    from reedmace.terminal.screen import Screen

    show_breeding(Screen(), rule_set, told.found, told.left_out)


def _values(told: Status | LeftOut) -> dict[str, Any]:
    """Its values, the name called as everywhere."""
    values = told._asdict()
    return {"name": values.pop("taxon"), **values}
