"""The file: the same bytes every time, read the same by another program, whole or not there."""

from __future__ import annotations

import csv
import errno
import io
import os
import unicodedata
from collections.abc import Iterator, Mapping
from pathlib import Path

import duckdb
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from ledger.pond import LATER, NOON, begun, counting, refused, sighting, visit
from reedmace.darwincore import DEFAULT_COLUMNS, occurrence, one_line, write_csv, write_rows
from reedmace.ledger.store import open_ledger

COLUMNS = ("occurrenceID", "scientificName", "occurrenceRemarks")
HARD = [
    "=1+1",
    "+44",
    "-3",
    "@sum",
    '"',
    '""',
    "a,b",
    "a;b\tc",
    "'quoted'",
    "NULL",
    "nan",
    "  spaced  ",
    "🐉",
    "שלום \u200f",
    "\ufeff",
    "\\N",
    "\\",
    "# not a comment",
]


def exported(ledger_path: Path, to: Path) -> bytes:
    """Export everything in a ledger; gives the bytes written."""
    with open_ledger(ledger_path) as ledger:
        write_csv(
            to,
            (
                occurrence(seen, walk, meta.modified, ledger.people.name_of)
                for seen, walk, meta in ledger.current_sightings()
            ),
            overwrite=True,
        )
    return to.read_bytes()


def read_by_duckdb(path: Path) -> list[tuple[str, ...]]:
    """Read a CSV file by DuckDB's reader, all as text, nothing guessed; header first."""
    relation = duckdb.read_csv(
        str(path),
        header=False,
        all_varchar=True,
        delimiter=",",
        quotechar='"',
        escapechar='"',
        na_values="<none>",
    )
    return [tuple(cell or "" for cell in row) for row in relation.fetchall()]


class TestAnotherProgramReadsTheSame:
    """DuckDB's CSV reader is the witness."""

    def test_a_whole_ledger(self, tmp_path: Path) -> None:
        """Every cell of every row, as Python made it."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            for day, text in enumerate(HARD, start=1):
                seen = [sighting(f"{day}{part}", f"v{day}", remarks=text, typed=text) for part in "ab"]
                ledger.record_walk(visit(day, ada, remarks=text), seen, ada, NOON, mint)
            rows = [
                occurrence(seen, walk, meta.modified, ledger.people.name_of)
                for seen, walk, meta in ledger.current_sightings()
            ]
        write_csv(tmp_path / "out.csv", rows)
        assert len(rows) == 2 * len(HARD)
        header, *found = read_by_duckdb(tmp_path / "out.csv")
        assert header == DEFAULT_COLUMNS
        assert found == [tuple(one_line(text) for text in row.values()) for row in rows]

    @settings(deadline=None, max_examples=60)
    @given(st.lists(st.text(max_size=12), min_size=1, max_size=6))
    @example(HARD)
    def test_any_text(self, tmp_path_factory: pytest.TempPathFactory, texts: list[str]) -> None:
        """docs/darwin-core.md: any text survives, but for the documented replacements."""
        path = tmp_path_factory.mktemp("any") / "out.csv"
        rows = [{"occurrenceID": str(number), "occurrenceRemarks": text} for number, text in enumerate(texts)]
        write_csv(path, rows, COLUMNS)
        expected = [COLUMNS, *((str(number), "", one_line(text)) for number, text in enumerate(texts))]
        with path.open(encoding="utf-8", newline="") as file:
            assert [tuple(row) for row in csv.reader(file)] == expected
        assert read_by_duckdb(path) == expected


class TestOneLine:
    """docs/darwin-core.md: no line breaks and no control characters inside fields."""

    @pytest.mark.parametrize(
        ("text", "line"),
        [
            ("one\ntwo", "one / two"),
            ("one\r\ntwo", "one / two"),
            ("one\n\n  two", "one / two"),
            ("one \n", "one"),
            ("\n one", "one"),
            ("\n", ""),
            ("a\u2028b\u2029c\x85d\ve\ff", "a / b / c / d / e / f"),
            ("a\tb", "a b"),
            ("a\x00b", "a\ufffdb"),
            ("\x1b[31mred", "\ufffd[31mred"),
            ("\ud83d", "\ufffd"),
            (" kept ", " kept "),
            ("a / b", "a / b"),
        ],
    )
    def test_examples(self, text: str, line: str) -> None:
        """Each kind of break and control once."""
        assert one_line(text) == line

    @settings(deadline=None)
    @given(st.text())
    def test_nothing_is_left_to_break_a_line(self, text: str) -> None:
        """No sign of Unicode's control and separator classes is left, and doing it twice changes nothing."""
        line = one_line(text)
        assert not {unicodedata.category(sign) for sign in line} & {"Cc", "Cs", "Zl", "Zp"}
        assert len(line.splitlines()) <= 1
        assert one_line(line) == line

    @pytest.mark.parametrize("text", HARD)
    def test_hostile_text_is_unchanged(self, text: str) -> None:
        """A formula is text here: what guards a spreadsheet would spoil the data for everyone else."""
        assert one_line(text) == text.replace("\t", " ")


