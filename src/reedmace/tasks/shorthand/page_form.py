"""A visit written as a form, a line for each thing: `Site: Sallow Farm pond`, `Time: 10:30-12:00`, `Weather: sunny`.

Each line is read as it would be on the line of the visit, and what they say is put together.
"""

from __future__ import annotations

import re
from typing import Any, NamedTuple

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import Word, slip
from reedmace.tasks.shorthand.page_said import Reading
from reedmace.tasks.shorthand.visit_line import read_visit_line
from reedmace.tasks.shorthand.visit_said import VisitSaid
from reedmace.tasks.shorthand.visit_words import REFERENCE

# What stands before the colon, and what it is on the line of a visit.
_LABELS = {
    **dict.fromkeys(("date", "day", "time", "times", "start and end", "party", "group", "visit type"), ""),
    **dict.fromkeys(("start", "start time", "from", "begin"), "from"),
    **dict.fromkeys(("end", "end time", "finish", "until"), "until"),
    **dict.fromkeys(("site", "site name", "place", "location", "locality", "where"), "site"),
    **dict.fromkeys(("grid ref", "grid reference", "gridref", "grid", "gr", "ngr", "map ref", "os ref"), "@"),
    **dict.fromkeys(("weather", "conditions", "sky", "sun", "wind", "cloud", "temp", "temperature"), "weather"),
    **dict.fromkeys(("recorder", "recorders", "recorded by", "observer", "observers", "led by", "leader", "by"), "by"),
    **dict.fromkeys(("others", "other observers", "also present", "with", "helpers"), "with"),
    **dict.fromkeys(("vice-county", "vice county", "vc", "v.c."), "vc"),
    **dict.fromkeys(("habitat",), "habitat"),
    **dict.fromkeys(("method", "methods"), "method"),
    **dict.fromkeys(("notes", "note", "remarks", "remark", "comments", "comment"), "note"),
}
_FORM = re.compile(
    rf"\s*(?P<label>{'|'.join(sorted(map(re.escape, _LABELS), key=len, reverse=True))})\s*[:=]\s*(?P<value>\S.*)",
    re.IGNORECASE,
)
_OWN_WORD = ("sun", "wind", "cloud", "temp", "temperature")  # these say what the figures behind them are


class FormLine(NamedTuple):
    """A line of a form as it was read, with its faults, each at its place in the line."""

    said: VisitSaid
    faults: tuple[Fault, ...] = ()


def form_line(text: str, reading: Reading) -> FormLine | None:
    """Read a line of a form; None where it is none."""
    found = _FORM.fullmatch(text.rstrip())
    if found is None:
        return None
    label = " ".join(found["label"].casefold().split())
    kind, value, column = _LABELS[label], found["value"], found.start("value")
    if kind in ("by", "with", "weather") and _names_insects(value, reading):
        return None
    if kind == "note":
        return FormLine(VisitSaid(text.strip(), notes=(value,)))
    if kind in ("habitat", "method") and '"' not in value:
        return _read(f'{kind} "', value, '"', text, column, reading)
    if kind == "site" and not value.startswith(('"', "“", "@")):
        return _site(value, text, column, reading)
    if kind == "weather":
        lead = f"{label} " if label in _OWN_WORD else ""
        read = _read(lead, value, "", text, column, reading)
        only = read.said == VisitSaid(text.strip())._replace(**{name: getattr(read.said, name) for name in _WEATHER})
        return read if only and not read.faults else FormLine(VisitSaid(text.strip(), weather=f"{lead}{value}"))
    if kind in ("by", "with") and re.match(r"(?:by|with|and|me\b|self\b)", value, re.IGNORECASE):
        kind = ""
    if label in ("party", "group") and re.match(r"[0-9]+\s*(?:$|[,(+&]|incl|with|and)", value, re.ASCII):
        kind = "party of"
    return _read(f"{kind} ".lstrip(), value, "", text, column, reading)


