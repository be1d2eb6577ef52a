"""Whom imported rows are credited to: those who are in the row, with its party, and nobody else."""

from __future__ import annotations

from itertools import permutations
from pathlib import Path

import pytest

from reedmace.darwincore import occurrence
from reedmace.faults import Fault
from reedmace.ledger.store import open_ledger
from reedmace.ledger.wanted import Wanted
from reedmace.tasks.sheets.determiners import read_determiner
from reedmace.tasks.sheets.people import People, read_people
from reedmace.tasks.sheets.values import read_day
from tasks.importing import TODAY, Import, faulty, kept

CELLS = ("Tarn Fenwick", "", "party of 6", "Ben Sallow and party of 4", "party of 9", "Cora Reed & party of 4")
CREDITED = {
    1: "Tarn Fenwick",
    2: "Ada Marsh",
    3: "party of 6",
    4: "Ben Sallow | party of 4",
    5: "party of 9",
    6: "Cora Reed | party of 4",
}


def sheet(cells: tuple[str, ...], head: str = "", first: str = "") -> str:
    """Rows of one day and place, each with its cell of people and its place among `CELLS` as its count."""
    rows = (f"{first}12/07/2026,SU 431 118,pale rushlet,{CELLS.index(cell) + 1},{cell}\n" for cell in cells)
    return f"{head}Date,Grid Ref,Species,No.,Recorder\n{''.join(rows)}"


def credited(tmp_path: Path) -> dict[int | None, str]:
    """Give for each count what an export says of who saw it."""
    with open_ledger(tmp_path / "pond") as pond:
        found = pond.current_sightings(Wanted())
        name_of = pond.people.name_of
        return {one.count: occurrence(one, at, "", name_of)["recordedBy"] for one, at, _ in found}


@pytest.mark.parametrize("cells", [CELLS, CELLS[::-1], list(permutations(CELLS))[293]])
def test_each_row_is_credited_to_its_own_people_and_party(
    bring: Import, tmp_path: Path, cells: tuple[str, ...]
) -> None:
    """Whichever row of the day comes first."""
    done = bring(sheet(cells))
    assert (done.sightings, done.faulty) == (6, 0)
    assert credited(tmp_path) == CREDITED
    with open_ledger(tmp_path / "pond") as pond:
        names = {person.name for person in pond.people.all()}
    assert names == {"Ada Marsh", "Tarn Fenwick", "Ben Sallow", "Cora Reed"}


def test_rows_set_apart_by_their_people_come_to_the_same_visits_again(bring: Import, tmp_path: Path) -> None:
    """In whatever order they stand."""
    assert bring(sheet(CELLS)).sightings == 6
    before = kept(tmp_path)
    again = bring(sheet(CELLS[::-1]), "again.csv")
    assert (again.sightings, again.visits, again.there, again.faulty) == (0, 0, 6, 0)
    assert kept(tmp_path) == before


def test_people_without_a_party_share_the_visit_of_the_day(bring: Import, tmp_path: Path) -> None:
    """Two recorders of one day and place, each with what is theirs."""
    assert bring(sheet(("Tarn Fenwick", ""))).visits == 1
    assert credited(tmp_path) == {1: "Tarn Fenwick", 2: "Ada Marsh"}


def test_it_is_said_how_many_rows_named_nobody_and_who_is_credited(bring: Import) -> None:
    """Of a dry run too; rows that are there already are not counted again."""
    for dry in (True, False):
        done = bring(sheet(CELLS), dry=dry)
        assert (done.nobody, done.observer) == (1, "Ada Marsh")
    again = bring(sheet(CELLS))
    assert (again.nobody, again.observer) == (0, "")


def test_a_party_that_is_not_that_of_the_visit_with_this_id_comes_back(bring: Import, tmp_path: Path) -> None:
    """One visit has one party, and the row says which visit it is of. A named observer has room beside it."""
    text = sheet(("Ben Sallow and party of 4", "Tarn Fenwick", "party of 6"), "Visit ID,", "v-1,")
    done = bring(text)
    assert credited(tmp_path) == {4: "Ben Sallow | party of 4", 1: "Tarn Fenwick"}
    assert [(row["fault"], row["Recorder"]) for row in faulty(done)] == [("visit-differs", "party of 6")]


def test_an_observer_of_the_visit_without_its_party_is_credited_alone(bring: Import, tmp_path: Path) -> None:
    """The same name, once with the party and once without."""
    head = "Date,Grid Ref,Species,No.,Recorder\n"
    row = "12/07/2026,SU 431 118,pale rushlet,{},Ben Sallow{}\n"
    assert bring(head + row.format(1, " and party of 4") + row.format(2, "")).faulty == 0
    assert credited(tmp_path) == {1: "Ben Sallow | party of 4", 2: "Ben Sallow"}


