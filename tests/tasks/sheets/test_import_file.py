"""Importing sheets: what is read, what comes back as a fault, and that nothing is lost, doubled or made up."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from ledger.pond import counting
from reedmace.darwincore import Dataset, occurrence, write_csv
from reedmace.faults import Refused
from reedmace.keys.model import Key
from reedmace.ledger.store import open_ledger
from reedmace.tasks.sheets.columns import ColumnMapping
from reedmace.tasks.sheets.profiles import save, saved
from reedmace.tasks.sheets.rows import look_at
from tasks.importing import HEADS, NOW, ROW, Import, faulty, kept


def test_a_sheet_as_people_keep_it(bring: Import, tmp_path: Path) -> None:
    """Day first, English names, both sexes in one cell, a rough count, two observers."""
    done = bring(
        HEADS
        + '12/07/2026,"Harrowmere, Sallow Farm",SU 431 118,Pale Rushlet,"2m,3f",,,Ada Marsh,by the sluice\n'
        + '12/07/2026,"Harrowmere, Sallow Farm",SU 431 118,misty,~40,,ten,Ada Marsh & Ben Sallow,\n'
        + "June 1987,Withy Pond,SU4312,great boulderer ?,,f,,Ben Sallow,\n"
    )
    assert (done.rows, done.sightings, done.visits, done.faulty) == (3, 4, 2, 0)
    found = {(one.taxon.vernacular, one.sex): (one, at) for one, at in kept(tmp_path)}
    males, visit = found["Pale Rushlet", "male"]
    females, _ = found["Pale Rushlet", "female"]
    assert (males.count, females.count, males.line_id == females.line_id) == (2, 3, True)
    assert (visit.date, visit.date_typed, visit.place.square) == ("2026-07-12", "12/07/2026", "SU431118")
    assert males.remarks == "by the sluice"
    misty, same = found["Misty Rushlet", None]
    assert (misty.count, misty.count_kind, misty.stage) == (40, "estimate", "teneral")
    assert same.id == visit.id
    assert len(misty.observers or ()) == 2
    old, then = found["Great Boulderer", "female"]
    assert (old.certainty, old.count_kind, then.date) == ("uncertain", "present", "1987-06")


@pytest.mark.parametrize(
    ("encoding", "sign"),
    [("utf-8", ","), ("utf-8-sig", ";"), ("utf-16", "\t"), ("utf-16-le", "\t"), ("utf-16-be", ","), ("cp1252", ";")],
)
def test_however_it_was_saved(bring: Import, tmp_path: Path, encoding: str, sign: str) -> None:
    """Excel's ways of writing a sheet, found out without being told."""
    line = f"12/07/2026{sign}Café pond – Fôrest{sign}SU 431 118{sign}Pale Rushlet{sign}3\r\n"
    text = f"Date{sign}Site{sign}Grid Ref{sign}Species{sign}Number\r\n{line * 1}"
    done = bring(text.encode(encoding))
    assert (done.sightings, done.faulty) == (1, 0)
    [(_, visit)] = kept(tmp_path)
    assert visit.place.locality == "Café pond – Fôrest"


def test_importing_twice_adds_nothing(bring: Import, tmp_path: Path) -> None:
    """Nor does the same sheet saved in another way; one row more is one record more."""
    sheet = HEADS + ROW.format(3) + ROW.format("2m 1f") + ROW.format(3)
    assert bring(sheet).sightings == 4
    before = kept(tmp_path)
    again = bring(sheet)
    assert (again.sightings, again.visits, again.there) == (0, 0, 4)
    assert bring(sheet.encode("utf-16"), "other.csv").sightings == 0
    assert kept(tmp_path) == before
    assert bring(sheet + ROW.format(9)).sightings == 1


def test_columns_moved_or_added_make_no_new_records(bring: Import, tmp_path: Path) -> None:
    """A sheet goes on for years: somebody puts a column in front, moves another, leaves the new one empty."""
    first = "Date,Grid Ref,Species,No.\n12/07/2026,SU 431 118,pale rushlet,3\n12/07/2026,SU 431 118,pale rushlet,3\n"
    assert bring(first).sightings == 2
    before = kept(tmp_path)
    later = "Weather,No.,species ,Date,Grid  Ref,\n,3,pale rushlet,12/07/2026,SU 431 118 ,\n"
    again = bring(later + ",3,pale rushlet,12/07/2026,SU 431 118,\nsunny,3,pale rushlet,12/07/2026,SU 431 118,\n")
    assert (again.there, again.sightings) == (2, 1), "only the row with something in the new column says more"
    assert [one for one in kept(tmp_path) if one in before] == before


