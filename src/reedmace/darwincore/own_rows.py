"""Reading a line of our own file back, cell by cell, nothing guessed: the same visit, sighting and determinations.

A line that was changed since, so that a cell no longer reads as we write it, is left to the general reading.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple, get_args

from reedmace.darwincore.csvfile import one_line
from reedmace.darwincore.exact import FORMAT, Earlier, marked
from reedmace.darwincore.location import read_location
from reedmace.darwincore.own_check import as_written
from reedmace.darwincore.quantity import pair_words
from reedmace.darwincore.reading import BANDS, KINDS, properties_of, read_visit_remarks
from reedmace.darwincore.wording import SEPARATOR, sentences
from reedmace.records import Photo, PlaceRecord, Sighting, Taxon, Visit, name_mark, span
from reedmace.records.bodies import NAMING, PLACE, SIGHTING, TAXON, VISIT
from reedmace.records.kinds import Unfit
from reedmace.records.sighting import Sex, Stage
from reedmace.records.verification import STATUSES, Verification

PersonOf = Callable[[str], str]
_DOUBTS = {"?": "uncertain", "probable": "probable"}
_TAXON = {
    "scientificNameAuthorship": "authorship",
    "taxonRank": "rank",
    "vernacularName": "vernacular",
    "kingdom": "kingdom",
    "phylum": "phylum",
    "class": "class_name",
    "order": "order",
    "family": "family",
    "genus": "genus",
    "specificEpithet": "specific_epithet",
}


class OwnRow(NamedTuple):
    """What a line of ours says.

    `earlier` are the determinations before, the oldest first, and `reason` why the present one followed them.
    `verified` is what a county recorder said of it.
    """

    visit: Visit
    sighting: Sighting
    earlier: tuple[Earlier, ...]
    reason: str
    modified: str
    verified: Verification | None = None


def is_own(row: Mapping[str, str]) -> bool:
    """Say whether a line is one that we wrote with everything in it."""
    return '"exact": {"format"' in row.get("dynamicProperties", "")


def change_of(row: Mapping[str, str]) -> str:
    """Give what a line says has become of its record since the submission before: new, changed, withdrawn, or ""."""
    return str(properties_of(row).get("change") or "")


def read_own(row: Mapping[str, str], person_of: PersonOf) -> OwnRow | None:
    """Read a line of ours (term to text); None where it does not read as we write it.

    `person_of` gives the id of a person's name.
    """
    properties = properties_of(row)
    exact = properties.get("exact")
    if not isinstance(exact, dict) or exact.get("format") != FORMAT:
        return None
    try:
        reading = _Reading(row, properties, exact, person_of)
        visit = reading.visit()
        sighting = reading.sighting(visit)
        # What cannot be written again has no place in a ledger.
        VISIT.write(visit)
        SIGHTING.write(sighting)
        if not as_written(row, sighting, visit):
            return None
        earlier, reason = reading.earlier(sighting), str(exact.get("reason", ""))
        return OwnRow(visit, sighting, earlier, reason, row.get("modified", ""), reading.verified())
    except (Unfit, KeyError, TypeError, ValueError, AttributeError):
        return None


class _Reading:
    """One line being read. Any of its methods may raise where a cell is not as we write it."""

    def __init__(
        self, row: Mapping[str, str], properties: dict[str, Any], exact: dict[str, Any], person_of: PersonOf
    ) -> None:
        self._row = row
        self._properties = properties
        self._of_sighting: dict[str, Any] = exact.get("sighting", {})
        self._of_visit: dict[str, Any] = exact.get("visit", {})
        self._before: list[dict[str, Any]] = exact.get("earlier", [])
        self._ids: dict[str, str] = {}
        self._person_of = person_of

    def _get(self, term: str) -> str:
        return self._row.get(term, "")

    def _person(self, name: str) -> str:
        found = self._ids[name] = self._ids.get(name) or self._person_of(name)
        return found

    def visit(self) -> Visit:
        """Give the visit."""
        given, get = self._of_visit, self._get
        day = get("eventDate") or None
        if day is not None and span(day) is None:
            raise ValueError(day)
        start, slash, end = get("eventTime").partition("/")
        times = (given.get("start"), given.get("end")) if not slash else (start, end)
        if "start" in given or "end" in given:
            times = (given.get("start"), given.get("end"))
        remarks = {**read_visit_remarks(get("eventRemarks"))}
        remarks |= {name: given[name] for name in remarks if name in given}
        habitat, habitat_typed = self._habitat()
        wind = str(self._properties.get("windBeaufort", "")).split("-")
        return Visit(
            id=get("eventID"),
            date=day,
            date_typed=get("verbatimEventDate"),
            start=times[0] or None,
            end=times[1] or None,
            place=self._place(given.get("place")),
            observers=self._observers(),
            party=given.get("party", ""),
            habitat=habitat,
            habitat_typed=habitat_typed,
            method=get("samplingProtocol"),
            none_seen=given.get("none_seen", False),
            exuvia_passes=given.get("exuvia_passes"),
            temperature_c=self._properties.get("temperatureInCelsius"),
            sun_percent=self._properties.get("sunPercent"),
            wind_force=int(wind[0]) if wind[0] else None,
            wind_force_to=int(wind[1]) if len(wind) > 1 else None,
            party_size=given.get("party_size"),
            typed=self._marked(given.get("typed", "")),
            **remarks,  # type: ignore[arg-type]  # VISIT.write looks at each of them
        )

    def _habitat(self) -> tuple[str, str]:
        """Give the habitat as it was understood, and the word that it was said by."""
        written = self._get("habitat")
        if "habitat" not in self._of_visit:
            return written, ""
        habitat, said, *title = self._of_visit["habitat"]
        if one_line(said) != written:
            raise ValueError(written)  # somebody corrected the cell
        return habitat, "" if title else said

    def sighting(self, visit: Visit) -> Sighting:
        """Give the sighting."""
        given, get = self._of_sighting, self._get
        doubt = get("identificationQualifier")
        certainty, qualifier = _DOUBTS.get(doubt), "" if doubt in _DOUBTS else doubt
        certainty = given.get("certainty", certainty)
        behaviour = tuple(given.get("behaviour", _parts(get("behavior"))))
        count, to, kind = self._count()
        in_pairs, pairs = given.get("in_pairs"), self._properties.get("pairs")
        time = None if "/" in get("eventTime") or "time" in given else get("eventTime") or None
        who = get("identifiedBy")
        made = Sighting(
            id=get("occurrenceID"),
            line_id=get("occurrenceID"),
            visit_id=visit.id,
            taxon=self._taxon(),
            naming=NAMING.read(given["naming"]) if "naming" in given else None,
            count=count,
            count_to=given.get("count_to", to),
            count_kind=given.get("count_kind", kind),
            count_typed=given.get("count_typed", ""),
            pairs=pairs,
            sex=_word(get("sex"), get_args(Sex)),
            stage=_word(get("lifeStage"), get_args(Stage)),
            behaviour=behaviour,
            evidence=self._properties.get("evidence"),
            determiner=self._person(who) if who else None,
            determined_on=get("dateIdentified") or None,
            certainty=certainty,
            qualifier=given.get("qualifier", qualifier),
            place=self._own_place(),
            time=time,
            observers=self._own_observers(),
            photos=self._photos(),
            typed=self._marked(get("fieldNotes")),
            in_pairs=in_pairs,
        )
        return made._replace(remarks=_after(sentences(*pair_words(made)), get("occurrenceRemarks")))

    def earlier(self, now: Sighting) -> tuple[Earlier, ...]:
        """Give the determinations before."""
        found = []
        for one in self._before:
            who = one.get("determiner")
            seen = now._replace(
                taxon=TAXON.read(one["taxon"]),
                naming=NAMING.read(one["naming"]) if "naming" in one else None,
                determiner=self._person(who) if who else None,
                determined_on=one.get("determined_on"),
                certainty=one.get("certainty"),
                qualifier=one.get("qualifier", ""),
                evidence=one.get("evidence"),
            )
            SIGHTING.write(seen)
            found.append(Earlier(seen, one["at"], one["act"], one.get("reason", "")))
        return tuple(found)

    def verified(self) -> Verification | None:
        """Give the county recorder's answer, None where there is none."""
        given = self._properties.get("verification")
        if given is None:
            return None
        said = Verification(**given)
        if said.status not in STATUSES or not all(isinstance(part, str) for part in said):
            raise ValueError(said)
        return said._replace(verifier=self._person(said.verifier))

    def _taxon(self) -> Taxon:
        typed = self._get("verbatimIdentification")
        given = self._of_sighting
        names = {field: self._get(term) for term, field in _TAXON.items()}
        one_of = tuple(given.get("one_of", ()))
        return Taxon(self._get("scientificName"), one_of=one_of, typed=given.get("name_typed", typed), **names)

    def _count(self) -> tuple[int | None, int | None, str]:
        individuals, quantity = self._get("individualCount"), self._get("organismQuantity")
        if individuals:
            return _number(individuals), None, "exact"
        if not quantity:
            return None, None, "present"
        kind = self._get("organismQuantityType")
        first, dash, last = quantity.partition("-")
        word = "band" if kind == BANDS else KINDS[kind]
        return _number(first), _number(last) if dash else None, word

    def _place(self, given: Any) -> PlaceRecord:
        """Give the visit's place: as given exactly, else by the columns."""
        return PLACE.read(given) if given is not None else self._columns()

    def _own_place(self) -> PlaceRecord | None:
        given = self._of_sighting.get("place")
        if given is None:
            return None
        return self._columns() if given is True else PLACE.read(given)

    def _columns(self) -> PlaceRecord:
        read = read_location(self._row, self._properties.get("viceCounty"))
        if read is None:
            raise ValueError("place")
        return read

    def _observers(self) -> tuple[str, ...]:
        names = self._of_visit.get("observers")
        return self._recorded_by() if names is None else tuple(map(self._person, names))

    def _own_observers(self) -> tuple[str, ...] | None:
        return None if self._of_visit.get("observers") is None else self._recorded_by()

    def _recorded_by(self) -> tuple[str, ...]:
        text = self._get("recordedBy")
        party = self._of_visit.get("party", "")
        if party and "observers" not in self._of_visit:
            if not text.endswith(one_line(party)):
                raise ValueError(text)
            text = text.removesuffix(one_line(party)).removesuffix(SEPARATOR)
        return tuple(self._person(name) for name in _parts(text))

    def _photos(self) -> tuple[Photo, ...]:
        if "photos" in self._of_sighting:
            return tuple(Photo(*one) for one in self._of_sighting["photos"])
        paths = _parts(self._get("associatedMedia"))
        sums = self._properties.get("mediaSHA256") or [""] * len(paths)
        return tuple(map(Photo, paths, sums)) if len(sums) == len(paths) else tuple(map(Photo, paths))

    def _marked(self, text: str) -> str:
        return marked(text, self._ids, name_mark) if text else text


def _parts(text: str) -> tuple[str, ...]:
    return tuple(text.split(SEPARATOR)) if text else ()


def _number(text: str) -> int:
    if not (text.isascii() and text.isdigit()):
        raise ValueError(text)
    return int(text)


def _word(text: str, words: tuple[str, ...]) -> Any:
    if text and text not in words:
        raise ValueError(text)
    return text or None


def _after(words: str, text: str) -> str:
    """Take our own words off the beginning of a cell."""
    if not words or text == words:
        return "" if words else text
    begin = sentences(words, " ")
    if not text.startswith(begin[:-1]):
        raise ValueError(text)
    return text.removeprefix(begin[:-1])
