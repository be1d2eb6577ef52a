"""`reedmace export`: a season as a file for a county recorder; and what is kept about recipients."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from reedmace.cli.lazy import LazyGroup
from reedmace.cli.options import by_option, ledger_option

if TYPE_CHECKING:
    from reedmace.tasks.export_profiles import ExportProfile

COMMANDS = {
    "profiles": ("export.profiles", "List what is kept about recipients, or show one."),
}
FILE = click.Path(path_type=Path)
SIDES = ["100 m", "1 km", "2 km", "5 km", "10 km"]


@click.group(name="export", cls=LazyGroup, lazy=COMMANDS, invoke_without_command=True)
@click.option("--season", type=click.IntRange(1600, 2999), metavar="YEAR", help="One year's sightings, else all.")
@click.option("--to", "to", type=FILE, metavar="FILE", help="The file to write: .csv, or .zip for an archive.")
@click.option("--for", "recipient", metavar="NAME", help="Who it is for; what is kept about them is used.")
@click.option("--profile", type=FILE, metavar="FILE", help="What they want, as a small YAML file.")
@click.option("--save", is_flag=True, help="Keep this for --for NAME, for the next time.")
@click.option("--since", metavar="DATE", help="From this day, month or year on.")
@click.option("--until", metavar="DATE", help="Up to this day, month or year.")
@click.option(
    "--vice-county", "counties", multiple=True, metavar="VC", help="In this vice-county; several times for more."
)
@click.option("--place", "places", multiple=True, metavar="PLACE", help="In this square, or with this in its name.")
@click.option("--species", multiple=True, metavar="NAME", help="This species, genus or group.")
@click.option("--certainty", type=click.Choice(["certain", "probable", "all"]), help="At least this sure.")
@click.option(
    "--status", type=click.Choice(["recorded", "amended", "diverged"]), help="Only those never or once amended."
)
@click.option(
    "--licence", type=click.Choice(["cc0", "cc-by", "cc-by-nc"]), help="What others may do; cc-by if not said."
)
@click.option("--dataset", metavar="NAME", help="A name for the whole, such as your garden's or group's.")
@click.option("--force", is_flag=True, help="Replace the file if it is there.")
@by_option
@ledger_option
@click.pass_context
def command(context: click.Context, /, **given: Any) -> None:
    """Write a season as a Darwin Core file, or the recipient's own sheet.

    Every record keeps its identifier for ever; the same ledger gives the same file, byte for byte. The exact
    places of protected species are in it: send it to the county recorder, do not publish it.

    \b
      reedmace export --season 2026 --to season.csv
      reedmace export --season 2026 --to 2026.zip --for "Tarn Fenwick" --save
      reedmace export --season 2027 --to 2027.zip --for "Tarn Fenwick"
    """  # noqa: D301  (\b is click's own sign: keep these lines as they are)
    if context.invoked_subcommand is not None:
        return
    if given["to"] is None:
        raise click.UsageError("Missing option '--to'. Name the file to write: --to season.csv", context)
    from reedmace.cli.surroundings import ledger_path, new_id, today, written_at
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.export_profiles import save
    from reedmace.tasks.export_season import Asked, export_season
    from reedmace.terminal.plain import literal
    from reedmace.terminal.words import plural

    with open_ledger(ledger_path(given["ledger_name"]), create=False) as ledger:
        recipient, profile = _profile(ledger, given)
        rows = export_season(ledger, Asked(given["season"], given["to"], profile, today(), given["force"]))
        if given["save"]:
            from reedmace.cli.logging import observer

            assert recipient
            person, _ = observer(ledger, given["by"], new_id)
            save(ledger, profile, recipient, person, written_at(), new_id)
    click.echo(f"{plural(rows, 'record')} written to {literal(str(given['to']))}")


def _profile(ledger: Any, given: dict[str, Any]) -> tuple[str | None, ExportProfile]:
    """Give the recipient's person id and profile: kept before, or from a file, changed by what was typed."""
    from reedmace.cli.surroundings import new_id
    from reedmace.faults import Fault, Refused
    from reedmace.tasks.export_profiles import ExportProfile, changed, profile_for, read_profile

    profile = read_profile(given["profile"]) if given["profile"] else None
    name = given["recipient"] or (profile.recipient if profile else "")
    person = None
    if name:
        kept = profile_for(ledger, name)
        if kept is not None:
            person, profile = kept[0], profile or kept[1]
        else:
            person = ledger.people.register(name, new_id)
        if profile and profile.contact:
            ledger.people.set_contact(person, profile.contact)
    elif given["save"]:
        hint = 'say who it is for:  --for "Tarn Fenwick"'
        raise Refused(Fault("recipient-missing", "A profile is kept for somebody.", hint, typed=True))
    return person, changed(profile or ExportProfile(format=1), given)
