"""One sighting as one line: what each column says, and what it never says."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from records.strategies import sightings, visits
from reedmace.darwincore import DEFAULT_COLUMNS, Dataset, Earlier, RowNotes, occurrence
from reedmace.records import (
    Answer,
    Circumstances,
    Naming,
    Photo,
    PlaceRecord,
    Ranked,
    Sighting,
    Taxon,
    Visit,
    name_mark,
)

NAMES = {"p-ada": "Ada Marsh", "p-ben": "Ben Sedge"}
POND = PlaceRecord(
    typed="TQ 337 805",
    system="GB",
    square="TQ337805",
    side_m=100,
    latitude=51.508059,
    longitude=-0.074148,
    uncertainty_m=76,
    kind="centroid",
    vice_county="17",
    locality="Withy Pond",
)
VISIT = Visit(
    "v-1",
    date="2026-06-14",
    date_typed="14 June",
    start="10:30",
    end="12:15",
    place=POND,
    observers=("p-ada", "p-ben"),
    party="party of 12",
    habitat="garden pond",
    weather="18 °C, calm",
    method="walk",
    all_damselflies=True,
    exuvia_passes=2,
    permission_noted="asked at the farm",
    remarks="windy later",
)
MIGRANT = Taxon(
    "Aeshna mixta",
    authorship="Latreille, 1805",
    rank="species",
    vernacular="Migrant Hawker",
    kingdom="Animalia",
    phylum="Arthropoda",
    class_name="Insecta",
    order="Odonata",
    family="Aeshnidae",
    genus="Aeshna",
    specific_epithet="mixta",
    typed="migrant hawker",
)
SEEN = Sighting("s-1", "l-1", "v-1", MIGRANT, determiner="p-ben", determined_on="2026-06-15")
DATASET = Dataset("Withy walks", "https://creativecommons.org/licenses/by/4.0/", {"17": "Surrey"})


def line(visit: Visit = VISIT, notes: RowNotes = RowNotes(), **changes: Any) -> dict[str, str]:  # noqa: B008
    """Give the line of the plain sighting, changed as said."""
    return occurrence(SEEN._replace(**changes), visit, "2026-06-20T08:00:00Z", NAMES.__getitem__, DATASET, notes)


def at(**changes: Any) -> dict[str, str]:
    """Give the line of the plain sighting at another place."""
    return line(VISIT._replace(place=POND._replace(**changes)))


def test_a_plain_sighting() -> None:
    """Every column that has something to say, and no other."""
    assert {column: text for column, text in line().items() if text} == {
        "occurrenceID": "s-1",
        "type": "Event",
        "basisOfRecord": "HumanObservation",
        "occurrenceStatus": "present",
        "eventID": "v-1",
        "eventDate": "2026-06-14",
        "year": "2026",
        "month": "6",
        "day": "14",
        "recordedBy": "Ada Marsh | Ben Sedge | party of 12",
        "scientificName": "Aeshna mixta",
        "scientificNameAuthorship": "Latreille, 1805",
        "taxonRank": "species",
        "specificEpithet": "mixta",
        "vernacularName": "Migrant Hawker",
        "kingdom": "Animalia",
        "phylum": "Arthropoda",
        "class": "Insecta",
        "order": "Odonata",
        "family": "Aeshnidae",
        "genus": "Aeshna",
        "identifiedBy": "Ben Sedge",
        "dateIdentified": "2026-06-15",
        "verbatimIdentification": "migrant hawker",
        "verbatimLocality": "Withy Pond",
        "verbatimEventDate": "14 June",
        "eventTime": "10:30/12:15",
        "verbatimCoordinates": "TQ 337 805",
        "verbatimCoordinateSystem": "British National Grid",
        "verbatimSRS": "EPSG:27700",
        "decimalLatitude": "51.508059",
        "decimalLongitude": "-0.074148",
        "geodeticDatum": "EPSG:4326",
        "coordinateUncertaintyInMeters": "76",
        "georeferenceRemarks": "the centre of the site, not the place of the sighting itself",
        "locality": "Withy Pond",
        "country": "United Kingdom",
        "countryCode": "GB",
        "habitat": "garden pond",
        "higherGeography": "United Kingdom | Vice-county 17 Surrey",
        "dynamicProperties": (
            '{"viceCounty": "17", "viceCountyName": "Surrey", "exact": {"format": 1, "visit":'
            ' {"party": "party of 12", "exuvia_passes": 2}}}'
        ),
        "samplingProtocol": "walk",
        "sampleSizeValue": "105",
        "sampleSizeUnit": "minute",
        "samplingEffort": "2 observers, 105 minutes, 2 searches for exuviae",
        "eventRemarks": "Weather: 18 °C, calm. All damselfly species seen were noted. windy later",
        "license": "https://creativecommons.org/licenses/by/4.0/",
        "datasetName": "Withy walks",
        "modified": "2026-06-20T08:00:00Z",
    }


def test_weather_goes_out_as_typed_and_as_numbers() -> None:
    """The words in eventRemarks, the numbers in dynamicProperties, where no term has room for them."""
    visit = VISIT._replace(weather="21C, sun70, F2-3", temperature_c=21, sun_percent=70, wind_force=2, wind_force_to=3)
    told = line(visit)
    assert told["eventRemarks"].startswith("Weather: 21C, sun70, F2-3.")
    properties = json.loads(told["dynamicProperties"])
    assert (properties["temperatureInCelsius"], properties["sunPercent"]) == (21, 70)
    assert properties["windBeaufort"] == "2-3"
    assert json.loads(line(visit._replace(wind_force_to=None))["dynamicProperties"])["windBeaufort"] == 2


def test_a_party_counts_as_observers() -> None:
    """Where its number is known."""
    assert line(VISIT._replace(party_size=12))["samplingEffort"].startswith("14 observers, ")


def test_the_line_as_typed_goes_out_with_names_but_never_where_the_place_was_blurred() -> None:
    """The typed words may name the very spot."""
    typed = f'3 migrant hawker @ TQ 3371 8052 by "{name_mark("p-ben")}"'
    assert line(typed=typed)["fieldNotes"] == '3 migrant hawker @ TQ 3371 8052 by "Ben Sedge"'
    assert line(typed=typed, notes=RowNotes(generalised="1 km square"))["fieldNotes"] == ""
    assert line(typed=typed, notes=RowNotes(withheld="the place"))["fieldNotes"] == ""


def test_photographs_go_out_by_path_and_their_checksums_as_a_property() -> None:
    """One that was never read has no checksum."""
    told = line(photos=(Photo("a.jpg", "0f" * 32), Photo("b.jpg")))
    assert told["associatedMedia"] == "a.jpg | b.jpg"
    assert json.loads(told["dynamicProperties"])["mediaSHA256"] == ["0f" * 32, ""]


def test_singles_counted_with_pairs_say_so() -> None:
    """The number is without the pairs, which are a line of their own."""
    told = line(count=9, count_kind="exact", in_pairs=3, remarks="by the sluice")
    assert told["individualCount"] == "9"
    assert (
        told["occurrenceRemarks"] == "Counted with 3 more that were paired and have a line of their own. by the sluice"
    )


def test_the_columns_come_in_their_order() -> None:
    """Every default column, also where it is empty."""
    assert tuple(line()) == DEFAULT_COLUMNS


class TestHowMany:
    """An exact number is a count; anything else says what it is; 0 is never written."""

    @pytest.mark.parametrize(
        ("changes", "expected"),
        [
            ({}, ("", "", "")),
            ({"count": 3, "count_kind": "exact"}, ("3", "", "")),
            ({"count": 40, "count_kind": "estimate"}, ("", "40", "individuals (estimated)")),
            (
                {"count": 30, "count_to": 40, "count_kind": "estimate"},
                ("", "30-40", "individuals (estimated)"),
            ),
            ({"count": 6, "count_kind": "at least"}, ("", "6", "individuals (at least)")),
            (
                {"count": 6, "count_to": 20, "count_kind": "band"},
                ("", "6-20", "individuals (counted in bands)"),
            ),
            ({"count": 1, "count_to": 1, "count_kind": "band"}, ("", "1", "individuals (counted in bands)")),
            ({"count": 501, "count_kind": "band"}, ("", "501", "individuals (at least)")),
        ],
    )
    def test_counts(self, changes: dict[str, Any], expected: tuple[str, str, str]) -> None:
        """individualCount, organismQuantity, organismQuantityType."""
        found = line(**changes)
        assert (
            found["individualCount"],
            found["organismQuantity"],
            found["organismQuantityType"],
        ) == expected

    def test_three_pairs(self) -> None:
        """`3 cop` is one sighting of six, of no one sex, and the pairs are said in words."""
        found = line(pairs=3, count=6, count_kind="exact", behaviour=("copulating",), remarks="on the reeds")
        assert (found["individualCount"], found["sex"], found["behavior"]) == ("6", "", "copulating")
        assert found["occurrenceRemarks"] == "3 pairs copulating, a male and a female each. on the reeds"
        assert found["reproductiveCondition"] == "reproductively active"
        assert json.loads(found["dynamicProperties"])["pairs"] == 3

    def test_at_least_one_pair_in_tandem(self) -> None:
        """Tandem alone is no sign of breeding."""
        found = line(pairs=1, count=2, count_kind="at least", behaviour=("tandem",))
        assert found["occurrenceRemarks"] == "At least 1 pair in tandem, a male and a female each"
        assert (found["individualCount"], found["organismQuantity"]) == ("", "2")
        assert found["reproductiveCondition"] == ""

    def test_sex_stage_and_behaviour(self) -> None:
        """They are different things."""
        found = line(sex="female", stage="adult", behaviour=("ovipositing", "alone"))
        assert (found["sex"], found["lifeStage"]) == ("female", "adult")
        assert found["behavior"] == "ovipositing | alone"


class TestTheName:
    """The name claims what was claimed; doubt has its own column; a person named it or nobody."""

    def test_a_pair_that_could_not_be_split(self) -> None:
        """It goes out as the lowest taxon that holds both."""
        pair = Taxon(
            "Coenagrion",
            rank="genus",
            one_of=("Coenagrion puella", "Coenagrion pulchellum"),
            typed="azure/variable",
        )
        found = line(taxon=pair)
        assert (found["scientificName"], found["taxonRank"], found["specificEpithet"]) == (
            "Coenagrion",
            "genus",
            "",
        )
        assert found["verbatimIdentification"] == "Coenagrion puella or Coenagrion pulchellum"
        assert found["identificationQualifier"] == ""

    @pytest.mark.parametrize(
        ("changes", "expected"),
        [
            ({}, ""),
            ({"certainty": "certain"}, ""),
            ({"certainty": "uncertain"}, "?"),
            ({"certainty": "probable"}, "probable"),
            ({"certainty": "uncertain", "qualifier": "cf."}, "cf."),
        ],
    )
    def test_doubt(self, changes: dict[str, Any], expected: str) -> None:
        """The trade's own signs, and no cf. that nobody typed."""
        found = line(**changes)
        assert found["identificationQualifier"] == expected
        assert found["scientificName"] == "Aeshna mixta"

    def test_nobody_named_it(self) -> None:
        """Where no determiner is known, the column stays empty, key or no key."""
        assert line(determiner=None, naming=Naming("fen", "1", "d"))["identifiedBy"] == ""

    def test_what_the_key_said(self) -> None:
        """Reference and reasons, as they were on the day."""
        naming = Naming(
            "fen",
            "1.2.0",
            "abc123",
            eye="practised",
            answers=(Answer("stripe", "broad"), Answer("spur", "absent~")),
            circumstances=Circumstances("14 June", "TQ3380", "", True),
            verdict="narrowed",
            verdict_name="Coenagrion puella or Coenagrion pulchellum",
            ranking=(
                Ranked("Coenagrion puella", "male", 0.99991),
                Ranked("Coenagrion pulchellum", "", 0.0123),
                Ranked("Ischnura elegans", "", 0.0001),
                Ranked("Enallagma cyathigerum", "", 0.0),
            ),
            reedmace="0.1.0",
        )
        found = line(naming=naming, evidence="in hand")
        assert found["identificationReferences"] == "fen 1.2.0 (digest abc123)"
        assert found["identificationRemarks"] == (
            "Evidence: in hand. Key fen 1.2.0 used by reedmace 0.1.0, practised eye."
            " Answers: stripe = broad, spur = absent~."
            " When and where: date 14 June, place TQ3380, all species taken as equally common."
            " Verdict: narrowed Coenagrion puella or Coenagrion pulchellum."
            " Ranking: Coenagrion puella (male) over 0.999, Coenagrion pulchellum 0.012, and 2 less likely"
        )
        assert json.loads(found["dynamicProperties"])["evidence"] == "in hand"

    def test_a_flat_ranking_tells_its_first(self) -> None:
        """Where nothing is likely, the best is still told, and never as nothing."""
        naming = Naming("fen", "1", "d", ranking=(Ranked("Aeshna mixta", "", 0.0001),))
        assert line(naming=naming)["identificationRemarks"].endswith("Ranking: Aeshna mixta under 0.001")

    def test_an_earlier_name_has_the_day_on_which_it_was_given_and_no_other(self) -> None:
        """When it was written into the ledger, years later maybe, says nothing of that."""
        nobody, known = (
            Sighting("s-1", "l-1", "v-1", Taxon(name), determiner=who, determined_on=day)
            for name, who, day in (("Aeshna mixta", None, None), ("Aeshna affinis", "p-ada", "2019-06-03"))
        )
        earlier = tuple(Earlier(one, "2026-12-01T12:00:00Z", "recorded", "") for one in (nobody, known))
        told = line(notes=RowNotes(earlier=earlier))["previousIdentifications"]
        assert told == "Aeshna mixta | Aeshna affinis (Ada Marsh, 2019-06-03)"

    def test_notes_of_others(self) -> None:
        """Earlier names, the county recorder's word, and what was blurred are passed in."""
        notes = RowNotes(("Aeshna sp.", "Aeshna affinis"), "considered correct", "to 10 km", "locality")
        found = line(notes=notes)
        assert found["previousIdentifications"] == "Aeshna sp. | Aeshna affinis"
        assert found["identificationVerificationStatus"] == "considered correct"
        assert (found["dataGeneralizations"], found["informationWithheld"]) == ("to 10 km", "locality")
        assert line()["identificationVerificationStatus"] == ""


