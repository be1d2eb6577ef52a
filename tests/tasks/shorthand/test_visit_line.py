"""The line of a visit, and what is understood of each of its parts."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from records.strategies import unhurried
from reedmace.keys.model import Key
from reedmace.places.place import Place, read_place
from reedmace.records import PlaceRecord, Site
from reedmace.tasks.shorthand.field_words import Word
from reedmace.tasks.shorthand.visit_line import read_visit_line
from reedmace.tasks.shorthand.visit_said import VisitSaid
from tarn import TODAY

SITE = Site("s-1", "Sallow Farm pond", ("the farm",), PlaceRecord("SU 431 118", "GB", "SU431118", 100))


def said(key: Key, typed: str, *, now: str = "10:31") -> dict[str, Any]:
    """What was said, without what was not; places by square, people by name."""
    found, faults = read_visit_line(key, typed, today=TODAY, now=now, sites=[SITE])
    assert faults == (), faults
    return {
        name: _plain(value)
        for name, value in found._asdict().items()
        if name != "typed" and value not in (None, "", False, ())
    }


def _plain(value: Any) -> Any:
    if isinstance(value, Place):
        return value.square
    if isinstance(value, Site):
        return value.name
    if isinstance(value, Word):
        return value.text
    if isinstance(value, tuple) and value and isinstance(value[0], Word):
        return [word.text for word in value]
    return getattr(value, "iso", value)


def test_the_line_of_the_issue_is_understood_whole(key: Key) -> None:
    """Date, times, place, its name, temperature, sun, wind and that all was noted."""
    typed = 'visit 2026-07-12 10:30-12:00 @ SU 431 118 "Harrowmere, Sallow Farm pond" 21C sun70 F2 all'
    assert said(key, typed) == {
        "day": "2026-07-12",
        "start": "10:30",
        "end": "12:00",
        "place": "SU431118",
        "locality": "Harrowmere, Sallow Farm pond",
        "weather": "21C, sun70, F2",
        "temperature_c": 21,
        "sun_percent": 70,
        "wind": (2, 2),
        "all_damselflies": True,
        "all_dragonflies": True,
    }


PARTS = [
    ("12 July 2026", {"day": "2026-07-12"}),
    ("12/7/2026", {"day": "2026-07-12"}),
    ("yesterday", {"day": "2026-07-11"}),
    ("July 1987", {"day": "1987-07"}),
    ("June-July 1987", {"day": "1987-06/1987-07"}),
    ("summer 1987", {"day": "1987-06/1987-08"}),
    ("1980s", {"day": "1980/1989"}),
    ("2026-07-10/2026-07-12", {"day": "2026-07-10/2026-07-12"}),
    ("10.30 to 12.00", {"start": "10:30", "end": "12:00"}),
    ("10.30 to 12", {"start": "10:30", "end": "12:00"}),
    ("10.30-12", {"start": "10:30", "end": "12:00"}),
    ("from 10.30 until 12", {"start": "10:30", "end": "12:00"}),
    ("10:30 - 12:00", {"start": "10:30", "end": "12:00"}),
    ("from 10:30 until 2:15pm", {"start": "10:30", "end": "14:15"}),
    ("2pm-4pm", {"start": "14:00", "end": "16:00"}),
    ("2-4pm", {"start": "14:00", "end": "16:00"}),
    ("2 to 4pm", {"start": "14:00", "end": "16:00"}),
    ("2pm to 4pm", {"start": "14:00", "end": "16:00"}),
    ("from 11 to 1pm", {"start": "11:00", "end": "13:00"}),
    ("10:30-12pm", {"start": "10:30", "end": "12:00"}),
    ("2:15-4pm", {"start": "14:15", "end": "16:00"}),
    ("10am", {"start": "10:00"}),
    ("10am until noon", {"start": "10:00", "end": "12:00"}),
    ("now", {"start": "10:31"}),
    ("Sunday 12 July 2026", {"day": "2026-07-12"}),
    ("2026/07/12", {"day": "2026-07-12"}),
    ("12-Jul-2026", {"day": "2026-07-12"}),
    ("July 12 2026", {"day": "2026-07-12"}),
    ("July 12, 2026", {"day": "2026-07-12"}),
    ("Sun 12th July 2026", {"day": "2026-07-12"}),
    ("Sun 12 July 2026", {"day": "2026-07-12"}),
    ("Sunday, 12 July 1998", {"day": "1998-07-12"}),
    ("Sat. 11/7/2026", {"day": "2026-07-11"}),
    ("sun 12% July 1987", {"day": "1987-07", "weather": "sun 12%", "sun_percent": 12}),
    ("sun 80 July 1987", {"day": "1987-07", "weather": "sun 80", "sun_percent": 80}),
    ("early June 1990", {"day": "1990-06-01/1990-06-10"}),
    ("7/1987", {"day": "1987-07"}),
    ("3-5 July 1992", {"day": "1992-07-03/1992-07-05"}),
    ("30 June - 2 July 1992", {"day": "1992-06-30/1992-07-02"}),
    ("until now", {"end": "10:31"}),
    ("@ 51.06, -1.31", {"place": "SU4829"}),
    ('@ "Sallow Farm pond"', {"site": "Sallow Farm pond"}),
    ("@ sallow farm", {"site": "Sallow Farm pond"}),
    ("@ the farm 21C", {"site": "Sallow Farm pond", "weather": "21C", "temperature_c": 21}),
    ("@ SU 43 11 ‘St Mark’s pond’", {"place": "SU4311", "locality": "St Mark’s pond"}),
    ("@ SU 43 11 «Top pond»", {"place": "SU4311", "locality": "Top pond"}),
    ("@ SU 43 11 centroid", {"place": "SU4311", "place_kind": "centroid"}),
    ("@ SU 43 11 map estimate", {"place": "SU4311", "place_kind": "map estimate"}),
    ("21.5 °C", {"weather": "21.5 °C", "temperature_c": 21.5}),
    ("-2C", {"weather": "-2C", "temperature_c": -2}),
    ("70% sun", {"weather": "70% sun", "sun_percent": 70}),
    ("sun 70 %", {"weather": "sun 70 %", "sun_percent": 70}),
    ("wind 2-3", {"weather": "wind 2-3", "wind": (2, 3)}),
    ("force 4", {"weather": "force 4", "wind": (4, 4)}),
    ("21 deg C", {"weather": "21 deg C", "temperature_c": 21}),
    ("21 degrees C F2", {"weather": "21 degrees C, F2", "temperature_c": 21, "wind": (2, 2)}),
    ("21 deg", {"weather": "21 deg", "temperature_c": 21}),
    ("21 degrees sunny", {"weather": "21 degrees, sunny", "temperature_c": 21}),
    ("watched 20 min", {"notes": ("watched 20 min",)}),
    ("10:30 for 2 hours", {"start": "10:30", "notes": ("for 2 hours",)}),
    ("10:30-12:00 (1.5 h)", {"start": "10:30", "end": "12:00", "notes": ("1.5 h",)}),
    ("45 mins", {"notes": ("45 mins",)}),
    ("12/13 July 2025 22:00-01:30", {"day": "2025-07-12/2025-07-13", "start": "22:00", "end": "01:30"}),
    ("F2 SW", {"weather": "F2 SW", "wind": (2, 2)}),
    ("SW F2-3", {"weather": "SW F2-3", "wind": (2, 3)}),
    ("Beaufort 2", {"weather": "Beaufort 2", "wind": (2, 2)}),
    ("wind force 2", {"weather": "wind force 2", "wind": (2, 2)}),
    ("light breeze", {"weather": "light breeze", "wind": (2, 2)}),
    ("Fresh breeze SW", {"weather": "Fresh breeze SW", "wind": (5, 5)}),
    ("calm", {"weather": "calm", "wind": (0, 0)}),
    ("calm F1", {"weather": "calm, F1", "wind": (1, 1)}),
    ("calm light breeze", {"weather": "calm, light breeze"}),
    ("light winds", {"weather": "light winds"}),
    ("wind SW F2", {"weather": "wind SW F2", "wind": (2, 2)}),
    ("4/8 cloud", {"weather": "4/8 cloud"}),
    ("cloud cover 4/8", {"weather": "cloud cover 4/8"}),
    ("overcast cloud 8/8 breezy", {"weather": "overcast, cloud 8/8, breezy"}),
    ("all dams", {"all_damselflies": True}),
    ("all dragonflies noted", {"all_dragonflies": True}),
    ("all damselflies and dragonflies", {"all_damselflies": True, "all_dragonflies": True}),
    ("none seen", {"none_seen": True}),
    ("2 exuvia passes", {"exuvia_passes": 2}),
    ("exuvia searches 3", {"exuvia_passes": 3}),
    ("two exuvia searches", {"exuvia_passes": 2}),
    ("@ H 21 34 H21", {"place": "H2134", "vice_county": "H21"}),
    ("S. Hants", {"vice_county": "11"}),
    ("vc S. Hants", {"vice_county": "11"}),
    ("South Hampshire 21C", {"vice_county": "11", "weather": "21C", "temperature_c": 21}),
    ("E. Kent", {"vice_county": "15"}),
    ("VC11", {"vice_county": "11"}),
    ("vc H33", {"vice_county": "H33"}),
    ("garden pond transect", {"habitat": "garden-pond", "habitat_typed": "garden pond", "method": "transect"}),
    ("timed count", {"method": "timed count"}),
    ('method "net and look"', {"method": "net and look"}),
    ("by Ada Marsh with Ben Sallow, Cat Rush", {"observers": ["Ada Marsh"], "company": ["Ben Sallow", "Cat Rush"]}),
    ('by "ada o\'marsh" det Dan Fen', {"observers": ["ada o'marsh"], "determiner": "Dan Fen"}),
    ("leader and party of 12", {"party": "leader and party of 12", "party_size": 12}),
    ("by Ada Marsh and party of 12", {"observers": ["Ada Marsh"], "party": "party of 12", "party_size": 12}),
    ("with 12 others", {"party": "12 others", "party_size": 12}),
    ("with Ben Sallow and 12 others", {"company": ["Ben Sallow"], "party": "12 others", "party_size": 12}),
    ('permission "by phone"', {"permission": "by phone"}),
    ("permission", {"permission": "permission"}),
    ('@ SU 431 118 "the pond" "path flooded" # wet feet', None),
]


@pytest.mark.parametrize(("typed", "understood"), PARTS)
def test_a_part_of_a_visits_line(key: Key, typed: str, understood: dict[str, Any] | None) -> None:
    """Each part as people write it."""
    if understood is None:
        understood = {"place": "SU431118", "locality": "the pond", "notes": ("path flooded", "wet feet")}
    assert said(key, typed) == understood


@given(
    st.permutations(["2026-07-12", "10:30-12:00", "@ SU 431 118", '"the pond"', "21C", "sun70", "F2", "all", "VC11"])
)
@unhurried
def test_the_parts_come_in_any_order(key: Key, parts: list[str]) -> None:
    """But the name of the place, which stands in the first quotes wherever they are."""
    found = said(key, "visit " + " ".join(parts))
    assert (found["day"], found["start"], found["end"], found["place"]) == ("2026-07-12", "10:30", "12:00", "SU431118")
    assert (found["locality"], found["temperature_c"], found["sun_percent"]) == ("the pond", 21, 70)
    assert (found["wind"], found["vice_county"], found["all_dragonflies"]) == ((2, 2), "11", True)


@pytest.mark.parametrize(
    ("typed", "place", "locality"),
    [
        ("visit 12 July 2025, Sallow Farm pond SU431118, 10.30-12", "SU431118", "Sallow Farm pond"),
        ("visit 12 July 2025 Sallow Farm pond, SU 431 118 21C", "SU431118", "Sallow Farm pond"),
        ("visit 12 July 2025 SU 431 118", "SU431118", ""),
        ("12 July 2025 SU 431 118 Sallow Farm pond 10:30-12:00 sunny 21C", "SU431118", "Sallow Farm pond"),
        ("visit 12 July 2025 @ SU 431 118 Sallow Farm Sunny 21C", "SU431118", "Sallow Farm"),
        ("visit 12 July 2025 SU 4312 1184 Harrow lake with Wren Alder", "SU43121184", "Harrow lake"),
        ("visit 12 July 2025 J 123 456 Old Quarry, 21C", "J123456", "Old Quarry"),
        ("visit 12 July 2025 @ SU431118 (Sallow Farm) 21C", "SU431118", "Sallow Farm"),
        ('visit 12 July 2025 SU 431 118 "Ash" 21C', "SU431118", "Ash"),
        ("Harrow pond, 12 July 2025, SU 431 118, 10.15 - 12.00", "SU431118", "Harrow pond"),
        ("Harrow pond walk, 12 July 2025, @ SU 431 118 Harrow pond, warm", "SU431118", "Harrow pond"),
    ],
)
def test_a_place_needs_no_signs_where_it_can_be_nothing_else(key: Key, typed: str, place: str, locality: str) -> None:
    """As people write it: the reference alone, the name of a place beside it."""
    found, faults = read_visit_line(key, typed, today=TODAY)
    assert faults == ()
    assert (found.place and found.place.square, found.locality) == (place, locality)


@pytest.mark.parametrize(
    ("typed", "hint"),
    [
        ("visit Harrowmere SU431118", 'write  @ SU431118 "Harrowmere"  ; a person goes behind  by  or  with'),
        ("visit Ann Reed SU431118", 'write  @ SU431118 "Ann Reed"'),
        ("visit 12 July 2025 TQ 10 15", "write  @ TQ 10 15"),
        (
            "visit 12 July 2025 @ SU 431 118 SU 431 119",
            "write  @ SU 431 119  , on a line of its own above what was seen there",
        ),
    ],
)
def test_a_place_without_its_sign_that_could_be_something_else_is_one_fault(key: Key, typed: str, hint: str) -> None:
    """A person, the wind (of which a few figures could be), a second place."""
    _, faults = read_visit_line(key, typed, today=TODAY)
    assert [(fault.code, fault.hint) for fault in faults] == [("place-without-sign", hint)]


def test_two_words_with_capitals_behind_a_reference_may_be_a_person(key: Key) -> None:
    """Nobody becomes part of a place's name without being asked."""
    found, faults = read_visit_line(key, "visit 12 July 2025 SU 431 118 Ann Bridge", today=TODAY)
    assert [fault.code for fault in faults] == ["visit-word-not-read"]
    assert found.locality == ""


