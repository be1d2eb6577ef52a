"""Breeding status by rules: what each rule asks for, and what it does not take for proof."""

from __future__ import annotations

from typing import Any

import pytest

from reedmace.faults import Refused
from reedmace.records import PlaceRecord, Sighting, Taxon, Visit
from reedmace.reports.breeding import STATUSES, Status, breeding, read_rules, rule_set_names, rules_of, statuses

SPECIES = Taxon("Aeshna cyanea", rank="species", vernacular="Southern Hawker")
POND = PlaceRecord(square="SU431118", side_m=100, locality="Sallow Farm pond")

# What was seen, each as year: sex, stage, behaviour or count | by criteria-2004 | by county-atlas | the rule.
CASES = """
2026: exuvia                          | confirmed     | confirmed     | cast skin
2026: exuvia; 2026: male              | confirmed     | confirmed     | cast skin
2026: emerging                        | probable      | confirmed     | emerg
2026: larva                           | probable      | probable      | larva
2026: female ovipositing              | probable      | probable      | laying eggs
2026: pair tandem ovipositing         | probable      | probable      | laying eggs
2026: ovipositing                     | probable      | probable      | laying eggs
2026: male ovipositing                | adult present | adult present | adult
2026: teneral                         | probable      | probable      | teneral
2025: male 5; 2025: female; 2026: male 5; 2026: female | probable | probable | both sexes
2025: pair 3; 2026: pair 3            | probable      | probable      | both sexes
2024: male 5; 2024: female; 2026: male 5; 2026: female | adult present | adult present | adult
2025: male 2; 2025: female; 2026: male 2; 2026: female | adult present | adult present | adult
2025: male 9; 2026: female 9          | adult present | adult present | adult
2026: pair copulating                 | possible      | possible      | copulating
2026: male territorial; 2026: female  | possible      | possible      | reproductively active
2025: male territorial; 2026: female  | adult present | adult present | adult
2026: pair tandem                     | adult present | adult present | adult
2026: male; 2026: female              | adult present | adult present | adult
2026: immature                        | adult present | adult present | adult
"""
ROWS = [[cell.strip() for cell in row.split("|")] for row in CASES.strip().splitlines()]


def seen(text: str, **more: Any) -> list[tuple[Sighting, Visit]]:
    """Sightings as the table writes them; those of one year are of one visit."""
    rows = []
    for number, one in enumerate(text.split(";")):
        year, _, words = one.strip().partition(": ")
        said: dict[str, Any] = {"behaviour": ()}
        for word in words.split():
            if word in ("male", "female"):
                said["sex"] = word
            elif word in ("exuvia", "larva", "emerging", "teneral", "immature"):
                said["stage"] = word
            elif word.isdigit():
                said |= {"count": int(word), "count_kind": "exact"}
            elif word == "pair":
                said |= {"pairs": 1, "count": 2, "count_kind": "exact"}
            else:
                said["behaviour"] += (word,)
        if "pairs" in said:
            pairs = said["count"] if said["count"] != 2 else 1
            said |= {"pairs": pairs, "count": 2 * pairs}
        visit = Visit(f"v-{year}", f"{year}-07-12", place=POND)
        rows.append((Sighting(f"s-{number}", "l", visit.id, more.get("taxon", SPECIES), **said), visit))
    return rows


def status(text: str, rules: str = "criteria-2004") -> Status:
    """The one status that follows."""
    (found,) = statuses(read_rules(rules), seen(text))
    return found


@pytest.mark.parametrize(("text", "criteria", "atlas", "rule"), ROWS)
def test_the_first_rule_that_holds_gives_the_status(text: str, criteria: str, atlas: str, rule: str) -> None:
    """And is told with the records that made it hold."""
    for rules, wanted in (("criteria-2004", criteria), ("county-atlas", atlas)):
        found = status(text, rules)
        assert found.status == wanted
        assert rule in found.rule
        assert found.evidence


def test_the_years_and_the_evidence_are_told() -> None:
    """Of what was seen over years, the oldest evidence first."""
    found = status("2024: exuvia; 2026: exuvia 3; 2025: male")
    assert (found.first_year, found.last_year, found.records) == (2024, 2026, 3)
    assert [one.year for one in found.evidence] == [2024, 2026]


def test_an_uncertain_name_proves_nothing_and_is_counted() -> None:
    """A doubtful exuvia beside a certain male: an adult was present."""
    (skin, visit), male = seen("2026: exuvia; 2026: male")
    rows = [(skin._replace(certainty="uncertain"), visit), male]
    (found,) = statuses(read_rules("criteria-2004"), rows)
    assert (found.status, found.uncertain, found.records) == ("adult present", 1, 1)


def test_a_genus_or_a_pair_of_species_has_no_status() -> None:
    """Status belongs to species."""
    genus = Taxon("Aeshna", rank="genus")
    either = Taxon("Aeshna", rank="genus", one_of=("Aeshna cyanea", "Aeshna mixta"))
    assert (
        statuses(read_rules("criteria-2004"), seen("2026: exuvia", taxon=genus) + seen("2026: exuvia", taxon=either))
        == []
    )