class TestTheBytes:
    """The same ledger gives the same bytes."""

    def test_a_second_export_is_byte_identical(self, tmp_path: Path) -> None:
        """Also from a ledger in which the same walks were written in another order."""
        for name, order in (("here", (1, 2, 3)), ("there", (3, 1, 2))):
            with begun(tmp_path / name) as (ledger, ada, mint):
                for day in order:
                    pair = [sighting(f"{day}{part}", f"v{day}") for part in ("ab" if name == "here" else "ba")]
                    ledger.record_walk(visit(day, ada), pair, ada, NOON, mint)
                ledger.amend(sighting("1a", "v1", remarks="x"), "why", ada, LATER, mint)
        first = exported(tmp_path / "here", tmp_path / "1.csv")
        assert exported(tmp_path / "here", tmp_path / "1.csv") == first
        assert exported(tmp_path / "there", tmp_path / "2.csv") == first
        assert first.count(b"\n") == 7

    def test_form(self, tmp_path: Path) -> None:
        """UTF-8 without BOM, LF, a header, quotes only where needed."""
        write_csv(
            tmp_path / "x",
            [{"occurrenceID": "1", "scientificName": "Éxoticus, x", "occurrenceRemarks": 'a "b"'}],
            COLUMNS,
        )
        assert (tmp_path / "x").read_bytes() == (
            'occurrenceID,scientificName,occurrenceRemarks\n1,"Éxoticus, x","a ""b"""\n'.encode()
        )

    def test_no_rows_give_a_header(self, tmp_path: Path) -> None:
        """An empty season is a file too."""
        assert write_csv(tmp_path / "x", [], COLUMNS) == 0
        assert (tmp_path / "x").read_text() == "occurrenceID,scientificName,occurrenceRemarks\n"

    def test_to_an_open_stream(self) -> None:
        """For standard output."""
        out = io.StringIO()
        assert write_rows(out, iter([{"occurrenceID": "1"}]), ("occurrenceID",)) == 1
        assert out.getvalue() == "occurrenceID\n1\n"


class TestWholeOrNotThere:
    """An export that fails leaves what was there before, and nothing beside it."""

    def test_nothing_is_overwritten_unasked(self, tmp_path: Path) -> None:
        """A file, or a link to nowhere, stays."""
        target = tmp_path / "x.csv"
        target.write_text("mine")
        with refused("export-exists"):
            write_csv(target, [], COLUMNS)
        assert target.read_text() == "mine"
        assert write_csv(target, [], COLUMNS, overwrite=True) == 0
        assert target.read_text().startswith("occurrenceID")
        (tmp_path / "link").symlink_to(tmp_path / "nowhere")
        with refused("export-exists"):
            write_csv(tmp_path / "link", [], COLUMNS)

    def test_a_file_that_appears_meanwhile_stays(self, tmp_path: Path) -> None:
        """Another program writes the same name while the rows are streamed."""
        target = tmp_path / "x.csv"

        def rows() -> Iterator[Mapping[str, str]]:
            target.write_text("mine")
            yield {"occurrenceID": "1"}

        with refused("export-exists"):
            write_csv(target, rows(), COLUMNS)
        assert [file.name for file in tmp_path.iterdir()] == ["x.csv"]
        assert target.read_text() == "mine"

    @pytest.mark.parametrize("overwrite", [False, True])
    def test_a_failure_half_way(self, tmp_path: Path, overwrite: bool) -> None:
        """The rows stop with an error: the old file is as it was."""
        target = tmp_path / "x.csv"
        if overwrite:
            target.write_text("old")

        def rows() -> Iterator[Mapping[str, str]]:
            yield {"occurrenceID": "1"}
            raise KeyboardInterrupt

        with pytest.raises(KeyboardInterrupt):
            write_csv(target, rows(), COLUMNS, overwrite=overwrite)
        assert [file.name for file in tmp_path.iterdir()] == (["x.csv"] if overwrite else [])
        assert not overwrite or target.read_text() == "old"

    def test_a_full_disk(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        """Told with the system's reason; nothing is left."""

        def full(_: int) -> None:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

        monkeypatch.setattr(os, "fsync", full)
        with refused("export-cannot-write") as caught:
            write_csv(tmp_path / "x.csv", [{"occurrenceID": "1"}], COLUMNS)
        assert "space" in caught.value.faults[0].message
        assert list(tmp_path.iterdir()) == []

    def test_what_an_interrupted_export_left_is_no_hindrance(self, tmp_path: Path) -> None:
        """Killed half way, it leaves a hidden file; the next export passes over it."""
        left = tmp_path / ".x.csv.part1"
        left.write_text("half")
        write_csv(tmp_path / "x.csv", [], COLUMNS)
        assert left.read_text() == "half"
        assert (tmp_path / "x.csv").exists()

    def test_a_disk_without_links(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        """Some memory cards know none: the file gets its name all the same."""

        def no_links(*_: object) -> None:
            raise PermissionError(errno.EPERM, "no links here")

        monkeypatch.setattr(os, "link", no_links)
        write_csv(tmp_path / "x.csv", [], COLUMNS)
        assert [file.name for file in tmp_path.iterdir()] == ["x.csv"]

    def test_places_that_take_no_file(self, tmp_path: Path) -> None:
        """A folder, a folder that is not there, a path through a file."""
        with refused("export-is-a-folder"):
            write_csv(tmp_path, [], COLUMNS)
        (tmp_path / "file").touch()
        for target in (tmp_path / "nowhere" / "x.csv", tmp_path / "file" / "x.csv"):
            with refused("export-cannot-write"):
                write_csv(target, [], COLUMNS)


class TestColumns:
    """Columns are terms of the standard, each once."""

    def test_a_slip_is_told_before_anything_is_written(self, tmp_path: Path) -> None:
        """With the nearest term."""
        with refused("unknown-term", "column-twice") as caught:
            write_csv(tmp_path / "x", [], ("occurrenceID", "behaviour", "year", "year"))
        assert "behavior" in caught.value.faults[0].hint
        assert list(tmp_path.iterdir()) == []


def test_the_row_count_is_given(tmp_path: Path) -> None:
    """And rows are streamed: a generator is never held in memory as a whole."""
    mint = counting()
    assert write_csv(tmp_path / "x", ({"occurrenceID": mint()} for _ in range(1000)), ("occurrenceID",)) == 1000
