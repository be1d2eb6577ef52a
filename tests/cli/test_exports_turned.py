"""Our own export, after a spreadsheet wrote its days in the way of its country, is the same records still."""

from __future__ import annotations

import csv
import re
from pathlib import Path
from typing import Any

import pytest

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
