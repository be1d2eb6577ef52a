"""The rules one by one: what each asks, of which record, how loudly, and what it leaves alone."""

from __future__ import annotations

import pytest

from checks.records_made import LOWLAND, UPLAND, codes, judged_by, queries, record, sighting, visit
from reedmace.checks.query import record_of
from reedmace.checks.rules import RULES
from reedmace.keys.model import Key
from reedmace.records import Naming, PlaceRecord, Ranked
from reedmace.tasks.naming.keep_naming import as_naming
from tarn import look


def test_a_plain_good_record_raises_no_query(tarn: Key) -> None:
    """Who, what, where and when; in season, in range, by sight where sight is enough."""
    assert codes(tarn, record(tarn)) == []


@pytest.mark.parametrize(
    ("missing", "code"),
    [
        ({"observers": ()}, "error who-missing"),
        ({"date": None}, "error when-missing"),
        ({"place": PlaceRecord(locality="Sallow Farm")}, "error where-missing"),
    ],
)
def test_a_record_needs_who_where_and_when(tarn: Key, missing: dict[str, object], code: str) -> None:
    """Each of them missing is an error by itself; a name of a place is no place."""
    assert codes(tarn, record(tarn, at=visit(**missing))) == [code]


def test_a_party_is_somebody_and_a_position_is_somewhere(tarn: Key) -> None:
    """A "leader and party of 12" observes; latitude and longitude need no square."""
    at = visit(observers=(), party="a party of 12", place=PlaceRecord(latitude=50.9, longitude=-1.4, uncertainty_m=10))
    assert codes(tarn, record(tarn, at=at)) == []


@pytest.mark.parametrize("date", ["2026-07", "2026", "2026-07-01/2026-07-09"])
def test_a_vague_date_is_noted_and_accepted(tarn: Key, date: str) -> None:
    """It is a note: an old notebook says no more."""
    assert codes(tarn, record(tarn, at=visit(date=date))) == ["note date-vague"]


@pytest.mark.parametrize(
    ("square", "side", "said"),
    [
        ("SU431118", 100, []),
        ("SU43101187", 10, []),
        ("SU4311", 1000, ["note place-coarse"]),
        ("SU43A", 2000, ["doubt place-coarse"]),
        ("SU41", 10000, ["doubt place-coarse"]),
    ],
)
def test_six_figures_or_better_are_wanted(tarn: Key, square: str, side: int, said: list[str]) -> None:
    """One kilometre gets a note, more a doubt."""
    place = LOWLAND._replace(square=square, side_m=side)
    assert codes(tarn, record(tarn, at=visit(place=place))) == said


def test_the_sightings_own_place_stands_instead_of_the_visits(tarn: Key) -> None:
    """One insect at a spot of its own on a long walk is judged by that spot."""
    own = LOWLAND._replace(square="SU41", side_m=10000)
    assert codes(tarn, record(tarn, place=own)) == ["doubt place-coarse"]
    coarse = visit(place=own)
    assert codes(tarn, record(tarn, at=coarse, place=LOWLAND)) == []


@pytest.mark.parametrize(
    ("date", "said"),
    [
        ("2026-05-11", []),  # Pale Rushlet flies mid-May to early September in the made key
        ("2026-05-10", ["note out-of-season"]),
        ("2026-04-30", ["doubt out-of-season"]),
        ("2026-01-01", ["doubt out-of-season"]),
        ("2026-09-10", []),
        ("2026-09-11", ["note out-of-season"]),
        ("2026-09-21", ["doubt out-of-season"]),
    ],
)
def test_a_third_of_a_month_out_of_season_is_a_note_and_more_a_doubt(tarn: Key, date: str, said: list[str]) -> None:
    """Early and late insects happen."""
    assert codes(tarn, record(tarn, at=visit(date=date))) == said


def test_how_early_or_late_is_said_in_days_with_the_keys_own_dates(tarn: Key) -> None:
    """The reason can be checked without opening the key."""
    (early,) = queries(tarn, record(tarn, at=visit(date="2026-04-21")))
    assert early.reason == "Pale Rushlet flies mid-May to early-September; this is about 20 days early."
    (late,) = queries(tarn, record(tarn, at=visit(date="2026-09-30")))
    assert late.reason.endswith("this is about 20 days late.")


@pytest.mark.parametrize(
    ("day", "said"),
    [("2026-01-12", "about 120 days early"), ("2026-01-02", "about 114 days late"), ("2026-12-30", "111 days late")],
)
def test_in_winter_the_nearer_end_of_the_season_counts(tarn: Key, day: str, said: str) -> None:
    """In the first days of January an insect of the autumn is late, not months early."""
    (found,) = queries(tarn, record(tarn, at=visit(date=day)))
    assert said in found.reason