def _names_insects(value: str, reading: Reading) -> bool:
    """Whether what stands behind a label is insects: `Others: 3 Brown Hawker`."""
    from reedmace.tasks.shorthand.line import Line, read_line

    read = [read_line(reading.key, part) for part in re.split(r"[,;&+]|\band\b", value) if part.strip()]
    # One word alone may be somebody's first name: Ann, Scarlet.
    return any(
        isinstance(line, Line) and (len(line.said.left) > 1 or any(tally.typed for tally in line.tallies))
        for line in read
    )


_WEATHER = ("weather", "temperature_c", "sun_percent", "wind")


def _site(value: str, text: str, column: int, reading: Reading) -> FormLine:
    """The name of a site, with a reference before or behind it or without one."""
    reference = re.search(REFERENCE, value, re.ASCII)
    if reference is None:
        return _read('@ "', value.strip(" ."), '"', text, column, reading)
    name = (value[: reference.start()] + value[reference.end() :]).strip(" ,;:()-–@.")
    read, faults = read_visit_line(
        reading.key, f'@ {reference[0]} "{name}"' if name else f"@ {reference[0]}", today=reading.today
    )
    shown = tuple(slip(one.code, one.message, one.hint, text, column, len(text.rstrip())) for one in faults)
    return FormLine(read._replace(typed=text.strip()), shown)


def _read(lead: str, value: str, behind: str, text: str, column: int, reading: Reading) -> FormLine:
    """The value as it is read behind `lead`, with columns and names at their places in the line as typed."""
    said, faults = read_visit_line(
        reading.key, f"{lead}{value}{behind}", today=reading.today, now=reading.now, sites=reading.sites
    )
    indent = len(text) - len(text.lstrip())
    shift = column - indent - len(lead)
    moved = {name: _moved(getattr(said, name), shift) for name in ("observers", "company", "determiner")}
    placed = (_placed(one, text, shift + indent, column) for one in faults)
    return FormLine(said._replace(typed=text.strip(), **moved), tuple(placed))


def _moved(names: Any, shift: int) -> Any:
    if isinstance(names, Word):
        return names._replace(start=names.start + shift, end=names.end + shift)
    return tuple(_moved(name, shift) for name in names) if names else names


def _placed(fault: Fault, text: str, shift: int, column: int) -> Fault:
    """A fault of the value at its place in the line; of what stands before the value, under the label."""
    if fault.where is None or fault.where.column is None:
        return fault
    start = fault.where.column - 1 + shift
    if start < column:
        label = text[:column].rstrip()
        return slip(fault.code, fault.message, fault.hint, text, len(label) - len(label.lstrip()), len(label))
    return slip(fault.code, fault.message, fault.hint, text, start, min(start + fault.where.width, len(text)))


def _unsaid(value: object) -> bool:
    """Whether nothing was said: 0 °C and a sun of 0 % were."""
    return value is None or value is False or value in ("", ())


def put_together(before: VisitSaid, more: VisitSaid) -> VisitSaid | Fault:
    """A visit with what a further line of its form says; the fault of what was said before, otherwise."""
    shift = len(before.typed) + 1 if before.typed else 0
    values = before._asdict()
    for name, value in more._asdict().items():
        if name in ("observers", "company", "determiner"):
            value = _moved(value, shift)
        if name == "typed":
            values[name] = "\n".join(filter(None, (before.typed, more.typed)))
        elif name in ("notes", "company"):
            values[name] = (*values[name], *value)
        elif name == "weather":
            values[name] = ", ".join(filter(None, (values[name], value)))
        elif _unsaid(value) or values[name] == value or (name == "habitat_typed" and not _unsaid(values[name])):
            continue
        elif not _unsaid(values[name]):
            message = "This was said before of the visit, otherwise."
            return slip("said-twice", message, "say it once; another visit begins with  visit", more.typed)
        else:
            values[name] = value
    return VisitSaid(**values)
