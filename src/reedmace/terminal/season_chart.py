"""The flight chart of a season on the screen: one line a name, a sign for each third of a month."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.cells import cell_len, set_cell_size

from reedmace.keys.seasons import MONTHS
from reedmace.reports.strips import ADULTS, BOTH, INITIALS, NOTHING, PEAK, SKINS, Strip, legend, reach, signs
from reedmace.terminal.plain import in_signs_of, literal
from reedmace.terminal.screen import Screen

_STYLES = {ADULTS: "bold green", BOTH: "bold green", SKINS: "bold yellow", PEAK: "", NOTHING: "dim"}
_INDENT = 2
_GAP = 2
_SEEN = 3  # the first of the legend say what was seen, the others what the book says


def show_chart(screen: Screen, rows: Sequence[Strip]) -> None:
    """The months, the names with their signs, and what the signs mean. A name too long for its column is cut."""
    if not rows:
        return
    first, end = reach(rows)
    names = [_shown(screen, row.name) for row in rows]
    widest = max(map(cell_len, names))
    wide = 2 if _INDENT + widest + _GAP + 2 * (end - first) <= screen.width else 1
    room = max(12, min(widest, screen.width - _INDENT - _GAP - wide * (end - first)))
    months = MONTHS[first // 3 : end // 3]
    heads = "".join(f"{month[:3].capitalize():6}" for month in months) if wide == 2 else ""
    heads = heads or "  ".join(INITIALS[first // 3 : end // 3])
    screen.say("Flight chart, by thirds of a month:")
    _line(screen, " " * room, (heads.rstrip(), "bold"))
    for name, row in zip(names, rows, strict=True):
        _line(screen, _fitted(screen, name, room), *_coloured(signs(row, first, end), wide))
    told = [f"{sign} {meaning}" for sign, meaning in legend()]
    for part in (told[:_SEEN], told[_SEEN:]):
        screen.say("; ".join(part), indent=_INDENT)


def _line(screen: Screen, name: str, *parts: tuple[str, str]) -> None:
    line = screen.text(" " * _INDENT + name + " " * _GAP, *parts)
    line.rstrip()
    screen.console.print(line, soft_wrap=True)


def _coloured(text: str, wide: int) -> Iterator[tuple[str, str]]:
    """Give runs of one sign with their style."""
    start = 0
    for at in range(1, len(text) + 1):
        if at == len(text) or text[at] != text[start]:
            yield text[start:at].replace(text[start], text[start] * wide), _STYLES.get(text[start], "")
            start = at


def _shown(screen: Screen, name: str) -> str:
    shown = literal(" ".join(name.split()))
    return in_signs_of(screen.encoding, shown) if screen.plain else shown


def _fitted(screen: Screen, name: str, room: int) -> str:
    """Give a name in so many columns, cut with a sign where it is longer."""
    if cell_len(name) <= room:
        return set_cell_size(name, room)
    cut = "..." if screen.plain else "…"
    return set_cell_size(set_cell_size(name, room - len(cut)).rstrip() + cut, room)
