"""What tells species apart, on the screen: best mark first, by sex and age, and what to write when it can't be seen."""

from __future__ import annotations

from reedmace.keys.model import Key
from reedmace.scoring.channel import CENTRAL_95
from reedmace.tasks.naming.say_why import short_names
from reedmace.tasks.naming.tell_apart import HAND, LOOK, TOGETHER, Apart, Chapter, Mark, Pair
from reedmace.terminal.screen import Screen
from reedmace.terminal.words import EFFORTS, joined, times

MOST = 6  # marks shown of each sex and age


def show_apart(screen: Screen, key: Key, apart: Apart) -> None:
    """Pairs first (what decides), then the marks."""
    screen.say((" · ".join(key.species[one].english for one in apart.species), "bold"))
    for pair in apart.pairs:
        _pair(screen, key, pair)
    for chapter in apart.chapters:
        _chapter(screen, key, chapter)


def _pair(screen: Screen, key: Key, pair: Pair) -> None:
    one, other = key.species[pair.one].english, key.species[pair.other].english
    screen.blank()
    screen.say((f"{one} and {other}", "bold"))
    if not pair.listed:
        screen.say("Not counted as look-alikes: the first marks below will do.", indent=2)
        return
    for side, guises, mark in pair.marks:
        which = f" ({joined([key.guises[guise].title for guise in guises])})" if guises else ""
        screen.say(f"{key.species[side].english}{which}: {mark}.", indent=2, hang=2)
    titles = [key.characters[index].title.lower() for index in pair.deciding]
    if pair.how == LOOK:
        said = f"Decided by: {'; or '.join(titles)}."
    elif pair.how == HAND:
        parts = [key.characters[index].photograph for index in pair.deciding if key.characters[index].photograph]
        photograph = f", or a photograph of {parts[0]}" if parts else ""
        said = f"Only the hand settles it{photograph} ({'; or '.join(titles)})."
    elif pair.how == TOGETHER:
        said = "No one mark decides; two or more of those below together do."
    else:
        said = "Nothing that can be seen settles it."
    screen.say(said, indent=2, hang=2)
    if pair.deciding and pair.undecided:
        short = dict(zip((pair.one, pair.other), short_names([one, other]), strict=True))
        sides = [
            f"{name} {joined(titles)}"
            for side, name in short.items()
            if (titles := [key.guises[guise].title for guise in pair.undecided if key.guises[guise].species == side])
        ]
        screen.say(f"No one mark settles: {'; '.join(sides)}.", indent=2, hang=2)
    screen.say(f"When that can't be seen, write: {pair.unseen}.", indent=2, hang=2)


def _chapter(screen: Screen, key: Key, chapter: Chapter) -> None:
    screen.blank()
    names = short_names([key.species[one].english for one in chapter.species])
    screen.say((f"{chapter.title[0].upper()}{chapter.title[1:]}", "bold"))
    if not chapter.marks:
        screen.say("No mark of these is known to differ.", indent=2)
        return
    for mark in chapter.marks[:MOST]:
        character = key.characters[mark.character]
        how = f"  {times(mark.weight)} likelier; {EFFORTS[character.effort]}"
        screen.say((character.title, "cyan"), how, indent=2, hang=2)
        for name, said in zip(names, _said(key, chapter, mark), strict=True):
            if said:
                screen.say(f"{name}: {said}", indent=4, hang=2)


def _said(key: Key, chapter: Chapter, mark: Mark) -> list[str]:
    """What each species of the chapter shows: its states, or from smallest to largest."""
    character = key.characters[mark.character]
    if not character.is_number:
        return [" or ".join(character.states[state].title for state in shown) for shown in mark.shows]
    said = []
    for species in chapter.species:
        ranges = [
            character.cells[character.column[guise]]
            for guise in key.species[species].guises
            if key.guises[guise].age == chapter.age and chapter.sex in (None, key.guises[guise].sex)
        ]
        spread = [(mean - CENTRAL_95 * sd, mean + CENTRAL_95 * sd) for mean, sd in ranges]
        low, high = min(low for low, _ in spread), max(high for _, high in spread)
        said.append(f"{round(low, 1):g} to {round(high, 1):g} {character.unit}".rstrip())
    return said
