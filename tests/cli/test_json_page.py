"""`--json` of every command: its shape and its names are those of docs/json.md, and nothing else stands beside them."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click
import pytest

from cli.test_help import ALL

PAGE = Path(__file__).resolve().parents[2] / "docs" / "json.md"
AT = ("--place", "SU 431 118", "--date", "12 July 2025")
WITHOUT = {
    "key": "a conversation",
    "ledger dump": "one JSON object a line as it is",
    "": "a group",
    "visit": "a group",
    "ledger": "a group",
    "keys": "a group",
}


def told_on_the_page() -> dict[str, tuple[str, set[str], set[str]]]:
    """For each command of the table: "one" or "lines", the names of an object's values, and those at times there."""
    if not PAGE.exists():
        pytest.skip("the docs are not beside the tests")
    rows = re.findall(r"^\| `([^`]+)` \| (one|lines) \| (.+) \|$", PAGE.read_text(encoding="utf-8"), re.MULTILINE)
    told = {}
    for command, shape, words in rows:
        names = re.findall(r"`([^`]+)`(\??)", words)
        told[command] = (shape, {name for name, sign in names if not sign}, {name for name, sign in names if sign})
    return told


@pytest.fixture
def gave(tarn_run, run, tmp_path: Path):
    """What each command of the table writes, in the order of a year."""

    def id_of(name: str) -> str:
        lines = run("ledger", "list", "--json").stdout.splitlines()
        return next(one["id"] for one in map(json.loads, lines) if one["vernacular"] == name)

    def year() -> Iterator[tuple[str, Any]]:
        yield "name", tarn_run("name", "wings=closed", "colour=blue", "--json")
        yield "apart", tarn_run("apart", "Pale Rushlet", "Misty Rushlet", "--json")
        yield "about", tarn_run("about", "Pale Rushlet", "--json")
        yield "expected", tarn_run("expected", "--json")
        yield "place", run("place", "SU 431 118", "--json")
        yield "keys list", run("keys", "list", "--json")
        yield "keys check", run("keys", "check", tarn_key(), "--json")
        yield "keys trial", run("keys", "trial", tarn_key(), "--runs", "4", "--jobs", "1", "--json")
        yield "ledger where", run("ledger", "where", "--json")
        yield "people --me", run("people", "--me", "Ada Marsh", "--json")
        yield "people", run("people", "--json")
        yield "sites add", tarn_run("sites", "add", "Sallow Farm pond", "SU 431 118", "--json")
        yield "sites", run("sites", "--json")
        yield "visit start", tarn_run("visit", "start", "0:00", "@", "SU 431 118", "--json")
        yield "visit end", run("visit", "end", "now", "--json")
        lines = ("12 pale m", "3 misty f", "great boulderer m", "2 misty")
        yield "log --dry-run", tarn_run("log", *lines, *AT, "--dry-run", "--json")
        yield "log", tarn_run("log", *lines, *AT, "--json")
        yield "visit list", run("visit", "list", "--json")
        yield "visit show", run("visit", "show", "--json")
        yield "ledger list", run("ledger", "list", "--json")
        one = id_of("Pale Rushlet")
        yield "ledger amend", tarn_run("ledger", "amend", one, "count=13", "--reason", "recounted", "--json")
        named = ("--name", "misty", "--reason", "photo", "--json")
        yield "ledger redetermine", tarn_run("ledger", "redetermine", one, *named)
        yield "ledger history", run("ledger", "history", one, "--json")
        yield "ledger withdraw", run("ledger", "withdraw", one, "--reason", "twice", "--json")
        yield "ledger reinstate", run("ledger", "reinstate", one, "--reason", "not twice", "--json")
        yield "check", tarn_run("check", "--json")
        yield "check --why", run("check", "--why", "out-of-season", "--json")
        query = json.loads(tarn_run("check", "--json").stdout.splitlines()[0])
        answer = ("--answer", query["sighting"], query["code"], "--reason", "two saw it")
        yield "check --answer", tarn_run("check", *answer, "--json")
        yield "check --answered", run("check", "--answered", "--json")
        yield "season", tarn_run("season", "2025", "--json")
        yield "breeding", tarn_run("breeding", "--json")
        yield "export", tarn_run("export", "--to", "s.csv", "--for", "Tarn Fenwick", "--save", "--json")
        yield "export --again", tarn_run("export", "--to", "a.csv", "--for", "Tarn Fenwick", "--again", "1", "--json")
        yield "export log", run("export", "log", "--json")
        yield "export profiles", run("export", "profiles", "--json")
        yield "reply --receipt", run("reply", "--receipt", "s.csv", "--loaded", "4", "--of", "4", "--json")
        answers = "Record ID,Verification,Verified by,Correct name\n"
        (tmp_path / "answers.csv").write_text(f"{one},incorrect,Tarn Fenwick,Pale Rushlet\n".join([answers, ""]))
        yield "reply", tarn_run("reply", "answers.csv", "--json", "--yes")
        yield "reply --open", tarn_run("reply", "--open", "--json")
        yield "ledger import", tarn_run("ledger", "import", "s.csv", "--json")
        yield "ledger backup", run("ledger", "backup", "b.ledger", "--json")
        yield "ledger restore", run("ledger", "restore", "b.ledger", "--ledger", "c.ledger", "--json")
        for ledger, count in (("walks.ledger", "21"), ("c.ledger", "22")):
            done = tarn_run("ledger", "amend", one, f"count={count}", "--reason", "counted", "--ledger", ledger)
            assert done.returncode == 0, done
        yield "ledger merge", run("ledger", "merge", "c.ledger", "--json")
        waiting = run("ledger", "settle", "--json")
        yield "ledger settle", waiting
        entry = json.loads(waiting.stdout)["choices"][0]["entry"]
        yield "ledger settle --keep", run("ledger", "settle", one, "--keep", entry, "--json")
        yield "ledger audit", run("ledger", "audit", "--json")
        marks = ("wings=closed", "colour=blue", "bar=present", "collar=straight", "bump=present", "back-mark=cup")
        named = tarn_run("key", *AT, stdin="\n".join([*marks, "done", "y", *[""] * 9]))
        assert "Logged" in named.stdout, named
        yield "ledger review", tarn_run("ledger", "review", "--all", "--json")
        yield "describe", tarn_run("describe", one, "--to", "d.html", "--json")
        yield "ledger forget", run("ledger", "forget", "Tarn Fenwick", "--yes", "--json")
        done = tarn_run("log", "4 misty", *AT, "--by", "Ben Sallow")
        assert done.returncode == 0, done
        yield "ledger same", run("ledger", "same", "--json")
        yield "ledger undo", run("ledger", "undo", "--line", "--json")

    return year


