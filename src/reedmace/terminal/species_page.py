"""One species on the screen: what the key knows of it, and from where."""

from __future__ import annotations

from typing import Any

from reedmace.keys.model import LEVELS, Key
from reedmace.keys.seasons import PERIODS
from reedmace.tasks.naming.describe_species import Description, citation, describe
from reedmace.terminal.flight_chart import show_flight
from reedmace.terminal.screen import Screen
from reedmace.terminal.words import EVIDENCE, joined

Marks = tuple[tuple[int, tuple[tuple[int, float], ...]], ...]


def show_species(screen: Screen, key: Key, species: int, sources: dict[str, dict[str, Any]]) -> None:
    """The whole page."""
    one, more = key.species[species], key.species[species].more
    screen.say((one.english, "bold"), f"  {one.name} {one.authority}")
    also = [*one.aliases, *(f"formerly {old}" for old in one.synonyms)]
    family = f"{key.families[one.family][0]} family ({one.family})"
    family = f"{family[0].upper()}{family[1:]}"
    screen.say(f"{family}{'; also called ' + ', '.join(also) if also else ''}.", indent=2)
    screen.say(f"{more.status[0].upper()}{more.status[1:].rstrip('.')}.", indent=2)
    for note in more.protection:
        when = [said for said in (note["law"], note["area"], f"as of {note['checked']}") if said]
        screen.say((note["text"], "yellow"), f" ({', '.join(when)})", indent=2)
    _sizes(screen, key, species)
    if one.flight:
        screen.blank()
        screen.say((PERIODS[key.stage].heading, "bold"))
        show_flight(screen, one.flight)
    _where(screen, key, species)
    deciding = frozenset(name for other in more.lookalikes for name in other.decided_by)
    _marks(screen, key, describe(key, species), deciding)
    _lookalikes(screen, key, species)
    for note_text in more.notes:
        screen.blank()
        screen.say(f"Note: {note_text}")
    screen.blank()
    screen.say(("Sources", "bold"))
    for name in more.sources:
        screen.say(f"{name}: {citation(sources[name])}" if name in sources else name, indent=2, hang=2)


def _sizes(screen: Screen, key: Key, species: int) -> None:
    one, more = key.species[species], key.species[species].more
    parts = []
    if one.length:
        parts.append(f"length {one.length[0]:g} to {one.length[1]:g} mm{_named(more.sources_of.get('length'))}")
    if more.hindwing:
        parts.append(
            f"hindwing {more.hindwing[0]:g} to {more.hindwing[1]:g} mm{_named(more.sources_of.get('hindwing'))}"
        )
    if parts:
        said = "; ".join(parts)
        screen.say(f"{said[0].upper()}{said[1:]}.", indent=2)


def _named(sources: tuple[str, ...] | None) -> str:
    return f" [{', '.join(sources)}]" if sources else ""


def _where(screen: Screen, key: Key, species: int) -> None:
    one, more = key.species[species], key.species[species].more
    by_level: dict[str, list[str]] = {}
    for region in key.regions:
        level = more.levels.get(region.id, "absent")
        if level != "absent":
            by_level.setdefault(level, []).append(region.title)
    screen.blank()
    screen.say(("Where", "bold"))
    for level in LEVELS:
        if level in by_level:
            screen.say(f"{level}: {joined(by_level[level])}", indent=2, hang=2)
    if not by_level:
        screen.say("not known from any region of this key", indent=2)
    titles = {habitat.id: habitat.title for habitat in key.habitats}
    for kind, word in (("main", "at home in"), ("also", "also at")):
        named = [titles[habitat] for habitat, how in one.habitats.items() if how == kind]
        if named:
            screen.say(f"{word}: {'; '.join(named)}", indent=2, hang=2)


def _marks(screen: Screen, key: Key, description: Description, deciding: frozenset[str]) -> None:
    screen.blank()
    screen.say(("Every one of them", "bold"))
    _listed(screen, key, description.shared, deciding)
    for own in description.guises:
        guise = key.guises[own.guise]
        screen.blank()
        share = f"  about {guise.share * 100:.0f} % of those seen" if guise.share < 0.995 else ""
        screen.say((f"{guise.title[0].upper()}{guise.title[1:]}", "bold"), share)
        _listed(screen, key, own.marks, deciding)
        part = f" (of {guise.photograph})" if guise.photograph and guise.evidence != "sight" else ""
        screen.say(f"A county recorder asks for: {EVIDENCE[guise.evidence]}{part}.", indent=2, hang=2)


def _listed(screen: Screen, key: Key, marks: Marks, deciding: frozenset[str]) -> None:
    """Marks, leaving out those that say only that there is nothing to see, unless that tells it from a look-alike."""
    rows = []
    for index, states in marks:
        character = key.characters[index]
        if len(states) == 1 and character.states[states[0][0]].absent and character.id not in deciding:
            continue
        said = " or ".join(
            f"{character.states[state].title}{f' ({part * 100:.0f} %)' if part < 0.995 else ''}"
            for state, part in states
        )
        rows.append([character.title, said])
    if rows:
        screen.table([("", "left"), ("", "left")], rows)


def _lookalikes(screen: Screen, key: Key, species: int) -> None:
    entries = key.species[species].lookalikes
    if not entries:
        return
    screen.blank()
    screen.say(("Look-alikes", "bold"))
    for entry in entries:
        other = key.species[entry.species].english if entry.species is not None else entry.name
        if entry.undescribed is not None:
            other = key.undescribed[entry.undescribed].english
        titles = [
            key.guises[guise].title for guise in key.species[species].guises if key.guises[guise].id in entry.guises
        ]
        which = f" ({', '.join(titles)})" if titles else ""
        unseen = f" Else write: {entry.unseen}." if entry.unseen else ""
        screen.say((other, "bold"), f"{which}: {entry.mark}.{unseen}", indent=2, hang=2)
