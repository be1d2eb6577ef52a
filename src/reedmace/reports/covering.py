"""The covering page of a season: what was sent, what is worth a second look, and what is still open.

Pure functions of a summary; who makes the summary: tasks/export/cover_season.py.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from reedmace.reports.document import Block, Facts, Heading, Items, Page, Paragraph, Table


def marked(name: str, doubt: str) -> str:
    """Give a name with the sign of its doubt: `Migrant Hawker ?`, `Migrant Hawker (probable)`."""
    return f"{name} {doubt if doubt == '?' else f'({doubt})'}" if doubt else name


def species_words(certain: int, in_doubt: int, rejected: int) -> str:
    """Give how many species, others apart: `12, 2 more in doubt, 1 more answered incorrect`."""
    others = ((in_doubt, "in doubt"), (rejected, "answered incorrect"))
    return ", ".join([f"{certain:,}", *(f"{number:,} more {what}" for number, what in others if number)])


class SpeciesLine(NamedTuple):
    """One name: records, the most on one visit (None where none was counted), first and last day, sites.

    The most is of insects that fly, be they of several records; of cast skins and larvae where there was nothing else.

    `doubt` is the sign of a name that is not certain (`?`, `probable`, `cf.`), or that the county recorder answered as
    incorrect (`answered incorrect`); such a name has a line of its own.
    """

    name: str
    scientific_name: str
    records: int
    most: int | None
    first: str
    last: str
    sites: int
    doubt: str = ""

    @property
    def shown(self) -> str:
        """The name as it is shown."""
        return marked(self.name, self.doubt)


class Notable(NamedTuple):
    """One record worth a second look: why, its evidence, and the key's answers in short."""

    id: str
    what: str
    when: str
    where: str
    who: str
    why: tuple[str, ...]
    evidence: str
    key: str = ""
    remarks: str = ""


class OpenQuery(NamedTuple):
    """A doubt that stands open: its code, what it says of which record, and what to do about it."""

    code: str
    what: str
    day: str
    reason: str
    remedy: str


class AnsweredQuery(NamedTuple):
    """A doubt that was answered, with the answer and who gave it."""

    code: str
    what: str
    day: str
    answer: str
    who: str


class First(NamedTuple):
    """One record of a name that is new to the records, or to its site, and nothing else is to be said of it."""

    what: str
    day: str
    why: str
    evidence: str


class Changed(NamedTuple):
    """One record that is otherwise than it was sent: new, changed or withdrawn, with the reason where there is one.

    `here` says whether it is among the records that the page is about.
    """

    how: str
    what: str
    reason: str = ""
    here: bool = True


class Cover(NamedTuple):
    """All that a covering page says. `period` is the season in words, `made_on` a day; days are ISO dates.

    `species` are those with a certain name, `in_doubt` those without one, `rejected` those of which every name was
    answered as incorrect by the county recorder. `undated` counts records without a day.
    `since` says what the changes are counted from, "" where nothing was sent before. `sensitive` and `care` are
    sentences; `left` counts queries beyond those told.
    """

    title: str
    sender: str
    recipient: str
    period: str
    made_on: str
    records: int
    species: int
    visits: int
    days: int
    sites: int
    observers: int
    lines: tuple[SpeciesLine, ...] = ()
    notable: tuple[Notable, ...] = ()
    firsts: tuple[First, ...] = ()
    queries: tuple[OpenQuery, ...] = ()
    left: int = 0
    answered: tuple[AnsweredQuery, ...] = ()
    since: str = ""
    changes: tuple[Changed, ...] = ()
    unchanged: int = 0
    sensitive: tuple[str, ...] = ()
    care: tuple[str, ...] = ()
    key: str = ""
    undated: int = 0
    county: str = ""
    in_doubt: int = 0
    rejected: int = 0


class Sent(NamedTuple):
    """What a page says of the file that it goes with: names with values; whether it holds only what has changed."""

    facts: tuple[tuple[str, str], ...] = ()
    only_changes: bool = False


def covering_page(cover: Cover, sent: Sent | None = None) -> Page:
    """Give the page of a summary, to be written as Markdown or HTML (document.py); with `sent`, for one file."""
    return Page(cover.title, tuple(_blocks(cover, sent or Sent())))


