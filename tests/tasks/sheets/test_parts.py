"""Columns that count a part of the insects each, columns of ticks, and columns of the weather."""

from __future__ import annotations

from pathlib import Path

import pytest

from reedmace.tasks.sheets.weather import read_weather
from tasks.importing import Import, faulty, kept

HEAD = "Date,Grid Ref,Species"
ROW = "\n12/07/2026,SU 431 118,Pale Rushlet"


def parts(tmp_path: Path) -> list[tuple[int | None, str]]:
    """How many of what."""
    found = []
    for one, _ in kept(tmp_path):
        pairs = f"{one.pairs} pairs" if one.pairs else ""
        said = [one.sex, one.stage, *one.behaviour, pairs]
        found.append((one.count, " ".join(filter(None, said))))
    return sorted(found, key=lambda one: one[1])


def test_every_column_that_counts_a_part_is_a_sighting_of_its_own(bring: Import, tmp_path: Path) -> None:
    """By the headings that people give them; a pair is two insects, a 0 is nothing beside the others."""
    sheet = f"{HEAD},Males,Females,Pairs,Ovip,Tenerals,No. of exuviae,In cop,Imm{ROW},1,2,,1,0,~3,,{ROW},,,2,,4,,1,5"
    done = bring(sheet)
    assert (done.sightings, done.faulty) == (8, 0)
    assert parts(tmp_path) == [
        (2, "copulating 1 pairs"),
        (3, "exuvia"),
        (2, "female"),
        (5, "immature"),
        (1, "male"),
        (1, "ovipositing"),
        (4, "tandem 2 pairs"),
        (4, "teneral"),
    ]
    skins = next(one for one, _ in kept(tmp_path) if one.stage == "exuvia")
    assert (skins.count_kind, skins.count_typed, skins.typed) == ("estimate", "~3", "~3 exuviae Pale Rushlet")
    assert bring(sheet).sightings == 0


def test_a_heading_nobody_could_guess_is_mapped_to_a_part(bring: Import, tmp_path: Path) -> None:
    """By the name of the part, or another word for it."""
    done = bring(f"{HEAD},A,B{ROW},3,2", typed=("A=exuvia", "B=larvae"))
    assert (done.faulty, parts(tmp_path)) == (0, [(3, "exuvia"), (2, "larva")])


def test_a_total_that_agrees_is_no_further_sighting(bring: Import, tmp_path: Path) -> None:
    """It is of the grown ones, and what else it says is true of each of these."""
    bring(f"{HEAD},Total,Males,Pairs,Exuviae{ROW},5 ?,1,2,3{ROW},5?,1,2,3{ROW},5,1,2,3")
    assert sorted(one.count or 0 for one, _ in kept(tmp_path)) == [1, 1, 1, 3, 3, 3, 4, 4, 4]
    assert sum(one.certainty == "uncertain" for one, _ in kept(tmp_path)) == 2
    assert sum(one.remarks == "5?" for one, _ in kept(tmp_path)) == 2


@pytest.mark.parametrize(
    ("columns", "cells", "found"),
    [
        ("Count,Exuviae", "4,4", [(4, ""), (4, "exuvia")]),
        ("Count,Exuviae", "2,5", [(2, ""), (5, "exuvia")]),
        ("Count,Exuviae", "6,1", [(6, ""), (1, "exuvia")]),
        ("Count,Exuviae", "~6,x", [(6, ""), (None, "exuvia")]),
        ("Count,Exuviae", "0,5", [(5, "exuvia")]),
        ("Count,Exuviae", ",5", [(5, "exuvia")]),
        ("Count,Exuviae", "2m 1f,5", [(2, "male"), (1, "female"), (5, "exuvia")]),
        ("Total,Tenerals,Larvae", "9,4,5", [(9, ""), (5, "larva"), (4, "teneral")]),
        ("Count,Males,Exuviae", "9,3,2", [(3, "male"), (2, "exuvia"), (6, "")]),
        ("Count,Adults,Exuviae", "3,3,4", [(3, "adult"), (4, "exuvia")]),
    ],
)
def test_a_count_beside_skins_and_young_is_of_the_others(
    bring: Import, tmp_path: Path, columns: str, cells: str, found: list[tuple[int | None, str]]
) -> None:
    """Whatever the numbers come to: nobody counts skins among the insects."""
    sheet = f"{HEAD},{columns}{ROW},{cells}"
    assert bring(sheet).faulty == 0
    assert sorted(parts(tmp_path), key=str) == sorted(found, key=str)
    assert bring(sheet).sightings == 0


