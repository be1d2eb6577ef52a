"""Where output goes: a rich console that never obeys user text, with a plain form for every terminal."""

from __future__ import annotations

import os
import re
import sys
import textwrap
from collections.abc import Sequence
from typing import IO, Any

from rich.cells import cell_len
from rich.console import Console
from rich.containers import Lines
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from reedmace.terminal.plain import glued, in_signs_of, lacks_signs, literal, loosened

WIDEST = 100
_TAIL = re.compile(r"(?: |\x1b\[[0-9;]*m)+$")  # blanks at the end of a line, with the colours between them


class Screen:
    """A place to print to. `width` in columns; by default the terminal's, at most `WIDEST`."""

    def __init__(self, file: IO[str] | None = None, width: int | None = None, colour: bool | None = None) -> None:
        self.file = file or sys.stdout
        terminal = self.file.isatty()
        wanted = terminal and "NO_COLOR" not in os.environ and os.environ.get("TERM") != "dumb"
        chosen = colour if colour is not None else wanted
        self.colour = chosen
        self.encoding = getattr(self.file, "encoding", None) or "utf-8"
        self.plain = lacks_signs(self.encoding)
        self.width = width or min(WIDEST, _columns() if terminal or "COLUMNS" in os.environ else 80)
        self.console = Console(
            file=self.file,
            width=self.width,
            force_terminal=chosen,
            color_system="standard" if chosen else None,
            no_color=not chosen,
            markup=False,
            highlight=False,
            emoji=False,
            legacy_windows=False,
        )

    def text(self, *parts: str | tuple[str, str]) -> Text:
        """Text from plain strings and (string, style) pairs; what users typed can go in as it is."""
        line = Text()
        for part in parts:
            words, style = (part, "") if isinstance(part, str) else part
            shown = literal_lines(words)
            line.append(in_signs_of(self.encoding, shown) if self.plain else shown, style)
        return line

    def say(self, *parts: str | tuple[str, str], indent: int = 0, hang: int = 0) -> None:
        """Print one paragraph, wrapped; `indent` columns in, its further lines `hang` columns more."""
        if not self.colour and self._plainly(parts, indent, hang):
            return
        first = self.text(*parts)
        whole = first.plain
        first.plain = glued(whole)
        lines = first.wrap(self.console, max(20, self.width - indent - hang))
        for number, line in enumerate(lines):
            line.rstrip()
            line.plain = loosened(line.plain, whole)
            margin = " " * (indent + (hang if number else 0)) if line.plain else ""
            self.console.print(Text(margin).append_text(line), soft_wrap=True)

    def _plainly(self, parts: Sequence[str | tuple[str, str]], indent: int, hang: int) -> bool:
        """The same for ASCII without colour, by the standard library: ten times as quick, and most of what is said."""
        words = "".join(part if isinstance(part, str) else part[0] for part in parts)
        if not (words.isascii() and words.isprintable()):
            return False
        room = max(20, self.width - indent - hang)
        lines = textwrap.wrap(glued(words), room, break_on_hyphens=False, drop_whitespace=True) or [""]
        for number, line in enumerate(lines):
            margin = " " * (indent + (hang if number else 0)) if line else ""
            self.file.write(f"{margin}{loosened(line, words)}\n")
        return True

    def blank(self) -> None:
        """An empty line."""
        self.console.print()

    def table(self, columns: Sequence[tuple[str, str]], rows: Sequence[Sequence[str | tuple[str, str]]]) -> None:
        """A table without lines: columns are (heading, `left` or `right`); headings empty for none."""
        shown = any(heading for heading, _ in columns)
        grid = Table(box=None, show_header=shown, header_style="bold", padding=(0, 2, 0, 0), pad_edge=False)
        for heading, side in columns:
            grid.add_column(self.text(heading), justify="right" if side == "right" else "left", overflow="fold")
        for row in rows:
            grid.add_row(*(_Cell.of(self.text(cell)) for cell in row))
        with self.console.capture() as printed:
            self.console.print(Padding(grid, (0, 0, 0, 2)))
        for line in printed.get().rstrip("\n").split("\n"):
            self.file.write(_TAIL.sub(lambda tail: tail[0].replace(" ", ""), line) + "\n")


class _Cell(Text):
    """Text in a table: a word that is longer than its column is wide is parted at its hyphens, where it has any."""

    @classmethod
    def of(cls, text: Text) -> _Cell:
        """Make a cell of a text."""
        cell = cls()
        cell.append_text(text)
        return cell

    def wrap(self, console: Console, width: int, **how: Any) -> Lines:
        """Give the lines of the cell."""
        lines = Lines()
        for part in self.divide(_hyphens(self.plain, width)):
            lines.extend(part.wrap(console, width, **how))
        return lines


def _hyphens(text: str, width: int) -> list[int]:
    """Give where words that are too long are parted: behind as few hyphens as will do, two dates behind their slash."""
    offsets: list[int] = []
    for word in re.finditer(r"\S+", text) if cell_len(text) > width else ():
        begin = word.start()
        if re.fullmatch("[0-9-]{4,10}/[0-9-]{4,10}", word[0], re.ASCII):  # two dates: whole ones, while there is room
            offsets.append(begin + word[0].index("/") + 1)
            continue
        for hyphen in re.finditer("(?<=[^-])-(?=[^-])", word[0]):
            at = word.start() + hyphen.end()
            following = re.match("[^-]*-?", text[at : word.end()])
            assert following is not None
            if cell_len(text[begin:at] + following[0]) > width:
                offsets.append(at)
                begin = at
    return offsets


def literal_lines(text: str) -> str:
    """As `literal`, but our own line breaks stay."""
    return "\n".join(literal(line) for line in text.split("\n"))


def _columns() -> int:
    import shutil

    return shutil.get_terminal_size((80, 24)).columns
