"""A Sunday walk of 25 species: typed in shorthand within three minutes, and by prompts by somebody who knows none."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cli.seat import CTRL_D, Seat
from reedmace.keys.model import Key
from tarn import FOLDER

SUNDAY = Path(__file__).resolve().parent.parent.parent / "demo" / "sunday.txt"
KEYS_A_MINUTE = 200  # 40 words a minute
AT = ("--place", "SU 431 118", "--date", "12 July 2025", "--locality", "Sallow Farm")

# The same walk as a beginner says it: a name, how many, what else.
SAID = """
common blue;12;male
common blue;3 pairs;mating
azure damselfly;8;
variable damselfly;2;
blue tailed;40+;
large red;5;
red eyed;6;
small red-eyed;2;
banded demoiselle;4;male
beautiful demoiselle;1;female
white legged;3;
emerald damselfly;2;
willow emerald;1;
emperor;1;female laying eggs
emperor;2;cast skins
brown hawker;2;
southern hawker;1;
migrant hawker;1;
common darter;6;
ruddy darter;4;male
broad bodied chaser;2;male
four spotted;8;
black tailed skimmer;5;
keeled skimmer;1;male
scarce chaser;2;
golden ringed;1;
downy emerald;1;"over the alders"
"""


def past_the_visit(there: Seat) -> None:
    """Say nothing of the weather, nor that all was noted."""
    for default in ("[none]: ", "[no]: "):
        there.wait_for(default)
        there.type("")


def told(listed: Callable[..., list[dict[str, Any]]]) -> list[tuple[Any, ...]]:
    """What was kept of each sighting, but for how it was typed."""
    kept = [
        (*(one[field] for field in ("name", "count", "sex", "date", "place")), one["record"])
        for one in listed("--season", "2026")
    ]
    fields = ("count_kind", "pairs", "stage", "behaviour", "remarks")
    return sorted(((*row, *(str(record.get(field)) for field in fields)) for *row, record in kept), key=str)


def test_in_shorthand_it_takes_less_than_three_minutes_and_asks_nothing(owned, seat, key: Key, listed) -> None:
    """Typed at a terminal, line after line, at 40 words a minute; 25 species are understood without a question."""
    page = SUNDAY.read_text(encoding="utf-8")
    assert len(page) < 3 * KEYS_A_MINUTE
    with seat("log", "--from", "-") as there:
        for line in page.splitlines():
            there.type(line)
        there.keys(CTRL_D)
        assert there.leave() == 0, there.text
    assert not [word for word in ("which one", "the line again", "ambiguous", "hint:") if word in there.text]
    kept = listed()
    assert (len(kept), len({one["name"] for one in kept})) == (27, 25)
    assert {one["rank"] for one in kept} == {"species"}


@pytest.mark.parametrize("columns", [60, 100])
def test_by_prompts_the_same_walk_goes_in_without_the_shorthand(owned, seat, run, key: Key, listed, columns) -> None:
    """Plain names, numbers and words; what is kept is the same as in shorthand, and one name has to be chosen."""
    there: Seat
    keys = 0

    def answer(prompt: str, text: str) -> None:
        nonlocal keys
        there.wait_for(prompt)
        there.type(text)
        keys += len(text) + 1

    with seat("log", columns=columns) as there:
        answer("Date [today]: ", "12 July 2026")
        answer("longitude: ", "SU 431 118")
        answer("[none]: ", "Sallow Farm")
        answer("[none]: ", "10:30-13:00 21C sun70 F2")
        answer("[no]: ", "all")
        for line in SAID.split("\n")[1:-1]:
            name, number, more = line.split(";")
            answer("seen: ", name)
            if name == "red eyed":
                answer("which one", "1")
            answer("how many", number)
            answer("what else", more)
        answer("seen: ", "")
        answer("Write this?", "")
        assert there.leave() == 0
    assert keys < 3.25 * KEYS_A_MINUTE
    assert there.text.count("which one") == 1  # asked once, and never again about the same line
    assert "hint:" not in there.text
    ours = [line for line in there.text.splitlines() if not line.startswith(("In /", "Place, as grid reference"))]
    assert max(map(len, ours)) <= max(columns, 79)
    by_prompts = told(listed)
    assert len(by_prompts) == 27
    assert run("ledger", "undo").returncode == 0
    for one in listed():
        assert run("ledger", "withdraw", one["id"], "--reason", "once more").returncode == 0
    assert run("log", "--from", SUNDAY).returncode == 0
    assert [row[:-1] for row in told(listed)] == [row[:-1] for row in by_prompts]


def test_what_was_typed_can_be_taken_back_and_ctrl_d_ends_the_list(seat, owned, listed) -> None:
    """`undo` takes the last one back, as often as there are any."""
    with seat("log", "--key", FOLDER, *AT) as there:
        past_the_visit(there)
        for line, shown in (
            ("undo", "there is nothing to take back"),
            ("12 pale m", "Pale Rushlet: 12 male"),
            ("13 misty m", "Misty Rushlet: 13 male"),
            ("Undo", "taken back: Misty Rushlet"),
        ):
            there.wait_for("seen: ")
            there.type(line)
            there.wait_for(shown)
        there.wait_for("seen: ")
        there.keys(CTRL_D)
        there.wait_for("Write this?")
        there.type("")
        assert there.leave() == 0
    assert [one["typed"] for one in listed()] == ["12 pale m"]


@pytest.mark.parametrize("stop", ["at a question", "at the end"])
def test_stopped_in_the_middle_what_was_typed_is_given_back(seat, owned, listed, run, tmp_path: Path, stop) -> None:
    """Nothing is written; the lines shown are lines that can be logged."""
    with seat("log", "--key", FOLDER, *AT) as there:
        past_the_visit(there)
        for line in ("12 pale m", "3 cop misty"):
            there.wait_for("seen: ")
            there.type(line)
        there.wait_for("seen: ")
        if stop == "at the end":
            there.type("")
            there.wait_for("Write this?")
            there.type("n")
        else:
            there.interrupt()
        assert there.leave() == 130
    assert listed() == []
    _, _, given = there.text.partition("Stopped: nothing was written.")
    lines = [line.strip() for line in given.splitlines() if line.startswith("  ")]
    assert lines[1:] == ["12 pale m", "3 cop misty"]
    assert lines[0].startswith("visit ")
    ran = run("log", *lines, "--key", FOLDER, "--json")
    assert len(json.loads(ran.stdout)["sightings"]) == 2


@pytest.mark.parametrize("columns", [60, 100])
def test_the_day_may_come_with_its_times_and_the_place_with_its_name(seat, owned, listed, run, columns) -> None:
    """What was answered at one prompt is not asked again at the next, nor said otherwise there."""
    with seat("log", "--key", FOLDER, columns=columns) as there:
        for prompt, answer in (
            ("Date [today]: ", "12 July 2025 sunny"),
            ("date-not-read", "12 July 2025 2.30"),
            ("time-unclear", "12 July 2025 10.30-12"),
            ("longitude: ", "SU 431 118 Sallow Farm pond"),
            ("Weather, as  21C F2", "13 July 2025 21C"),
            ("The day is 2025-07-12", "11:00 21C"),
            ("The start is 10:30", "21C"),
            ("[no]: ", ""),
            ("seen: ", "3 pale m"),
            ("seen: ", ""),
        ):
            there.wait_for(prompt)
            there.type(answer)
        there.wait_for("Write this?")
        there.type("n")
        there.leave()
    assert "Name of the place" not in there.text
    _, _, given = there.text.partition("Stopped: nothing was written.")
    page = [line.strip() for line in given.splitlines() if line.startswith("  ")]
    assert run("log", *page, "--key", FOLDER).returncode == 0
    [visit] = [json.loads(line) for line in run("visit", "list", "--json").stdout.splitlines()]
    assert tuple(visit["visit"][field] for field in ("date", "start", "end")) == ("2025-07-12", "10:30", "12:00")
    assert visit["visit"]["place"]["locality"] == "Sallow Farm pond"


def test_words_of_their_own_are_quoted_apart_from_those_that_are_understood(seat, owned, listed) -> None:
    """In quotes the photograph would be a remark."""
    with seat("log", "--key", FOLDER, *AT) as there:
        past_the_visit(there)
        for prompt, answer in (
            ("seen: ", "great boulderer"),
            ("how many", "2"),
            ("what else", "photo, over the alders"),
            ('in quotes:  photo, "over the alders"', 'photo, "over the alders"'),
            ("seen: ", ""),
            ("Write this?", ""),
        ):
            there.wait_for(prompt)
            there.type(answer)
        assert there.leave() == 0
    [one] = listed()
    assert (one["evidence"], one["record"]["remarks"]) == ("photo", "over the alders")


def test_words_that_are_none_of_ours_are_asked_for_in_quotes(seat, owned, listed) -> None:
    """A beginner writes what he saw; the hint shows it as it can be kept, and no place in a file."""
    with seat("log", "--key", FOLDER, *AT) as there:
        past_the_visit(there)
        there.wait_for("seen: ")
        there.type("great boulderer")
        there.wait_for("how many")
        there.type("a handful")
        there.wait_for("how many")
        there.type("2")
        there.wait_for("what else")
        there.type("over the alders")
        there.wait_for('put them in quotes:  "over the alders"')
        there.type('newly emerged "over the alders"')
        there.wait_for("seen: ")
        there.type("")
        there.wait_for("Write this?")
        there.type("")
        assert there.leave() == 0
    assert "line:1" not in there.text
    [one] = listed()
    assert (one["count"], one["record"]["stage"], one["record"]["remarks"]) == (2, "teneral", "over the alders")


def test_what_does_not_go_with_a_number_is_asked_again_and_the_number_stays(seat, owned, listed) -> None:
    """Only the refused answer is asked for again; Enter there means nothing else, and 30 were seen."""
    with seat("log", "--key", FOLDER, *AT, columns=60) as there:
        past_the_visit(there)
        for prompt, answer in (
            ("seen: ", "pale"),
            ("how many", "30 males"),
            ("what else", "20"),
            ("what else", ""),
            ("seen: ", "misty # by the long reeds at the far end of the pond"),
            ("how many", "one"),
            ("what else", "female"),
            ("seen: ", "great"),
            ("how many", "ten"),
            ("how many", "10"),
            ("what else", "imm m"),
            ("seen: ", ""),
            ("Write this?", ""),
        ):
            there.wait_for(prompt)
            there.type(answer)
        assert there.leave() == 0, there.text
    assert '"ten" could be the number or the stage' in there.text
    assert max(map(len, there.text.partition("seen: ")[2].partition("In /")[0].splitlines())) <= 60
    kept = sorted((one["name"], one["count"], one["sex"], one["typed"]) for one in listed())
    assert [row[1:] for row in kept if row[1] == 30] == [(30, "male", "pale 30 males")]
    assert {row[1:3] for row in kept} == {(30, "male"), (1, "female"), (10, "male")}
    assert [row[3] for row in kept if row[1] == 1] == [
        "misty one female # by the long reeds at the far end of the pond"
    ]


def test_stopped_at_what_else_the_name_and_number_are_given_back(seat, owned, listed) -> None:
    """The line that was being asked about is among those shown."""
    with seat("log", "--key", FOLDER, *AT) as there:
        past_the_visit(there)
        for prompt, answer in (("seen: ", "pale"), ("how many", "30")):
            there.wait_for(prompt)
            there.type(answer)
        there.wait_for("what else")
        there.interrupt()
        assert there.leave() == 130
    assert "  pale 30\n" in there.text.partition("Stopped: nothing was written.")[2]


def test_what_was_nearly_typed_is_offered_by_number(seat, owned, listed) -> None:
    """A slip costs one key; how many is asked of the one chosen, and the line stays as it was typed."""
    with seat("log", "--key", FOLDER, *AT) as there:
        past_the_visit(there)
        there.wait_for("seen: ")
        there.type("great boulderr")
        there.wait_for("1  Great Boulderer")
        there.wait_for("which one")
        there.type("1")
        there.wait_for("how many")
        there.type("2m")
        there.wait_for("what else")
        there.type("")
        there.wait_for("seen: ")
        there.type("")
        there.wait_for("Write this?")
        there.type("")
        assert there.leave() == 0
    [one] = listed()
    assert (one["name"], one["count"], one["typed"]) == ("Mossopa grandis", 2, "great boulderr 2m")


def test_stopped_in_the_middle_the_visit_and_the_names_chosen_are_given_back(
    seat, owned, listed, run, tmp_path: Path
) -> None:
    """As a page that is logged as it stands: nothing of the visit is lost, and no name is asked about again."""
    with seat("log", "--key", FOLDER) as there:
        for prompt, answer in (
            ("Date", "12 July 2026"),
            ("Place", "SU 431 118"),
            ("Name of the place", "Harrowmere, Sallow Farm pond"),
            ("Times and weather", "10:30-12:00 21C party of 12 # first visit"),
            ("Every species", "dams"),
            ("seen: ", "great boulderr 3"),
            ("which one", "1"),
        ):
            there.wait_for(prompt)
            there.type(answer)
        there.wait_for("seen: ")
        there.interrupt()
        assert there.leave() == 130
    page = tmp_path / "given.txt"
    given = there.text.partition("for a file:")[2].splitlines()
    page.write_text("\n".join(line for line in given if line.startswith("  ")))
    ran = run("log", "--from", page, "--key", FOLDER)
    assert ran.returncode == 0, ran.stderr
    [one] = listed()
    visit = one["visit"]
    assert (one["name"], one["count"], visit["date"]) == ("Mossopa grandis", 3, "2026-07-12")
    assert (visit["start"], visit["end"], visit["party"]) == ("10:30", "12:00", "party of 12")
    assert (visit["temperature_c"], visit["all_damselflies"], visit["remarks"]) == (21, True, "first visit")
    assert visit["place"]["locality"] == "Harrowmere, Sallow Farm pond"


def test_stopped_before_anything_was_seen_the_visit_is_given_back(seat, owned) -> None:
    with seat("log", "--key", FOLDER) as there:
        for prompt, answer in (("Date", "12 July 2026"), ("Place", "SU 431 118")):
            there.wait_for(prompt)
            there.type(answer)
        there.wait_for("Name of the place")
        there.interrupt()
        assert there.leave() == 130
    assert "  visit 2026-07-12 @ SU 431 118" in there.text


def test_a_visit_of_which_none_were_seen_goes_in_by_prompts(seat, owned, run) -> None:
    """None seen is a result; there it takes the place of the first line."""
    with seat("log", "--key", FOLDER, *AT) as there:
        past_the_visit(there)
        there.wait_for("seen: ")
        there.type("none seen")
        there.wait_for("Write this?")
        there.type("")
        assert there.leave() == 0
    [visit] = [json.loads(line) for line in run("visit", "list", "--json").stdout.splitlines()]
    assert (visit["sightings"], visit["visit"]["none_seen"]) == (0, True)


def test_what_was_answered_is_given_back_where_it_is_refused_at_the_end(seat, owned, listed, run) -> None:
    """With no line, and where what was answered cannot be written: nobody types it again."""
    with seat("log", "--key", FOLDER) as there:
        for prompt, answer in (
            ("Date [today]: ", "12/13 July 2025"),
            ("longitude: ", "SU 431 118 Sallow Farm pond"),
            ("[none]: ", "23:30-22:30 21C"),
            ("[no]: ", ""),
            ("seen: ", ""),
        ):
            there.wait_for(prompt)
            there.type(answer)
        assert there.leave() != 0
    assert "nothing-to-log" in there.text
    assert 'visit 2025-07-12/2025-07-13 @ SU 431 118 "Sallow Farm pond" 23:30-22:30 21C' in there.text
