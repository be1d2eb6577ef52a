"""`reedmace sites`: named places that are visited again."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from reedmace.cli.lazy import Group
from reedmace.cli.options import by_option, json_option, key_option, ledger_option, load
from reedmace.cli.output import say_json
from reedmace.faults import Fault, Refused

if TYPE_CHECKING:
    from reedmace.records import Site

KINDS = ["exact", "map estimate", "centroid"]
MAY_SEE = ["everybody", "county recorder", "nobody else"]


@click.group(name="sites", cls=Group, invoke_without_command=True)
@ledger_option
@json_option
@click.pass_context
def command(context: click.Context, ledger_name: str | None, as_json: bool) -> None:
    """Named places that you visit again. Without a command: list them.

    A visit may name a site instead of a reference:  @ "Sallow Farm pond"
    """
    if context.invoked_subcommand is not None:
        return
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.store import open_ledger
    from reedmace.terminal.plain import literal

    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        found = ledger.sites()
    if as_json:
        for site in found:
            say_json(_values(site))
        return
    for site in found:
        place = site.place
        more = [place.square or place.typed, place.kind or "", f"VC {place.vice_county}" if place.vice_county else ""]
        more += [
            "" if site.may_see == "everybody" else f"for {_seen_by(site.may_see)}",
            site.habitat_typed or site.habitat,
            *(f'also "{name}"' for name in site.also),
            site.remarks,
        ]
        click.echo(literal(f"{site.name}: {', '.join(filter(None, more))}"))
    if not found:
        click.echo('No sites yet. Register one:  reedmace sites add "Sallow Farm pond" "SU 431 118"', err=True)


def _values(site: Site) -> dict[str, Any]:
    """A site for other programs, every field of it; its place without those that hold their default."""
    from reedmace.records import as_body

    return site._asdict() | {"place": as_body(site).get("place", {})}


def _seen_by(may_see: str) -> str:
    return "the county recorder only" if may_see == "county recorder" else "nobody else to see"


@command.command(short_help="Register a site, or change one.")
@click.argument("name")
@click.argument("place")
@click.option(
    "--kind", type=click.Choice(KINDS), default="centroid", show_default=True, help="What the place stands for."
)
@click.option("--vice-county", metavar="VC", help="Vice-county, by number or name.")
@click.option("--habitat", metavar="HABITAT", help="Goes with every visit that says no other.")
@click.option("--also", multiple=True, metavar="NAME", help="Another name for it; may be given again.")
@click.option(
    "--may-see", type=click.Choice(MAY_SEE), default="everybody", show_default=True, help="Who may see where it is."
)
@click.option("--remarks", default="", help="Anything else about it.")
@click.option("--reason", default="", help="Why, where a site is changed.")
@by_option
@key_option
@ledger_option
@json_option
def add(
    name: str,
    place: str,
    kind: str,
    vice_county: str | None,
    habitat: str | None,
    also: tuple[str, ...],
    may_see: str,
    remarks: str,
    reason: str,
    by: str | None,
    key_name: str | None,
    ledger_name: str | None,
    as_json: bool,
) -> None:
    """Register a site, or change the one of this name (with a --reason): visits made before keep their place.

    \b
      reedmace sites add "Sallow Farm pond" "SU 431 118" --habitat garden-pond
    """
    from reedmace.cli.log_source import options_said
    from reedmace.cli.no_child import no_child_in
    from reedmace.cli.observing import writing_as
    from reedmace.cli.surroundings import ledger_path, new_id, written_at
    from reedmace.ledger.store import open_ledger
    from reedmace.records import Site, unless_blank
    from reedmace.tasks.shorthand.places_typed import name_taken
    from reedmace.tasks.walks.log_walk import place_of_said
    from reedmace.terminal.plain import literal

    if not unless_blank(name):
        raise Refused(Fault("site-unnamed", "A site needs a name.", 'write  "Sallow Farm pond"', name, typed=True))
    key = load(key_name)
    said = options_said(key, None, place, habitat, name.strip(), vice_county, "", ())
    if said.place is None:
        raise Refused(Fault("place-missing", "A site needs a place.", 'write  "SU 431 118"', place, typed=True))
    record = place_of_said(key, said._replace(place_kind=kind))
    no_child_in(remarks, reason)
    with open_ledger(ledger_path(ledger_name)) as ledger, writing_as(ledger, by, new_id) as (person, _):
        wanted = " ".join(name.casefold().split())
        alike = [one for one in ledger.sites() if " ".join(one.name.casefold().split()) == wanted]
        # Two copies of the ledger may each have registered it: the one with the smaller id is kept, in every copy.
        before = min(alike, key=lambda one: one.id, default=None)
        named = tuple(filter(unless_blank, also))
        taken = name_taken([one for one in ledger.sites() if one not in alike], (name, *named))
        if taken is not None:
            raise Refused(taken)
        site = Site(
            before.id if before else new_id(),
            name.strip(),
            named,
            record,
            said.habitat,
            remarks,
            may_see,  # type: ignore[arg-type]
            said.habitat_typed,
        )
        if before is not None:
            if alike == [site]:
                if as_json:
                    say_json({**_values(site), "act": None})
                    return
                click.echo(literal(f"{site.name} is registered like this already."))
                return
            if not reason.strip():
                hint = 'say why, as  --reason "better reference"  ; visits made before keep their place'
                raise Refused(Fault("site-there", "There is a site of this name already.", hint, name, typed=True))
        others = [one.id for one in alike if before is not None and one.id != before.id]
        ledger.put_site(site, reason if before else "", person, written_at(), new_id, others)
    if as_json:
        say_json({**_values(site), "act": "amended" if before else "recorded"})
        return
    done = "Changed" if before else "Registered"
    click.echo(literal(f"{done}: {site.name}, {record.square or record.typed}."))
