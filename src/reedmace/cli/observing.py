"""Who writes: --by, or whoever said `people --me`; and everything that one command writes, whole or not at all."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from reedmace.faults import Fault, Refused

if TYPE_CHECKING:
    from reedmace.ledger.store import Ledger

NewId = Callable[[], str]


@contextmanager
def writing_as(ledger: Ledger, by: str | None, new_id: NewId) -> Iterator[tuple[str, str]]:
    """Give who writes, id and name; what is written within is written together.

    Where it is refused nothing is left of it, nor a name that was new.
    """
    if by is None and ledger.people.me() is None:
        _asked(ledger, new_id)  # before others have to wait
    with ledger.together():
        yield observer(ledger, by, new_id)


def name_of_observer(ledger: Ledger, by: str | None, new_id: NewId) -> str:
    """The name of who observes; asked for where nobody has said. A name that is new is looked at, and not kept yet."""
    if by is not None:
        known = ledger.people.find(by)
        return ledger.people.name_of(known) if known is not None else _somebody_new(by, ledger)
    me = ledger.people.me() or _asked(ledger, new_id)
    return ledger.people.name_of(me)


def observer(ledger: Ledger, by: str | None, new_id: NewId) -> tuple[str, str]:
    """Who observes, id and name; somebody new is put into the register."""
    if by is not None:
        person = ledger.people.find(by) or ledger.people.register(_somebody_new(by, ledger), new_id)
    else:
        person = ledger.people.me() or _asked(ledger, new_id)
    return person, ledger.people.name_of(person)


def one_person(name: str) -> str:
    """The name of one person, to be registered; raises `Refused` where it is none, or may be a child's."""
    from reedmace.tasks.shorthand.person_typed import person_typed

    fault = person_typed(name)
    if fault is not None:
        raise Refused(fault)
    return name


def _somebody_new(name: str, ledger: Ledger) -> str:
    from reedmace.cli.whole_names import whole_name

    return whole_name(one_person(name), ledger)


def _asked(ledger: Ledger, new_id: NewId) -> str:
    """Ask somebody at a terminal for their name, once: it is kept as that of whoever keeps this ledger."""
    if not sys.stdin.isatty():
        hint = 'say it once:  reedmace people --me "Your Name"   or add  --by NAME'
        raise Refused(Fault("observer-unknown", "Nobody has said who observes.", hint, typed=True))
    from reedmace.cli.asking import ask
    from reedmace.tasks.shared.prompt_words import own_text
    from reedmace.tasks.shorthand.person_typed import person_typed

    def read(text: str) -> str | Fault:
        name = own_text(text)
        return name if isinstance(name, Fault) else person_typed(name) or name

    name = ask("Your name, as it should stand in the records: ", read, needed=True)
    person = ledger.people.register(name or "", new_id)
    ledger.people.set_me(person)
    return person
