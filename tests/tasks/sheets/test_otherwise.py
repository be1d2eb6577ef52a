"""A row whose id is in the ledger and which says something else comes back, whatever it is that differs."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path

import pytest

from reedmace.darwincore import Dataset, RowNotes, occurrence, write_csv
from reedmace.ledger.store import open_ledger
from reedmace.ledger.wanted import Wanted
from reedmace.places.place import Place, read_place
from reedmace.places.vice_counties import vice_counties
from reedmace.records import PlaceRecord
from tasks.importing import HEADS, ROW, Import, faulty, kept

COLUMNS = "Record ID,Date,Site,Grid Ref,Species,No.,Time,Recorder,Determiner,Temperature,VC,Photo,Habitat,Start\n"
CELLS = "r-1,12/07/2026,Tern Hollow,SU 431 118,pale rushlet,3,10:30,Ada Marsh,Ben Sallow,22,11,wing.jpg,pond,10:00\n"


def people(tmp_path: Path, ledger: str = "pond") -> set[str]:
    """Give the names in the register."""
    with open_ledger(tmp_path / ledger) as pond:
        return {one.name for one in pond.people.all()}


@pytest.mark.parametrize(
    ("was", "now", "what"),
    [
        ("Tern Hollow", "Withy Pond", "locality"),
        ("SU 431 118", "SU 432 118", "place"),
        ("10:30", "11:30", "time"),
        ("Ada Marsh", "Cora Reed", "observers"),
        ("Ada Marsh", "Ada Marsh & Cora Reed", "observers"),
        ("Ada Marsh", "Ada Marsh and party of 6", "party"),
        ("Ben Sallow", "Moss Linley", "determiner"),
        ("Ben Sallow", "", "determiner"),
        (",22,", ",25,", "weather"),
        (",11,", ",12,", "vice-county"),
        ("wing.jpg", "other.jpg", "photographs"),
        (",pond,", ",ditch,", "habitat"),
        ("10:00", "09:00", "start"),
        ("12/07/2026", "13/07/2026", "date"),
        ("rushlet,3", "rushlet,4", "count"),
        ("pale", "misty", "name"),
    ],
)
def test_whatever_a_row_of_a_known_id_says_otherwise_is_told(
    bring: Import, tmp_path: Path, was: str, now: str, what: str
) -> None:
    """And nobody is registered for a row that is not brought in."""
    assert bring(COLUMNS + CELLS).faulty == 0
    before, names = kept(tmp_path), people(tmp_path)
    done = bring(COLUMNS + CELLS.replace(was, now), "b.csv")
    assert (done.sightings, done.there, list(done.faults)) == (0, 0, ["differs-from-ledger"])
    assert what in re.split(", |another |[.]", faulty(done)[0]["why"])
    assert (kept(tmp_path), people(tmp_path), done.new_people) == (before, names, ())


@pytest.mark.parametrize(
    ("was", "now"),
    [
        ("12/07/2026", "2026-07-12"),
        ("SU 431 118", "SU431118"),
        ("10:30", "10:30:00"),
        (",22,", ",22.0,"),
        ("Ada Marsh", "ADA  MARSH"),
        ("Tern Hollow", "Tern  Hollow"),
        ("rushlet,3", "rushlet,3.0"),
    ],
)
def test_what_is_only_written_in_another_way_is_the_same(bring: Import, tmp_path: Path, was: str, now: str) -> None:
    """A spreadsheet writes dates, times and numbers in its own way."""
    bring(COLUMNS + CELLS)
    before = kept(tmp_path)
    again = bring(COLUMNS + CELLS.replace(was, now), "b.csv")
    assert (again.there, again.faulty, again.sightings) == (1, 0, 0)
    assert kept(tmp_path) == before


def test_a_column_that_the_sheet_does_not_have_says_nothing(bring: Import) -> None:
    """Nor does a blank where the importer was credited, nor the weather of another row of the visit."""
    bring(COLUMNS + CELLS)
    short = "Record ID,Date,Grid Ref,Species,No.\nr-1,12/07/2026,SU 431 118,pale rushlet,3\n"
    again = bring(short, "b.csv")
    assert (again.there, again.faulty) == (1, 0)
    other = CELLS.replace("r-1", "r-2").replace(",22,", ",,").replace("Ada Marsh", "")
    assert bring(COLUMNS + CELLS + other, "c.csv").sightings == 1
    again = bring(COLUMNS + CELLS + other, "c.csv")
    assert (again.there, again.faulty) == (2, 0)


def test_rows_that_contradict_each_other_on_their_visit_add_nothing_again(bring: Import) -> None:
    """The first row of a visit says what is the visit's; importing the same file again is no fault."""
    head = COLUMNS.replace("Record ID", "Record ID,Visit ID")
    sheet = head + CELLS.replace("r-1", "r-1,v") + CELLS.replace("r-1", "r-2,v").replace(",22,", ",25,")
    assert bring(sheet).sightings == 2
    again = bring(sheet)
    assert (again.there, again.faulty) == (2, 0)
    first = sheet.replace(",22,", ",23,")
    assert list(bring(first, "b.csv").faults) == ["differs-from-ledger"]


