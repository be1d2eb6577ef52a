"""Log a walk: lines or one named insect → a visit with its sightings, written whole or not at all."""

from collections.abc import Callable, Sequence
from typing import NamedTuple

from reedmace.faults import Fault, Refused
from reedmace.keys.model import Key, Named
from reedmace.ledger.store import Ledger
from reedmace.places.place import Place
from reedmace.records import Naming, Photo, PlaceRecord, Sighting, Site, Visit, name_mark, unless_blank
from reedmace.tasks.shared.dates import TypedDate
from reedmace.tasks.shared.record_of_place import record_of_place
from reedmace.tasks.shared.setting import regions_of
from reedmace.tasks.shared.taxa import taxon_of
from reedmace.tasks.shorthand.field_words import Word
from reedmace.tasks.shorthand.line import Line
from reedmace.tasks.shorthand.page_said import PageVisit, SeenLine
from reedmace.tasks.shorthand.tallies import Tally
from reedmace.tasks.shorthand.visit_said import VisitSaid

NewId = Callable[[], str]


class Occasion(NamedTuple):
    """What all lines of a visit share, where it comes from options or a conversation."""

    day: TypedDate
    place: Place | None
    locality: str = ""
    vice_county: str | None = None
    regions: tuple[Named, ...] = ()
    habitat: str = ""
    habitat_typed: str = ""
    evidence: str | None = None
    remarks: str = ""

    def said(self) -> VisitSaid:
        """The same as if it had been written on a visit's line."""
        return VisitSaid(
            day=self.day,
            place=self.place,
            locality=self.locality,
            vice_county=self.vice_county,
            habitat=self.habitat,
            habitat_typed=self.habitat_typed,
            notes=(self.remarks,) if self.remarks else (),
        )


class Writer(NamedTuple):
    """Who writes, when, and what comes from outside: new ids, and what a photograph's file holds."""

    person: str
    written_at: str
    new_id: NewId
    photo: Callable[[str], Photo] = Photo


def place_of_said(key: Key, said: VisitSaid) -> PlaceRecord:
    """The place of a visit's line: the reference typed, else that of the registered site."""
    if said.place is None and said.site is not None:
        return said.site.place._replace(
            locality=unless_blank(said.locality) or said.site.name,
            site=said.site.id,
            vice_county=said.vice_county or said.site.place.vice_county,
        )
    regions = tuple(region.id for region in regions_of(key, said.place))
    return record_of_place(said.place, said.locality, said.vice_county, regions, said.place_kind)


def site_called(sites: Sequence[Site], said: VisitSaid) -> VisitSaid:
    """A name in quotes without a reference is a registered site's, where there is one of that name."""
    from reedmace.tasks.shorthand.places_typed import find_site

    if said.place is None and said.site is None and said.locality:
        site = find_site(sites, said.locality)
        if site is not None:
            return said._replace(site=site, locality=said.locality if said.locality != site.name else "")
    return said


def together(options: VisitSaid, line: VisitSaid | None, notes: tuple[str, ...]) -> VisitSaid:
    """What options and the visit's line say together. Raises `Refused` for what both say, differently."""
    if line is None:
        return options._replace(notes=(*options.notes, *notes))
    values = line._asdict()
    faults = []
    for name, value in options._asdict().items():
        if name in ("typed", "notes", "habitat_typed") or value in (None, "", False, ()):
            continue
        if values[name] in (None, "", False, ()):
            values[name] = value
        elif values[name] != value:
            message = f"The {name.replace('_', ' ')} is said by an option and, differently, on the line of the visit."
            faults.append(Fault("said-twice", message, "say it once", line.typed, typed=True))
    if faults:
        raise Refused(*faults)
    # By which word one habitat was said is no contradiction.
    values["habitat_typed"] = values["habitat_typed"] or options.habitat_typed
    values["notes"] = (*options.notes, *line.notes, *notes)
    return VisitSaid(**values)


