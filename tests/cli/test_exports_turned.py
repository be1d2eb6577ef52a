"""Our own export, after a spreadsheet wrote its days in the way of its country, is the same records still."""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from ledger.pond import counting
from reedmace.ledger.entries import stamp
from reedmace.ledger.store import open_ledger
from reedmace.ledger.wanted import Wanted

IN_PAIRS = "Counted with 3 more that were paired and have a line of their own"


def turned(source: Path, to: Path, form: str, *, unmarked: bool = False) -> None:
    """Write the days of a file in another form; `unmarked` without what says that the lines are ours."""
    with source.open(encoding="utf-8", newline="") as text:
        lines = list(csv.DictReader(text))
    for line in lines:
        for term in ("eventDate", "dateIdentified", "verbatimEventDate"):
            if found := re.fullmatch(r"(\d{4})-(\d{2})-(\d{2})", line[term]):
                line[term] = form.format(year=found[1], month=found[2], day=found[3])
        if unmarked:
            line["dynamicProperties"] = ""
    assert any(IN_PAIRS in line["occurrenceRemarks"] for line in lines)
    with to.open("w", encoding="utf-8", newline="") as out:
        writer = csv.DictWriter(out, list(lines[0]))
        writer.writeheader()
        writer.writerows(lines)


def told(records: list[dict[str, Any]]) -> dict[str, tuple[Any, ...]]:
    """What matters of records, by their ids."""
    fields = ("date", "name", "count", "pairs", "sex", "behaviour", "remarks", "typed", "determined_on", "visit_id")
    return {one["id"]: tuple(one.get(field) for field in fields) for one in records}


@pytest.mark.parametrize("form", ["{day}/{month}/{year}", "{month}/{day}/{year}", "{day}.{month}.{year}"])
def test_days_in_another_form_change_no_record(log, tarn_run, listed, tmp_path: Path, form: str) -> None:
    """In its own ledger it is there already; in another, pairs and remarks are what they were."""
    assert log("12 pale m", "3 cop pale incl", "2 misty f # by the sluice").returncode == 0
    tarn_run("export", "--season", "2025", "--to", "out.csv")
    turned(tmp_path / "out.csv", tmp_path / "back.csv", form)
    ran = tarn_run("ledger", "import", "back.csv", "--yes")
    assert (ran.returncode, "left as they are: 3" in ran.stdout) == (0, True), ran.stdout
    other = ("--ledger", str(tmp_path / "other.ledger"))
    assert tarn_run("ledger", "import", "back.csv", "--yes", "--by", "Ada Marsh", *other).returncode == 0
    assert told(listed(*other)) == told(listed())


def test_our_words_for_pairs_counted_elsewhere_are_no_remark(log, tarn_run, listed, tmp_path: Path) -> None:
    """Of a file that no longer says that it is ours."""
    assert log("12 pale m", "3 cop pale incl", "2 misty f # by the sluice").returncode == 0
    tarn_run("export", "--season", "2025", "--to", "out.csv")
    turned(tmp_path / "out.csv", tmp_path / "back.csv", "{day}/{month}/{year}", unmarked=True)
    other = ("--ledger", str(tmp_path / "other.ledger"))
    assert tarn_run("ledger", "import", "back.csv", "--yes", "--by", "Ada Marsh", *other).returncode == 0
    assert sorted(one["remarks"] for one in listed(*other))[-1] == "by the sluice"
    assert not any("Counted with" in one["remarks"] for one in listed(*other))


SPELLINGS = (
    *("urn:uuid:{}", "{{{}}}", "'{}"),
    *(str.upper, lambda one: one.replace("-", ""), lambda one: f"URN:UUID:{one.upper()}"),
)


def spelt(source: Path, to: Path, form: str | Callable[[str], str], *, visits: bool) -> None:
    """Write the ids of a file in another spelling, those of visits as well or not."""
    with source.open(encoding="utf-8", newline="") as text:
        lines = list(csv.DictReader(text))
    for line in lines:
        for term in ("occurrenceID", "eventID")[: 1 + visits]:
            line[term] = form.format(line[term]) if isinstance(form, str) else form(line[term])
    with to.open("w", encoding="utf-8", newline="") as out:
        writer = csv.DictWriter(out, list(lines[0]))
        writer.writeheader()
        writer.writerows(lines)


@pytest.mark.parametrize("form", SPELLINGS)
def test_ids_in_another_spelling_are_the_same_records(log, tarn_run, listed, tmp_path: Path, form) -> None:
    """In their own ledger they are there already, in another they come in under the one spelling."""
    assert log("12 pale m", "3 cop pale incl", "2 misty f # by the sluice").returncode == 0
    tarn_run("export", "--season", "2025", "--to", "out.csv")
    for visits in (True, False):
        spelt(tmp_path / "out.csv", tmp_path / "back.csv", form, visits=visits)
        ran = tarn_run("ledger", "import", "back.csv", "--yes")
        assert (ran.returncode, "left as they are: 3" in ran.stdout) == (0, True), ran.stdout
        other = ("--ledger", str(tmp_path / f"other-{visits}.ledger"))
        assert tarn_run("ledger", "import", "back.csv", "--yes", "--by", "Ada Marsh", *other).returncode == 0
        assert told(listed(*other)) == told(listed())
    spelt(tmp_path / "out.csv", tmp_path / "twice.csv", form, visits=True)
    both = (tmp_path / "out.csv").read_text() + (tmp_path / "twice.csv").read_text().partition("\n")[2]
    (tmp_path / "twice.csv").write_text(both)
    codes = [json.loads(line)["code"] for line in tarn_run("check", "twice.csv", "--json").stdout.splitlines()]
    assert codes.count("id-twice") == 3


@pytest.mark.parametrize("form", SPELLINGS)
def test_a_record_kept_under_another_spelling_is_found(log, run, tarn_run, listed, tmp_path: Path, form) -> None:
    """A ledger of earlier days kept ids as they came; nothing of it is rewritten, and nothing comes in twice."""
    assert log("12 pale m", "2 misty f").returncode == 0
    tarn_run("export", "--season", "2025", "--to", "out.csv")
    old = str(tmp_path / "old.ledger")
    with open_ledger(str(tmp_path / "walks.ledger")) as ledger, open_ledger(old) as other:
        rows = list(ledger.current_sightings(Wanted()))
        me = other.people.register("Ada Marsh", counting(800, "p"))
        other.people.set_me(me)
        put = [form.format(one.id) if isinstance(form, str) else form(one.id) for one, _, _ in rows]
        visit = rows[0][1]._replace(observers=(me,))
        at = form.format(visit.id) if isinstance(form, str) else form(visit.id)
        kept = [
            one._replace(id=name, line_id=name, visit_id=at, determiner=me)
            for (one, _, _), name in zip(rows, put, strict=True)
        ]
        how = stamp("recorded", "", me, "2026-07-20T18:00:00Z")
        written = other.importing().write([(one, how) for one in (visit._replace(id=at), *kept)], counting(810, "e"))
        assert written.new == 3
    for again in (SPELLINGS[0], form, "{}"):
        spelt(tmp_path / "out.csv", tmp_path / "back.csv", again, visits=True)
        ran = tarn_run("ledger", "import", "back.csv", "--yes", "--ledger", old)
        assert "left as they are: 2" in ran.stdout, ran.stdout
    assert sorted(one["id"] for one in listed("--ledger", old)) == sorted(put)
    shown = run("ledger", "history", rows[0][0].id.upper(), "--ledger", old)
    assert shown.returncode == 0, shown.stderr
