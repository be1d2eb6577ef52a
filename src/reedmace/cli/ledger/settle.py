"""`reedmace ledger settle`."""

from __future__ import annotations

import click

from reedmace.cli.options import by_option, ledger_option
from reedmace.faults import Fault, Refused


@click.command(name="settle", short_help="Decide where two copies said different things.")
@click.argument("one", required=False, metavar="[ID]")
@click.option("--keep", metavar="ENTRY", help="The entry that is to stand, by its id or the last signs of it.")
@click.option("--reason", default="chosen between two copies", show_default=True, help="Why.")
@by_option
@ledger_option
def command(one: str | None, keep: str | None, reason: str, by: str | None, ledger_name: str | None) -> None:
    """Show what two copies of the ledger said differently, or choose what is to stand.

    The choice is a further entry; what was not chosen stays in the history.
    """
    from reedmace.cli.ledger.chosen import subjects
    from reedmace.cli.logging import observer
    from reedmace.cli.surroundings import ledger_path, new_id, written_at
    from reedmace.ledger.store import open_ledger
    from reedmace.terminal.ledger_list import told
    from reedmace.terminal.screen import Screen

    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        waiting = dict(ledger.diverged())
        if one is not None:
            [subject] = subjects(ledger, [one])
            waiting = {subject: waiting[subject]} if subject in waiting else {}
        if not waiting:
            click.echo("Nothing to decide.")
            return
        if keep is not None:
            if one is None:
                hint = "reedmace ledger settle ID --keep ENTRY"
                raise Refused(Fault("id-missing", "Say what is to be settled.", hint, keep, typed=True))
            [(subject, heads)] = waiting.items()
            chosen = [head for head in heads if head.entry_id.endswith(keep.strip().casefold())]
            if len(chosen) != 1:
                ends = ", ".join(head.entry_id[-12:] for head in heads)
                hint = f"one of: {ends}"
                raise Refused(Fault("no-such-choice", "This is none of the entries.", hint, keep, typed=True))
            person, _ = observer(ledger, by, new_id)
            ledger.settle(chosen[0].entry_id, reason, person, written_at(), new_id)
            standing = ledger.standing(subject)
            assert standing is not None
            click.echo(f"Stands: {told(standing[0])}")
            return
        screen = Screen()
        for subject, heads in waiting.items():
            if heads[0].kind not in ("visit", "sighting"):
                # The later one stands; the next entry of it, whatever it says, ends both.
                again = "reedmace sites add NAME PLACE --reason ..." if heads[0].kind == "site" else "save it again"
                screen.say((f"{heads[0].kind} {subject}", "bold"), hang=2)
                for head in heads:
                    who = ledger.people.name_of(head.by)
                    screen.say(
                        f"entry {head.entry_id[-12:]}, {head.act} by {who} at {head.written_at}", indent=2, hang=2
                    )
                screen.say(f"The later one stands. To settle it: {again}", indent=2, hang=2)
                continue
            records = {meta.entry_id: record for meta, record in ledger.history(subject)}
            screen.say((subject, "bold"))
            for head in heads:
                who = ledger.people.name_of(head.by)
                why = f": {head.reason}" if head.reason else ""
                said = f"entry {head.entry_id[-12:]}, {head.act} by {who} at {head.written_at}{why}"
                screen.say(said, indent=2, hang=2)
                screen.say(told(records[head.entry_id]), indent=4, hang=2)
        click.echo("Choose with:  reedmace ledger settle ID --keep ENTRY")
