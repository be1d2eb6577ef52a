"""The archive: valid by the standard's own schema, read back by another program to the same values.

Checked against the text guide's schema (shared reference), the list of terms (shared reference) and
python-dwca-reader; the CSV against DuckDB.
"""

from __future__ import annotations

import csv
import io
import zipfile
from pathlib import Path
from typing import Any

import duckdb
import pytest
from dwca.read import DwCAReader
from lxml import etree

from darwincore.test_round_trip import TODAY, filled, walks
from ledger.pond import begun, counting, refused
from reedmace.darwincore import DEFAULT_COLUMNS, About, write_archive
from reedmace.darwincore.archive import IDENTIFICATION_COLUMNS, meta
from reedmace.darwincore.terms import DARWIN_CORE
from reedmace.keys.model import Key
from reedmace.ledger.store import open_ledger
from reedmace.tasks.export.profiles import ExportProfile
from reedmace.tasks.export.season import Asked, export_season
from reference import reference

TEXT = "{http://rs.tdwg.org/dwc/text/}"
ROWS = [
    ({"occurrenceID": "s-1", "eventDate": "2026-06-14", "scientificName": "Aeshna mixta"}, [{"occurrenceID": "s-1"}]),
    ({"occurrenceID": "s-2", "occurrenceRemarks": 'he said "1,\n2"\t=1+1'}, []),
]
ABOUT = About("Ponds & <walks>", "Ada Marsh", "https://creativecommons.org/licenses/by/4.0/")


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory, tarn: Key) -> Path:
    """The folder of a ledger of a few hundred odd sightings, exported as archive (twice) and as CSV."""
    from hypothesis import HealthCheck, Phase, given, seed, settings
    from hypothesis import strategies as st

    folder = tmp_path_factory.mktemp("archive")
    drawn: dict[str, Any] = {}
    ids: set[str] = set()

    @seed(6)
    @settings(max_examples=150, phases=(Phase.generate,), database=None, suppress_health_check=list(HealthCheck))
    @given(st.lists(walks(), max_size=4))
    def draw(some: list[Any]) -> None:
        for visit, seen in some:
            new = [one for one in seen if one.id not in ids]
            if visit.id not in ids and new:
                drawn[visit.id] = (visit, list({one.id: one for one in new}.values()))
                ids.update({visit.id, *(one.id for one in new)})

    draw()
    filled(folder / "pond", list(drawn.values()))
    with open_ledger(folder / "pond") as ledger:
        for name in ("one.zip", "two.zip", "one.csv"):
            asked = Asked(None, folder / name, ExportProfile(format=1, dataset="Pond walks"), TODAY)
            assert export_season(ledger, asked).rows > 100
    return folder


def parts(path: Path) -> dict[str, bytes]:
    """The files in an archive."""
    with zipfile.ZipFile(path) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def table(data: bytes) -> list[list[str]]:
    """Rows of a CSV with the header."""
    return list(csv.reader(io.StringIO(data.decode("utf-8"), newline="")))


def test_the_same_ledger_gives_the_same_bytes(made: Path) -> None:
    """Fixed times, one order; the core is the CSV file."""
    assert (made / "one.zip").read_bytes() == (made / "two.zip").read_bytes()
    assert parts(made / "one.zip")["occurrence.csv"] == (made / "one.csv").read_bytes()
    with zipfile.ZipFile(made / "one.zip") as archive:
        assert archive.testzip() is None
        assert archive.namelist() == ["occurrence.csv", "identification.csv", "meta.xml", "eml.xml"]
        assert {info.date_time for info in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}


def test_meta_is_valid_by_the_standards_schema(made: Path) -> None:
    """The schema imports two others for words that it does not use here; they are left out, nothing is fetched."""
    schema = etree.parse(reference("tdwg_dwc_text.xsd"))
    for imported in schema.getroot().findall("{http://www.w3.org/2001/XMLSchema}import"):
        schema.getroot().remove(imported)
    valid = etree.XMLSchema(schema)
    document = etree.fromstring(parts(made / "one.zip")["meta.xml"])
    valid.assertValid(document)
    # … and the schema can say no.
    document[0].attrib.pop("rowType")
    assert not valid.validate(document)


def test_every_column_is_declared_once_as_a_term_of_the_list(made: Path) -> None:
    """What the schema does not see: misspelt terms, indices with gaps or twice, a core without an id."""
    with reference("dwc_terms.csv").open(encoding="utf-8", newline="") as file:
        listed = {row["term"]: row["iri"] for row in csv.DictReader(file)}
    files = parts(made / "one.zip")
    document = etree.fromstring(files["meta.xml"])
    for element, kind in zip(document, ("id", "coreid"), strict=True):
        assert element.get("rowType") in (f"{DARWIN_CORE}Occurrence", f"{DARWIN_CORE}Identification")
        assert set(element.attrib) == {
            *("encoding", "fieldsTerminatedBy", "linesTerminatedBy", "fieldsEnclosedBy"),
            *("ignoreHeaderLines", "dateFormat", "rowType"),
        }
        header = table(files[element.findtext(f"{TEXT}files/{TEXT}location")])[0]
        assert element.find(f"{TEXT}{kind}").get("index") == "0"
        declared = {int(field.get("index")): field.get("term") for field in element.findall(f"{TEXT}field")}
        first = 0 if kind == "id" else 1
        assert sorted(declared) == list(range(first, len(header)))
        assert [declared[index] for index in sorted(declared)] == [listed[name] for name in header[first:]]