@pytest.mark.parametrize("stage", ["larva", "exuvia", "emerging"])
def test_only_what_flies_has_a_flight_season(tarn: Key, stage: str) -> None:
    """A larva in January is no query."""
    assert codes(tarn, record(tarn, at=visit(date="2026-01-10"), stage=stage, sex=None, evidence="photo")) == []


def test_a_pair_is_in_season_while_either_flies(tarn: Key) -> None:
    """Pale or Misty: the longer period of the two counts."""
    assert "doubt out-of-season" not in codes(tarn, record(tarn, "pale/misty", at=visit(date="2026-09-05")))


def test_a_species_unknown_in_the_region_is_a_doubt(tarn: Key) -> None:
    """Lone Boulderer is an upland insect of the made key."""
    said = queries(tarn, record(tarn, "lone", evidence="photo"))
    assert ("doubt", "out-of-range") in [(query.severity, query.code) for query in said]
    reason = next(query.reason for query in said if query.code == "out-of-range")
    assert reason == "Lone Boulderer is not known from the Lowland."


def test_a_square_in_two_regions_asks_only_when_neither_has_it(tarn: Key) -> None:
    """A border square gets the benefit of the doubt."""
    both = LOWLAND._replace(square="SP510060", regions=("lowland", "upland"))
    assert "doubt out-of-range" not in codes(tarn, record(tarn, "lone", at=visit(place=both), evidence="photo"))


def test_a_place_whose_region_is_not_known_raises_no_query_of_range(tarn: Key) -> None:
    """What the key cannot judge it does not judge."""
    nowhere = LOWLAND._replace(square="TQ300800", regions=())
    said = codes(tarn, record(tarn, "lone", at=visit(place=nowhere), evidence="photo"))
    assert said == ["doubt square-without-land", "note protected"]


def test_a_vagrant_is_asked_for_a_photograph_soon(key: Key) -> None:
    """With the shipped key: any species that is a vagrant in a region and nothing more."""
    one, region = next(
        (species, region)
        for species in key.species
        for region, level in species.more.levels.items()
        if level == "vagrant"
    )
    place = LOWLAND._replace(regions=(region,))
    said = codes(key, record(key, one.name, at=visit(place=place)))
    assert "doubt vagrant-here" in said


@pytest.mark.parametrize(("habitat", "said"), [("tarn", []), ("beck", ["note unlikely-habitat"]), ("a puddle", [])])
def test_a_habitat_the_key_does_not_give_is_noted(tarn: Key, habitat: str, said: list[str]) -> None:
    """Misty Rushlet keeps to still water; a habitat in the user's own words is nobody's business."""
    assert codes(tarn, record(tarn, "misty", at=visit(habitat=habitat), evidence="photo")) == said


@pytest.mark.parametrize(
    ("name", "sex", "evidence", "said"),
    [
        ("pale", "male", None, []),
        ("pale", "female", None, ["doubt evidence-wanted"]),
        ("pale", "female", "sight", ["doubt evidence-wanted"]),
        ("pale", "female", "photo", []),
        ("pale", "female", "in hand", []),
        ("pale", None, None, []),
        ("misty", None, None, ["doubt evidence-wanted"]),
    ],
)
def test_evidence_is_asked_for_where_the_key_asks_it(
    tarn: Key, name: str, sex: str | None, evidence: str | None, said: list[str]
) -> None:
    """The easiest form that fits the record counts: without a sex, the male's sight is enough."""
    assert codes(tarn, record(tarn, name, sex=sex, evidence=evidence)) == said


@pytest.mark.parametrize(
    ("name", "stage", "said"),
    [
        ("misty", "exuvia", []),
        ("misty", "larva", ["This key names no larvae, and of grown Misty Rushlet it asks more than a look."]),
        ("pale", "larva", []),
    ],
)
def test_skins_and_larvae_are_not_asked_for_the_marks_of_grown_insects(
    tarn: Key, name: str, stage: str, said: list[str]
) -> None:
    """A larva has no claspers to photograph."""
    one = record(tarn, name, sex=None, stage=stage)
    assert [query.reason for query in queries(tarn, one) if query.code == "evidence-wanted"] == said


def test_what_to_photograph_is_said(tarn: Key) -> None:
    """The part that decides, in the key's words."""
    (query,) = queries(tarn, record(tarn, sex="female"))
    assert query.reason == "Pale Rushlet, female, needs a photograph (the collar, from straight above)."


PAIR = "wings=closed colour=blue bar=present bump=present back-mark=cup"


def test_another_name_than_the_keys_first_is_asked_about(tarn: Key) -> None:
    """The observer may well be right, and is asked to say why."""
    naming = as_naming(look(tarn, PAIR))
    said = codes(tarn, record(tarn, "misty", naming=naming, evidence="photo"))
    assert said == ["doubt key-disagrees"]