@pytest.mark.parametrize(
    ("was", "now", "told"),
    [
        ("rushlet,3", "rushlet,~40", "another count. Count: 3 there, about 40 here."),
        ("rushlet,3", "rushlet,3 cop", "another count, behaviour. Count: 3 there, 3 pairs (6 insects) here;"),
        ("SU 431 118", "SU 432 118", "another place. Place: SU431118 there, SU432118 here."),
        ("12/07/2026", "13/07/2026", "another date. Date: 2026-07-12 there, 2026-07-13 here."),
        (",pond,", ",ditch,", "another habitat. Habitat: pond there, ditch here."),
        ("pale", "misty", "another name. Name: Pale Rushlet (Tarnula pallida) there, Misty Rushlet"),
        ("Ada Marsh", "Cora Reed", "another observers. ("),
    ],
)
def test_what_each_of_the_two_says_is_told(bring: Import, was: str, now: str, told: str) -> None:
    """Whoever has to decide need not look for it; people are told of without their names."""
    bring(COLUMNS + CELLS)
    [back] = faulty(bring(COLUMNS + CELLS.replace(was, now), "b.csv"))
    assert told in back["why"]


def test_a_place_that_only_the_row_says_is_told_as_such(bring: Import) -> None:
    """A record that came in before a sheet had a column for it."""
    head = "Record ID,Date,Site,Species,No.\n"
    bring(f"{head}r-1,12/07/2026,Tern Hollow,pale rushlet,3\n")
    later = head.replace("Site", "Site,Grid Ref")
    [back] = faulty(bring(f"{later}r-1,12/07/2026,Tern Hollow,SU 431 118,pale rushlet,3\n", "b.csv"))
    assert "Place: nothing there, SU431118 here." in back["why"]


def test_the_hint_names_the_visit_where_the_visit_is_to_be_amended(bring: Import, tmp_path: Path) -> None:
    """A date, a place or the weather belongs to the whole visit."""
    bring(COLUMNS + CELLS)
    [(_, visit)] = kept(tmp_path)
    [back] = faulty(bring(COLUMNS + CELLS.replace(",22,", ",25,"), "b.csv"))
    assert f"reedmace ledger amend {visit.id} FIELD=VALUE" in back["what to do"]
    assert "amend r-1" not in back["what to do"]
    both = CELLS.replace(",22,", ",25,").replace("rushlet,3", "rushlet,4")
    [back] = faulty(bring(COLUMNS + both, "c.csv"))
    assert "amend r-1" in back["what to do"]
    assert visit.id in back["what to do"]


