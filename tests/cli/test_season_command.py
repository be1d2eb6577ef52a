"""`reedmace season`: a year on the screen, and its covering page."""

from __future__ import annotations

import json
from pathlib import Path


def test_names_in_doubt_are_told_apart(tarn_run, log, tmp_path: Path) -> None:
    """On the screen and on the page for anybody."""
    log("12 pale m", "3 misty ?", "2 pale ?")
    shown = " ".join(tarn_run("season", "2025").stdout.split())
    assert shown.startswith("2025: 3 records, 1 species, 1 more in doubt, 1 visit, ")
    assert "Misty Rushlet ? 1 3" in shown
    assert "Pale Rushlet ? 1 2" in shown
    assert tarn_run("season", "2025", "--html", "page.html").returncode == 0
    page = (tmp_path / "page.html").read_text(encoding="utf-8")
    assert "1, 1 more in doubt" in page
    assert ">Misty Rushlet ?<" in page
    assert ">Misty Rushlet<" not in page


def test_the_most_is_that_of_one_visit_without_its_skins(tarn_run, log, run) -> None:
    """A line of males, females and pairs is three records and one walk; visits of nothing are told beside."""
    log("12 pale m", "4 pale f", "3 cop pale", "30 ex pale", "5 ex misty")
    assert tarn_run("log", "20 pale", "--place", "SU 431 118", "--date", "13 July 2025").returncode == 0
    assert tarn_run("log", "visit 14 July 2025 @ SU431118 none seen").returncode == 0
    shown = " ".join(tarn_run("season", "2025").stdout.split())
    assert "Pale Rushlet 5 22 2025-07-12 2025-07-13" in shown
    assert "Misty Rushlet 1 5 2025-07-12" in shown
    assert "2 visits, 2 days, 1 site, 1 observer. On 1 more visit none were seen." in shown
    told = json.loads(tarn_run("season", "2025", "--json").stdout)
    assert (told["visits_none_seen"], told["two_versions"]) == (1, 0)


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
    assert (ran.returncode, "export-exists" in ran.stderr) == (1, True)
    ran = tarn_run("season", "2025", "--cover", "page.pdf")
    assert (ran.returncode, "page-format" in ran.stderr) == (2, True)


