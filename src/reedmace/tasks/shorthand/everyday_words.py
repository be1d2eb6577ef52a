"""Words of everyday, plants, weather and praise that begin some name, too: `dry`, `willow`, `Brilliant!`."""

from __future__ import annotations

from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName
from reedmace.tasks.shorthand.field_words import Word, slip
from reedmace.tasks.shorthand.line_said import Counted
from reedmace.tasks.shorthand.place_words import PLACES

# Words of everyday that may begin a name, or be its initials; with a number they are as little a name.
_EVERYDAY = frozenset(
    (
        *("for", "be", "less", "more", "down", "up", "high", "low", "west", "east", "north", "south"),
        *("dry", "wet", "off", "on", "in", "at", "by", "to", "so", "as", "out", "had", "has", "was"),
        *("were", "the", "this", "that", "then", "here", "there", "past", "far", "near", "full", "part"),
        *("half", "main", "note", "notes", "and", "but", "or", "winter", "summer", "spring", "autumn"),
        *("day", "year", "sun", "sea", "sand", "mud", "net", "man", "men"),
    )
)
_PRAISE = frozenset(("beautiful", "brilliant", "dainty", "variable"))


def everyday(key: Key, left: Sequence[Word], found: FoundName) -> Fault | None:
    """What is wrong with `dry` and `2 for`: words of everyday that are the beginning of some name, too."""
    words = [word for word in left if any(map(str.isalnum, word.plain))]
    if len(words) != 1 or found.group is not None or len(found.species) != 1:
        return None
    if words[0].plain.strip(".:!?") not in _EVERYDAY:
        return None
    return too_little(words[0].text, key.species[found.species[0]].english)


def word_alone(key: Key, found: FoundName, counted: Counted) -> Fault | None:
    """What is wrong with `willow` and `Brilliant!` alone on a page: a plant, weather or praise as often as a name."""
    words = [word for word in counted.left if any(map(str.isalnum, word.plain))]
    said = any(tally.typed or tally.sex or tally.stage or tally.behaviour for tally in counted.tallies)
    if len(words) != 1 or said or counted.remarks or found.group is not None or len(found.species) != 1:
        return None
    from reedmace.tasks.shorthand.visit_weather import FROM, SKIES  # only a word alone pays for it

    if words[0].plain.strip(".:!?") not in PLACES | SKIES | FROM | _PRAISE:
        return None
    told = too_little(words[0].text, key.species[found.species[0]].english)
    return slip(told.code, told.message, told.hint, counted.typed, words[0].start, words[0].end)


def too_little(text: str, english: str) -> Fault:
    """The fault of a word that begins the name of one species, and may as well be none."""
    message = f'"{text}" is too little of a name to be sure.'
    return Fault("ambiguous-name", message, f"did you mean {english}?", text, typed=True)
