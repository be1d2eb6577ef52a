"""What an export came to, in words and as JSON."""

from __future__ import annotations

import shlex
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from reedmace.ledger.store import Ledger
    from reedmace.ledger.submissions import Submission
    from reedmace.records import Site
    from reedmace.tasks.export.season import Asked, Exported
    from reedmace.tasks.export.unstated import Unstated


def values(
    done: Exported, asked: Asked, number: int | None, cover: str | None, silent: Sequence[Unstated]
) -> dict[str, Any]:
    """What was written, for other programs; the file is null where --since-last has nothing to tell."""
    written = bool(done.rows) or not asked.since_last
    return {
        "file": str(asked.to) if written else None,
        "rows": done.rows,
        **{word: done.changes[word] for word in ("new", "changed", "withdrawn")},
        "number": number,
        "sha256": done.digest or None,
        "two_versions": done.two_versions,
        "blurred": done.blurred,
        "cover": cover,
        "unstated": {one.what: one.records for one in silent},
    }


def say(
    ledger: Ledger, done: Exported, asked: Asked, number: int | None, cover: str | None, silent: Sequence[Unstated]
) -> None:
    """Say what was written, and what is to be known of it."""
    from reedmace.terminal.plain import literal
    from reedmace.terminal.words import plural

    if asked.since_last and not done.rows:
        when = f" since {done.previous.made_at[:10]}" if done.previous else ""
        click.echo(f"Nothing is new, changed or withdrawn{when}; no file was written.")
        _say_unstated(silent)
        return
    parts = [f"{done.changes[word]} {word}" for word in ("new", "changed", "withdrawn") if done.changes[word]]
    told = f" ({', '.join(parts)})" if parts else ""
    what = "row" if done.sheet else "record"
    click.echo(f"{plural(done.rows, what)} written to {literal(str(asked.to))}{told}")
    _say_unstated(silent)
    _say_blurred(done)
    if done.two_versions:
        which = plural(done.two_versions, "record has", "records have")
        click.echo(f"{which} two versions, and the later was written; choose with  reedmace ledger settle", err=True)
    if not done.rows:
        _say_why_none(ledger, asked)
    if cover is not None:
        click.echo(f"Covering page written to {literal(cover)}")
    if done.sheet and (done.sheet.without_code or done.sheet.lacking):
        from reedmace.terminal.export_list import show_left_out
        from reedmace.terminal.screen import Screen

        show_left_out(Screen(sys.stderr), done.sheet)
    if number is not None:
        click.echo(f"Noted as submission {number}; make it again with  --again {number}", err=True)


def _say_unstated(silent: Sequence[Unstated]) -> None:
    """Say what was left out because it says nothing of what was asked for, and how to have it say so."""
    from reedmace.terminal.words import plural

    for one in silent:
        which = f"{plural(one.records, 'record')} of {plural(one.visits, 'visit')}"
        was, states = ("was", "it states") if one.records == 1 else ("were", "they state")
        ids = [subject[-12:] for subject in one.first]
        others = f"  (then {', '.join(ids[1:])}{' ...' if one.visits > len(ids) else ''})" if ids[1:] else ""
        how = f"reedmace ledger amend {ids[0]} {one.remedy} --reason WHY"
        click.echo(f"{which} {was} left out, for {states} {one.why}. Say it:  {how}{others}", err=True)


def _say_blurred(done: Exported) -> None:
    """Say of how many records the place is not told, and how to send it in full."""
    from reedmace.terminal.plain import literal
    from reedmace.terminal.words import joined, plural

    if not done.blurred:
        return
    names = joined([site.name for site in done.sites])
    of = plural(done.blurred, "record")
    click.echo(literal(f"Of {of} the place is a square of 10 km: nobody else may see where {names} is."), err=True)
    if done.held_in_full:
        which = "1 of them has" if done.held_in_full == 1 else f"{done.held_in_full} of them have"
        click.echo(f"{which} gone to this recipient with the place before, who may have it still.", err=True)
    for site in done.sites:
        click.echo(literal(f"To send it in full:  {_opened(site)}"), err=True)


def _opened(site: Site) -> str:
    """Give what is to be typed so that the county recorder may see a site, all else of which stays as it is."""
    place = site.place
    options = [("--kind", place.kind), ("--vice-county", place.vice_county)]
    options += [("--habitat", site.habitat_typed or site.habitat), *(("--also", name) for name in site.also)]
    options += [("--remarks", site.remarks)]
    more = "".join(f" {option} {_quoted(text)}" for option, text in options if text)
    where = _quoted(place.typed or place.square or "")
    return f'reedmace sites add {_quoted(site.name)} {where}{more} --may-see "county recorder" --reason WHY'


def _quoted(text: str) -> str:
    """Give a text as one word for a shell."""
    if text and text.replace("-", "").isalnum():
        return text
    return shlex.quote(text) if any(sign in text for sign in '"$`\\!') else f'"{text}"'


def _say_why_none(ledger: Ledger, asked: Asked) -> None:
    """Say that the file has headings only, and of which years there are records."""
    from reedmace.tasks.records.tell_visit import years_recorded

    years = ", ".join(years_recorded(ledger))
    told = f"There are records of: {years}." if years else "Nothing was logged yet."
    noted = "" if asked.recipient is None else " It was not noted as sent."
    click.echo(f"No record was among those asked for; the file has nothing but headings.{noted} {told}", err=True)


def say_again(submission: Submission, same: bool, to: Path) -> None:
    """Say what was made once more."""
    from reedmace.terminal.plain import literal
    from reedmace.terminal.words import plural

    what = "the same bytes as were sent" if same else "not the same bytes as were sent"
    made = f"{plural(submission.rows, 'record')} as of {submission.made_at[:10]}"
    click.echo(f"{made} written to {literal(str(to))}: {what}")
    if not same:
        why = "a name was removed since, somebody verified a record, or this is another version of reedmace"
        click.echo(f"The records are those that were sent, but the words differ: {why}.", err=True)
