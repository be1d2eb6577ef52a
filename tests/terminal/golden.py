"""Golden screens: what a screen looks like at 60 and 100 columns, without UTF-8, and in colour, kept in one file.

Set REEDMACE_WRITE_GOLDEN=1 to write the files anew; the tests then fail on purpose. Read the difference
(`git diff tests/terminal/golden`) as if somebody else had made it, and run the tests again without the switch.
"""

from __future__ import annotations

import io
import os
import re
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest
from rich.cells import cell_len

from reedmace.terminal.screen import Screen

FOLDER = Path(__file__).resolve().parent / "golden"
_ESCAPE = re.compile(r"\x1b\[[0-9;]*m")
SHOWN_ESCAPE = "\u241b"  # ␛ stands for the escape sign, so that colour can be read in the file


class Form(NamedTuple):
    """One way in which a screen is shown."""

    title: str
    width: int
    encoding: str
    colour: bool


FORMS = (
    Form("60 columns", 60, "utf-8", False),
    Form("100 columns", 100, "utf-8", False),
    Form("60 columns, ASCII", 60, "ascii", False),
    Form("100 columns, colour", 100, "utf-8", True),
)

Show = Callable[[Screen], object]


def shown(show: Show, form: Form) -> str:
    """What a screen of this form holds after `show`; a sign that the stream lacks would raise."""
    raw = io.BytesIO()
    file = io.TextIOWrapper(raw, encoding=form.encoding, errors="strict", newline="")
    show(Screen(file, form.width, form.colour))
    file.flush()
    return raw.getvalue().decode(form.encoding)


def check(name: str, show: Show) -> None:
    """Compare a screen in all its forms with its golden file."""
    parts = []
    for form in FORMS:
        text = shown(show, form)
        fits(text, form)
        parts.append(f"==== {form.title}\n{text.rstrip()}\n")
    now = "\n".join(parts).replace("\x1b", SHOWN_ESCAPE)
    path = FOLDER / f"{name}.txt"
    if os.environ.get("REEDMACE_WRITE_GOLDEN"):
        if not path.exists() or path.read_text(encoding="utf-8") != now:
            FOLDER.mkdir(exist_ok=True)
            path.write_text(now, encoding="utf-8")
            pytest.fail(f"{path.name} was written anew: read the difference, then run without the switch")
        return
    assert path.exists(), f"there is no golden file {path.name}; see tests/terminal/golden.py"
    assert now == path.read_text(encoding="utf-8")


def fits(text: str, form: Form) -> None:
    """No line is longer than the screen or ends in blanks; without colour there is no escape sign at all."""
    assert form.colour or "\x1b" not in text
    for line in _ESCAPE.sub("", text).split("\n"):
        assert line.isprintable(), f"not plain text: {line!r}"
        assert cell_len(line) <= form.width, f"{cell_len(line)} columns: {line!r}"
        assert line == line.rstrip(), f"blanks at the end: {line!r}"