def test_a_corrected_row_is_put_to_the_user(bring: Import, tmp_path: Path) -> None:
    """It is a new record; that the one before it is told of by no row any more is said, and so are only those."""
    other = ROW.replace("Ada Marsh", "Cora Reed")
    bring(HEADS + ROW.format(3) + ROW.format(5) + other.format(7))
    first = {sighting.count: sighting.id for sighting, _ in kept(tmp_path)}
    again = bring(HEADS + ROW.format(5) + ROW.format(4) + ROW.format(9))
    now = {sighting.count: sighting.id for sighting, _ in kept(tmp_path)}
    assert len(now) == 5
    assert [(one.line, one.record, one.before, one.differs) for one in again.corrected] == [
        (3, now[4], first[3], ("count",))
    ], "5 is told of again; 7 is another person's; one record is the correction of one other"
    assert bring(HEADS + ROW.format(5) + ROW.format(4) + ROW.format(9)).corrected == (), "said once"


JULY = (
    "12/07/2026,Sallow Pond,SU431118,pale rushlet,3\n",
    "13/07/2026,Sallow Pond,SU431118,pale rushlet,5\n",
    "13/07/2026,Withy Pond,SU432118,misty rushlet,2\n",
    "14/07/2026,Withy Pond,SU432118,pale rushlet,2\n",
)
SHORT = "Date,Site,Grid Ref,Species,No.\n"
LATER = "2026-07-20T19:00:00Z"


@pytest.mark.parametrize(
    ("was", "now", "differs"),
    [
        ("12/07/2026", "11/07/2026", ("date",)),
        ("Sallow Pond,SU431118,pale rushlet,3", "Withy Pond,SU432118,pale rushlet,3", ("place",)),
        ("pale rushlet,3", "misty rushlet,3", ("name",)),
        ("pale rushlet,3", "pale rushlet,4", ("count",)),
    ],
)
def test_a_row_corrected_in_one_cell_is_put_to_the_user(
    bring: Import, tmp_path: Path, was: str, now: str, differs: tuple[str, ...]
) -> None:
    """The day, the place, the species or the number: told in a dry run too, and once."""
    bring(SHORT + "".join(JULY))
    [before] = [one.id for one, _ in kept(tmp_path) if one.count == 3]
    sheet = SHORT + "".join(JULY).replace(was, now, 1)
    for dry in (True, False):
        done = bring(sheet, now=LATER, dry=dry)
        assert (done.there, done.sightings) == (3, 1)
        assert [(one.line, one.before, one.differs) for one in done.corrected] == [(2, before, differs)]
    assert bring(sheet, now=LATER).corrected == ()


def test_rows_of_another_month_or_sheet_are_no_corrections(bring: Import) -> None:
    """However like they are to those of a sheet that this file does not tell of; nor rows that differ in two things."""
    first = SHORT + "".join(JULY)
    bring(first)
    august = "".join(JULY).replace("/07/2026", "/06/2026")
    assert bring(SHORT + august, "other.csv", now=LATER).corrected == (), "another sheet, all of it new"
    more = "10/06/2026,Sallow Pond,SU431118,pale rushlet,3\n"
    grown = bring(SHORT + august + more, "other.csv", now="2026-07-20T20:00:00Z")
    assert (grown.there, grown.sightings, grown.corrected) == (4, 1, ()), "what grew, with another sheet's rows beside"
    two = bring(first.replace(JULY[0], "10/07/2026,Sallow Pond,SU431118,misty rushlet,3\n"), now=LATER)
    assert (two.there, two.sightings, two.corrected) == (3, 1, ())


def test_a_sheet_that_drops_old_rows_for_new_ones_is_no_corrected_one(bring: Import) -> None:
    """Where most of what came in together is not told of any more, nothing was corrected."""
    old = "".join(f"{day}/05/2026,Sallow Pond,SU431118,pale rushlet,3\n" for day in range(10, 20))
    bring(SHORT + old + "".join(JULY))
    done = bring(SHORT + "".join(JULY) + old.replace("/05/", "/06/"), now=LATER)
    assert (done.there, done.sightings, done.corrected) == (4, 10, ())


