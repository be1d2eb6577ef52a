"""`reedmace ledger`, `people` and the ledger's path: list, undo, where, and what no ledger can be."""

from __future__ import annotations

import json
import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

AT = ("--place", "SU 431 118", "--date", "12 July 2025")


def entries(ledger: Path) -> list[tuple[str, str, str]]:
    """Every entry of the file, by sqlite3 itself: kind, act, reason."""
    with sqlite3.connect(f"file:{ledger}?mode=ro", uri=True) as connection:
        found = connection.execute("SELECT kind, act, reason FROM entry ORDER BY seq").fetchall()
    connection.close()
    return found


def test_the_list_shows_what_stands_oldest_first(log, tarn_run, run) -> None:
    """A table with its count of sightings."""
    log("12 pale m", "~40 great")
    tarn_run("log", "3 cop misty", "--place", "SU 431 118", "--date", "2 June 2025")
    ran = run("ledger", "list")
    assert [line[2:50].split("  ")[0] for line in ran.stdout.splitlines()[1:4]] == [
        "2025-06-02",
        "2025-07-12",
        "2025-07-12",
    ]
    assert ran.stdout.endswith("3 sightings\n")
    assert "3 pairs copulating" in ran.stdout
    assert "about 40" in ran.stdout


def test_the_list_is_chosen_by_season_and_name(log, tarn_run, listed) -> None:
    """One year, one species, one genus."""
    log("12 pale m", "4 great")
    tarn_run("log", "3 misty", "--place", "SU 431 118", "--date", "2 June 2024")
    assert [one["vernacular"] for one in listed("--season", "2024")] == ["Misty Rushlet"]
    assert [one["vernacular"] for one in listed("--species", "Great Boulderer")] == ["Great Boulderer"]
    assert {one["vernacular"] for one in listed("--species", "Tarnula")} == {"Pale Rushlet", "Misty Rushlet"}
    assert listed("--season", "2023") == []


def test_undo_takes_back_the_last_line_by_a_new_entry(log, run, listed, tmp_path: Path) -> None:
    """Both sightings of `2m 3f` go, the line before stays, and nothing is deleted from the file."""
    log("12 pale m", "2m 3f misty")
    before = entries(tmp_path / "walks.ledger")
    ran = run("ledger", "undo", "--reason", "it was the other one")
    assert ran.stdout == "Taken back: Misty Rushlet: 2m 3f misty\n"
    assert [one["vernacular"] for one in listed()] == ["Pale Rushlet"]
    after = entries(tmp_path / "walks.ledger")
    assert after[: len(before)] == before
    assert after[len(before) :] == [("sighting", "withdrawn", "it was the other one")] * 2
    withdrawn = [one["act"] for one in listed("--withdrawn")]
    assert sorted(withdrawn) == ["recorded", "withdrawn", "withdrawn"]
    assert "(withdrawn)" in run("ledger", "list", "--withdrawn", env={"COLUMNS": "100"}).stdout


def test_undo_again_takes_back_the_line_before_and_then_nothing(log, run, listed) -> None:
    """Until there is nothing of one's own left."""
    log("12 pale m", "2m 3f misty")
    assert run("ledger", "undo").returncode == 0
    assert run("ledger", "undo").returncode == 0
    assert listed() == []
    ran = run("ledger", "undo")
    assert ran.returncode == 2
    assert "nothing-to-undo" in ran.stderr


def test_undo_takes_back_ones_own_line_and_nobody_elses(log, run, listed) -> None:
    """Ben wrote last; Ada's undo is Ada's."""
    log("12 pale m")
    log("3 great", "--by", "Ben Sallow")
    assert "Pale Rushlet" in run("ledger", "undo").stdout
    assert [one["observers"] for one in listed()] == [["Ben Sallow"]]


def test_undo_leaves_what_somebody_else_has_named_since(log, tarn_run, run, listed) -> None:
    """The line is no longer one's own alone; the way to take it back all the same is told, and works."""
    log("12 pale m")
    [one] = listed()
    tarn_run(
        "ledger", "redetermine", one["id"], "--name", "misty", "--reason", "from the photograph", "--by", "Dan Fen"
    )
    ran = run("ledger", "undo", env={"COLUMNS": "200"})
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "Dan Fen has given it another name since your line was written" in ran.stderr
    assert f"reedmace ledger withdraw {one['id'][-12:]} --reason" in ran.stderr
    assert [one["vernacular"] for one in listed()] == ["Misty Rushlet"]
    assert run("ledger", "withdraw", one["id"][-12:], "--reason", "none there").returncode == 0


def test_signs_without_a_word_cannot_be_searched_for_and_this_is_said(log, run, listed) -> None:
    """Rather than that there is nothing; beside a word they are left out."""
    log("12 pale m # a 🐉 over the reeds")
    ran = run("ledger", "list", "--text", "🐉")
    assert (ran.returncode, "text-without-words" in ran.stderr) == (2, True)
    assert len(listed("--text", "🐉 reed")) == 1