def test_a_total_that_comes_out_with_the_skins_only_is_asked_about(bring: Import, tmp_path: Path) -> None:
    """It may hold them, or others that are just as many."""
    [row] = faulty(bring(f"{HEAD},Total,Males,Females,Exuviae{ROW},10,3,2,5"))
    assert (row["fault"], kept(tmp_path)) == ("total-unclear", [])
    assert "here 5; but with the young and the skins it is just 10" in row["why"]
    assert '--map "Heading=adults"' in row["what to do"]
    bring(f"{HEAD},Total,Males,Females,Exuviae{ROW},10,3,2,5", "adults.csv", typed=("Total=adults",))
    assert parts(tmp_path) == [(5, "adult"), (5, "exuvia"), (2, "female"), (3, "male")]


def test_the_line_of_a_skin_does_not_hold_the_count_of_others(bring: Import, tmp_path: Path) -> None:
    """As typed: the cell of its own column, and the name."""
    bring(f"{HEAD},Count,Exuviae{ROW},2,5")
    assert sorted(one.typed for one, _ in kept(tmp_path)) == ["2 Pale Rushlet", "5 exuviae Pale Rushlet"]


def test_skins_counted_in_two_columns_are_a_fault(bring: Import) -> None:
    """For nobody knows whether they are the same."""
    [row] = faulty(bring(f"{HEAD},Count,Exuviae{ROW},3 exuviae,3"))
    assert row["fault"] == "cells-differ"


def test_what_a_row_tells_was_done_by_its_grown_ones(bring: Import, tmp_path: Path) -> None:
    """Not by skins or larvae; words of the user's own may be about these where there is nothing else."""
    head = "Date,Grid Ref,Species,Adults,Exuviae,Larvae,Breeding behaviour"
    bring(f"{head}{ROW},3,5,1,ovipositing{ROW},,2,,on a rush{ROW},,,4,feeding")
    assert parts(tmp_path) == [
        (3, "adult ovipositing"),
        (5, "exuvia"),
        (2, "exuvia on a rush"),
        (1, "larva"),
        (4, "larva feeding"),
    ]


@pytest.mark.parametrize(
    ("columns", "cells"),
    [
        ("Exuviae,Behaviour", "5,ovipositing"),
        ("Larvae,Behaviour", "5,mating"),
        ("Count,Stage,Behaviour", "5,exuvia,patrolling"),
        ("Count", "5 exuviae ovi"),
    ],
)
def test_what_skins_or_larvae_alone_cannot_have_done_is_a_fault(
    bring: Import, tmp_path: Path, columns: str, cells: str
) -> None:
    """Whether a column says so, or the count."""
    [row] = faulty(bring(f"{HEAD},{columns}{ROW},{cells}"))
    assert row["fault"] in ("cells-differ", "count-not-read")
    assert kept(tmp_path) == []


@pytest.mark.parametrize(
    ("columns", "cells", "said"),
    [
        ("Total,Males,Females", "4,3,2", 'all of them says "4", and the columns beside it come to 5'),
        ("Total,Males,Exuviae", "2,3,2", 'all of them says "2", and the columns beside it come to 3'),
        ("Total,Males,Pairs", "4,3,2", "come to 7, a pair being two"),
        ("Total,Males,Females", "0,3,2", 'says "0"'),
        ("Count,Males,Ovip", "9,3,x", "are not all numbers"),
        ("Adults,Males,Exuviae", "2,3,2", 'adults says "2", and the columns beside it come to 3'),
        ("Adults,Cop,Ovip", "3,1,2", 'adults says "3", and the columns beside it come to 4'),
    ],
)
def test_a_total_that_disagrees_is_a_fault(bring: Import, tmp_path: Path, columns: str, cells: str, said: str) -> None:
    """It cannot have less than its parts; nothing of the row comes in."""
    [row] = faulty(bring(f"{HEAD},{columns}{ROW},{cells}"))
    assert (row["fault"], kept(tmp_path)) == ("total-differs", [])
    assert said in row["why"]
    assert "unsexed" in row["what to do"]