def test_a_dry_run_says_the_same_and_writes_nothing(bring: Import, tmp_path: Path) -> None:
    """Not even a person."""
    sheet = HEADS + ROW.format(3) + ROW.format("many") + ROW.format("2m 1f").replace("Ada Marsh", "Cora Reed")
    dry = bring(sheet, dry=True)
    assert kept(tmp_path) == []
    with open_ledger(tmp_path / "pond") as pond:
        assert [person.name for person in pond.people.all()] == ["Ada Marsh"]
    assert not list(tmp_path.glob("*.faults*"))
    wet = bring(sheet)
    assert dry._replace(faults_file=None) == wet._replace(faults_file=None)


@pytest.mark.parametrize(
    ("row", "code"),
    [
        (ROW.format(3).replace("12/07/2026", "31/06/2026"), "impossible-date"),
        (ROW.format(3).replace("12/07/2026", "07/25/2026"), "impossible-date"),
        (ROW.format(3).replace("12/07/2026", "12/07/26"), "two-digit-year"),
        (ROW.format(3).replace("12/07/2026", "12/07/2027"), "date-in-future"),
        (ROW.format(3).replace("12/07/2026", ""), "date-missing"),
        (ROW.format(3).replace("SU 431 118", "SU 431 11"), "grid-"),
        (ROW.format(3).replace("pale rushlet", "wombat"), "unknown-name"),
        (ROW.format(3).replace("pale rushlet", ""), "name-missing"),
        (ROW.format("umpteen"), "count-not-read"),
        (ROW.format(0), "zero-unclear"),
        (ROW.format(3).replace(",,,", ",neuter,,"), "unknown-word"),
        (ROW.format(3).replace(",,,", ",,toddler,"), "unknown-word"),
        (ROW.format(3).replace(",Ada Marsh,", ",Ada Marsh,note,and,more"), "row-too-long"),
        (ROW.format(3).replace(",Ada Marsh,", ",Ada Marsh,\x00"), "text-unreadable"),
        (ROW.format(3).replace('Farm"', "Farm"), "quote-open"),
    ],
)
def test_a_faulty_row_comes_back_and_stops_nobody(bring: Import, tmp_path: Path, row: str, code: str) -> None:
    """Between two good ones; with its cells, its line and a remedy, in a file that can be imported."""
    done = bring(HEADS + ROW.format(1) + row + ROW.format(2))
    assert sorted(one.count for one, _ in kept(tmp_path)) == [1, 2]
    assert done.faulty == 1
    [back] = faulty(done)
    assert back["line in the file"] == "3"
    assert back["what to do"]
    assert code in back["fault"]
    if code not in ("quote-open", "text-unreadable", "row-too-long"):
        assert [back[head] for head in ("Date", "Species", "No.")] == next(
            [cells[0], cells[3], cells[4]] for cells in csv.reader([row])
        )


def test_the_corrected_file_of_faults_is_imported_in_its_turn(bring: Import, tmp_path: Path) -> None:
    """Its further columns are no part of the rows."""
    done = bring(HEADS + ROW.format(1) + ROW.format("umpteen"))
    assert done.faults_file is not None
    mended = Path(done.faults_file).read_text(encoding="utf-8-sig").replace("umpteen", "7")
    again = bring(mended, "mended.csv")
    assert (again.sightings, again.visits, again.faulty) == (1, 0, 0)
    assert again.corrected == (), "the rows that were good are not in it, and stand nevertheless"
    assert sorted(one.count for one, _ in kept(tmp_path)) == [1, 7]


def test_a_file_of_faults_is_never_overwritten(bring: Import) -> None:
    """Somebody may be working on it."""
    first, second = bring(HEADS + ROW.format("umpteen")), bring(HEADS + ROW.format("heaps"))
    assert first.faults_file != second.faults_file
    assert [row["No."] for row in (*faulty(first), *faulty(second))] == ["umpteen", "heaps"]


