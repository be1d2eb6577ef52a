"""What an archive is, in the Ecological Metadata Language (EML 2.2.0): title, people, terms of use, extent."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from typing import NamedTuple
from xml.sax.saxutils import escape as _escape
from xml.sax.saxutils import quoteattr

from reedmace.darwincore.csvfile import one_line
from reedmace.darwincore.wording import counted

_SPACE = uuid.UUID("5b0c6b1e-5c1f-5c6e-8d52-0c7a7d3b9f11")  # of packages, made once for this purpose
_NAMESPACE = "https://eml.ecoinformatics.org/eml-2.2.0"
_FEW = 200  # names listed at most


class About(NamedTuple):
    """What the file does not say by itself: its title, who made it, and under what licence (an IRI).

    `is_group` says that the creator is no one person.
    """

    title: str
    creator: str
    license: str
    is_group: bool = False


class Extent:
    """What rows reach over: days, places, names; taken up row by row, in memory that does not grow with them."""

    def __init__(self) -> None:
        self.rows = 0
        self.first = self.last = self.modified = ""
        self.box: tuple[float, float, float, float] | None = None  # west, south, east, north
        self.areas: set[str] = set()
        self.taxa: set[tuple[str, str]] = set()

    def take(self, row: Mapping[str, str]) -> None:
        """Take a row up."""
        self.rows += 1
        days = row.get("eventDate", "").split("/")
        if days[0]:
            self.first = min(self.first or days[0], days[0])
            self.last = max(self.last, days[-1])
        self.modified = max(self.modified, row.get("modified", ""))
        if row.get("decimalLatitude"):
            x, y = float(row["decimalLongitude"]), float(row["decimalLatitude"])
            west, south, east, north = self.box or (x, y, x, y)
            self.box = (min(west, x), min(south, y), max(east, x), max(north, y))
        if len(self.areas) < _FEW and (area := row.get("higherGeography") or row.get("country", "")):
            self.areas.add(area)
        if len(self.taxa) < _FEW and row.get("family"):
            self.taxa.add(("family", row["family"]))


def eml(about: About, extent: Extent, digest: str) -> str:
    """Give eml.xml; `digest` is that of the occurrences, from which the package gets its identifier."""
    who = _person(about.creator)
    if about.is_group:
        who = f"<organizationName>{escape(about.creator)}</organizationName>"
    span = f", {extent.first} to {extent.last}" if extent.first else ""
    abstract = f"{counted(extent.rows, 'sighting', 'sightings')}{span}."
    parts = [
        f"<title>{escape(about.title)}</title>",
        f"<creator>{who}</creator>",
        f"<metadataProvider>{who}</metadataProvider>",
        f"<pubDate>{extent.modified[:10]}</pubDate>" if extent.modified else "",
        "<language>en</language>",
        f"<abstract><para>{escape(abstract)}</para></abstract>",
        "<intellectualRights><para>This work is made available under"
        f" <ulink url={quoteattr(about.license)}><citetitle>{escape(about.license)}</citetitle></ulink>."
        "</para></intellectualRights>",
        _coverage(extent),
        f"<contact>{who}</contact>",
    ]
    body = "".join(f"    {part}\n" for part in parts if part)
    package = uuid.uuid5(_SPACE, digest)
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<eml:eml xmlns:eml="{_NAMESPACE}" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"'
        f' xsi:schemaLocation="{_NAMESPACE} {_NAMESPACE}/eml.xsd"'
        f' packageId="urn:uuid:{package}" system="reedmace" scope="system" xml:lang="en">\n'
        f"  <dataset>\n{body}  </dataset>\n</eml:eml>\n"
    )


def escape(text: str) -> str:
    """Give text as XML may hold it: no controls, and none of the two signs that are no characters."""
    return _escape(one_line(text).replace("\ufffe", "\ufffd").replace("\uffff", "\ufffd"))


def _person(name: str) -> str:
    """Give a person; the last word of a name is taken for the family's, which the language asks for."""
    given, _, last = name.rpartition(" ")
    inner = f"<givenName>{escape(given)}</givenName>" if given else ""
    return f"<individualName>{inner}<surName>{escape(last)}</surName></individualName>"


def _coverage(extent: Extent) -> str:
    parts = []
    if extent.box is not None:
        west, south, east, north = (f"{value:.6f}" for value in extent.box)
        described = "; ".join(sorted(extent.areas)) or "The places of the sightings"
        parts.append(
            f"<geographicCoverage><geographicDescription>{escape(described)}</geographicDescription>"
            f"<boundingCoordinates><westBoundingCoordinate>{west}</westBoundingCoordinate>"
            f"<eastBoundingCoordinate>{east}</eastBoundingCoordinate>"
            f"<northBoundingCoordinate>{north}</northBoundingCoordinate>"
            f"<southBoundingCoordinate>{south}</southBoundingCoordinate></boundingCoordinates></geographicCoverage>"
        )
    if extent.first:
        parts.append(
            f"<temporalCoverage><rangeOfDates><beginDate><calendarDate>{extent.first}</calendarDate></beginDate>"
            f"<endDate><calendarDate>{extent.last}</calendarDate></endDate></rangeOfDates></temporalCoverage>"
        )
    if extent.taxa:
        named = "".join(
            f"<taxonomicClassification><taxonRankName>{rank}</taxonRankName>"
            f"<taxonRankValue>{escape(name)}</taxonRankValue></taxonomicClassification>"
            for rank, name in sorted(extent.taxa)
        )
        parts.append(f"<taxonomicCoverage>{named}</taxonomicCoverage>")
    return f"<coverage>{''.join(parts)}</coverage>" if parts else ""
