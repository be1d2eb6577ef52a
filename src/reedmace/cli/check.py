"""`reedmace check`: what is doubtful about the records."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import nullcontext
from pathlib import Path
from typing import TYPE_CHECKING

import click

from reedmace.cli.options import (
    boundaries_option,
    county_option,
    json_option,
    key_option,
    ledger_option,
    load,
    season_option,
    writer_option,
)
from reedmace.cli.output import say_json
from reedmace.faults import Fault, Refused, did_you_mean

if TYPE_CHECKING:
    from reedmace.checks.query import Grounds
    from reedmace.ledger.store import Ledger
    from reedmace.tasks.checking.check_records import Checked

FILE = click.Path(path_type=Path)


@click.command(name="check")
@click.argument("file", required=False, type=FILE)
@season_option("Records")
@county_option
@boundaries_option
@click.option("--strict", is_flag=True, help="Exit with 1 when there is any query above a note.")
@click.option("--why", metavar="CODE", help="Explain a code, and check nothing.")
@click.option("--answer", nargs=2, metavar="ID CODE", help="Answer a query of a record, with --reason.")
@click.option("--reason", metavar="TEXT", help="The answer, in a few words.")
@click.option("--ids", is_flag=True, help="Show the last characters of each record's id, for --answer.")
@click.option("--answered", is_flag=True, help="Show the queries that were answered, with their answers.")
@writer_option
@key_option
@ledger_option
@json_option
def command(
    file: Path | None,
    season: int | None,
    county: Path | None,
    boundaries: Path | None,
    strict: bool,
    why: str | None,
    answer: tuple[str, str] | None,
    reason: str | None,
    ids: bool,
    answered: bool,
    by: str | None,
    key_name: str | None,
    ledger_name: str | None,
    as_json: bool,
) -> None:
    """Show what is doubtful about the records, why, and what to do about it. Nothing is blocked.

    Without FILE the ledger is checked, with it any Darwin Core CSV or archive. A query that was answered is not shown
    again until its record is changed; --ids shows what to call a record by.

    \b
      reedmace check --season 2026 --county harrowshire.yaml
      reedmace check from-a-friend.csv --strict
      reedmace check --why out-of-season
      reedmace check --answer c1d2e4 out-of-season --reason "two of us saw it"
    """
    if why is not None:
        _explain(why, as_json=as_json)
        return
    from reedmace.cli.surroundings import ledger_path, today
    from reedmace.tasks.checking.check_file import check_file
    from reedmace.tasks.checking.judging import judging

    grounds = judging(load(key_name), today(), county, boundaries)
    if file is not None:
        from reedmace.darwincore import is_archive, occurrences_of

        with occurrences_of(file) if is_archive(file) else nullcontext(file) as table:
            _show(check_file(grounds, table), strict=strict, ids=ids, as_json=as_json)
        return
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.checking.check_records import check_ledger

    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        if answered:
            _show_answers(ledger, as_json=as_json)
        elif answer is not None:
            _answer(grounds, ledger, answer, reason, by, as_json=as_json)
        else:
            _show(check_ledger(grounds, ledger, season), strict=strict, ids=ids, as_json=as_json)


def _explain(code: str, *, as_json: bool) -> None:
    from reedmace.checks.codes import every_code

    codes = every_code()
    entry = codes.get(code.strip().casefold())
    if entry is None:
        hint = did_you_mean(code, codes, "reedmace check  shows the codes; docs/checks.md lists them")
        raise Refused(Fault("unknown-code", f'There is no query "{code}".', hint, code, typed=True))
    if as_json:
        say_json({"code": code.strip().casefold(), **entry._asdict()}, indent=2)
        return
    from reedmace.terminal.query_list import show_code
    from reedmace.terminal.screen import Screen

    show_code(Screen(), code.strip().casefold(), entry)


def _show(checked: Iterable[Checked], *, strict: bool, ids: bool, as_json: bool) -> None:
    doubts = 0
    if as_json:
        for one in checked:
            for query in one.queries:
                doubts += query.severity != "note"
                say_json(query._asdict())
    else:
        from reedmace.terminal.query_list import show_checked
        from reedmace.terminal.screen import Screen

        doubts = show_checked(Screen(), checked, ids=ids)
    if strict and doubts:
        raise SystemExit(1)


def _answer(
    grounds: Grounds, ledger: Ledger, answer: tuple[str, str], reason: str | None, by: str | None, *, as_json: bool
) -> None:
    from reedmace.cli.no_child import no_child_in
    from reedmace.cli.observing import writing_as
    from reedmace.cli.surroundings import new_id, written_at
    from reedmace.tasks.records.answer_query import answer_query
    from reedmace.terminal.plain import literal

    if not (reason or "").strip():
        hint = 'add  --reason "why it is right as it stands"'
        raise Refused(Fault("reason-missing", "An answer needs a reason.", hint, typed=True))
    no_child_in(reason or "")
    with writing_as(ledger, by, new_id) as (person, _):
        record, query = answer_query(
            grounds, ledger, *answer, reason or "", person=person, written_at=written_at(), new_id=new_id
        )
    if as_json:
        say_json({**query._asdict(), "answer": reason})
        return
    click.echo(f"Answered for {literal(record.name)}, {literal(record.visit.date or 'no date')}: {query.reason}")
    click.echo("It is not asked again until the record is changed.", err=True)


def _show_answers(ledger: Ledger, *, as_json: bool) -> None:
    from reedmace.terminal.plain import literal

    answers = ledger.answered_queries()
    for one in answers:
        if as_json:
            say_json(one._asdict())
        else:
            who = ledger.people.name_of(one.by)
            click.echo(
                f"{one.sighting[-12:]}  {one.code}: {literal(one.reason)} ({literal(who)}, {one.written_at[:10]})"
            )
    if not answers and not as_json:
        click.echo("No query was answered.")