def test_an_open_quote_spoils_its_own_row_only(bring: Import, tmp_path: Path) -> None:
    """However many rows follow, and though a proper cell may run over lines."""
    good = "".join(ROW.format(number) for number in range(1, 150))
    wide = ROW.format(500).replace("Ada Marsh,", 'Ada Marsh,"first line\nsecond ""line"""')
    done = bring(HEADS + ROW.format(300).replace('Farm"', "Farm") + good + wide)
    [(code, kind)] = done.faults.items()
    assert (code, kind.rows) == ("quote-open", 1)
    assert kind.why == "A quote is opened in this row and never closed."
    assert kind.hint == "close it, or write it twice"
    found = {one.count: one for one, _ in kept(tmp_path)}
    assert sorted(found) == [*range(1, 150), 500]
    assert found[500].remarks == 'first line\nsecond "line"'


@pytest.mark.parametrize(
    ("zero", "sightings", "visits"),
    [("present", [(None, "present")], 1), ("absent", [], 1), ("skip", [], 0)],
)
def test_what_zero_means_is_the_users_to_say(
    bring: Import, tmp_path: Path, zero: str, sightings: list[object], visits: int
) -> None:
    """Absent leaves the visit behind, skip nothing; neither makes a sighting of nothing."""
    done = bring(HEADS + ROW.format(0), zero=zero)
    assert [(one.count, one.count_kind) for one, _ in kept(tmp_path)] == sightings
    assert (done.visits, done.faulty) == (visits, 0)


def test_years_of_two_digits_by_the_century_given(bring: Import, tmp_path: Path) -> None:
    """Never guessed."""
    rows_ = ROW.format(1).replace("12/07/2026", "12-Jul-87") + ROW.format(2).replace("12/07/2026", "1.8.87 00:00")
    assert bring(HEADS + rows_, century=1900).faulty == 0
    assert sorted(str(at.date) for _, at in kept(tmp_path)) == ["1987-07-12", "1987-08-01"]


def test_columns_nobody_could_guess_are_known_by_what_is_in_them(bring: Import, tmp_path: Path) -> None:
    """Dates, references and names read as such; what cannot be known is left out, not made up."""
    done = bring("A,B,C,D\n12/07/2026,SU 431 118,Pale Rushlet,purple\n13/07/2026,SU 431 119,misty,green\n")
    assert done.sightings == 2
    assert {one.remarks for one, _ in kept(tmp_path)} == {""}


def test_a_mapping_is_corrected_and_kept_by_name(bring: Import, tarn: Key, tmp_path: Path) -> None:
    """And refused for a sheet with other columns."""
    bring("When,Where,What,Odd\n12/07/2026,SU 431 118,Pale Rushlet,windy\n", typed=("Odd=remarks",))
    [(one, _)] = kept(tmp_path)
    assert one.remarks == "windy"
    mapping = ColumnMapping((("When", "date"), ("Where", "place"), ("What", "name"), ("Odd", None)), "skip", 1900)
    sheet = look_at(str(tmp_path / "walks.csv"))
    with open_ledger(tmp_path / "pond") as pond:
        mint = counting(500)
        ada = pond.people.ids_of("Ada Marsh")[0]
        save(pond, "County sheet", mapping, ada, NOW, mint)
        save(pond, "county sheet", mapping._replace(zero="absent"), ada, NOW, mint)
        assert saved(pond, "COUNTY SHEET", sheet) == mapping._replace(zero="absent")
        for name, columns, code in (
            ("country sheet", sheet.columns, "unknown-profile"),
            ("county sheet", ("When", "What"), "profile-for-other-columns"),
        ):
            with pytest.raises(Refused) as caught:
                saved(pond, name, sheet._replace(columns=columns))
            assert caught.value.faults[0].code == code


def test_rows_of_an_own_id_that_say_something_else_are_told(bring: Import, tmp_path: Path) -> None:
    """A record is amended by its owner, never by a file; and one id twice in a file is a fault."""
    head, row = "ID,Date,Grid Ref,Species,No.\n", "r-1,12/07/2026,SU 431 118,pale rushlet,{}\n"
    assert bring(head + row.format(3)).sightings == 1
    done = bring(head + row.format(4), "b.csv")
    assert (done.sightings, list(done.faults)) == (0, ["differs-from-ledger"])
    assert "count" in faulty(done)[0]["why"]
    twice = bring(head + row.format(5).replace("r-1", "r-2") * 2, "c.csv")
    assert (twice.sightings, list(twice.faults)) == (1, ["id-twice"])


