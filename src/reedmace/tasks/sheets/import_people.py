"""The people of an imported file: known by name, and put into the register only with a record that is brought in."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from reedmace.ledger.people import name_key
from reedmace.ledger.store import Ledger
from reedmace.records import Sighting, Visit, people_marked
from reedmace.tasks.shorthand.people_short import longer_names


class ImportPeople:
    """The people of one import. Somebody new has an id from the first row on, and stands in the register later."""

    def __init__(self, ledger: Ledger, new_id: Callable[[], str]) -> None:
        self._people = ledger.people
        self._new_id = new_id
        self._ids: dict[str, str] = {}
        self._waiting: dict[str, str] = {}  # names by ids that are in no register yet
        self._new_ids: dict[str, str] = {}  # the same the other way round, by names as they are compared
        self._keys: dict[str, str | None] = {}
        self.new: dict[str, None] = {}

    def id_of(self, name: str) -> str:
        """Give the id of a person; nobody is registered."""
        known = self._ids.get(name)
        if known is None:
            key = name_key(" ".join(name.split()))
            known = self._people.find(name) or self._new_ids.get(key)
            if known is None:
                known = self._new_ids[key] = self._new_id()
                self._waiting[known] = " ".join(name.split())
            self._ids[name] = known
        return known

    def compared(self, person: str) -> str | None:
        """Give the name of a person as names are compared; None of somebody whose name was taken out."""
        if person in self._waiting:
            return name_key(self._waiting[person])
        if not self._keys:
            self._keys = {one.id: None if one.forgotten else name_key(one.name) for one in self._people.all()}
        return self._keys.get(person, person)

    def met(self, records: Iterable[Visit | Sighting], others: Iterable[str], *, dry: bool) -> None:
        """Put those whom these records name into the register, and `others`; a `dry` run only notes who they are."""
        if not self._waiting:
            return
        named = dict.fromkeys(person for record in records for person in _named(record)) | dict.fromkeys(others)
        for person in [one for one in named if one in self._waiting]:
            name = self._waiting[person]
            self.new[name] = None
            if not dry:
                self._people.add(person, name)
                del self._waiting[person]
                if self._keys:
                    self._keys[person] = name_key(name)

    def may_be(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Give those who are new, and whose name may be short for another's, each with the others."""
        if not self.new:
            return ()
        known = dict.fromkeys([one.name for one in self._people.all() if not one.forgotten] + list(self.new))
        found = ((name, tuple(longer_names(name, [one for one in known if one != name]))) for name in self.new)
        return tuple((name, others) for name, others in found if others)


def _named(record: Visit | Sighting) -> Iterable[str]:
    yield from record.observers or ()
    if isinstance(record, Sighting) and record.determiner is not None:
        yield record.determiner
    yield from people_marked(record.typed)
