"""What the columns of a county recorder's answers mean, by their headings."""

from __future__ import annotations

from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.tasks.replies.days import FIELDS as DATED
from reedmace.tasks.replies.days import MONTH_FIRST
from reedmace.tasks.sheets.columns import ColumnMapping
from reedmace.tasks.sheets.heading_words import HEADINGS as SENT
from reedmace.tasks.sheets.heading_words import heading_known, plain_heading
from reedmace.tasks.sheets.month_first import says_month_first

# What came with the record when it was sent: to find it by, and where it reads otherwise now, a correction.
_AS_SENT = ("id", "date", "name", "place", "locality", "vice_county", "count", "sex", "stage")

HEADINGS: dict[str, tuple[str, ...]] = {
    **{field: SENT[field] for field in _AS_SENT},
    "status": (
        *("verification", "verification status", "identification verification status", "status", "decision"),
        *("verdict", "result", "outcome", "record status", "verified", "accepted", "determination status"),
    ),
    "verifier": ("verifier", "verified by", "verifier name", "checked by", "reviewer", "reviewed by", "expert", "who"),
    "verified_on": (
        *("verified on", "date verified", "verification date", "date of verification", "checked on"),
        *("review date", "decision date", "reviewed on"),
    ),
    "remark": (
        *("verifier remark", "verifier remarks", "verifier comment", "verifier comments", "verifier note"),
        *("verification remark", "verification remarks", "verification comment", "verification comments"),
        *("verification note", "verification notes", "verifier notes", "reply", "answer", "decision comment"),
        *("reason", "remarks", "remark", "comments", "comment", "notes", "note"),
    ),
    "new_name": (
        *("new name", "correct name", "corrected name", "correct species", "corrected species", "new species"),
        *("should be", "redetermined as", "redetermination", "verified as", "verified name", "name given"),
        *("new determination", "redet", "correct identification", "corrected identification", "re determined as"),
    ),
    "new_date": ("new date", "correct date", "corrected date"),
    "new_place": (
        *("new place", "correct place", "corrected place", "new grid reference", "correct grid reference"),
        *("corrected grid reference", "new grid ref", "correct grid ref", "corrected grid ref"),
    ),
    "new_count": ("new count", "correct count", "corrected count", "new number", "correct number", "corrected number"),
    "new_sex": ("new sex", "correct sex", "corrected sex"),
    "new_locality": (
        *("new locality", "correct locality", "corrected locality", "new site", "correct site", "corrected site"),
        *("new location", "correct location", "corrected location", "correct site name", "corrected site name"),
    ),
    "new_vice_county": (
        *("new vice county", "correct vice county", "corrected vice county", "new vc", "correct vc", "corrected vc"),
    ),
    "new_stage": ("new stage", "correct stage", "corrected stage", "new life stage", "correct life stage"),
    # With the month before the day.
    "date_month_first": SENT["date_month_first"],
    "verified_on_month_first": (),
    "new_date_month_first": (),
}
_TERMS = {
    "occurrenceID": "id",
    "eventDate": "date",
    "scientificName": "name",
    "verbatimCoordinates": "place",
    "locality": "locality",
    "individualCount": "count",
    "sex": "sex",
    "lifeStage": "stage",
    "identificationVerificationStatus": "status",
    # What we wrote there about insect, pair and wind would be taken for the county recorder's words.
    "occurrenceRemarks": None,
}
_PLAIN = {"occurrence id": "id", **{heading: field for field, names in HEADINGS.items() for heading in names}}


def reply_heading(heading: str) -> bool:
    """Say whether this is how a column of answers is headed."""
    return heading_known(heading) or plain_heading(heading) in _PLAIN


def guess_reply(columns: Sequence[str]) -> ColumnMapping:
    """Give what the columns mean by their headings; of several that mean the same, the first."""
    meant: dict[str, str | None] = {}
    for column in columns:
        field = _TERMS[column] if column in _TERMS else _PLAIN.get(plain_heading(column))
        if field in meant.values() and field != "remark":
            field = None
        if field in DATED and says_month_first(column):
            field += MONTH_FIRST
        meant[column] = field
    # "Comments" beside "verifier's comments" are those that were sent.
    remarks = [column for column, field in meant.items() if field == "remark"]
    if len(remarks) > 1:
        best = min(remarks, key=lambda column: _rank(plain_heading(column)))
        meant |= {column: None for column in remarks if column != best}
    return ColumnMapping(tuple(meant.items()))


def _rank(heading: str) -> int:
    names = HEADINGS["remark"]
    return names.index(heading) if heading in names else len(names)


def lacking(mapping: ColumnMapping, *, verifier: bool) -> list[Fault]:
    """Say what no column gives and no answer can do without; `verifier` says that one was given for all rows."""
    fields = {field.removesuffix(MONTH_FIRST) for _, field in mapping.columns if field}
    faults = []
    if len(mapping.columns) == 1 and not fields:
        hint = "answers come as a table with headings, such as  Record ID,Verification,Verified by ; one answer:  "
        hint += "reedmace reply --about ID --status WORD --verifier NAME"
        said = "This is no table of answers: its first line has a single cell, which is no heading."
        return [Fault("no-answers-table", said, hint, mapping.columns[0][0], typed=True)]
    if not fields & {"status", "remark"} and not any(field.startswith("new_") for field in fields):
        hint = 'say which column it is:  --map "Heading=status"'
        faults.append(Fault("no-status-column", "No column says what the county recorder decided.", hint, typed=True))
    if "id" not in fields and not ({"name", "date"} <= fields and fields & {"place", "locality"}):
        hint = 'say which column it is:  --map "Heading=id" , or those of name, date and place'
        said = "Neither our ids are here, nor name, date and place to find the records by."
        faults.append(Fault("no-record-columns", said, hint, typed=True))
    if "verifier" not in fields and not verifier:
        hint = 'say who decided:  --verifier "Name" , or which column it is:  --map "Heading=verifier"'
        faults.append(Fault("no-verifier", "No column says who decided.", hint, typed=True))
    return faults