@pytest.mark.parametrize(
    ("typed", "codes"),
    [
        ("visit 31/6/2026", ["impossible-date"]),
        ("visit 12/7/26", ["two-digit-year"]),
        ("visit Sun 28 June 26 sun 30%", ["two-digit-year"]),
        ("visit Sunday 28th June 26, sun 30", ["two-digit-year"]),
        ("visit 2027-07-12", ["date-in-future"]),
        ("visit sun170", ["sun-over-100"]),
        ("visit F13", ["wind-not-beaufort"]),
        ("visit F3-2", ["wind-not-beaufort"]),
        ("visit zebra 21C quagga", ["visit-word-not-read", "visit-word-not-read"]),
        ("visit @ SU 431 1180 21C", ["grid-unequal-groups"]),
        ("visit @ nowhere", ["place-not-read"]),
        ("visit 10:30 11:30", ["said-twice"]),
        ("visit 21C 22C", ["said-twice"]),
        ("visit by the water", ["person-not-read", "visit-word-not-read"]),
        ("visit Sunday 12 July SU 431 118", ["year-missing"]),
        ("visit Sunday 12 July at SU 431 118", ["year-missing"]),
        ("visit 10:30-12:00 GMT", ["time-by-which-clock"]),
        ("visit party of 9, 6 children", ["said-twice"]),
        ("visit 9 people 4 children", ["said-twice"]),
        ("visit temp 64", ["visit-word-not-read"]),
        ("visit 12th July 21C", ["year-missing"]),
        ("visit SU43", ["visit-word-not-read"]),
        ("visit Monday 12 July 2026", ["weekday-differs"]),
        ("visit sun 12 July 2025", ["weekday-differs"]),
        ("visit Monday 31 June 2026", ["impossible-date"]),
        ("visit July 12 21C", ["two-digit-year"]),
        ("visit last Sunday 10:30", ["date-not-read"]),
        ("visit 12/07", ["year-missing"]),
        ("visit 55 degrees", ["temperature-unlikely"]),
        ("visit the reeds were cut", ["visit-word-not-read"]),
        ("visit 99C", ["temperature-unlikely"]),
        ("visit -70 °C", ["temperature-unlikely"]),
        ("visit 10.30 to 12 July 2026", ["visit-word-not-read"]),
        ("visit H21", ["county-or-place"]),
        ("visit Hants", ["vice-county-ambiguous"]),
        ("visit VC200", ["vice-county-unknown"]),
        ('visit "the pond', ["quote-not-closed"]),
    ],
)
def test_what_is_not_understood_is_told_with_its_column(key: Key, typed: str, codes: list[str]) -> None:
    """All of it at once, each under its own carets."""
    _, faults = read_visit_line(key, typed, today=TODAY, sites=[SITE])
    if codes != ["vice-county-unknown"]:
        assert [fault.code for fault in faults] == codes
    assert len(faults) == len(codes)
    for fault in faults:
        assert fault.hint
        assert fault.where is not None
        assert (fault.where.excerpt, fault.where.line) == (typed, 1)
        assert 1 <= (fault.where.column or 0) <= len(typed)


