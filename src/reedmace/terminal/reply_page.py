"""A county recorder's answers on the screen: what they were found by, what they say, what they would correct."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from reedmace.records.verification import STATUSES
from reedmace.tasks.replies.accept_offers import Accepted, Offering
from reedmace.tasks.replies.answered import Answered
from reedmace.tasks.replies.offers import Offer
from reedmace.tasks.replies.open_offers import OpenOffer
from reedmace.terminal.ledger_list import seen
from reedmace.terminal.screen import Screen
from reedmace.terminal.words import plural

_SHOWN = 12  # signs of an id


def show_matches(screen: Screen, answers: Sequence[Answered]) -> None:
    """The records that were found by name, date and place, for confirmation."""
    screen.say(("Found by name, date and place, for the file has no ids for them:", "bold"))
    for one in answers:
        screen.say(f"line {one.row.line}: {one.said.status} → {record_words(one)}", indent=2, hang=2)


def show_counts(screen: Screen, answers: Sequence[Answered]) -> None:
    """How many answers say what, in the order of the words."""
    counts = Counter(one.said.status for one in answers)
    for status in STATUSES:
        if counts[status]:
            screen.say(f"{counts[status]:,} {status}", indent=2)


def show_notes(screen: Screen, answers: Sequence[Answered]) -> None:
    """Answers that say nothing of the name that stands now, or are about records that were withdrawn; turned dates."""
    gone = [one for one in answers if one.found.meta.act == "withdrawn"]
    other = [one for one in answers if one.of_another_name and one not in gone]
    if other:
        screen.say(("About a name that the record has no more", "bold"), ", and kept as that in its history:")
        for one in other:
            screen.say(f"{one.said.about}: {one.said.status} → now {record_words(one)}", indent=2, hang=2)
    if gone:
        screen.say(("About a record that was withdrawn", "bold"), ", and kept in its history:")
        for one in gone:
            screen.say(f"{one.said.status} → {record_words(one)}", indent=2, hang=2)
    if turned := sum(one.turned for one in answers):
        said = f"{plural(turned, 'date')} came back with day and month the other way round, as spreadsheets turn them:"
        screen.say(f"{said} taken for the day that was sent. A day that is to be corrected needs a column of its own.")


def show_offers(screen: Screen, answers: Sequence[Offering]) -> None:
    """What would be corrected, record by record, with the remark that stands with it."""
    records = len({one.found.sighting.id for one in answers})
    screen.say((f"Corrections on offer for {plural(records, 'record')}; nothing is changed yet:", "bold"))
    for one in answers:
        show_offer(screen, one)


def show_offer(screen: Screen, one: Offering) -> None:
    """What would be corrected of one record."""
    screen.say(record_words(one), indent=2, hang=2)
    _say_who(screen, one)
    for offer in one.offers:
        screen.say(f"{_field(offer)}: {offer.was} → {offer.now}", indent=4, hang=2)


def _say_who(screen: Screen, one: Offering) -> None:
    when = f", {one.said.date}" if one.said.date else ""
    remark = f"; {one.said.remark}" if one.said.remark else ""
    screen.say(f"{one.verifier}{when}: {one.said.status}{remark}", indent=4, hang=2)
    for name in one.against if isinstance(one, OpenOffer) else ():
        screen.say(f"{name} says that it is {one.found.sighting.taxon.scientific_name}", indent=4, hang=2)


def _field(offer: Offer) -> str:
    return offer.field.replace("_", "-")


def show_open(screen: Screen, offers: Sequence[OpenOffer]) -> None:
    """Every open offer: the record, what was said of it, what would be corrected, how to take or decline it."""
    if not offers:
        screen.say("No correction is on offer: all were taken or declined.")
        return
    records = len({one.found.sighting.id for one in offers})
    screen.say((f"Corrections on offer for {plural(records, 'record')}, neither taken nor declined:", "bold"))
    for one in offers:
        _show_open(screen, one)


def _show_open(screen: Screen, one: OpenOffer) -> None:
    screen.say(record_words(one), indent=2, hang=2)
    _say_who(screen, one)
    for offer in one.offers:
        screen.say((f"{_field(offer)}: {offer.was} → {offer.now}", "bold"), indent=4, hang=2)
    record = one.found.sighting.id[-_SHOWN:]
    screen.say(f"take:     {one.take(record)}", indent=4, hang=2)
    screen.say(f"decline:  {one.decline(record)}", indent=4, hang=2)


def show_left(screen: Screen, left: Sequence[OpenOffer]) -> None:
    """What was not taken with all the others, for several people say different things of one record."""
    records = len({one.found.sighting.id for one in left})
    screen.say(("Not taken", "bold"), f": {plural(records, 'record')} of which several people say different things:")
    for one in left:
        _show_open(screen, one)


def show_declined(screen: Screen, offers: Sequence[OpenOffer]) -> None:
    """What was declined."""
    screen.say(f"Declined: what was offered for {plural(len(offers), 'record')}; the answers stay in the history.")


def show_accepted(screen: Screen, done: Sequence[Accepted]) -> None:
    """What became of what was accepted."""
    good = [one for one in done if not one.refused]
    if good:
        records = len({one.answer.found.sighting.id for one in good})
        screen.say(f"Corrected: {plural(records, 'record')}; what stood before stays in the history.")
    for one in done:
        for fault in one.refused:
            screen.say(("Not corrected", "bold"), f": {record_words(one.answer)}", hang=2)
            screen.say(f"{fault.message} {fault.hint}", indent=2, hang=2)


def record_words(one: Offering) -> str:
    """A record in one line, with the last signs of its id."""
    sighting, place = one.found.sighting, one.found.place
    name = sighting.taxon.vernacular or sighting.taxon.scientific_name
    where = " ".join(part for part in (place.square or place.typed, place.locality) if part)
    gone = " (withdrawn)" if one.found.meta.act == "withdrawn" else ""
    parts = [f"{name}{gone}", seen(sighting), one.found.visit.date or "no date", where]
    return f"{'; '.join(part for part in parts if part)}  [{sighting.id[-_SHOWN:]}]"
