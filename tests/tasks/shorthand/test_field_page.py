"""A page of field notes: visits, spots within them, pairs among lines, and every fault at its place."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path

import pytest

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, find_name
from reedmace.ledger.store import Ledger, open_ledger
from reedmace.records import PlaceRecord, Sighting, Site, Visit, with_names
from reedmace.tasks.shared.photographs import photo_in
from reedmace.tasks.shorthand import line_names
from reedmace.tasks.shorthand.field_page import read_page
from reedmace.tasks.shorthand.line_words import show_line
from reedmace.tasks.shorthand.page_said import PageVisit, Reading
from reedmace.tasks.shorthand.visit_said import VisitSaid
from reedmace.tasks.walks.log_walk import Writer, log_visit
from tarn import TODAY

PAGE = """\
visit 2026-07-12 10:30-12:00 @ SU 431 118 "Harrowmere, Sallow Farm pond" 21C sun70 F2 all with Ben Sallow
12 common blue m
3 cop common blue
1 emperor f ovip
# wind got up [after] eleven :bee:
banded dem f ?            # only a glimpse
@ SU 4330 1191 "outflow ditch" 11:40
2 banded dem m
11:55
1 beaut m 11:58
@ "the sluice"
4 large red by Cat Rush
@
1 brown hawker
"""
SITE = Site("s-1", "Sallow Farm", (), PlaceRecord("SU 431 118", "GB", "SU431118", 100, kind="centroid"), "pond")


def pages(key: Key, text: str) -> list[PageVisit]:
    """The visits of a page without a fault."""
    visits, faults = read_page(text, Reading(key, "notes.txt", TODAY, sites=[SITE]))
    assert faults == []
    return visits


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """A new ledger."""
    with open_ledger(tmp_path / "walk.ledger") as opened:
        yield opened


@pytest.fixture
def write(ledger: Ledger, key: Key, tmp_path: Path) -> Callable[[str], tuple[Visit, list[Sighting]]]:
    """Write a page of one visit for Ada Marsh."""
    numbers = count(1)

    def writing(text: str) -> tuple[Visit, list[Sighting]]:
        def new_id() -> str:
            return f"id-{next(numbers):03}"

        (page,) = pages(key, text)
        person = ledger.people.register("Ada Marsh", new_id)
        writer = Writer(person, "2026-07-12T18:00:00Z", new_id, photo_in(tmp_path))
        said = page.said or VisitSaid()
        return log_visit(ledger, key, page, said._replace(notes=(*said.notes, *page.notes)), writer)

    return writing


def test_a_page_becomes_a_visit_with_its_sightings(ledger: Ledger, write) -> None:
    """And the ledger gives back the very values: visit, spots, times, people, remarks, all verbatim beside."""
    visit, sightings = write(PAGE)
    kept = {sighting for sighting, _, _ in ledger.current_sightings()}
    assert kept == set(sightings)
    assert (visit.date, visit.start, visit.end, visit.temperature_c, visit.sun_percent) == (
        *("2026-07-12", "10:30", "12:00"),
        *(21, 70),
    )
    assert (visit.wind_force, visit.wind_force_to, visit.weather) == (2, None, "21C, sun70, F2")
    assert visit.all_damselflies
    assert visit.all_dragonflies
    assert visit.remarks == "wind got up [after] eleven :bee:"
    assert [ledger.people.name_of(person) for person in visit.observers] == ["Ada Marsh", "Ben Sallow"]
    by_name = {(one.taxon.vernacular, one.sex): one for one in sightings}
    ditch = by_name["Banded Demoiselle", "male"]
    assert ditch.place is not None
    assert (ditch.place.square, ditch.place.locality, ditch.time) == ("SU43301191", "outflow ditch", "11:40")
    late = by_name["Beautiful Demoiselle", "male"]
    assert (late.place, late.time) == (ditch.place, "11:58")
    sluice = by_name["Large Red Damselfly", None]
    assert sluice.place == visit.place._replace(locality="the sluice")
    assert [ledger.people.name_of(person) for person in sluice.observers or ()] == ["Cat Rush"]
    back = by_name["Brown Hawker", None]
    assert (back.place, back.time, back.observers) == (None, None, None)


def test_what_was_typed_is_kept_but_names_of_people_stand_in_the_register_only(ledger: Ledger, write) -> None:
    """A name in an entry could never be forgotten; with the register the line reads as it was typed."""
    visit, sightings = write(PAGE)
    assert "Ben Sallow" not in visit.typed
    assert with_names(visit.typed, ledger.people.name_of) == PAGE.splitlines()[0]
    typed = [with_names(one.typed, ledger.people.name_of) for one in sightings]
    wanted = [line for line in PAGE.splitlines()[1:] if line[0] not in "#@" and line != "11:55"]
    assert typed == wanted


def test_a_time_on_a_line_of_its_own_is_the_time_of_what_follows(key: Key) -> None:
    """At the visit's own place, and at a spot."""
    (page,) = pages(key, "visit @ SU 431 118\n1 emperor\n@ SU 433 119\n2 emperor\n11:55\n3 emperor\n")
    spots = [seen.spot for seen in page.lines]
    assert spots[0] is None
    assert [spot.start for spot in spots[1:] if spot] == [None, "11:55"]
    assert spots[1] is not None
    assert spots[2] is not None
    assert spots[1].place == spots[2].place


