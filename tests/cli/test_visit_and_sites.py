"""`reedmace visit`, `sites`, `ledger history`, `breeding`, and a walk from a file, as people use them."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest

from conftest import Ran
from reedmace.keys.model import Key

ROOT = Path(__file__).resolve().parent.parent.parent
SUNDAY = ROOT / "demo" / "sunday.txt"
TRICKY = "Aus bus [sensu lato] [/x] :bee: \x1b[31mred שלום 🐉"


def ids(ran: Ran) -> list[str]:
    """The ids that `log --json` gave."""
    return json.loads(ran.stdout)["sightings"]


def test_a_walk_of_25_species_goes_in_within_three_minutes_of_typing(run, owned, key: Key, listed) -> None:
    """At 150 keystrokes a minute three minutes are 450: this page takes 379, Shift counted as a key of its own."""
    page = SUNDAY.read_text(encoding="utf-8")
    shifted = sum(sign.isupper() or sign in '~!@#$%^&*()_+{}|:"<>?' for sign in page)
    assert len(page) + shifted == 379
    assert len(page) + shifted < 450
    ran = run("log", "--from", SUNDAY)
    assert ran.returncode == 0, ran.stderr
    kept = listed()
    assert len({one["name"] for one in kept}) == 25
    assert {one["rank"] for one in kept} == {"species"}
    assert "Common Blue Damselfly in all: 18, pairs beside the others" in ran.stdout
    assert sum(line.startswith("  ") for line in ran.stdout.splitlines()) >= 27
    assert ran.stdout.splitlines()[-1] == "Logged for Ada Marsh: 27 sightings."


def test_a_file_logged_twice_adds_nothing(run, owned, key: Key, listed) -> None:
    """A fault says that it is there already."""
    assert run("log", "--from", SUNDAY).returncode == 0
    again = run("log", "--from", SUNDAY)
    assert again.returncode == 1
    assert "already-logged" in again.stderr
    assert len(listed()) == 27


VISIT = "visit 2026-07-12 @ SU431118"


@pytest.mark.parametrize(
    "page",
    [
        f"{VISIT}\n12 common blue m by Cat Rush\n3 emperor\n",
        f"{VISIT}\n3 emperor det Dan Fen\n",
        f'{VISIT} by Cat Rush and "Dan Fen"\n3 emperor with "Eve Alder"\n',
        f"{VISIT} none seen\n",
        f"{VISIT} by Cat Rush none seen\n# too cold\n",
        f"{VISIT}\n@ SU 4330 1191\n2 emperor\n@\n2 emperor\n",
    ],
)
@pytest.mark.parametrize("piped", [True, False])
def test_a_page_logged_twice_adds_nothing_whoever_saw_or_named_it(run, owned, tmp_path, page: str, piped: bool) -> None:
    """Nor does a dry run pretend that it would; a visit of which nothing was seen is there once, too."""
    (tmp_path / "notes.txt").write_text(page)
    how, typed = ((), page) if piped else (("--from", "notes.txt"), "")
    assert run("log", *how, stdin=typed).returncode == 0
    before = run("ledger", "dump").stdout
    for dry in ((), ("--dry-run",)):
        again = run("log", *how, *dry, stdin=typed)
        assert (again.returncode, again.stdout) == (1, "")
        assert "already-logged" in again.stderr
    assert run("ledger", "dump").stdout == before


def test_a_page_that_grew_is_refused_with_what_is_new_and_how_to_log_it(run, owned, listed, tmp_path) -> None:
    """The old lines are told apart from the new one, which joins their visit by itself."""
    page = tmp_path / "notes.txt"
    page.write_text(f"{VISIT}\n12 common blue m by Cat Rush\n3 emperor\n")
    assert run("log", "--from", page).returncode == 0
    page.write_text(page.read_text() + "# gusty later\n5 brown hawker\n")
    again = run("log", "--from", page)
    assert again.returncode == 1
    assert "partly-logged" in again.stderr
    assert "2 of the 3 lines of this visit stand in the ledger already; new is line 5." in again.stderr
    assert listed()[0]["visit_id"][-12:] in again.stderr
    assert len(listed()) == 2
    page.write_text(f"{VISIT}\n# gusty later\n5 brown hawker\n")
    assert run("log", "--from", page).returncode == 0
    assert len({one["visit_id"] for one in listed()}) == 1
    assert {one["count"] for one in listed()} == {12, 3, 5}
    assert listed()[0]["visit"]["remarks"] == "gusty later"


def test_a_page_of_which_a_visit_is_new_writes_no_half(run, owned, listed, tmp_path) -> None:
    """The new visit stands before the old one: neither is written."""
    page = tmp_path / "notes.txt"
    page.write_text(f"{VISIT}\n3 emperor\n")
    assert run("log", "--from", page).returncode == 0
    page.write_text(f"visit 2026-07-11 @ SU431118\n2 emperor\n{VISIT}\n3 emperor\n")
    assert "already-logged" in run("log", "--from", page).stderr
    assert len(listed()) == 1


@pytest.mark.parametrize(("answer", "counts"), [("", {12, 3, 5}), ("n", {12, 3})])
def test_at_a_terminal_only_the_new_lines_of_a_page_are_offered(
    run, owned, listed, seat, tmp_path, answer: str, counts: set[int]
) -> None:
    """One question; what was logged before is left as it is."""
    page = tmp_path / "notes.txt"
    page.write_text(f"{VISIT}\n12 common blue m by Cat Rush\n3 emperor\n")
    assert run("log", "--from", page).returncode == 0
    page.write_text(page.read_text() + "5 brown hawker\n")
    with seat("log", "--from", page) as sat:
        sat.wait_for("Log only what is new?")
        sat.type(answer)
        if not answer:
            sat.wait_for("Write this?")
            sat.type("")
        sat.leave()
    assert ("Emperor Dragonfly" in sat.text) is False
    assert {one["count"] for one in listed()} == counts
    assert len(listed()) == len(counts)


def test_a_page_with_a_line_like_one_of_many_others_is_no_repetition(run, owned, listed, tmp_path) -> None:
    """The afternoon's page of the same visit: one line happens to be the same."""
    page = tmp_path / "notes.txt"
    page.write_text(f"{VISIT}\n2 emperor\n1 brown hawker\n")
    assert run("log", "--from", page).returncode == 0
    page.write_text(f"{VISIT}\n2 emperor\n4 common darter\n5 ruddy darter\n")
    ran = run("log", "--from", page)
    assert ran.returncode == 0, ran.stderr
    assert len(listed()) == 5
    assert len({one["visit_id"] for one in listed()}) == 1


