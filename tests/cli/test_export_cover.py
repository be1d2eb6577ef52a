"""The covering page that goes with one export: it speaks of what the file holds, and of nothing else."""

from __future__ import annotations

import hashlib
import re
from pathlib import Path
from typing import Any

import pytest

TARN = ("--for", "Tarn Fenwick")


def facts(page: Path) -> dict[str, str]:
    """The names with values of a Markdown page; of one name the first."""
    found: dict[str, str] = {}
    for name, value in re.findall(r"^- \*\*(.*?):\*\* (.*)$", page.read_text(encoding="utf-8"), re.MULTILINE):
        found.setdefault(name, value.replace("\\", ""))
    return found


@pytest.fixture
def season(log: Any) -> Any:
    """Three names at one place in vice-county 11, one of them also at another."""
    log("2m 3f pale", "3 misty", "1 great ?", "--vice-county", "11")
    log("4 pale", "--locality", "Withy Pond", "--vice-county", "12")
    return log


def test_the_page_counts_what_the_file_holds(season: Any, tarn_run: Any, tmp_path: Path) -> None:
    """With the filters, the recipient, the file's digest and the submission's number."""
    ran = tarn_run(
        *("export", "--season", "2025", "--to", "a.csv", *TARN, "--vice-county", "11", "--species", "pale rushlet"),
        *("--certainty", "certain", "--cover", "a.md", "--by", "Ada Marsh"),
    )
    assert ran.returncode == 0, ran.stderr
    assert ran.stdout == "2 records written to a.csv\nCovering page written to a.md\n"
    told = facts(tmp_path / "a.md")
    assert [told[name] for name in ("From", "For", "Period", "Records", "Species", "Visits")] == [
        *("Ada Marsh", "Tarn Fenwick", "2025", "2", "1", "1"),
    ]
    assert told["File"] == "a.csv, 2 records"
    assert told["SHA-256"] == hashlib.sha256((tmp_path / "a.csv").read_bytes()).hexdigest()
    assert told["Submission"] == "number 1"
    assert told["Chosen"] == "vice-county 11; species pale rushlet; names that are certain"
    text = (tmp_path / "a.md").read_text(encoding="utf-8")
    assert "Misty" not in text
    assert "Withy" not in text


def test_a_draft_and_an_export_for_nobody_have_no_number(season: Any, tarn_run: Any, tmp_path: Path) -> None:
    """The page as HTML, too."""
    assert tarn_run("export", "--to", "a.zip", "--cover", "a.md").returncode == 0
    told = facts(tmp_path / "a.md")
    assert (told["Records"], told["Period"], told["File"]) == ("5", "all years", "a.zip, 5 records")
    assert not {"Submission", "For"} & told.keys()
    assert tarn_run("export", "--to", "b.zip", *TARN, "--draft", "--cover", "b.md").returncode == 0
    assert "Submission" not in facts(tmp_path / "b.md")
    assert tarn_run("export", "--to", "c.zip", *TARN, "--cover", "c.html").returncode == 0
    assert (tmp_path / "c.html").read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


def test_since_last_the_page_speaks_of_what_is_sent(
    season: Any, log: Any, tarn_run: Any, run: Any, listed: Any, tmp_path: Path
) -> None:
    """New, changed and withdrawn; what stayed as it was is a number, and no line."""
    assert tarn_run("export", "--to", "a.csv", *TARN).returncode == 0
    ids = {one["vernacular"]: one["id"] for one in listed()}
    log("7 sunny")
    run("ledger", "withdraw", ids["Great Boulderer"], "--reason", "a leaf")
    run("ledger", "amend", ids["Misty Rushlet"], "count=4", "--reason", "counted again")
    ran = tarn_run("export", "--to", "b.csv", *TARN, "--since-last", "--cover", "b.md")
    assert ran.stdout.startswith("3 records written to b.csv (1 new, 1 changed, 1 withdrawn)\n"), ran.stderr
    told = facts(tmp_path / "b.md")
    assert (told["Records"], told["File"], told["Submission"]) == ("2", "b.csv, 3 records", "number 2")
    counts = [told[name] for name in ("New", "Changed", "Withdrawn", "As before, not sent again")]
    assert counts == ["1", "1", "1", "3"]
    text = (tmp_path / "b.md").read_text(encoding="utf-8")
    assert "counted again" in text
    assert "a leaf" in text
    assert "Counted from a.csv" in text
    assert "Pale Rushlet" not in text
    # Nothing more to say: neither file.
    ran = tarn_run("export", "--to", "c.csv", *TARN, "--since-last", "--cover", "c.md")
    assert ran.stdout.startswith("Nothing is new")
    assert not (tmp_path / "c.md").exists()