class TestWhere:
    """The typed place, the point, the country: each only where it is known."""

    @pytest.mark.parametrize(
        ("changes", "expected"),
        [
            ({"vice_county": "112"}, ("United Kingdom", "GB")),
            ({"vice_county": "71"}, ("Isle of Man", "IM")),
            ({"vice_county": "113"}, ("", "")),
            ({"vice_county": "H1", "system": "IE"}, ("Ireland", "IE")),
            ({"vice_county": "H34", "system": "IE"}, ("Ireland", "IE")),
            ({"vice_county": "H33", "system": "IE"}, ("United Kingdom", "GB")),
            ({"vice_county": "H40", "system": "IE"}, ("United Kingdom", "GB")),
            ({"vice_county": None}, ("United Kingdom", "GB")),
            ({"vice_county": None, "square": "SC38"}, ("", "")),
            ({"vice_county": None, "square": "NX30"}, ("", "")),
            ({"vice_county": None, "square": "SF12"}, ("", "")),
            ({"vice_county": None, "system": "IE", "square": "H1234"}, ("", "")),
            ({"vice_county": None, "system": "WGS84", "square": None}, ("", "")),
        ],
    )
    def test_country(self, changes: dict[str, Any], expected: tuple[str, str]) -> None:
        """By vice-county (Watson 1852, Praeger 1901), else by a British square, never by a guess."""
        found = at(**changes)
        assert (found["country"], found["countryCode"]) == expected

    @pytest.mark.parametrize(
        ("changes", "expected"),
        [
            ({}, ("TQ 337 805", "British National Grid", "EPSG:27700")),
            ({"typed": ""}, ("TQ337805", "British National Grid", "EPSG:27700")),
            ({"system": "IE", "typed": "O 12 34"}, ("O 12 34", "Irish Grid", "EPSG:29903")),
            (
                {"system": "WGS84", "typed": "51.5, -0.1", "square": None},
                ("51.5, -0.1", "decimal degrees", "EPSG:4326"),
            ),
            (
                {"system": "WGS84", "typed": "51 30 12 N 0 6 0 W", "square": None},
                ("51 30 12 N 0 6 0 W", "", "EPSG:4326"),
            ),
            ({"system": "WGS84", "typed": "51°30′N 0°W", "square": None}, ("51°30′N 0°W", "", "EPSG:4326")),
            ({"system": "WGS84", "typed": ""}, ("", "", "EPSG:4326")),
            ({"system": None, "typed": "by the mill", "square": None}, ("", "", "")),
        ],
    )
    def test_as_typed(self, changes: dict[str, Any], expected: tuple[str, str, str]) -> None:
        """verbatimCoordinates, verbatimCoordinateSystem, verbatimSRS."""
        found = at(**changes)
        got = (found["verbatimCoordinates"], found["verbatimCoordinateSystem"], found["verbatimSRS"])
        assert got == expected

    def test_words_that_are_no_reference(self) -> None:
        """A place that was never read as one is told as a locality in the typed words."""
        found = at(system=None, typed="by the mill", locality="")
        assert (found["verbatimLocality"], found["locality"]) == ("by the mill", "")

    def test_half_a_point_is_none(self) -> None:
        """Without both degrees there is no datum, no uncertainty, no word on how the point was found."""
        found = at(longitude=None)
        for column in (
            "decimalLatitude",
            "decimalLongitude",
            "geodeticDatum",
            "coordinateUncertaintyInMeters",
        ):
            assert found[column] == ""
        assert found["georeferenceRemarks"] == ""

    @pytest.mark.parametrize(
        ("value", "text"),
        [(-0.0, "0.000000"), (-1e-9, "0.000000"), (-0.000001, "-0.000001"), (51.5, "51.500000")],
    )
    def test_degrees(self, value: float, text: str) -> None:
        """Six decimals, and no minus nought."""
        assert at(longitude=value)["decimalLongitude"] == text

    def test_the_sightings_own_place_stands_whole(self) -> None:
        """Nothing of the visit's place is mixed into it."""
        found = line(place=PlaceRecord(typed="O1234", system="IE", square="O1234"))
        assert (found["verbatimSRS"], found["locality"], found["decimalLatitude"]) == ("EPSG:29903", "", "")
        assert found["eventID"] == "v-1"


