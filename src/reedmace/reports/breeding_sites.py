"""The site that a breeding status is told for: what is one site, and how it is written."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from reedmace.records import Sighting, Visit


def site_of(sighting: Sighting, visit: Visit) -> str:
    """What a status is told for: the site's or the place's name, else its 1 km square, else what was typed."""
    place = sighting.place or visit.place
    if place.locality:
        return place.locality
    digits = (place.square or "").lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    if place.square and len(digits) > 4:  # finer than 1 km
        letters, half = place.square[: len(place.square) - len(digits)], len(digits) // 2
        return f"{letters}{digits[:2]}{digits[half : half + 2]}"
    return place.square or place.typed


def one_site(site: str) -> str:
    """A site as sites are compared: names that differ only in capitals and blanks are one."""
    return " ".join(site.casefold().split())


def site_names(sites: Iterable[str]) -> Mapping[str, str]:
    """For every site as compared the name it is written by: the one met most often, then the first by its letters."""
    met = Counter(sites)
    names: dict[str, str] = {}
    for site in sorted(met, key=lambda one: (-met[one], one)):
        names.setdefault(one_site(site), site)
    return names