WORDS = [
    "visit",
    "@",
    "SU 431 118",
    '"',
    "21C",
    "sun",
    "70",
    "%",
    "all",
    "by",
    "Ada",
    "party",
    "of",
    "#",
    "12",
    "-",
    "10:30",
    "vc",
]


@given(st.text(max_size=40) | st.lists(st.sampled_from(WORDS)).map(" ".join))
@example("@")
@example("visit @ @")
@example("party of 99999999999")
@unhurried
def test_no_line_makes_reading_it_raise(key: Key, typed: str) -> None:
    """Whatever is written is understood, or a fault with a remedy."""
    found, faults = read_visit_line(key, typed, today=TODAY, sites=[SITE])
    assert isinstance(found, VisitSaid)
    assert all(fault.hint for fault in faults)


def test_the_reference_is_kept_as_it_was_typed(key: Key) -> None:
    """Beside the square that was understood."""
    found, _ = read_visit_line(key, "visit @ su431118 21C", today=TODAY)
    assert found.place == read_place("su431118")
    assert found.place is not None
    assert found.place.typed == "su431118"


@pytest.mark.parametrize(
    ("typed", "party", "size"),
    [
        ("with 6 children", "6 children", 6),
        ("6 children", "6 children", 6),
        ("by Ada Marsh and 6 children", "6 children", 6),
        ("with Ben Sallow + 6 pupils", "6 pupils", 6),
        ("party of 9 with 6 children", "party of 9 with 6 children", 9),
        ("party of 9 and 5 more children", "party of 9 and 5 more children", 14),
    ],
)
def test_children_are_counted_in_the_party(key: Key, typed: str, party: str, size: int) -> None:
    """Beside others they add to it, within a party they are of it."""
    found = said(key, f"visit @ SU 431 118 {typed}")
    assert (found["party"], found["party_size"]) == (party, size)