@pytest.mark.parametrize(
    ("columns", "cells", "found"),
    [
        (
            "Adults,Cop,Ovip,Exuviae",
            "18,3,1,2",
            [(6, "copulating 3 pairs"), (2, "exuvia"), (1, "ovipositing"), (11, "adult")],
        ),
        ("Adults,Pairs", "~40,3", [(6, "tandem 3 pairs"), (34, "adult")]),
        ("Total,Males,Females", "9,3,2", [(3, "male"), (2, "female"), (4, "")]),
        ("Total,Males", "6-20,3", [(3, "male"), (3, "")]),
        ("Adults,Ovip", "1,1", [(1, "ovipositing")]),
    ],
)
def test_what_a_total_has_beyond_its_parts_is_one_more_sighting(
    bring: Import, tmp_path: Path, columns: str, cells: str, found: list[tuple[int, str]]
) -> None:
    """Pairs and ovipositing females are two and one of the adults, as recorders count them; skins are none."""
    assert bring(f"{HEAD},{columns}{ROW},{cells}").faulty == 0
    assert sorted(parts(tmp_path)) == sorted(found)
    assert bring(f"{HEAD},{columns}{ROW},{cells}").sightings == 0


def test_adults_beside_skins_are_a_part(bring: Import, tmp_path: Path) -> None:
    """And where no other column counts anything, adults are what is counted, of whatever stage."""
    bring(f"{HEAD},Adults,Exuviae{ROW},5,2")
    assert parts(tmp_path) == [(5, "adult"), (2, "exuvia")]
    bring(f"{HEAD},Adults{ROW},7", "other.csv", ledger="other")
    assert [(one.count, one.stage) for one, _ in kept(tmp_path, "other")] == [(7, None)]


@pytest.mark.parametrize("cells", [",,", "0,,", "0,0,0"])
def test_a_row_that_counts_nothing_in_any_column_is_asked_about_as_0_is(
    bring: Import, tmp_path: Path, cells: str
) -> None:
    """A form that lists all species has such rows; they are no records."""
    sheet = f"{HEAD},Males,Females,Exuviae{ROW},{cells}{ROW},2,,"
    assert [row["fault"] for row in faulty(bring(sheet))] == ["zero-unclear"]
    assert bring(sheet, zero="absent").left_out == 1
    assert parts(tmp_path) == [(2, "male")]


@pytest.mark.parametrize(
    ("column", "cell", "code"),
    [
        ("Males", "3f", "cells-differ"),
        ("Exuviae", "2 ten", "cells-differ"),
        ("Pairs", "x", "count-not-read"),
        ("Males", "2 pairs", "cells-differ"),
        ("Females", "2 cop", "cells-differ"),
        ("Larvae", "2 pairs", "cells-differ"),
    ],
)
def test_a_cell_that_contradicts_its_column_comes_back(bring: Import, column: str, cell: str, code: str) -> None:
    """And so do pairs without a number."""
    [row] = faulty(bring(f"{HEAD},{column}{ROW},{cell}"))
    assert row["fault"] == code


TICKS = "".join(f"{ROW},{tick}" for tick in ("✓", "x", "Y", "N", "", "yes", "TRUE", "no", "1", "0"))


@pytest.mark.parametrize("typed", [(), ("Seen=count",)])
def test_ticks_are_sightings_and_what_is_not_ticked_is_asked_about(
    bring: Import, tmp_path: Path, typed: tuple[str, ...]
) -> None:
    """Whether the column was guessed, or said to be a count."""
    done = bring(f"{HEAD},Seen{TICKS}", typed=typed)
    assert (done.sightings, done.faulty, {*done.faults}) == (6, 4, {"zero-unclear"})
    assert {(one.count, one.count_kind) for one, _ in kept(tmp_path)} == {(None, "present")}
    assert bring(f"{HEAD},Seen{TICKS}", zero="skip").left_out == 4


