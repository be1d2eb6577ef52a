"""Corrections that county recorders offered and that nobody has taken or declined yet; and declining one.

An offer is open while the record does not say what is offered, has not said so since, and nobody declined it. Of one
verifier's answers about a record the latest by its own date counts, as everywhere: what an earlier one offered is
open no longer.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import date
from typing import NamedTuple

from reedmace.faults import Fault, Refused
from reedmace.keys.model import Key
from reedmace.ledger.append import NewId
from reedmace.ledger.replies import Reply
from reedmace.ledger.store import Ledger
from reedmace.records import Sighting, Visit
from reedmace.records.verification import POSITIVE, Verification
from reedmace.tasks.replies.as_sent import Says
from reedmace.tasks.replies.match import Found
from reedmace.tasks.replies.offers import Offer, offers_of, read_anew


class OpenOffer(NamedTuple):
    """What one answer offers of one record and is still open; `verifier` is a name, `reply` the answer's entry id.

    `shared` says that another verifier's offer of the same record is open too; `against` are other verifiers whose
    answer that counts says that the name which would be corrected is right.
    """

    found: Found
    verifier: str
    said: Verification
    offers: tuple[Offer, ...]
    reply: str
    shared: bool = False
    against: tuple[str, ...] = ()

    @property
    def contested(self) -> bool:
        """Whether several verifiers say different things of the record."""
        return self.shared or bool(self.against)

    def take(self, record: str) -> str:
        """Give the line that takes it, with the record's id as it is given."""
        return f"reedmace reply --accept {record}" + self._whose

    def decline(self, record: str) -> str:
        """Give the line that declines it; the reason is left to fill in."""
        return f"reedmace reply --decline {record}" + self._whose + ' --reason "..."'

    @property
    def _whose(self) -> str:
        return f' --verifier "{self.verifier}"' if self.shared else ""


class Chosen(NamedTuple):
    """The offers that were chosen, and those that `all` left, for several people's stand against each other."""

    offers: list[OpenOffer]
    left: list[OpenOffer]


def open_offers(ledger: Ledger, key: Key, today: date, verifier: str = "") -> list[OpenOffer]:
    """Give every open offer, or those of one verifier, by the day of the sighting and its id."""
    declined = ledger.declined_offers()
    people = set(ledger.people.ids_of(verifier)) if verifier.strip() else None
    found = []
    latest = list(_latest(ledger))
    right = _called_right(ledger, latest)
    for reply in latest:
        if not reply.offers or reply.id in declined:
            continue
        record = _found(ledger, reply.sighting)
        if record is None:
            continue
        offers = tuple(
            offer
            for offer in offers_of(key, record, reply.offers, today)
            if not _said_since(ledger, record, reply, read_anew(offer.field, key, offer.typed, today))
        )
        if offers:
            name = ledger.people.name_of(reply.said.verifier)
            one = OpenOffer(record, name, reply.said, offers, reply.id)
            found.append(one._replace(against=_against(one, right.get(reply.sighting, []))))
    of = Counter(one.found.sighting.id for one in found)
    found = [one._replace(shared=of[one.found.sighting.id] > 1) for one in found]
    wanted = [one for one in found if people is None or one.said.verifier in people]
    return sorted(wanted, key=lambda one: (one.found.visit.date or "", one.found.sighting.id, one.reply))


def _called_right(ledger: Ledger, latest: Iterable[Reply]) -> dict[str, list[tuple[str, str]]]:
    """Give sighting → who calls which scientific name of it right, both by name."""
    found: dict[str, list[tuple[str, str]]] = {}
    for one in latest:
        if one.said.status in POSITIVE and not one.said.name:
            found.setdefault(one.sighting, []).append((ledger.people.name_of(one.said.verifier), one.said.about))
    return found


def _against(one: OpenOffer, right: Iterable[tuple[str, str]]) -> tuple[str, ...]:
    """Give the other verifiers who call the name right that the offer would replace."""
    if not any(offer.field == "name" for offer in one.offers):
        return ()
    now = one.found.sighting.taxon.scientific_name
    return tuple(name for name, about in right if about == now and name != one.verifier)