def test_a_row_of_a_record_that_was_withdrawn_is_told_so(bring: Import, tmp_path: Path) -> None:
    """It is not to be amended, but left out or reinstated."""
    row = "ID,Date,Grid Ref,Species,No.\nr-1,12/07/2026,SU 431 118,pale rushlet,{}\n"
    bring(row.format(3))
    with open_ledger(tmp_path / "pond") as pond:
        pond.withdraw(["r-1"], "not seen", pond.people.ids_of("Ada Marsh")[0], NOW, counting(300))
    [back] = faulty(bring(row.format(4), "b.csv"))
    assert back["fault"] == "differs-from-ledger"
    assert "was withdrawn in this ledger" in back["why"]
    assert "reedmace ledger reinstate r-1 --reason" in back["what to do"]
    assert "amend" not in back["what to do"]


class TestOurOwnExport:
    """The issue: of our own export the same current records come back."""

    def exported(self, ledger: Path, to: Path) -> bytes:
        with open_ledger(ledger) as pond:
            lines = (
                occurrence(one, at, meta.modified, pond.people.name_of, Dataset("Ponds"))
                for one, at, meta in pond.current_sightings()
            )
            write_csv(to, lines, overwrite=True)
        return to.read_bytes()

    def test_the_same_bytes_come_out_again(self, bring: Import, tmp_path: Path) -> None:
        """Exported, imported elsewhere, exported again: ids, times, pairs, doubts, bands and remarks."""
        bring(
            HEADS
            + ROW.format('"2m,3f"')
            + ROW.format("3 cop")
            + ROW.format("6-20").replace("Ada Marsh,", "Ada Marsh,dull; then sun")
            + ROW.format("40+").replace("pale rushlet", "pale/misty")
            + ROW.format("").replace("pale rushlet", "misty?").replace("Ada Marsh", "Ada Marsh & party of 12")
        )
        out = self.exported(tmp_path / "pond", tmp_path / "out.csv")
        done = bring(out, "back.csv", ledger="other")
        assert (done.sightings, done.faulty) == (6, 0)
        assert self.exported(tmp_path / "other", tmp_path / "again.csv") == out
        again = bring(out, "back.csv")
        assert (again.sightings, again.visits, again.there, again.faulty) == (0, 0, 6, 0)

    def test_a_file_of_the_standard_by_somebody_else(self, bring: Import, tmp_path: Path) -> None:
        """Absences make no sighting; a name the key does not know is kept as given."""
        done = bring(
            "occurrenceID,eventDate,scientificName,decimalLatitude,decimalLongitude,"
            "coordinateUncertaintyInMeters,individualCount,occurrenceStatus,recordedBy,lifeStage\n"
            "urn:x:1,2024-06-14T10:00:00Z,Aeshna cyanea,51.06,-1.31,25,2,present,Ada Marsh|Ben Sallow,Adult\n"
            "urn:x:2,2024-06-14/2024-06-20,Aeshna cf. grandis,51.06,-1.31,,,present,Ben Sallow,\n"
            "urn:x:3,2024-06,Aeshna cyanea,51.06,-1.31,,0,absent,Ben Sallow,\n"
            "urn:x:4,2024,Nothing at all sp.,91,-1.31,,1,present,Ben Sallow,\n"
        )
        assert (done.sightings, done.left_out, done.faulty) == (2, 1, 1)
        found = {one.id: (one, at) for one, at in kept(tmp_path)}
        one, at = found["urn:x:1"]
        assert (one.taxon.scientific_name, at.place.uncertainty_m, at.date, one.stage) == (
            *("Aeshna cyanea", 25, "2024-06-14"),
            "adult",
        )
        other, then = found["urn:x:2"]
        assert (other.taxon.scientific_name, other.qualifier, then.date) == (
            *("Aeshna", "cf. grandis"),
            "2024-06-14/2024-06-20",
        )


@pytest.mark.parametrize("heading", ["Recorder(s)", "Surveyor", "Recorders (names)", "Observer 1"])
def test_whoever_saw_it_is_found_under_any_such_heading(bring: Import, tmp_path: Path, heading: str) -> None:
    """Else the records would be credited to whoever imports them."""
    done = bring(f"Date,Grid Ref,Species,No.,{heading}\n12/07/2026,SU 431 118,pale rushlet,3,Ben Sallow\n")
    assert (done.nobody, done.new_people) == (0, ("Ben Sallow",))


