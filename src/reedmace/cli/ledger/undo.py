"""`reedmace ledger undo`."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from reedmace.cli.options import json_option, ledger_option, writer_option
from reedmace.cli.output import say_written
from reedmace.faults import Fault, Refused

if TYPE_CHECKING:
    from reedmace.ledger.entries import EntryMeta

_CHANGED = {"amended": "amended", "redetermined": "gave another name to"}


@click.command(name="undo", short_help="Take back the last line, by a new entry.")
@click.option(
    "--reason", default="taken back by the person who wrote it", show_default=True, metavar="TEXT", help="Why."
)
@click.option("--line", is_flag=True, help="The last line, though you changed something since.")
@writer_option
@ledger_option
@json_option
def command(reason: str, line: bool, by: str | None, ledger_name: str | None, as_json: bool) -> None:
    """Take back the last line, by a new entry: nothing is deleted, the history keeps it.

    Where you amended or renamed something since, it stops: that is not what undo takes back. It stops too where
    anything of the line itself was changed or named anew since, and says by whom. With --line it takes back what only
    you have changed; what somebody else has changed is never taken back by it.
    """
    from reedmace.cli.ledger.emptied import tell_emptied
    from reedmace.cli.no_child import no_child_in
    from reedmace.cli.observing import writing_as
    from reedmace.cli.surroundings import ledger_path, new_id, written_at
    from reedmace.ledger.store import open_ledger
    from reedmace.records import Sighting
    from reedmace.tasks.records.tell_visit import emptied
    from reedmace.terminal.plain import literal

    no_child_in(reason)
    with (
        open_ledger(ledger_path(ledger_name), create=False) as ledger,
        writing_as(ledger, by, new_id) as (person, _),
    ):
        act, changed = ledger.last_act(person) or ("", "")
        if act in _CHANGED and not line:
            why = f"The last you did was no logged line: you {_CHANGED[act]} a record."
            hint = f"see  reedmace ledger history {changed[-12:]}  and amend it again; or  reedmace ledger undo --line"
            raise Refused(Fault("undo-after-change", why, hint, typed=True))
        subjects = ledger.last_line(person)
        if not subjects:
            raise Refused(
                Fault(
                    "nothing-to-undo",
                    "There is no line of yours to take back.",
                    "see  reedmace ledger list",
                    typed=True,
                )
            )
        mine = ledger.people.ids_of(ledger.people.name_of(person))
        said = []
        for subject in subjects:
            since = [meta for meta, _ in ledger.history(subject) if meta.act in _CHANGED]
            others = [meta for meta in since if meta.by not in mine]
            if others:
                raise Refused(_of_another(others[-1], ledger.people.name_of(others[-1].by)))
            if since and not line:
                raise Refused(_of_ones_own(since[-1]))
            standing = ledger.standing(subject)
            if standing and isinstance(standing[0], Sighting):
                said.append(f"{standing[0].taxon.vernacular or standing[0].taxon.scientific_name}: {standing[0].typed}")
        entries = ledger.withdraw(subjects, reason, person, written_at(), new_id)
        left = emptied(ledger, subjects)
    if as_json:
        say_written(entries, "withdrawn")
        return
    for one in dict.fromkeys(said):
        click.echo(f"Taken back: {literal(one)}")
    tell_emptied(left)
    ends = " ".join(subject[-12:] for subject in subjects)
    click.echo(f"To let it stand again:  reedmace ledger reinstate {ends} --reason WHY", err=True)


def _of_ones_own(changed: EntryMeta) -> Fault:
    """The fault of a line of which something was corrected since: the correction would go with it."""
    one = changed.subject[-12:]
    return Fault(
        "undo-after-change",
        f"You {_CHANGED[changed.act]} a record of this line since, for this reason: {changed.reason}",
        f"see  reedmace ledger history {one}  ; to take the line back with that:  reedmace ledger undo --line",
        typed=True,
    )


def _of_another(changed: EntryMeta, who: str) -> Fault:
    """The fault of a line on whose record somebody else has said something since: it is no longer one's own alone."""
    what = "given it another name" if changed.act == "redetermined" else "changed it"
    one = changed.subject[-12:]
    return Fault(
        "undo-of-anothers",
        f"{who} has {what} since your line was written, for this reason: {changed.reason}",
        f"see  reedmace ledger history {one}  ; to take it back all the same:  reedmace ledger withdraw {one}"
        " --reason WHY",
        typed=True,
    )