@pytest.mark.parametrize(
    ("cell", "names", "party"),
    [
        ("Ben Sallow and party of 4", ("Ben Sallow",), "party of 4"),
        ("Sallow, Ben and a party of 4", ("Sallow, Ben",), "a party of 4"),
        ("Ben Sallow, party of 4", ("Ben Sallow",), "party of 4"),
        ("Ben Sallow with party of 4", ("Ben Sallow",), "party of 4"),
        ("Ben Sallow (party of 4)", ("Ben Sallow",), "party of 4"),
        ("Ben Sallow + 4 others", ("Ben Sallow",), "4 others"),
        ("Ben Sallow & Cora Reed And Party", ("Ben Sallow", "Cora Reed"), "Party"),
        ("party of 4 with Ben Sallow", ("Ben Sallow",), "party of 4"),
        ("party of 4 led by Ben Sallow", ("Ben Sallow",), "party of 4"),
        ("leader and party of 12", (), "leader and party of 12"),
        ("Walking Club with party of 4", (), "Walking Club with party of 4"),
        ("party of 6", (), "party of 6"),
        ("Ada Marsh | Ben Sallow", ("Ada Marsh", "Ben Sallow"), ""),
    ],
)
def test_a_name_beside_a_party_is_a_person(cell: str, names: tuple[str, ...], party: str) -> None:
    """And a word for whoever led it is not."""
    assert read_people(cell) == (names, party)


@pytest.mark.parametrize(
    ("cell", "names", "party"),
    [
        ("Ada Marsh + Ben Sallow", ("Ada Marsh", "Ben Sallow"), ""),
        ("Ada Marsh/Ben Sallow", ("Ada Marsh", "Ben Sallow"), ""),
        ("AM / BS", ("AM", "BS"), ""),
        ("Ada Marsh with Ben Sallow", ("Ada Marsh", "Ben Sallow"), ""),
        ("Ada Marsh, Ben Sallow and Cora Reed", ("Ada Marsh", "Ben Sallow", "Cora Reed"), ""),
        ("Marsh, A., Sallow, B.", ("Marsh, A.", "Sallow, B."), ""),
        ("A. & B. Marsh", ("A. Marsh", "B. Marsh"), ""),
        ("Marsh, Ada", ("Marsh, Ada",), ""),
        ("van Marsh, Ada", ("van Marsh, Ada",), ""),
        ("Ada Marsh, Jr.", ("Ada Marsh, Jr.",), ""),
        ("Ada Marsh (recorder), Ben Sallow (observer)", ("Ada Marsh", "Ben Sallow"), ""),
        ("Ada Marsh (with school class)", ("Ada Marsh",), "school class"),
        ("Ada Marsh et al.", ("Ada Marsh",), "et al."),
        ("Ada Marsh and others", ("Ada Marsh",), "others"),
        ("Ada Marsh & family", ("Ada Marsh",), "family"),
        ("Ada Marsh and 2 children", ("Ada Marsh",), "2 children"),
        ("Ada Marsh 2019", ("Ada Marsh",), ""),
        ("Ada Marsh (2019)", ("Ada Marsh",), ""),
        ("rec. Ada Marsh", ("Ada Marsh",), ""),
        ("me and Ben Sallow", ("Cora Reed", "Ben Sallow"), ""),
        ("self", ("Cora Reed",), ""),
        ("6 of us", (), "6 of us"),
        ("Recorder 12", ("Recorder 12",), ""),
        ("Friends of Tern Hollow", ("Friends of Tern Hollow",), ""),
        ("Ben Child", ("Ben Child",), ""),
        ("Young, Ada; C. Boy", ("Young, Ada", "C. Boy"), ""),
        *((cell, (), "") for cell in ("unknown", "?", "-", "n/a", "Not recorded")),
    ],
)
def test_a_cell_of_people_is_parted_as_people_write_it(cell: str, names: tuple[str, ...], party: str) -> None:
    """Company without names is a party beside them; who keeps the sheet is "me"."""
    assert read_people(cell, "Cora Reed") == (names, party)


