"""Pages about records (visits, histories, breeding, reviews, replies, seasons), compared with golden files."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checks.records_made import LOWLAND, sighting, visit
from ledger.pond import NOON, begun, counting
from reedmace.checks.query import grounds
from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.ledger.replies import Reply
from reedmace.ledger.store import Ledger
from reedmace.ledger.submissions import Receipt, Submission, mark
from reedmace.ledger.wanted import Wanted
from reedmace.records import Visit
from reedmace.records.verification import Verification
from reedmace.reports.breeding import read_rules, statuses
from reedmace.tasks.export.cover_season import CoverSaid, cover_season
from reedmace.tasks.export.tell_season import chart
from reedmace.tasks.naming.review_names import Reviewed
from reedmace.tasks.records.tell_diverged import Choice, Diverged
from reedmace.tasks.records.tell_history import tell_history
from reedmace.tasks.replies.columns import guess_reply
from reedmace.tasks.replies.open_offers import open_offers
from reedmace.tasks.replies.recorder_replies import read_replies
from reedmace.tasks.sheets.rows import look_at
from reedmace.terminal.breeding_page import show_breeding
from reedmace.terminal.diverged_page import show_diverged
from reedmace.terminal.history_page import show_history
from reedmace.terminal.reply_page import show_counts, show_matches, show_offers, show_open
from reedmace.terminal.review_list import show_reviewed
from reedmace.terminal.screen import Screen
from reedmace.terminal.season_chart import show_chart
from reedmace.terminal.season_page import show_season
from reedmace.terminal.visit_page import show_visit, show_visits
from terminal.golden import check
from terminal.made_records import TRICKY, meta, rows

TARN = LOWLAND._replace(locality="Harrowmere, Sallow Farm tarn")
WALK = visit(
    id="v-000000000001",
    place=TARN._replace(kind="centroid", vice_county="11"),
    start="10:30",
    end="12:00",
    observers=("p-1", "p-2"),
    party="leader and party of 12",
    habitat="mere",
    weather="21C sun70 F2",
    method="transect",
    all_damselflies=True,
    all_dragonflies=True,
    exuvia_passes=2,
    permission_noted="asked at the farm",
    remarks=f"warm and still\n{TRICKY}",
    typed="visit 2026-07-12 10:30-12:00 @ SU 431 118 by {person:p-1} all",
)
NAMES = {"p-1": "Ada Marsh", "p-2": TRICKY}


@pytest.fixture
def told(tarn: Key, tmp_path: Path):
    """A ledger in which one record had a life: sent, answered, amended, named anew, its visit corrected."""
    with begun(tmp_path / "pond") as (ledger, ada, mint):
        fenwick = ledger.people.register("Tarn Fenwick", mint)
        at = WALK._replace(observers=(ada,), typed="", remarks="")
        pale = sighting(tarn, "pale", count=12)._replace(
            id="s-000000000001", line_id="l-1", visit_id=at.id, determiner=ada, typed="12 pale m", remarks=TRICKY
        )
        skin = sighting(tarn, "misty", count=2)._replace(
            id="s-000000000002", line_id="l-2", visit_id=at.id, sex=None, stage="exuvia", evidence="exuvia"
        )
        ledger.record_walk(at, [pale, skin], ada, NOON, mint)
        [(_, _, meta), *_] = [row for row in ledger.current_sightings() if row[0].id == pale.id]
        sent = Submission("sub-000000000001", fenwick, "", "2026-10-01T09:00:00Z", "season.csv", "csv", "d" * 64, 2)
        ledger.submit(sent._replace(sent={pale.id: mark(meta.entry_id, meta.visit_entry)}), ada, mint)
        ledger.acknowledge(Receipt(sent.id, 1, 2, "one had no square"), ada, "2026-10-02T09:00:00Z", mint)
        answer = Verification("incorrect", fenwick, "2026-11-02", "wing bases", pale.taxon.scientific_name)
        offers = {"name": "Misty Rushlet", "count": "13"}
        ledger.answered_by_recorder([Reply(pale.id, answer, offers)], ada, "2026-11-03T09:00:00Z", mint)
        counted = pale._replace(count=13)
        ledger.amend(counted, "county recorder's reply: wing bases", fenwick, "2026-11-03T09:00:00Z", mint)
        anew = counted._replace(taxon=skin.taxon, determiner=fenwick)
        ledger.amend(anew, "county recorder's reply: wing bases", fenwick, "2026-11-03T09:01:00Z", mint, "redetermined")
        ledger.amend(at._replace(date="2026-07-11"), "wrong day", ada, "2026-11-04T09:00:00Z", mint)
        yield ledger


def test_one_visit(tarn: Key) -> None:
    """All that is known of it, what was typed, and its sightings; a place and a time of their own."""
    here = [row for row in rows(tarn) if row[2].act != "withdrawn"]
    own = here[1][0]._replace(time="11:40", place=TARN._replace(square="SU433119", locality="outflow ditch"))
    check("visit-page", lambda screen: show_visit(screen, WALK, [here[0], (own, *here[1][1:]), *here[2:]], NAMES.get))


def test_a_visit_of_which_little_is_known() -> None:
    """No day, no sightings: none seen."""
    bare = Visit("v-000000000009", none_seen=True)
    check("visit-page-bare", lambda screen: show_visit(screen, bare, [], NAMES.get))


def test_the_list_of_visits() -> None:
    """One under way, one with none seen, one without a day."""
    several = [
        (WALK, 12),
        (WALK._replace(id="v-000000000002", end=None, remarks=""), 0),
        (Visit("v-000000000003", date="2026-07", none_seen=True, place=TARN._replace(locality=TRICKY)), 0),
        (Visit("v-000000000004"), 1),
    ]
    check("visit-list", lambda screen: show_visits(screen, several, several[1][0]))


def test_the_history_of_a_record(told: Ledger) -> None:
    """Recorded, sent, loaded, answered, corrected, named anew; its visit's day put right."""
    check("history", lambda screen: show_history(screen, "s-000000000001", tell_history(told, "s-000000000001")))