def visit_of(key: Key, said: VisitSaid, person: str, id_of: Callable[[str], str]) -> Visit:
    """The visit that was written down, with its id still empty; `id_of` registers people by name."""
    observers = [id_of(name.text) for name in said.observers] or [person]
    observers += [id_of(name.text) for name in said.company]
    wind = said.wind or (None, None)
    return Visit(
        id="",
        date=said.day.iso if said.day else None,
        date_typed=said.day.typed if said.day else "",
        start=said.start,
        end=said.end,
        place=place_of_said(key, said),
        observers=tuple(dict.fromkeys(observers)),
        party=said.party,
        habitat=said.habitat or (said.site.habitat if said.site else ""),
        habitat_typed=said.habitat_typed if said.habitat else said.site.habitat_typed if said.site else "",
        weather=said.weather,
        method=said.method,
        all_damselflies=said.all_damselflies,
        all_dragonflies=said.all_dragonflies,
        none_seen=said.none_seen,
        exuvia_passes=said.exuvia_passes,
        permission_noted=said.permission,
        remarks="\n".join(said.notes),
        temperature_c=said.temperature_c,
        sun_percent=said.sun_percent,
        wind_force=wind[0],
        wind_force_to=wind[1] if wind[1] != wind[0] else None,
        party_size=said.party_size,
        typed=_marked(said.typed, (*said.observers, *said.company, said.determiner), id_of).strip(),
    )


def sightings_of(
    key: Key,
    seen: SeenLine,
    visit: Visit,
    determiner: str,
    evidence: str | None,
    naming: Naming | None,
    writer: Writer,
    id_of: Callable[[str], str],
) -> list[Sighting]:
    """One sighting for each tally of a line; they share the line's id."""
    line_id = writer.new_id()
    said = seen.line.said
    observers = tuple(id_of(name.text) for name in said.observers)
    if said.company:
        observers = (*(observers or visit.observers), *(id_of(name.text) for name in said.company))
    typed = _marked(said.typed, (*said.observers, *said.company, said.determiner), id_of).strip()

    def sighting(tally: Tally) -> Sighting:
        stage = key.stage if tally.stage is None else tally.stage or None  # a stage in doubt is none
        return Sighting(
            id=writer.new_id(),
            line_id=line_id,
            visit_id=visit.id,
            taxon=taxon_of(key, seen.line.name),
            naming=naming,
            count=tally.count,
            count_to=tally.to,
            count_kind=tally.kind,  # type: ignore[arg-type]  # the words of shorthand are the records' own
            count_typed=tally.typed,
            pairs=tally.pairs,
            sex=tally.sex,  # type: ignore[arg-type]
            stage=stage,  # type: ignore[arg-type]
            behaviour=tally.behaviour,
            evidence=said.evidence or evidence or ("exuvia" if stage == "exuvia" else None),  # type: ignore[arg-type]
            determiner=id_of(said.determiner.text) if said.determiner else determiner,
            determined_on=visit.date,
            certainty=said.certainty,  # type: ignore[arg-type]
            qualifier=said.qualifier,
            place=_own_place(key, seen, visit),
            time=said.time or (seen.spot.start if seen.spot else None),
            observers=tuple(dict.fromkeys(observers)) or None,
            photos=tuple(writer.photo(path) for path in said.photos),
            remarks="; ".join(filter(None, (said.remarks, *(seen.spot.notes if seen.spot else ())))),
            typed=typed,
            in_pairs=tally.in_pairs,
        )

    return [sighting(tally) for tally in seen.line.tallies]


def _own_place(key: Key, seen: SeenLine, visit: Visit) -> PlaceRecord | None:
    """The sighting's own place: that of its line, else of the spot it stands under; None where it is the visit's."""
    said, spot = seen.line.said, seen.spot
    if said.place is not None:
        regions = tuple(region.id for region in regions_of(key, said.place))
        return record_of_place(said.place, said.locality, None, regions)
    if spot is None or (spot.place is None and not unless_blank(spot.locality) and spot.site is None):
        return None
    if spot.place is None and spot.site is None:
        # A named spot without a reference of its own lies within the visit's square.
        return visit.place._replace(locality=spot.locality, site=None)
    return place_of_said(key, spot)


