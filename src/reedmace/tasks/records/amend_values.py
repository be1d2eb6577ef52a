"""What sightings and visits share of corrections: texts, words, times, dates and places typed as `field=value`."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Any, NamedTuple

from reedmace.faults import Fault, did_you_mean
from reedmace.places.place import read_place
from reedmace.places.vice_counties import find_vice_county
from reedmace.records import Photo, PlaceRecord, Sighting, Site, Visit, unless_blank
from reedmace.tasks.shared.dates import read_date
from reedmace.tasks.shared.record_of_place import record_of_place
from reedmace.tasks.shorthand.field_words import clock as read_clock
from reedmace.tasks.shorthand.half_of_day import half_meant
from reedmace.tasks.shorthand.places_typed import find_site, site_unclear
from reedmace.tasks.shorthand.time_words import halves_joined

if TYPE_CHECKING:
    from reedmace.keys.model import Key

Change = dict[str, Any]


class Around(NamedTuple):
    """What a correction is read with.

    `visit` is the visit of a sighting; `holds_sightings` says that sightings of a visit stand. `key` is asked for
    only where a field needs it, `photo` gives what a photograph's file holds, and `sites` are those registered.
    """

    today: date
    key: Callable[[], Key] | None = None
    visit: Visit | None = None
    holds_sightings: bool = False
    photo: Callable[[str], Photo] = Photo
    sites: Sequence[Site] = ()


# Gives what changes, from the value as typed and the record with the changes before it.
Reader = Callable[[str, Any, Around], Change | Fault]


def text(field: str) -> Reader:
    """Any text, kept as it is."""
    return lambda value, _record, _around: {field: value}


def word(field: str, words: tuple[str, ...], short: Mapping[str, str] | None = None) -> Reader:
    """One of these words, or nothing; `short` are further ways to write them."""

    def read(value: str, _record: Any, _around: Around) -> Change | Fault:
        if not value:
            return {field: None}
        plain = (short or {}).get(value.casefold(), value.casefold())
        if plain not in words:
            hint = did_you_mean(value, words, f"one of: {', '.join(words)}")
            return Fault("unknown-word", f'"{value}" is no {field}.', hint, typed=True)
        return {field: plain}

    return read


def clock(field: str) -> Reader:
    """A time of day, or nothing."""

    def read(value: str, record: Any, _around: Around) -> Change | Fault:
        if not value:
            return {field: None}
        value = halves_joined(value.casefold())
        time = read_clock(value)
        if time is None:
            return Fault("time-not-read", "This is no time of day.", "write it as  10:30", typed=True)
        meant = half_meant(value, getattr(record, "start", None) if field == "end" else None)
        return meant if isinstance(meant, Fault) else {field: meant or time}

    return read


def day(value: str, _record: Visit, around: Around) -> Change | Fault:
    """The date of a visit; one that is not known any more is a vague one."""
    if not value:
        hint = "give it as vaguely as it is known, such as  date=2026  or  date=1980s"
        return Fault("date-missing", "Without a date it is no record.", hint, typed=True)
    read = read_date(value, around.today)
    return read if isinstance(read, Fault) else {"date": read.iso, "date_typed": value}


def place(value: str, record: Sighting | Visit, around: Around) -> Change | Fault:
    """A reference or a position, the name of the place and the vice-county staying; or a registered site, whole."""
    before = record.place or PlaceRecord()
    if not value:
        if isinstance(record, Sighting):
            return {"place": None}
        back = "reedmace ledger withdraw ID --reason WHY"
        hint = f'give the right one, such as  place="SU 431 118" ; to take the visit back:  {back}'
        return Fault("place-missing", "Without a place it is no record.", hint, typed=True)
    read = read_place(value)
    if isinstance(read, Fault):
        name = value.strip('@"“” ')
        site, several = find_site(around.sites, name), site_unclear(around.sites, name)
        return {"place": site.place._replace(locality=site.name, site=site.id)} if site else several or read
    made = record_of_place(read, before.locality, before.vice_county)
    if around.key is not None:
        from reedmace.tasks.shared.regions import with_regions

        made = with_regions(around.key().squares, made)
    return {"place": made}


def locality(value: str, record: Sighting | Visit, around: Around) -> Change | Fault:
    """The name of the place; a spot of a sighting that has no reference of its own lies in the visit's square."""
    name = unless_blank(value)
    if record.place is not None:
        made = record.place._replace(locality=name)
        if isinstance(record, Visit) and not (name or _somewhere(made)):
            hint = 'give the right name, or first a reference:  place="SU 431 118"'
            return Fault("place-missing", "Without a place it is no record.", hint, typed=True)
        return {"place": made}
    if not name:
        return {}
    at = around.visit.place if around.visit else PlaceRecord()
    return {"place": at._replace(locality=name, site=None)}


def _somewhere(place: PlaceRecord) -> bool:
    return bool(place.typed or place.square or place.latitude is not None)


def vice_county(value: str, record: Visit, _around: Around) -> Change | Fault:
    """A vice-county by number or name, or nothing."""
    if not value:
        return {"place": record.place._replace(vice_county=None)}
    county = find_vice_county(value)
    if isinstance(county, Fault):
        return county
    return {"place": record.place._replace(vice_county=county.number)}