def test_a_dry_run_shows_everything_and_writes_nothing(tarn_run, run, owned, tmp_path: Path) -> None:
    """Not even a ledger where there is none."""
    ran = tarn_run(
        "log", "12m incl 3 cop pale", "--place", "SU 431 118", "--dry-run", env={"REEDMACE_LEDGER": "new.ledger"}
    )
    assert ran.returncode == 0, ran.stderr
    assert "9 male and 3 pairs (copulating, 6 insects), the pairs among those counted: 15 in all" in ran.stdout
    assert not (tmp_path / "new.ledger").exists()


def test_a_bad_line_in_a_file_is_told_by_line_and_column_and_nothing_is_written(
    tarn_run, owned, listed, tmp_path
) -> None:
    """Exit code 1: the fault is in the data."""
    (tmp_path / "notes.txt").write_text("visit 2025-07-12 @ SU 431 118\n12 pale m\n3 zebra\n", encoding="utf-8")
    ran = tarn_run("log", "--from", "notes.txt")
    assert ran.returncode == 1
    assert ran.stderr.splitlines()[:3] == ["notes.txt:3:3: unknown-name", "  3 | 3 zebra", "    |   ^^^^^"]
    assert listed() == []


@pytest.mark.parametrize(("content", "code"), [(b"12 pale # caf\xe9\n", "notes-not-utf-8"), (None, "file-cannot-read")])
def test_a_file_that_cannot_be_read_is_a_fault(
    tarn_run, owned, tmp_path: Path, content: bytes | None, code: str
) -> None:
    """With a remedy."""
    if content is not None:
        (tmp_path / "notes.txt").write_bytes(content)
    ran = tarn_run("log", "--from", "notes.txt", "--place", "SU 431 118")
    assert ran.returncode in (1, 2)
    assert code in ran.stderr
    assert "hint: " in ran.stderr


