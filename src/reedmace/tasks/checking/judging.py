"""What records are judged by, from the files that were named: key, county file, boundaries, registered sites."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from pathlib import Path

from reedmace.checks.query import Grounds, grounds
from reedmace.faults import Fault, Refused, Where, cannot_read
from reedmace.keys.model import Key
from reedmace.places.boundaries import Boundary, read_boundaries
from reedmace.records import Site


def judging(
    key: Key,
    today: date,
    county: Path | None = None,
    boundaries: Path | None = None,
    sites: Iterable[Site] = (),
) -> Grounds:
    """Read what is named. Raises `Refused` with every fault."""
    local = None
    if county is not None:
        from reedmace.checks.county_file import read_county  # it brings pydantic and a YAML reader

        local = read_county(county, key)
    bounds = load_boundaries(boundaries) if boundaries is not None else ()
    return grounds(key, today, local, bounds, sites)


def load_boundaries(path: Path) -> tuple[Boundary, ...]:
    """The polygons of a GeoJSON file. Raises `Refused` with every fault."""
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        message = "The file of boundaries is not UTF-8."
        raise Refused(
            Fault("not-utf8", message, "GeoJSON is always UTF-8: export it again", None, Where(path.name))
        ) from None
    except OSError as error:
        raise cannot_read(path, error, "The file of boundaries") from None
    found, faults = read_boundaries(text, path.name)
    if faults:
        raise Refused(*faults)
    return found