@pytest.mark.parametrize("said", ["# butterflies: 3 brimstone", '1 emperor "chased a butterfly"', "Leps: none"])
def test_a_name_that_a_butterfly_has_is_asked_about_where_the_page_speaks_of_them(key: Key, said: str) -> None:
    """Kept as a remark, the heading of another list would leave its lines among the damselflies."""
    page = f"3 common blue\n4 common blue dam m\n5 Common Blue Damselfly\n{said}"
    _, faults = read_page(page, Reading(key, "notes.txt", TODAY))
    assert (faults[0].code, faults[0].hint.partition(";")[0]) == (
        "ambiguous-name",
        "write  Common Blue Damselfly  where that is meant",
    )
    assert [one.where.line for one in faults if one.where and one.code == "ambiguous-name"] == [1]
    [visit] = pages(key, "3 common blue\n# no mention of others")
    assert len(visit.lines) == 1


@pytest.mark.parametrize("mark", ['"', "ditto", "do.", "Do", "〃", '- " -'.replace(" ", ""), "“"])
def test_a_mark_for_what_stands_above_is_told_as_one(key: Key, mark: str) -> None:
    """It is neither a quote that does not end nor a name that nothing is called."""
    _, faults = read_page(f"2m azure dam\n{mark} 3 f\n", Reading(key, "notes.txt", TODAY))
    assert [(one.code, one.where and one.where.line) for one in faults] == [("same-as-above", 2)]


@pytest.mark.parametrize("begins", ["visit,", "Visit:", "visit;", "visit.", "visit, "])
def test_a_visit_begins_with_its_word_whatever_stops_behind_it(key: Key, begins: str) -> None:
    """As people write a list."""
    (visit,) = pages(key, f"{begins} 12/7/2026, @ SU 431 118\n3 emperor\n")
    assert visit.said is not None
    assert visit.said.day is not None


def test_two_numbers_by_a_name_are_no_day_of_a_visit(key: Key) -> None:
    """`12/6` may be males and females; a visit of the azure damselfly is none."""
    _, [fault] = read_page("azure dam 12/6\n", Reading(key, "notes.txt", TODAY))
    assert (fault.code, "12m 6f" in fault.hint) == ("two-counts", True)
    _, [fault] = read_page("Gallows Pond 12/6\n", Reading(key, "notes.txt", TODAY))
    assert fault.code == "visit-without-word"


