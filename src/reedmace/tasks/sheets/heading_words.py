"""How people head their columns: the field that a heading means, whatever words and signs stand around it."""

from __future__ import annotations

import re
from collections.abc import Sequence

from reedmace.darwincore import FIELD_OF_TERM
from reedmace.tasks.sheets.eastings import EASTINGS, IN_PARTS, easting_headed
from reedmace.tasks.sheets.parts import COUNTING, PARTS, part_headed
from reedmace.tasks.sheets.weather import weather_headed

# What a column can mean, and how people head it. The first words are also what it is called on the screen.
HEADINGS: dict[str, tuple[str, ...]] = {
    "id": (
        *("id", "record id", "record key", "key", "uuid", "guid", "unique id", "unique key", "record number"),
        *("record no", "record nr"),
    ),
    "visit_id": ("visit id", "event id", "visit", "survey id"),
    "visit_number": ("visit number", "visit no", "visit nr", "survey number", "survey no", "walk number", "walk no"),
    "date": (
        *("date", "date of visit", "visit date", "when", "date seen", "date recorded", "survey date", "day seen"),
        *("record date", "date of record", "recording date", "date from", "from date", "start date", "date start"),
        *("first date", "date first seen", "first seen"),
    ),
    "date_month_first": ("us date", "date us", "date month first"),
    "date_to": (
        *("date to", "to date", "end date", "date end", "last date", "date last seen", "last seen", "date until"),
        *("until date", "finish date"),
    ),
    "year": ("year",),
    "month": ("month",),
    "day": ("day",),
    "time": ("time", "time seen"),
    "start": ("start", "start time", "from", "time start"),
    "end": ("end", "end time", "to", "until", "time end", "finish"),
    "name": (
        *("name", "species", "taxon", "species name", "common name", "english name", "what", "insect"),
        *("vernacular", "vernacular name", "latin name", "taxon name", "species common name"),
    ),
    "scientific_name": ("scientific name", "scientific", "latin", "binomial"),
    "count": (
        *("count", "number", "no", "nos", "quantity", "abundance", "how many", "total", "number seen", "n"),
        *(
            "individuals",
            "no individuals",
            "no of individuals",
            "number of individuals",
            "no seen",
            "number counted",
            "numbers",
            "qty",
            "tally",
            "total count",
            "total number",
        ),
    ),
    # The next ones count one part of the insects each; `sheet_parts` knows their headings in other words.
    **{part: (part,) for part in PARTS},
    "males": ("males", "male", "m"),
    "females": ("females", "female", "f"),
    "seen": (),
    "sex": ("sex", "gender", "sexes", "m f", "f m", "sex m f", "sex f m", "male female", "m or f"),
    "sex_stage": (),
    "stage": ("stage", "life stage", "form", "age"),
    "behaviour": ("behaviour", "behavior", "beh", "behav", "activity", "breeding behaviour", "breeding"),
    "evidence": ("evidence", "how known", "basis", "record type"),
    "certainty": ("certainty", "confidence"),
    "observer": (
        *("observer", "observers", "recorder", "recorders", "recorded by", "seen by", "who", "recorder name"),
        *("observer name", "collector", "surveyor", "surveyors", "surveyed by", "found by", "by", "reported by"),
        *("reporter", "submitted by", "contributor", "spotted by", "spotter", "sighted by", "volunteer", "volunteers"),
        *("walk leader", "leader", "initials", "initials of recorder", "initials of observer"),
    ),
    "determiner": ("determiner", "determined by", "det", "identified by", "determiner name", "det by", "id by"),
    "determined_on": ("date determined", "date identified", "determination date"),
    "place": (
        *("grid reference", "grid ref", "gridref", "gridreference", "os grid ref", "os grid reference", "ngr"),
        *("os ref", "map ref", "map reference", "grid", "reference", "spatial reference", "coords", "coordinates"),
        *(
            "os grid",
            "grid number",
            "grid no",
            "lat long",
            "lat lon",
            "lat lng",
            "latlong",
            "latitude longitude",
            "latitude and longitude",
        ),
    ),
    "latitude": ("latitude", "lat", "y"),
    "longitude": ("longitude", "long", "lon", "lng", "x"),
    **EASTINGS,
    **IN_PARTS,
    "uncertainty": ("uncertainty", "accuracy", "precision", "uncertainty m", "accuracy m"),
    "locality": (
        *("locality", "site", "place", "location", "site name", "location name", "place name", "where", "pond"),
        *("water", "town", "village", "parish"),
    ),
    "vice_county": ("vice county", "vc", "vicecounty", "vice county number", "vc no"),
    "habitat": ("habitat", "water type", "habitat type"),
    "method": ("method", "sampling method", "survey method"),
    "weather": ("weather", "conditions"),
    "temperature": ("temperature", "temp", "air temp", "air temperature", "temperature c", "temp c"),
    "sun": ("sun", "sunshine", "sun percent", "percent sun"),
    "wind": ("wind", "wind force", "wind beaufort", "beaufort", "beaufort force"),
    "cloud": ("cloud", "cloud cover", "percent cloud"),
    "cloud_eighths": ("cloud eighths", "cloud oktas"),
    "wind_direction": ("wind direction", "wind dir"),
    "visit_remarks": ("visit remarks", "visit notes", "survey notes"),
    "remarks": ("remarks", "comments", "comment", "notes", "note", "remark", "details", "additional information"),
    "photos": (
        *("photos", "photo", "photograph", "photographs", "image", "images", "picture", "photo taken", "photos taken"),
        *("photographed", "picture taken"),
    ),
    "status": ("status", "occurrence status", "presence"),
}
_FIELD_OF_HEADING = {heading: field for field, headings in HEADINGS.items() for heading in headings}
# Words that say which of several columns this is, and nothing of what it means: `Recorder 2`, `Other observers`.
_WHICH = frozenset(
    (
        *("s", "es", "first", "second", "third", "other", "others", "additional", "further", "main", "lead", "all"),
        *("the", "full", "name", "names", "of", "your", "initials", "1st", "2nd", "3rd"),
    )
)
_KINDS = frozenset(("sex", "sexes", "gender", "stage", "stages", "age", "life", "lifestage"))


