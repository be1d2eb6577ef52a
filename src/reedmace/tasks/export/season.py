"""Export a season for a recipient: what is chosen, in the form that the recipient wants, whole or not at all."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date
from pathlib import Path
from typing import NamedTuple

from reedmace.checks.query import Grounds
from reedmace.darwincore import (
    DEFAULT_COLUMNS,
    About,
    PlainLines,
    QuickRows,
    chosen_cells,
    digest_of,
    line_of,
    one_line,
    write_archive,
    write_csv,
    write_lines,
)
from reedmace.faults import Fault, Refused
from reedmace.ledger.entries import from_json, read_sighting
from reedmace.ledger.store import Ledger
from reedmace.ledger.submissions import BLURRED, Submission
from reedmace.ledger.wanted import Wanted
from reedmace.records import Site
from reedmace.tasks.export.changes import again, held, since, submissions_to
from reedmace.tasks.export.choice import Called, Test, belongs, chosen, plainly
from reedmace.tasks.export.closed import Closed
from reedmace.tasks.export.profiles import ExportProfile, FileKind, as_body, from_body
from reedmace.tasks.export.rows import LICENCES, ExportRow, Told, dataset, rows
from reedmace.tasks.export.sheet import Sheet, write_sheet

_ENDINGS: dict[str, FileKind] = {".csv": "csv", ".zip": "archive"}


class Asked(NamedTuple):
    """What is to be exported: the year (None for all), the file, how, and today's date.

    `recipient` is a person's id, None where it is for nobody in particular; `since_last` leaves out what the
    recipient was told already. `grounds` say what is sensitive; a public version needs them. `as_of` (UTC) leaves out
    what county recorders answered later; "" for now. `called` reads the names of species (see `chosen`),
    `habitat_of` gives the title of a habitat of the key by its id.
    """

    season: int | None
    to: Path
    profile: ExportProfile
    today: date
    overwrite: bool = False
    recipient: str | None = None
    since_last: bool = False
    grounds: Grounds | None = None
    as_of: str = ""
    called: Called | None = None
    habitat_of: Callable[[str], str] = str


class Exported(NamedTuple):
    """What was exported: rows, and of those since the last submission how many new, changed and withdrawn.

    `sent` is what a submission keeps; `previous` the last submission to the recipient, None where there was none;
    `digest` is the file's SHA-256, empty where it is for nobody or there was nothing to say and no file was written.
    `sheet` tells of a recipient's own sheet; `two_versions` is how many of the records wait for a choice between two.
    `blurred` is of how many the place was not told, as nobody else may see it, at which `sites`; `held_in_full` of how
    many of these it was told before, so that the recipient has it.
    """

    rows: int
    changes: Counter[str]
    sent: dict[str, str]
    previous: Submission | None
    digest: str
    sheet: Sheet | None = None
    two_versions: int = 0
    blurred: int = 0
    held_in_full: int = 0
    sites: tuple[Site, ...] = ()


def export_season(ledger: Ledger, asked: Asked) -> Exported:
    """Write the chosen sightings to a file.

    The same ledger gives the same bytes. Raises Refused for a file that cannot be written or is there already.
    """
    kind = file_kind(asked.to, asked.profile)
    if kind == "sheet" and asked.since_last:
        _tells_changes(asked.profile)
    before = submissions_to(ledger, asked.recipient) if asked.recipient else []
    records = chosen(ledger, asked.profile.choose, asked.season, asked.today, asked.called)
    closed = Closed(ledger, none=asked.profile.public)
    told: Iterable[Told] = (Told(*row, blurred=closed.holds(*row[:2])) for row in records)
    holds = held(before)
    if asked.since_last:
        told = list(since(ledger, holds, records, closed, asked_for(ledger, asked)))
        if not told:
            return Exported(0, Counter(), {}, before[-1] if before else None, "")
        two_versions = sum(one.meta.diverged for one in told)
    else:
        two_versions = _with_two_versions(ledger, asked)
    sent: dict[str, str] = {}
    changes: Counter[str] = Counter()
    blurred: Counter[str] = Counter()
    sites: dict[str, Site] = {}

    def take(one: Told) -> None:
        if asked.recipient:
            sent[one.sighting.id] = one.mark
        if one.change:
            changes[one.change] += 1
        site = closed.site_of(one.sighting, one.visit) if one.blurred else None
        if site is not None:
            sites[site.id] = site
            was = holds.get(one.sighting.id)
            blurred["in full" if was and not was.endswith(BLURRED) else "blurred"] += 1

    wanted = plainly(asked.profile.choose, asked.season)
    if (
        wanted is not None
        and not closed.sites
        and kind == "csv"
        and len(asked.profile.columns or DEFAULT_COLUMNS) > 1
        and not (asked.since_last or asked.profile.public or asked.profile.precision)
    ):
        number, sheet = _write_at_once(ledger, asked, wanted, take), None
    else:
        number, sheet = write(ledger, asked, told, take)
    previous = before[-1] if before else None
    digest = digest_of(asked.to) if asked.recipient else ""
    told_of = (blurred.total(), blurred["in full"], tuple(sites.values()))
    return Exported(number, changes, sent, previous, digest, sheet, two_versions, *told_of)


def asked_for(ledger: Ledger, asked: Asked) -> Test:
    """Give what says whether a record, as it stands or once stood, is among those that are asked for."""
    return belongs(ledger, asked.profile.choose, asked.season, asked.today, asked.called)


def _with_two_versions(ledger: Ledger, asked: Asked) -> int:
    """Count the records among those chosen that two copies of the ledger changed in different ways."""
    choose = asked.profile.choose
    if choose.status == "recorded":
        return 0
    diverged = choose.model_copy(update={"status": "diverged"})
    return sum(meta.diverged for *_, meta in chosen(ledger, diverged, asked.season, asked.today, asked.called))


def export_again(ledger: Ledger, asked: Asked, number: int) -> tuple[Submission, bool]:
    """Make the file of a recipient's submission, counted from 1, once more; gives it and whether it is the same.

    Raises `Refused` where there is no such submission, or it was a file of another kind.
    """
    made = submissions_to(ledger, asked.recipient or "")
    if not 1 <= number <= len(made):
        hint = f"there are {len(made)}: see  reedmace export log" if made else "see  reedmace export log"
        said = "There is no such submission."
        raise Refused(Fault("unknown-submission", said, hint, str(number), typed=True))
    submission = made[number - 1]
    _sent_as(submission, asked.to)
    how = dict(submission.how)
    season, since_last = how.pop("season", None), how.pop("since_last", False)
    then = asked._replace(season=season, profile=from_body(how), as_of=submission.made_at)
    file_kind(asked.to, then.profile)
    before = held(made[: number - 1]) if since_last else None
    write(ledger, then, again(ledger, submission, before))
    return submission, digest_of(asked.to) == submission.digest


def _sent_as(submission: Submission, to: Path) -> None:
    """Refuse a file of another kind than was sent, whose bytes could not be the same."""
    ending = ".zip" if submission.format == "archive" else ".csv"
    if to.suffix.casefold() != ending:
        said = f'It was sent as a {ending} file, "{submission.file_name}".'
        raise Refused(Fault("export-format", said, f"name it  {to.stem or 'again'}{ending}", str(to), typed=True))


def number_of(before: Sequence[Submission], done: Exported) -> int:
    """Give the number of an export among the submissions to its recipient: the last one's, if it is the very same."""
    return len(before) + (not (before and is_the_same(before[-1], done)))