def test_breeding_at_sites(tarn: Key) -> None:
    """Status, the rule that fired, the record behind it; uncertain names left out."""
    rules = read_rules("criteria-2004")
    at = WALK._replace(observers=("p-1",))
    made = [
        sighting(tarn, "pale", count=2)._replace(id="s-1", stage="exuvia", sex=None),
        sighting(tarn, "misty", sex="female", behaviour=("ovipositing",))._replace(id="s-2"),
        sighting(tarn, "sunny", count=3)._replace(id="s-3"),
        sighting(tarn, "sunny", certainty="uncertain")._replace(id="s-4"),
    ]
    beck = at._replace(id="v-2", place=TARN._replace(locality=TRICKY))
    found = statuses(rules, [*((one, at) for one in made), (made[0]._replace(id="s-5"), beck)])
    check("breeding", lambda screen: show_breeding(screen, rules, found))
    check("breeding-none", lambda screen: show_breeding(screen, rules, []))


def test_reviewed_names(tarn: Key) -> None:
    """Another verdict, one that no longer holds the name, and answers that do not read any more."""
    one = rows(tarn)[0][0]
    gone = Fault("unknown-state", f'"{TRICKY}" is no state of wings.', "its states are closed, flat", f"wings={TRICKY}")
    reviewed = [
        Reviewed(one, WALK, "Tarnula pallida", "settled", "Tarnula", "narrowed", True, True, ()),
        Reviewed(one, WALK, "Tarnula pallida", "settled", "outside", "outside", True, False, ()),
        Reviewed(one, WALK._replace(date=None), "", "open", "", "", True, False, (gone,)),
    ]

    def show(screen: Screen) -> None:
        for each in reviewed:
            show_reviewed(screen, each)

    check("review", show)


def test_answers_of_a_county_recorder(told: Ledger, tarn: Key, tmp_path: Path) -> None:
    """What was found by words, what was decided, what would be corrected."""
    file = tmp_path / "answers.csv"
    head = "Species,Date,Grid ref,Verification,Verified by,Comments,Correct name,Correct grid ref,Correct count"
    row = f'Misty Rushlet,11/07/2026,SU41,incorrect,Tarn Fenwick,"{TRICKY}",great,SU 431 119,'
    file.write_text(f"{head}\n{row}\n", encoding="utf-8")
    sheet = look_at(str(file))
    read = read_replies(told, tarn, sheet, guess_reply(sheet.columns), "", date(2026, 11, 25))

    def show(screen: Screen) -> None:
        show_matches(screen, read.answers)
        show_counts(screen, read.answers)
        show_offers(screen, read.answers)

    check("reply", show)