class TestOurOwnExport:
    """A cell that was corrected in our own export is told; one that was only written in another way is the same."""

    SHEET = (
        COLUMNS
        + CELLS
        + CELLS.replace("r-1", "r-2").replace("rushlet,3", "rushlet,~40")
        + CELLS.replace("r-1", "r-3").replace("Ada Marsh", "Ada Marsh and party of 6").replace(",10:00", ",")
        + CELLS.replace("r-1", "r-4").replace("SU 431 118", "SU 432 119").replace("10:30", "").replace("22", "")
    )

    def exported(self, bring: Import, tmp_path: Path) -> list[dict[str, str]]:
        """Give the rows of an export of the ledger."""
        bring(self.SHEET)
        names = {county.number: county.name for county in vice_counties()}
        with open_ledger(tmp_path / "pond") as pond:
            lines = (
                occurrence(one, at, meta.modified, pond.people.name_of, Dataset("Ponds", "", names))
                for one, at, meta in pond.current_sightings()
            )
            write_csv(tmp_path / "out.csv", lines, overwrite=True)
        with (tmp_path / "out.csv").open(encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file))

    def text(self, rows: list[dict[str, str]]) -> str:
        """Give rows as a file."""
        out = io.StringIO()
        writer = csv.DictWriter(out, rows[0].keys())
        writer.writeheader()
        writer.writerows(rows)
        return out.getvalue()

    def test_unchanged_or_re_formatted_it_adds_nothing_and_faults_nothing(self, bring: Import, tmp_path: Path) -> None:
        """Days and times as a spreadsheet writes them, noughts left off, other ways of parting cells."""
        rows = self.exported(bring, tmp_path)
        before = kept(tmp_path)
        assert bring(self.text(rows), "own.csv").there == 4
        for row in rows:
            year, month, day = row["eventDate"].split("-")
            row["eventDate"] = f"{day}/{month}/{year}"
            row["eventTime"] += ":00" if row["eventTime"] else ""
            row["decimalLatitude"] = row["decimalLatitude"].rstrip("0")
            row["month"] = row["month"].lstrip("0")
        done = bring(self.text(rows).replace("\n", "\r\n"), "reformatted.csv")
        assert (done.there, done.faulty, done.sightings) == (4, 0, 0)
        assert kept(tmp_path) == before

    @pytest.mark.parametrize(
        ("term", "now", "what"),
        [
            ("locality", "Withy Pond", "locality"),
            ("eventTime", "17:45", "time"),
            ("recordedBy", "Cora Reed", "observers"),
            ("identifiedBy", "Moss Linley", "determiner"),
            ("vernacularName", "Mauve Rushlet", "English name"),
            ("individualCount", "9", "count"),
            ("associatedMedia", "other.jpg", "photographs"),
            ("habitat", "ditch", "habitat"),
            ("occurrenceRemarks", "by the sluice", "remarks"),
            ("sex", "male", "sex"),
            ("dateIdentified", "2026-07-19", "day of naming"),
            ("eventRemarks", "Weather: rain", "weather"),
        ],
    )
    def test_a_corrected_cell_is_told(self, bring: Import, tmp_path: Path, term: str, now: str, what: str) -> None:
        """In a visit with a place and times of its own as well as in one without."""
        for row in self.exported(bring, tmp_path):
            if term == "individualCount" and not row[term]:
                continue
            done = bring(self.text([{**row, term: now}]), f"{row['occurrenceID']}.csv")
            assert (done.there, list(done.faults)) == (0, ["differs-from-ledger"]), row
            assert what in faulty(done)[0]["why"]

    def test_a_place_corrected_in_all_its_columns_is_told(self, bring: Import, tmp_path: Path) -> None:
        """The reference with its position; in some of them only, the row says two places."""
        rows = self.exported(bring, tmp_path)
        spot = read_place("SU 440 110")
        assert isinstance(spot, Place)
        latitude, longitude = (f"{degrees:.6f}" for degrees in spot.rounded())
        new = {"verbatimCoordinates": "SU 440 110", "decimalLatitude": latitude, "decimalLongitude": longitude}
        for row in rows:
            done = bring(self.text([row | new]), f"{row['occurrenceID']}.csv")
            assert list(done.faults) == ["differs-from-ledger"]
            assert "another place" in faulty(done)[0]["why"]
            for term, cell in (*new.items(), ("higherGeography", "United Kingdom | Vice-county 17 Surrey")):
                done = bring(self.text([row | {term: cell}]), f"{row['occurrenceID']}{term}.csv")
                assert list(done.faults) == ["place-differs"], term

    def test_of_a_public_version_only_what_it_leaves_alone_is_compared(self, bring: Import, tmp_path: Path) -> None:
        """It has initials, a coarse place and no remarks by design; another count is still another count."""
        bring(self.SHEET)
        notes = RowNotes(
            generalised="Place given as the 10 km square", withheld="Remarks and other words as typed, names in full"
        )
        with open_ledger(tmp_path / "pond") as pond:
            [(one, at, meta), *_] = pond.current_sightings(Wanted())
            spot = read_place("SU41")
            assert isinstance(spot, Place)
            coarse = at._replace(place=PlaceRecord("SU41", "GB", "SU41", 10_000, *spot.rounded(), 7080))
            coarse = coarse._replace(start=None, weather="", temperature_c=None, habitat="")
            bare = one._replace(photos=(), typed="", time=None, place=None, determined_on=None)
            row = occurrence(bare, coarse, meta.modified, lambda _: "A. M.", Dataset("Ponds"), notes)
        done = bring(self.text([row]), "public.csv")
        assert (done.there, done.faulty, done.new_people) == (1, 0, ())
        row |= {"individualCount": "17", "organismQuantity": "", "organismQuantityType": ""}
        assert list(bring(self.text([row]), "other.csv").faults) == ["differs-from-ledger"]

    def test_a_name_taken_out_of_the_ledger_is_not_brought_back(self, bring: Import, tmp_path: Path) -> None:
        """An older file still holds it; nothing differs for that, and nobody is registered anew."""
        rows = self.exported(bring, tmp_path)
        with open_ledger(tmp_path / "pond") as pond:
            pond.forget(pond.people.ids_of("Ben Sallow"), ["Ben Sallow"])
        again = bring(self.text(rows), "old.csv")
        assert (again.there, again.faulty) == (4, 0)
        assert "Ben Sallow" not in people(tmp_path)


def test_new_people_are_told_by_name_and_registered_with_their_rows(bring: Import, tmp_path: Path) -> None:
    """A dry run tells the same; a faulty row brings nobody in."""
    sheet = (
        HEADS
        + ROW.format(3).replace("Ada Marsh", "Cora Reed & ada marsh")
        + ROW.format(4).replace("Ada Marsh", "Moss Linley").replace("SU 431 118", "nowhere 5")
    )
    dry = bring(sheet, dry=True)
    assert dry.new_people == ("Cora Reed",)
    assert people(tmp_path) == {"Ada Marsh"}
    assert bring(sheet).new_people == ("Cora Reed",)
    assert people(tmp_path) == {"Ada Marsh", "Cora Reed"}
    assert bring(sheet).new_people == ()