def test_the_flight_chart_fits_the_screen(tarn_run, log) -> None:
    """At 60 and 100 columns, in UTF-8 and in ASCII, one line a name."""
    log("12 pale m", "3 cop misty", "2 ex pale")
    for columns in ("60", "100"):
        for locale, adults, both in (("C.UTF-8", "●", "◉"), ("C", "O", "@")):
            env = {"COLUMNS": columns, "LC_ALL": locale, "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
            ran = tarn_run("season", "2025", env=env)
            assert (ran.returncode, ran.stderr) == (0, "")
            lines = ran.stdout.splitlines()
            start = lines.index("Flight chart, by thirds of a month:")
            rows = lines[start + 2 : start + 4]
            assert [row.split()[:2] for row in rows] == [["Misty", "Rushlet"], ["Pale", "Rushlet"]]
            assert (adults in rows[0], both in rows[1]) == (True, True)
            assert max(map(len, lines)) <= int(columns)


def test_the_page_for_anybody(tarn_run, log, tmp_path: Path) -> None:
    """One file that fetches nothing and names nobody; replaced only by --force; the same as JSON."""
    log("12 pale m", "2 ex pale")
    ran = tarn_run("season", "2025", "--html", "year.html", "--json")
    assert (ran.returncode, ran.stderr) == (0, "Page of the season written to year.html\n")
    told = json.loads(ran.stdout)
    [row] = told["page"]["chart"]
    assert (row["name"], row["adults"], row["skins"]) == ("Pale Rushlet", {"mid-july": 1}, {"mid-july": 1})
    assert (row["flies"], row["peak"]) == (["mid-may", "early-september"], ["early-june", "late-july"])
    assert told["chart"] == told["page"]["chart"]
    assert [(place["square"], place["visits"]) for place in told["page"]["places"]] == [("SU4311", 1)]
    text = (tmp_path / "year.html").read_text(encoding="utf-8")
    assert "Pale Rushlet" in text
    assert "<svg " in text
    assert not [word for word in ("Ada", "Marsh", "http:", "https:", "<script", "SU431118") if word in text]
    ran = tarn_run("season", "2025", "--html", "year.html")
    assert (ran.returncode, "export-exists" in ran.stderr, "--force" in ran.stderr) == (1, True, True)
    (tmp_path / "year.html").write_text("old", encoding="utf-8")
    assert tarn_run("season", "2025", "--html", "year.html", "--force").returncode == 0
    assert (tmp_path / "year.html").read_text(encoding="utf-8") == text
    ran = tarn_run("season", "2025", "--html", "year.pdf")
    assert (ran.returncode, "page-format" in ran.stderr) == (2, True)


def test_of_two_pages_none_is_written_where_one_cannot_be(tarn_run, log, tmp_path: Path) -> None:
    """Names and files that are there are looked at before any work is done."""
    log("12 pale m")
    (tmp_path / "there.html").write_text("mine")
    for cover, code in (("there.html", "export-exists"), ("cover.pdf", "page-format")):
        ran = tarn_run("season", "2025", "--html", "new.html", "--cover", cover)
        assert (ran.returncode, ran.stdout, code in ran.stderr) == (2 - (code == "export-exists"), "", True)
        assert not (tmp_path / "new.html").exists()
    assert (tmp_path / "there.html").read_text() == "mine"


def test_where_a_year_has_none_those_that_have_are_told(tarn_run, owned, log) -> None:
    """A year typed wrong is seen at once; a ledger without any says that."""
    assert tarn_run("season", "2024").stderr == "Nothing was logged yet.\n"
    log("12 pale m")
    assert tarn_run("season", "2024").stderr == "There are records of: 2025.\n"
    assert tarn_run("season", "2025").stderr == ""


def test_a_year_without_records_is_no_fault(tarn_run, log) -> None:
    """It says so."""
    log("12 pale m")
    assert tarn_run("season", "1999").stdout == (
        "1999: 0 records, 0 species, 0 visits, 0 days, 0 sites, 0 observers.\n"
    )


def test_a_name_that_was_answered_as_incorrect_is_marked_and_counts_no_species(
    tarn_run, log, listed, tmp_path: Path
) -> None:
    """On the screen, its page, the covering page and in breeding; until the recorder's name is accepted."""
    log("12 pale m", "2 ex misty", "3 misty", "1 great", "1 ten sunny", "--locality", "Withy Pond")
    ids = {(one["vernacular"], one["count"]): one["id"] for one in listed()}
    answers = f"id,status,verifier,correct name\n{ids['Misty Rushlet', 3]},incorrect,Tarn Fenwick,\n"
    answers += f"{ids['Great Boulderer', 1]},incorrect,Tarn Fenwick,\n"
    answers += f"{ids['Sunny Rushlet', 1]},incorrect,Tarn Fenwick,Pale Rushlet\n"
    (tmp_path / "a.csv").write_text(answers, encoding="utf-8")
    assert tarn_run("reply", "a.csv").returncode == 0
    shown = " ".join(tarn_run("season", "2025").stdout.split())
    assert shown.startswith("2025: 5 records, 2 species, 2 more answered incorrect, 1 visit, ")
    assert "Great Boulderer (answered incorrect) 1 1" in shown
    assert "Misty Rushlet 1 2" in shown
    assert "Misty Rushlet (answered incorrect) 1 3" in shown
    assert tarn_run("season", "2025", "--html", "page.html", "--cover", "cover.md").returncode == 0
    for name in ("page.html", "cover.md"):
        page = (tmp_path / name).read_text(encoding="utf-8")
        assert "2, 2 more answered incorrect" in page
        assert "Great Boulderer (answered incorrect)" in page.replace("\\", "")
    page = (tmp_path / "page.html").read_text(encoding="utf-8")
    assert "3 records under a name that the county recorder answered as incorrect" in page
    assert ">Great Boulderer<" not in page
    told = json.loads(tarn_run("season", "2025", "--json").stdout)
    assert (told["species"], told["rejected"], told["page"]["rejected"], told["page"]["not_accepted"]) == (2, 2, 2, 3)
    breeding = " ".join(tarn_run("breeding").stdout.split())
    why = "1 record, name answered incorrect by the county recorder"
    assert f"Great Boulderer, Withy Pond: {why}" in breeding
    assert f"Sunny Rushlet, Withy Pond: {why}" in breeding
    assert "confirmed Misty Rushlet" in breeding
    assert "probable Sunny Rushlet" not in breeding
    # As the recorder has it, the record is one of that name.
    assert (
        tarn_run(
            "ledger", "redetermine", ids["Sunny Rushlet", 1], "--name", "pale rushlet", "--reason", "so"
        ).returncode
        == 0
    )
    assert "2 species, 1 more answered incorrect" in tarn_run("season", "2025").stdout