def test_a_name_the_key_never_settled_on_is_asked_about(tarn: Key) -> None:
    """Pale was only the likelier of two."""
    naming = as_naming(look(tarn, PAIR))
    assert "doubt never-settled" in codes(tarn, record(tarn, "pale", naming=naming))


def test_sent_as_the_pair_it_is_no_query(tarn: Key) -> None:
    """That is the honest record the key proposed."""
    naming = as_naming(look(tarn, PAIR))
    assert codes(tarn, record(tarn, "pale/misty", naming=naming)) == []


@pytest.mark.parametrize(("chance", "said"), [(0.099, []), (0.10, ["doubt close-runner-up"])])
def test_a_runner_up_is_close_from_a_tenth(tarn: Key, chance: float, said: list[str]) -> None:
    """Below that the ranking speaks for itself."""
    ranking = (Ranked("Tarnula pallida", "male", 1 - chance), Ranked("Tarnula nebula", "male", chance))
    naming = Naming("tarn-flies", "1.0.0", "d", "beginner", (), verdict="settled", ranking=ranking)
    assert codes(tarn, record(tarn, "pale", naming=naming)) == said


def test_a_protected_species_gets_a_word_of_care_and_no_doubt(tarn: Key) -> None:
    """A note, with where to send it and what not to publish."""
    said = queries(tarn, record(tarn, "lone", at=visit(place=UPLAND), evidence="photo"))
    assert [(query.severity, query.code) for query in said] == [("note", "protected")]
    assert "do not publish" in said[0].remedy


def test_a_name_the_key_does_not_have_is_noted_and_not_doubted(tarn: Key, key: Key) -> None:
    """A record made with another key is none the worse; but nothing was looked at."""
    assert codes(tarn, record_of(judged_by(tarn), sighting(key, "azure damselfly"), visit(date="2026-01-01"))) == [
        "note not-in-key"
    ]


def test_every_query_has_a_reason_and_a_remedy(tarn: Key) -> None:
    """One record with nearly everything wrong with it still says what to do about each."""
    naming = as_naming(look(tarn, PAIR))
    coarse = PlaceRecord("SU41", "GB", "SU41", 10000, regions=("lowland",))
    at = visit(date="2026-01-10", place=coarse, observers=(), habitat="tarn")
    said = queries(tarn, record(tarn, "lone", at=at, naming=naming))
    assert len(said) >= 7
    assert all(query.reason.strip() and query.remedy.strip() for query in said)
    assert all(query.severity in ("error", "doubt", "note") for query in said)
    assert {query.sighting for query in said} == {"s-1"}


def test_rules_are_listed_once() -> None:
    """The tuple's order is the only order, and each rule says in a sentence what it is about."""
    assert len(set(RULES)) == len(RULES)
    assert all(rule.__doc__ for rule in RULES)


@pytest.mark.parametrize(
    ("name", "english", "said"),
    [
        ("Tarnula pallida", "Misty Rushlet", ["doubt names-differ"]),
        ("Tarnula pallida", "misty rushlets", ["doubt names-differ"]),
        ("Tarnula pallida", "Pale Rushlet", []),
        ("Tarnula pallida", "A Local Name", []),
        ("Tarnula", "Pale Rushlet", []),
        ("Mossopa", "Pale Rushlet", ["doubt names-differ"]),
    ],
)
def test_an_english_name_of_another_species_is_told(tarn: Key, name: str, english: str, said: list[str]) -> None:
    """Beside the scientific name of a species or a genus; what the key does not know is nobody's."""
    one = sighting(tarn, "pale")
    one = one._replace(taxon=one.taxon._replace(scientific_name=name, vernacular=english))
    assert [code for code in codes(tarn, record_of(judged_by(tarn), one, visit())) if "names" in code] == said


@pytest.mark.parametrize(
    ("name", "one_of", "lost"),
    [
        ("Tarnula pallida", (), ""),
        ("Tarnula", (), ""),
        ("Tarnulidae", (), ""),
        ("Gracilina", (), ""),
        ("Tarnula", ("Tarnula pallida", "Tarnula nebula"), ""),
        ("Tarnula perdita", (), "Tarnula perdita"),
        ("Tarnula", ("Tarnula pallida", "Tarnula perdita"), "Tarnula perdita"),
    ],
)
def test_a_species_that_has_gone_from_the_key_is_told(tarn: Key, name: str, one_of: tuple[str, ...], lost: str) -> None:
    """Nothing that hangs on it can be looked at, and nothing said would look like nothing doubtful."""
    one = sighting(tarn, "pale")
    one = one._replace(taxon=one.taxon._replace(scientific_name=name, vernacular="", one_of=one_of))
    said = [query for query in queries(tarn, record_of(judged_by(tarn), one, visit())) if query.code == "not-in-key"]
    assert [(query.severity, query.reason.partition(":")[0].rpartition(" has no ")[2]) for query in said] == (
        [("note", lost)] if lost else []
    )
