"""Hypothesis strategies: visits and sightings as anyone might log them, odd text included."""

from __future__ import annotations

from datetime import date
from typing import get_args

from hypothesis import settings
from hypothesis import strategies as st

from reedmace.records import Answer, Circumstances, Naming, Photo, PlaceRecord, Ranked, Sighting, Site, Taxon, Visit
from reedmace.records.naming import Eye, VerdictWord
from reedmace.records.place import PlaceKind, System
from reedmace.records.sighting import Certainty, Evidence, Sex, Stage
from reedmace.records.site import MaySee

# A slow or busy machine is no fault of the code.
unhurried = settings(deadline=None)

# Every text a file can carry: no lone surrogates, no NUL. A few hard ones are drawn on purpose.
HARD = (
    "🐉 Withy Pond",
    "שלום \u200f(RTL)",
    "one\ntwo\r\nthree",
    'he said "two, or three"',
    "=1+1",
    "[sensu lato] :bee:",
    "\ufeffx",
    "a\u2028b",
)
texts = st.one_of(
    st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), max_size=20),
    st.sampled_from(HARD),
)
filled_texts = texts.filter(str.strip)
ids = st.uuids(version=4).map(str)
some_ids = st.lists(ids, max_size=3).map(tuple)
days = st.dates(date(1900, 1, 1), date(2099, 12, 31)).map(date.isoformat)
times = st.builds("{:02}:{:02}".format, st.integers(0, 23), st.integers(0, 59))
names = st.sampled_from(["Coenagrion puella", "Aeshna mixta", "Sympetrum", "Odonata", "Éxoticus ëxample"])


@st.composite
def vague_dates(draw: st.DrawFn) -> str:
    """Draw a day, month, year or interval."""
    cuts = st.sampled_from([4, 7, 10])
    first, last = sorted([draw(days), draw(days)])
    if draw(st.booleans()):
        return first[: draw(cuts)]
    cut = draw(cuts)
    return f"{first[:cut]}/{last[:cut]}"


places = st.builds(
    PlaceRecord,
    typed=texts,
    system=st.sampled_from([None, *get_args(System)]),
    square=st.sampled_from([None, "TQ3380", "SU12", "O1234"]),
    side_m=st.sampled_from([None, 1, 100, 1000, 10000]),
    latitude=st.none() | st.floats(-90, 90),
    longitude=st.none() | st.floats(-180, 180),
    uncertainty_m=st.none() | st.integers(1, 20000),
    kind=st.sampled_from([None, *get_args(PlaceKind)]),
    vice_county=st.sampled_from([None, "1", "17", "112", "H33"]),
    regions=st.lists(filled_texts, max_size=2).map(tuple),
    locality=texts,
    site=st.none() | ids,
)
taxa = st.builds(
    Taxon,
    scientific_name=names,
    authorship=texts,
    rank=st.sampled_from(["species", "genus", "order"]),
    vernacular=texts,
    kingdom=texts,
    phylum=texts,
    class_name=texts,
    order=texts,
    family=texts,
    genus=texts,
    specific_epithet=texts,
    one_of=st.sampled_from([(), ("Coenagrion puella", "Coenagrion pulchellum")]),
    typed=texts,
)
namings = st.builds(
    Naming,
    key_id=filled_texts,
    key_version=texts,
    key_digest=texts,
    eye=st.sampled_from([None, *get_args(Eye)]),
    answers=st.lists(st.builds(Answer, filled_texts, texts), max_size=3).map(tuple),
    circumstances=st.builds(Circumstances, texts, texts, texts, st.booleans()),
    verdict=st.sampled_from([None, *get_args(VerdictWord)]),
    verdict_name=texts,
    ranking=st.lists(st.builds(Ranked, names, texts, st.floats(0, 1)), max_size=3).map(tuple),
    reedmace=texts,
)

photos = st.builds(Photo, filled_texts, st.sampled_from(["", "0" * 64, "9f" * 32]))
sites = st.builds(
    Site,
    id=ids,
    name=filled_texts,
    also=st.lists(filled_texts, max_size=2).map(tuple),
    place=places,
    habitat=texts,
    habitat_typed=texts,
    remarks=texts,
    may_see=st.sampled_from(get_args(MaySee)),
)


@st.composite
def visits(draw: st.DrawFn, observers: st.SearchStrategy[tuple[str, ...]] = some_ids) -> Visit:
    """Draw a visit that does not contradict itself."""
    start, end = sorted([draw(times), draw(times)])
    force = draw(st.none() | st.integers(0, 12))
    return Visit(
        id=draw(ids),
        date=draw(st.none() | vague_dates()),
        date_typed=draw(texts),
        start=draw(st.sampled_from([None, start])),
        end=draw(st.sampled_from([None, end])),
        place=draw(places),
        observers=draw(observers),
        party=draw(texts),
        habitat=draw(texts),
        weather=draw(texts),
        method=draw(texts),
        all_damselflies=draw(st.booleans()),
        all_dragonflies=draw(st.booleans()),
        exuvia_passes=draw(st.none() | st.integers(1, 5)),
        permission_noted=draw(texts),
        remarks=draw(texts),
        temperature_c=draw(st.none() | st.floats(-20, 45) | st.integers(-20, 45)),
        sun_percent=draw(st.none() | st.integers(0, 100)),
        wind_force=force,
        wind_force_to=draw(st.none() | st.integers(force, 12)) if force is not None else None,
        party_size=draw(st.none() | st.integers(1, 60)),
        typed=draw(texts),
    )


@st.composite
def sightings(draw: st.DrawFn, visit_id: str | None = None, people: st.SearchStrategy[str] = ids) -> Sighting:
    """Draw a sighting that does not contradict itself."""
    kind = draw(st.sampled_from(["exact", "estimate", "present", "at least", "band"]))
    count = None if kind == "present" else draw(st.integers(1, 10_000))
    to = None
    if count is not None and kind in ("estimate", "band"):
        to = draw(st.none() | st.integers(count, count + 500))
    sex = draw(st.sampled_from([None, *get_args(Sex)]))
    behaviour: tuple[str, ...] = draw(st.lists(filled_texts, max_size=2).map(tuple))
    pairs = None
    if kind == "exact" and draw(st.booleans()):
        pairs = draw(st.integers(1, 200))
        count, sex, behaviour = 2 * pairs, None, (draw(st.sampled_from(["tandem", "copulating"])), *behaviour)
    return Sighting(
        id=draw(ids),
        line_id=draw(ids),
        visit_id=visit_id or draw(ids),
        taxon=draw(taxa),
        naming=draw(st.none() | namings),
        count=count,
        count_to=to,
        count_kind=kind,
        count_typed=draw(texts),
        pairs=pairs,
        sex=sex,
        stage=draw(st.sampled_from([None, *get_args(Stage)])),
        behaviour=behaviour,
        evidence=draw(st.sampled_from([None, *get_args(Evidence)])),
        determiner=draw(st.none() | people),
        determined_on=draw(st.none() | days),
        certainty=draw(st.sampled_from([None, *get_args(Certainty)])),
        qualifier=draw(texts),
        place=draw(st.none() | places),
        time=draw(st.none() | times),
        observers=draw(st.none() | st.lists(people, max_size=2).map(tuple)),
        photos=draw(st.lists(photos, max_size=2).map(tuple)),
        remarks=draw(texts),
        typed=draw(texts),
        in_pairs=draw(st.none() | st.integers(1, 50)),
    )