@pytest.mark.parametrize(
    "typed",
    [
        'visit @ SU 431 118 with Ben Sallow, Mia Linley "aged 8"',
        'visit @ SU 431 118 with Ben Sallow, "aged 8"',
        'visit @ SU 431 118 party of 9 "Mia and 5 more children"',
        'visit @ SU 431 118 by "Ada Marsh" "by the sluice"',
    ],
)
def test_quotes_behind_people_are_no_person_and_no_place(key: Key, typed: str) -> None:
    found, faults = read_visit_line(key, typed, today=TODAY)
    assert [fault.code for fault in faults] == ["quoted-behind-people"]
    assert found.locality == ""
    assert all(sign not in name.text for name in (*found.company, *found.observers) for sign in ("8", "sluice"))


def test_a_further_person_in_quotes_comes_after_a_comma(key: Key) -> None:
    for typed in ('with Ben Sallow, "Dan O\'Fen"', 'with Ben Sallow and "Dan O\'Fen"'):
        assert said(key, typed)["company"] == ["Ben Sallow", "Dan O'Fen"]


def test_the_hint_on_a_visits_line_does_not_speak_of_quotes(key: Key) -> None:
    """Quotes there are the name of the place."""
    _, faults = read_visit_line(key, "visit zebra", today=TODAY)
    assert "quotes" not in faults[0].hint
    assert "#" in faults[0].hint


