"""What an answer would correct of a record: name, date, place, count, sex, stage. Offered only, never done here.

A correction stands in a column of its own ("correct date"), or in the column that was sent, where that reads
otherwise now. What reads as the record was sent, before somebody amended it here, is the file's age, not the county
recorder's correction.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.places.place import read_place
from reedmace.records import PlaceRecord, Sighting, Taxon, Visit
from reedmace.tasks.records.tell_history import count_words, taxon_words
from reedmace.tasks.replies.as_sent import AsSent, Says
from reedmace.tasks.replies.days import day_of_reply, turned, year_of
from reedmace.tasks.replies.match import Found, same_place
from reedmace.tasks.sheets.counts import read_count
from reedmace.tasks.sheets.names import read_name
from reedmace.tasks.sheets.values import read_sex, read_stage, read_vice_county

FIELDS = ("name", "date", "place", "locality", "vice_county", "count", "sex", "stage")
# What a recipient's own system writes there is no correction: it is one only in a column of its own.
_NEVER_OVERWRITTEN = ("locality",)
_LEAST = 2  # of name, date and place, for a row to be another record's


class Offer(NamedTuple):
    """One correction: its field, what the county recorder wrote, and how the record reads before and after."""

    field: str
    typed: str
    was: str
    now: str


class Offered(NamedTuple):
    """What a row offers for one record, and what is wrong with it.

    `given` is the scientific name in the row, whether the record has it or not; `name` and `called` are the one that
    the county recorder gives instead of the name that the answer is about, in science and in words. `agreed` says
    that both are the same, `within` that the latter holds the former: a pair, a genus. `turned` says that the date
    came back with day and month the other way round, `overwritten` which offers stand in columns that were sent.
    """

    offers: tuple[Offer, ...] = ()
    faults: tuple[Fault, ...] = ()
    given: str = ""
    name: str = ""
    called: str = ""
    agreed: bool = False
    within: bool = False
    turned: bool = False
    overwritten: tuple[str, ...] = ()


class _Read(NamedTuple):
    """A cell that was read: whether the record says so already, and in what words it would read."""

    same: bool
    now: str
    name: str = ""
    within: bool = False


def offered(key: Key, found: Found, meant: Sighting, fields: Mapping[str, str], today: date, sent: AsSent) -> Offered:
    """Give what a row would correct of the record it is about; `meant` has the name that it speaks of."""
    offers: list[Offer] = []
    became = Offered()
    for field in FIELDS:
        text, apart = _text(found, field, fields, sent)
        if not text:
            continue
        if field == "date" and not apart and found.visit.date and turned(text, found.visit.date):
            became = became._replace(turned=True)
            continue
        said = _read_cell(field, key, text, today, found.sighting, found.visit)
        if isinstance(said, Fault):
            became = became._replace(faults=(*became.faults, said))
            continue
        own = apart or not (said.same or sent.stood_so(found, read_anew(field, key, text, today)))
        if field == "name":
            became = _named(key, became, meant, said, text, own=own)
        if own and not said.same:
            offers.append(Offer(field, text, _was(found, field), said.now))
            became = became._replace(overwritten=became.overwritten + (() if apart else (field,)))
    if not became.faults and found.by_id and (fault := _another_record(fields, offers)):
        became = became._replace(faults=(fault,))
    return became._replace(offers=tuple(offers))


def _text(found: Found, field: str, fields: Mapping[str, str], sent: AsSent) -> tuple[str, bool]:
    """Give what a row says of a field, and whether it stands in a column of the county recorder's own."""
    given = fields.get(f"new_{field}", "").strip()
    if given:
        return given, True
    text = fields.get(field, "").strip()
    # Without an id the record was found by these, so they say nothing new.
    if not found.by_id or field in _NEVER_OVERWRITTEN or sent.came_back(found, field, text):
        return "", False
    return text, False


def _named(key: Key, became: Offered, meant: Sighting, said: _Read, text: str, *, own: bool) -> Offered:
    """Say what a name in the row is to the name that the answer is about."""
    about = _name(key, meant, text)
    if isinstance(about, Fault) or not own or about.same:
        return became._replace(given=said.name, agreed=own and not isinstance(about, Fault) and about.same)
    return became._replace(given=said.name, name=said.name, called=about.now, within=about.within)


