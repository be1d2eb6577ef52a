"""A forgotten name within other names: rows of the register that name several people, and saved mappings."""

from __future__ import annotations

import shlex
from pathlib import Path

import pytest

from ledger.pond import LATER, NOON, begun, counting, healthy
from reedmace.ledger.notes import Note
from reedmace.ledger.store import Ledger, open_ledger

SHEET = "When;Gridref;What;Number;Recorder\n12/07/2025;SU 431 118;Pale Rushlet;3;{}\n"


def everything(folder: Path) -> bytes:
    """All bytes of the ledger's files, in small letters."""
    return b"".join(one.read_bytes() for one in folder.glob("walks.ledger*")).lower()


@pytest.fixture
def sheet(owned, tarn_run, tmp_path: Path):
    """Bring in a sheet whose recorder's cell says this; `sheet("Ada Marsh", "--save-as", "Sheet")`."""

    def bringing(recorder: str, *more: str):
        (tmp_path / "walks.csv").write_text(SHEET.format(recorder))
        ran = tarn_run("ledger", "import", "walks.csv", "--yes", *more)
        assert ran.returncode == 0, ran.stderr
        return ran

    return bringing


@pytest.fixture
def together(owned, clean_env) -> str:
    """A row of the register that names two people in one; gives its id."""
    with open_ledger(clean_env["REEDMACE_LEDGER"]) as ledger:
        ledger.people.register("Ulric Stonewell", counting(900))
        return ledger.people.register("Ada Marsh, ulric Stonewell", counting(950))


@pytest.mark.parametrize(
    "cell", ["Ada Marsh, Ben Sallow", '"Ada Marsh; Ben Sallow"', "Ada Marsh & Ben Sallow", "Ada Marsh and Ben Sallow"]
)
def test_two_people_in_one_cell_are_two(sheet, listed, cell: str) -> None:
    """Parted by a comma too, where both names are whole."""
    sheet(cell)
    assert [one["observers"] for one in listed()] == [["Ada Marsh", "Ben Sallow"]]


@pytest.mark.parametrize("cell", ["Sallow, Ben", "van Sallow, Ben", "van Sallow, B. J."])
def test_a_surname_that_comes_first_is_no_second_person(sheet, listed, cell: str) -> None:
    """The comma stays in the name."""
    sheet(cell)
    assert [one["observers"] for one in listed()] == [[cell]]


def test_a_row_that_names_two_people_is_told_and_then_cleaned(run, together: str, tmp_path: Path) -> None:
    """Without --redact it says what still holds the name; with it, the other person stays."""
    ran = run("ledger", "forget", "Ulric Stonewell", "--yes")
    assert ran.returncode == 1
    assert f"Ada Marsh, ulric Stonewell  [{together}]" in ran.stdout
    assert "reedmace ledger forget" in ran.stdout
    assert b"stonewell" in everything(tmp_path)
    ran = run("ledger", "forget", "Ulric Stonewell", "--yes")  # only within another name now
    assert (ran.returncode, 'within "Ada Marsh, ulric Stonewell"' in ran.stderr.replace("\n  ", " ")) == (2, True)
    ran = run("ledger", "forget", "Ulric Stonewell", "--yes", "--redact")
    assert ran.returncode == 0
    assert f"Ada Marsh  [{together}]" in ran.stdout
    assert b"stonewell" not in everything(tmp_path)
    assert "Ada Marsh" in run("people").stdout


def test_people_named_like_it_are_told_and_left(run, together: str, clean_env) -> None:
    """Initials, or the last part alone, can be somebody else's."""
    with open_ledger(clean_env["REEDMACE_LEDGER"]) as ledger:
        for number, name in enumerate(("U. Stonewell", "Una Stonewell", "Stonewell, Ulric")):
            ledger.people.register(name, counting(960 + number))
    ran = run("ledger", "forget", "Ulric Stonewell", "--yes", "--redact")
    alike = ran.stdout.partition("People whose names are like it")[2]
    assert ("U. Stonewell  [" in alike, "Una Stonewell  [" in alike) == (True, True)
    people = run("people").stdout
    assert ("Una Stonewell" in people, "Stonewell, Ulric" in people) == (True, False)


def test_a_mapping_named_after_somebody_gets_another_name(sheet, run, tarn_run, tmp_path: Path) -> None:
    """It is told first; then no byte says the name, and the mapping is of use under the new one."""
    sheet("Quentin Oakspire", "--save-as", "Quentin Oakspire sheet")
    ran = run("ledger", "forget", "Quentin Oakspire", "--yes")
    assert (ran.returncode, "quentin-oakspire-sheet" in ran.stdout) == (1, True)
    remedy = " ".join(ran.stdout.partition("Take it out with:")[2].partition("Not reached")[0].split())
    ran = run(*shlex.split(remedy)[1:], "--yes")
    assert ran.returncode == 0, ran.stdout
    name = ran.stdout.partition("they are called now:")[2].split()[0]
    assert name.startswith("mapping-")
    assert b"oakspire" not in everything(tmp_path)
    (tmp_path / "walks.csv").write_text(SHEET.format("Cora Reed"))
    assert tarn_run("ledger", "import", "walks.csv", "--yes", "--mapping", name).returncode == 0
    ran = tarn_run("ledger", "import", "walks.csv", "--yes", "--mapping", name[:-1])
    assert name in ran.stderr
    assert run("ledger", "audit").stdout == "Everything is as it should be.\n"