def test_a_visit_under_way_is_joined_until_it_ends(tarn_run, run, owned, listed) -> None:
    """Lines without a place or date join it, remarks on their own lines are added to it, and it ends at a time."""
    assert tarn_run("visit", "start", "00:01", "@", "SU", "431", "118", "Sallow Farm pond", "21C").returncode == 0
    assert tarn_run("log", "12", "pale", "m").returncode == 0
    assert tarn_run("log", stdin="# wind got up\n2 great  # by the reeds\nall dams\n").returncode == 0
    assert tarn_run("log", "1 misty", "--place", "SU 44 12").returncode == 0
    ended = run("visit", "end", "00:30")
    assert ended.returncode == 0, ended.stderr
    kept = listed()
    assert len({one["visit_id"] for one in kept}) == 2
    visit = next(one["visit"] for one in kept if one["typed"] == "12 pale m")
    assert (visit["start"], visit["end"], visit["remarks"]) == ("00:01", "00:30", "wind got up")
    assert visit["all_damselflies"]
    ran = tarn_run("log", "3 great")
    assert (ran.returncode, "place-missing" in ran.stderr) == (2, True)
    shown = run("visit", "show", visit["id"][-12:]).stdout
    assert "Sallow Farm pond" in shown
    assert "2 sightings" in shown
    assert "2 visits" in run("visit", "list").stdout
    assert run("visit", "end").returncode == 2


def test_a_time_of_today_that_is_still_to_come_is_refused(tarn_run, run, owned, listed) -> None:
    """At the start and the end of a visit and of what was seen; nothing is written, and the visit goes on."""
    from reedmace.tasks.walks.to_come import time_to_come

    assert time_to_come("2026-07-12", ("10:00", "12:31"), "2026-07-12", "11:30") is not None
    assert time_to_come("2026-07-12", ("10:00", None, "12:30"), "2026-07-12", "11:30") is None  # not yet summer time
    assert time_to_come("2026-07-11", ("23:59",), "2026-07-12", "11:30") is None
    now = datetime.now(UTC)  # the program runs in UTC here
    if now.hour >= 22:
        pytest.skip("no time of today is far enough ahead")
    ahead = f"{now.hour + 2}:{now.minute:02}"
    for words in (("visit", "start", ahead, "@", "SU431118"), ("log", f"2 pale {ahead}", "--place", "SU431118")):
        ran = tarn_run(*words)
        assert (ran.returncode, "time-in-future" in ran.stderr) == (2, True), ran.stderr
    assert tarn_run("visit", "start", "00:01", "@", "SU431118").returncode == 0
    ran = tarn_run("log", stdin=f"visit until {ahead}\n2 pale\n")
    assert (ran.returncode, "time-in-future" in ran.stderr) == (2, True), ran.stderr
    ran = run("visit", "end", ahead)
    assert (ran.returncode, "time-in-future" in ran.stderr) == (2, True)
    assert run("visit", "end", "now").returncode == 0
    assert listed() == []


