"""Corrections typed as `field=value` → the record as it stands from then on. An empty value clears a field."""

from __future__ import annotations

import shlex
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import Any, NamedTuple

from reedmace.faults import Fault, Refused, did_you_mean
from reedmace.records import Sighting, Visit
from reedmace.tasks.records import amend_sighting, amend_visit
from reedmace.tasks.records.amend_people import Named, read_people
from reedmace.tasks.records.amend_values import Around

_PEOPLE = {Sighting: ("observers", "determiner"), Visit: ("observers",)}


class Amended(NamedTuple):
    """The record with the typed changes, but for people, who are registered only once everything is well."""

    record: Sighting | Visit
    people: tuple[Named, ...] = ()

    def with_people(self, id_of: Callable[[str], str]) -> Sighting | Visit:
        """The record with the people who were named; `id_of` registers them."""
        record = self.record
        for one in self.people:
            ids = tuple(dict.fromkeys(id_of(name.text) for name in one.names))
            if isinstance(record, Visit):
                record = record._replace(observers=ids)
            elif one.field == "observers":
                record = record._replace(observers=ids or None)
            else:
                record = record._replace(determiner=ids[0] if ids else None)
        return record


def read_changes(record: Sighting | Visit, words: Sequence[str], around: Around) -> Amended:
    """Read the typed changes. Raises Refused with every fault at once."""
    fields: Mapping[str, Any] = amend_sighting.FIELDS if isinstance(record, Sighting) else amend_visit.FIELDS
    people: list[Named] = []
    faults: list[Fault] = []
    said: set[str] = set()
    now: Any = record
    for word in words:
        name, equals, value = word.partition("=")
        name = name.strip().casefold().replace("_", "-")
        read: Any = None
        if not equals:
            hint = 'write, for example,  count=12  or  remarks="by the sluice"'
            read = Fault("no-equals", "This is no change to a field.", hint, typed=True)
        elif name in said:
            read = Fault("said-twice", f"The {name} is said twice.", "say it once", typed=True)
        elif name in _PEOPLE[type(record)]:
            read = _own_observers(record, name, word) or read_people(name, value.strip())
        elif name not in fields:
            read = _unknown(record, name, word, fields)
        else:
            read = fields[name](value.strip(), now, around)
        said.add(name)
        if isinstance(read, Fault):
            faults.append(read._replace(said=word))
        elif isinstance(read, Named):
            people.append(read)
        else:
            # One after the other: two parts of one place may be changed at once.
            now = now._replace(**read)
    done = Amended(now, tuple(people))
    if not faults:
        faults = _together(record, done, words)
    if faults:
        raise Refused(*faults)
    return done


def amended(record: Sighting | Visit, words: Sequence[str], today: date) -> Sighting | Visit:
    """Give the record with changes that name no people. Raises Refused with every fault at once."""
    return read_changes(record, words, Around(today)).record


def _together(was: Sighting | Visit, done: Amended, words: Sequence[str]) -> list[Fault]:
    """What only all changes together say."""
    if isinstance(was, Sighting):
        assert isinstance(done.record, Sighting)
        fault = amend_sighting.contradiction(was, done.record)
    else:
        now = done.with_people(lambda name: name)
        assert isinstance(now, Visit)
        fault = amend_visit.somebody(was, now)
    return [fault._replace(said=" ".join(words))] if fault else []


def _own_observers(record: Sighting | Visit, name: str, word: str) -> Fault | None:
    """Observers are the visit's, but where a sighting has its own."""
    if name != "observers" or isinstance(record, Visit) or record.observers is not None:
        return None
    return _of_the_visit(record, name, word)


def _of_the_visit(record: Sighting, name: str, word: str) -> Fault:
    belong = f"The {name} belong{'' if name == 'observers' else 's'} to the whole visit."
    hint = f'amend the visit:  reedmace ledger amend {record.visit_id} {shlex.quote(word)} --reason "..."'
    return Fault("field-of-the-visit", belong, hint, typed=True)


def _unknown(record: Sighting | Visit, name: str, word: str, fields: Mapping[str, Any]) -> Fault:
    if isinstance(record, Sighting) and name in amend_visit.FIELDS:
        return _of_the_visit(record, name, word)
    known = (*fields, *_PEOPLE[type(record)])
    if name in ("name", "species") and isinstance(record, Sighting):
        hint = f'give it another name:  reedmace ledger redetermine {record.id} --name "NAME" --reason "..."'
    else:
        hint = did_you_mean(name, known, f"fields: {', '.join(known)}")
    return Fault("unknown-field", f'There is no field "{name}" here.', hint, typed=True)
