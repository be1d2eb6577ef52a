"""Records go into plain bodies and come back the same."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.strategies import sightings, sites, texts, unhurried, visits
from reedmace.faults import Refused
from reedmace.records import (
    Answer,
    Naming,
    Photo,
    PlaceRecord,
    Ranked,
    Sighting,
    Site,
    Taxon,
    Visit,
    as_body,
    from_body,
    name_mark,
    with_names,
)

PLAIN = Sighting("s-1", "l-1", "v-1", Taxon("Aeshna mixta"))


def code_of(refused: pytest.ExceptionInfo[Refused]) -> list[str]:
    """Give the codes of a refusal, and insist that each fault says what to do."""
    assert all(fault.hint and fault.message for fault in refused.value.faults)
    return [fault.code for fault in refused.value.faults]


class TestWhateverTextGoesInComesOutTheSame:
    """docs/ledger.md: whatever is typed is kept verbatim."""

    @unhurried
    @given(sightings())
    def test_sightings(self, sighting: Sighting) -> None:
        """A sighting survives JSON, emoji and right-to-left text included."""
        stored = json.dumps(as_body(sighting), ensure_ascii=False)
        assert from_body(Sighting, json.loads(stored)) == sighting

    @unhurried
    @given(visits())
    def test_visits(self, visit: Visit) -> None:
        """A visit survives JSON."""
        stored = json.dumps(as_body(visit), ensure_ascii=False)
        assert from_body(Visit, json.loads(stored)) == visit

    @unhurried
    @given(sites)
    def test_sites(self, site: Site) -> None:
        """A site survives JSON."""
        stored = json.dumps(as_body(site), ensure_ascii=False)
        assert from_body(Site, json.loads(stored)) == site

    @unhurried
    @given(sightings())
    def test_types_come_back_too(self, sighting: Sighting) -> None:
        """Equal tuples are not enough: the parts are named again after reading."""
        back = from_body(Sighting, json.loads(json.dumps(as_body(sighting))))
        assert type(back.taxon) is Taxon
        if back.naming:
            assert type(back.naming) is Naming
            assert all(type(row) is Ranked for row in back.naming.ranking)
            assert all(type(row) is Answer for row in back.naming.answers)
        assert all(type(photo) is Photo for photo in back.photos)

    @unhurried
    @given(texts)
    def test_the_typed_line_is_verbatim(self, line: str) -> None:
        """The typed line is neither trimmed nor normalised."""
        assert from_body(Sighting, as_body(PLAIN._replace(typed=line))).typed == line


class TestBodiesAreShort:
    """shape.py: a body leaves out every field that holds its default."""

    def test_defaults_are_left_out(self) -> None:
        """A bare sighting is four fields."""
        assert as_body(PLAIN) == {
            "id": "s-1",
            "line_id": "l-1",
            "visit_id": "v-1",
            "taxon": {"scientific_name": "Aeshna mixta"},
        }

    def test_an_empty_list_of_own_observers_is_not_the_same_as_none(self) -> None:
        """() says nobody is known; None says as on the visit."""
        body = as_body(PLAIN._replace(observers=()))
        assert body["observers"] == []
        assert from_body(Sighting, body).observers == ()

    def test_zero_is_not_false(self) -> None:
        """A number in a flag's place is refused, not taken for the default."""
        with pytest.raises(Refused) as refused:
            as_body(Visit("v-1", none_seen=0))  # type: ignore[arg-type]
        assert code_of(refused) == ["value-unfit"]


class TestWhatNoFileCanCarryIsRefused:
    """Half characters and NUL are refused with a fault, wherever they stand."""

    @pytest.mark.parametrize("bad", ["\ud83d", "x\udcff", "a\x00b"])
    @pytest.mark.parametrize("field", ["remarks", "typed", "count_typed", "qualifier"])
    def test_in_text(self, bad: str, field: str) -> None:
        """Every text field refuses it and names itself."""
        with pytest.raises(Refused) as refused:
            as_body(PLAIN._replace(**{field: bad}))
        assert code_of(refused) == ["text-unreadable"]
        assert refused.value.faults[0].message.startswith(f"sighting.{field}:")
        (refused.value.faults[0].said or "").encode("utf-8")  # what is said can be shown

    def test_deep_inside(self) -> None:
        """The fault names the way down to it."""
        naming = Naming("fen", "1", "d", answers=(Answer("spur", "\ud800"),))
        with pytest.raises(Refused) as refused:
            as_body(PLAIN._replace(naming=naming))
        assert refused.value.faults[0].message.startswith("sighting.naming.answers:")