def test_a_remark_above_the_first_line_of_a_visit_is_that_visits(key: Key) -> None:
    """A title is no visit of its own, which would want a place."""
    first, other = pages(key, "# Walk 4\n\nvisit 2026-07-12 @ SU 431 118\n2 emp\nvisit 2026-07-11 @ SU 431 118\n3 emp")
    assert (first.notes, len(first.lines), first.said is not None) == (("Walk 4",), 1, True)
    assert (other.notes, len(other.lines)) == ((), 1)
    [alone] = pages(key, "# nothing but this")
    assert (alone.said, alone.notes) == (None, ("nothing but this",))


def test_several_visits_stand_on_one_page(key: Key) -> None:
    """A spot belongs to its visit only."""
    text = (
        "visit 2026-07-11 @ SU 431 118\n1 emperor\n@ SU 433 119\n2 emperor\nvisit 2026-07-12 @ sallow farm\n3 emperor\n"
    )
    first, second = pages(key, text)
    assert [len(first.lines), len(second.lines)] == [2, 1]
    assert second.lines[0].spot is None
    assert second.said is not None
    assert second.said.site == SITE


def test_a_site_brings_its_place_and_habitat(ledger: Ledger, write) -> None:
    """A visit to a registered site needs no reference; the kind says that it is the site's centre."""
    visit, _ = write("visit 2026-07-12 @ sallow farm\n1 emperor\n")
    assert (visit.place.site, visit.place.square, visit.place.kind) == ("s-1", "SU431118", "centroid")
    assert (visit.place.locality, visit.habitat) == ("Sallow Farm", "pond")


def test_pairs_on_a_line_of_their_own_can_be_among_those_on_others(key: Key) -> None:
    """`incl` takes them out of the males and females of the same insect at the same spot, and of nothing else."""
    text = "12 common blue m\n5 common blue f\n3 cop common blue incl\n4 azure dam m\n@ SU 433 119\n7 common blue m\n"
    (page,) = pages(key, text)
    counts = [[(one.sex, one.count, one.in_pairs) for one in seen.line.tallies] for seen in page.lines]
    assert counts == [
        [("male", 9, 3)],
        [("female", 2, 3)],
        [(None, 6, None)],
        [("male", 4, None)],
        [("male", 7, None)],
    ]


def test_pairs_are_among_those_of_their_own_stage_and_no_other_number_is_lost(key: Key) -> None:
    """Cast skins and tenerals on the line of the males stay as they were."""
    (page,) = pages(key, "12 m common blue, 2 exuviae, 1 ten\n3 cop common blue incl\n")
    counted = [(tally.count, tally.sex, tally.stage) for tally in page.lines[0].line.tallies]
    assert counted == [(9, "male", None), (2, None, "exuvia"), (1, None, "teneral")]


def test_a_line_of_which_only_pairs_are_left_keeps_its_words(key: Key) -> None:
    """Nothing typed is lost."""
    (page,) = pages(key, "3 common blue m\n3 cop common blue incl\n")
    assert [seen.line.typed for seen in page.lines] == ["3 cop common blue incl"]
    assert page.notes == ("3 common blue m (all of them in pairs)",)


@pytest.mark.parametrize(
    ("total", "counted"),
    [
        ("total 17 common blue", ["12 male", "5 female"]),
        ("common blue 17 in all", ["12 male", "5 female"]),
        ("common blue, 12 m in all", ["12 male", "5 female"]),
        ("17 in all emperor", ["12 male", "5 female", "17"]),
    ],
)
def test_a_total_of_other_lines_is_no_further_sighting(key: Key, total: str, counted: list[str]) -> None:
    """Its words stay with the visit, like all that was typed; that of another insect is its number."""
    (page,) = pages(key, f"12 m common blue\n5 f common blue\n3 ex common blue\n{total}\n")
    shown = [show_line(seen.line) for seen in page.lines]
    assert shown == [*counted[:2], "3, exuvia", *counted[2:]]
    assert page.notes == ((total,) if len(counted) == 2 else ())


