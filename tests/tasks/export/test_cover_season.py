"""The covering page's summary: its figures are those of the records, and nothing is claimed that nobody said."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest

from ledger.pond import LATER, NOON, begun
from reedmace.checks.county import County, LocalSpecies
from reedmace.checks.query import grounds
from reedmace.keys.model import Key
from reedmace.ledger.store import Ledger
from reedmace.ledger.submissions import Submission, mark
from reedmace.ledger.wanted import Wanted
from reedmace.records import Answer, Naming, Photo, PlaceRecord, Ranked, Sighting, Taxon, Visit
from reedmace.reports.covering import Cover, covering_page
from reedmace.reports.document import html, markdown
from reedmace.tasks.export.cover_season import CoverSaid, cover_season
from reedmace.tasks.records.answer_query import answer_query

TODAY = date(2026, 11, 25)
SAID = CoverSaid("Records of 2026", "Ada Marsh", "Tarn Fenwick", "2026", "2026-11-25")
FEN = PlaceRecord("SU 431 118", "GB", "SU431118", 100, 50.904, -1.388, 76, locality="Harrowmere, Sallow Farm pond")


@dataclass
class Pond:
    """A ledger of two years, its keeper, and what records are judged by."""

    ledger: Ledger
    ada: str
    mint: object
    key: Key
    county: County | None = None

    def walk(self, number: int, day: str, *sightings: Sighting, **more: object) -> None:
        """Write one visit."""
        visit = Visit(f"v{number}", date=day, place=FEN, observers=(self.ada,))._replace(**more)
        made = [one._replace(visit_id=visit.id) for one in sightings]
        self.ledger.record_walk(visit, made, self.ada, NOON, self.mint)

    def cover(self, before: tuple[Submission, ...] = (), year: int = 2026) -> Cover:
        """The summary of one year."""
        judged = grounds(self.key, TODAY, self.county)
        rows = lambda: self.ledger.current_sightings(Wanted(year=year))  # noqa: E731
        return cover_season(self.ledger, judged, rows, SAID, before)


@pytest.fixture
def pond(tmp_path: Path, tarn: Key):
    """A ledger of the made tarn flies."""
    with begun(tmp_path / "pond") as (ledger, ada, mint):
        yield Pond(ledger, ada, mint, tarn)


def seen(key: Key, number: int, at: int = 0, **more: object) -> Sighting:
    """A sighting of one of the key's species."""
    species = key.species[at]
    taxon = Taxon(species.name, rank="species", vernacular=species.english)
    made = Sighting(f"s-{number}", f"l-{number}", "", taxon, count=3, count_kind="exact", evidence="photo")
    return made._replace(**more)


def test_the_figures_are_those_of_the_records(pond: Pond) -> None:
    """Records, species, visits, days, sites, observers; first and last day and the largest count of each name."""
    key = pond.key
    pond.walk(1, "2026-06-14", seen(key, 1), seen(key, 2, 1, count=9))
    pond.walk(2, "2026-07-20", seen(key, 3, count=12), seen(key, 4, count=None, count_kind="present"))
    pond.walk(3, "2026-08", seen(key, 5))
    pond.walk(4, "2025-07-01", seen(key, 6))
    cover = pond.cover()
    assert (cover.records, cover.species, cover.visits, cover.days, cover.sites, cover.observers) == (5, 2, 3, 2, 1, 1)
    assert cover.undated == 1
    lines = {line.scientific_name: line for line in cover.lines}
    first = lines[key.species[0].name]
    assert (first.records, first.most, first.first, first.last) == (4, 12, "2026-06-14", "2026-07-20")
    assert lines[key.species[1].name].most == 9


def test_names_that_are_not_certain_are_marked_and_counted_apart(pond: Pond) -> None:
    """In both forms of the page; a species that is certain elsewhere is counted once."""
    key = pond.key
    doubtful = [
        *(seen(key, 1), seen(key, 2, certainty="uncertain"), seen(key, 3, 1, certainty="uncertain")),
        *(
            seen(key, 4, 1, qualifier="cf."),
            seen(key, 5, 2, certainty="probable"),
            seen(key, 6, 2, certainty="certain"),
        ),
    ]
    pond.walk(1, "2026-06-14", *doubtful)
    cover = pond.cover()
    assert (cover.species, cover.in_doubt) == (2, 1)
    first, second, third = (key.species[at].english for at in range(3))
    wanted = [first, f"{first} ?", f"{second} ?", f"{second} (cf.)", third, f"{third} (probable)"]
    assert sorted(line.shown for line in cover.lines) == sorted(wanted)
    page = covering_page(cover)
    assert "- **Species:** 2, 1 more in doubt\n" in markdown(page)
    assert "2, 1 more in doubt" in html(page)
    assert f">{second} ?<" in html(page)
    assert f">{third} (probable)<" in html(page)
    queried = {one.what for one in cover.queries} | {one.what for one in cover.firsts}
    assert any(what.startswith((f"{first} ?, ", f"{second} ?, ")) for what in queried)
    assert not any(what.startswith(f"{second}, ") for what in queried)