def test_observers_in_several_columns_all_observed(bring: Import) -> None:
    """Two columns, of which the second is often empty."""
    head = "Date,Grid Ref,Species,No.,Recorder,Recorder 2\n"
    row = "12/07/2026,SU 431 118,pale rushlet,{},Ben Sallow,{}\n"
    done = bring(head + row.format(1, "") + row.format(2, "Tarn Fenwick"))
    assert done.new_people == ("Ben Sallow", "Tarn Fenwick")


@pytest.mark.parametrize("cell", ["#REF!", "#N/A", "#VALUE!", "######"])
def test_an_error_of_the_spreadsheet_is_no_record(bring: Import, cell: str) -> None:
    """In whatever column it stands."""
    first, second = faulty(bring(HEADS + ROW.format(cell) + ROW.format(3).replace("Ada Marsh", cell)))
    assert (first["fault"], second["fault"]) == ("cell-error", "cell-error")


def test_a_visit_does_not_stay_without_the_sightings_it_came_with(bring: Import, tmp_path: Path) -> None:
    """Alone it would say that somebody was there and saw nothing."""
    text = "occurrenceID,scientificName,eventDate,decimalLatitude,decimalLongitude,recordedBy,individualCount,sex\n"
    text += "a,Tarnula pallida,2025-07-12,51.0596,-1.3101,Ada Marsh,3,male\n"
    text += "b,Obscura? nigra,2025-07-13,51.0596,-1.3101,Ada Marsh,3,\n"
    done = bring(text)
    assert (done.sightings, done.visits, done.faulty) == (1, 1, 1)
    with open_ledger(tmp_path / "pond") as pond:
        assert [visit.date for visit, _ in pond.current_visits()] == ["2025-07-12"]


def test_what_a_column_of_stages_says_of_sex_is_read_all_the_same(bring: Import, tmp_path: Path) -> None:
    """Volunteers fill in what they know where there is room."""
    head = "Date,Grid Ref,Species,No.,Sex,Stage,Sex/Stage\n"
    text = "".join(
        f"12/07/2026,SU 431 118,pale rushlet,{at},{cells}\n"
        for at, cells in enumerate(("imm,,", ",f,", ",,ad f", ",,cop", ",,M & F", "male | female,imago,", "m,,ten"), 1)
    )
    assert bring(head + text).faulty == 0
    assert {one.count: (one.sex, one.stage, one.behaviour) for one, _ in kept(tmp_path)} == {
        1: (None, "immature", ()),
        2: ("female", None, ()),
        3: ("female", "adult", ()),
        4: (None, None, ("copulating",)),
        5: (None, None, ()),
        6: (None, "adult", ()),
        7: ("male", "teneral", ()),
    }


def test_a_status_that_says_something_else_goes_into_the_remarks(bring: Import, tmp_path: Path) -> None:
    """Only whether anything was there is a status; nothing else in that column is lost."""
    head = "Date,Grid Ref,Species,No.,Status\n"
    row = "12/07/2026,SU 431 118,pale rushlet,{}\n"
    done = bring(head + row.format("2,Breeding") + row.format("3,Present") + row.format(",Absent"))
    assert (done.sightings, done.left_out) == (2, 1)
    assert {one.count: one.remarks for one, _ in kept(tmp_path)} == {2: "Breeding", 3: ""}


@pytest.mark.parametrize(
    ("quantity", "kind", "count", "pairs", "stage", "remarks"),
    [
        ("3", "pairs", 6, 3, None, ""),
        ("5", "exuviae", 5, None, "exuvia", ""),
        ("6-20", "individuals", 6, None, None, ""),
        ("12", "% cover", None, None, None, "12 % cover"),
        ("2", "individuals per m²", None, None, None, "2 individuals per m²"),
        ("C", "abundance class", None, None, None, "C abundance class"),
    ],
)
def test_quantities_of_the_standard_are_counts_or_kept_in_words(
    bring: Import,
    tmp_path: Path,
    quantity: str,
    kind: str,
    count: int | None,
    pairs: int | None,
    stage: str | None,
    remarks: str,
) -> None:
    """A share of cover is no number of insects."""
    head = "occurrenceID,scientificName,eventDate,locality,recordedBy,organismQuantity,organismQuantityType\n"
    assert bring(f"{head}a,Tarnula pallida,2025-07-12,Withy Pond,Ada Marsh,{quantity},{kind}\n").faulty == 0
    [(one, _)] = kept(tmp_path)
    assert (one.count, one.pairs, one.stage, one.remarks) == (count, pairs, stage, remarks)


