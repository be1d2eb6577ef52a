"""`reedmace ledger same`."""

from __future__ import annotations

import click

from reedmace.cli.options import by_option, ledger_option
from reedmace.faults import Fault, Refused


@click.command(name="same", short_help="Two observers' records of what are probably the same insects.")
@click.argument("visits", nargs=-1, metavar="[VISIT VISIT]")
@click.option("--larger", is_flag=True, help="They are the same: withdraw the smaller count of each.")
@click.option("--different", "apart", is_flag=True, help="They are different insects: do not ask again.")
@by_option
@ledger_option
def command(visits: tuple[str, ...], larger: bool, apart: bool, by: str | None, ledger_name: str | None) -> None:
    """Show walks that two observers probably wrote down both: one day, one place, the same names.

    The larger count is the better one, never the sum. Nothing is decided for you: say for two visits whether
    what they have in common is the same (--larger) or not (--different).
    """
    from reedmace.cli.ledger.chosen import subjects
    from reedmace.cli.logging import observer
    from reedmace.cli.surroundings import ledger_path, new_id, written_at
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.same_insects import different, same_walks
    from reedmace.terminal.ledger_list import told
    from reedmace.terminal.screen import Screen

    if (larger or apart) != (len(visits) == 2) or (larger and apart):
        hint = "reedmace ledger same VISIT VISIT --larger  or  --different; without any of it, to look"
        raise Refused(Fault("choice-unclear", "Give two visits and one choice.", hint, " ".join(visits), typed=True))
    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        if not visits:
            walks = same_walks(ledger)
            screen = Screen()
            for walk in walks:
                screen.say((f"{walk.one.date}, probably one walk:", "bold"))
                for at in (walk.one, walk.other):
                    screen.say(told(at), indent=2, hang=2)
                for pair in walk.pairs:
                    screen.say(told(pair.larger), indent=4, hang=2)
                    screen.say(f"or {told(pair.smaller)}", indent=6, hang=2)
            screen.say("Decide with:  reedmace ledger same VISIT VISIT --larger" if walks else "Nothing to decide.")
            return
        one, other = subjects(ledger, visits)
        person, _ = observer(ledger, by, new_id)
        if apart:
            ledger.note(different(one, other), person, written_at(), new_id)
            click.echo("Noted: different insects.")
            return
        walks = [walk for walk in same_walks(ledger, [one]) if {walk.one.id, walk.other.id} == {one, other}]
        if not walks:
            raise Refused(
                Fault("nothing-in-common", "These visits have nothing in common.", "see  reedmace ledger same", one)
            )
        for pair in walks[0].pairs:
            reason = f"the same insects as {pair.larger.id}, where more were counted"
            ledger.withdraw([pair.smaller.id], reason, person, written_at(), new_id)
            click.echo(f"Taken back: {told(pair.smaller)}")