def test_the_same_sent_again_has_the_same_page(season: Any, tarn_run: Any, log: Any, tmp_path: Path) -> None:
    """Its changes are counted from the submission before it, not from itself."""
    assert tarn_run("export", "--to", "a.csv", *TARN).returncode == 0
    log("7 sunny")
    for name in ("b.md", "c.md"):
        assert tarn_run("export", "--to", "b.csv", *TARN, "--cover", name, "--force").returncode == 0
    assert facts(tmp_path / "b.md")["New"] == "1"
    assert (tmp_path / "b.md").read_bytes() == (tmp_path / "c.md").read_bytes()


def test_a_change_beyond_the_choice_says_that_it_is_not_in_the_file(
    season: Any, tarn_run: Any, run: Any, listed: Any, tmp_path: Path
) -> None:
    """The recipient holds it all the same."""
    assert tarn_run("export", "--to", "a.csv", *TARN).returncode == 0
    misty = next(one["id"] for one in listed() if one["vernacular"] == "Misty Rushlet")
    run("ledger", "amend", misty, "count=4", "--reason", "counted again")
    assert tarn_run("export", "--to", "b.csv", *TARN, "--species", "pale rushlet", "--cover", "b.md").returncode == 0
    assert "| changed, not among these | Misty Rushlet" in (tmp_path / "b.md").read_text(encoding="utf-8")


def test_nothing_is_written_where_the_page_cannot_be(season: Any, tarn_run: Any, run: Any, tmp_path: Path) -> None:
    """A page that is there, another kind of page, a folder; with --force it is replaced."""
    (tmp_path / "mine.md").write_text("precious")
    (tmp_path / "folder.md").mkdir()
    for name, code in (("mine.md", "export-exists"), ("mine.pdf", "page-format"), ("folder.md", "export-is-a-folder")):
        ran = tarn_run("export", "--to", "a.csv", *TARN, "--cover", name)
        assert ran.returncode in (1, 2)
        assert code in ran.stderr
        assert "hint: " in ran.stderr
        assert not (tmp_path / "a.csv").exists()
    assert (tmp_path / "mine.md").read_text() == "precious"
    assert run("export", "log", "--json").stdout == ""
    assert tarn_run("export", "--to", "a.csv", *TARN, "--cover", "mine.md", "--force").returncode == 0
    assert facts(tmp_path / "mine.md")["Records"] == "5"


def test_nothing_is_written_while_nobody_has_said_who_sends(tarn_run: Any, tmp_path: Path) -> None:
    """A file that was sent but not noted would go out again as new."""
    walk = ("log", "2 pale", "--by", "Ada Marsh", "--date", "2025-07-12", "--place", "SU 431 118")
    assert tarn_run(*walk).returncode == 0
    ran = tarn_run("export", "--to", "a.csv", *TARN, "--cover", "a.md")
    assert ran.returncode != 0
    assert "observer-unknown" in ran.stderr
    assert not list(tmp_path.glob("a.*"))


@pytest.mark.parametrize("options", [("--public",), ("--precision", "1 km")])
def test_what_keeps_something_back_has_no_covering_page(
    season: Any, tarn_run: Any, tmp_path: Path, options: tuple[str, ...]
) -> None:
    """For the page names exact places and people; also where a saved profile says so."""
    ran = tarn_run("export", "--to", "a.csv", "--cover", "a.md", *options)
    assert ran.returncode == 2
    assert "cover-tells" in ran.stderr
    assert "hint: " in ran.stderr
    assert not (tmp_path / "a.csv").exists()
    assert tarn_run("export", "--to", "b.csv", *TARN, "--save", *options).returncode == 0
    ran = tarn_run("export", "--to", "c.csv", *TARN, "--cover", "c.md")
    assert "cover-tells" in ran.stderr
    assert not (tmp_path / "c.md").exists()


def test_again_has_no_page_of_today(season: Any, tarn_run: Any) -> None:
    """The page tells of what is sent now."""
    tarn_run("export", "--to", "a.csv", *TARN)
    ran = tarn_run("export", "--to", "b.csv", *TARN, "--again", "1", "--cover", "b.md")
    assert ran.returncode == 2
    assert "--again" in ran.stderr
