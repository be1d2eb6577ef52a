"""At the end of a conversation: the offer to log what was named, and the questions that a record still needs."""

from __future__ import annotations

import shlex
import sys
from typing import TYPE_CHECKING, NamedTuple

import click

from reedmace.cli.asking import Back, InTurn, Left, ask, commanded, confirm, fault_shown, read_line, tell
from reedmace.cli.surroundings import ledger_path, new_id, today, written_at
from reedmace.faults import Fault
from reedmace.places.place import Place, read_place
from reedmace.tasks.naming.read_record_name import read_record_name
from reedmace.tasks.naming.record_name import record_name
from reedmace.tasks.shared.dates import TypedDate, read_date
from reedmace.tasks.shared.prompt_words import HELP, own_place, plain_word, said_yes
from reedmace.tasks.shorthand.line import Line, read_tallies
from reedmace.tasks.shorthand.line import read_line as read_sighting
from reedmace.tasks.shorthand.line_said import Counted
from reedmace.tasks.shorthand.line_words import show_line

if TYPE_CHECKING:
    from collections.abc import Callable

    from reedmace.keys.names import FoundName
    from reedmace.tasks.naming.name_insect import Named
    from reedmace.terminal.screen import Screen

_HOW = "yes  asks what a record still needs and shows it before it is written;  no  and  quit  end without a record;"
_HOW += "  back  goes on with the questions."


class _Draft(NamedTuple):
    """A record that is being asked for. `name` is the observer's own, None where the one offered is taken."""

    name: Line | None
    day: TypedDate | None
    place: Place | None
    locality: str
    counted: Counted


def offer_to_log(screen: Screen, named: Named, ledger_name: str | None, by: str | None) -> None:
    """Offer to log, and log where it is wanted; else say that nothing was logged. Raises `Back` to the questions."""
    offer = _Offer(named)
    screen.blank()
    try:
        while _wanted():
            try:
                agreed = _agreed(screen, offer)
            except Back:
                continue
            if agreed:
                _write(screen, offer, ledger_name, by)
                return
            break
    except Left:
        pass
    screen.say(offer.not_logged())


def _wanted() -> bool:
    """Whether it is to be logged; Enter is yes at a terminal. A pipe's empty line may be no more than a file's end."""
    while True:
        typed = read_line("Log this sighting? [Y/n] ")
        if typed is None:
            if sys.stdin.isatty():
                click.echo()
            return False
        if not typed.strip():
            if sys.stdin.isatty():
                return True
            continue
        if commanded(typed, back=True):
            continue
        said = said_yes(typed)
        if said is not None:
            return said
        if plain_word(typed) in HELP:
            tell(_HOW)
            continue
        message, hint = "This is neither a yes nor a no.", "answer  yes  or  no ; back  goes on with the questions"
        click.echo(fault_shown(Fault("answer-not-read", message, hint, typed.strip(), typed=True)))


def _agreed(screen: Screen, offer: _Offer) -> bool:
    """Ask what a record still needs, and show it; at a terminal, whether it is to be written. Raises `Back`."""
    asked = InTurn(offer.draft, (_name(offer), _day, _place, _locality, _counted), offer.keep)
    while True:
        asked.go()
        screen.say(offer.shown())
        if not sys.stdin.isatty():
            return True
        try:
            return confirm("Write this?", default=True, back=True)
        except Back as typed:
            asked.back(typed.word)