@pytest.mark.parametrize(
    ("text", "code", "line", "column"),
    [
        ("12 m common blue\n5 f common blue\ntotal 18 common blue\n", "total-unclear", 3, 1),
        ("visit @ SU 431 118\n12 common blue m\n\n3 zebra\n", "unknown-name", 4, 3),
        ("visit 31/6/2026 @ SU 431 118\n", "impossible-date", 1, 7),
        ("1 emperor\n;\n", "line-empty", 2, 1),
        ("1 emperor\n@ SU 433 1190\n", "grid-unequal-groups", 2, 3),
        ("1 emperor\n@ SU 433 119 21C\n", "spot-says-too-much", 2, 1),
        ("3 cop common blue incl\n", "nothing-to-include-in", 1, 1),
        ("2 common blue m\n3 cop common blue incl\n", "pairs-more-than-counted", 2, 1),
        ("visit @ SU 431 118 none seen\n3 emperor\n", "none-seen-but-seen", 2, 1),
        ("none seen\n3 emperor\n", "none-seen-but-seen", 2, 1),
    ],
)
def test_a_fault_of_a_page_has_its_line_and_column(key: Key, text: str, code: str, line: int, column: int) -> None:
    """And the user's own line."""
    _, faults = read_page(text, Reading(key, "notes.txt", TODAY))
    assert [fault.code for fault in faults] == [code]
    where = faults[0].where
    assert where is not None
    assert (where.file, where.line, where.column) == ("notes.txt", line, column)
    assert where.excerpt == text.splitlines()[line - 1]


def test_all_faults_of_a_page_come_at_once_in_their_order(key: Key) -> None:
    """One bad line never hides the others."""
    text = "visit sun170 quagga\n0 emperor\n3 zebra\n2 emperor\n"
    _, faults = read_page(text, Reading(key, "notes.txt", TODAY))
    assert [fault.code for fault in faults] == ["sun-over-100", "visit-word-not-read", "zero-count", "unknown-name"]


def test_a_line_break_of_another_kind_stays_in_a_remark(key: Key) -> None:
    """Only line breaks end a line: a form feed or a Unicode separator may have been pasted into a remark."""
    (page,) = pages(key, "1 emperor # one\u2028two\x0cthree\r\n2 emperor\r")
    assert [seen.line.said.remarks for seen in page.lines] == ["one\u2028two\x0cthree", ""]


def test_none_seen_is_a_visit_of_its_own(ledger: Ledger, write) -> None:
    """A result like any other."""
    visit, sightings = write("visit 2026-07-12 @ SU 431 118\nnone seen\n")
    assert visit.none_seen
    assert sightings == []
    assert [one for one, _ in ledger.current_visits()] == [visit]


def test_a_photograph_has_the_checksum_of_its_file(write, tmp_path: Path) -> None:
    """One that is not there keeps its name, for the card may be read later."""
    (tmp_path / "IMG_1.jpg").write_bytes(b"a dragonfly")
    _, (there, gone) = write("visit 2026-07-12 @ SU 431 118\n1 emperor photo IMG_1.jpg\n2 azure dam IMG_2.jpg\n")
    (photo,) = there.photos
    assert photo.path == "IMG_1.jpg"
    # sha256sum of the eleven bytes "a dragonfly"
    assert photo.sha256 == "0dbc7679f24c003384e4da1e4c4f2302d424143fcc0beef9d49a67e32f72463b"
    assert there.evidence == "photo"
    assert [(one.path, one.sha256) for one in gone.photos] == [("IMG_2.jpg", "")]


def test_a_time_before_a_place_and_one_behind_the_sign_alone_are_spots(key: Key) -> None:
    text = "1 emperor\n11:40 @ SU 433 119\n2 emperor\n@ 12:00\n3 emperor\n2.30 pm\n4 emperor\n"
    (page,) = pages(key, text)
    spots = [seen.spot and (seen.spot.start, seen.spot.place and seen.spot.place.square) for seen in page.lines]
    assert spots == [None, ("11:40", "SU433119"), ("12:00", "SU433119"), ("14:30", "SU433119")]