def test_lines_do_not_stand_beside_a_visit_that_says_none_were_seen(tarn_run, run, owned, listed) -> None:
    """The visit is corrected first, or the times of both tell them apart; nor does "none seen" stand beside lines."""
    page = "visit 12 July 2025 @ SU431118 10:00-11:00"
    assert tarn_run("log", f"{page} none seen").returncode == 0
    for dry in ((), ("--dry-run",)):
        ran = tarn_run("log", page, "2 pale", *dry)
        assert (ran.returncode, "none-seen-but-seen" in ran.stderr) == (2, True)
        assert "says that none were seen" in ran.stderr
    line = next(line for line in ran.stderr.replace("\n  ", " ").splitlines() if "ledger amend" in line)
    words = line.partition("reedmace ")[2].split(" --reason")[0].split()
    assert tarn_run("log", page.replace("10:00-11:00", "14:00-15:00"), "3 pale").returncode == 0
    assert run(*words, "--reason", "they came out").returncode == 0
    assert tarn_run("log", page, "2 pale").returncode == 0
    assert sorted(one["count"] for one in listed()) == [2, 3]
    ran = tarn_run("log", f"{page} none seen")
    assert (ran.returncode, "has sightings" in ran.stderr) == (2, True)


def test_a_second_visit_says_that_the_first_has_no_end(tarn_run, run, owned) -> None:
    """And how to give it one; the line runs."""
    assert tarn_run("visit", "start", "00:01", "@", "SU", "431", "118", '"Sallow Farm pond"').returncode == 0
    ran = tarn_run("visit", "start", "00:02", "@", "SU", "451", "118", '"Moss End"')
    assert "00:01 at Sallow Farm pond, has no end" in ran.stdout
    line = next(line for line in ran.stdout.splitlines() if "end=TIME" in line)
    words = line.replace("TIME", "00:02").replace("WHY", "left").split()[1:]
    assert run(*words).returncode == 0
    assert run("visit", "end", "00:03").returncode == 0
    ran = tarn_run("visit", "start", "00:04", "@", "SU", "431", "118")
    assert "has no end" not in ran.stdout


def test_a_visit_forgotten_since_another_day_is_not_joined(tarn_run, run, owned, clean_env, listed) -> None:
    """A line would land on the wrong day."""
    import sqlite3

    assert tarn_run("visit", "start", "@", "SU", "431", "118").returncode == 0
    with sqlite3.connect(clean_env["REEDMACE_LEDGER"]) as connection:
        connection.execute(
            "UPDATE setting SET value = substr(value, 1, 37) || '2020-01-01' WHERE name = 'visit under way'"
        )
    connection.close()
    ran = tarn_run("log", "12 pale m")
    assert (ran.returncode, "visit-of-another-day" in ran.stderr) == (2, True)
    assert listed() == []


def test_a_site_is_registered_named_and_changed_with_a_reason(tarn_run, run, owned, listed) -> None:
    """Visits made before keep the place they had."""
    add = ("sites", "add", "Sallow Farm pond", "SU 431 118")
    assert tarn_run(*add, "--vice-county", "11", "--also", "the farm").returncode == 0
    assert tarn_run("log", "12 pale m", "--place", "sallow", "--date", "2025-07-12").returncode == 0
    refused = tarn_run("sites", "add", "sallow farm  POND", "SU 432 118")
    assert (refused.returncode, "site-there" in refused.stderr) == (2, True)
    assert tarn_run("sites", "add", "Sallow Farm pond", "SU 432 118", "--reason", "the other bank").returncode == 0
    assert tarn_run("log", "visit 2025-07-13 @ sallow", "2 great").returncode == 0
    kept = {one["date"]: one for one in listed()}
    assert (kept["2025-07-12"]["place"], kept["2025-07-12"]["visit"]["place"]["vice_county"]) == ("SU431118", "11")
    assert kept["2025-07-13"]["place"] == "SU432118"
    assert run("sites").stdout == "Sallow Farm pond: SU432118, centroid\n"
    assert json.loads(run("sites", "--json").stdout)["place"]["square"] == "SU432118"


def test_the_history_of_a_record_is_told_in_words_and_as_json(log, run, owned) -> None:
    """Recorded and taken back; what was typed is shown as text."""
    (one,) = ids(log(f'12 pale m  "{TRICKY}"', "--json"))
    assert run("ledger", "undo", "--reason", TRICKY).returncode == 0
    ran = run("ledger", "history", one[-10:], env={"COLUMNS": "400"})
    assert ran.returncode == 0, ran.stderr
    assert "Ada Marsh recorded it" in ran.stdout
    assert "Ada Marsh took it back" in ran.stdout
    assert "It does not stand any more" in ran.stdout
    assert "\x1b" not in ran.stdout
    assert ran.stdout.count(TRICKY.replace("\x1b", "\\x1b")) == 2
    steps = [json.loads(line) for line in run("ledger", "history", one, "--json").stdout.splitlines()]
    assert [step["act"] for step in steps] == ["recorded", "withdrawn"]
    assert steps[1]["reason"] == TRICKY


