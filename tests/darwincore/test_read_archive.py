"""Archives from anywhere: read where they can be, refused in plain words where they cannot, and never obeyed."""

from __future__ import annotations

import csv
import io
import struct
import zipfile
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.pond import refused
from reedmace.darwincore import is_archive, occurrences_of
from reedmace.darwincore.read_meta import read_meta
from reedmace.faults import Refused

DWC = "http://rs.tdwg.org/dwc/terms/"
META = f"""<?xml version="1.0" encoding="UTF-8"?>
<archive xmlns="http://rs.tdwg.org/dwc/text/" metadata="eml.xml">
  <core encoding="UTF-8" fieldsTerminatedBy="\\t" linesTerminatedBy="\\n" fieldsEnclosedBy="" ignoreHeaderLines="1"
        rowType="{DWC}Occurrence">
    <files><location>occurrence.txt</location></files>
    <id index="0"/>
    <field index="2" term="{DWC}eventDate"/>
    <field index="1" term="{DWC}scientificName"/>
    <field default="Event" term="http://purl.org/dc/elements/1.1/type"/>
  </core>
</archive>
"""
TABLE = 'id\tname\tday\textra\ns-1\tAeshna mixta\t2026-06-14\tx\ns-2\tAeshna "sp\t2026-06-15\n'


