"""A page of notes is logged once: what of it stands in the ledger already is asked about, or refused."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from reedmace.faults import Refused

if TYPE_CHECKING:
    from reedmace.keys.model import Key
    from reedmace.ledger.store import Ledger
    from reedmace.records import Visit
    from reedmace.tasks.shorthand.page_said import PageVisit
    from reedmace.tasks.shorthand.visit_said import VisitSaid

# A visit of a page, what is said of it, and the visit in the ledger that it becomes a part of.
Walk = tuple["PageVisit", "VisitSaid", "Visit | None"]


def only_new(ledger: Ledger, key: Key, walks: Sequence[Walk], by: str | None, *, asking: bool) -> list[Walk]:
    """The walks without what stands in the ledger already; raises `Refused` where nobody can be asked about it."""
    from reedmace.cli.asking import confirm
    from reedmace.tasks.walks.already_logged import already_logged
    from reedmace.tasks.walks.told_already import in_one_line, new_page, shown, told_again
    from reedmace.terminal.plain import literal

    person = _writer(ledger, by)
    known = [already_logged(ledger, key, page, said, person, joins) for page, said, joins in walks]
    again = [one for one in known if one is not None and one.again]
    if again and (not asking or not any(one is None or not one.again or one.anew or one.header for one in known)):
        for (page, said, _), one in zip(walks, known, strict=True):
            if one is not None and one.again and one.others:
                _show_new(new_page(page, said, one))
        raise Refused(*map(told_again, again))
    left: list[Walk] = []
    for (page, said, joins), already in zip(walks, known, strict=True):
        if already is None:
            left.append((page, said, joins))
            continue
        if already.header:
            fault = told_again(already)
            click.echo(literal(fault.message))
            if not confirm("Is it another visit?", default=False):
                raise Refused(fault)
            left.append((page, said, joins))
            continue
        for number in already.numbers:
            told = (
                f"{number.seen.line.typed.strip()}  is new beside  {number.stands}  (…{number.sighting}), which stands"
            )
            click.echo(literal(told), err=True)
        if already.again:
            what = "Log only what is new?" if already.anew else "Go on without it?"
            where = literal(in_one_line(already) or already.visit.date or "")
            click.echo(where)
            if not confirm(f"{shown(already)}. {what}", default=not already.numbers):
                raise click.Abort
            if not already.anew:
                continue
            page = page._replace(lines=already.others)
        left.append((page, said._replace(notes=already.notes), already.visit))
    return left


def not_otherwise(ledger: Ledger, key: Key, walks: Sequence[Walk], by: str | None) -> None:
    """Raise `Refused` where a visit that stands says none were seen and a page says otherwise, or the reverse."""
    from reedmace.tasks.walks.none_seen import said_otherwise

    person = _writer(ledger, by)
    told = [said_otherwise(ledger, key, page, said, person, joins) for page, said, joins in walks]
    if any(told):
        raise Refused(*filter(None, told))


def _writer(ledger: Ledger, by: str | None) -> str:
    return (ledger.people.find(by) if by is not None else ledger.people.me()) or ""


def _show_new(lines: Sequence[str]) -> None:
    """The lines of a page that are new, to be copied."""
    from reedmace.terminal.plain import literal

    click.echo("What is new, as a page of its own:", err=True)
    for line in lines:
        click.echo(f"  {literal(line)}", err=True)
    click.echo("", err=True)