def test_breeding_status_is_told_with_its_rule(log, run, owned) -> None:
    """By the rule set that was asked for."""
    log("2 ex pale", "1 emerging misty", "3 great")
    shown = run("breeding").stdout
    assert "confirmed  Pale Rushlet, 2025" in shown
    assert "cast skin (exuvia) found: 2 exuvia on 2025-07-12" in shown
    assert "criteria-2004 1" in shown
    found = [json.loads(line) for line in run("breeding", "--json", "--rules", "county-atlas").stdout.splitlines()]
    assert {one["vernacular"]: one["status"] for one in found} == {
        "Pale Rushlet": "confirmed",
        "Misty Rushlet": "confirmed",
        "Great Boulderer": "adult present",
    }
    assert run("breeding", "--rules", "nonsense").returncode == 2


def test_any_text_comes_back_as_it_went_in(log, run, owned, listed, tarn_run) -> None:
    """In remarks, a locality, a person's name and a comment; and reaches the screen as plain text."""
    person = TRICKY.replace("\x1b", "")
    lines = (
        f'visit 2025-07-13 @ SU 431 118 "{TRICKY}" by "{person}" # {TRICKY}\n2 pale "{TRICKY}" # {TRICKY}\n# {TRICKY}\n'
    )
    ran = tarn_run("log", stdin=lines)
    assert ran.returncode == 0, ran.stderr
    assert "\x1b" not in ran.stdout
    (one,) = listed()
    assert one["locality"] == TRICKY
    assert one["observers"] == [person]
    assert one["remarks"] == f"{TRICKY}; {TRICKY}"
    assert one["visit"]["remarks"] == f"{TRICKY}\n{TRICKY}"
    for command in (("visit", "show"), ("visit", "list"), ("ledger", "list"), ("breeding",)):
        shown = run(*command, env={"COLUMNS": "60"})
        assert shown.returncode == 0, shown.stderr
        assert "\x1b" not in shown.stdout


def test_words_without_quotes_and_a_remark_in_quotes_are_one_line(tarn_run, owned, listed) -> None:
    """The shell takes the quotes away; what reads is meant."""
    at = ("--place", "SU 431 118")
    assert tarn_run("log", "12", "pale", "m", "by the sluice", *at).returncode == 0
    assert tarn_run("log", "3", "misty", "by Cat Rush", *at).returncode == 0
    kept = {one["count"]: one for one in listed()}
    assert (kept[12]["remarks"], kept[12]["sex"]) == ("by the sluice", "male")
    assert kept[3]["observers"] == ["Cat Rush"]


def test_the_words_of_the_shorthand_can_be_listed(run) -> None:
    """For somebody without the page at hand."""
    shown = run("log", "--words").stdout
    assert "ovipositing: ovi ovip" in shown
    assert "the pairs are among those counted: incl" in shown


HOSTILE = "[/x] :bee: \x1b[31mred\x1b]0;owned\x07 \u202egnp.exe שלום 🐉"