@pytest.mark.parametrize("begins", ["Sunday 12 July 2026", "12/7/2026 10:30 @ SU 431 118 sunny", "12th July 2026."])
def test_a_line_that_says_a_day_and_reads_as_a_visits_begins_one(key: Key, begins: str) -> None:
    """The word may be left out where nothing else could be meant."""
    page, other = pages(key, f"{begins}\n1 emperor\nvisit 2026-07-11 @ SU 431 118\n2 emperor\n")
    assert page.said is not None
    assert page.said.day is not None
    assert (page.said.day.iso, len(page.lines), len(other.lines)) == ("2026-07-12", 1, 1)


@pytest.mark.parametrize(
    ("line", "code", "hint"),
    [
        ("12/7/2026 Sallow Water", "visit-without-word", "visit 12/7/2026 Sallow Water"),
        ("Sunday 12 July", "visit-without-word", "visit Sunday 12 July"),
        ("12 July 2025, Harrowmere SU431118, 21C", "visit-without-word", 'write  @ SU431118 "Harrowmere"'),
        ("Sunny, 21C", "visit-without-word", "on the line that begins with  visit"),
        ("Leader Ada Marsh, with 12 adults and 4 children", "visit-without-word", "on the line that begins with"),
        ("Sallow Farm:", "place-without-sign", '@ "Sallow Farm"'),
        ("Harrowmere, Top pond SU433119", "place-without-sign", '@ SU433119 "Harrowmere, Top pond"'),
        ("Total: 23", "sum-of-page", "# Total: 23"),
        ("9 species", "sum-of-page", "# 9 species"),
        ("Nothing else.", "all-or-end", "write  all"),
        ("emperor 2 on 12/7/2026", "word-not-read", "as a remark"),
    ],
)
def test_a_line_of_nothing_seen_is_told_what_to_do_with_it(key: Key, line: str, code: str, hint: str) -> None:
    text = f"visit 2026-07-12 @ SU 431 118\n1 emperor\n{line}\n"
    _, faults = read_page(text, Reading(key, "notes.txt", TODAY, sites=[SITE]))
    assert [(fault.code, fault.where and fault.where.line) for fault in faults] == [(code, 3)]
    assert hint in faults[0].hint


FORM = """\
Date: 12 July 2025
Site: Moss End (SU 431 118)
Time: 10:30 to 12:15
Weather: warm, clouding over later
Wind: 2-3 SW
Recorder: Ada Marsh
Others: Ben Sallow and Cat Rush
Party: 8
Habitat: pond
Method: walked round the edge
Notes: path flooded
12 common blue
"""


def test_a_visit_may_be_written_as_a_form(key: Key, write) -> None:
    """Each line says one thing; the names of people leave the words as typed, as on one line."""
    [page] = pages(key, FORM)
    assert page.said is not None
    visit, [_] = write(FORM)
    assert (visit.date, visit.start, visit.end) == ("2025-07-12", "10:30", "12:15")
    assert (visit.place.square, visit.place.locality, visit.habitat) == ("SU431118", "Moss End", "pond")
    assert visit.weather == "warm, clouding over later, Wind 2-3 SW".replace("Wind", "wind")
    assert (visit.wind_force, visit.wind_force_to, visit.party_size) == (2, 3, 8)
    assert (visit.method, visit.remarks, len(visit.observers)) == ("walked round the edge", "path flooded", 3)
    named = {"1": "Ada Marsh", "2": "Ben Sallow", "3": "Cat Rush"}
    assert not any(name in visit.typed for name in named.values())
    assert visit.typed.startswith("Date: 12 July 2025\nSite: Moss End (SU 431 118)\n")


def test_nought_on_a_form_is_said(write) -> None:
    """A sun of 0 % and 0 °C are figures as all others."""
    visit, _ = write("Date: 12 July 2025\nSite: Moss End SU431118\nTemp: 0C\nSun: 0%\nWind: 0\n1 emperor\n")
    assert (visit.temperature_c, visit.sun_percent, visit.wind_force) == (0, 0, 0)


