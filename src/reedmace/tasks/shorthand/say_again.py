"""What was asked for, in the words that `log` reads: the line of a visit, and lines with the names that were chosen."""

from __future__ import annotations

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.tasks.shorthand.line import Line, read_line
from reedmace.tasks.shorthand.visit_said import VisitSaid


def visit_again(said: VisitSaid, *, apart: tuple[str, ...] = ()) -> list[str]:
    """The line of a visit that was answered part by part (its times and weather are `typed`), and remarks `apart`.

    Nothing where no more than a day was said.
    """
    where = said.site.name if said.site else said.place.typed if said.place else ""
    if not (where or said.locality or said.typed or apart):
        return []
    parts = ["visit", said.day.iso if said.day else ""]
    if where:
        parts.append(f"@ {_quoted(where)}" if said.site else f"@ {where}")
    if said.locality:
        parts.append(_quoted(said.locality))
    if said.vice_county:
        parts.append(f"VC{said.vice_county}")
    if said.habitat:
        parts.append(f"habitat {_quoted(said.habitat_typed or said.habitat)}")
    if said.all_damselflies or said.all_dragonflies:
        both = said.all_damselflies and said.all_dragonflies
        parts.append("all" if both else "all dams" if said.all_damselflies else "all dragonflies")
    parts.append(said.typed)
    if said.none_seen and "none seen" not in said.typed:
        parts.append("none seen")
    return [" ".join(filter(None, parts)), *(f"# {note}" for note in apart)]


def line_again(key: Key, line: Line) -> str:
    """A line as typed, with its name in full where its words alone would be asked about again."""
    again = read_line(key, line.typed)
    if (isinstance(again, Line) and again.name.species == line.name.species) or len(line.name.species) != 1:
        return line.typed
    typed = line.typed
    name = key.species[line.name.species[0]].english
    for word in reversed(line.said.left):
        put = name if word is line.said.left[0] else ""
        typed = f"{typed[: word.start]}{put}{typed[word.end :]}"
    return " ".join(typed.split()) if not isinstance(read_line(key, typed), Fault) else line.typed


def _quoted(text: str) -> str:
    return f"“{text}”" if '"' in text else f'"{text}"'