def is_the_same(submission: Submission, done: Exported) -> bool:
    """Say whether an export is what was sent already, byte for byte and record for record."""
    return (submission.digest, submission.sent) == (done.digest, done.sent)


def submission_of(asked: Asked, done: Exported, made_at: str, new_id: Callable[[], str]) -> Submission:
    """Give what the ledger keeps of an export."""
    assert asked.recipient is not None
    how = as_body(asked.profile) | {"season": asked.season, "since_last": asked.since_last}
    return Submission(
        id=new_id(),
        recipient=asked.recipient,
        profile="",
        made_at=made_at,
        file_name=asked.to.name,
        format=file_kind(asked.to, asked.profile),
        digest=done.digest,
        rows=done.rows,
        previous=done.previous.id if done.previous and asked.since_last else "",
        sent=done.sent,
        how=how,
    )


def _tells_changes(profile: ExportProfile) -> None:
    """Refuse a sheet that could not say what has become of a record."""
    layout = profile.sheet
    assert layout is not None
    if layout.rows == "species":
        said = "A sheet of one row a species cannot say what has become of each record."
        raise Refused(Fault("sheet-without-changes", said, "send it whole, without  --since-last", typed=True))
    if not {"change", "id"} <= set(layout.columns.values()):
        said = "This sheet has no column for what has become of a record, or none for its id."
        hint = "add  Change: change  and  Record: id  to its columns"
        raise Refused(Fault("sheet-without-changes", said, hint, typed=True))


