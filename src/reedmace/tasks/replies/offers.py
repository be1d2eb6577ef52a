"""What an answer would correct of a record: name, date, place, count, stage. Offered only, never done here.

A correction stands in a column of its own ("correct date"), or in the column that was sent, where that reads
otherwise now. What reads as the record once stood, before somebody amended it here, is the file's age, not the
county recorder's correction.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.ledger.store import Ledger
from reedmace.places.place import read_place
from reedmace.records import PlaceRecord, Sighting, Taxon, Visit
from reedmace.tasks.records.tell_history import count_words, taxon_words
from reedmace.tasks.replies.match import Found, day_of_reply, same_place
from reedmace.tasks.sheets.counts import read_count
from reedmace.tasks.sheets.names import read_name
from reedmace.tasks.sheets.values import read_stage

FIELDS = ("name", "date", "place", "count", "stage")
_LEAST = 2  # of name, date and place, for a row to be another record's


class Offer(NamedTuple):
    """One correction: its field, what the county recorder wrote, and how the record reads before and after."""

    field: str
    typed: str
    was: str
    now: str


class Offered(NamedTuple):
    """What a row offers for one record, and what is wrong with it.

    `given` is the scientific name in the row, whether the record has it or not; `agreed` says that the record has
    the name that was given as the county recorder's own, `within` that it has one that holds it: a pair, a genus.
    """

    offers: tuple[Offer, ...] = ()
    faults: tuple[Fault, ...] = ()
    given: str = ""
    agreed: bool = False
    within: bool = False

    @property
    def name(self) -> str:
        """The scientific name that is offered instead of the record's, or ""."""
        return self.given if any(offer.field == "name" for offer in self.offers) else ""


Says = Callable[[Sighting, Visit], bool]
"""A test whether a sighting with its visit says what is offered."""


class _Read(NamedTuple):
    """A cell that was read: whether the record says so already, and in what words it would read."""

    same: bool
    now: str
    name: str = ""
    within: bool = False


def offered(ledger: Ledger, key: Key, found: Found, fields: Mapping[str, str], today: date) -> Offered:
    """Give what a row would correct of the record it is about."""
    readers = _readers(key, found, today)
    offers: list[Offer] = []
    faults: list[Fault] = []
    name, agreed, within = "", False, False
    for field, read in readers.items():
        given = fields.get(f"new_{field}", "").strip()
        # Without an id the record was found by these, so they say nothing new.
        text = given or (fields.get(field, "").strip() if found.by_id else "")
        if not text:
            continue
        said = read(text)
        if isinstance(said, Fault):
            faults.append(said)
            continue
        if field == "name":
            name, agreed, within = said.name, bool(given) and said.same, said.within
        if not said.same and (given or not _stood_so(ledger, found, read_anew(field, key, text, today))):
            offers.append(Offer(field, text, _was(found, field), said.now))
    if not faults and found.by_id and (fault := _another_record(fields, offers)):
        faults.append(fault)
    return Offered(tuple(offers), tuple(faults), name, agreed, within)


def offers_of(key: Key, found: Found, typed: Mapping[str, str], today: date) -> Iterator[Offer]:
    """Give corrections that were offered earlier, by field as they were written, as far as the record differs.

    What cannot be read any more, by the key of today perhaps, is offered in the county recorder's own words.
    """
    readers = _readers(key, found, today)
    for field in FIELDS:
        text = typed.get(field, "").strip()
        said = readers[field](text) if text else None
        if isinstance(said, Fault):
            yield Offer(field, text, _was(found, field), text)
        elif said is not None and not said.same:
            yield Offer(field, text, _was(found, field), said.now)


def _readers(key: Key, found: Found, today: date) -> dict[str, Callable[[str], _Read | Fault]]:
    return {
        "name": lambda text: _name(key, found.sighting, text),
        "date": lambda text: _date(found.visit, text, today),
        "place": lambda text: _place(found.place, text),
        "count": lambda text: _count(found.sighting, text),
        "stage": lambda text: _stage(found.sighting, text),
    }


def read_anew(field: str, key: Key, text: str, today: date) -> Says:
    """Give a test whether a sighting with its visit says what a cell says."""

    def says(sighting: Sighting, visit: Visit) -> bool:
        read: _Read | Fault
        if field == "name":
            read = _name(key, sighting, text)
        elif field == "date":
            read = _date(visit, text, today)
        elif field == "place":
            read = _place(sighting.place or visit.place, text)
        else:
            read = _count(sighting, text) if field == "count" else _stage(sighting, text)
        return not isinstance(read, Fault) and read.same

    return says


