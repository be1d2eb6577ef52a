"""`reedmace describe`: the description of a rarity."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import Any

import click

from reedmace.cli.options import json_option, key_option, ledger_option, load
from reedmace.cli.output import say_json
from reedmace.reports.description import ASKED


def _questions(command: Callable[..., Any]) -> Callable[..., Any]:
    """One option for each question that only the observer can answer."""
    for field, question in reversed(ASKED.items()):
        command = click.option(f"--{field}", metavar="TEXT", default="", help=question)(command)
    return command


@click.command(name="describe")
@click.argument("one", metavar="ID")
@click.option("--to", required=True, metavar="FILE", help="The page to write: .html or .md")
@click.option("--force", is_flag=True, help="Replace the file if it is there.")
@_questions
@key_option
@ledger_option
@json_option
def command(
    one: str, to: str, force: bool, key_name: str | None, ledger_name: str | None, as_json: bool, **said: str
) -> None:
    """Write the description of a rarity, filled from its record and from the answers given to the key.

    It tells what was seen, how each look-alike was ruled out by the answers, and what was not looked at. What only
    you can say (views, distance, light ...) is asked at a terminal; what is left empty stays as a question with room
    for an answer by hand. It claims nothing that was not answered. Nothing is written to the ledger.

    \b
      reedmace describe 0198c2a1b3d4 --to hawker.html --optics "8x42 glass"
    """
    from reedmace.cli.ledger.chosen import subjects
    from reedmace.cli.surroundings import ledger_path, today
    from reedmace.faults import Fault, Refused
    from reedmace.ledger.store import open_ledger
    from reedmace.records import Sighting, Visit
    from reedmace.reports.description import description_page
    from reedmace.scoring.tables import Tables
    from reedmace.tasks.naming.rarity_description import describe_rarity
    from reedmace.tasks.shared.write_page import page_room, write_page
    from reedmace.terminal.plain import literal

    page_room(to, force)
    key = load(key_name)
    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        [subject] = subjects(ledger, [one])
        standing = ledger.standing(subject)
        record = standing[0] if standing else None
        if not isinstance(record, Sighting):
            hint = "give the id of the sighting that is to be described"
            raise Refused(Fault("not-a-sighting", "This is a visit, which has no name.", hint, one, typed=True))
        assert standing is not None
        if standing[1].act == "withdrawn":
            said_so = "This record was withdrawn: there is nothing to describe."
            hint = f'let it stand again first:  reedmace ledger reinstate {subject} --reason "..."'
            raise Refused(Fault("withdrawn", said_so, hint, one, typed=True))
        at = ledger.standing(record.visit_id)
        assert at is not None
        assert isinstance(at[0], Visit)
        if sys.stdin.isatty():
            said = {field: text or _asked(field) for field, text in said.items()}
        eye = (record.naming.eye if record.naming else None) or "beginner"
        described = describe_rarity(ledger, Tables(key, eye), record, at[0], said, today())
    write_page(to, description_page(described), force)
    blanks = sum(not text.strip() for text in said.values()) + sum(not rival.done for rival in described.rivals)
    if as_json:
        say_json({"file": to, "questions_left": blanks})
        return
    click.echo(f"Description written to {literal(to)}")
    if blanks:
        click.echo(f"Questions left for you to answer on it: {blanks}, and what else you saw.")


def _asked(field: str) -> str:
    """Ask for what only the observer can say; the question goes to standard error, as all that is no result."""
    from reedmace.cli.asking import commanded, fault_shown
    from reedmace.faults import Fault
    from reedmace.tasks.shared.prompt_words import own_text

    while True:
        typed: str = click.prompt(ASKED[field], default="", show_default=False, err=True)
        if not typed.strip():
            return ""
        if commanded(typed, back=False):
            continue
        text = own_text(typed)
        if not isinstance(text, Fault):
            return text
        click.echo(fault_shown(text), err=True)