def test_a_name_without_quotes_behind_the_place_is_told_of_the_quotes(key: Key) -> None:
    _, faults = read_visit_line(key, "visit @ SU431118 Harrowmere", today=TODAY)
    assert "quotes" in faults[0].hint


def test_a_date_without_its_year_behind_a_name_is_no_age(key: Key) -> None:
    _, faults = read_visit_line(key, "visit @ SU 431 118 with Ben Sallow July 12", today=TODAY)
    assert [(fault.code, "12 July" in fault.hint) for fault in faults] == [("two-digit-year", True)]


@pytest.mark.parametrize(
    ("typed", "understood"),
    [
        ("10-12", {"start": "10:00", "end": "12:00"}),
        ("12/5/2024 11-12.30", {"day": "2024-05-12", "start": "11:00", "end": "12:30"}),
        ("11-12.30 12/5/2024", {"day": "2024-05-12", "start": "11:00", "end": "12:30"}),
        ("12 May 2024 10-11:45", {"day": "2024-05-12", "start": "10:00", "end": "11:45"}),
        ("12/5/2024 11 to 12.10", {"day": "2024-05-12", "start": "11:00", "end": "12:10"}),
        ("11 - 1.30", {"start": "11:00", "end": "13:30"}),
        ("13-14.30", {"start": "13:00", "end": "14:30"}),
        ("11-12.30pm", {"start": "11:00", "end": "12:30"}),
        ("1030-1200", {"start": "10:30", "end": "12:00"}),
        ("from 2pm until 4", {"start": "14:00", "end": "16:00"}),
        ("10.30 am", {"start": "10:30"}),
        ("2 p.m. to 4 p.m.", {"start": "14:00", "end": "16:00"}),
        ("10 a.m. - 12 noon", {"start": "10:00", "end": "12:00"}),
        ("10.30 - 12.15 BST", {"start": "10:30", "end": "12:15"}),
        ("10:30hrs-12:15hrs", {"start": "10:30", "end": "12:15"}),
        ("1030 to 1215", {"start": "10:30", "end": "12:15"}),
        ("1030", {"start": "10:30"}),
        ("July 1987 at 1030", {"day": "1987-07", "start": "10:30"}),
        ("Sunny. 21c. Light winds.", {"temperature_c": 21, "weather": "Sunny, 21c, Light winds"}),
        ("~20C", {"temperature_c": 20, "weather": "~20C"}),
        ("c. 20C", {"temperature_c": 20, "weather": "c. 20C"}),
        ("wind SW3", {"wind": (3, 3), "weather": "wind SW3"}),
        ("NE2-3", {"wind": (2, 3), "weather": "NE2-3"}),
        ("obs. Ada Marsh", {"observers": ["Ada Marsh"]}),
        ("led by Ada Marsh", {"observers": ["Ada Marsh"]}),
        ("with Ben Sallow + Cat Rush.", {"company": ["Ben Sallow", "Cat Rush"]}),
        ("with Geo. Marsh", {"company": ["Geo. Marsh"]}),
        ("party of eight", {"party": "party of eight", "party_size": 8}),
        ("& party (8)", {"party": "party (8)", "party_size": 8}),
        ("by Ada Marsh and party", {"observers": ["Ada Marsh"], "party": "party"}),
        ("6 adults, 4 children", {"party": "6 adults, 4 children", "party_size": 10}),
        ("10-12 July 2026", {"day": "2026-07-10/2026-07-12"}),
        ("wind from SW F2", {"wind": (2, 2), "weather": "wind from SW F2"}),
        ("F3 from SW", {"wind": (3, 3), "weather": "F3 from SW"}),
        ("wind SW 2", {"wind": (2, 2), "weather": "wind SW 2"}),
        ("light SW wind", {"weather": "light SW wind"}),
        ("temp 21C", {"temperature_c": 21, "weather": "21C"}),
        ("temp 21", {"temperature_c": 21, "weather": "temp 21"}),
        ("10.30 til 12.15", {"start": "10:30", "end": "12:15"}),
        ("party of 9 (4 kids)", {"party": "party of 9 (4 kids)", "party_size": 9}),
        ("party of 9, 4 of them children", {"party": "party of 9, 4 of them children", "party_size": 9}),
        ("9 adults 4 kids", {"party": "9 adults 4 kids", "party_size": 13}),
        ("20-22C", {"weather": "20-22C"}),
        ("sun: 70%", {"sun_percent": 70, "weather": "sun: 70%"}),
        ("3 oktas", {"weather": "3 oktas"}),
        ("full sun", {"weather": "full sun"}),
        ("sunny intervals", {"weather": "sunny intervals"}),
        ("with 12 people including 5 children", {"party": "12 people including 5 children", "party_size": 12}),
        ("with 6 children and 4 adults", {"party": "6 children and 4 adults", "party_size": 10}),
    ],
)
def test_more_ways_to_say_times_weather_and_a_party(key: Key, typed: str, understood: dict[str, Any]) -> None:
    """Of a span of degrees no one figure is taken; what is included is of the number before it."""
    assert said(key, typed) == understood


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("visit 2-4", "time-unclear"),  # of the morning or the afternoon
        ("visit 1930-2000", "visit-word-not-read"),  # years, or hours
        ("visit F15 from SW", "wind-not-beaufort"),
    ],
)
def test_what_could_be_two_times_or_is_no_force_is_a_fault(key: Key, typed: str, code: str) -> None:
    _, faults = read_visit_line(key, typed, today=TODAY)
    assert [fault.code for fault in faults] == [code]


