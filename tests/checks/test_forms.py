"""Sex, stage, pairs, look-alikes, and places that cannot be."""

from __future__ import annotations

import pytest

from checks.records_made import LOWLAND, codes, judged_by, queries, record, sighting, visit
from reedmace.checks.care import child_named
from reedmace.checks.query import record_of
from reedmace.checks.times import visit_in_the_dark
from reedmace.keys.model import Key
from reedmace.places.boundaries import read_boundaries
from reedmace.records import Answer, Naming, Ranked, Site
from reedmace.tasks.naming.keep_naming import as_naming
from tarn import look


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"behaviour": ("ovipositing",)}, ["doubt sex-impossible"]),
        ({"behaviour": ("ovipositing", "tandem")}, []),
        ({"behaviour": ("ovipositing",), "sex": "female", "evidence": "photo"}, []),
        (
            {"stage": "larva", "behaviour": ("tandem",), "sex": None},
            ["doubt stage-impossible", "doubt pair-arithmetic"],
        ),
        ({"stage": "teneral", "sex": None, "behaviour": ("ovipositing",)}, ["doubt stage-impossible"]),
        ({"evidence": "exuvia"}, ["doubt stage-impossible"]),
        ({"evidence": "exuvia", "stage": "exuvia", "sex": None}, []),
        ({"count": 6, "pairs": 3, "sex": None, "behaviour": ("copulating",)}, []),
        ({"count": 5, "pairs": 3, "sex": None, "behaviour": ("copulating",)}, ["doubt pair-arithmetic"]),
        ({"count": 5, "sex": None, "behaviour": ("tandem",)}, ["doubt pair-arithmetic"]),
        ({"count": 4, "sex": None, "behaviour": ("tandem",)}, []),
        ({"count": 2, "pairs": 1, "behaviour": ("tandem",)}, ["doubt pair-arithmetic"]),
    ],
)
def test_sex_stage_behaviour_and_numbers_go_together(tarn: Key, fields: dict[str, object], said: list[str]) -> None:
    found = record_of(judged_by(tarn), sighting(tarn, "pale", **fields), visit())
    wanted = ("sex-impossible", "stage-impossible", "pair-arithmetic")
    assert [code for code in codes(tarn, found) if code.split()[1] in wanted] == said


def test_the_form_the_answers_were_given_for_has_a_sex(tarn: Key) -> None:
    ranking = (Ranked("Tarnula pallida", "male", 0.99), Ranked("Tarnula nebula", "male", 0.01))
    naming = Naming("tarn-flies", "1.0.0", "d", "beginner", (), verdict="settled", ranking=ranking)
    assert "doubt sex-impossible" in codes(tarn, record(tarn, sex="female", naming=naming, evidence="photo"))
    assert codes(tarn, record(tarn, sex="male", naming=naming)) == []


def test_a_look_alike_whose_mark_was_not_looked_at_is_named(tarn: Key) -> None:
    """Pale and Misty differ in the collar; nobody looked."""
    naming = as_naming(look(tarn, "wings=closed colour=blue bar=present"))
    assert naming.verdict != "settled"
    said = [query for query in queries(tarn, record(tarn, "pale", naming=naming)) if query.code == "look-alike-open"]
    assert len(said) == 1
    assert "Tarnula nebula" in said[0].reason
    marks = {mark for one in record(tarn, "pale").species[0].lookalikes for mark in one.decided_by}
    answers = (*naming.answers, *(Answer(mark, "present") for mark in marks))
    looked = naming._replace(answers=answers)
    assert "doubt look-alike-open" not in codes(tarn, record(tarn, "pale", naming=looked))


def test_without_a_sex_each_forms_needs_are_said(key: Key) -> None:
    """With the shipped key: any species all of whose forms need more than a look, and not all the same."""
    species = next(
        one
        for one in key.species
        if len({key.guises[guise].evidence for guise in one.guises}) > 1
        and "sight" not in {key.guises[guise].evidence for guise in one.guises}
    )
    (said,) = [
        query
        for query in queries(key, record(key, species.name, sex=None, stage=None))
        if query.code == "evidence-wanted"
    ]
    for guise in species.guises:
        assert f"{key.guises[guise].title}: " in said.reason


@pytest.mark.parametrize(
    ("date", "said"),
    [
        ("2027-01-01", "error date-in-future"),
        ("1747-07-12", "doubt date-very-old"),
        ("2026-06-31", "error date-impossible"),
    ],
)
def test_dates_that_cannot_be(tarn: Key, date: str, said: str) -> None:
    assert codes(tarn, record(tarn, at=visit(date=date)))[0] == said


def test_named_before_it_was_seen(tarn: Key) -> None:
    assert "doubt named-before-seen" in codes(tarn, record(tarn, determined_on="2026-07-11"))
    assert codes(tarn, record(tarn, determined_on="2026-07")) == []


@pytest.mark.parametrize(
    ("square", "system", "number", "said"),
    [
        ("SU431118", "GB", "11", []),
        ("SU431118", "GB", "H11", ["doubt vice-county-against-square"]),
        ("H431118", "IE", "H33", []),
        ("H431118", "IE", "33", ["doubt vice-county-against-square"]),
    ],
)
def test_an_irish_vice_county_has_no_british_square(
    tarn: Key, square: str, system: str, number: str, said: list[str]
) -> None:
    at = visit(place=LOWLAND._replace(square=square, system=system, vice_county=number))
    assert [code for code in codes(tarn, record(tarn, at=at)) if "vice-county" in code] == said