def write(
    ledger: Ledger, asked: Asked, told: Iterable[Told], take: Callable[[Told], None] | None = None
) -> tuple[int, Sheet | None]:
    """Write records in the kind of file that is asked for; the number of rows, and what there is to say of a sheet.

    `take` is given each record that is written.
    """
    columns = asked.profile.columns or DEFAULT_COLUMNS
    if asked.profile.public:
        from reedmace.tasks.export.public_rows import Public  # needed by public versions only

        assert asked.grounds is not None
        public = Public(ledger, asked.profile, asked.grounds, asked.to.name, asked.as_of)
        made = public.rows(_taken(filter(public.keeps, told), take))
    else:
        made = rows(ledger, asked.profile, _taken(told, take), asked.as_of, asked.habitat_of)
    kind = file_kind(asked.to, asked.profile)
    if kind == "sheet":
        assert asked.profile.sheet is not None
        sheet = write_sheet(asked.to, made, asked.profile.sheet, asked.overwrite)
        return sheet.rows, sheet
    if kind == "archive":
        with_identifications = ((one.terms(), one.identifications()) for one in made)
        return write_archive(asked.to, with_identifications, columns, _about(ledger, asked), asked.overwrite), None
    if asked.profile.public:
        return write_csv(asked.to, (one.terms() for one in made), columns, overwrite=asked.overwrite), None
    return write_lines(asked.to, _lines(ledger, asked, made, columns), columns, overwrite=asked.overwrite), None


def _write_at_once(ledger: Ledger, asked: Asked, wanted: Wanted, take: Callable[[Told], None]) -> int:
    """Write everything of a season, or of all, as a Darwin Core CSV: as `write` would, in a third of the time."""
    columns = asked.profile.columns or DEFAULT_COLUMNS
    quick = QuickRows(ledger.people.name_of, dataset(asked.profile, asked.habitat_of))
    pick, plain_line = chosen_cells(columns), PlainLines(quick, columns).line

    def lines() -> Iterator[str]:
        sending = asked.recipient is not None
        verified = ledger.verifications()
        for body, visit in ledger.current_bodies(wanted):
            plain = body.first and verified(body.subject) is None
            line = plain_line(from_json(body.text), visit, body.modified) if plain else None
            if line is None or sending:
                meta = body.meta()
                told = Told(read_sighting(body.text, meta.entry_id, ledger.path), visit, meta)
                take(told)
                if line is None:
                    [one] = rows(ledger, asked.profile, [told], habitat_of=asked.habitat_of)
                    line = line_of(pick(quick.cells(one.sighting, visit, one.modified, one.notes)))
            yield line

    return write_lines(asked.to, lines(), columns, overwrite=asked.overwrite)


def _lines(ledger: Ledger, asked: Asked, made: Iterable[ExportRow], columns: tuple[str, ...]) -> Iterator[str]:
    """Put rows into words, quickly."""
    quick = QuickRows(ledger.people.name_of, dataset(asked.profile, asked.habitat_of))
    pick = chosen_cells(columns)
    for one in made:
        if one.notes.change == "withdrawn":
            row = one.terms()
            yield line_of(pick([one_line(row[column]) for column in DEFAULT_COLUMNS]))
        else:
            yield line_of(pick(quick.cells(one.sighting, one.visit, one.modified, one.notes)))


def _taken(told: Iterable[Told], take: Callable[[Told], None] | None) -> Iterable[Told]:
    if take is None:
        return told

    def passed(one: Told) -> Told:
        take(one)
        return one

    return map(passed, told)


def _about(ledger: Ledger, asked: Asked) -> About:
    if asked.profile.public:
        group = asked.profile.dataset or "The keeper of these sightings"
        return About(asked.profile.dataset or "Sightings", group, LICENCES[asked.profile.licence], is_group=True)
    me = ledger.people.me()
    year = f", {asked.season}" if asked.season else ""
    title = asked.profile.dataset or f"Sightings{year}"
    return About(title, ledger.people.name_of(me) if me else "unnamed", LICENCES[asked.profile.licence])


def file_kind(to: Path, profile: ExportProfile) -> FileKind:
    """Say what kind of file is to be written, by the profile and the file's ending, which must agree."""
    by_ending = _ENDINGS.get(to.suffix.casefold())
    # A recipient with a sheet of their own gets that, unless an archive is asked for.
    wanted = profile.file or ("sheet" if profile.sheet and by_ending == "csv" and not profile.public else None)
    if by_ending is None or (wanted is not None and (wanted == "archive") != (by_ending == "archive")):
        ending = ".zip" if wanted == "archive" else ".csv"
        said = f'"{to.name}" is no {ending} file.' if wanted else f'"{to.name}" is neither a .csv nor a .zip file.'
        hint = f"name it  {to.stem or 'season'}{ending}"
        raise Refused(Fault("export-format", said, hint, str(to), typed=True))
    return wanted or by_ending