def test_another_program_reads_the_same_values(made: Path) -> None:
    """python-dwca-reader, row by row, with the determinations of each."""
    files = parts(made / "one.zip")
    header, *rows = table(files["occurrence.csv"])
    head, *determinations = table(files["identification.csv"])
    names = {etree.QName(one).localname if "{" in one else one for one in header}
    assert names == set(DEFAULT_COLUMNS)
    seen = 0
    with DwCAReader(made / "one.zip") as archive:
        assert archive.descriptor.core.type == f"{DARWIN_CORE}Occurrence"
        assert archive.metadata is not None
        for ours, theirs in zip(rows, archive, strict=True):
            told = {term.rpartition("/")[2]: value for term, value in theirs.data.items()}
            assert theirs.id == ours[0]
            assert told == {name: value.strip() for name, value in zip(header, ours, strict=True)} or told == dict(
                zip(header, ours, strict=True)
            )
            mine = [dict(zip(head, one, strict=True)) for one in determinations if one[0] == ours[0]]
            read = [{t.rpartition("/")[2]: v for t, v in one.data.items()} for one in theirs.extensions]
            assert [one["identificationID"] for one in read] == [one["identificationID"] for one in mine]
            assert [one["scientificName"] for one in read] == [one["scientificName"] for one in mine]
            assert [one["isAcceptedIdentification"] for one in mine] == ["false"] * (len(mine) - 1) + ["true"]
            seen += len(mine) > 1
    assert seen > 10
    ids = [row[0] for row in rows]
    assert len(set(ids)) == len(ids)
    assert len({one[1] for one in determinations}) == len(determinations)
    assert {one[0] for one in determinations} == set(ids)


def test_another_engine_reads_the_csv_the_same(made: Path) -> None:
    """DuckDB, all as text, against Python's own reader."""
    path = made / "one.csv"
    ours = [tuple(row) for row in table(path.read_bytes())[1:]]
    how = "all_varchar=true, header=true, nullstr='\x01', quote='\"', escape='\"', delim=',', strict_mode=true"
    asked = f"SELECT * FROM read_csv('{path}', {how})"
    theirs = duckdb.sql(asked).fetchall()
    assert [tuple(cell or "" for cell in row) for row in theirs] == ours


def test_eml_says_what_it_is(made: Path) -> None:
    """Well formed; title, creator, contact, abstract, coverage and rights in the order of the language."""
    document = etree.fromstring(parts(made / "one.zip")["eml.xml"])
    dataset = document.find("dataset")
    assert dataset is not None
    assert [one.tag for one in dataset] == [
        *("title", "creator", "metadataProvider", "pubDate", "language", "abstract", "intellectualRights"),
        *("coverage", "contact"),
    ]
    assert dataset.findtext("title") == "Pond walks"
    assert dataset.findtext("creator/individualName/surName") == "Marsh"
    assert dataset.find("intellectualRights/para/ulink").get("url").startswith("https://creativecommons.org/")
    west, east = (float(dataset.findtext(f".//{side}BoundingCoordinate")) for side in ("west", "east"))
    assert west <= east
    assert document.get("packageId").startswith("urn:uuid:")


def test_text_of_the_user_is_escaped(tmp_path: Path) -> None:
    """In titles and names; and a break in a cell is none in the table."""
    assert write_archive(tmp_path / "a.zip", ROWS, ("scientificName", "occurrenceRemarks"), ABOUT) == 2
    files = parts(tmp_path / "a.zip")
    assert etree.fromstring(files["eml.xml"]).findtext("dataset/title") == "Ponds & <walks>"
    assert table(files["occurrence.csv"]) == [
        ["occurrenceID", "scientificName", "occurrenceRemarks"],
        ["s-1", "Aeshna mixta", ""],
        ["s-2", "", 'he said "1, / 2" =1+1'],
    ]
    assert table(files["identification.csv"])[0] == list(IDENTIFICATION_COLUMNS)


def test_nothing_is_left_where_it_fails(tmp_path: Path) -> None:
    """An id twice, a file that is there."""
    with refused("archive-id"):
        write_archive(tmp_path / "a.zip", [ROWS[0], ROWS[0]], ("scientificName",), ABOUT)
    (tmp_path / "a.zip").write_bytes(b"mine")
    with refused("export-exists"):
        write_archive(tmp_path / "a.zip", ROWS, ("scientificName",), ABOUT)
    with refused("unknown-term"):
        write_archive(tmp_path / "b.zip", ROWS, ("scientificname",), ABOUT)
    assert [path.name for path in tmp_path.iterdir()] == ["a.zip"]
    assert "term" in meta(("occurrenceID",))


def test_no_records_make_an_archive_too(tmp_path: Path) -> None:
    """With headers, and without an extent."""
    with begun(tmp_path / "pond", counting()) as (ledger, _, _mint):
        asked = Asked(2001, tmp_path / "none.zip", ExportProfile(format=1), TODAY)
        assert export_season(ledger, asked).rows == 0
    files = parts(tmp_path / "none.zip")
    assert len(table(files["occurrence.csv"])) == 1
    assert etree.fromstring(files["eml.xml"]).find("dataset/coverage") is None