BOUNDS = """{"type": "FeatureCollection", "features": [
 {"type": "Feature", "properties": {"vc": 11}, "geometry": {"type": "Polygon", "coordinates":
   [[[-2, 50.5], [-1.381, 50.5], [-1.381, 51.5], [-2, 51.5], [-2, 50.5]]]}},
 {"type": "Feature", "properties": {"vc": 12}, "geometry": {"type": "Polygon", "coordinates":
   [[[-1.381, 50.5], [-1, 50.5], [-1, 51.5], [-1.381, 51.5], [-1.381, 50.5]]]}}]}"""


@pytest.mark.parametrize(
    ("number", "longitude", "said"), [("11", -1.5, 0), ("12", -1.5, 1), ("11", -1.38, 0), ("13", -1.5, 0)]
)
def test_by_the_boundaries_given_the_square_lies_elsewhere(tarn: Key, number: str, longitude: float, said: int) -> None:
    """A square across the line is in both; a vice-county that the file lacks is not judged."""
    bounds, _ = read_boundaries(BOUNDS, "vc.geojson")
    at = visit(place=LOWLAND._replace(vice_county=number, longitude=longitude))
    found = queries(tarn, record(tarn, at=at), boundaries=bounds)
    assert [query.code for query in found] == ["vice-county-against-square"] * said
    if found:
        assert "it lies in 11 South Hampshire" in found[0].reason


@pytest.mark.parametrize(("may_see", "said"), [("everybody", []), ("county recorder", ["note site-withheld"])])
def test_a_site_that_not_everybody_may_see_is_told(tarn: Key, may_see: str, said: list[str]) -> None:
    site = Site("site-1", "Sallow Farm pond", place=LOWLAND, may_see=may_see)  # type: ignore[arg-type]
    for place in (LOWLAND._replace(site="site-1"), LOWLAND._replace(locality="sallow farm POND")):
        assert codes(tarn, record(tarn, at=visit(place=place)), sites=[site]) == said
    assert codes(tarn, record(tarn, at=visit(place=LOWLAND._replace(locality="Alder Mere"))), sites=[site]) == []


@pytest.mark.parametrize(
    ("remarks", "said"),
    [
        ("found by a pupil, aged 9", ["note child-named"]),
        ("Found by a CHILD", ["note child-named"]),
        ("a childish joke; packaged; the sun and Sonia's pond", []),
        ("", []),
    ],
)
def test_words_that_speak_of_a_child_are_asked_about(tarn: Key, remarks: str, said: list[str]) -> None:
    """Whole words only."""
    assert codes(tarn, record(tarn, remarks=remarks)) == said


@pytest.mark.parametrize(
    ("times", "own", "said"),
    [
        (("02:30", "04:00"), None, ["doubt time-in-the-dark"]),
        (("22:30", "23:30"), None, ["doubt time-in-the-dark"]),
        (("04:00", "05:00"), None, []),
        (("10:30", "12:00"), None, []),
        (("10:30", "12:00"), "14:15", ["doubt time-outside-visit"]),
        (("10:30", "12:00"), "09:15", ["doubt time-outside-visit"]),
        (("10:30", None), "14:15", []),
        (("10:30", "12:00"), "12:00", []),
        (("10:30", "12:00"), "10:30", []),
        ((None, None), "02:30", ["doubt time-in-the-dark"]),
        (("02:30", "04:00"), "11:15", ["doubt time-in-the-dark", "doubt time-outside-visit"]),
        (("22:00", "01:30"), "00:15", ["doubt time-in-the-dark"]),
        (("22:00", "01:30"), "11:15", ["doubt time-in-the-dark", "doubt time-outside-visit"]),
    ],
)
def test_times_of_day_that_do_not_go_together(
    tarn: Key, times: tuple[str | None, str | None], own: str | None, said: list[str]
) -> None:
    at = visit(start=times[0], end=times[1])
    assert codes(tarn, record(tarn, at=at, time=own)) == said


def test_by_lamp_it_may_be_dark_and_a_visit_is_told_of_once(tarn: Key) -> None:
    at = visit(start="02:30", end="04:00")
    assert codes(tarn, record(tarn, at=at._replace(method="light trap"))) == []
    grounds = judged_by(tarn)
    several = [record(tarn, at=at)._replace(sighting=record(tarn).sighting._replace(id=f"s-{n}")) for n in range(3)]
    for _ in range(2):  # what was told once is told the same again
        told = [[query.code for query in visit_in_the_dark(grounds, one)] for one in several]
        assert told == [["time-in-the-dark"], [], []]
    assert "14:30 may be meant" in next(iter(visit_in_the_dark(grounds, several[0]))).reason


def test_a_party_that_is_a_number_names_no_child_and_a_visits_remark_is_told_of_once(tarn: Key) -> None:
    assert codes(tarn, record(tarn, at=visit(party="6 children"))) == []
    assert codes(tarn, record(tarn, at=visit(party="6 children, Mia and Tom"))) == ["note child-named"]
    grounds = judged_by(tarn)
    at = visit(remarks="with the pupils")
    several = [record(tarn, at=at)._replace(sighting=record(tarn).sighting._replace(id=f"s-{n}")) for n in range(3)]
    assert [len(list(child_named(grounds, one))) for one in several] == [1, 0, 0]