def test_hostile_text_reaches_every_page_as_text(tarn_run, run, owned) -> None:
    """Sites, visits, breeding and history: markup, escape sequences and turned writing are shown, never obeyed."""
    name = f"Pond {HOSTILE}"
    assert tarn_run("sites", "add", name, "SU 431 118", "--remarks", HOSTILE).returncode == 0
    at = ("--place", "SU 431 118", "--locality", name, "--date", "12 July 2025", "--remarks", HOSTILE)
    ran = tarn_run("log", f"12 pale m #{HOSTILE}", "exuvia 2 misty", *at)
    assert ran.returncode == 0, ran.stderr
    ids_shown = [json.loads(line) for line in run("ledger", "list", "--json").stdout.splitlines()]
    pages = {
        "sites": run("sites"),
        "visits": run("visit", "list"),
        "visit": run("visit", "show", ids_shown[0]["visit_id"]),
        "breeding": run("breeding"),
        "history": run("ledger", "history", ids_shown[0]["id"]),
        "season": tarn_run("season", "2025"),
    }
    for which, page in pages.items():
        assert page.returncode == 0, (which, page.stderr)
        for sign in ("\x1b", "\x07", "\u202e"):
            assert sign not in page.stdout, which
    for which in ("sites", "visit", "breeding", "history"):
        flat = "".join(pages[which].stdout.split())
        assert r"[/x]:bee:\x1b[31mred\x1b]0;owned\x07\u202egnp.exe" in flat, which
        assert "שלום🐉" in flat, which


WALK = f"""{VISIT} 10:30-12:00 21C with Ben Sallow
12 common blue m by Ben Sallow
2 emperor
3 large red
@ "the sluice" 10:40
1 emperor f
11:00
1 banded dem
"""


@pytest.fixture
def walk(run, owned, tmp_path):
    """A page that was logged, and a way to log it again with changes; gives what was printed."""
    page = tmp_path / "notes.txt"
    page.write_text(WALK)
    assert run("log", "--from", page).returncode == 0

    def again(text: str) -> Ran:
        page.write_text(text)
        return run("log", "--from", page, env={"COLUMNS": "400"})

    return again


def test_a_page_with_a_word_of_its_visits_line_corrected_is_no_second_visit(walk, listed) -> None:
    """What corrects the line of the visit is told."""
    ran = walk(WALK.replace("21C", "22C"))
    assert ran.returncode == 1
    visit = listed()[0]["visit_id"][-12:]
    assert "visit-again" in ran.stderr
    assert f"reedmace ledger amend {visit} FIELD=VALUE" in ran.stderr
    assert len(listed()) == 5


def test_another_walk_of_the_day_is_another_visit(walk, listed) -> None:
    """Its times differ, though a line or two happen to be the same."""
    ran = walk(f"{VISIT} 14:30-15:00 23C with Ben Sallow\n2 emperor\n3 large red\n")
    assert ran.returncode == 0, ran.stderr
    assert len({one["visit_id"] for one in listed()}) == 2


@pytest.mark.parametrize(("answer", "lines"), [("n", 5), ("y", 10)])
def test_at_a_terminal_it_is_asked_whether_it_is_another_visit(walk, seat, listed, tmp_path, answer, lines) -> None:
    (tmp_path / "notes.txt").write_text(WALK.replace("21C", "22C"))
    with seat("log", "--from", tmp_path / "notes.txt") as sat:
        sat.wait_for("Is it another visit?")
        sat.type(answer)
        if answer == "y":
            sat.wait_for("Write this?")
            sat.type("")
        sat.leave()
    assert len(listed()) == lines


def test_the_lines_to_log_of_a_page_that_grew_are_at_their_spot_and_time(walk, listed) -> None:
    """Logged as they are printed, they land where they stood on the page."""
    ran = walk(f"{WALK}4 brown hawker\n")
    printed = ran.stderr.partition("as a page of its own:\n")[2].partition("\n\n")[0]
    assert [line.strip() for line in printed.splitlines()][1:] == ['@ "the sluice" 10:40', "11:00", "4 brown hawker"]
    assert walk(printed).returncode == 0
    [new] = [one for one in listed() if one["count"] == 4]
    record = new["record"]
    assert (record["time"], record["place"]["locality"]) == ("11:00", "the sluice")
    assert len({one["visit_id"] for one in listed()}) == 1


def test_a_line_with_another_number_is_told_of_the_one_that_stands(walk, listed) -> None:
    ran = walk(WALK.replace("12 common", "13 common"))
    assert '"13 common blue m by Ben Sallow" is "12 common blue m by Ben Sallow" with another number' in ran.stderr
    [old] = [one for one in listed() if one["count"] == 12]
    assert f"reedmace ledger amend {old['id'][-12:]} count=13" in ran.stderr


