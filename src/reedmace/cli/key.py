"""`reedmace key`: the conversation."""

from __future__ import annotations

from typing import TYPE_CHECKING, NoReturn

import click

from reedmace.cli.options import by_option, key_option, ledger_option, load, looking_options, setting_options

if TYPE_CHECKING:
    from reedmace.tasks.naming.conversation import State


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
    At the end it offers to log the sighting, and shows the record before it is written.

    \b
      reedmace key
      reedmace key --place "SU 431 118" --habitat garden-pond
    """
    from reedmace.cli.asking import Back, read_line
    from reedmace.cli.log_offer import offer_to_log
    from reedmace.cli.surroundings import today
    from reedmace.scoring.tables import Tables
    from reedmace.tasks.naming.conversation import begin, step
    from reedmace.tasks.naming.replies import Standing
    from reedmace.tasks.shared.setting import read_setting
    from reedmace.terminal.screen import Screen
    from reedmace.terminal.talk import show_beginning, show_reply

    key = load(key_name)
    setting = read_setting(key, when or "today", place, habitat, flat=flat, today=today())
    screen = Screen()
    state = begin(Tables(key, eye), setting, today())
    show_beginning(screen, state.named)
    while True:
        cut_off = False
        while not state.ended:
            line = read_line(_prompt(state))
            cut_off = line is None and state.open is not None
            state, replies = step(state, "done" if line is None else line)
            for reply in replies:
                show_reply(screen, reply)
        if cut_off:  # what was answered counts, but whoever piped a file of answers learns that it is not whole
            _unfinished()
        verdict = state.named.assessment.verdict
        if state.ended != "done" or verdict.word in ("open", "outside") or not state.answers:
            return
        try:
            offer_to_log(screen, state.named, ledger_name, by)
        except Back:
            state = state._replace(ended="")
            show_reply(screen, Standing(state.named, "", None))
            continue
        return


def _prompt(state: State) -> str:
    return "> " if state.open is None else f"{state.key.characters[state.open].id}> "


def _unfinished() -> NoReturn:
    """End where the input ended in the middle of a question."""
    from reedmace.cli.output import columns
    from reedmace.terminal.walk_text import wrapped

    told = "The input ended in the middle of a question, which is not answered."
    click.echo("\n".join(("", *wrapped([told], columns()))), err=True)
    raise SystemExit(130)
