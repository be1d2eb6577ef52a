"""Scientific names of files of the standard: with who gave them, under old names, as pairs, or not in the key."""

from __future__ import annotations

from pathlib import Path

import pytest

from reedmace.keys.model import Key
from reedmace.tasks.sheets.import_told import NotInKey
from reedmace.tasks.sheets.names import NamedAs
from reedmace.tasks.sheets.scientific import read_scientific
from tasks.importing import Import, kept

HEAD = "occurrenceID,eventDate,scientificName,scientificNameAuthorship,decimalLatitude,decimalLongitude,recordedBy\n"


def rows(*names: str) -> str:
    """A file of the standard with these names, each with its authorship or a comma."""
    return HEAD + "".join(f"g{at},2026-07-12,{name},51.06,-1.31,Ada Marsh\n" for at, name in enumerate(names))


def read(key: Key, name: str, **more: str) -> NamedAs:
    """The name as it was read."""
    named = read_scientific(key, {"scientific_name": name, **more})
    assert isinstance(named, NamedAs)
    return named


@pytest.mark.parametrize(
    ("name", "authorship"),
    [
        ("Tarnula pallida (Fellman, 1899)", ""),
        ("Tarnula pallida (Fellman, 1899)", "(Fellman, 1899)"),
        ("Tarnula pallida Fellman 1899", ""),
        ("Tarnula pallida (Fellman)", ""),
        ("Tarnula pallida de Rill, 1801", ""),
        ("Tarnula pallida Ölmann & van der Beek, 1801", ""),
    ],
)
def test_who_gave_a_name_is_no_part_of_it(tarn: Key, name: str, authorship: str) -> None:
    """A year says so, or the key's own words; the name as it was written is kept."""
    named = read(tarn, name, authorship=authorship)
    assert (named.taxon.scientific_name, named.taxon.vernacular) == ("Tarnula pallida", "Pale Rushlet")
    assert (named.literal, named.unknown, named.taxon.rank) == (True, False, "species")
    assert named.taxon.typed == ("" if authorship else name)


def test_a_name_with_all_its_ranks_is_matched_too(tarn: Key) -> None:
    """As other programs give them; what they give stays."""
    more = {"rank": "SPECIES", "family": "Tarnulidae", "genus": "Tarnula", "order": "Lacunoptera"}
    taxon = read(tarn, "Tarnula pallida (Fellman, 1899)", **more).taxon
    assert (taxon.scientific_name, taxon.rank, taxon.vernacular) == ("Tarnula pallida", "SPECIES", "Pale Rushlet")


def test_an_old_name_is_read_as_the_keys_and_told(bring: Import, tmp_path: Path) -> None:
    """And two names parted by a stroke as one of these."""
    done = bring(rows("Vetus pallida,", "Tarnula pallida/nebula,", "Tarnula pallida,"))
    assert (done.faulty, done.not_in_key) == (0, ())
    assert sorted(one.typed for one in done.read_as) == ["Tarnula pallida/nebula", "Vetus pallida"]
    found = {one.id: one.taxon for one, _ in kept(tmp_path)}
    assert found["g0"]._replace(typed="") == found["g2"]._replace(typed="")
    assert (found["g1"].one_of, found["g1"].rank) == (("Tarnula pallida", "Tarnula nebula"), "genus")


def test_names_that_are_not_in_the_key_are_kept_and_told(bring: Import, tmp_path: Path) -> None:
    """With the name of the key that looks most like them; higher ranks are the key's too."""
    names = (
        "Tarnula palida,",
        "Gyrona minuta,",
        "Tarnula palida,",
        "Lacunoptera,",
        "Tarnulidae,",
        "Tarnula pallida/alba,",
    )
    for dry in (True, False):
        done = bring(rows(*names), dry=dry)
        assert done.not_in_key[0] == NotInKey("Tarnula palida", "Tarnula pallida", 2)
        assert [one.name for one in done.not_in_key[1:]] == ["Gyrona minuta", "Tarnula pallida/alba"]
        assert done.not_in_key[1].nearest == ""
    assert {one.taxon.scientific_name for one, _ in kept(tmp_path)} >= {"Tarnula palida", "Gyrona minuta"}
    assert bring(rows(*names)).not_in_key == (), "said once, of what came in"


@pytest.mark.parametrize(
    ("scientific", "english", "code"),
    [
        ("Tarnula pallida", "Misty Rushlet", "names-differ"),
        ("Tarnula pallida", "Pale Rushlet", ""),
        ("Tarnula", "Pale Rushlet", ""),
        ("Tarnula pallida", "Some Other Fly", ""),
        ("Wombata wombat", "Pale Rushlet", ""),
    ],
)
def test_an_english_name_beside_a_scientific_one_must_agree_with_it(
    bring: Import, tmp_path: Path, scientific: str, english: str, code: str
) -> None:
    """The same insect or one that holds it; English names that the key has not say nothing against it."""
    head = HEAD.replace("recordedBy", "recordedBy,vernacularName")
    done = bring(f"{head}g1,2026-07-12,{scientific},,51.06,-1.31,Ada Marsh,{english}\n")
    assert list(done.faults) == ([code] if code else [])
    assert len(kept(tmp_path)) == (not code)


def test_a_plain_id_of_a_file_of_the_standard_is_kept(bring: Import, tmp_path: Path) -> None:
    """Archives head it so, and a record keeps its identifier for ever; a number of the row is none."""
    text = HEAD.replace("occurrenceID", "id") + "urn:x:1,2026-07-12,Tarnula pallida,,51.06,-1.31,Ada Marsh\n"
    assert bring(text).faulty == 0
    assert [one.id for one, _ in kept(tmp_path)] == ["urn:x:1"]
    assert bring(text.replace("urn:x:1", "1"), "b.csv", "b").faulty == 0
    [(one, _)] = kept(tmp_path, "b")
    assert one.id != "1"
    both = text.replace("id,eventDate", "id,occurrenceID,eventDate").replace("urn:x:1,", "urn:x:1,urn:y:1,")
    assert bring(both, "c.csv", "c").faulty == 0
    assert [one.id for one, _ in kept(tmp_path, "c")] == ["urn:y:1"]


def test_a_plain_id_that_several_rows_share_is_that_of_their_visit(bring: Import, tmp_path: Path) -> None:
    """In an archive of visits each of their records is headed so; none of them is lost."""
    row = "e-1,2026-07-12,{},,51.06,-1.31,Ada Marsh\n"
    text = HEAD.replace("occurrenceID", "id") + row.format("Tarnula pallida") + row.format("Tarnula")
    assert bring(text + row.replace("e-1", "e-2").format("Tarnula pallida")).faulty == 0
    ids = [one.id for one, _ in kept(tmp_path)]
    assert len(ids) == len(set(ids)) == 3
    assert "e-2" not in ids