def in_words(columns: Sequence[str]) -> list[tuple[str, str]]:
    """Give each heading with its plain words."""
    return [(one, _signs(one)) for one in columns]


def heading_known(heading: str) -> bool:
    """Say whether this is how people, or the standard, head a column."""
    return heading in FIELD_OF_TERM or headed(heading) is not None


def headed(heading: str) -> str | None:
    """Give the field that a heading means, None where it is none that is known.

    What stands in brackets, and numbers, say mostly how it is to be written (`Date (dd/mm/yyyy)`) or which of several
    columns it is (`Recorder 2`). Of columns that count they may say what is counted, so there nothing is left off.
    """
    plain = _signs(heading)
    whole = _headed(plain)
    if whole is not None:
        return whole
    words = plain.split()
    if len(words) > 1 and _KINDS.issuperset(words):
        return "sex_stage"
    bare = plain_heading(re.sub(r"\([^()]*\)|\[[^\[\]]*\]", " ", heading))
    field = _headed(bare) if bare != plain else None
    if field is None:
        # Of several observers each may have a column, and remarks more than one.
        for said in (bare, plain):
            found = _headed(" ".join(one for one in re.findall(r"[^\W\d_]+", said) if one not in _WHICH))
            field = field or (found if found in ("observer", "remarks") else None)
    return None if field == "count" or field in COUNTING else field


def _headed(plain: str) -> str | None:
    return _FIELD_OF_HEADING.get(plain) or part_headed(plain) or weather_headed(plain) or easting_headed(plain)


def _signs(heading: str) -> str:
    return plain_heading(heading.replace("♂", " male ").replace("♀", " female "))


def plain_heading(heading: str) -> str:
    """Give a heading as headings are compared: small letters, words parted by one blank."""
    apart = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", heading)
    return " ".join(re.findall(r"[^\W_]+", apart.casefold()))