UNFIT: list[tuple[dict[str, Any], str]] = [
    ({"sex": "both"}, "value-unfit"),
    ({"stage": "nymphish"}, "value-unfit"),
    ({"count": True, "count_kind": "exact"}, "value-unfit"),
    ({"count": 2.5, "count_kind": "exact"}, "value-unfit"),
    ({"count": -1, "count_kind": "exact"}, "value-unfit"),
    ({"count": 10**30, "count_kind": "exact"}, "value-unfit"),
    ({"id": ""}, "value-unfit"),
    ({"id": "a b"}, "value-unfit"),
    ({"id": "a\x1b[2J"}, "value-unfit"),
    ({"time": "25:00"}, "value-unfit"),
    ({"time": "١٠:٣٠"}, "value-unfit"),
    ({"determined_on": "14/6/26"}, "value-unfit"),
    ({"behaviour": ["tandem"]}, "value-unfit"),
    ({"taxon": ("Aeshna mixta",)}, "value-unfit"),
    ({"place": PlaceRecord(latitude=float("nan"))}, "value-unfit"),
    ({"place": PlaceRecord(latitude=91.0)}, "value-unfit"),
    ({"place": PlaceRecord(vice_county="114")}, "value-unfit"),
    ({"place": PlaceRecord(vice_county="H41")}, "value-unfit"),
    ({"place": PlaceRecord(uncertainty_m=0)}, "value-unfit"),
    ({"count": 0, "count_kind": "exact"}, "zero-count"),
    ({"count": 3}, "count-and-kind"),
    ({"count_kind": "exact"}, "count-and-kind"),
    ({"count": 6, "count_to": 5, "count_kind": "band"}, "count-range"),
    ({"count": 6, "count_to": 9, "count_kind": "exact"}, "count-range"),
    ({"count": 3, "count_kind": "exact", "pairs": 3, "behaviour": ("copulating",)}, "pairs-and-count"),
    ({"count": 6, "count_kind": "exact", "pairs": 3}, "pair-without-behaviour"),
    (
        {"count": 6, "count_kind": "exact", "pairs": 3, "behaviour": ("tandem",), "sex": "male"},
        "pair-with-sex",
    ),
    ({"taxon": Taxon("Coenagrion cf. puella")}, "qualifier-in-name"),
    ({"taxon": Taxon("Aeshna sp.")}, "qualifier-in-name"),
    ({"taxon": Taxon("Aeshna mixta?")}, "qualifier-in-name"),
    ({"taxon": Taxon("Coenagrion", one_of=("Coenagrion puella",))}, "one-of-few"),
]


@pytest.mark.parametrize(("change", "code"), UNFIT)
def test_a_record_that_cannot_be_kept_is_refused(change: dict[str, Any], code: str) -> None:
    """Each slip has its code and its remedy."""
    with pytest.raises(Refused) as refused:
        as_body(PLAIN._replace(**change))
    assert code_of(refused) == [code]


def test_all_slips_of_a_record_come_at_once() -> None:
    """One slip never hides the others."""
    with pytest.raises(Refused) as refused:
        as_body(PLAIN._replace(taxon=Taxon("Aeshna ?"), count=0, count_kind="exact"))
    assert code_of(refused) == ["qualifier-in-name", "zero-count"]


def test_a_visit_does_not_end_before_it_starts() -> None:
    """Times run forwards."""
    with pytest.raises(Refused) as refused:
        as_body(Visit("v-1", start="12:00", end="11:59"))
    assert code_of(refused) == ["ends-before-start"]


def test_two_days_are_offered_only_where_they_would_be_taken() -> None:
    """From 14:00 to 13:00 there are 23 hours, which no visit lasts."""
    for end, offered in (("05:00", True), ("13:00", False)):
        with pytest.raises(Refused) as refused:
            as_body(Visit("v-1", date="2026-07-12", start="14:00", end=end))
        assert ("past midnight" in refused.value.faults[0].hint) == offered


def test_a_visit_of_two_days_may_end_past_midnight() -> None:
    """Of one day or of three it may not; the fault says how both days are written."""
    night = Visit("v-1", date="2026-07-31/2026-08-01", start="22:00", end="01:30")
    assert from_body(Visit, as_body(night)) == night
    for day, both in (
        ("2026-07-31", "both days:  2026-07-31/2026-08-01"),
        ("2026-07-30/2026-08-01", "one day"),
        (None, ""),
    ):
        with pytest.raises(Refused) as refused:
            as_body(night._replace(date=day))
        assert code_of(refused) == ["ends-before-start"]
        assert both in refused.value.faults[0].hint


