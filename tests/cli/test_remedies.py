"""Every line of ours that begins with the program's name can be typed: its command, options and arguments are there."""

from __future__ import annotations

import ast
import re
import shlex
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import click
import pytest

import reedmace
from reedmace.cli.main import cli

SOURCES = Path(reedmace.__file__).parent
# A line to type stands at the beginning, behind two blanks or behind a colon; a name in prose is no line.
BEGINS = re.compile(r"(?:^|(?<=\n)|  |: |[`\"(])reedmace (?=[a-z-])")
ENDS = re.compile(r"  | [;,] |[`\n]|[;,.]?$")
PLACEHOLDER = "XXX"


class Line(NamedTuple):
    """A line to type, and where it is written; `whole` where it is not only a command's name in backticks."""

    text: str
    where: str
    whole: bool


def texts(tree: ast.AST) -> Iterator[tuple[str, int]]:
    """Every text of a module; what is filled in stands as a placeholder."""
    within = {id(part) for one in ast.walk(tree) if isinstance(one, ast.JoinedStr) for part in one.values}
    for one in ast.walk(tree):
        if isinstance(one, ast.JoinedStr):
            parts = [part.value if isinstance(part, ast.Constant) else PLACEHOLDER for part in one.values]
            yield "".join(map(str, parts)), one.lineno
        elif isinstance(one, ast.Constant) and isinstance(one.value, str) and id(one) not in within:
            yield one.value, one.lineno


def lines_of(text: str, where: str) -> Iterator[Line]:
    """The lines to type within a text."""
    for begin in BEGINS.finditer(text):
        sign = text[begin.end() - len("reedmace ") - 1] if begin.end() > len("reedmace ") else ""
        rest = text[begin.end() :]
        end = rest.find(sign) if sign in ('"', "`") and sign in rest else ENDS.search(rest).start()  # type: ignore[union-attr]
        yield Line(rest[:end].strip(), where, sign not in ('"', "`"))


def collected() -> Iterator[Line]:
    """Every line to type in our sources."""
    for path in sorted(SOURCES.rglob("*.py")):
        for text, at in texts(ast.parse(path.read_text(encoding="utf-8"))):
            yield from lines_of(text, f"{path.relative_to(SOURCES)}:{at}")


def refusal(line: Line) -> str:
    """Why a line would be refused; empty where it is taken."""
    words = shlex.split(line.text)
    command: click.Command = cli
    path = ["reedmace"]
    if words[0] == "help":  # a word before any command
        words.pop(0)
    while isinstance(command, click.Group) and words and not words[0].startswith("-"):
        below = command.get_command(click.Context(command), words[0])
        if below is None:
            if not command.invoke_without_command:
                return f"no command {' '.join(path)} {words[0]}"
            break
        command = below
        path.append(words.pop(0))
    if not line.whole:
        return ""
    parser = command.make_parser(click.Context(command, info_name=" ".join(path)))
    try:
        given, rest, _ = parser.parse_args(list(words))
    except click.UsageError as error:
        return error.format_message()
    if rest and not isinstance(command, click.Group):
        return f"too much: {' '.join(rest)}"
    lacking = [str(one.name) for one in command.params if one.required and not _given(given.get(one.name or ""))]
    return f"lacks {', '.join(lacking)}" if lacking else ""


def _given(value: object) -> bool:
    """Whether there is a word for it: a sign of click's own stands for none."""
    return isinstance(value, str | list | tuple) and bool(value)


ALL = list(collected())


def test_there_are_lines_to_type_in_hints_and_in_remedies_of_queries() -> None:
    """The search finds them, with placeholders and without."""
    found = {line.text for line in ALL}
    assert len(found) > 60
    for wanted in ("people", "ledger settle", f'ledger withdraw {PLACEHOLDER} --reason "written twice"'):
        assert wanted in found


@pytest.mark.parametrize(
    "text",
    [
        "see  reedmace peeple",
        "do it:  reedmace ledger withdraw",
        "do it:  reedmace ledger withdraw ID",
        "do it:  reedmace ledger undo --now",
        "go back with:  reedmace ledger restore",
        "see  reedmace people shows them",
    ],
)
def test_a_line_that_would_be_refused_is_found(text: str) -> None:
    """Commands, options, arguments that are lacking, and words too many."""
    [line] = lines_of(text, "here")
    assert refusal(line)


@pytest.mark.parametrize("line", ALL, ids=lambda line: f"{line.where} {line.text[:40]}")
def test_every_line_to_type_is_one_that_is_taken(line: Line) -> None:
    """Command and options are there, and for all that is required there is a word or a placeholder."""
    assert refusal(line) == ""