RETYPED = [
    ("12 common blue m", "12 COMMON BLUE M"),
    ("12 common blue m", "common blue 12 males"),
    ("12 common blue m", "12 common blue m # by the sluice"),
    ("2m 3f emperor", "emperor 3 females, 2 males"),
    ("3 cop azure dam", "azure damselfly 3 pairs in cop"),
]


@pytest.mark.parametrize(("first", "again"), RETYPED)
def test_lines_that_mean_the_same_are_there_already(run, owned, listed, first: str, again: str) -> None:
    assert run("log", stdin=f"{VISIT}\n{first}\n").returncode == 0
    before = len(listed())
    ran = run("log", stdin=f"{VISIT}\n{again}\n")
    assert (ran.returncode, "already-logged" in ran.stderr, len(listed())) == (1, True, before)


@pytest.mark.parametrize(
    "other",
    [
        "12 common blue f",
        "13 common blue m",
        "12 common blue m imm",
        "12 common blue m feeding",
        "12 azure dam m",
        "12 common blue m 11:40",
        "12 common blue m @ SU 433 119",
    ],
)
def test_lines_that_mean_something_else_are_new(run, owned, listed, other: str) -> None:
    assert run("log", stdin=f"{VISIT}\n12 common blue m\n").returncode == 0
    ran = run("log", stdin=f"{VISIT}\n{other}\n")
    assert "already-logged" not in ran.stderr
    assert len(listed()) == 2, ran.stderr


def test_a_name_of_several_sites_tells_them(run, owned) -> None:
    assert run("sites", "add", "Sallow Farm pond", "SU 431 118").returncode == 0
    assert run("sites", "add", "Sallow Carr", "SU 433 119").returncode == 0
    for page in ("visit 2026-07-12 @ sallow\n3 emperor\n", 'visit 2026-07-12 @ "sallow"\n3 emperor\n'):
        ran = run("log", stdin=page, env={"COLUMNS": "200"})
        assert (ran.returncode, "site-ambiguous" in ran.stderr) == (2, True)
        assert '"Sallow Carr", "Sallow Farm pond"' in ran.stderr
    ran = run("log", "3 emperor", "--place", "sallow")
    assert "site-ambiguous" in ran.stderr
    assert run("log", stdin='visit 2026-07-12 @ sallow c\n@ "Sallow"\n3 emperor\n').returncode == 0, "a spot's name"


def test_a_name_that_another_site_has_is_refused(run, owned) -> None:
    assert run("sites", "add", "Tern Hollow", "SU 431 118").returncode == 0
    for words in (("Top pond", "SU 433 119", "--also", "tern  hollow"),):
        ran = run("sites", "add", *words)
        assert (ran.returncode, "site-name-taken" in ran.stderr) == (2, True)
    assert run("sites", "add", "Top pond", "SU 433 119", "--also", "Upper pond").returncode == 0
    assert "site-name-taken" in run("sites", "add", "Upper pond", "SU 433 119").stderr


@pytest.mark.parametrize("mark", ["\ufeff", "\u200b", "\u200e", "\u202a"])
def test_marks_that_nobody_sees_are_no_words(run, owned, listed, mark: str) -> None:
    page = f"{mark}visit 2026-07-12 {mark}@ SU 431 118\n{mark}12 common blue m{mark} # so {mark} it was\n"
    for how in ((), ("--from", "-")):
        ran = run("log", *how, "--dry-run", stdin=page)
        assert ran.returncode == 0, ran.stderr
    assert run("log", stdin=page).returncode == 0
    [one] = listed()
    assert (one["count"], one["remarks"]) == (12, f"so {mark} it was")


