"""A recipient's own sheet: their headings, order, dates, bands and codes; one row a record, or one a species."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path
from typing import Any

import pytest

BY_RECORD = """\
format: 1
recipient: Tarn Fenwick
sheet:
  columns:
    Taxon: species
    Code: code
    Date: date
    Where: place as written
    Square: grid reference
    How many: count
    Sex: sex
    Stage: stage
    Seen by: recorder
    VC: vice-county
    Comment: remarks
    Group: "=Odd flies"
    "=Key": id
  bands: [1, 2-5, 6-20, 21+]
  codes: codes.csv
"""
BY_SPECIES = """\
format: 1
recipient: Moss Linley
sheet:
  rows: species
  dates: 31 Dec 2026
  delimiter: ;
  mark: false
  columns:
    Species: english name
    Date: date
    Adults: adults
    Males: males
    Females: females
    Pairs: pairs
    Copulating: copulating
    Tandem: tandem
    Ovipositing: ovipositing
    Teneral: teneral
    Exuviae: exuviae
    Notes: remarks
"""


@pytest.fixture
def exported(log: Any, run: Any, tmp_path: Path) -> Any:
    """Log lines, export them by a profile, and give the rows as a spreadsheet would read them."""

    def exporting(profile: str, *lines: str, delimiter: str = ",") -> tuple[list[dict[str, str]], Any, bytes]:
        log(*lines, "--vice-county", "11")
        (tmp_path / "profile.yaml").write_text(profile)
        ran = run("export", "--to", "sheet.csv", "--profile", "profile.yaml", "--draft")
        assert ran.returncode == 0, ran.stderr
        data = (tmp_path / "sheet.csv").read_bytes()
        text = io.StringIO(data.decode("utf-8-sig"), newline="")
        return list(csv.DictReader(text, delimiter=delimiter)), ran, data

    return exporting


def test_one_row_a_record_as_they_want_it(exported: Any, tmp_path: Path) -> None:
    """Day first, classes of counts, their own codes; the mark that spreadsheets look for, and their line ends."""
    (tmp_path / "codes.csv").write_text("name,code\nTarnula pallida,2034\nMisty Rushlet,=07\n")
    rows, ran, data = exported(
        BY_RECORD, "12 pale m", "3 cop misty # =1+1 in the reeds", "pale/misty", "~40 great ?", "1 misty f"
    )
    assert data.startswith(b"\xef\xbb\xbfTaxon,Code,Date,Where,Square,How many,")
    assert data.count(b"\r\n") == data.count(b"\n") == 6
    assert "Their list of codes lacks" in ran.stderr
    found = {(row["Taxon"], row["Sex"]): row for row in rows}
    males = found["Tarnula pallida", "male"]
    assert [males[name] for name in ("Code", "Date", "Where", "Square", "How many", "Seen by", "VC", "Group")] == [
        *("2034", "12/07/2025", "SU 431 118", "SU431118", "6-20", "Ada Marsh", "11", "Odd flies"),
    ]
    pairs = found["Tarnula nebula", "pairs"]
    assert (pairs["How many"], pairs["Code"]) == ("6-20", "'=07")
    assert pairs["Comment"].endswith("=1+1 in the reeds")
    assert found["Tarnula nebula", "female"]["How many"] == "1"
    assert next(row for name, row in found.items() if "?" in name[0])["How many"] == "21+"
    assert any(" or Tarnula nebula)" in name for name, _ in found)
    assert all(row["'=Key"] for row in rows)


def test_names_without_a_code_are_told_within_the_screen(log: Any, run: Any, tmp_path: Path) -> None:
    """However many there are."""
    (tmp_path / "profile.yaml").write_text("format: 1\nsheet:\n  columns: {Code: code}\n  codes: {Some: 1}\n")
    log("1 pale", "1 misty", "1 great", "1 pale/misty")
    ran = run("export", "--to", "sheet.csv", "--profile", "profile.yaml", env={"COLUMNS": "40"})
    lines = ran.stderr.splitlines()
    assert lines[0].startswith("Their list of codes lacks: ")
    assert len(lines) > 1
    assert max(map(len, lines)) <= 40
    assert "Great Boulderer, Misty Rushlet" in " ".join(ran.stderr.split())


def test_one_row_a_species_with_a_column_for_each_stage_and_behaviour(exported: Any) -> None:
    """Pairs count as two adults; the newly emerged do not; nothing is left out."""
    rows, ran, data = exported(
        BY_SPECIES,
        *(
            "12 pale m",
            "3 cop pale",
            "2 pale tandem",
            "4 pale f ovip",
            "7 pale ten",
            "5 exuviae pale",
            "6 pale immature",
        ),
        "misty rushlet",
        delimiter=";",
    )
    assert not data.startswith(b"\xef\xbb\xbf")
    assert ran.stdout == "2 rows written to sheet.csv\n"
    pale, misty = sorted(rows, key=lambda row: row["Species"], reverse=True)
    assert pale["Date"] == "12 Jul 2025"
    numbers = {name: pale[name] for name in ("Adults", "Males", "Females", "Pairs", "Copulating", "Tandem")}
    assert numbers == {
        "Adults": "26",
        "Males": "12",
        "Females": "4",
        "Pairs": "5",
        "Copulating": "3",
        "Tandem": "2",
    }
    assert (pale["Ovipositing"], pale["Teneral"], pale["Exuviae"]) == ("4", "7", "5")
    assert "6 immature" in pale["Notes"]  # there is no column for it
    assert (misty["Adults"], misty["Males"], misty["Notes"]) == ("present", "", "")


SEEN = (
    *("1 great ?", "3 misty cf", "2 misty prob", "exuvia 2 pale", "4 larva pale", "2 pale f ovip", "5 pale terr"),
    *("3 tan pale", "9 pale", "1 pale m # by the outflow", "2 pale m"),
)
FEW = "format: 1\nrecipient: Moss Linley\nsheet:\n  rows: {}\n  columns: {{N: english name, {}}}\n"


def test_what_no_column_counts_stands_in_the_remarks(exported: Any) -> None:
    """Doubt, sex, stage, behaviour and pairs, before the remark; two numbers of the same are one."""
    rows, ran, _ = exported(FEW.format("species", "When: date, Adults: adults, Notes: remarks"), *SEEN)
    assert sorted((row["N"], row["Adults"], row["Notes"]) for row in rows) == [
        ("Great Boulderer", "1", "name in doubt"),
        ("Misty Rushlet", "2", "name probable"),
        ("Misty Rushlet", "3", "name in doubt (cf.)"),
        (
            *("Pale Rushlet", "25"),
            "2 exuviae; 4 larvae; 2 females, ovipositing; 5 territorial; 3 pairs in tandem; 3 males; by the outflow",
        ),
    ]
    assert "stand in no column" not in ran.stderr


def test_what_a_column_counts_stands_there_only(exported: Any) -> None:
    """Those that lay eggs are females, and pairs that are not copulating are in tandem."""
    columns = (
        "Name: species, C: certainty, A: adults, M: males, Lay: ovipositing, P: pairs, Cop: copulating, "
        "Ex: exuviae, L: larvae, Notes: remarks"
    )
    rows, _, _ = exported(FEW.format("species", columns), *SEEN)
    assert sorted((row["Name"], row["C"], row["Notes"]) for row in rows) == [
        ("Mossopa grandis ?", "uncertain", ""),
        ("Tarnula nebula", "probable", ""),
        ("Tarnula nebula cf.", "uncertain", ""),
        ("Tarnula pallida", "", "5 territorial; by the outflow"),
    ]


def test_a_row_of_its_own_says_in_the_remarks_what_no_column_says(exported: Any) -> None:
    """A cast skin is no adult, and a name in doubt none that is certain."""
    rows, ran, _ = exported(FEW.format("record", "How many: count, Notes: remarks"), *SEEN)
    assert sorted((row["N"], row["How many"], row["Notes"]) for row in rows) == [
        ("Great Boulderer", "1", "name in doubt"),
        ("Misty Rushlet", "2", "name probable"),
        ("Misty Rushlet", "3", "name in doubt (cf.)"),
        ("Pale Rushlet", "1", "male; by the outflow"),
        ("Pale Rushlet", "2", "exuvia"),
        ("Pale Rushlet", "2", "female, ovipositing"),
        ("Pale Rushlet", "2", "male"),
        ("Pale Rushlet", "4", "larva"),
        ("Pale Rushlet", "5", "territorial"),
        ("Pale Rushlet", "6", "3 pairs in tandem"),
        ("Pale Rushlet", "9", ""),
    ]
    assert "stand in no column" not in ran.stderr


def test_a_row_of_its_own_says_it_once(exported: Any) -> None:
    """Where there are columns for it, the remarks are the remark."""
    columns = "Doubt: identificationQualifier, Sex: sex, St: stage, Did: behaviour, Pairs: pairs, Notes: remarks"
    rows, _, _ = exported(FEW.format("record", columns), *SEEN)
    assert sorted(row["Notes"] for row in rows) == [*[""] * 10, "by the outflow"]
    assert sorted(row["Doubt"] for row in rows) == [*[""] * 8, "?", "cf.", "probable"]


@pytest.mark.parametrize(("kind", "number"), [("species", "4 rows"), ("record", "10 rows")])
def test_a_sheet_without_remarks_says_how_many_rows_say_less(
    exported: Any, run: Any, tmp_path: Path, kind: str, number: str
) -> None:
    """Once, with a remedy; the file is the same whenever it is made."""
    source = "adults" if kind == "species" else "count"
    _, ran, data = exported(FEW.format(kind, f"How many: {source}"), *SEEN)
    said = f"Doubt, stage, sex, behaviour or pairs of {number} stand in no column: add Remarks: remarks"
    assert " ".join(ran.stderr.split()) == said
    assert run("export", "--to", "two.csv", "--profile", "profile.yaml", "--draft").stderr == ran.stderr
    assert (tmp_path / "two.csv").read_bytes() == data


def test_the_sheet_in_the_docs_is_read_as_it_stands(log: Any, run: Any, tmp_path: Path) -> None:
    """With whole numbers among its classes of counts."""
    page = Path(__file__).parents[2] / "docs" / "export.md"
    [block] = re.findall(r"^```yaml\n(.*?)^```$", page.read_text(encoding="utf-8"), re.DOTALL | re.MULTILINE)
    log("1 pale", "3 misty", "150 great")
    (tmp_path / "profile.yaml").write_text(block, encoding="utf-8")
    (tmp_path / "codes.csv").write_text("name,code\nPale Rushlet,2034\n", encoding="utf-8")
    ran = run("export", "--to", "sheet.csv", "--profile", "profile.yaml", "--draft")
    assert ran.returncode == 0, ran.stderr
    rows = list(csv.DictReader((tmp_path / "sheet.csv").read_text(encoding="utf-8-sig").splitlines()))
    found = sorted((row["Taxon"], row["Code"], row["Number"], row["Survey"]) for row in rows)
    assert found == [
        ("Mossopa grandis", "", "E", "Ponds"),
        ("Tarnula nebula", "", "B", "Ponds"),
        ("Tarnula pallida", "2034", "A", "Ponds"),
    ]


@pytest.mark.parametrize("band", ["2.5", "0", "-3", "true", "many", "[1, 2]", "{}", ""])
def test_a_class_of_counts_that_is_none_is_told_at_its_place(log: Any, run: Any, tmp_path: Path, band: str) -> None:
    """With how to write one."""
    log("1 pale")
    text = f"format: 1\nsheet:\n  columns: {{N: count}}\n  bands:\n    A: 1\n    B: {band}\n"
    (tmp_path / "profile.yaml").write_text(text)
    ran = run("export", "--to", "sheet.csv", "--profile", "profile.yaml")
    assert ran.returncode == 1
    assert "profile.yaml:6:" in ran.stderr
    assert "is no band of counts: write 1, 2-5 or 501+" in ran.stderr


@pytest.mark.parametrize(
    ("profile", "options", "code"),
    [
        (BY_SPECIES, ("--since-last",), "sheet-without-changes"),
        (BY_RECORD.replace("codes.csv", "none.csv"), (), "file-cannot-read"),
        (BY_RECORD.replace("count\n", "cuont\n").replace("codes.csv", "{}"), (), "wrong-value"),
        (BY_RECORD.replace("21+]", "many]").replace("codes.csv", "{}"), (), "wrong-value"),
    ],
)
def test_slips_are_told(log: Any, run: Any, tmp_path: Path, profile: str, options: tuple[str, ...], code: str) -> None:
    """Before anything is written."""
    log("1 pale")
    (tmp_path / "profile.yaml").write_text(profile)
    ran = run("export", "--to", "sheet.csv", "--profile", "profile.yaml", *options)
    assert ran.returncode in (1, 2)
    assert code in ran.stderr
    assert "hint: " in ran.stderr
    assert not (tmp_path / "sheet.csv").exists()


def test_since_last_in_a_sheet_with_a_column_for_it(log: Any, run: Any, listed: Any, tmp_path: Path) -> None:
    """A withdrawn record says so, and nothing that could be counted."""
    (tmp_path / "profile.yaml").write_text(
        "format: 1\nrecipient: Tarn Fenwick\nsheet:\n  columns: {Key: id, What: change, N: count, Why: remarks}\n"
    )
    log("3 pale", "1 great")
    run("export", "--to", "a.csv", "--profile", "profile.yaml", "--save")
    great = next(one["id"] for one in listed() if one["vernacular"] == "Great Boulderer")
    run("ledger", "withdraw", great, "--reason", "a leaf")
    ran = run("export", "--to", "b.csv", "--for", "Tarn Fenwick", "--since-last")
    assert ran.stdout == "1 row written to b.csv (1 withdrawn)\n", ran.stderr
    [row] = csv.DictReader((tmp_path / "b.csv").read_text(encoding="utf-8-sig").splitlines())
    assert (row["Key"], row["What"], row["N"]) == (great, "withdrawn", "")
    assert "a leaf" in row["Why"]