@pytest.mark.parametrize(
    ("label", "seen"),
    [("Others", "3 brown hawker"), ("Others", "Brown Hawker"), ("Sun", "12 emperor"), ("Conditions", "hot, 2 emperor")],
)
def test_insects_behind_a_label_of_people_or_weather_are_neither(key: Key, label: str, seen: str) -> None:
    """They are read as something seen, or told; a first name that is a part of an insect's stays a person's."""
    reading = Reading(key, "notes.txt", TODAY, sites=[SITE])
    visits, faults = read_page(f"visit 12 July 2025 @ SU431118\n{label}: {seen}\n", reading)
    assert faults or [page.lines for page in visits if page.lines]
    [page], faults = read_page("visit 12 July 2025 @ SU431118\nRecorder: Scarlet\n", reading)
    assert not faults
    assert page.said is not None
    assert [one.text for one in page.said.observers] == ["Scarlet"]


def test_a_line_of_many_words_is_told_soon(key: Key, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is left out to find a name is not every part of a whole paragraph: of 80 words there are 3,000 parts."""
    asked: list[str] = []

    def counting(key: Key, typed: str) -> FoundName | Fault:
        asked.append(typed)
        return find_name(key, typed)

    monkeypatch.setattr(line_names, "find_name", counting)
    assert read_page(f"3 emperor {'zzz ' * 80}\n", Reading(key, "notes.txt", TODAY))[1]
    assert 0 < len(asked) < 300


@pytest.mark.parametrize(
    ("page", "code", "line", "column"),
    [
        ("Date: 12 July 2025\nSite: Moss End\nGrid ref: SU 431\n", "grid-odd-digits", 3, 11),
        ("Date: 12 July 2025\n  Time: half ten\n", "visit-word-not-read", 2, 9),
        ("Date: 12 July 2025\nRecorder: 2\n", "person-not-read", 2, 1),
        ("visit 12 July 2025 10:30 @ SU431118\nTime: 11:30\n", "said-twice", 2, 1),
        ("visit 12 July 2025 @ SU431118\nOthers: Brown Hawker, Ben Sallow\n", "word-not-read", 2, 23),
        ("visit 12 July 2025 @ SU431118\nWater: clear\n", "unknown-name", 2, 1),
        ("visit 12 July 2025 @ SU431118\n3 emperor\nWeather: rain at last\n", "visit-without-word", 3, 1),
    ],
)
def test_a_fault_of_a_form_is_told_at_its_place(key: Key, page: str, code: str, line: int, column: int) -> None:
    _, faults = read_page(page, Reading(key, "notes.txt", TODAY, sites=[SITE]))
    where = faults[0].where
    assert (faults[0].code, where and (where.line, where.column)) == (code, (line, column))


def test_a_form_below_another_date_is_another_visit(key: Key) -> None:
    two = pages(key, f"{FORM}Date: 11 July 2025\nPlace: Sallow Farm\n2 emperor\n")
    assert [(one.said and one.said.day and one.said.day.iso, len(one.lines)) for one in two] == [
        ("2025-07-12", 1),
        ("2025-07-11", 1),
    ]
    assert two[1].said is not None
    assert two[1].said.site == SITE or two[1].said.locality == "Sallow Farm"


def test_the_heading_of_a_notebook_page_begins_its_visit(key: Key) -> None:
    """The name of the water, the day and the reference in the order in which people write them, without any sign."""
    text = "Harrow pond walk, Sun 28 June 2026, SU 433 119 Harrow pond, 10.15 - 12.00\nemperor 1 m\nazure dam 3\n"
    [visit] = pages(key, text)
    said = visit.said
    assert said.day is not None
    assert said.place is not None
    assert (said.day.iso, said.place.square, said.locality) == ("2026-06-28", "SU433119", "Harrow pond")