def choose(offers: Iterable[OpenOffer], wanted: Iterable[str], *, taking: bool = True, of_one: bool = False) -> Chosen:
    """Give what `all` or the ends of ids choose. Raises `Refused` for what chooses nothing, or cannot be told apart.

    Of what several verifiers say differently of one record `all` takes nothing; it declines each. `of_one` says that
    the user has named whose offers are meant.
    """
    offers = list(offers)
    named: set[str] = set()
    chosen: dict[str, OpenOffer] = {}
    faults: list[Fault] = []
    for typed in wanted:
        plain = typed.strip().removeprefix("…").casefold()
        meant = [
            one for one in offers if plain == "all" or (plain and one.found.sighting.id.casefold().endswith(plain))
        ]
        if not meant:
            hint = "reedmace reply --open  lists what is on offer, with ids"
            faults.append(Fault("nothing-on-offer", "No correction is on offer for this.", hint, typed, typed=True))
        elif plain != "all" and len({one.found.sighting.id for one in meant}) > 1:
            hint = f"give more of it: {', '.join(sorted({one.found.sighting.id for one in meant}))}"
            faults.append(Fault("ambiguous-id", "Several records end like this.", hint, typed, typed=True))
        elif plain != "all":
            named |= {one.found.sighting.id for one in meant}
        chosen |= {one.reply: one for one in meant}
    of: dict[str, list[str]] = {}
    for one in chosen.values():
        of.setdefault(one.found.sighting.id, []).append(one.verifier)
    several = {subject: names for subject, names in of.items() if len(names) > 1}
    contested = {one.found.sighting.id for one in chosen.values() if one.contested and not of_one} - named
    for subject, names in several.items():
        if subject in named:
            said = f"{' and '.join(names)} offer different corrections of this record."
            hint = f'say whose is meant:  --verifier "{names[0]}"'
            faults.append(Fault("several-offers", said, hint, subject, typed=True))
    if faults:
        raise Refused(*faults)
    left = [one for one in chosen.values() if taking and one.found.sighting.id in {*several, *contested}]
    return Chosen([one for one in chosen.values() if one not in left], left)


def decline(
    ledger: Ledger, offers: Iterable[OpenOffer], reason: str, person: str, written_at: str, new_id: NewId
) -> None:
    """Keep that these are not taken, and why; the answers themselves stay as they are."""
    for one in offers:
        ledger.decline_offer(one.found.sighting.id, one.reply, reason, person, written_at, new_id)


def _latest(ledger: Ledger) -> Iterator[Reply]:
    """Give the answer of each verifier about each sighting that counts."""
    found: dict[tuple[str, str], Reply] = {}
    for one in ledger.replies():
        # Somebody registered in two copies has two ids and one name.
        which = (one.sighting, ledger.people.name_of(one.said.verifier).casefold() or one.said.verifier)
        if which not in found or _when(found[which]) < _when(one):
            found[which] = one
    yield from found.values()


def _when(reply: Reply) -> tuple[str, str, str]:
    return reply.said.date or reply.written_at[:10], reply.written_at, reply.id


def _found(ledger: Ledger, sighting: str) -> Found | None:
    """Give a sighting with its visit; None where it was withdrawn, or is not there."""
    standing = ledger.standing(sighting)
    if standing is None or standing[1].act == "withdrawn" or not isinstance(standing[0], Sighting):
        return None
    at = ledger.standing(standing[0].visit_id)
    if at is None or not isinstance(at[0], Visit):
        return None
    return Found(standing[0], at[0], standing[1], True)


def _said_since(ledger: Ledger, found: Found, reply: Reply, says: Says) -> bool:
    """Say whether the record has read like this since the answer: it was taken, and changed again later."""
    at = (reply.written_at, reply.id)  # ids are made from the clock too, which tells within a second
    history = [(meta, record) for meta, record in ledger.history(found.sighting.id) if isinstance(record, Sighting)]
    later = [record for meta, record in history if (meta.written_at, meta.entry_id) > at]
    sightings = later or [found.sighting]
    visits = [
        record
        for visit in dict.fromkeys(sighting.visit_id for sighting in sightings)
        for meta, record in ledger.history(visit)
        if isinstance(record, Visit) and (meta.written_at, meta.entry_id) > at
    ]
    return any(says(sighting, visit) for sighting in sightings for visit in visits or [found.visit])
