"""`reedmace season`: a year on the screen, and its covering page."""

from __future__ import annotations

import json
from pathlib import Path


def test_a_year_on_the_screen_and_as_a_page(tarn_run, log, tmp_path: Path) -> None:
    """Totals and first and last days; the page as HTML and as Markdown, never over a file that is there."""
    log("12 pale m", "3 cop misty")
    ran = tarn_run("season", "2025", env={"COLUMNS": "60"})
    totals = "2025: 2 records, 2 species, 1 visit, 1 day, 1 site, 1 observer."
    assert " ".join(ran.stdout.split()).startswith(totals)
    assert "Pale Rushlet" in ran.stdout
    assert "2025-07-12" in ran.stdout
    assert max(map(len, ran.stdout.splitlines())) <= 60
    found = json.loads(tarn_run("season", "2025", "--json").stdout)
    assert (found["records"], [line["records"] for line in found["lines"]]) == (2, [1, 1])
    for name, begins in (("page.html", "<!DOCTYPE html>"), ("page.md", "# Records of 2025")):
        ran = tarn_run("season", "2025", "--cover", name, "--for", "Tarn Fenwick")
        assert (ran.returncode, ran.stderr) == (0, "")
        text = (tmp_path / name).read_text(encoding="utf-8")
        assert text.startswith(begins)
        assert "Tarn Fenwick" in text
    ran = tarn_run("season", "2025", "--cover", "page.md")
    assert (ran.returncode, "file-exists" in ran.stderr) == (1, True)
    ran = tarn_run("season", "2025", "--cover", "page.pdf")
    assert (ran.returncode, "page-format" in ran.stderr) == (2, True)


def test_a_year_without_records_is_no_fault(tarn_run, log) -> None:
    """It says so."""
    log("12 pale m")
    assert tarn_run("season", "1999").stdout == (
        "1999: 0 records, 0 species, 0 visits, 0 days, 0 sites, 0 observers.\n"
    )