class _Offer:
    """What was named, and the record that is made of it: `draft` is what was answered so far."""

    def __init__(self, named: Named) -> None:
        self.named, self.key = named, named.key
        verdict, setting = named.assessment.verdict, named.setting
        self.name: FoundName = record_name(self.key, verdict)
        # A day whose year was taken is offered, and stands with its year on the screen; a month is no day.
        day = setting.date if setting.date and (setting.date.is_day or not setting.date.assumed) else None
        day = day if day and day.iso <= today().isoformat() else None
        counted = read_tallies(f"1 {verdict.sex[0]}" if verdict.sex else "1")
        assert not isinstance(counted, Fault)
        self.draft = _Draft(None, day, setting.place, "", counted)

    def keep(self, draft: _Draft) -> None:
        """Keep what was answered so far."""
        self.draft = draft

    def line(self) -> Line:
        """The line of the record."""
        own, counted = self.draft.name, self.draft.counted
        if own is None:
            words = f"{counted.typed} {self.name.typed} (named with the key)".strip()
            return Line(self.name, counted._replace(typed=words))
        doubt, qualifier = own.said.certainty or counted.certainty, own.said.qualifier or counted.qualifier
        words = f"{counted.typed} {own.typed}".strip()
        return Line(own.name, counted._replace(typed=words, certainty=doubt, qualifier=qualifier))

    def shown(self) -> str:
        """The record as it is understood, before it is written."""
        from reedmace.terminal.walk_text import name_shown

        line, draft = self.line(), self.draft
        when, where = draft.day.iso if draft.day else "", draft.place.typed if draft.place else ""
        return f"{name_shown(self.key, line)}: {show_line(line)}; {when}, {where} {draft.locality}".rstrip()

    def not_logged(self) -> str:
        """That nothing was logged, and how to do it later: a line to type where what is known makes one."""
        draft = self.draft
        words = f"{draft.counted.typed} {draft.name.typed if draft.name else self.name.typed}"
        later = "reedmace log"
        if draft.day and draft.place and not isinstance(read_sighting(self.key, words), Fault):
            later += f" {shlex.quote(words)} --date {draft.day.iso} --place {shlex.quote(draft.place.typed)}"
            later += f" --locality {shlex.quote(draft.locality)}" if draft.locality else ""
        return f"Not logged. What was logged before stays. To log it later, without what you answered here:  {later}"


def _name(offer: _Offer) -> Callable[[_Draft, _Draft], _Draft]:
    verdict = offer.named.assessment.verdict

    def asked(stands: _Draft, before: _Draft) -> _Draft:
        offered = before.name.typed if before.name else offer.name.typed
        own = ask(
            f"Log it as [{offered}]: ", lambda text: read_record_name(offer.key, verdict, text), before.name, back=True
        )
        return stands._replace(name=own)

    return asked


def _day(stands: _Draft, before: _Draft) -> _Draft:
    shown = before.day.iso if before.day else "needed"
    day = ask(f"Date [{shown}]: ", lambda text: read_date(text, today()), before.day, needed=True, back=True)
    return stands._replace(day=day)


def _place(stands: _Draft, before: _Draft) -> _Draft:
    shown = before.place.typed if before.place else "needed"
    prompt = f"Place, as grid reference or latitude, longitude [{shown}]: "
    return stands._replace(place=ask(prompt, read_place, before.place, needed=True, back=True))


def _locality(stands: _Draft, before: _Draft) -> _Draft:
    prompt = f"Name of the place, village first [{before.locality or 'none'}]: "
    return stands._replace(locality=ask(prompt, own_place, before.locality, back=True) or "")


def _counted(stands: _Draft, before: _Draft) -> _Draft:
    prompt = f"How many, with sex and stage: 2m 1f, 1 f imm, 3 cop [{before.counted.typed}]: "
    counted = ask(prompt, read_tallies, before.counted, needed=True, back=True)
    assert counted is not None
    return stands._replace(counted=counted)


def _write(screen: Screen, offer: _Offer, ledger_name: str | None, by: str | None) -> None:
    from reedmace.cli.observing import writing_as
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.naming.keep_naming import as_naming
    from reedmace.tasks.shared.setting import regions_of
    from reedmace.tasks.walks.log_walk import Occasion, log_lines

    key, draft, habitat = offer.key, offer.draft, offer.named.setting.habitat
    assert draft.day is not None
    with open_ledger(ledger_path(ledger_name)) as ledger, writing_as(ledger, by, new_id) as (person, name):
        occasion = Occasion(
            draft.day,
            draft.place,
            draft.locality,
            regions=regions_of(key, draft.place),
            habitat=habitat.id if habitat else "",
            habitat_typed=offer.named.setting.habitat_typed,
        )
        log_lines(
            ledger,
            key,
            occasion,
            [offer.line()],
            person=person,
            written_at=written_at(),
            new_id=new_id,
            naming=as_naming(offer.named),
        )
    screen.say(
        ("Logged", "bold green"),
        f" for {name} in {ledger.path}. Take it back with:  reedmace ledger undo",
    )
