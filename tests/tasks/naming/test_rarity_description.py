"""The description of a rarity: filled from what was answered, and silent about what was not."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from ledger.pond import NOON, begun
from reedmace.keys.answers import read_traits
from reedmace.keys.model import Key
from reedmace.records import PlaceRecord, Sighting, Taxon, Visit
from reedmace.reports.description import ASKED, Described, description_page
from reedmace.reports.document import html, markdown
from reedmace.scoring.tables import Tables
from reedmace.tasks.naming.keep_naming import as_naming
from reedmace.tasks.naming.name_insect import name_insect
from reedmace.tasks.naming.rarity_description import describe_rarity
from reedmace.tasks.shared.setting import Setting

TODAY = date(2026, 11, 25)
PALE = "Pale Rushlet"


@pytest.fixture
def described(tmp_path: Path, tarn: Key):
    """Describe a record of a species of the key, named by some traits (None: without the key)."""

    def describing(
        name: str, traits: list[str] | None, said: dict[str, str] | None = None, **more: object
    ) -> Described:
        tables = Tables(tarn, "beginner")
        species = next(one for one in tarn.species if one.english == name)
        naming = as_naming(name_insect(tables, Setting(), traits)) if traits else None
        with begun(tmp_path / f"pond-{len(list(tmp_path.iterdir()))}") as (ledger, ada, mint):
            place = PlaceRecord("SU 431 118", "GB", "SU431118", 100, locality="Harrowmere, Sallow Farm pond")
            visit = Visit("v1", date="2026-07-12", place=place, observers=(ada,), weather="21C sun70 F2")
            taxon = Taxon(species.name, rank="species", vernacular=name)
            sighting = Sighting("s-1", "l-1", "v1", taxon, naming=naming, sex="male", determiner=ada)._replace(**more)
            ledger.record_walk(visit, [sighting], ada, NOON, mint)
            return describe_rarity(ledger, tables, sighting, visit, said or {}, TODAY)

    return describing


def test_what_was_seen_is_what_was_answered_and_nothing_else(described, tarn: Key) -> None:
    """Every answer in words, what could not be told apart from it, and no question that was never answered."""
    traits = ["wings=closed", "colour=blue~", "bar=?"]
    found = described(PALE, traits)
    answers = read_traits(tarn, traits)
    titles = [tarn.characters[one.character].title for one in answers]
    assert [title for title, _ in found.seen] == titles[:2]
    assert "(unsure)" in dict(found.seen)[titles[1]]
    assert found.unsure == (titles[2],)
    told = {title for title, _ in found.seen}
    for one in found.rivals:
        for text in (*one.for_it, *one.against):
            assert text.partition(" (")[0] in told
        assert not set(one.open_marks) & told


def test_a_look_alike_is_ruled_out_only_by_answers(described) -> None:
    """More answers rule out more; without any, each stays a question beside the mark that would tell."""
    none = described(PALE, None)
    assert none.seen == ()
    assert none.worked_out == ""
    assert none.rivals
    assert not any(one.done or one.words or one.for_it for one in none.rivals)
    assert all(one.mark for one in none.rivals)
    page = markdown(description_page(none))
    assert "No answers are kept with this record." in page
    for one in none.rivals:
        assert f"How was {one.name} ruled out?" in page
    few = described(PALE, ["wings=closed"])
    assert not any(one.done for one in few.rivals)


def test_the_verdict_and_the_description_agree(described, tarn: Key) -> None:
    """Where the key settled on the name, every look-alike that it separated is told apart here, and no other."""
    tables = Tables(tarn, "beginner")
    traits = ["wings=closed", "colour=blue", "bar=present"]
    best = name_insect(tables, Setting(), traits).assessment
    species = tarn.species[best.candidates[0].species]
    found = described(species.english, traits)
    separated = {one.name: one.separated for one in best.verdict.rivals}
    assert {one.name.rpartition("(")[2].rstrip(")"): one.done for one in found.rivals} == separated


def test_a_name_that_the_answers_speak_against_is_not_defended(described, tarn: Key) -> None:
    """The answers are told as they weigh, for the look-alike too."""
    traits = ["wings=closed", "colour=blue", "bar=present", "collar=straight"]
    best = name_insect(Tables(tarn, "beginner"), Setting(), traits).assessment.candidates[0].species
    rival = next(one for one in tarn.species if any(other.species == best for other in one.lookalikes))
    found = described(rival.english, traits)
    [against] = [one for one in found.rivals if tarn.species[best].name in one.name]
    assert not against.done
    assert "fit the look-alike" in against.words
    assert against.against


def test_answers_to_another_key_are_told_as_they_were_given(described, tarn: Key) -> None:
    """They are shown raw, and nothing is weighed by a key they were not given to."""
    found = described(PALE, ["wings=closed"])
    assert found.worked_out
    naming = as_naming(name_insect(Tables(tarn, "beginner"), Setting(), ["wings=closed"]))._replace(key_id="other")
    found = described(PALE, None, naming=naming)
    assert found.seen == (("wings-at-rest", "closed"),)
    assert (found.worked_out, [one.done for one in found.rivals if one.done]) == ("", [])


def test_what_the_observer_says_stands_in_place_of_the_question(described) -> None:
    """Answered questions as words, the others with room to write; hostile words as text."""
    found = described(PALE, None, {"optics": "8x42 <b>glass</b>", "views": " "})
    shown = html(description_page(found))
    assert "8x42 &lt;b&gt;glass&lt;/b&gt;" in shown
    for field, question in ASKED.items():
        assert (f"<strong>{question}</strong>" in shown) == (field != "optics")


def test_a_species_that_the_key_does_not_have_gets_the_blank_form(described) -> None:
    """No look-alikes are made up."""
    found = described(PALE, None, taxon=Taxon("Novus alienus", rank="species"))
    assert (found.rivals, found.not_seen, found.needs) == ((), (), ())
    assert "Which species could it be confused with" in markdown(description_page(found))