@pytest.mark.parametrize(
    ("cell", "code"),
    [
        *((cell, "child-may-be-named") for cell in ("Tom (8)", "Lily 7", "Ada Marsh, 8", "little Lily", "tom aged 8")),
        ("Ada Marsh and son Tom", "child-may-be-named"),
        ("Ada Marsh and son Tom Marsh", "child-may-be-named"),
        ("Ada Marsh, Tom (age 8)", "child-may-be-named"),
        ("Ada Marsh and her children Tom (8) and Lily", "child-may-be-named"),
        ("Ben Sallow, Lily (7)", "child-may-be-named"),
        ("Ada Marsh with 3 cubs and Tom", "child-may-be-named"),
        ("Ben and party of 4", "child-may-be-named"),
        ("Ada Marsh ada@marsh.example", "contact-in-names"),
        ("Ada Marsh 01234 567890", "contact-in-names"),
        ("Ada Marsh (+44 1234 567890)", "contact-in-names"),
        ("Ada Marsh, Ben Sallow (2nd visit)", "people-not-read"),
        ("Ada Marsh, Ben Sallow (photo)", "people-not-read"),
        ("Confirmed by Tarn Fenwick", "people-not-read"),
        ("Ada Marsh per Ben Sallow", "people-not-read"),
        *((cell, "people-not-read") for cell in ("ditto", "various", "grandson", "family", "others")),
        ("Ada Marsh, Ben", "people-unclear"),
        ("Ada, Ben, Cora", "people-unclear"),
    ],
)
def test_a_cell_that_says_what_no_record_can_keep_comes_back(
    bring: Import, tmp_path: Path, cell: str, code: str
) -> None:
    """Whether it is of who saw it or of who named it; nobody of it is in the register, nor their words in a record."""
    before = {"Ada Marsh"}
    for heading in ("Recorder", "Determiner"):
        text = f'Date,Grid Ref,Species,No.,{heading}\n12/07/2026,SU 431 118,pale rushlet,3,"{cell}"\n'
        done = bring(text, f"{heading}.csv")
        [back] = faulty(done)
        assert (done.sightings, back["fault"], back[heading]) == (0, code, cell)
        assert back["what to do"]
    with open_ledger(tmp_path / "pond") as pond:
        assert {person.name for person in pond.people.all()} == before


@pytest.mark.parametrize(
    ("cell", "names", "party"),
    [
        ("Quill, P., party", ("Quill, P.",), "party"),
        ("Quill, P., party of 6", ("Quill, P.",), "party of 6"),
        ("Quill, P. T., Marsh, A., party", ("Quill, P. T.", "Marsh, A."), "party"),
        ("Quill, P, 6 children", ("Quill, P",), "6 children"),
    ],
)
def test_a_surname_with_initials_is_no_childs_name_beside_a_party(
    cell: str, names: tuple[str, ...], party: str
) -> None:
    """So sheets of recipients, our own among them, write people."""
    assert read_people(cell, "Ada Marsh") == (names, party)


@pytest.mark.parametrize("cell", ["Poppy, party of 6", "Poppy, Q., Finn, 6 children", "Quill, P. (7), party"])
def test_a_first_name_beside_a_party_is_asked_about_all_the_same(cell: str) -> None:
    read = read_people(cell, "Ada Marsh")
    assert isinstance(read, Fault)
    assert read.code == "child-may-be-named"


def test_a_day_behind_an_observer_is_the_rows_to_say() -> None:
    """The row has a date of its own."""
    read = read_people("Ada Marsh 12/6/2018")
    assert isinstance(read, Fault)
    assert read.code == "people-not-read"


def determined(cell: str) -> tuple[str | None, str | None] | str:
    """Read a cell of a determiner: name and day, or the code of its fault."""
    read = read_determiner(cell, "Cora Reed", lambda text: read_day(text, TODAY, None))
    return read.code if isinstance(read, Fault) else tuple(read)


@pytest.mark.parametrize(
    ("cell", "name", "day"),
    [
        ("Ben Sallow 2018", "Ben Sallow", "2018"),
        ("B. Sallow (2019)", "B. Sallow", "2019"),
        ("Ben Sallow, 4 Nov 2018", "Ben Sallow", "2018-11-04"),
        ("Ben Sallow 04/11/2018", "Ben Sallow", "2018-11-04"),
        ("det. Ben Sallow 2018", "Ben Sallow", "2018"),
        ("Ben Sallow det. 2018", "Ben Sallow", "2018"),
        ("Det: B. Sallow, Nov. 2018", "B. Sallow", "2018-11"),
        ("Sallow, B. 2018", "Sallow, B.", "2018"),
        ("BS 2018", "BS", "2018"),
        ("Ben May 2018", "Ben May", "2018"),
        ("Ada Marsh May 2018", "Ada Marsh", "2018-05"),
        ("Recorder 12", "Recorder 12", None),
        ("me", "Cora Reed", None),
        ("?", None, None),
    ],
)
def test_a_determiner_is_one_person_with_the_day_behind_the_name(cell: str, name: str | None, day: str | None) -> None:
    """Name and year is how a determination is signed."""
    assert determined(cell) == (name, day)