def test_what_is_missing_of_a_place_is_told_where_it_is_missing(run, owned) -> None:
    wide = {"COLUMNS": "200"}
    assert "stand above the line of a visit" in run("log", stdin=f"3 emperor\n{VISIT}\n2 emperor\n", env=wide).stderr
    two = f"{VISIT}\n3 emperor\nvisit Sun 12 July 2026\n2 emperor\n"
    assert "The visit of line 3 says no place" in run("log", stdin=two, env=wide).stderr
    ran = run("log", stdin='visit 2026-07-12 @ "Top pond" SU 433 119\n3 emperor\n', env=wide)
    assert 'write  @ SU 433 119 "Top pond"' in ran.stderr
    assert "write the time alone:  12:45" in run("log", stdin="visit @ 12:45\n3 emperor\n", env=wide).stderr
    assert "visit @ SU 433 119" in run("log", stdin="@ SU 433 119\n3 emperor\n", env=wide).stderr
    assert "year-missing" in run("log", "3 emperor", "--place", "SU 431 118", "--date", "12 july").stderr


def test_what_lines_say_of_the_visit_under_way_is_added_to_it(tarn_run, run, owned, listed) -> None:
    """Weather, people, party and the words as typed; what differs from what is known of it is refused."""
    assert tarn_run("visit", "start", "00:01", "@", "SU431118").returncode == 0
    ran = tarn_run("log", stdin="visit 21C F2 with Ben Sallow, party of 8, 2 exuvia passes\n2 pale\n")
    assert ran.returncode == 0, ran.stderr
    for shown in ("weather: 21 °C, wind force 2", "with: Ben Sallow", "party: party of 8"):
        assert shown in ran.stdout
    [kept] = [one["visit"] for one in listed()]
    assert (kept["weather"], kept["temperature_c"], kept["wind_force"], kept["party_size"]) == ("21C, F2", 21, 2, 8)
    assert kept["exuvia_passes"] == 2
    assert len(kept["observers"]) == 2
    shown = run("visit", "show").stdout
    assert "observers: Ada Marsh and Ben Sallow" in shown
    assert "21C F2 with Ben Sallow, party of 8" in shown
    assert tarn_run("log", "3 pale", "--habitat", "mere").returncode == 0
    assert listed()[0]["visit"]["habitat"] == "tarn"
    for page, said in (("visit 19C\n4 pale\n", "21C, F2"), ("visit by Cat Rush\n4 pale\n", "not by Cat Rush")):
        ran = tarn_run("log", stdin=page)
        assert (ran.returncode, "visit-differs" in ran.stderr, said in ran.stderr) == (2, True, True)
    assert sorted(one["count"] for one in listed()) == [2, 3]


def test_figures_of_the_weather_may_be_added_one_after_the_other(tarn_run, run, listed, owned) -> None:
    """Another figure is no other weather; words, and another figure of the same kind, may be."""
    assert tarn_run("visit", "start", "@", "SU431118", "sun70").returncode == 0
    assert tarn_run("log", stdin="visit F2\n2 pale\n").returncode == 0
    for said in ("sun80", "cloudy 19C", "F3"):
        ran = tarn_run("log", stdin=f"visit {said}\n2 pale\n")
        assert (ran.returncode, "visit-differs" in ran.stderr) == (2, True), ran.stderr
    [kept] = [one["visit"] for one in listed()]
    assert (kept["weather"], kept["sun_percent"], kept["wind_force"]) == ("sun70, F2", 70, 2)


def test_a_form_logged_twice_adds_nothing_and_is_told_in_one_line(run, owned, listed) -> None:
    page = "Date: 12 July 2025\nSite: Moss End (SU 431 118)\nRecorder: Cat Rush\nParty: 9 incl 4 children\n2 emperor\n"
    assert run("log", stdin=page).returncode == 0
    ran = run("log", stdin=page, env={"COLUMNS": "200"})
    assert (ran.returncode, "already-logged" in ran.stderr) == (1, True)
    assert "Date: 12 July 2025 / Site: Moss End (SU 431 118) / Recorder: Cat Rush / Party: 9" in ran.stderr
    [kept] = listed()
    assert (kept["visit"]["party_size"], len(kept["visit"]["observers"])) == (9, 1)