def test_where_says_the_file(run, owned, tmp_path: Path) -> None:
    """By option, by environment, and the user's own folder otherwise; a file that is not there is said so."""
    assert run("ledger", "where").stdout == f"{tmp_path / 'walks.ledger'}\n"
    other = run("ledger", "where", "--ledger", "sub/other.ledger")
    assert other.stdout == f"{tmp_path / 'sub' / 'other.ledger'}\n"
    assert other.stderr
    own = run("ledger", "where", env={"REEDMACE_LEDGER": None})
    assert own.stdout.startswith(str(tmp_path / "data"))
    assert not (tmp_path / "sub").exists()


@pytest.mark.parametrize(
    "command", [("ledger", "list"), ("ledger", "undo"), ("check",), ("people",), ("export", "--to", "a.csv")]
)
def test_reading_where_there_is_no_ledger_begins_none(run, tmp_path: Path, command: tuple[str, ...]) -> None:
    """It is a fault that says how to begin one."""
    ran = run(*command)
    assert (ran.returncode, ran.stdout) == (1, "")
    assert "no-ledger" in ran.stderr
    assert "hint: " in ran.stderr
    assert not (tmp_path / "walks.ledger").exists()
    assert not (tmp_path / "a.csv").exists()


class TestAPathThatCannotBeALedger:
    """A folder, a read-only place, a file of something else: a fault with a remedy, and the file left as it is."""

    @pytest.fixture(params=["log", "list", "undo", "people", "check", "export"])
    def command(self, request: pytest.FixtureRequest, tarn_run):
        """Each command that opens a ledger."""
        words = {
            "log": ("log", "12 pale m", *AT, "--by", "Ada Marsh"),
            "check": ("check",),
        }

        def running(ledger: Path, run):
            name = request.param
            if name in words:
                return tarn_run(*words[name], "--ledger", ledger)
            plain = {
                "list": ("ledger", "list"),
                "undo": ("ledger", "undo"),
                "people": ("people", "--me", "Ada Marsh"),
                "export": ("export", "--to", "out.csv"),
            }
            return run(*plain[name], "--ledger", ledger)

        return running

    def refused(self, ran, code: str, exit_code: int = 1) -> None:
        """Told on standard error with a hint, no traceback."""
        assert ran.returncode == exit_code
        assert ran.stdout == ""
        assert code in ran.stderr
        assert "hint: " in ran.stderr
        assert "Traceback" not in ran.stderr

    def test_a_folder(self, command, run, tmp_path: Path) -> None:
        """The hint names a file in it."""
        (tmp_path / "folder").mkdir()
        self.refused(command(tmp_path / "folder", run), "ledger-is-a-folder")
        assert list((tmp_path / "folder").iterdir()) == []

    def test_a_file_of_something_else(self, command, run, tmp_path: Path) -> None:
        """Not one byte of it is touched."""
        diary = tmp_path / "diary.txt"
        diary.write_text("Saw a great many today.\n")
        self.refused(command(diary, run), "not-a-ledger")
        assert diary.read_text() == "Saw a great many today.\n"
        assert sorted(path.name for path in tmp_path.iterdir() if path.name.startswith("diary")) == ["diary.txt"]

    def test_another_programs_database(self, command, run, tmp_path: Path) -> None:
        """A database is not yet a ledger."""
        other = tmp_path / "recipes.db"
        with sqlite3.connect(other) as connection:
            connection.execute("CREATE TABLE recipe (name TEXT)")
        connection.close()
        bytes_before = other.read_bytes()
        self.refused(command(other, run), "not-a-ledger")
        assert other.read_bytes() == bytes_before

    @pytest.mark.parametrize("name", ["", "  "])
    def test_an_empty_name(self, tarn_run, name: str) -> None:
        """Nothing is begun under no name."""
        ran = tarn_run("log", "12 pale m", *AT, "--by", "Ada Marsh", "--ledger", name)
        self.refused(ran, "ledger-unnamed", 2)


Reading = Callable[..., "subprocess.CompletedProcess[str]"]


@pytest.fixture
def somebody_elses(clean_env: dict[str, str], log, tmp_path: Path) -> Iterator[Reading]:
    """A ledger that may be read and not written; root, who may write anywhere, lays that power down."""
    powerless: list[str] = []
    if os.geteuid() == 0:
        if shutil.which("setpriv") is None:
            pytest.skip("root may write everywhere, and there is no setpriv to lay that down")
        powerless = ["setpriv", "--bounding-set=-all", "--inh-caps=-all"]
    log("12 pale m")
    folder = Path(tempfile.mkdtemp())
    try:
        shutil.copy(tmp_path / "walks.ledger", folder / "theirs.ledger")
        (folder / "theirs.ledger").chmod(0o444)
        folder.chmod(0o555)
        script = Path(sys.executable).parent / "reedmace"

        def running(*arguments: str) -> subprocess.CompletedProcess[str]:
            return subprocess.run(
                [*powerless, script, *arguments, "--ledger", folder / "theirs.ledger"],
                input="",
                capture_output=True,
                text=True,
                env=clean_env,
                cwd="/",
                check=False,
            )

        before = sorted(folder.iterdir())
        yield running
        assert sorted(folder.iterdir()) == before
    finally:
        folder.chmod(0o755)
        shutil.rmtree(folder)


