"""`reedmace ledger same`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from reedmace.cli.options import json_option, ledger_option, writer_option
from reedmace.cli.output import say_json
from reedmace.faults import Fault, Refused

if TYPE_CHECKING:
    from reedmace.ledger.store import Ledger
    from reedmace.records import Sighting
    from reedmace.tasks.walks.same_insects import SameWalk


@click.command(name="same", short_help="Two observers' records of what are probably the same insects.")
@click.argument("visits", nargs=-1, metavar="[VISIT VISIT]")
@click.option("--larger", is_flag=True, help="They are the same: of each name the larger total is kept.")
@click.option("--different", "apart", is_flag=True, help="They are different insects: do not ask again.")
@writer_option
@ledger_option
@json_option
def command(
    visits: tuple[str, ...], larger: bool, apart: bool, by: str | None, ledger_name: str | None, as_json: bool
) -> None:
    """Show walks that two observers probably wrote down both: one day, one place, the same names.

    The larger count is the better one, never the sum. Nothing is decided for you: say for two visits whether
    what they have in common is the same (--larger: of each name all that the visit with the larger total wrote is
    kept, and what the other wrote of it is withdrawn) or not (--different).

    \b
      reedmace ledger same
      reedmace ledger same 0198c2a1b3d4 0198c2a1c5e6 --larger
    """
    from reedmace.cli.ledger.chosen import subjects
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.walks.same_insects import same_walk

    if (larger or apart) != (len(visits) == 2) or (larger and apart):
        hint = "reedmace ledger same VISIT VISIT --larger  or  --different; without any of it, to look"
        raise Refused(Fault("choice-unclear", "Give two visits and one choice.", hint, " ".join(visits), typed=True))
    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        if not visits:
            _look(ledger, as_json=as_json)
            return
        meant = subjects(ledger, visits)
        walk = same_walk(ledger, meant[0], meant[-1])
        if walk is None:
            raise Refused(_nothing(visits))
        said, gone = _note_different(ledger, walk, by) if apart else ("", _keep_larger(ledger, walk, by))
    if as_json:
        say_json(_values(walk) | {"different": apart, "withdrawn": [one.id for one in gone]})
    else:
        _tell(walk, said, gone)


def _look(ledger: Ledger, *, as_json: bool) -> None:
    """Show what there is to decide."""
    from reedmace.tasks.walks.same_insects import same_walks

    if as_json:
        for one in same_walks(ledger):
            say_json(_values(one))
        return
    from reedmace.terminal.same_page import show_same
    from reedmace.terminal.screen import Screen

    show_same(Screen(), same_walks(ledger), ledger.people.name_of)


def _tell(walk: SameWalk, said: str, gone: list[Sighting]) -> None:
    """Say what was decided: that they are different, or what was taken back and what kept."""
    from reedmace.terminal.ledger_list import told

    if said:
        click.echo(said)
        return
    for one in gone:
        click.echo(f"Taken back: {told(one)}")
    for same in walk.names:
        for one in same.larger:
            click.echo(f"Kept: {told(one)}")


def _values(walk: SameWalk) -> dict[str, Any]:
    """Two visits and, of each name that both have, the ids of the sightings; the larger total first."""
    return {
        "visits": [walk.one.id, walk.other.id],
        "names": [
            {
                "name": same.larger[0].taxon.scientific_name,
                "larger": [one.id for one in same.larger],
                "smaller": [one.id for one in same.smaller],
            }
            for same in walk.names
        ],
    }


def _nothing(visits: tuple[str, ...]) -> Fault:
    return Fault(
        "nothing-in-common",
        "No records of these two visits that stand are of the same insects.",
        "see  reedmace ledger same  for what there is to decide; what was taken back as the same is in"
        "  reedmace ledger list --status withdrawn , and stands again by  reedmace ledger reinstate ID --reason WHY",
        " ".join(visits),
        typed=True,
    )


def _note_different(ledger: Ledger, walk: SameWalk, by: str | None) -> tuple[str, list[Sighting]]:
    """Keep that two visits are of different insects; gives what to say of it, and that nothing was withdrawn."""
    from reedmace.cli.observing import writing_as
    from reedmace.cli.surroundings import new_id, written_at
    from reedmace.tasks.walks.same_insects import different, said_different

    if said_different(ledger, walk.one.id, walk.other.id):
        return "Noted already: different insects.", []
    with writing_as(ledger, by, new_id) as (person, _):
        ledger.note(different(walk.one.id, walk.other.id), person, written_at(), new_id)
    return "Noted: different insects.", []


def _keep_larger(ledger: Ledger, walk: SameWalk, by: str | None) -> list[Sighting]:
    """Withdraw what one visit wrote of a name where the other has the larger total; gives what was withdrawn."""
    from reedmace.cli.observing import writing_as
    from reedmace.cli.surroundings import new_id, written_at

    withdrawn = []
    with writing_as(ledger, by, new_id) as (person, _):
        for kept, other in ((walk.one.id, walk.other.id), (walk.other.id, walk.one.id)):
            gone = [one for same in walk.names for one in same.smaller if one.visit_id == other]
            if gone:
                reason = f"the same insects as on the visit {kept}, where no fewer were counted"
                ledger.withdraw([one.id for one in gone], reason, person, written_at(), new_id)
            withdrawn += gone
    return withdrawn