class TestWhen:
    """Only what the date says."""

    @pytest.mark.parametrize(
        ("date", "parts"),
        [
            (None, ("", "", "", "")),
            ("2026-06", ("2026-06", "2026", "6", "")),
            ("2026", ("2026", "2026", "", "")),
            ("2026-06-01/2026-06-07", ("2026-06-01/2026-06-07", "2026", "6", "")),
            ("2025-12-30/2026-01-02", ("2025-12-30/2026-01-02", "", "", "")),
        ],
    )
    def test_vague_dates(self, date: str | None, parts: tuple[str, ...]) -> None:
        """eventDate, year, month, day."""
        found = line(VISIT._replace(date=date))
        assert (found["eventDate"], found["year"], found["month"], found["day"]) == parts

    @pytest.mark.parametrize(
        ("start", "end", "own", "expected"),
        [
            ("10:30", None, None, ("10:30", "", "")),
            (None, "12:00", None, ("", "", "")),
            ("10:30", "10:30", None, ("10:30", "", "")),
            ("10:30", "12:00", "11:00", ("11:00", "90", "minute")),
            ("22:00", "01:30", None, ("22:00/01:30", "210", "minute")),
        ],
    )
    def test_times(self, start: str | None, end: str | None, own: str | None, expected: tuple[str, ...]) -> None:
        """A sighting's own time comes before the visit's; the length of the visit stays the visit's."""
        found = line(VISIT._replace(start=start, end=end), time=own)
        assert (found["eventTime"], found["sampleSizeValue"], found["sampleSizeUnit"]) == expected

    def test_own_observers(self) -> None:
        """They stand instead of the visit's, the party included."""
        assert line(observers=("p-ben",))["recordedBy"] == "Ben Sedge"
        assert line(observers=())["recordedBy"] == ""


@settings(deadline=None, max_examples=60)
@given(visits(), sightings(), st.text(st.characters(exclude_categories=["Cs"])))
def test_every_line_keeps_its_promises(visit: Visit, sighting: Sighting, name: str) -> None:
    """Whatever is logged: all columns, all text, no bare 0, nothing private, the user's remarks as typed."""
    found = occurrence(
        sighting, visit._replace(permission_noted="PRIVATE-NOTE"), "2026-06-20T08:00:00Z", lambda _: name
    )
    assert tuple(found) == DEFAULT_COLUMNS
    assert all(type(text) is str for text in found.values())
    assert found["individualCount"] != "0"
    for cell, remarks in (("occurrenceRemarks", sighting.remarks), ("eventRemarks", visit.remarks)):
        assert remarks.isspace() or found[cell].endswith(remarks)  # blanks alone are no remark
    assert not any("PRIVATE-NOTE" in text for text in found.values())
