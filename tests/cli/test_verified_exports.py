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
