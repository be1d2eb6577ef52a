"""What `--species` takes: names as `log` reads them; a name that could be several is never "none"."""

from __future__ import annotations

import csv
import json
from collections.abc import Callable
from pathlib import Path

import pytest

from conftest import Ran
from tarn import FOLDER

LINES = (
    "2 common darter",
    "1 darter sp.",
    "1 large red",
    "3 emp m",
    "2 azure dam",
    "4 azure/variable",
    "1 southern damselfly",
)


@pytest.fixture
def listed(run: Callable[..., Ran]) -> Callable[..., list[str]]:
    """The English names that `ledger list --species` gives, of a ledger with a few sightings."""
    logged = run("log", "--date", "2026-07-12", "--place", "SU 431 118", "--by", "Ada Marsh", *LINES)
    assert logged.returncode == 0, logged.stderr

    def listing(name: str) -> list[str]:
        done = run("ledger", "list", "--json", "--species", name)
        assert done.returncode == 0, done.stderr
        return sorted(json.loads(line)["vernacular"] for line in done.stdout.splitlines())

    return listing


def test_names_are_read_as_log_reads_them_groups_with_all_that_is_theirs(listed: Callable[..., list[str]]) -> None:
    assert listed("darter") == ["Common Darter", "darter"]
    assert listed("Libellulidae") == ["Common Darter", "darter"]
    assert listed("common darters") == ["Common Darter"]
    assert listed("emperor") == listed("emp") == ["Emperor Dragonfly"]
    assert listed("lrd") == ["Large Red Damselfly"]
    assert listed("azure/variable") == ["Azure Damselfly", "Azure Damselfly or Variable Damselfly"]
    assert listed("downy") == []


@pytest.mark.parametrize(
    ("name", "code", "hint"), [("emporer", "unknown-name", "Emperor"), ("azure", "ambiguous-name", "Azure Damselfly")]
)
def test_an_unknown_or_ambiguous_name_is_a_fault_and_not_none(
    run: Callable[..., Ran], listed: Callable[..., list[str]], tmp_path: Path, name: str, code: str, hint: str
) -> None:
    for words in (
        ("ledger", "list", "--species", name),
        ("breeding", "--species", name),
        ("export", "--to", "x.csv", "--species", name),
    ):
        done = run(*words)
        assert done.returncode == 2, words
        assert code in done.stderr
        assert hint in done.stderr
    assert not (tmp_path / "x.csv").exists()


def test_an_export_and_the_breeding_status_take_such_names_too(
    run: Callable[..., Ran], listed: Callable[..., list[str]], tmp_path: Path
) -> None:
    assert run("export", "--to", "d.csv", "--species", "darter").returncode == 0
    with (tmp_path / "d.csv").open(encoding="utf-8") as file:
        assert sorted(row["scientificName"] for row in csv.DictReader(file)) == ["Sympetrum", "Sympetrum striolatum"]
    assert "Emperor" in run("breeding", "--species", "emp").stdout


def test_names_that_only_the_ledger_knows_are_found_by_their_text(
    run: Callable[..., Ran], listed: Callable[..., list[str]]
) -> None:
    """Sightings written with another key, in full, by their genus or by beginnings of their words."""
    at = ("--date", "2026-07-13", "--place", "SU 431 118", "--by", "Ada Marsh", "--key", FOLDER)
    assert run("log", *at, "2 pale rushlet").returncode == 0
    for name in ("Pale Rushlet", "pale rush", "Tarnula pallida", "tarnula"):
        assert listed(name) == ["Pale Rushlet"], name
