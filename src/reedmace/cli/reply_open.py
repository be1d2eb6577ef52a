"""`reedmace reply` without a file: corrections that are still on offer, listed, taken or declined."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, NamedTuple

from reedmace.cli.options import load
from reedmace.cli.output import say_json
from reedmace.faults import Fault, Refused

if TYPE_CHECKING:
    from reedmace.keys.model import Key
    from reedmace.ledger.store import Ledger
    from reedmace.tasks.replies.accept_offers import Accepted
    from reedmace.tasks.replies.open_offers import OpenOffer


class OpenAsked(NamedTuple):
    """What was asked about open offers."""

    listing: bool
    accept: tuple[str, ...]
    decline: tuple[str, ...]
    reason: str
    verifier: str
    dry_run: bool
    as_json: bool


def open_command(file: str | None, asked: OpenAsked, by: str | None, key_name: str | None, ledger: str | None) -> None:
    """List, take or decline what is on offer; with `dry_run` only say what would be."""
    from reedmace.cli.surroundings import ledger_path, today
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.replies.open_offers import choose, open_offers

    _one_thing(file, asked)
    with open_ledger(ledger_path(ledger), create=False) as opened:
        key = load(key_name)
        offers = open_offers(opened, key, today(), asked.verifier)
        if asked.listing:
            _list(offers, as_json=asked.as_json)
            return
        chosen, left = choose(
            offers, asked.accept or asked.decline, taking=not asked.decline, of_one=bool(asked.verifier.strip())
        )
        if asked.dry_run:
            if chosen or not left:
                _list(chosen, as_json=asked.as_json)
            say_left(left, as_json=asked.as_json)
        elif asked.decline:
            _decline(opened, chosen, asked, by)
        else:
            done = _accept(opened, chosen, asked, key)
            say_left(left, as_json=asked.as_json)
            if left or any(one.refused for one in done):
                sys.exit(1)


def _one_thing(file: str | None, asked: OpenAsked) -> None:
    """Refuse what does not go together, and a no without a reason."""
    if file is not None or sum((asked.listing, bool(asked.accept), bool(asked.decline))) > 1:
        hint = "reedmace reply --open , or  --accept ID , or  --decline ID --reason TEXT , each without a file"
        said = "One thing at a time: a file of answers, the list, taking, or declining."
        raise Refused(Fault("offers-unclear", said, hint, typed=True))
    if asked.decline and not asked.reason.strip():
        hint = 'add  --reason "why it stays as it is"'
        raise Refused(Fault("reason-missing", "Declining a correction needs a reason.", hint, typed=True))


def _list(offers: list[OpenOffer], *, as_json: bool) -> None:
    if as_json:
        for one in offers:
            say_json(_values(one))
        return
    from reedmace.terminal.reply_page import show_open
    from reedmace.terminal.screen import Screen

    show_open(Screen(), offers)


def say_left(left: list[OpenOffer], *, as_json: bool) -> None:
    """Tell what `--accept all` did not take."""
    if as_json:
        for one in left:
            say_json(_values(one) | {"accepted": False, "faults": ["several-offers"]})
    elif left:
        from reedmace.terminal.reply_page import show_left
        from reedmace.terminal.screen import Screen

        show_left(Screen(), left)


def _decline(ledger: Ledger, chosen: list[OpenOffer], asked: OpenAsked, by: str | None) -> None:
    from reedmace.cli.no_child import no_child_in
    from reedmace.cli.observing import writing_as
    from reedmace.cli.surroundings import new_id, written_at
    from reedmace.tasks.replies.open_offers import decline

    no_child_in(asked.reason)
    with writing_as(ledger, by, new_id) as (person, _):
        decline(ledger, chosen, asked.reason.strip(), person, written_at(), new_id)
    if asked.as_json:
        for one in chosen:
            say_json(_values(one) | {"declined": asked.reason.strip()})
        return
    from reedmace.terminal.reply_page import show_declined
    from reedmace.terminal.screen import Screen

    show_declined(Screen(), chosen)


def _accept(ledger: Ledger, chosen: list[OpenOffer], asked: OpenAsked, key: Key) -> list[Accepted]:
    from reedmace.cli.surroundings import new_id, today, written_at
    from reedmace.tasks.replies.accept_offers import Accepting, accept

    how = Accepting(key, written_at(), new_id, today())
    done = accept(ledger, [(one, one.offers) for one in chosen], how)
    if asked.as_json:
        for one, became in zip(chosen, done, strict=True):
            say_json(_values(one) | {"accepted": not became.refused, "faults": [f.code for f in became.refused]})
        return done
    from reedmace.terminal.reply_page import show_accepted
    from reedmace.terminal.screen import Screen

    show_accepted(Screen(), done)
    return done


def _values(one: OpenOffer) -> dict[str, object]:
    sighting, place = one.found.sighting, one.found.place
    return {
        "id": sighting.id,
        "reply": one.reply,
        "name": sighting.taxon.scientific_name,
        "vernacular": sighting.taxon.vernacular,
        "date": one.found.visit.date,
        "place": place.square or place.typed,
        "locality": place.locality,
        "verifier": one.verifier,
        "status": one.said.status,
        "verified_on": one.said.date,
        "remark": one.said.remark,
        "offers": [offer._asdict() for offer in one.offers],
        "called_right_by": list(one.against),
        "take": one.take(sighting.id),
        "decline": one.decline(sighting.id),
    }
