"""The covering page of exactly what one export sends: its records, its file, what was asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from reedmace.darwincore import digest_of
from reedmace.faults import Fault, Refused
from reedmace.ledger.store import Ledger
from reedmace.reports.covering import Sent, covering_page
from reedmace.reports.document import Page
from reedmace.tasks.export.changes import held, since, submissions_to
from reedmace.tasks.export.choice import Chosen, chosen
from reedmace.tasks.export.closed import Closed
from reedmace.tasks.export.cover_season import CoverSaid, cover_season
from reedmace.tasks.export.profiles import Choose, ExportProfile
from reedmace.tasks.export.season import Asked, Exported, asked_for, number_of
from reedmace.tasks.export.unstated import Unstated
from reedmace.tasks.shared.write_page import page_room, write_page


def cover_allowed(asked: Asked, to: str) -> None:
    """Raise `Refused` where the page cannot be written, or would tell what the export itself keeps back."""
    profile = asked.profile
    if profile.public or profile.precision:
        what = (
            "a public version does not" if profile.public else f"an export no finer than {profile.precision} does not"
        )
        said = f"A covering page names exact places and people, which {what}."
        hint = "leave out  --cover  here; write it with an export for the county recorder"
        raise Refused(Fault("cover-tells", said, hint, to, typed=True))
    page_room(to, asked.overwrite)


def write_cover(
    to: str, ledger: Ledger, asked: Asked, done: Exported, sending: bool, silent: Sequence[Unstated] = ()
) -> None:
    """Write the covering page of an export that was just made; none where there was nothing to send.

    `sending` says whether the export is to be noted as sent. Raises `Refused` where the page cannot be written.
    """
    if done.rows or not asked.since_last:
        write_page(to, cover_export(ledger, asked, done, sending, silent), asked.overwrite)


def cover_export(ledger: Ledger, asked: Asked, done: Exported, sending: bool, silent: Sequence[Unstated] = ()) -> Page:
    """Give the covering page of an export that was just made; `silent` is what was left out for what it does not say.

    Its changes are counted from the submission before this one, even where this one was noted already.
    """
    assert asked.grounds is not None
    before = submissions_to(ledger, asked.recipient) if asked.recipient else []
    number = number_of(before, done)
    before = before[: number - 1]
    rows = _rows(ledger, asked)
    closed = Closed(ledger)
    concerns = asked_for(ledger, asked) if asked.since_last else None
    unchanged = 0
    if asked.since_last:
        holds = held(before)
        news = list(since(ledger, holds, rows(), closed, concerns))
        ids = {one.sighting.id for one in news}
        unchanged = sum(row[0].id in holds and row[0].id not in ids for row in rows())
        told = [one[:3] for one in news if one.change != "withdrawn"]
        rows = lambda: told  # noqa: E731
    me = ledger.people.me()
    recipient = ledger.people.name_of(asked.recipient) if asked.recipient else ""
    said = CoverSaid(
        _title(asked),
        ledger.people.name_of(me) if me else "",
        recipient,
        _period(asked),
        asked.today.isoformat(),
    )
    cover = cover_season(ledger, asked.grounds, rows, said, before, concerns)
    if asked.since_last:
        cover = cover._replace(unchanged=unchanged)
    what = "row" if done.sheet else "record"
    facts = [
        ("File", f"{asked.to.name}, {done.rows:,} {what}{'' if done.rows == 1 else 's'}"),
        ("SHA-256", done.digest or digest_of(asked.to)),
        ("Submission", f"number {number}" if sending else ""),
        ("Chosen", "; ".join(_choice(asked.profile, closed))),
        ("Left out", "; ".join(map(_left_out, silent))),
    ]
    return covering_page(cover, Sent(tuple((name, text) for name, text in facts if text), asked.since_last))


def _rows(ledger: Ledger, asked: Asked) -> Callable[[], Iterable[Chosen]]:
    return lambda: chosen(ledger, asked.profile.choose, asked.season, asked.today, asked.called)


def _left_out(one: Unstated) -> str:
    """Say how many records may belong to this choice and do not say so, and that they can follow."""
    which, state, they = (
        ("1 record", "states", "it follows")
        if one.records == 1
        else (f"{one.records:,} records", "state", "they follow")
    )
    return f"{which} that {state} {one.why}; {they} once that is stated"


def _title(asked: Asked) -> str:
    of = f" of {asked.season}" if asked.season else ""
    name = asked.profile.dataset or f"Records{of}"
    return f"{name}: what is new, changed or withdrawn" if asked.since_last else name


def _period(asked: Asked) -> str:
    choose = asked.profile.choose
    words = [
        str(asked.season) if asked.season else "",
        f"from {choose.since}" if choose.since else "",
        f"until {choose.until}" if choose.until else "",
    ]
    return " ".join(filter(None, words)) or "all years"


def _choice(profile: ExportProfile, closed: Closed) -> Iterator[str]:
    """Say in words what was asked for beside the period."""
    choose: Choose = profile.choose
    for name, values in (
        ("vice-county", choose.vice_counties),
        ("place", ["one that nobody else may see" if closed.asked_for(one) else one for one in choose.places]),
        ("species", choose.species),
    ):
        if values:
            yield f"{name} {' or '.join(values)}"
    if choose.certainty != "all":
        yield "names that are certain" if choose.certainty == "certain" else "names that are at least probable"
    if choose.status:
        yield {"recorded": "never amended", "amended": "amended since", "diverged": "different in two copies"}[
            choose.status
        ]
