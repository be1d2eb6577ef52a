"""A record without what a person typed: that can name anything, the place, the neighbour's pond, a child."""

from __future__ import annotations

import re
import uuid

from reedmace.ledger.store import Ledger
from reedmace.records import Sighting, Taxon, Visit
from reedmace.tasks.export.public_words import Telling
from reedmace.tasks.shorthand.field_words import BEHAVIOURS, PAIRS

# The words of the shorthand; anything else that stands in this field was typed freely.
_BEHAVIOURS = frozenset({*BEHAVIOURS.values(), *PAIRS.values()})
_IDS = uuid.UUID("c3c1b6f4-5d0e-5b39-9a58-6f2d9e0f7a21")  # of ids that say something: made once, for this purpose
_SAYING_NOTHING = (4, 7)  # UUIDs that are random, or random and the time; all others are worked out from something
# The year of a name's author: behind a word, once, at the end. Elsewhere such figures may be half of a position.
_YEAR = re.compile(r"(?<=[^\W\d_]{3}),? (?:1[789]|20)[0-9]{2}(?=\)?$)")


def plain_sighting(sighting: Sighting, telling: Telling) -> Sighting:
    """Give a sighting without what was typed, photographs, and the key's answers, which hold the place of the day."""
    return sighting._replace(
        taxon=_plain_taxon(sighting.taxon, telling),
        naming=None,
        count_typed="",
        behaviour=tuple(word for word in sighting.behaviour if word in _BEHAVIOURS),
        qualifier="",
        photos=(),
        remarks="",
        typed="",
    )


def _plain_taxon(taxon: Taxon, telling: Telling) -> Taxon:
    """Give a name without what was typed, and without parts that may hold a place: they can come from any file."""
    parts = {
        field: "" if telling.in_place_name(_YEAR.sub("", text)) else text
        for field, text in taxon._asdict().items()
        if isinstance(text, str)
    }
    one_of = () if any(map(telling.in_place_name, taxon.one_of)) else taxon.one_of
    return taxon._replace(**{**parts, "typed": ""}, one_of=one_of)


def plain_visit(visit: Visit, habitats: frozenset[str]) -> Visit:
    """Give a visit without what was typed; the party as a number."""
    party = f"party of {visit.party_size}" if visit.party_size else "a party" if visit.party else ""
    return visit._replace(
        date_typed="",
        party=party,
        habitat=visit.habitat if visit.habitat in habitats else "",
        habitat_typed="",
        weather="",
        method="",
        permission_noted="",
        remarks="",
        typed="",
    )


def muted(ledger: Ledger, identifier: str) -> str:
    """Give an identifier that says nothing: a random UUID as it is, of any other one that nobody can work out.

    An id of an imported row is worked out from its place and day: who tried all squares would find the one. So
    what goes into the new one is also the id of the record's first entry, which is random and never published.
    """
    try:
        found = uuid.UUID(identifier)
    except ValueError:
        found = None
    if found is not None and found.version in _SAYING_NOTHING and str(found) == identifier:
        return identifier
    first = min((meta.entry_id for meta, _ in ledger.history(identifier) if meta.parent is None), default="")
    return str(uuid.uuid5(_IDS, f"{first}\x1f{identifier}"))
