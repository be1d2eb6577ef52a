"""`reedmace key`: the conversation."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from reedmace.cli.options import by_option, key_option, ledger_option, load, looking_options, setting_options

if TYPE_CHECKING:
    from reedmace.tasks.naming.conversation import State
    from reedmace.terminal.screen import Screen


@click.command(name="key")
@setting_options
@looking_options
@key_option
@ledger_option
@by_option
def command(
    when: str | None,
    place: str | None,
    habitat: str | None,
    eye: str,
    flat: bool,
    key_name: str | None,
    ledger_name: str | None,
    by: str | None,
) -> None:
    """Name an insect in a conversation.

    Any question in any order; the best next look is offered with its reason. Works with piped input too.
    At the end it offers to log the sighting.

    \b
      reedmace key
      reedmace key --place "SU 431 118" --habitat garden-pond
    """
    from reedmace.cli.surroundings import today
    from reedmace.scoring.tables import Tables
    from reedmace.tasks.naming.conversation import begin, step
    from reedmace.tasks.shared.setting import read_setting
    from reedmace.terminal.screen import Screen
    from reedmace.terminal.talk import show_beginning, show_reply

    key = load(key_name)
    setting = read_setting(key, when or "today", place, habitat, flat=flat, today=today())
    screen = Screen()
    cut_off = False
    state = begin(Tables(key, eye), setting, today())
    show_beginning(screen, state.named)
    while not state.ended:
        line = read_line(_prompt(state))
        cut_off = line is None and state.open is not None
        state, replies = step(state, "done" if line is None else line)
        for reply in replies:
            show_reply(screen, reply)
    if cut_off:  # what was answered counts, but whoever piped a file of answers learns that it is not whole
        from reedmace.cli.output import columns
        from reedmace.terminal.walk_text import wrapped

        told = "The input ended in the middle of a question, which is not answered."
        click.echo("\n".join(("", *wrapped([told], columns()))), err=True)
        raise SystemExit(130)
    if state.ended == "done":
        _offer_to_log(screen, state, ledger_name, by)


def _prompt(state: State) -> str:
    return "> " if state.open is None else f"{state.key.characters[state.open].id}> "


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


def _offer_to_log(screen: Screen, state: State, ledger_name: str | None, by: str | None) -> None:
    from reedmace.cli.asking import ask_and_log

    verdict = state.named.assessment.verdict
    if verdict.word in ("open", "outside") or not state.answers:
        return
    screen.blank()
    answer = read_line("Log this sighting? [y/N] ")
    if answer is None or answer.strip().casefold() not in ("y", "yes"):
        return
    ask_and_log(screen, state.named, ledger_name, by)