@pytest.mark.parametrize(
    "typed",
    [
        "at SU 431 118",
        "grid ref SU 431 118",
        "@ grid ref. SU 431 118",
        "NGR: SU 431 118",
        "@ OS SU 431 118.",
        "Place: SU 431 118",
    ],
)
def test_words_before_a_reference_say_that_it_is_the_place(key: Key, typed: str) -> None:
    """And the figures of one are no time of day."""
    assert said(key, f"visit {typed}")["place"] == "SU431118"
    assert said(key, "visit @ SU 1030 1180 1130")["place"] == "SU10301180"
    assert said(key, "visit @ SU 1030 1180 1130")["start"] == "11:30"


def test_about_a_year_is_no_place(key: Key) -> None:
    """The letter and four figures look like a square of the Irish grid."""
    _, faults = read_visit_line(key, "visit c1990 @ SU 431 118", today=TODAY)
    assert [(fault.code, "1990" in fault.hint, "@" in fault.hint) for fault in faults] == [("year-about", True, False)]


def test_a_reference_behind_its_name_is_one_fault_that_turns_them(key: Key) -> None:
    _, [fault] = read_visit_line(key, "visit @ Moss End pond SU 431 118 21C", today=TODAY)
    assert (fault.code, fault.hint) == ("place-order", 'write  @ SU 431 118 "Moss End pond"')


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("@ SU431118 Llyn y Gors, sunny", "Llyn y Gors"),
        ("@ Loch na Sceach", "Loch na Sceach"),
    ],
)
def test_a_name_of_a_place_without_quotes_is_one_fault_that_shows_it_in_quotes(key: Key, typed: str, name: str) -> None:
    _, faults = read_visit_line(key, f"visit {typed}", today=TODAY)
    assert len(faults) == 1
    assert f'@ SU 431 118 {"" if "Loch" in name else " "}"{name}"' in faults[0].hint


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ('visit @ SU 4321 1190 "Tannery Pool" & @ SU 43 11 "Gallows Pond"', "said-twice"),
        ('visit @ SU 4321 1190 "Tannery Pool" & SU 43 11 "Gallows Pond"', "place-without-sign"),
    ],
)
def test_a_second_pond_on_the_line_is_told_where_it_goes(key: Key, typed: str, code: str) -> None:
    """One walk visits two; each further place begins what was seen there."""
    _, faults = read_visit_line(key, typed, today=TODAY)
    assert [fault.code for fault in faults] == [code]
    assert "a line of its own above what was seen there" in faults[0].hint


@pytest.mark.parametrize("day", ["Sun 28 June 26", "Sunday 28th June 26"])
def test_a_year_of_two_figures_behind_a_day_of_the_week_is_no_day(key: Key, day: str) -> None:
    """26 June would be another day than the one that was written."""
    _, [fault] = read_visit_line(key, f"visit {day} @ SU 431 118", today=TODAY)
    assert (fault.code, fault.hint) == ("two-digit-year", "write the year in full:  2026")