@pytest.mark.parametrize(
    ("start", "end", "hours"),
    [("23:30", "22:30", 23), ("22:30", "22:30", 24), ("12:00", "10:45", 22), ("14:00", "06:00", 0)],
)
def test_a_visit_over_midnight_lasts_no_day(start: str, end: str, hours: int) -> None:
    """Both days may have been said by a slip: then an end before the start is one again."""
    night = Visit("v-1", date="2026-07-12/2026-07-13", start=start, end=end)
    if not hours:
        assert from_body(Visit, as_body(night)) == night
        return
    with pytest.raises(Refused) as refused:
        as_body(night)
    assert code_of(refused) == ["ends-before-start"]
    assert f"would last {hours} hours" in refused.value.faults[0].message
    assert refused.value.faults[0].hint.endswith("2026-07-12")


@pytest.mark.parametrize(
    ("low", "high", "fits"), [(2, 3, True), (2, 2, True), (2, None, True), (3, 2, False), (None, 2, False)]
)
def test_a_wind_rises_from_its_lower_force(low: int | None, high: int | None, fits: bool) -> None:
    """`F2-3` is a range; `F3-2` and an upper end alone are slips."""
    visit = Visit("v-1", wind_force=low, wind_force_to=high)
    if fits:
        assert from_body(Visit, as_body(visit)) == visit
        return
    with pytest.raises(Refused) as refused:
        as_body(visit)
    assert code_of(refused) == ["wind-range"]


@pytest.mark.parametrize(
    ("field", "value"),
    [("sun_percent", 101), ("wind_force", 13), ("temperature_c", 400.0), ("party_size", 0), ("sun_percent", True)],
)
def test_weather_and_party_have_bounds(field: str, value: Any) -> None:
    """A sun of 101 %, a wind of force 13 or a party of nobody cannot be kept as understood."""
    with pytest.raises(Refused) as refused:
        as_body(Visit("v-1")._replace(**{field: value}))
    assert code_of(refused) == ["value-unfit"]


def test_photographs_that_were_bare_text_still_read() -> None:
    """Bodies written before checksums were kept hold a list of paths."""
    body = {**as_body(PLAIN), "photos": ["a.jpg", "b.jpg"]}
    assert from_body(Sighting, body).photos == (Photo("a.jpg"), Photo("b.jpg"))
    assert as_body(PLAIN._replace(photos=(Photo("a.jpg"),)))["photos"] == ["a.jpg"]
    with pytest.raises(Refused):
        as_body(PLAIN._replace(photos=(Photo("a.jpg", "nonsense"),)))


@unhurried
@given(texts, texts)
def test_a_name_in_typed_text_can_be_forgotten_and_other_text_is_left_alone(before: str, after: str) -> None:
    """A mark holds an id; the register gives the name, or no longer does."""
    kept = f"{before}{name_mark('p-1')}{after}"
    assert with_names(kept, {"p-1": "Ben Sallow"}.get) == f"{before}Ben Sallow{after}"
    assert with_names(kept, {}.get) == kept


class TestReading:
    """What this version cannot read is refused, never dropped."""

    def test_a_newer_field_is_refused(self) -> None:
        """Amending writes the whole record again: a dropped field would be lost without a word."""
        with pytest.raises(Refused) as refused:
            from_body(Sighting, {**as_body(PLAIN), "wing_length": 3})
        assert code_of(refused) == ["record-too-new"]
        assert "upgrade" in refused.value.faults[0].hint

    def test_a_missing_field_takes_its_default(self) -> None:
        """Older bodies always read."""
        body = as_body(PLAIN._replace(remarks="x"))
        del body["remarks"]
        assert from_body(Sighting, body).remarks == ""

    @pytest.mark.parametrize(
        "body",
        [
            None,
            [],
            "x",
            {},
            {"id": 3},
            {"id": "s", "line_id": "l", "visit_id": "v", "taxon": "Aeshna"},
            {
                "id": "s",
                "line_id": "l",
                "visit_id": "v",
                "taxon": {"scientific_name": "A"},
                "photos": "x.jpg",
            },
            {
                "id": "s",
                "line_id": "l",
                "visit_id": "v",
                "taxon": {"scientific_name": "A"},
                "naming": {"key_id": "k", "key_version": "1", "key_digest": "d", "ranking": [["A", "male"]]},
            },
        ],
    )
    def test_damage_is_a_fault(self, body: Any) -> None:
        """Anything else unfit is damage, told with a remedy."""
        with pytest.raises(Refused) as refused:
            from_body(Sighting, body)
        assert code_of(refused) == ["record-damaged"]

    @unhurried
    @given(
        st.recursive(
            st.none() | st.booleans() | st.integers() | st.text(max_size=5),
            lambda inner: (
                st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from([*Sighting._fields, "other"]), inner)
            ),
        )
    )
    def test_no_body_makes_it_stumble(self, body: Any) -> None:
        """Whatever JSON holds, the answer is a record or a fault."""
        try:
            read = from_body(Sighting, body)
        except Refused as refused:
            read = refused
        assert isinstance(read, Sighting | Refused)
