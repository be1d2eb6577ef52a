"""`reedmace describe`: the description of a rarity as a page."""

from __future__ import annotations

from pathlib import Path

from tarn import FOLDER


def test_a_description_is_written_and_the_ledger_is_not(tarn_run, log, listed, run, tmp_path: Path) -> None:
    """As HTML and Markdown; what was said by option stands there, the rest stays a question."""
    log("12 pale m")
    [one] = listed()
    before = run("ledger", "dump").stdout
    for name in ("d.md", "d.html"):
        ran = tarn_run("describe", one["id"][-12:], "--to", name, "--optics", "8x42 binoculars")
        assert (ran.returncode, ran.stderr) == (0, "")
        assert "Questions left for you to answer on it" in ran.stdout
        text = (tmp_path / name).read_text(encoding="utf-8")
        assert "8x42 binoculars" in text
        assert "Pale Rushlet" in text
        assert "From how far?" in text
    assert run("ledger", "dump").stdout == before
    ran = tarn_run("describe", one["id"], "--to", "d.md")
    assert (ran.returncode, "export-exists" in ran.stderr, "--force" in ran.stderr) == (1, True, True)
    assert "8x42" in (tmp_path / "d.md").read_text(encoding="utf-8")
    assert tarn_run("describe", one["id"], "--to", "d.md", "--optics", "10x32", "--force").returncode == 0
    text = (tmp_path / "d.md").read_text(encoding="utf-8")
    assert ("10x32" in text, "8x42" in text) == (True, False)
    ran = tarn_run("describe", one["visit_id"], "--to", "e.md")
    assert (ran.returncode, "not-a-sighting" in ran.stderr) == (2, True)
    ran = tarn_run("describe", one["id"], "--to", "e.txt")
    assert (ran.returncode, "page-format" in ran.stderr) == (2, True)


def test_of_a_withdrawn_record_no_description_is_written(tarn_run, log, listed, run, tmp_path: Path) -> None:
    """It says so, and the line that lets the record stand again does."""
    log("12 pale m")
    [one] = listed()
    assert run("ledger", "withdraw", one["id"], "--reason", "not mine").returncode == 0
    ran = tarn_run("describe", one["id"][-12:], "--to", "d.md")
    assert (ran.returncode, "withdrawn" in ran.stderr, (tmp_path / "d.md").exists()) == (2, True, False)
    assert f"reedmace ledger reinstate {one['id']} --reason" in " ".join(ran.stderr.split())
    assert run("ledger", "reinstate", one["id"], "--reason", "mine after all").returncode == 0
    assert tarn_run("describe", one["id"], "--to", "d.md").returncode == 0


def test_a_seat_is_asked_what_only_the_observer_knows(seat, log, listed, tmp_path: Path) -> None:
    """Return leaves a question open."""
    log("12 pale m")
    with seat("describe", listed()[0]["id"], "--to", "d.md", "--key", FOLDER) as sat:
        sat.wait_for("flying or perched?")
        sat.type("two minutes, perched")
        for _ in range(6):
            sat.wait_for("?")
            sat.type("")
        assert sat.leave() == 0
    text = (tmp_path / "d.md").read_text(encoding="utf-8")
    assert "two minutes, perched" in text
    assert "From how far?" in text