def _stood_so(ledger: Ledger, found: Found, says: Says) -> bool:
    """Say whether the record read like this once, before it was amended here."""
    sightings = [record for _, record in ledger.history(found.sighting.id) if isinstance(record, Sighting)]
    of = dict.fromkeys((found.visit.id, *(sighting.visit_id for sighting in sightings)))
    visits = [record for visit in of for _, record in ledger.history(visit) if isinstance(record, Visit)]
    return any(says(sighting, visit) for sighting in sightings for visit in visits)


def _another_record(fields: Mapping[str, str], offers: list[Offer]) -> Fault | None:
    """Tell a row whose id is one record's and whose words are another's: a column was sorted by itself."""
    told = [field for field in ("name", "date", "place") if fields.get(field, "").strip()]
    differing = [one for one in offers if one.field in told and not fields.get(f"new_{one.field}", "").strip()]
    if len(told) < _LEAST or len(differing) < len(told):
        return None
    was, now = (", ".join(getattr(one, at) for one in differing) for at in ("was", "now"))
    said = f"The id is that of {was}, but the row speaks of {now}."
    return Fault("reply-contradicts", said, "look whether one column was sorted without the others")


def _was(found: Found, field: str) -> str:
    if field == "name":
        return taxon_words(found.sighting.taxon)
    if field == "date":
        return found.visit.date or "no date"
    if field == "place":
        return found.place.square or found.place.typed or found.place.locality or "no place"
    return count_words(found.sighting) if field == "count" else found.sighting.stage or "adult"


def _name(key: Key, sighting: Sighting, text: str) -> _Read | Fault:
    taxon = sighting.taxon
    folded = text.casefold()
    if folded in {word.casefold() for word in (taxon.scientific_name, taxon.vernacular, taxon.typed) if word}:
        return _Read(True, "", taxon.scientific_name)
    named = read_name(key, text)
    if isinstance(named, Fault):
        return named
    same = named.taxon.scientific_name == taxon.scientific_name and set(named.taxon.one_of) == set(taxon.one_of)
    if named.qualifier and not same:
        return Fault("name-in-doubt", "A name with a sign of doubt corrects none.", "put it into the remarks", text)
    within = not same and _within(key, taxon, named.taxon)
    return _Read(same, taxon_words(named.taxon), named.taxon.scientific_name, within)


def _within(key: Key, taxon: Taxon, other: Taxon) -> bool:
    """Say whether a taxon that was recorded holds another one, that so says more of the same insect."""
    if taxon.one_of:
        return set(other.one_of or (other.scientific_name,)) <= set(taxon.one_of)
    above = {"genus": other.genus, "family": other.family, "order": other.order}
    above["suborder"] = key.families.get(other.family, ("", ""))[1]
    return above.get(taxon.rank) == taxon.scientific_name


def _date(visit: Visit, text: str, today: date) -> _Read | Fault:
    day = day_of_reply(text, today)
    return day if isinstance(day, Fault) else _Read(day == visit.date, day)


def _place(place: PlaceRecord, text: str) -> _Read | Fault:
    if text == place.typed:
        return _Read(True, "")
    read = read_place(text)
    if isinstance(read, Fault):
        return read
    return _Read(same_place(place, read), read.square or read.typed)


def _count(sighting: Sighting, text: str) -> _Read | Fault:
    counts = read_count(text)
    if isinstance(counts, Fault):
        return counts
    if len(counts) != 1 or counts[0].zero:
        hint = "one record has one count: write a number, a range like 6-20, ~40, 40+, 2 cop, or present"
        return Fault("count-not-read", "This is no count of one kind of insect.", hint, text)
    [one] = counts
    number = sighting.count
    # A recipient's bands hold the number that was sent.
    within = number is not None and one.number is not None and one.to is not None and one.number <= number <= one.to
    banded = within and sighting.count_kind == "exact"
    new = sighting._replace(count=one.number, count_to=one.to, count_kind=one.kind, pairs=one.pairs)  # type: ignore[arg-type]
    alike = one.number == number and (one.pairs in (None, sighting.pairs)) and (one.to in (None, sighting.count_to))
    return _Read(banded or alike or text == sighting.count_typed, count_words(new))


def _stage(sighting: Sighting, text: str) -> _Read | Fault:
    stage = read_stage(text)
    return stage if isinstance(stage, Fault) else _Read(stage == (sighting.stage or "adult"), stage)