def test_what_is_notable_comes_with_its_evidence_and_the_keys_answers(pond: Pond) -> None:
    """A first, rare by the county file; the photograph by its name only, the answers as they were given."""
    key = pond.key
    rare = key.species[1].name
    pond.county = County("Harrowshire", "2026-03-01", species={rare: LocalSpecies(rare, status="rare", blur_m=1000)})
    naming = Naming(
        *("tarn", "1.0", "d"),
        answers=(Answer("wings", "closed"), Answer("bar", "present~")),
        verdict="settled",
        verdict_name=rare,
        ranking=(Ranked(rare, "male", 0.97), Ranked("Aus bus", "", 0.02)),
    )
    pond.walk(1, "2025-07-01", seen(key, 1))
    pond.walk(2, "2026-07-20", seen(key, 2, 1, naming=naming, photos=(Photo("/home/ada/pond 7.jpg"),), remarks="odd"))
    cover = pond.cover()
    [one] = cover.notable
    assert one.id == "s-2"
    assert any("county file of Harrowshire" in why for why in one.why)
    assert any("is new to these records" in why for why in one.why)
    assert one.evidence == "photo; pond 7.jpg"
    assert one.key == f"tarn 1.0; answers wings = closed, bar = present~; settled {rare}; {rare} 97%, Aus bus 2%"
    assert len(cover.sensitive) == 1
    assert "nothing finer than 1 km" in cover.sensitive[0]
    shown = markdown(covering_page(cover))
    assert "/home/ada" not in shown
    assert "odd" in shown


def test_open_queries_stay_open_until_they_are_answered(pond: Pond) -> None:
    """An answer moves it among the answered, with who gave it; a change of the record opens it again."""
    key = pond.key
    pond.walk(1, "2026-01-02", seen(key, 1))
    assert [one.code for one in pond.cover().queries] == ["out-of-season"]
    judged = grounds(key, TODAY)
    more = {"person": pond.ada, "written_at": LATER, "new_id": pond.mint}
    answer_query(judged, pond.ledger, "s-1", "out-of-season", "two of us saw it", **more)
    cover = pond.cover()
    assert cover.queries == ()
    assert [(one.code, one.answer, one.who) for one in cover.answered] == [
        ("out-of-season", "two of us saw it", "Ada Marsh")
    ]
    found = pond.ledger.standing("s-1")
    assert found is not None
    pond.ledger.amend(found[0]._replace(count=4), "recounted", pond.ada, LATER, pond.mint)
    cover = pond.cover()
    assert ([one.code for one in cover.queries], cover.answered) == (["out-of-season"], ())


def test_what_changed_since_last_time_is_told_with_its_reason(pond: Pond) -> None:
    """New, changed (itself or its visit), withdrawn, as before; over a chain of submissions."""
    key, ledger = pond.key, pond.ledger
    pond.walk(1, "2026-07-01", *(seen(key, number) for number in (1, 2, 3)))
    pond.walk(2, "2026-07-02", seen(key, 4))
    tarn = ledger.people.register("Tarn Fenwick", pond.mint)
    visits = {visit.id: meta.entry_id for visit, meta in ledger.current_visits()}
    sent = {one.id: mark(meta.entry_id, visits[visit.id]) for one, visit, meta in ledger.current_sightings()}
    first = Submission("sub-1", tarn, "", NOON, "season.csv", "csv", "d" * 64, 4, sent=sent)
    ledger.submit(first, pond.ada, pond.mint)
    pond.walk(3, "2026-07-03", seen(key, 5))
    for subject, change in (("s-1", {"count": 5}), ("v2", {"weather": "sunny"})):
        found = ledger.standing(subject)
        assert found is not None
        ledger.amend(found[0]._replace(**change), f"{subject} recounted", pond.ada, LATER, pond.mint)
    ledger.withdraw(["s-2"], "seen through the fence", pond.ada, LATER, pond.mint)
    second = Submission("sub-2", tarn, "", LATER, "more.csv", "csv", "d" * 64, 0, previous="sub-1")
    cover = pond.cover((first, second))
    assert sorted((one.how, one.what.rpartition("; ")[2], one.reason) for one in cover.changes) == [
        ("changed", "s-1", "count: 3, now 5; reason: s-1 recounted"),
        ("changed", "s-4", "weather: nothing, now sunny; reason: v2 recounted"),
        ("new", "s-5", ""),
        ("withdrawn", "s-2", "seen through the fence"),
    ]
    assert cover.unchanged == 1


def test_hostile_words_reach_the_page_as_text(pond: Pond) -> None:
    """Remarks with markup, and a place from right to left."""
    evil = "<img src=x onerror=alert(1)> [a](b) \x1b[31m"
    pond.walk(1, "2025-07-01", seen(pond.key, 1))
    pond.walk(2, "2026-01-20", seen(pond.key, 2, 1, remarks=evil), place=FEN._replace(locality="\u202eשלום"))
    page = covering_page(pond.cover())
    for shown in (html(page), markdown(page)):
        assert "<img" not in shown.replace("\\<img", "")
        assert "\x1b" not in shown
        assert "\u202e" not in shown
        assert "שלום" in shown
