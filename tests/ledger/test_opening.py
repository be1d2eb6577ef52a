"""Opening: what is no ledger is told with a remedy and left untouched."""

from __future__ import annotations

import os
import random
import shutil
import sqlite3
import subprocess
import tempfile
from pathlib import Path

import pytest

from ledger.pond import NOON, begun, child_command, healthy, raw, refused, rows, sighting, visit
from reedmace.faults import Refused
from reedmace.ledger.store import open_ledger


def walked(path: Path, walks: int = 1) -> None:
    """Begin a ledger with some walks."""
    with begun(path) as (ledger, ada, mint):
        for day in range(1, walks + 1):
            ledger.record_walk(visit(day, ada), [sighting(f"{day}", f"v{day}")], ada, NOON, mint)


class TestBeginning:
    """A ledger is begun where there is none, if asked for."""

    def test_with_its_folders(self, tmp_path: Path) -> None:
        """Signs that mean something in URIs are plain in paths."""
        path = tmp_path / "a folder" / "100% #1?mode=ro" / "pond & é.reedmace"
        walked(path)
        assert healthy(path)
        assert [file.name for file in path.parent.iterdir()] == [path.name]

    def test_a_relative_path(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        """As people type it."""
        monkeypatch.chdir(tmp_path)
        walked(Path("pond"))
        with open_ledger("pond", create=False) as ledger:
            assert len(list(ledger.current_sightings())) == 1

    def test_not_unless_asked(self, tmp_path: Path) -> None:
        """Reading makes neither file nor folder."""
        with refused("no-ledger"), open_ledger(tmp_path / "new" / "pond", create=False):
            pass
        assert list(tmp_path.iterdir()) == []

    def test_an_empty_file_is_begun_only_if_asked(self, tmp_path: Path) -> None:
        """An empty file may be what is left of a beginning; nothing in it can be lost."""
        path = tmp_path / "pond"
        path.touch()
        with refused("no-ledger"), open_ledger(path, create=False):
            pass
        assert path.stat().st_size == 0
        walked(path)
        assert healthy(path)

    def test_a_beginning_cut_short_is_gone_on_with(self, tmp_path: Path) -> None:
        """Killed between the first page and the tables: the next opening carries on."""
        path = tmp_path / "pond"
        with raw(path) as connection:
            connection.execute("PRAGMA journal_mode = WAL")
        assert path.stat().st_size > 0
        with refused("no-ledger"), open_ledger(path, create=False):
            pass
        walked(path)
        assert healthy(path)


class TestWhatIsNoLedger:
    """Refused with a remedy, and not a byte changed."""

    def test_a_folder(self, tmp_path: Path) -> None:
        """The hint names a file in it."""
        with refused("ledger-is-a-folder") as caught, open_ledger(tmp_path):
            pass
        assert str(tmp_path) in caught.value.faults[0].hint
        assert list(tmp_path.iterdir()) == []

    @pytest.mark.parametrize(
        "content",
        [b"x", b"occurrenceID,scientificName\n1,Aeshna mixta\n", b"SQLite format 2\x00", b"\x00" * 5000],
    )
    def test_another_file(self, tmp_path: Path, content: bytes) -> None:
        """Short or long, text or not."""
        path = tmp_path / "walk.csv"
        path.write_bytes(content)
        with refused("not-a-ledger"), open_ledger(path):
            pass
        assert path.read_bytes() == content
        assert list(tmp_path.iterdir()) == [path]

    def test_broken_after_the_first_words(self, tmp_path: Path) -> None:
        """It begins like a SQLite file and goes on as rubbish."""
        path = tmp_path / "pond"
        path.write_bytes(b"SQLite format 3\x00" + b"rubbish " * 1000)
        with refused("not-a-ledger"), open_ledger(path):
            pass

    @pytest.mark.parametrize(
        "statement", ["CREATE TABLE entry (x)", "PRAGMA user_version = 1", "PRAGMA application_id = 7"]
    )
    def test_another_database(self, tmp_path: Path, statement: str) -> None:
        """Another program's SQLite file is not even switched to WAL."""
        path = tmp_path / "other.db"
        with raw(path) as connection:
            connection.execute(statement)
        before = path.read_bytes()
        with refused("not-a-ledger"), open_ledger(path):
            pass
        assert path.read_bytes() == before
        assert list(tmp_path.iterdir()) == [path]

    @pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
    def test_a_pipe(self, tmp_path: Path) -> None:
        """Opening it would wait for ever."""
        os.mkfifo(tmp_path / "pipe")
        with refused("not-a-ledger"), open_ledger(tmp_path / "pipe"):
            pass

    def test_a_path_through_a_file(self, tmp_path: Path) -> None:
        """A file stands where a folder should."""
        (tmp_path / "file").write_text("x")
        for path in (tmp_path / "file" / "pond", tmp_path / "file" / "deeper" / "pond"):
            with refused("ledger-cannot-open"), open_ledger(path):
                pass

    def test_a_name_no_system_takes(self, tmp_path: Path) -> None:
        """Too long, or with a NUL in it."""
        for name in ("x" * 5000, "a\x00b"):
            with refused("ledger-cannot-open"), open_ledger(tmp_path / name):
                pass

    def test_an_old_sqlite(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        """STRICT tables came with SQLite 3.37."""
        monkeypatch.setattr(sqlite3, "sqlite_version_info", (3, 36, 0))
        with refused("sqlite-too-old"), open_ledger(tmp_path / "pond"):
            pass
        assert list(tmp_path.iterdir()) == []


def test_a_locked_ledger_is_a_fault_and_nothing_is_written(tmp_path: Path) -> None:
    """Another program holds the pen for longer than we wait; reading goes on meanwhile."""
    path = tmp_path / "pond"
    walked(path)
    with raw(path) as other:
        other.execute("BEGIN IMMEDIATE")
        with open_ledger(path, patience_s=0.05) as ledger:
            ada = ledger.people.me()
            assert ada
            with refused("ledger-busy"):
                ledger.record_walk(visit(2, ada), [sighting("two", "v2")], ada, NOON, lambda: "e-2")
            assert len(list(ledger.current_sightings())) == 1
            other.execute("COMMIT")
            ledger.record_walk(visit(2, ada), [sighting("two", "v2")], ada, NOON, iter(["e-2", "e-3"]).__next__)
            assert len(list(ledger.current_sightings())) == 2


class TestNoRightToWrite:
    """The file, or its folder, may only be read."""

    @pytest.fixture
    def folder(self) -> object:
        """A folder that other users can enter."""
        made = Path(tempfile.mkdtemp())
        made.chmod(0o755)
        yield made
        made.chmod(0o755)
        shutil.rmtree(made)

    def log_without_rights(self, path: Path) -> list[str]:
        """Try to log as somebody without special rights; gives what was said."""
        command, environment = child_command("try", path)
        done = subprocess.run(command, env=environment, capture_output=True, text=True, timeout=60)
        assert done.stderr == ""
        return done.stdout.split()

    def test_the_file(self, folder: Path) -> None:
        """Reading works, writing is refused."""
        walked(folder / "pond")
        before = rows(folder / "pond")
        (folder / "pond").chmod(0o444)
        folder.chmod(0o777)
        assert self.log_without_rights(folder / "pond") == ["1", "ledger-read-only"]
        assert rows(folder / "pond") == before

    def test_a_backup_that_may_only_be_read(self, folder: Path) -> None:
        """Not in WAL mode, and it may not be switched: reading works all the same."""
        with begun(folder / "pond") as (ledger, ada, mint):
            ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, mint)
            ledger.backup(folder / "copy")
        before = (folder / "copy").read_bytes()
        (folder / "copy").chmod(0o444)
        folder.chmod(0o555)
        assert self.log_without_rights(folder / "copy") == ["1", "ledger-read-only"]
        assert (folder / "copy").read_bytes() == before

    def test_the_folder(self, folder: Path) -> None:
        """SQLite cannot put its files beside the ledger."""
        walked(folder / "pond")
        before = (folder / "pond").read_bytes()
        (folder / "pond").chmod(0o666)
        folder.chmod(0o555)
        said = self.log_without_rights(folder / "pond")
        assert said[-1] in ("ledger-read-only", "ledger-cannot-open")
        assert (folder / "pond").read_bytes() == before

    def test_a_link_to_one_beside_which_something_was_left(self, folder: Path) -> None:
        """What was written last stands there, and would be missing from what is read."""
        (folder / "there").mkdir()
        (folder / "links").mkdir()
        walked(folder / "pond")
        with begun(folder / "pond", map("more-{}".format, range(99)).__next__) as (ledger, ada, mint):
            ledger.record_walk(visit(2, ada), [sighting("two", "v2")], ada, NOON, mint)
            for name in ("pond", "pond-wal"):
                shutil.copy(folder / name, folder / "there" / name)
        (folder / "links" / "pond").symlink_to(folder / "there" / "pond")
        for name in ("there", "links"):
            (folder / name).chmod(0o555)
        try:
            assert self.log_without_rights(folder / "links" / "pond") == self.log_without_rights(
                folder / "there" / "pond"
            )
        finally:
            for name in ("there", "links"):
                (folder / name).chmod(0o755)

    def test_others_write_while_somebody_reads_who_can_put_nothing_beside_it(self, folder: Path) -> None:
        """What is read is of one moment: not of two, and nobody is told that a sound ledger is damaged."""
        pond = folder / "pond"
        with begun(pond) as (ledger, ada, mint):
            for day in range(1, 11):
                many = [sighting(f"{day} {at}", f"v{day}", remarks="reeds " * 1500) for at in range(30)]
                ledger.record_walk(visit(day, ada), many, ada, NOON, mint)
        folder.chmod(0o555)
        command, environment = child_command("slowly", pond)
        reader = subprocess.Popen(
            command, env=environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, encoding="utf-8"
        )
        assert reader.stdin is not None
        assert reader.stdout is not None
        assert reader.stdout.readline() == "one\n"
        folder.chmod(0o755)
        with begun(pond, map("more-{}".format, range(9999)).__next__) as (ledger, ada, mint):
            for day in range(11, 21):
                many = [sighting(f"{day} {at}", f"v{day}", remarks="sedges " * 1500) for at in range(30)]
                ledger.record_walk(visit(day, ada), many, ada, NOON, mint)
            ledger.forget([], ["Nobody Here"])
        said, _ = reader.communicate("go on\n", timeout=60)
        assert said == "300 10\n"

    def test_not_even_to_read(self, folder: Path) -> None:
        """Told as such."""
        walked(folder / "pond")
        (folder / "pond").chmod(0o000)
        assert self.log_without_rights(folder / "pond") == ["ledger-cannot-open"]


class TestDamage:
    """A damaged file is told as damaged, by whatever is asked of it: never a traceback."""

    def ask_everything(self, path: Path) -> str:
        """Open, read all ways and write; gives the code of the first fault, or "fine"."""
        try:
            with open_ledger(path) as ledger:
                list(ledger.current_sightings())
                list(ledger.current_visits())
                ledger.diverged()
                ledger.last_line()
                for day in range(1, 31):
                    ledger.history(f"s-{day}")
                    ledger.standing(f"v{day}")
                ada = ledger.people.me()
                if ada is not None:
                    ledger.record_walk(
                        visit(1, ada, id="v-new"),
                        [sighting("x", "v-new")],
                        ada,
                        NOON,
                        iter(["e1", "e2"]).__next__,
                    )
        except Refused as caught:
            return caught.faults[0].code
        except sqlite3.IntegrityError:
            # The words of a trigger were spoilt: the file refuses what is right.
            return "refused-by-the-file"
        return "fine"

    def test_cut_short(self, tmp_path: Path) -> None:
        """Half the file is gone."""
        path = tmp_path / "pond"
        walked(path, 30)
        whole = path.read_bytes()
        path.write_bytes(whole[: len(whole) // 2])
        assert self.ask_everything(path) == "ledger-damaged"

    def test_pages_overwritten(self, tmp_path: Path) -> None:
        """Every page but the first is rubbish."""
        path = tmp_path / "pond"
        walked(path, 30)
        whole = path.read_bytes()
        path.write_bytes(whole[:4096] + b"\xa5" * (len(whole) - 4096))
        assert self.ask_everything(path) == "ledger-damaged"

    def test_a_table_dropped(self, tmp_path: Path) -> None:
        """Somebody else's hand."""
        path = tmp_path / "pond"
        walked(path)
        with raw(path) as connection:
            connection.execute("DROP VIEW standing")
        assert self.ask_everything(path) == "ledger-damaged"

    def test_a_body_that_is_no_record(self, tmp_path: Path) -> None:
        """The entry is named."""
        path = tmp_path / "pond"
        walked(path)
        with raw(path) as connection:
            connection.execute("DROP TRIGGER entry_no_update")
            connection.execute("UPDATE entry SET body = '{\"id\": 3}' WHERE kind = 'sighting'")
        with open_ledger(path) as ledger, refused("record-damaged") as caught:
            list(ledger.current_sightings())
        assert caught.value.faults[0].said == rows(path)[1][1]
        assert caught.value.faults[0].where is not None

    def test_bytes_overwritten_anywhere(self, tmp_path: Path) -> None:
        """Sixty files with a few spoilt bytes each: read right, or told as damaged; no other end."""
        path = tmp_path / "pond"
        walked(path, 30)
        whole = path.read_bytes()
        chance = random.Random(20260614)
        ends = set()
        for number in range(60):
            spoilt = bytearray(whole)
            for _ in range(chance.choice([1, 8, 64])):
                spoilt[chance.randrange(100, len(spoilt))] = chance.randrange(256)
            copy = tmp_path / f"copy{number}"
            copy.write_bytes(spoilt)
            ends.add(self.ask_everything(copy))
        assert ends <= {
            *("fine", "ledger-damaged", "record-damaged", "record-too-new", "not-a-ledger"),
            *("refused-by-the-file", "unknown-person"),
        }
        assert "ledger-damaged" in ends
