"""The rules: each a small function from a record to queries, listed once in `RULES`, in the order they are told.

They compare a record with what the key says of its species; the county recorder knows better.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from reedmace.checks.query import Query, Record
from reedmace.keys.model import Key
from reedmace.keys.seasons import show_third, third_of
from reedmace.records import span

SIX_FIGURES_M = 100  # what recorders ask for
COARSE_M = 1000
CLOSE = 0.10  # a runner-up in the key's ranking from which it is worth saying so

Rule = Callable[[Key, Record], Iterator[Query]]


def _query(record: Record, code: str, severity: str, reason: str, remedy: str) -> Query:
    return Query(code, severity, record.sighting.id, reason, remedy)


def who_what_where_when(key: Key, record: Record) -> Iterator[Query]:
    """Without all four it is no record."""
    sighting, visit = record.sighting, record.visit
    place = sighting.place or visit.place
    observers = sighting.observers if sighting.observers is not None else visit.observers
    if not (observers or visit.party):
        yield _query(record, "who-missing", "error", "Nobody is named as the observer.", "say who saw it")
    if visit.date is None:
        yield _query(
            record,
            "when-missing",
            "error",
            "The record has no date.",
            "give the date, as exact as it is known",
        )
    if not (place.square or place.latitude is not None):
        yield _query(
            record,
            "where-missing",
            "error",
            "The record has no grid reference or position.",
            "give one of six figures or better",
        )


def vague_date(key: Key, record: Record) -> Iterator[Query]:
    """An exact day is wanted; a vague one is accepted."""
    days = span(record.visit.date) if record.visit.date else None
    if days and days.day is None:
        yield _query(
            record,
            "date-vague",
            "note",
            f"The date is only {record.visit.date}.",
            "give the day if it is known; leave it vague if not",
        )


def coarse_place(key: Key, record: Record) -> Iterator[Query]:
    """Six figures or better are wanted."""
    place = record.sighting.place or record.visit.place
    if place.side_m and place.side_m > SIX_FIGURES_M:
        severity = "doubt" if place.side_m > COARSE_M else "note"
        yield _query(
            record,
            "place-coarse",
            severity,
            f"{place.square} is a square of {_side(place.side_m)}.",
            "give six figures (100 m) if the spot is known",
        )


def _side(side_m: int) -> str:
    return f"{side_m // 1000} km" if side_m >= 1000 else f"{side_m} m"


def out_of_season(key: Key, record: Record) -> Iterator[Query]:
    """Outside the flight period the key gives: early and late insects happen, so this is a prompt."""
    if record.sighting.stage not in ("adult", "immature", "teneral", None):
        return
    days = span(record.visit.date) if record.visit.date else None
    if days is None or days.day is None:
        return
    third = third_of(days.month or 1, days.day)
    flights = [species.flight for species in record.species if species.flight]
    if not flights or len(flights) < len(record.species):
        return
    first, last = min(flight[0] for flight in flights), max(flight[3] for flight in flights)
    if first <= third <= last:
        return
    off = first - third if third < first else third - last
    severity = "note" if off == 1 else "doubt"
    when = "early" if third < first else "late"
    reason = f"{record.name} flies {show_third(first)} to {show_third(last)}; this is about {off * 10} days {when}."
    yield _query(record, "out-of-season", severity, reason, "check the date and the name; a photograph helps")


def out_of_range(key: Key, record: Record) -> Iterator[Query]:
    """A species the key knows only as a vagrant here, or not at all."""
    place = record.sighting.place or record.visit.place
    if not place.regions or not record.species:
        return
    levels = {species.more.levels.get(region, "absent") for species in record.species for region in place.regions}
    titles = " and ".join(region.title for region in key.regions if region.id in place.regions)
    if levels == {"absent"}:
        yield _query(
            record,
            "out-of-range",
            "doubt",
            f"{record.name} is not known from {titles}.",
            "check the name and the place; a photograph will be asked for",
        )
    elif levels <= {"absent", "vagrant"}:
        yield _query(
            record,
            "vagrant-here",
            "doubt",
            f"{record.name} is a vagrant in {titles}.",
            "send a photograph and a description soon",
        )


def unlikely_habitat(key: Key, record: Record) -> Iterator[Query]:
    """A habitat the key does not give for the species."""
    habitat = record.visit.habitat
    known = habitat in {one.id for one in key.habitats} and bool(record.species)
    if known and all(species.habitats and habitat not in species.habitats for species in record.species):
        title = next(one.title for one in key.habitats if one.id == habitat)
        yield _query(
            record,
            "unlikely-habitat",
            "note",
            f"{record.name} is seldom met at: {title}.",
            "check the name; insects wander",
        )


def evidence_wanting(key: Key, record: Record) -> Iterator[Query]:
    """A form for which county recorders ask more than a sight record."""
    if len(record.species) != 1 or record.sighting.evidence in ("photo", "in hand", "exuvia"):
        return
    guises = [key.guises[guise] for guise in record.species[0].guises]
    sex, stage = record.sighting.sex, record.sighting.stage
    fitting = [one for one in guises if (sex is None or one.sex in (sex, None)) and _age_fits(one.age, stage)] or guises
    ease = ("sight", "photo", "hand", "panel")
    least = min(fitting, key=lambda one: ease.index(one.evidence))
    if least.evidence == "sight":
        return
    wanted = {
        "photo": "a photograph",
        "hand": "the hand, or a photograph of that very part",
        "panel": "a photograph and a description for a panel",
    }
    part = f" ({least.photograph})" if least.photograph else ""
    yield _query(
        record,
        "evidence-wanted",
        "doubt",
        f"{record.name}, {least.title}, needs {wanted[least.evidence]}{part}.",
        "add what there is, or send it as the pair or the genus",
    )


def _age_fits(age: str, stage: str | None) -> bool:
    return {"adult": age == "mature", "immature": age != "mature", "teneral": age != "mature"}.get(stage or "", True)


def not_what_the_key_said(key: Key, record: Record) -> Iterator[Query]:
    """Named with the key: a name other than its first, or one that was never settled."""
    naming = record.sighting.naming
    if naming is None or not naming.ranking or record.sighting.taxon.one_of:
        return
    name = record.sighting.taxon.scientific_name
    first = naming.ranking[0]
    if record.sighting.taxon.rank != "species":
        return
    if first.name != name:
        yield _query(
            record,
            "key-disagrees",
            "doubt",
            f"The key put {first.name} first ({first.probability:.0%}).",
            "say in the remarks what decided for this name",
        )
    elif naming.verdict != "settled":
        yield _query(
            record,
            "never-settled",
            "doubt",
            f"The key had not settled on one name ({naming.verdict}).",
            "send the pair or the group, or say what decided",
        )
    runner = naming.ranking[1] if len(naming.ranking) > 1 else None
    if runner and first.name == name and runner.probability >= CLOSE:
        yield _query(
            record,
            "close-runner-up",
            "doubt",
            f"{runner.name} was close behind ({runner.probability:.0%}).",
            "look at the mark that splits them:  reedmace key",
        )


def protected(key: Key, record: Record) -> Iterator[Query]:
    """A protected species: a word of care, not a doubt."""
    for species in record.species:
        for note in species.more.protection:
            yield _query(
                record,
                "protected",
                "note",
                f"{species.english}: {note['text']}",
                "send it to the county recorder; do not publish the exact place",
            )


RULES: tuple[Rule, ...] = (
    who_what_where_when,
    vague_date,
    coarse_place,
    out_of_season,
    out_of_range,
    unlikely_habitat,
    evidence_wanting,
    not_what_the_key_said,
    protected,
)
