"""`reedmace ledger settle`."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from reedmace.cli.options import json_option, ledger_option, writer_option
from reedmace.cli.output import say_json
from reedmace.faults import Fault, Refused

if TYPE_CHECKING:
    from reedmace.ledger.store import Ledger
    from reedmace.tasks.records.tell_diverged import Diverged


@click.command(name="settle", short_help="Decide where two copies said different things.")
@click.argument("one", required=False, metavar="[ID]")
@click.option("--keep", metavar="ENTRY", help="The entry that is to stand, by its id or the last signs of it.")
@click.option("--reason", default="chosen between two copies", show_default=True, help="Why.")
@writer_option
@ledger_option
@json_option
def command(
    one: str | None, keep: str | None, reason: str, by: str | None, ledger_name: str | None, as_json: bool
) -> None:
    """Show what two copies of the ledger said differently, or choose what is to stand.

    ID is that of a sighting, a visit or a site, or its end; a site's name will do. The choice is a further entry;
    what was not chosen stays in the history.

    \b
      reedmace ledger settle
      reedmace ledger settle 0198c2a1b3d4 --keep 7e41
    """
    from reedmace.cli.ledger.amend import tell_along
    from reedmace.cli.no_child import no_child_in
    from reedmace.cli.observing import writing_as
    from reedmace.cli.surroundings import ledger_path, new_id, written_at
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.records.naming_days import Choosing, follow_choice
    from reedmace.tasks.records.tell_diverged import choose_entry, tell_diverged, told_choice
    from reedmace.terminal.plain import literal

    if keep is not None and one is None:
        hint = "reedmace ledger settle ID --keep ENTRY"
        raise Refused(Fault("id-missing", "Say what is to be settled.", hint, keep, typed=True))
    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        waiting = tell_diverged(ledger)
        if one is not None:
            waiting = _meant(ledger, waiting, one, choosing=keep is not None, as_json=as_json)
        if keep is None or not waiting:
            _show(waiting, as_json=as_json)
            return
        chosen = choose_entry(waiting[0], keep)
        no_child_in(reason)
        with writing_as(ledger, by, new_id) as (person, _):
            others = [one.body for one in ledger.rivals(waiting[0].subject, waiting[0].kind)]
            done = ledger.settle(chosen.entry, reason, person, written_at(), new_id)
            along = follow_choice(ledger, done.subject, others, Choosing(reason, person, written_at(), new_id))
    if as_json:
        say_json({"subject": done.subject, "kept": chosen.entry, "entry": done.entry_id})
        return
    click.echo(f"Settled: {waiting[0].kind} {literal(waiting[0].title)}.")
    click.echo(f"  Kept: {literal(told_choice(chosen))}")
    for other in waiting[0].choices:
        if other.entry != chosen.entry:
            click.echo(f"  Not kept: {literal(told_choice(other))}")
    tell_along(along)


def _meant(ledger: Ledger, waiting: list[Diverged], typed: str, *, choosing: bool, as_json: bool) -> list[Diverged]:
    """Give the one that is meant, nothing where it has not diverged; raises `Refused` where there is none such.

    Of a sighting whose visit has diverged, it is the visit.
    """
    from reedmace.cli.ledger.chosen import subjects
    from reedmace.tasks.records.tell_diverged import choose_subject, of_its_visit

    found = choose_subject(waiting, typed)
    if len(found) > 1:
        ends = ", ".join(one.subject[-12:] for one in found)
        raise Refused(Fault("ambiguous-id", "Several end like this.", f"give more of it: {ends}", typed, typed=True))
    if not found and all(
        typed.strip().casefold() not in (site.id.casefold(), site.name.casefold()) for site in ledger.sites()
    ):
        [subject] = subjects(ledger, [typed])
        visit = of_its_visit(ledger, waiting, subject)
        if visit is None:
            return []
        said = "It is not this sighting that has two versions, but its visit."
        if choosing:
            hint = f"see both:  reedmace ledger settle {visit.subject[-12:]}"
            raise Refused(Fault("visit-diverged", said, hint, typed, typed=True))
        if not as_json:
            click.echo(said)
        return [visit]
    return found


def _show(waiting: list[Diverged], *, as_json: bool) -> None:
    if as_json:
        for one in waiting:
            choices = [choice._asdict() | {"says": dict(choice.says)} for choice in one.choices]
            say_json(one._asdict() | {"choices": choices})
        return
    if not waiting:
        click.echo("Nothing to decide.")
        return
    from reedmace.terminal.diverged_page import show_diverged
    from reedmace.terminal.screen import Screen

    show_diverged(Screen(), waiting)