def _blocks(cover: Cover, sent: Sent) -> Iterator[Block]:
    facts = [("From", cover.sender), ("For", cover.recipient), ("Period", cover.period), ("Made on", cover.made_on)]
    yield Facts((*((name, value) for name, value in facts if value), *sent.facts))
    yield Heading("In all")
    totals = [("Visits", cover.visits), ("Days", cover.days), ("Sites", cover.sites), ("Observers", cover.observers)]
    species = species_words(cover.species, cover.in_doubt, cover.rejected)
    more = ((name, f"{value:,}") for name, value in totals)
    yield Facts((("Records", f"{cover.records:,}"), ("Species", species), *more))
    if cover.undated:
        yield Paragraph(f"Without an exact day: {cover.undated:,} of them.")
    yield from _changes(cover, sent)
    yield from _notable(cover)
    yield from _queries(cover)
    yield from _list(cover)
    if cover.sensitive:
        yield Heading("Sensitive places")
        yield Items(cover.sensitive)
    if cover.care:
        yield Heading("Care and law")
        yield Items(cover.care)
    yield from _grounds(cover)


def _changes(cover: Cover, sent: Sent) -> Iterator[Block]:
    if not cover.since:
        return
    as_before = "As before, not sent again" if sent.only_changes else "As before"
    yield Heading("Since last time")
    yield Paragraph(f"Counted from {cover.since}. Every record keeps its identifier.")
    counts = {how: sum(one.how == how for one in cover.changes) for how in ("new", "changed", "withdrawn")}
    yield Facts(
        (*((how.capitalize(), f"{count:,}") for how, count in counts.items()), (as_before, f"{cover.unchanged:,}"))
    )
    told = tuple((_how(one), one.what, one.reason) for one in cover.changes if one.how != "new")
    if told:
        yield Table(("how", "record", "reason"), told)


def _how(one: Changed) -> str:
    return one.how if one.here or one.how == "withdrawn" else f"{one.how}, not among these"


def _notable(cover: Cover) -> Iterator[Block]:
    yield Heading("Worth a second look")
    if not (cover.notable or cover.firsts):
        yield Paragraph("None of these records is of a protected or rare species, out of range or season, or a first.")
    for one in cover.notable:
        yield Heading(one.what, 3)
        facts = [
            *(("When", one.when), ("Where", one.where), ("Who", one.who), ("Why", " ".join(one.why))),
            *(("Evidence", one.evidence or "none was noted"), ("By the key", one.key), ("Remarks", one.remarks)),
            ("Identifier", one.id),
        ]
        yield Facts(tuple((name, value) for name, value in facts if value))
    if cover.firsts:
        yield Heading("Firsts", 3)
        rows = tuple((one.what, one.day, one.why, one.evidence) for one in cover.firsts)
        yield Table(("record", "day", "why", "evidence"), rows, whole=(1,))


def _queries(cover: Cover) -> Iterator[Block]:
    yield Heading("Open queries")
    if cover.queries:
        rows = tuple((one.what, one.day, one.reason, one.remedy) for one in cover.queries)
        yield Table(("record", "day", "query", "what to do"), rows, whole=(1,))
    else:
        yield Paragraph("None.")
    if cover.left:
        yield Paragraph(f"And {cover.left:,} more:  reedmace check  shows them all.")
    if cover.answered:
        yield Heading("Answered queries", 3)
        rows = tuple((one.what, one.day, one.code, f"{one.answer} ({one.who})") for one in cover.answered)
        yield Table(("record", "day", "query", "answer"), rows, whole=(1,))


def _list(cover: Cover) -> Iterator[Block]:
    if not cover.lines:
        return
    yield Heading("What was seen")
    rows = tuple(
        (
            one.shown,
            one.scientific_name,
            f"{one.records:,}",
            "" if one.most is None else f"{one.most:,}",
            one.first,
            one.last,
            f"{one.sites:,}",
        )
        for one in cover.lines
    )
    yield Table(("name", "scientific name", "records", "most", "first", "last", "sites"), rows, (2, 3, 6), (4, 5))


def _grounds(cover: Cover) -> Iterator[Block]:
    if cover.key or cover.county:
        yield Heading("Judged by")
        yield Items(tuple(text for text in (cover.key, cover.county) if text))