def _marked(typed: str, names: Sequence[Word | None], id_of: Callable[[str], str]) -> str:
    """The typed text with marks in place of people's names, which are kept in the register only."""
    for name in sorted((name for name in names if name), key=lambda one: -one.start):
        start, end = (name.start + 1, name.end - 1) if name.quoted else (name.start, name.end)
        typed = f"{typed[:start]}{name_mark(id_of(name.text))}{typed[end:]}"
    return typed


def log_visit(
    ledger: Ledger,
    key: Key,
    page: PageVisit,
    said: VisitSaid,
    writer: Writer,
    *,
    evidence: str | None = None,
    naming: Naming | None = None,
    joins: Visit | None = None,
    adds: bool = False,
) -> tuple[Visit, list[Sighting]]:
    """Write one visit of a page; when this returns it is on the disk.

    `said` is what page and options say of the visit together. With `joins`, a visit that is there, the lines become
    part of it, and remarks and what was noted of all are added to it; with `adds` all else that is said of it, too.
    """

    def id_of(name: str) -> str:
        return ledger.people.register(name, writer.new_id)

    # Read and written in one: nobody else changes the visit meanwhile, or begins the same one beside it.
    with ledger.together():
        if joins is not None:
            there = _as_it_stands(ledger, joins)
            visit = _added(there, said)
            if adds:
                from reedmace.tasks.walks.joining import added_to

                visit = added_to(visit, said, _marked(said.typed, said.people, id_of).strip(), id_of)
        else:
            visit = visit_of(key, said, writer.person, id_of)
            there = visit = _same_visit(ledger, visit) or visit._replace(id=writer.new_id())
        determiner = id_of(said.determiner.text) if said.determiner else writer.person
        sightings = [
            sighting
            for seen in page.lines
            for sighting in sightings_of(key, seen, visit, determiner, evidence, naming, writer, id_of)
        ]
        change = "what was said of it was added to" if visit != there else ""
        ledger.record_walk(visit, sightings, writer.person, writer.written_at, writer.new_id, change)
    return visit, sightings


def _as_it_stands(ledger: Ledger, visit: Visit) -> Visit:
    """A visit as it stands by now; it may have been amended since it was shown."""
    standing = ledger.standing(visit.id)
    return standing[0] if standing is not None and isinstance(standing[0], Visit) else visit


def _added(visit: Visit, said: VisitSaid) -> Visit:
    return visit._replace(
        remarks="\n".join(filter(None, (visit.remarks, *said.notes))),
        all_damselflies=visit.all_damselflies or said.all_damselflies,
        all_dragonflies=visit.all_dragonflies or said.all_dragonflies,
        none_seen=visit.none_seen or said.none_seen,
    )


def log_lines(
    ledger: Ledger,
    key: Key,
    occasion: Occasion,
    lines: Sequence[Line],
    *,
    person: str,
    written_at: str,
    new_id: NewId,
    naming: Naming | None = None,
) -> tuple[Visit, list[Sighting]]:
    """Write lines as one visit. When this returns they are on the disk."""
    page = PageVisit(None, tuple(SeenLine(line, number) for number, line in enumerate(lines, start=1)))
    writer = Writer(person, written_at, new_id)
    return log_visit(ledger, key, page, occasion.said(), writer, evidence=occasion.evidence, naming=naming)


def _same_visit(ledger: Ledger, wanted: Visit) -> Visit | None:
    """A visit of the same people to the same place on the same day: further lines belong to it."""
    return next((one for one in ledger.visits_of_date(wanted.date) if one._replace(id="") == wanted), None)