@pytest.mark.parametrize(
    ("said", "certainty", "remarks"),
    [
        ("Certain", "certain", ""),
        ("possible", "uncertain", ""),
        ("Likely", "probable", ""),
        ("definite", "certain", ""),
        ("?", "uncertain", ""),
        ("Low", None, "certainty: Low"),
        ("", None, ""),
    ],
)
def test_a_certainty_is_read_in_any_words_or_kept_in_its_own(
    bring: Import, tmp_path: Path, said: str, certainty: str | None, remarks: str
) -> None:
    """A doubt is never dropped."""
    head = "Date,Grid Ref,Species,No.,Confidence\n"
    assert bring(f"{head}12/07/2026,SU 431 118,pale rushlet,3,{said}\n").faulty == 0
    [(one, _)] = kept(tmp_path)
    assert (one.certainty, one.remarks) == (certainty, remarks)


@pytest.mark.parametrize(
    ("comment", "stage"),
    [("exuviae", "exuvia"), ("Larvae only", "larva"), ("2 exuviae", None), ("exuviae nearby", None), ("teneral", None)],
)
def test_a_comment_that_says_skins_or_larvae_and_nothing_else_is_the_stage(
    bring: Import, tmp_path: Path, comment: str, stage: str | None
) -> None:
    """Those are no flying insects; what else a comment says may be true of some of them."""
    head = "Date,Grid Ref,Species,No.,Comments\n"
    assert bring(f"{head}12/07/2026,SU 431 118,pale rushlet,3,{comment}\n").faulty == 0
    [(one, _)] = kept(tmp_path)
    assert (one.stage, one.remarks) == (stage, comment)


def test_a_row_put_right_that_says_what_another_says_is_told_of(bring: Import, tmp_path: Path) -> None:
    """It may be a further record of the same, and nobody but who wrote it knows; a remark tells it apart."""
    done = bring(HEADS + ROW.format(3) + ROW.format(3).replace("pale", "pail") + ROW.format(4).replace("pale", "pail"))
    assert (done.sightings, done.faulty) == (1, 2)
    back = (tmp_path / "walks.csv.faults.csv").read_bytes().replace(b"pail rushlet", b"pale rushlet")
    again = bring(back, "again.csv")
    assert (again.sightings, again.there, again.repeated) == (1, 1, (2,))
    told_apart = bring(back.replace(b"Ada Marsh,,", b"Ada Marsh,another,", 1), "apart.csv")
    assert (told_apart.sightings, told_apart.repeated) == (1, (3,))
    assert bring(HEADS + ROW.format(3)).repeated == ()


def test_remarks_in_several_columns_are_all_kept(bring: Import, tmp_path: Path) -> None:
    """Whatever number stands with their heading."""
    text = "Date,Grid Ref,Species,No.,Comments,Comments 2,Other notes\n12/07/2026,SU 431 118,pale rushlet,3,a,b,c\n"
    assert bring(text).faulty == 0
    [(one, _)] = kept(tmp_path)
    assert one.remarks == "a; b; c"


@pytest.mark.parametrize(
    ("heading", "cells", "people"),
    [
        ("Obs", ("Ben Sallow", "Ben Sallow & T. Fenwick"), ("Ben Sallow", "T. Fenwick")),
        ("Obs", ("Ben Sallow", "seen by the sluice"), ()),
        ("Rec", ("12", "13"), ()),
    ],
)
def test_a_short_heading_is_of_observers_only_over_names(
    bring: Import, heading: str, cells: tuple[str, ...], people: tuple[str, ...]
) -> None:
    """It may head observations, or numbers of records, as well."""
    head = f"Date,Grid Ref,Species,No.,{heading}\n"
    text = "".join(f"12/07/2026,SU 431 118,pale rushlet,{at},{cell}\n" for at, cell in enumerate(cells, 1))
    assert bring(head + text).new_people == people