@pytest.mark.parametrize(
    "command",
    [("log", "1 azure dam m", *AT, "--by", "Ada Marsh"), ("ledger", "undo"), ("people", "--me", "Ben Sallow")],
)
def test_a_read_only_ledger_is_refused_with_a_remedy(somebody_elses: Reading, command: tuple[str, ...]) -> None:
    """No traceback, nothing written, nothing left beside it."""
    done = somebody_elses(*command)
    assert done.returncode == 1
    assert done.stdout == ""
    assert "ledger-read-only" in done.stderr
    assert "hint: " in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize(
    "command",
    [
        *(("ledger", "list"), ("ledger", "dump"), ("ledger", "audit"), ("visit", "list"), ("people",), ("check",)),
        *(("season", "2025"), ("sites",), ("export", "log"), ("reply", "--open"), ("breeding",)),
    ],
    ids=" ".join,
)
def test_a_ledger_that_may_only_be_read_is_read(somebody_elses: Reading, command: tuple[str, ...]) -> None:
    """On a write-protected stick, or in somebody else's folder; nothing is left beside it."""
    done = somebody_elses(*command)
    assert done.returncode == 0, done.stderr
    assert "ledger-" not in done.stderr
    if command[0] in ("ledger", "season", "check") and command[1:] != ("audit",):
        assert "ushlet" in done.stdout or "1 record" in done.stdout


def test_who_begins_a_ledger_is_told(tarn_run, run, tmp_path: Path) -> None:
    """A name typed wrong, or a stick that is not in, is not a ledger full of records; the second time it is no news."""
    ran = run("people", "--me", "Ada Marsh")
    assert f"This begins a new ledger: {tmp_path / 'walks.ledger'}" in ran.stderr
    # Who is put in beside begins nothing; the first walk does say where it goes.
    for who in (("--me", "Ada Marsh"), ("--add", "Moss Linley")):
        assert "begins a new ledger" not in run("people", *who).stderr
    assert "begins a new ledger" in tarn_run("log", "12 pale m", *AT).stderr
    assert "begins a new ledger" not in tarn_run("log", "11 pale m", *AT).stderr
    assert "begins a new ledger" not in run("people", "--add", "Ben Sallow").stderr
    wrong = tarn_run("log", "2 pale m", *AT, "--by", "Ada Marsh", "--ledger", "walk.ledger")
    assert "This begins a new ledger.\nIn walk.ledger." in wrong.stderr


def test_people_says_who_is_who(run) -> None:
    """`--me` once; a second name replaces it for new records and forgets nobody."""
    assert run("people", "--me", "Ada Marsh").stdout == "You are Ada Marsh.\n"
    assert run("people", "--me", "Ben Sallow").stdout == "You are Ben Sallow.\n"
    assert run("people").stdout == "Ada Marsh\nBen Sallow  (you)\n"
    assert run("people", "--me", " ada  MARSH ").stdout == "You are Ada Marsh.\n"


@pytest.mark.parametrize("name", ["", "   ", "Ada|Ben", "Ada\x1b[31m"])
def test_what_is_no_name_is_refused(run, name: str) -> None:
    """Wrong usage, with an example; no ledger is owned by nobody."""
    ran = run("people", "--me", name)
    assert ran.returncode == 2
    assert "name-unfit" in ran.stderr
    assert "\x1b" not in ran.stderr


def test_records_carry_the_name_of_who_wrote_them(log, run, listed) -> None:
    """Changing who is "me" changes no record."""
    log("12 pale m")
    run("people", "--me", "Ben Sallow")
    log("3 great")
    assert sorted(one["observers"][0] for one in listed()) == ["Ada Marsh", "Ben Sallow"]


def test_a_contact_is_kept_without_blanks_around_it_and_taken_away_by_an_empty_one(run) -> None:
    """It is copied into letters."""
    for typed, kept in (("  ada@example.org ", "ada@example.org"), ("   ", "")):
        assert run("people", "--me", "Ada Marsh", "--contact", typed).returncode == 0
        assert json.loads(run("people", "--contacts", "--json").stdout)["contact"] == kept


def test_an_audit_that_finds_something_grave_is_1(log, tarn_run, run, listed, tmp_path: Path) -> None:
    """For scripts that watch over a ledger: a photograph that is not what it was; an empty visit is not grave."""
    log("12 pale m")
    photo = tmp_path / "wing.jpg"
    photo.write_bytes(b"a picture")
    [one] = listed()
    assert tarn_run("ledger", "amend", one["id"], "photos=+wing.jpg", "--reason", "found it").returncode == 0
    assert run("ledger", "audit").returncode == 0
    photo.write_bytes(b"another picture")
    for more in ((), ("--json",)):
        ran = run("ledger", "audit", *more)
        assert (ran.returncode, "wing.jpg" in ran.stdout) == (1, True), ran
    photo.write_bytes(b"a picture")
    assert run("ledger", "withdraw", one["id"], "--reason", "counted twice").returncode == 0
    ran = run("ledger", "audit")
    assert (ran.returncode, "visit-without-sighting" in ran.stdout) == (0, True)