def tarn_key() -> Path:
    """The made key's folder."""
    from tarn import FOLDER

    return FOLDER


def test_every_command_gives_the_shape_and_the_names_of_the_page(gave) -> None:
    """Many things are one object a line, one thing is one object; nothing but JSON stands on standard output."""
    page = told_on_the_page()
    ran = dict(gave())
    for command, done in ran.items():
        assert done.returncode == 0, (command, done)
        shape, names, sometimes = page[command]
        objects = (
            [json.loads(line) for line in done.stdout.splitlines()] if shape == "lines" else [json.loads(done.stdout)]
        )
        assert objects, command
        for one in objects:
            assert names <= set(one), (command, set(one))
            assert command == "export profiles" or set(one) <= names | sometimes, (command, set(one))
    assert set(page) == set(ran)


def test_every_command_that_gives_json_is_on_the_page() -> None:
    """And there are few that give none, each with a reason."""
    page = {command.partition(" --")[0] for command in told_on_the_page()}
    for path, command in ALL:
        gives = any("--json" in one.opts for one in command.params if isinstance(one, click.Option))
        assert gives == (" ".join(path) not in WITHOUT), path
        assert not gives or " ".join(path) in page, path


def test_a_fault_is_an_object_on_standard_error(run) -> None:
    """One a line, where JSON was asked for: of what was typed, of a file, of wrong usage."""
    ran = run("about", "zzz", "--json")
    assert (ran.returncode, ran.stdout) == (2, "")
    [fault] = [json.loads(line)["fault"] for line in ran.stderr.splitlines() if line.startswith("{")]
    assert {name: fault[name] for name in ("code", "said")} == {"code": "unknown-name", "said": "zzz"}
    assert fault["hint"]
    ran = run("log", "4 zzz", "5 yyy", *AT, "--json")
    faults = [json.loads(line)["fault"] for line in ran.stderr.splitlines() if line.startswith("{")]
    assert [(one["line"], one["column"]) for one in faults] == [(1, 3), (2, 3)]
    assert json.loads(run("season", "--json").stderr)["fault"]["code"] == "word-missing"
    assert json.loads(run("season", "2026", "--jso", "--json").stderr)["fault"]["said"] == "--jso"


def test_words_behind_two_dashes_ask_for_no_json(run) -> None:
    """What stands there is no option."""
    ran = run("about", "--", "--json")
    assert ran.returncode == 2
    assert ran.stderr.endswith("name\n")
    assert "{" not in ran.stderr


def test_two_walks_that_are_one_are_told(tarn_run, owned, run) -> None:
    """By the ids of visits and sightings; what was decided too."""
    for number, by in ((3, "Ada Marsh"), (5, "Ben Sallow")):
        assert tarn_run("log", f"{number} pale rushlet m", *AT, "--by", by).returncode == 0
    one = json.loads(run("ledger", "same", "--json").stdout)
    assert [len(one["visits"]), len(one["names"])] == [2, 1]
    done = json.loads(run("ledger", "same", *one["visits"], "--larger", "--json").stdout)
    assert done == one | {"different": False, "withdrawn": one["names"][0]["smaller"]}
    assert run("ledger", "same", "--json").stdout == ""


def test_two_walks_that_are_two_are_told(tarn_run, owned, run) -> None:
    """Said once or twice, it is the same."""
    for number, by in ((3, "Ada Marsh"), (5, "Ben Sallow")):
        assert tarn_run("log", f"{number} pale rushlet m", *AT, "--by", by).returncode == 0
    visits = json.loads(run("ledger", "same", "--json").stdout)["visits"]
    for _ in range(2):
        done = json.loads(run("ledger", "same", *visits, "--different", "--json").stdout)
        assert (done["different"], done["withdrawn"]) == (True, [])