def test_status_belongs_to_a_site() -> None:
    """A skin at one pond says nothing about another; without a name, the 1 km square is the site."""
    (skin, visit), (male, _) = seen("2026: exuvia; 2026: male")
    elsewhere = male._replace(place=PlaceRecord(square="SU43301191", side_m=10))
    found = statuses(read_rules("criteria-2004"), [(skin, visit), (elsewhere, visit)])
    assert {one.site: one.status for one in found} == {"Sallow Farm pond": "confirmed", "SU4311": "adult present"}


@pytest.mark.parametrize("name", rule_set_names())
def test_every_rule_set_names_its_source_and_goes_from_the_strongest_to_the_weakest(name: str) -> None:
    """So that the first rule that holds is the strongest."""
    rules = read_rules(name)
    assert (rules.id, bool(rules.version), bool(rules.title)) == (name, True, True)
    assert rules.source.startswith("practice")
    ranks = [STATUSES.index(rule.status) for rule in rules.rules]
    assert ranks == sorted(ranks)


def test_an_unknown_rule_set_is_a_fault_with_the_nearest_name() -> None:
    """With a remedy."""
    with pytest.raises(Refused) as refused:
        read_rules("criteria-2005")
    assert refused.value.faults[0].code == "unknown-rules"
    assert "criteria-2004" in refused.value.faults[0].hint


@pytest.mark.parametrize(
    "rule",
    [
        {"status": "certain", "name": "x", "any": [{"stage": ["exuvia"]}]},
        {"status": "confirmed", "name": "x"},
        {"status": "confirmed", "name": "x", "any": [{}]},
        {"status": "confirmed", "name": "x", "any": [{"colour": ["blue"]}]},
        {"status": "confirmed", "name": "x", "each": [{"sex": ["male"]}], "within": "life"},
    ],
)
def test_a_rule_that_says_what_no_rule_can_is_refused(rule: dict[str, Any]) -> None:
    """A misspelt condition would hold for everything or nothing."""
    with pytest.raises(ValueError):
        rules_of({"id": "x", "version": "1", "title": "x", "source": "practice", "rule": [rule]})


class TestLeftOut:
    """`docs/breeding.md`: what was left out is told, and why."""

    def test_an_uncertain_name_alone_is_told(self) -> None:
        """Nothing certain is known of it at the site."""
        ((skin, visit),) = seen("2026: exuvia")
        done = breeding(read_rules("criteria-2004"), [(skin._replace(certainty="uncertain"), visit)])
        assert (done.found, [(one.reason, one.records) for one in done.left_out]) == ((), [("uncertain name", 1)])

    def test_a_genus_is_told(self) -> None:
        """Status belongs to species."""
        rows = seen("2026: exuvia", taxon=Taxon("Aeshna", rank="genus"))
        [left] = breeding(read_rules("criteria-2004"), rows).left_out
        assert (left.taxon, left.reason) == ("Aeshna", "not named to species")

    def test_a_vague_date_counts_for_the_years_it_spans(self) -> None:
        """What was seen in the 1980s is evidence from 1980 to 1989."""
        ((skin, visit),) = seen("2026: exuvia")
        (found,) = statuses(read_rules("criteria-2004"), [(skin, visit._replace(date="1980/1989"))])
        assert (found.status, found.first_year, found.last_year) == ("confirmed", 1980, 1989)

    @pytest.mark.parametrize(("since", "until"), [(1985, None), (None, 1985), (1981, 1988)])
    def test_a_vague_date_beyond_the_years_asked_for_is_told(self, since: int | None, until: int | None) -> None:
        """It may have been in another year."""
        ((skin, visit),) = seen("2026: exuvia")
        rows = [(skin, visit._replace(date="1980/1989")), (skin, visit._replace(date=None))]
        done = breeding(read_rules("criteria-2004"), rows, since, until)
        assert done.found == ()
        assert [one.reason for one in done.left_out] == ["date too vague for the years asked for", "without a date"]

    def test_in_one_year_means_in_one_year(self) -> None:
        """A date of several years is in none of them."""
        rows = seen("2025: male 5; 2025: female 5")
        vague = [(one._replace(id=f"x-{one.id}"), visit._replace(date="2024/2026")) for one, visit in rows]
        (found,) = statuses(read_rules("criteria-2004"), [*rows, *vague])
        assert found.status == "adult present"


def test_names_of_places_that_differ_in_capitals_and_blanks_are_one_site() -> None:
    """Told by the spelling met most often."""
    rows = seen("2026: exuvia; 2025: male; 2024: male")
    spelt = ("sallow  farm Pond", "Sallow Farm pond", "Sallow Farm pond")
    found = statuses(
        read_rules("criteria-2004"),
        [
            (one, visit._replace(place=POND._replace(locality=name)))
            for (one, visit), name in zip(rows, spelt, strict=True)
        ],
    )
    assert [(one.site, one.records) for one in found] == [("Sallow Farm pond", 3)]


def test_a_position_without_a_name_belongs_to_its_1_km_square() -> None:
    """As a grid reference does."""
    ((skin, visit),) = seen("2026: exuvia")
    at = visit._replace(place=PlaceRecord(typed="51.0596, -1.3101", square="SU484291"))
    assert [one.site for one in statuses(read_rules("criteria-2004"), [(skin, at)])] == ["SU4829"]