def test_corrections_that_are_still_on_offer(told: Ledger, tarn: Key) -> None:
    """The record, what was said, what is proposed, how to take or decline it; and that there is none."""
    today = date(2026, 12, 1)
    assert open_offers(told, tarn, today) == []  # taken
    ada = told.people.me()
    [fenwick] = told.people.ids_of("Tarn Fenwick")
    assert ada
    of = "s-000000000002"
    said = Verification("plausible", fenwick, "2026-11-20", f"one looks smaller {TRICKY}", "Tarnula nebula")
    told.answered_by_recorder(
        [Reply(of, said, {"name": "pale", "count": "3"})], ada, "2026-11-24T09:00:00Z", counting(700)
    )
    found = open_offers(told, tarn, today)
    check("reply-open", lambda screen: show_open(screen, found))
    check("reply-open-none", lambda screen: show_open(screen, []))


def test_what_two_copies_said_differently() -> None:
    """A site with three heads, one taken back; a record with hostile words, its ids alike at their ends."""
    at = "2026-07-12T10:00:00Z"
    site = Diverged(
        "site",
        "0198c2a1-b3d4-7000-8000-000000000001",
        "Sallow Farm pond",
        (
            Choice("a" * 8 + "-000000000001", "amended", "Ada Marsh", at, "measured", (("place", "SU432118"),), True),
            Choice("b" * 8 + "-000000000002", "amended", "Ben Sallow", at, "asked", (("place", "SU431118"),), False),
            Choice("c" * 8 + "-000000000003", "withdrawn", "Ben Sallow", at, "filled in", (), False),
        ),
    )
    record = Diverged(
        "sighting",
        "s-000000000001",
        f"Pale Rushlet (Tarnula pallida), 2026-07-12, SU431118, {TRICKY}",
        (
            Choice("x1-000000000009", "amended", TRICKY, at, TRICKY, (("remarks", TRICKY), ("count", "12")), True),
            Choice("x2-000000000009", "redetermined", "Ada Marsh", at, "", (("remarks", "nothing"),), False),
        ),
    )
    check("settle-copies", lambda screen: show_diverged(screen, [site, record]))


def test_a_season(told: Ledger, tarn: Key) -> None:
    """Totals, and each name with its first and last day."""
    said = CoverSaid("Records of 2026", "Ada Marsh", "", "2026", "2026-11-25")
    judged = grounds(tarn, date(2026, 11, 25))
    cover = cover_season(told, judged, lambda: told.current_sightings(Wanted(year=2026)), said)
    strips = chart(judged, told.current_sightings(Wanted(year=2026)))
    check("season", lambda screen: show_season(screen, cover, strips))


def test_the_flight_chart_of_a_season(tarn: Key) -> None:
    """Adults, skins and both; within the flight period and outside; a group; a name that is unknown and too long."""
    judged = grounds(tarn, date(2026, 11, 25))
    seen = [
        ("pale", "2026-06-03", "adult"),
        ("pale", "2026-06-12", "exuvia"),
        ("pale", "2026-07-12", "adult"),
        ("pale", "2026-07-14", "exuvia"),
        ("misty", "2026-02-02", None),
        ("pale/misty", "2026-08-21/2026-08-30", "teneral"),
        ("sunny", "2026-07", "adult"),  # too vague
        ("great", "2026-07-01", "larva"),  # no adult
    ]
    chosen = [(sighting(tarn, name, stage=stage), visit(date=day), meta()) for name, day, stage in seen]
    stranger = sighting(tarn, "lone", stage="adult")
    taxon = stranger.taxon._replace(scientific_name="Aus bus", vernacular=f"{TRICKY} of a very long name that goes on")
    chosen.append((stranger._replace(taxon=taxon), visit(date="2026-12-31"), meta()))
    strips = chart(judged, chosen)
    assert [(sum(one.adults), sum(one.skins)) for one in strips] == [(1, 0), (1, 0), (1, 0), (2, 2)]
    check("season-chart", lambda screen: show_chart(screen, strips))
