"""What county recorders said goes out with the records, comes back with them, and never into what was sent before."""

from __future__ import annotations

import csv
import json
from pathlib import Path


def test_the_answer_goes_out_and_comes_back_byte_for_byte(tarn_run, run, log, listed, tmp_path: Path) -> None:
    """Status, verifier, day and remark; imported into an empty ledger and exported again, the file is the same."""
    log("12 pale m", "3 cop misty")
    [pale, misty] = sorted(listed(), key=lambda one: one["name"], reverse=True)
    (tmp_path / "a.csv").write_text(
        f"id,status,verifier,date verified,remark,correct name\n{pale['id']},correct,Tarn Fenwick,2/11/2025,fine,\n"
        f"{misty['id']},incorrect,Tarn Fenwick,2/11/2025,wing bases,Sunny Rushlet\n",
        encoding="utf-8",
    )
    assert tarn_run("reply", "a.csv").returncode == 0
    assert tarn_run("export", "--to", "one.csv").returncode == 0
    rows = {row["occurrenceID"]: row for row in csv.DictReader((tmp_path / "one.csv").read_text("utf-8").splitlines())}
    row = rows[pale["id"]]
    assert row["identificationVerificationStatus"] == "correct"
    assert "Verification: correct, Tarn Fenwick, 2025-11-02. fine" in row["identificationRemarks"]
    assert json.loads(row["dynamicProperties"])["verification"]["verifier"] == "Tarn Fenwick"
    assert rows[misty["id"]]["identificationVerificationStatus"] == "incorrect"
    assert rows[misty["id"]]["scientificName"] == misty["name"]
    other = {"REEDMACE_LEDGER": str(tmp_path / "other.ledger")}
    assert tarn_run("ledger", "import", "one.csv", "--by", "Ada Marsh", env=other).returncode == 0
    assert tarn_run("export", "--to", "two.csv", env=other).returncode == 0
    assert (tmp_path / "two.csv").read_bytes() == (tmp_path / "one.csv").read_bytes()
    assert tarn_run("ledger", "import", "one.csv", "--by", "Ada Marsh", env=other).returncode == 0
    assert run("ledger", "audit", env=other).stdout == "Everything is as it should be.\n"


def test_a_submission_made_again_does_not_know_what_was_answered_later(tarn_run, log, listed, run, tmp_path) -> None:
    """The same bytes as on the day it was sent."""
    log("12 pale m")
    [pale] = listed()
    assert tarn_run("export", "--to", "one.csv", "--for", "Tarn Fenwick").returncode == 0
    # The clock of entries counts whole seconds: the answer comes in a later one.
    import time

    time.sleep(1.1)
    (tmp_path / "a.csv").write_text(f"id,status,verifier\n{pale['id']},correct,Tarn Fenwick\n", encoding="utf-8")
    assert tarn_run("reply", "a.csv").returncode == 0
    ran = tarn_run("export", "--to", "again.csv", "--for", "Tarn Fenwick", "--again", "1")
    assert ran.returncode == 0, ran.stderr
    assert (tmp_path / "again.csv").read_bytes() == (tmp_path / "one.csv").read_bytes()
    assert tarn_run("export", "--to", "now.csv").returncode == 0
    assert ",correct," in (tmp_path / "now.csv").read_text(encoding="utf-8")


SHEET = """\
format: 1
recipient: Tarn Fenwick
sheet:
  columns: {Taxon: species, N: count, Decision: verification, By: verifier, On: date verified, Key: id}
"""
BY_SPECIES = """\
format: 1
recipient: Moss Linley
sheet:
  rows: species
  dates: 31 Dec 2026
  columns: {Taxon: species, Adults: adults, Decision: verification, By: verifier, On: date verified}
"""


def answered(tarn_run, log, listed, tmp_path: Path) -> None:
    """Four records: one answered as correct, one as wrong with another name, one with a remark that names the place."""
    log("12 pale m", "5 pale f", "3 misty", "1 great")
    ids = {(one["vernacular"], one["sex"]): one["id"] for one in listed()}
    (tmp_path / "a.csv").write_text(
        "id,status,verifier,date verified,remark,correct name\n"
        f"{ids['Pale Rushlet', 'male']},correct,Tarn Fenwick,2/11/2025,seen at SU 431 118,\n"
        f"{ids['Misty Rushlet', None]},incorrect,Tarn Fenwick,,wing bases,Sunny Rushlet\n",
        encoding="utf-8",
    )
    assert tarn_run("reply", "a.csv").returncode == 0


