"""Lines of a page that are nothing seen: a visit's line without its word, the name of a site, a sum, "nothing else".

They are looked at once a line does not read as a sighting, so that the fault says what to do with them.
"""

from __future__ import annotations

import re

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import slip
from reedmace.tasks.shorthand.line import read_lines
from reedmace.tasks.shorthand.page_form import form_line
from reedmace.tasks.shorthand.page_said import Reading
from reedmace.tasks.shorthand.places_typed import sites_called
from reedmace.tasks.shorthand.visit_line import read_visit_line
from reedmace.tasks.shorthand.visit_said import VisitSaid
from reedmace.tasks.shorthand.visit_words import REFERENCE

# Faults of a line in which there may be no name at all; in others something seen was read.
_NAMELESS = ("unknown-name", "word-not-read", "name-empty", "count-or-time", "two-counts", "person-not-read")
# Faults of what a visit's line may well have: a place without its sign, two numbers of people.
_OF_A_VISIT = ("place-without-sign", "total-unclear")
_SUM = (
    r"(?:grand )?(?:total|sum)s?\b[^a-z]*(?:of )?(?:\d+ )?(?:species|insects|individuals|odonata|records)?[^a-z]*"
    r"|\d+ (?:species|insects|individuals|records)(?: in all)?|(?:number|no\.?) of species\b[^a-z]*"
)
_NO_MORE = r"(?:nothing|none|no(?:thing)?) (?:else|more|other)[a-z ]*|that'?s (?:all|it)"


def _counts_both(text: str, fault: Fault, reading: Reading) -> bool:
    """Whether `azure dam 12/6` is a name and two numbers: no day of a visit, though it has the look of one."""
    found = re.search(r"(?<![\d/])\d{1,3}/\d{1,3}(?![\d/])", text)
    if fault.code != "two-counts" or found is None:
        return False
    return not isinstance(read_lines(reading.key, text[: found.start()] + text[found.end() :]), Fault)


def stray(text: str, fault: Fault, reading: Reading) -> VisitSaid | Fault:
    """The visit that a line begins, where it reads as its line and says its day; else what is wrong with the line."""
    if fault.code in _OF_A_VISIT:
        return _of_visit(text, fault, reading)
    if fault.code not in _NAMELESS or _counts_both(text, fault, reading):
        return fault
    body = text.partition("#")[0].strip(" \t.;:!")
    if re.fullmatch(_SUM, body.casefold(), re.ASCII):
        message = "This is a sum of the page, and nothing that was seen."
        return slip("sum-of-page", message, f"leave it out, or keep it as a remark:  # {body}", text)
    if re.fullmatch(_NO_MORE, body.casefold(), re.ASCII):
        message = f'"{body}" could say that every species seen was noted, or only that the list ends.'
        hint = f"write  all  on this line where every species was noted; else leave it out, or keep it:  # {body}"
        return slip("all-or-end", message, hint, text)
    form = form_line(text, reading) if ":" in body else None
    if form is not None and form.said.day is None:
        hint = f"write it above what was seen, or as a remark:  # {body}"
        if form.said.place is not None or form.said.site is not None or form.said.locality:
            where = form.said.place.typed.strip() if form.said.place else f'"{form.said.locality or body}"'
            hint = f"write  @ {where}  where the lines below were seen there; another visit begins with  visit"
        return slip("visit-without-word", "This is said of a visit, below what was seen on it.", hint, text)
    sites, _ = sites_called(reading.sites, body)
    if sites:
        name = sites[0].name if len(sites) == 1 else body
        hint = f'write  @ "{name}"  where the lines below were seen there;  visit @ "{name}"  begins a visit'
        return slip("place-without-sign", "A place begins with @.", hint, text)
    if found := re.fullmatch(rf"(?P<name>[^\d@]*[^\W\d_])[\s,:(-]+(?P<at>{REFERENCE})\)?", body, re.ASCII):
        hint = f'write  @ {found["at"]} "{found["name"]}"  , on the line of the visit where it is of all of it'
        return slip(
            "place-without-sign",
            "A place begins with @.",
            hint,
            text,
            text.find(found["at"]),
            text.find(found["at"]) + len(found["at"]),
        )
    said, faults = read_visit_line(reading.key, text, today=reading.today, now=reading.now, sites=reading.sites)
    if said.day is not None and not faults:
        return said
    named = fault.code == "word-not-read"  # the rest is a name: something was seen
    dated = said.day is not None and any(map(str.isdigit, body))  # "same as yesterday" begins no visit
    if not named and (dated or any(one.code in ("year-missing", "two-digit-year", "date-in-future") for one in faults)):
        hint = f"begin it with its word:  visit {body}"
        place = next((one.hint for one in faults if one.code == "place-without-sign"), None)
        if place:
            hint += f"  ; and where the place stands,  {place}"
        return slip("visit-without-word", "This could be the line of a visit, with its day.", hint, text)
    return _on_its_line(text) if not faults and said != VisitSaid(said.typed) else fault


def _of_visit(text: str, fault: Fault, reading: Reading) -> VisitSaid | Fault:
    """The visit that a line begins though it has a reference or people in number, where it reads as its line."""
    said, faults = read_visit_line(reading.key, text, today=reading.today, now=reading.now, sites=reading.sites)
    if faults:
        return fault
    if said.day is not None:
        return said
    return _on_its_line(text) if said.party else fault


def _on_its_line(text: str) -> Fault:
    hint = "write it on the line that begins with  visit  ; a remark after  #"
    return slip("visit-without-word", "This is said of a visit, on the line of it.", hint, text)