@pytest.mark.parametrize(
    ("cell", "code"),
    [
        ("Ben Sallow & Moss Linley", "two-determiners"),
        ("Ben Sallow, Moss Linley 2018", "two-determiners"),
        ("Ben Sallow et al. 2018", "two-determiners"),
        ("6 of us", "people-not-read"),
        ("unknown 2018", "people-not-read"),
        ("Ben Sallow (museum)", "people-not-read"),
        ("2018", "people-not-read"),
        ("Ben Sallow 4/11/18", "two-digit-year"),
        ("Ben Sallow 2031", "date-in-future"),
    ],
)
def test_what_is_not_one_determiner_comes_back_whole(cell: str, code: str) -> None:
    """No name of several is dropped."""
    assert determined(cell) == code


def test_a_day_behind_the_determiner_is_the_day_of_naming(bring: Import, tmp_path: Path) -> None:
    """Beside a column for it the finer of the two; another day is a fault."""
    head = "Record ID,Date,Grid Ref,Species,No.,Determined by,Date determined\n"
    row = "r-{},12/07/2018,SU 431 118,pale rushlet,3,{},{}\n"
    cells = (("Ben Sallow 2018", ""), ("Ben Sallow 2018", "4/11/2018"), ("Ben Sallow 4 Nov 2018", "2018"))
    assert bring(head + "".join(row.format(at, *both) for at, both in enumerate(cells))).faulty == 0
    found = {one.id: one for one, _ in kept(tmp_path)}
    assert [found[f"r-{at}"].determined_on for at in range(3)] == ["2018", "2018-11-04", "2018-11-04"]
    with open_ledger(tmp_path / "pond") as pond:
        assert {pond.people.name_of(one.determiner or "") for one in found.values()} == {"Ben Sallow"}
    done = bring(head + row.format(9, "Ben Sallow 2018", "4/11/2019"), "b.csv")
    assert list(done.faults) == ["cells-differ"]


@pytest.mark.parametrize(
    ("cell", "names"),
    [
        ("Mr & Mrs J Sallow", ("Mr Sallow", "Mrs J Sallow")),
        ("Dr and Mrs Marsh", ("Dr Marsh", "Mrs Marsh")),
        ("Mr A. Marsh & Mrs B. Sallow", ("Mr A. Marsh", "Mrs B. Sallow")),
    ],
)
def test_a_title_alone_is_nobody(cell: str, names: tuple[str, ...]) -> None:
    """Mr and Mrs have the surname that follows; a title without one is no name."""
    assert read_people(cell) == People(names)
    alone = read_people("Mr")
    assert isinstance(alone, Fault)
    assert alone.code == "people-not-read"


@pytest.mark.parametrize(
    "heading",
    [
        *("Name of recorder", "Recorder's name", "Your name (recorder)", "Names of observers", "Main surveyor"),
        *("Reported by", "Volunteer", "Walk leader"),
    ],
)
def test_who_observed_is_found_under_whatever_words_name_them(bring: Import, tmp_path: Path, heading: str) -> None:
    """Else the rows would be credited to whoever imports them."""
    done = bring(f"{heading},Date,Grid Ref,Species,No.\nCora Reed,12/07/2025,SU 431 118,pale rushlet,3\n")
    assert (done.faulty, done.nobody) == (0, 0)
    assert done.new_people == ("Cora Reed",)


def test_a_new_name_that_may_be_somebody_who_is_there_is_told(bring: Import) -> None:
    """Initials or one of the names: one person would stand in the register twice without a word.

    The last name first is the same name, and no new person.
    """
    people = ("AM", "A. Marsh", '"Marsh, Ada"', "Cora Reed", "C. Reed", "Ada Marshall", "Dan Tern")
    text = "".join(f"12/07/2025,SU431118,pale rushlet,{at},{name}\n" for at, name in enumerate(people, 1))
    for dry in (True, False):
        done = bring(f"Date,Grid Ref,Species,No.,Recorder\n{text}", dry=dry)
        assert done.faulty == 0
        assert "Marsh, Ada" not in done.new_people
        assert dict(done.may_be) == {
            "AM": ("Ada Marsh", "Ada Marshall"),
            "A. Marsh": ("Ada Marsh",),
            "C. Reed": ("Cora Reed",),
        }
    assert bring(f"Date,Grid Ref,Species,No.,Recorder\n{text}").may_be == ()
