"""Two observers' tallies of one walk on the screen: what each wrote of a name, and how to say what it was."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from reedmace.records import Sighting, Visit
from reedmace.tasks.walks.same_insects import SameName, SameWalk, total
from reedmace.terminal.ledger_list import seen
from reedmace.terminal.ledger_list import told as told_record
from reedmace.terminal.screen import Screen
from reedmace.terminal.words import joined

_SHOWN = 12  # signs of an id


def show_same(screen: Screen, walks: Sequence[SameWalk], name_of: Callable[[str], str]) -> None:
    """One walk after another: who, what each wrote of each name, what would be kept, and a line for each choice."""
    for number, walk in enumerate(walks):
        if number:
            screen.blank()
        screen.say((f"{walk.one.date}, probably one walk:", "bold"))
        who = {visit.id: _who(visit, name_of) for visit in (walk.one, walk.other)}
        for visit in (walk.one, walk.other):
            screen.say(f"{who[visit.id]}: {told_record(visit)}", indent=2, hang=2)
        for same in walk.names:
            _show_name(screen, same, walk, who)
        ids = f"{walk.one.id[-_SHOWN:]} {walk.other.id[-_SHOWN:]}"
        screen.say("The same insects (the larger total of each name is kept as a whole):", indent=2, hang=2)
        screen.say(f"reedmace ledger same {ids} --larger", indent=4)
        screen.say("Different insects (all stands; it is not asked again):", indent=2, hang=2)
        screen.say(f"reedmace ledger same {ids} --different", indent=4)
    if not walks:
        screen.say("Nothing to decide.")


def _show_name(screen: Screen, same: SameName, walk: SameWalk, who: dict[str, str]) -> None:
    first = same.larger[0]
    stage = f" ({first.stage})" if first.stage in ("larva", "exuvia") else ""
    screen.say((f"{first.taxon.vernacular or first.taxon.scientific_name}{stage}", "bold"), indent=4)
    for visit in (walk.one, walk.other):
        kept = same.larger[0].visit_id == visit.id
        wrote = same.larger if kept else same.smaller
        keeps = "; --larger keeps this" if kept else ""
        screen.say(f"{who[visit.id]}: {_wrote(wrote)}{keeps}", indent=6, hang=2)


def _wrote(sightings: Sequence[Sighting]) -> str:
    words = [seen(one) + (" ?" if one.certainty == "uncertain" else "") for one in sightings]
    number = total(sightings)
    plain = len(sightings) == 1 and not sightings[0].pairs
    return ", ".join(words) + ("" if plain or not number else f" (together {number})")


def _who(visit: Visit, name_of: Callable[[str], str]) -> str:
    return joined([name_of(person) for person in visit.observers]) or visit.party or "nobody named"