def test_numbers_under_seen_are_counts(bring: Import, tmp_path: Path) -> None:
    """1 is one insect there; in a column of ticks only it is a tick."""
    bring(f"{HEAD},Seen{ROW},1{ROW},12")
    assert sorted(one.count or 0 for one, _ in kept(tmp_path)) == [1, 12]


def test_a_count_beside_a_tick_counts_and_no_beside_one_is_a_fault(bring: Import, tmp_path: Path) -> None:
    """A blank tick says nothing against a number."""
    done = bring(f"{HEAD},Seen,No.{ROW},Y,{ROW},y,3{ROW},,4{ROW},N,5")
    assert sorted(one.count or 0 for one, _ in kept(tmp_path)) == [0, 3, 4]
    assert [row["fault"] for row in faulty(done)] == ["cells-differ"]


def test_yes_and_no_under_presence_are_ticks(bring: Import, tmp_path: Path) -> None:
    """No is no record."""
    done = bring(f"{HEAD},Presence{ROW},Yes{ROW},No")
    assert (done.sightings, done.faulty) == (1, 1)


def test_temperature_sun_and_wind_are_the_weather_of_the_visit(bring: Import, tmp_path: Path) -> None:
    """In its words, and understood; rows of other weather are of a visit of their own, rows without any of none."""
    done = bring(f"{HEAD},Temp,Sun,Wind,No.{ROW},21,70%,F2-3,1{ROW},,,,2{ROW},14,0,5,3")
    assert (done.visits, done.faulty) == (2, 0)
    weather = {one.count: at for one, at in kept(tmp_path)}
    assert weather[1] == weather[2]
    assert weather[1].weather == "temperature 21, sun 70%, F2-3"
    assert (weather[1].temperature_c, weather[1].sun_percent) == (21, 70)
    assert (weather[1].wind_force, weather[1].wind_force_to) == (2, 3)
    assert (weather[3].temperature_c, weather[3].sun_percent, weather[3].wind_force) == (14, 0, 5)


@pytest.mark.parametrize(
    ("cells", "words"),
    [
        ({"temperature": "70F"}, "temperature 70F"),
        ({"sun": "5/8"}, "sun 5/8"),
        ({"sun": "5"}, "sun 5"),
        ({"wind": "light SW"}, "wind light SW"),
        ({"wind": "14 mph"}, "wind 14 mph"),
        ({"wind": "14"}, "wind 14"),
        ({"weather": "muggy", "cloud": "6/8"}, "muggy, cloud 6/8"),
        ({"cloud_eighths": "6", "wind": "light", "wind_direction": "SW"}, "cloud 6/8, wind light SW"),
        ({"wind_direction": "SW", "cloud_eighths": "6/8"}, "cloud 6/8, wind SW"),
    ],
)
def test_weather_that_is_no_number_of_ours_stays_in_words(cells: dict[str, str], words: str) -> None:
    """Nothing is made of it."""
    assert read_weather(cells) == {"weather": words}


@pytest.mark.parametrize(
    ("cells", "acts"),
    [
        ("6,3,copulating", ("copulating",)),
        ("6,3,mating", ("copulating",)),
        ("6,3,tandem", ("tandem",)),
        ("6,3,", ("tandem",)),
        ("6,3,ovipositing", ("tandem", "ovipositing")),
        ("6,3 cop,", ("copulating",)),
        ("6,3,tandem; copulating", ("tandem", "copulating")),
    ],
)
def test_what_pairs_do_is_said_by_the_column_that_says_so(
    bring: Import, tmp_path: Path, cells: str, acts: tuple[str, ...]
) -> None:
    """Pairs of which nothing more is said are in tandem; so our own sheets come back as what they were written from."""
    done = bring(f"Date,Grid Ref,Species,Count,Pairs,Behaviour\n12/07/2026,SU 431 118,Pale Rushlet,{cells}\n")
    assert done.faulty == 0
    [(one, _)] = kept(tmp_path)
    assert (one.count, one.pairs, one.behaviour) == (6, 3, acts)