def offers_of(key: Key, found: Found, typed: Mapping[str, str], today: date) -> Iterator[Offer]:
    """Give corrections that were offered earlier, by field as they were written, as far as the record differs.

    What cannot be read any more, by the key of today perhaps, is offered in the county recorder's own words.
    """
    for field in FIELDS:
        text = typed.get(field, "").strip()
        said = _read_cell(field, key, text, today, found.sighting, found.visit) if text else None
        if isinstance(said, Fault):
            yield Offer(field, text, _was(found, field), text)
        elif said is not None and not said.same:
            yield Offer(field, text, _was(found, field), said.now)


def read_anew(field: str, key: Key, text: str, today: date) -> Says:
    """Give a test whether a sighting with its visit says what a cell says."""

    def says(sighting: Sighting, visit: Visit) -> bool:
        read = _read_cell(field, key, text, today, sighting, visit)
        return not isinstance(read, Fault) and read.same

    return says


def _read_cell(field: str, key: Key, text: str, today: date, sighting: Sighting, visit: Visit) -> _Read | Fault:
    """Read a cell of a field against a sighting with its visit."""
    place = sighting.place or visit.place
    readers: dict[str, Callable[[], _Read | Fault]] = {
        "name": lambda: _name(key, sighting, text),
        "date": lambda: _date(visit, text, today),
        "place": lambda: _place(place, text),
        "locality": lambda: _locality(place, text),
        "vice_county": lambda: _vice_county(place, text),
        "count": lambda: _count(sighting, text),
        "sex": lambda: _sex(sighting, text),
        "stage": lambda: _stage(sighting, text),
    }
    return readers[field]()


def _another_record(fields: Mapping[str, str], offers: list[Offer]) -> Fault | None:
    """Tell a row whose id is one record's and whose words are another's: a column was sorted by itself."""
    told = [field for field in ("name", "date", "place") if fields.get(field, "").strip()]
    differing = [one for one in offers if one.field in told and not fields.get(f"new_{one.field}", "").strip()]
    if len(told) < _LEAST or len(differing) < len(told):
        return None
    was, now = (", ".join(getattr(one, at) for one in differing) for at in ("was", "now"))
    said = f"The id is that of {was}, but the row speaks of {now}."
    return Fault("reply-of-another", said, "look whether one column was sorted without the others")


def _was(found: Found, field: str) -> str:
    if field == "name":
        return taxon_words(found.sighting.taxon)
    if field == "date":
        return found.visit.date or "no date"
    if field == "place":
        return found.place.square or found.place.typed or found.place.locality or "no place"
    if field in ("locality", "vice_county"):
        return getattr(found.place, field) or "none"
    if field == "sex":
        return found.sighting.sex or "none"
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
    if (named.qualifier or named.certainty in ("uncertain", "probable")) and not same:
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
    day = day_of_reply(text, today, year_of(visit))
    return day if isinstance(day, Fault) else _Read(day == visit.date, day)


def _place(place: PlaceRecord, text: str) -> _Read | Fault:
    if text == place.typed:
        return _Read(True, "")
    read = read_place(text)
    if isinstance(read, Fault):
        return read
    return _Read(same_place(place, read), read.square or read.typed)


def _locality(place: PlaceRecord, text: str) -> _Read | Fault:
    return _Read(" ".join(text.casefold().split()) == " ".join(place.locality.casefold().split()), text)


def _vice_county(place: PlaceRecord, text: str) -> _Read | Fault:
    number = read_vice_county(text)
    return number if isinstance(number, Fault) else _Read(number == place.vice_county, number)


def _sex(sighting: Sighting, text: str) -> _Read | Fault:
    sex = None if sighting.pairs else read_sex(text)
    if isinstance(sex, Fault):
        return sex
    # An empty or vague cell ("both") takes nothing back.
    return _Read(sex is None or sex == sighting.sex, sex or "")


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
