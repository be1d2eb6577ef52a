"""`check` and `ledger import` take archives as they take tables."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from darwincore.test_read_archive import DWC, META, TABLE, packed


def test_the_commands_read_archives(log: Any, tarn_run: Any, run: Any, tmp_path: Path) -> None:
    """Our own comes back whole; one that cannot be read is a fault with exit code 1."""
    log("2m 3f pale", "3 cop misty")
    run("export", "--to", "a.zip")
    run("export", "--to", "a.csv")
    checked = tarn_run("check", "a.zip", "--json")
    assert checked.returncode == 0, checked.stderr
    assert checked.stdout == tarn_run("check", "a.csv", "--json").stdout
    ran = tarn_run("ledger", "import", "a.zip", "--ledger", "other.ledger", "--by", "Ada Marsh", "--yes")
    assert ran.returncode == 0, ran.stderr
    run("export", "--to", "b.csv", "--ledger", "other.ledger")
    assert (tmp_path / "b.csv").read_bytes() == (tmp_path / "a.csv").read_bytes()
    packed(tmp_path / "bad.zip", meta_xml=META)
    for command in (("check", "bad.zip"), ("ledger", "import", "bad.zip", "--yes")):
        ran = tarn_run(*command)
        assert (ran.returncode, ran.stdout) == (1, "")
        assert "archive-file-missing" in ran.stderr
        assert "Traceback" not in ran.stderr
    data = (tmp_path / "a.csv").read_text().replace("type,basis", "occurrenceID,basis", 1)
    (tmp_path / "twice.csv").write_text(data)
    assert "column-twice" in tarn_run("ledger", "import", "twice.csv", "--yes").stderr


def test_faulty_rows_of_an_archive_lie_beside_it(tarn_run: Any, owned: Any, tmp_path: Path) -> None:
    """Not where nobody finds them."""
    table = TABLE.replace("2026-06-14", "the 31st of June")
    meta = META.replace(
        'default="Event" term="http://purl.org/dc/elements/1.1/type"', f'default="Tarn" term="{DWC}locality"'
    )
    packed(tmp_path / "a.zip", meta_xml=meta, occurrence_txt=table)
    ran = tarn_run("ledger", "import", "a.zip", "--yes")
    assert ran.returncode == 1
    assert (tmp_path / "a.zip.faults.csv").exists()
