"""The description of a rarity, filled from its record and from what the key was answered; never more than was said."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from reedmace.faults import Fault, Refused
from reedmace.keys.answers import Answer, read_trait
from reedmace.keys.model import Key, Lookalike, Species
from reedmace.ledger.store import Ledger
from reedmace.records import Naming, Sighting, Visit, habitat_said
from reedmace.reports.description import Described, RuledOut
from reedmace.scoring.explain import why
from reedmace.scoring.lookalikes import Rival, rivals
from reedmace.scoring.tables import Tables
from reedmace.tasks.naming.answer_words import say_answer
from reedmace.tasks.naming.name_insect import Named, name_answers
from reedmace.tasks.naming.say_why import TELLS
from reedmace.tasks.records.tell_history import count_words, place_words
from reedmace.tasks.shared.setting import again_setting

_NEEDS = {
    "photo": "County recorders ask for a photograph of this form",
    "hand": "County recorders ask for the hand, or a photograph of that very part",
    "panel": "A panel asks for a photograph and a description of this form",
}
_SHOWN = 6  # answers named for or against


class _Answers(NamedTuple):
    """The answers kept with a record, read again: those that read, and those that do not, as they were kept."""

    read: tuple[Answer, ...]
    unread: tuple[tuple[str, str], ...]


def describe_rarity(
    ledger: Ledger, tables: Tables, sighting: Sighting, visit: Visit, said: Mapping[str, str], today: date
) -> Described:
    """Fill the description of one record; `said` are the observer's words, by the keys of `reports.description.ASKED`.

    `tables` are those of the key by the eye that the record was named with. The look-alikes are weighed by the key of
    today, from the answers given then; a record without answers has them listed, and left to the observer.
    """
    key, naming = tables.key, sighting.naming
    species = next((one for one in key.species if one.name == sighting.taxon.scientific_name), None)
    answers = _read(key, naming)
    asked = _asked(key, species, sighting.sex, answers.read)
    return Described(
        title=f"Description of a record: {sighting.taxon.vernacular or sighting.taxon.scientific_name}",
        facts=tuple(_facts(ledger, sighting, visit)),
        seen=(
            *((key.characters[one.character].title, _say(key, one)) for one in answers.read if not one.says_nothing),
            *answers.unread,
        ),
        unsure=tuple(key.characters[one.character].title for one in answers.read if one.says_nothing),
        not_seen=tuple(asked),
        rivals=tuple(_rivals(tables, species, sighting, answers, visit, today)) if species else (),
        said=tuple(said.items()),
        worked_out=_worked_out(key, naming, answers),
        needs=tuple(_needs(key, species, sighting)) if species else (),
        care=tuple(f"{note['text']} (as of {note['checked']})" for note in species.more.protection) if species else (),
    )


def _read(key: Key, naming: Naming | None) -> _Answers:
    """Read the answers of the day with the key of today; those that no longer read are told as they were given."""
    if naming is None:
        return _Answers((), ())
    read, unread = [], []
    for one in naming.answers:
        made = read_trait(key, f"{one.character}={one.typed}") if naming.key_id == key.id else None
        if made is None or isinstance(made, Fault):
            unread.append((one.character, one.typed))
        else:
            read.append(made)
    return _Answers(tuple(read), tuple(unread))


def _say(key: Key, answer: Answer) -> str:
    return say_answer(key.characters[answer.character], answer)


def _facts(ledger: Ledger, sighting: Sighting, visit: Visit) -> Iterable[tuple[str, str]]:
    name_of = ledger.people.name_of
    observers = sighting.observers if sighting.observers is not None else visit.observers
    place = sighting.place or visit.place
    taxon = sighting.taxon
    doubt = {"uncertain": "uncertain", "probable": "probable"}.get(sighting.certainty or "", "")
    day = f", {sighting.determined_on}" if sighting.determined_on else ""
    rows = [
        ("Name given", taxon.vernacular),
        ("Scientific name", " ".join(part for part in (taxon.scientific_name, sighting.qualifier) if part)),
        ("How sure", doubt),
        ("Day", visit.date or ""),
        ("Time", sighting.time or "–".join(part for part in (visit.start, visit.end) if part)),
        ("Place", place_words(place)),
        ("Habitat", habitat_said(visit)),
        ("Weather", visit.weather),
        ("Number", count_words(sighting)),
        ("Sex", sighting.sex or ""),
        ("Stage", sighting.stage or ""),
        ("Behaviour", ", ".join(sighting.behaviour)),
        ("Seen by", "; ".join([*map(name_of, observers), *([visit.party] if visit.party else [])])),
        ("Named by", f"{name_of(sighting.determiner)}{day}" if sighting.determiner else ""),
        ("What the key said", _verdict(sighting.naming) if sighting.naming else ""),
        ("Evidence", sighting.evidence or ""),
        ("Photographs", ", ".join(photo.path.replace("\\", "/").rpartition("/")[2] for photo in sighting.photos)),
        ("Remarks", sighting.remarks),
        ("Identifier", sighting.id),
    ]
    return ((name, value) for name, value in rows if value)


def _verdict(naming: Naming) -> str:
    """What the key made of all it was told on the day, where and when included."""
    ranking = ", ".join(f"{one.name} {one.probability:.0%}" for one in naming.ranking[:3])
    return "; ".join(part for part in (f"{naming.verdict or ''} {naming.verdict_name}".strip(), ranking) if part)


def _asked(key: Key, species: Species | None, sex: str | None, answers: Sequence[Answer]) -> Iterable[str]:
    """Give the marks that decide against a look-alike and were not answered."""
    found: dict[str, list[str]] = {}
    for entry in _entries(key, species, sex) if species else ():
        for title in _open(key, entry.decided_by, answers):
            found.setdefault(title, []).append(_english(key, entry.name).partition(" (")[0])
    for title, names in found.items():
        yield f"{title} (against {', '.join(dict.fromkeys(names))})"


def _entries(key: Key, species: Species, sex: str | None) -> Iterable[Lookalike]:
    """Give what the key says of look-alikes of the forms of this sex, or of all where it is not known."""
    for entry in species.lookalikes:
        forms = [key.guises[one] for one in species.guises if not entry.guises or key.guises[one].id in entry.guises]
        if any(sex in (None, form.sex or sex) for form in forms):
            yield entry


def _worked_out(key: Key, naming: Naming | None, answers: _Answers) -> str:
    if naming is None or not answers.read:
        return ""
    then = f"{naming.key_id} {naming.key_version}"
    now = f"{key.id} {key.version}"
    by = f"key {now}" if then == now else f"key {now}, from the answers given to {then}"
    return f"Weighed by the {by}: form against form, without where and when. Weights are those of an observer who errs."


def _rivals(
    tables: Tables, species: Species, sighting: Sighting, answers: _Answers, visit: Visit, today: date
) -> Iterable[RuledOut]:
    key, naming, sex = tables.key, sighting.naming, sighting.sex
    named = _named(tables, naming, answers, visit, today)
    if named is None:
        yield from _left_open(key, species, sex)
        return
    found = named.assessment
    for rival in rivals(named.tables, found.before, found.after, species.index):
        yield _ruled_out(named, species, rival, answers.read)


def _left_open(key: Key, species: Species, sex: str | None) -> Iterable[RuledOut]:
    """Give the look-alikes of a record without answers, each once, by the marks for its sex."""
    marks: dict[str, list[Lookalike]] = {}
    for entry in _entries(key, species, sex):
        marks.setdefault(_english(key, entry.name), []).append(entry)
    for name, entries in marks.items():
        deciding = dict.fromkeys(one for entry in entries for one in entry.decided_by)
        mark = "; ".join(dict.fromkeys(entry.mark for entry in entries))
        yield RuledOut(name, False, "", (), (), mark, tuple(_open(key, deciding, ())))


def _english(key: Key, name: str) -> str:
    english = {one.name: one.english for one in key.undescribed} | {one.name: one.english for one in key.species}
    named = english.get(name, "")
    return f"{named} ({name})" if named else name


def _ruled_out(named: Named, species: Species, rival: Rival, answers: Sequence[Answer]) -> RuledOut:
    key, found = named.key, named.assessment
    deciding = rival.entry.decided_by if rival.entry else {}
    mark = rival.entry.mark if rival.entry else ""
    unanswered = tuple(_open(key, deciding, answers))
    if rival.species is None:
        words = "ruled out by the mark below" if rival.separated else "not ruled out; the key does not describe it"
        return RuledOut(_english(key, rival.name), rival.separated, words, (), (), mark, unanswered)
    weights = why(named.tables, found.before, found.after, species.index, rival.species)
    ranked = sorted(weights.answers, key=lambda one: -abs(one[1]))
    speaking = [(f"{key.characters[one.character].title} ({_say(key, one)})", weight) for one, weight in ranked]
    return RuledOut(
        _english(key, rival.name),
        rival.separated,
        f"{_odds(weights.seen)}; {'told apart' if rival.separated else 'not told apart by what was answered'}",
        tuple(text for text, weight in speaking if weight >= TELLS)[:_SHOWN],
        tuple(text for text, weight in speaking if weight <= -TELLS)[:_SHOWN],
        mark,
        unanswered,
    )


def _odds(weight: float) -> str:
    """Weights of evidence in words."""
    factor = 10 ** (abs(weight) / 10)
    if factor < 1.5:
        return "the answers fit both about as well"
    shown = "more than 1000" if factor > 1000 else f"about {_round(factor):g}"
    which = "the name given" if weight > 0 else "the look-alike"
    return f"the answers fit {which} {shown} times better"


def _round(factor: float) -> float:
    """One significant figure: more would pretend to know more."""
    digits = len(str(int(factor))) - 1
    return float(round(factor, -digits)) if factor >= 2 else round(factor, 1)


def _open(key: Key, deciding: Iterable[str], answers: Sequence[Answer]) -> Iterable[str]:
    told = {key.characters[one.character].id for one in answers if not one.says_nothing}
    return (key.character(name).title for name in deciding if name not in told)


def _named(tables: Tables, naming: Naming | None, answers: _Answers, visit: Visit, today: date) -> Named | None:
    """Run the answers again; None where there are none that read."""
    if naming is None or not any(not one.says_nothing for one in answers.read):
        return None
    try:
        return name_answers(tables, again_setting(tables.key, naming, visit.date, today), answers.read)
    except Refused:
        # Date, place or habitat no longer read: the marks weigh the same without them.
        bare = naming._replace(circumstances=type(naming.circumstances)())
        return name_answers(tables, again_setting(tables.key, bare, None, today), answers.read)


def _needs(key: Key, species: Species, sighting: Sighting) -> Iterable[str]:
    """Say what is asked for of this form; of each form where the sex is not known."""
    forms = [key.guises[one] for one in species.guises if sighting.sex in (None, key.guises[one].sex or sighting.sex)]
    for form in forms:
        if form.evidence in _NEEDS:
            what = f": {form.photograph}" if form.photograph else ""
            yield f"{_NEEDS[form.evidence]} ({form.title}){what}."