def test_a_sheet_of_their_own_can_ask_for_it(tarn_run, log, listed, tmp_path: Path) -> None:
    """Under headings of theirs; the day as the sheet writes days; nothing where nobody answered."""
    answered(tarn_run, log, listed, tmp_path)
    (tmp_path / "p.yaml").write_text(SHEET, encoding="utf-8")
    ran = tarn_run("export", "--to", "s.csv", "--profile", "p.yaml", "--draft")
    assert ran.returncode == 0, ran.stderr
    rows = list(csv.DictReader((tmp_path / "s.csv").read_text("utf-8-sig").splitlines()))
    assert list(rows[0]) == ["Taxon", "N", "Decision", "By", "On", "Key"]
    found = {(row["Taxon"], row["N"]): (row["Decision"], row["By"], row["On"]) for row in rows}
    assert found == {
        ("Tarnula pallida", "12"): ("correct", "Tarn Fenwick", "02/11/2025"),
        ("Tarnula pallida", "5"): ("", "", ""),
        ("Tarnula nebula", "3"): ("incorrect", "Tarn Fenwick", ""),
        ("Mossopa grandis", "1"): ("", "", ""),
    }
    # No finer than 1 km: the remark may name the place, the decision does not.
    assert tarn_run("export", "--to", "t.csv", "--precision", "1 km").returncode == 0
    text = (tmp_path / "t.csv").read_text(encoding="utf-8")
    assert "Verification: correct, Tarn Fenwick, 2025-11-02" in text
    assert "SU 431 118" not in text


def test_one_row_a_species_keeps_different_answers_apart(tarn_run, log, listed, tmp_path: Path) -> None:
    """What was said of the males is not said of the females; without these columns they stand in one row."""
    answered(tarn_run, log, listed, tmp_path)
    (tmp_path / "p.yaml").write_text(BY_SPECIES, encoding="utf-8")
    assert tarn_run("export", "--to", "s.csv", "--profile", "p.yaml", "--draft").returncode == 0
    rows = list(csv.reader((tmp_path / "s.csv").read_text("utf-8-sig").splitlines()))
    pale = sorted(row[1:] for row in rows if row[0] == "Tarnula pallida")
    assert pale == [["12", "correct", "Tarn Fenwick", "2 Nov 2025"], ["5", "", "", ""]]
    plain = BY_SPECIES.replace(", Decision: verification, By: verifier, On: date verified", "")
    (tmp_path / "p.yaml").write_text(plain, encoding="utf-8")
    assert tarn_run("export", "--to", "t.csv", "--profile", "p.yaml", "--draft").returncode == 0
    assert "Tarnula pallida,17" in (tmp_path / "t.csv").read_text("utf-8-sig")


def test_the_public_version_has_the_word_alone(tarn_run, log, listed, tmp_path: Path) -> None:
    """Of exact and of blurred records: not who said it, not when, not the remark; and it says so."""
    answered(tarn_run, log, listed, tmp_path)
    county = "format: 1\ncounty: Harrowshire\nspecies:\n  - {name: Sunny Rushlet, blur: 10 km}\n"
    (tmp_path / "county.yaml").write_text(county, encoding="utf-8")
    ran = tarn_run("export", "--to", "exact.csv", "--public")
    assert ran.returncode == 0, ran.stderr
    log("2 sunny")
    ran = tarn_run("export", "--to", "blurred.csv", "--public", "--county", "county.yaml")
    assert ran.returncode == 0, ran.stderr
    for name, generalised in (("exact.csv", False), ("blurred.csv", True)):
        text = (tmp_path / name).read_text(encoding="utf-8")
        for word in ("Fenwick", "T. F.", "2025-11-02", "wing bases", "SU 431 118"):
            assert word not in text
        rows = list(csv.DictReader(text.splitlines()))
        found = {(row["vernacularName"], row["individualCount"]): row for row in rows}
        assert found["Pale Rushlet", "12"]["identificationVerificationStatus"] == "correct"
        assert found["Misty Rushlet", "3"]["identificationVerificationStatus"] == "incorrect"
        assert found["Pale Rushlet", "5"]["identificationVerificationStatus"] == ""
        assert bool(found["Pale Rushlet", "12"]["dataGeneralizations"]) == generalised
        assert "who verified the name" in found["Pale Rushlet", "12"]["informationWithheld"]
        assert "who verified the name" not in found["Pale Rushlet", "5"]["informationWithheld"]
