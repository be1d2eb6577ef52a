"""Is it likely here, and is "here" where the record says?"""

from __future__ import annotations

from collections.abc import Iterator

from reedmace.checks.county import NOBODY_COMES, County, wider
from reedmace.checks.query import Grounds, Query, Record, query
from reedmace.keys.model import Species
from reedmace.places.boundaries import holding, near
from reedmace.places.slips import turned_round
from reedmace.places.vice_counties import vice_county_name

_PHOTO = "send a photograph and a description soon"


def out_of_range(grounds: Grounds, record: Record) -> Iterator[Query]:
    """A species that the county file, else the key, knows only as a vagrant or a rarity here, or not at all."""
    if not record.species:
        return
    county = grounds.county_of(record)
    local = _local_statuses(record, county) if county else None
    if county and local:
        yield from _in_county(record, county, local)
        return
    regions = record.place.regions
    if not regions:
        return
    which = ("levels", tuple(species.index for species in record.species), regions)
    levels = grounds.once(which, lambda: _levels(record.species, regions))
    if not levels <= {"absent", "vagrant"}:
        return
    titles = " and ".join(region.title for region in grounds.key.regions if region.id in regions)
    if levels == {"absent"}:
        remedy = "check the name and the place; a photograph will be asked for"
        yield query(record, "out-of-range", "doubt", f"{record.name} is not known from {titles}.", remedy)
    else:
        yield query(record, "vagrant-here", "doubt", f"{record.name} is a vagrant in {titles}.", _PHOTO)


def _levels(several: tuple[Species, ...], regions: tuple[str, ...]) -> set[str]:
    return {species.more.levels.get(region, "absent") for species in several for region in regions}


def _local_statuses(record: Record, county: County) -> set[str] | None:
    """What the county file says of every species named; None unless it speaks of them all."""
    found = [county.species[one.name].status if one.name in county.species else None for one in record.species]
    statuses = {status for status in found if status}
    return statuses if statuses and None not in found else None


def _in_county(record: Record, county: County, statuses: set[str]) -> Iterator[Query]:
    known = f"by the {county.cited}"
    if statuses <= set(NOBODY_COMES):
        gone = "is no longer known" if statuses == {"lost"} else "is not known"
        reason = f"{record.name} {gone} here, {known}."
        remedy = "check the name and the place; a photograph will be asked for"
        yield query(record, "out-of-range", "doubt", reason, remedy)
    elif statuses <= {*NOBODY_COMES, "vagrant"}:
        yield query(record, "vagrant-here", "doubt", f"{record.name} is a vagrant here, {known}.", _PHOTO)
    elif statuses <= {*NOBODY_COMES, "vagrant", "rare"}:
        yield query(record, "rare-here", "note", f"{record.name} is rare here, {known}.", _PHOTO)


def unlikely_habitat(grounds: Grounds, record: Record) -> Iterator[Query]:
    """A habitat the key does not give for the species."""
    habitat = record.visit.habitat
    if not habitat or not record.species:
        return
    if any(not species.habitats or habitat in species.habitats for species in record.species):
        return
    title = next((one.title for one in grounds.key.habitats if one.id == habitat), None)
    if title:
        reason = f"{record.name} is seldom met at: {title}."
        yield query(record, "unlikely-habitat", "note", reason, "check the name; insects wander")


def square_without_land(grounds: Grounds, record: Record) -> Iterator[Query]:
    """A 100 km square that the key's table of regions does not have: sea, another country, or wrong letters."""
    square = record.place.square
    if not square or not grounds.key.squares:
        return
    letters = square[:2] if square[1:2].isalpha() else square[:1]
    if letters in grounds.key.squares:
        return
    reason = f"{square} lies in {letters}, where the key's table of 100 km squares has no land."
    remedy = "look at the map's letters again; from a ship or a rig, say so in the remarks"
    yield query(record, "square-without-land", "doubt", reason, remedy)


def outside_county(grounds: Grounds, record: Record) -> Iterator[Query]:
    """A square or a vice-county that is none of those in the county file."""
    county, place = grounds.county, record.place
    if county is None:
        return
    if place.vice_county and county.vice_counties and place.vice_county not in county.vice_counties:
        named = vice_county_name(place.vice_county)
        reason = f"Vice-county {place.vice_county} {named} is none of those in the {county.cited}."
        yield query(record, "outside-county", "doubt", reason, "check the vice-county, or send it to its own recorder")
        return
    square = place.square
    if not square or county.holds(square):
        return
    other = turned_round(square)
    if other and county.holds(other):
        reason = f"{square} lies outside the squares of the {county.cited}; turned round, {other} lies inside."
        remedy = f"if easting and northing were swapped, write {other}"
        yield query(record, "looks-swapped", "doubt", reason, remedy)
        return
    reason = f"{wider(square)[-1]} is none of the squares in the {county.cited}."
    yield query(record, "outside-county", "doubt", reason, "check letters and figures, or send it to its own recorder")


def vice_county_on_other_grid(grounds: Grounds, record: Record) -> Iterator[Query]:
    """An Irish vice-county with a British square, or the other way round."""
    place = record.place
    number = place.vice_county
    if not number or place.system not in ("GB", "IE"):
        return
    irish = number.startswith("H")
    if irish == (place.system == "IE"):
        return
    grid = "Irish" if place.system == "IE" else "British"
    reason = (
        f"Vice-county {number} {vice_county_name(number)} does not lie on the {grid} grid, but {place.square} does."
    )
    yield query(
        record, "vice-county-against-square", "doubt", reason, "check the number (H1 to H40 are Irish) and the letters"
    )


def vice_county_against_boundary(grounds: Grounds, record: Record) -> Iterator[Query]:
    """By the boundaries that the user gave, no part of the square lies in the vice-county named."""
    place = record.place
    if not grounds.boundaries or place.latitude is None or place.longitude is None or not place.vice_county:
        return
    mine = [one for one in grounds.boundaries if one.vice_county == place.vice_county]
    reach = place.uncertainty_m or 0
    if not mine or any(near(one, place.latitude, place.longitude, reach) for one in mine):
        return
    named = f"{place.vice_county} {vice_county_name(place.vice_county)}"
    others = [
        one.vice_county for one in holding(grounds.boundaries, place.latitude, place.longitude) if one.vice_county
    ]
    where = f"it lies in {others[0]} {vice_county_name(others[0])}" if others else "it lies in none of them"
    reason = f"By the boundaries given, {place.square or place.typed} is not in vice-county {named}: {where}."
    remedy = f"write {others[0]}, or check the reference" if others else "check the reference"
    yield query(record, "vice-county-against-square", "doubt", reason, remedy)
