"""Prompts: ask until an answer can be used; every prompt says what an empty answer means.

No prompt takes a word of command for data: `back` goes to the question before, `quit` leaves, `?` says how to answer.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from typing import Generic, TypeVar

import click

from reedmace.faults import Fault
from reedmace.tasks.shared.prompt_words import BACK, HELP, LEAVING, plain_word, said_yes

T = TypeVar("T")

HOW = "Enter takes what stands in brackets;  back  goes to the question before,  quit  leaves and writes nothing."
NO_WAY_BACK = "This is the first question:  quit  leaves and writes nothing."


class Back(Exception):  # noqa: N818  (no error: somebody goes back)
    """Somebody typed `back` (or another word for it, `word`) at a prompt."""

    def __init__(self, word: str) -> None:
        super().__init__(word)
        self.word = word


class Left(click.Abort):
    """Somebody typed `quit` at a prompt."""


def read_line(prompt: str) -> str | None:
    """One line from the user, None at the end of input. Piped input is shown after its prompt, as if typed."""
    interactive = sys.stdin.isatty()
    if interactive:
        try:
            return input(prompt)
        except EOFError:
            return None
    line = sys.stdin.readline()
    if not line:
        return None
    line = line.rstrip("\r\n")
    click.echo(f"{prompt}{line}")
    return line


def fault_shown(fault: Fault) -> str:
    """A fault in what was typed this moment: there is no need to say where."""
    from reedmace.cli.output import columns
    from reedmace.terminal.fault_text import show_fault

    where = fault.where and fault.where._replace(file="")
    return show_fault(fault._replace(where=where), colour=False, width=columns())


def ask(
    prompt: str,
    read: Callable[[str], T | Fault],
    otherwise: T | None = None,
    *,
    needed: bool = False,
    ends: bool = False,
    back: bool = False,
    how: str = HOW,
) -> T | None:
    """Ask until the answer reads; an empty one gives `otherwise`, and `how` is what `?` says.

    The end of input stops the command, or with `ends` is an empty answer too. `quit` raises `Left`; `back` raises
    `Back` where `back` says that there is a question to go back to.
    """
    while True:
        line = read_line(prompt)
        if line is None and not ends:
            raise click.Abort
        if line is None:
            click.echo()
            return otherwise
        if not line.strip():
            if otherwise is not None or not needed:
                return otherwise
            click.echo("This is needed for a record.")
            continue
        if commanded(line, back=back):
            continue
        read_value = read(line.strip())
        if not isinstance(read_value, Fault):
            return read_value
        if plain_word(line) in HELP:
            tell(how)
        else:
            click.echo(fault_shown(read_value))


def commanded(line: str, *, back: bool) -> bool:
    """Do what a word of command says that was typed at a prompt; False for all other words."""
    word = plain_word(line)
    if word in LEAVING:
        raise Left
    if word in BACK:
        if back:
            raise Back(word)
        tell(NO_WAY_BACK)
        return True
    return False


def confirm(question: str, *, default: bool, back: bool = False) -> bool:
    """Ask for a yes or a no, in whatever words; Enter is `default`. Raises as `ask` does."""
    chosen = ask(f"{question} [{'Y/n' if default else 'y/N'}]: ", _yes_or_no, default, back=back)
    assert chosen is not None
    return chosen


def _yes_or_no(text: str) -> bool | Fault:
    said = said_yes(text)
    if said is not None:
        return said
    return Fault("answer-not-read", "This is neither a yes nor a no.", "answer  yes  or  no", text, typed=True)


class InTurn(Generic[T]):
    """Questions in turn, each adding to what was answered: `back` asks the one before, with what stood before it.

    A question is given what stands, and what stood when it was answered before, to offer that again. `keep` is told
    whatever stands.
    """

    def __init__(self, begin: T, steps: Sequence[Callable[[T, T], T]], keep: Callable[[T], None]) -> None:
        self.steps, self.keep = steps, keep
        self.stood = [begin]
        self.before: dict[int, T] = {}

    def go(self) -> T:
        """Ask what has not been answered yet. Raises `Back` from the first question."""
        while len(self.stood) <= len(self.steps):
            at = len(self.stood) - 1
            try:
                stands = self.steps[at](self.stood[at], self.before.get(at, self.stood[at]))
            except Back as typed:
                self.back(typed.word)
                continue
            self.stood.append(stands)
            self.keep(stands)
        return self.stood[-1]

    def back(self, word: str) -> None:
        """Let things stand as before the last answer. Raises `Back` where there is none.

        A question that gave what stood already was not asked.
        """
        while len(self.stood) > 1:
            gone = self.stood.pop()
            if gone is not self.stood[-1]:
                self.before[len(self.stood) - 1] = gone
                self.keep(self.stood[-1])
                return
        raise Back(word)


def tell(text: str) -> None:
    """Say a sentence, wrapped as the terminal is wide."""
    from reedmace.cli.output import columns
    from reedmace.terminal.walk_text import wrapped

    for line in wrapped([text], columns()):
        click.echo(line)