def test_what_also_names_is_looked_for_in_every_spelling(run, tarn_run, log, tmp_path: Path) -> None:
    """The line that `forget` prints finds what `forget` found: the surname first, initials, any case."""
    log("3 pale # SALLOW, Benjamin", "2 misty # B. Sallow was here", "1 great # as sallow, b. says")
    added = tarn_run("log", "1 sunny", "--by", "Benjamin Sallow", "--place", "SU 43 11", "--date", "12 July 2025")
    assert added.returncode == 0, added.stderr
    ran = run("ledger", "forget", "Benjamin Sallow", "--yes")
    assert (ran.returncode, "3 entries still hold the name" in ran.stdout) == (1, True)
    assert "1 sighting seen or named, 2 entries written" in " ".join(ran.stdout.split())
    remedy = " ".join(ran.stdout.partition("Take it out with:")[2].partition("Not reached")[0].split())
    ran = run(*shlex.split(remedy)[1:], "--yes")
    assert (ran.returncode, "Taken out of the words of entries: 3." in ran.stdout) == (0, True), ran.stdout
    assert b"sallow" not in everything(tmp_path)


def test_a_nickname_with_the_surname_first_is_the_same_nickname(run, log, tmp_path: Path) -> None:
    """`--also "Rushby, Wren"` finds `Wren Rushby`; the surname alone is told, and left."""
    log("3 pale # with Wren Rushby", "2 misty # at Rushby mere")
    run("people", "--add", "Wilhelmina Rushby")
    ran = run("ledger", "forget", "Wilhelmina Rushby", "--redact", "--also", "Rushby, Wren", "--yes")
    assert (ran.returncode, "Taken out of the words of entries: 1." in ran.stdout) == (0, True)
    assert "These hold the last part of the name alone" in ran.stdout
    left = everything(tmp_path)
    assert (b"wren" in left, b"rushby mere" in left) == (False, True)


class TestCopies:
    """What either copy took out of such names is out of both, and nothing is refused."""

    def two(self, folder: Path) -> tuple[Path, Path]:
        with begun(folder / "one") as (ledger, ada, mint):
            for name in ("Ben Sallow", "Cora Reed", "Ben Sallow, Cora Reed and Una Wick"):
                ledger.people.register(name, mint)
            for at in (NOON, LATER):
                ledger.note(self.mapping("Ben Sallow sheet", at), ada, at, mint)
            ledger.backup(folder / "two")
        return folder / "one", folder / "two"

    def mapping(self, name: str, zero: str) -> Note:
        return Note("profile", "profile:ben-sallow-sheet", {"name": name, "zero": zero}, "saved again")

    def forget(self, ledger: Ledger, name: str) -> None:
        ledger.forget(ledger.people.ids_of(name), [name], redact=True)

    @pytest.mark.parametrize("turned", [False, True])
    def test_whichever_is_merged_into_which(self, tmp_path: Path, turned: bool) -> None:
        one, two = self.two(tmp_path)
        with open_ledger(one) as ledger:
            self.forget(ledger, "Ben Sallow")
        with open_ledger(two) as ledger:
            self.forget(ledger, "Cora Reed")
            [ada] = ledger.people.ids_of("Ada Marsh")
            later = "2026-08-01T10:00:00Z"
            ledger.note(self.mapping("Sheet", later), ada, later, counting(700))
        into, other = (two, one) if turned else (one, two)
        with open_ledger(into) as ledger:
            for _ in range(2):
                ledger.merge(other, lambda _: None)
            names = [person.name for person in ledger.people.all() if not person.forgotten]
            assert sorted(names) == ["Ada Marsh", "Una Wick"]
            [(subject, note)] = ledger.notes("profile").items()
            assert subject.startswith("profile:mapping-")
            assert note.body["name"] == "Sheet"
        assert healthy(into)
        for word in (b"sallow", b"cora reed"):
            assert word not in into.read_bytes().lower()


def test_whoever_kept_the_ledger_and_is_forgotten_is_nobody(owned, run) -> None:
    """The next record asks who observes; it is not written for somebody without a name."""
    assert run("ledger", "forget", "Ada Marsh", "--yes").returncode == 0
    assert '"setting": "me"' not in run("ledger", "dump").stdout
    assert "(you)" not in run("people").stdout
    ran = run("log", "2 emperor", "--place", "SU 431 118", "--date", "12 July 2025")
    assert (ran.returncode, "observer-unknown" in ran.stderr) == (2, True)