def packed(path: Path, **files: str | bytes) -> Path:
    """An archive of these files; `_` stands for a point in their names."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(name.replace("_", "."), data)
    return path


def read(path: Path) -> list[dict[str, str]]:
    """Its occurrences."""
    with occurrences_of(path) as table, table.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_a_table_described_by_its_meta(tmp_path: Path) -> None:
    """Columns in any order, constants, rows that are too short, quotes that are none."""
    path = packed(tmp_path / "a.zip", meta_xml=META, occurrence_txt=TABLE)
    assert is_archive(path)
    assert read(path) == [
        {"occurrenceID": "s-1", "eventDate": "2026-06-14", "scientificName": "Aeshna mixta", "type": "Event"},
        {"occurrenceID": "s-2", "eventDate": "2026-06-15", "scientificName": 'Aeshna "sp', "type": "Event"},
    ]
    assert not list(tmp_path.glob("*.csv"))


def test_in_other_encodings_in_a_folder_and_without_a_description(tmp_path: Path) -> None:
    """As others pack them."""
    latin = META.replace('encoding="UTF-8" fields', 'encoding="ISO-8859-1" fields')
    path = packed(tmp_path / "a.zip", meta_xml=latin, occurrence_txt=TABLE.replace("mixta", "Forêt").encode("latin-1"))
    assert read(path)[0]["scientificName"] == "Aeshna Forêt"
    with zipfile.ZipFile(tmp_path / "b.zip", "w") as archive:
        archive.writestr("download/meta.xml", META)
        archive.writestr("download/occurrence.txt", TABLE)
    assert len(read(tmp_path / "b.zip")) == 2
    lone = packed(tmp_path / "c.zip", records_csv="occurrenceID,dwc:eventDate,mine\ns-1,2026,x\n")
    assert read(lone) == [{"occurrenceID": "s-1", "eventDate": "2026"}]


@pytest.mark.parametrize(
    ("files", "code"),
    [
        ({"meta_xml": META}, "archive-file-missing"),
        ({"occurrence_txt": "a,b\n1,2\n"}, "archive-file-missing"),
        ({}, "archive-file-missing"),
        ({"a_csv": "occurrenceID,occurrenceID\n1,2\n"}, "column-twice"),
        ({"meta_xml": META, "occurrence_txt": TABLE.encode("utf-16")}, "archive-encoding"),
        ({"meta_xml": META, "occurrence_txt": b"id\ts\nx\xff\ty\n"}, "archive-encoding"),
        ({"meta_xml": META.replace('"UTF-8" fields', '"klingon" fields'), "occurrence_txt": TABLE}, "archive-encoding"),
        ({"meta_xml": META.replace('"UTF-8" fields', '"rot13" fields'), "occurrence_txt": TABLE}, "archive-encoding"),
        ({"meta_xml": META.replace("Occurrence", "Taxon"), "occurrence_txt": TABLE}, "archive-other-core"),
        ({"meta_xml": META.replace("scientificName", "eventDate"), "occurrence_txt": TABLE}, "column-twice"),
        ({"meta_xml": META.replace('index="2"', 'index="1"'), "occurrence_txt": TABLE}, "archive-meta"),
        ({"meta_xml": META.replace('index="2"', 'index="-2"'), "occurrence_txt": TABLE}, "archive-meta"),
        ({"meta_xml": META.replace('index="2"', 'index="99999999"'), "occurrence_txt": TABLE}, "archive-meta"),
        ({"meta_xml": META.replace("\\t", "::"), "occurrence_txt": TABLE}, "archive-meta"),
        ({"meta_xml": META.replace("<core", "<kore"), "occurrence_txt": TABLE}, "archive-meta"),
        ({"meta_xml": META[:-20], "occurrence_txt": TABLE}, "archive-meta"),
        ({"meta_xml": b"", "occurrence_txt": TABLE}, "archive-meta"),
        ({"meta_xml": "<a>" * 5000, "occurrence_txt": TABLE}, "archive-meta"),
        (
            {"meta_xml": META.replace("occurrence.txt", "../../etc/passwd"), "occurrence_txt": TABLE},
            "archive-file-missing",
        ),
        ({"meta_xml": META.replace("occurrence.txt", "http://example.org/x"), "a_txt": TABLE}, "archive-file-missing"),
        ({"meta_xml": META.replace('fieldsEnclosedBy=""', ""), "occurrence_txt": 'id\tn\n"s-1\tx\n'}, "not-csv"),
        ({"meta_xml": "x" * (2 << 20), "occurrence_txt": TABLE}, "archive-too-large"),
    ],
)
def test_what_cannot_be_used_is_a_fault(tmp_path: Path, files: dict[str, Any], code: str) -> None:
    """With its place and a remedy, and nothing left behind."""
    path = packed(tmp_path / "a.zip", **files)
    with refused(code) as caught:
        read(path)
    assert caught.value.faults[0].where
    assert [one.name for one in tmp_path.iterdir()] == ["a.zip"]


@pytest.mark.parametrize("name", ["../evil.csv", "/etc/passwd", "a/../../b", "C:/x.csv", "..\\evil.csv"])
def test_a_file_that_is_to_lie_elsewhere(tmp_path: Path, name: str) -> None:
    """Is refused, though nothing would be written there."""
    with zipfile.ZipFile(tmp_path / "a.zip", "w") as archive:
        archive.writestr("meta.xml", META)
        archive.writestr("occurrence.txt", TABLE)
        archive.writestr(zipfile.ZipInfo(name), "x")
    with refused("archive-path"):
        read(tmp_path / "a.zip")


def test_a_file_without_a_name(tmp_path: Path) -> None:
    """A name ends at the first zero byte, and so may be nothing at all."""
    path = packed(tmp_path / "a.zip", meta_xml=META, occurrence_txt=TABLE)
    path.write_bytes(path.read_bytes().replace(b"meta.xml", b"\0eta.xml"))
    with refused("not-an-archive"):
        read(path)


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_two_files_of_one_name(tmp_path: Path) -> None:
    """Programs differ in which of them they read."""
    with zipfile.ZipFile(tmp_path / "a.zip", "w") as archive:
        for data in (TABLE, TABLE.replace("mixta", "grandis")):
            archive.writestr("occurrence.txt", data)
    with refused("archive-file-twice"):
        read(tmp_path / "a.zip")


def test_a_bomb_is_refused_before_it_goes_off(tmp_path: Path) -> None:
    """By what it says of its size; and one that lies about that gives no more than it said."""
    path = packed(tmp_path / "a.zip", meta_xml=META, occurrence_txt=b"0" * (64 << 20))
    with refused("archive-too-large"):
        read(path)
    data = bytearray(path.read_bytes())
    place = data.rindex(b"PK\x01\x02")  # the table's line in the directory
    struct.pack_into("<I", data, place + 24, 1000)
    path.write_bytes(data)
    with refused("not-an-archive"):
        read(path)
    with zipfile.ZipFile(tmp_path / "many.zip", "w") as archive:
        for number in range(1001):
            archive.writestr(f"{number}.csv", "")
    with refused("archive-too-large"):
        read(tmp_path / "many.zip")


@pytest.mark.parametrize(
    "doctype",
    [
        '<!DOCTYPE archive [<!ENTITY x SYSTEM "file:///etc/passwd">]>',
        '<!DOCTYPE archive SYSTEM "http://example.org/a.dtd">',
        '<!DOCTYPE a [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;">]>',
    ],
)
def test_no_entity_is_ever_resolved(tmp_path: Path, doctype: str) -> None:
    """No document type, so no entities."""
    meta = META.replace("<archive", f"{doctype}<archive", 1).replace("occurrence.txt", "&x;")
    with refused("archive-meta"):
        read(packed(tmp_path / "a.zip", meta_xml=meta, occurrence_txt=TABLE))


@settings(max_examples=150)
@given(st.data())
def test_whatever_is_broken_is_a_fault_and_no_crash(data: st.DataObject) -> None:
    """Bytes changed, cut or put in anywhere."""
    from tempfile import TemporaryDirectory

    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("meta.xml", META)
        archive.writestr("occurrence.txt", TABLE)
    whole = bytearray(buffer.getvalue())
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(whole) - 1))
        whole[at : at + data.draw(st.integers(0, 3))] = data.draw(st.binary(max_size=3))
    with TemporaryDirectory() as folder:
        path = Path(folder) / "a.zip"
        path.write_bytes(whole)
        with suppress(Refused):
            read(path)


@settings(max_examples=150)
@given(st.binary(max_size=200) | st.text(max_size=200).map(str.encode))
def test_any_description_is_read_or_refused(data: bytes) -> None:
    """Alone, and behind a proper beginning."""
    for whole in (data, META.encode()[:300] + data, META.encode().replace(b"eventDate", data)):
        with suppress(Refused):
            read_meta(whole, "meta.xml")
