"""What a name was taken for is told, and two columns of names are one name or a fault."""

from __future__ import annotations

from pathlib import Path

import pytest

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.tasks.sheets.kinds import Kind
from reedmace.tasks.sheets.names import NamedAs, read_name
from tasks.importing import Import, faulty, kept

HEAD = "Date,Grid Ref,Species,No.\n"


def rows(*names: str) -> str:
    """Rows of one day and place with these names."""
    return HEAD + "".join(f"12/07/2026,SU 431 118,{name},{at}\n" for at, name in enumerate(names, 1))


def test_names_that_are_none_of_the_key_are_told_with_what_they_were_taken_for(bring: Import) -> None:
    """The most frequent first; of a dry run too, and not of rows that were there already or are faulty."""
    text = rows(
        "misty", "Pale", "misty", "wombat", "Pale Rushlet", "tarnula nebula", "Great Boulderer ?", "Tarnula sp."
    )
    told = [
        ("misty", "Misty Rushlet (Tarnula nebula)", 2),
        ("Pale", "Pale Rushlet (Tarnula pallida)", 1),
    ]
    for dry in (True, False):
        assert [tuple(one) for one in bring(text, dry=dry).read_as] == told
    assert bring(text).read_as == ()


def test_a_part_of_a_group_is_told_as_the_group(bring: Import) -> None:
    """A genus by one word, and a pair, in full too: a stroke may have been meant as "and"."""
    done = bring(rows("boulderer sp.", "pale/misty rushlet", "Pale Rushlet/Misty Rushlet"))
    assert [(one.typed, one.rows) for one in done.read_as] == [
        ("Pale Rushlet/Misty Rushlet", 1),
        ("boulderer sp.", 1),
        ("pale/misty rushlet", 1),
    ]
    assert "Mossopa" in done.read_as[1].taken_for


NAMED = "Date,Grid Ref,English name,Latin name,No.\n"


@pytest.mark.parametrize(
    ("names", "found"),
    [
        ("Pale Rushlet,Tarnula pallida", "Tarnula pallida"),
        ("pale rushlet,", "Tarnula pallida"),
        (",Tarnula pallida", "Tarnula pallida"),
        ("Pale Rushlet,Tarnulidae", "Tarnula pallida"),
        ("Tarnula,pallida", "Tarnula pallida"),
    ],
)
def test_two_columns_of_names_that_agree_are_one_name(bring: Import, tmp_path: Path, names: str, found: str) -> None:
    """Or one name in two parts; both are kept as typed."""
    done = bring(f"{NAMED}12/07/2026,SU 431 118,{names},3\n")
    assert (done.faulty, done.read_as) == (0, ())
    [(one, _)] = kept(tmp_path)
    assert one.taxon.scientific_name == found
    assert all(part in one.taxon.typed for part in names.split(","))


@pytest.mark.parametrize("head", [NAMED, NAMED.replace("Latin", "Scientific")])
def test_two_columns_of_names_that_contradict_each_other_are_a_fault(bring: Import, tmp_path: Path, head: str) -> None:
    """Which says both, and does not choose."""
    done = bring(f"{head}12/07/2026,SU 431 118,Pale Rushlet,Tarnula nebula,3\n")
    assert kept(tmp_path) == []
    [row] = faulty(done)
    assert row["fault"] == "names-differ"
    assert "Pale Rushlet (Tarnula pallida)" in row["why"]
    assert "Tarnula nebula" in row["why"]


@pytest.mark.parametrize(
    ("typed", "found", "told"),
    [
        ("Tarnula pallida (Fellman, 1899)", "Tarnula pallida", False),
        ("Tarnula pallida Fellman 1899", "Tarnula pallida", False),
        ("Tarnula pallida (Fellman)", "Tarnula pallida", False),
        ("Tarnula pallida (Fell.)", "Tarnula pallida", False),
        ("Tarnula Rill, 1801", "Tarnula", False),
        ("Vetus pallida (Fellman)", "Tarnula pallida", True),
        ("Pale Rushlet (Tarnula pallida)", "Tarnula pallida", False),
        ("Tarnula pallida (Pale Rushlet)", "Tarnula pallida", True),
        ("Pale Rushlet [Tarnula]", "Tarnula pallida", True),
        ("Pale (Tarnula pallida (Fellman, 1899))", None, False),
        ("Rushlet, Pale", "Tarnula pallida", True),
        ("Pale Rushlet rushlet", "Tarnula pallida", True),
        ("Pale Rushlet (Tarnula nebula)", None, False),
        ("Pale Rushlet boulderer", None, False),
        ("Pale Rushlet 1899", None, False),
        ("Tarnula pallida (F)", None, False),
        ("Tarnula absens Fellman, 1899", None, False),
    ],
)
def test_names_in_the_forms_that_sheets_write(tarn: Key, typed: str, found: str | None, told: bool) -> None:
    """With who gave them, with the other name in brackets, turned about; what else stands with a name is not lost."""
    read = read_name(tarn, typed)
    if found is None:
        assert isinstance(read, Fault)
        return
    assert isinstance(read, NamedAs)
    assert (read.taxon.scientific_name, read.taxon.typed, not read.literal) == (found, typed, told)


@pytest.mark.parametrize(
    ("typed", "sex", "stage"),
    [
        ("Tarnula pallida (Fellman, 1899) male", "male", None),
        ("Tarnula pallida Fellman 1899 larva", None, "larva"),
        ("Tarnula pallida (Fellman) exuvia", None, "exuvia"),
        ("Tarnula pallida Fellman, 1899, female", "female", None),
    ],
)
def test_what_stands_behind_who_gave_a_name_is_not_lost(
    tarn: Key, typed: str, sex: str | None, stage: str | None
) -> None:
    """A larva is no adult."""
    read = read_name(tarn, typed)
    assert isinstance(read, NamedAs)
    assert (read.taxon.scientific_name, read.kind.sex, read.kind.stage) == ("Tarnula pallida", sex, stage)


def test_other_words_behind_who_gave_a_name_are_a_fault(tarn: Key) -> None:
    """Nobody knows what they mean."""
    assert isinstance(read_name(tarn, "Tarnula pallida (Fellman, 1899) var. nigra"), Fault)


@pytest.mark.parametrize(
    ("typed", "number"),
    [
        ("Pale Rushlet x3", "3"),
        ("Pale Rushlet x 3", "3"),
        ("3 Pale Rushlet", "3"),
        ("12 x pale rushlet", "12"),
        ("Pale Rushlet (3)", "3"),
        ("Pale Rushlet - 3", "3"),
        ("Tarnula pallida: 3", "3"),
        ("Wombat x3", None),
    ],
)
def test_a_number_beside_a_name_is_shown_its_column(tarn: Key, typed: str, number: str | None) -> None:
    """The name is known without it; "did you mean" would not help."""
    read = read_name(tarn, typed)
    assert isinstance(read, Fault)
    said = ("number-in-name", f"Beside the name stands a number: {number}.")
    assert number is None or (read.code, read.message) == said
    assert number is not None or read.code == "unknown-name"


def test_a_name_in_brackets_that_is_another_one_is_said(tarn: Key) -> None:
    """Both, and that one is wrong."""
    read = read_name(tarn, "Pale Rushlet (Tarnula nebula)")
    assert isinstance(read, Fault)
    assert (read.code, read.message) == ("names-differ", '"Pale Rushlet" is not "Tarnula nebula".')


@pytest.mark.parametrize("scientific", ["Tarnula pallida (Fellman)", "T. pallida", "Tarnula pallida Fellman"])
def test_a_scientific_name_in_another_form_agrees_with_the_english_one(
    bring: Import, tmp_path: Path, scientific: str
) -> None:
    """In a column of its own; a genus in one letter is told."""
    head = NAMED.replace("Latin", "Scientific")
    done = bring(f"{head}12/07/2026,SU 431 118,Pale Rushlet,{scientific},3\n")
    assert done.faulty == 0
    [(one, _)] = kept(tmp_path)
    assert (one.taxon.scientific_name, one.taxon.genus) == ("Tarnula pallida", "Tarnula")
    assert [was.taken_for for was in done.read_as] == (
        ["Pale Rushlet (Tarnula pallida)"] if scientific == "T. pallida" else []
    )


@pytest.mark.parametrize(
    ("typed", "literal"),
    [("Pale Rushlet or Misty Rushlet", True), ("Pale Rushlet or misty", False), ("Pale Rushlet or wombat", None)],
)
def test_names_parted_by_or_are_the_pair_as_lists_and_exports_write_it(
    tarn: Key, typed: str, literal: bool | None
) -> None:
    """And one that the key has not is no half of a pair."""
    read = read_name(tarn, typed)
    assert isinstance(read, Fault) == (literal is None)
    if isinstance(read, NamedAs):
        assert read.taxon.one_of == ("Tarnula pallida", "Tarnula nebula")
        assert (read.taxon.vernacular, read.literal) == ("Pale Rushlet or Misty Rushlet", literal)


@pytest.mark.parametrize(
    ("name", "sign"),
    [("cf. Pale Rushlet", "cf."), ("Tarnula cf. pallida", "cf."), ("aff Pale Rushlet", "aff."), ("Pale Rushlet", "")],
)
def test_a_sign_of_doubt_with_a_name_is_kept_as_log_keeps_it(
    bring: Import, tmp_path: Path, name: str, sign: str
) -> None:
    """In one column of names, or with another beside it."""
    for at, text in enumerate((rows(name), f"{NAMED}12/07/2026,SU 431 118,{name},Tarnula pallida,1\n")):
        assert bring(text, f"{at}.csv", ledger=f"pond-{at}").faulty == 0
        [(one, _)] = kept(tmp_path, f"pond-{at}")
        assert (one.taxon.scientific_name, one.qualifier, one.certainty) == ("Tarnula pallida", sign, None)


@pytest.mark.parametrize(("latin", "faults"), [("Tarnula palida", []), ("Tarnula nebulla", ["names-differ"])])
def test_a_spelling_like_that_of_the_species_beside_it_is_no_other_species(
    bring: Import, latin: str, faults: list[str]
) -> None:
    """It is told what it was taken for; one like another's is a fault."""
    head = NAMED.replace("English name", "Name").replace("Latin name", "Scientific name")
    done = bring(f"{head}12/07/2026,SU 431 118,Pale Rushlet,{latin},1\n")
    assert list(done.faults) == faults
    told = [("Pale Rushlet, Tarnula palida", "Pale Rushlet (Tarnula pallida)", 1)]
    assert [tuple(one) for one in done.read_as] == ([] if faults else told)


@pytest.mark.parametrize(
    ("typed", "certainty"),
    [
        ("Pale Rushlet?", "uncertain"),
        ("?Pale Rushlet", "uncertain"),
        ("Pale Rushlet (?)", "uncertain"),
        ("poss. Pale Rushlet", "uncertain"),
        ("Pale Rushlet (possible)", "uncertain"),
        ("Pale Rushlet (prob.)", "probable"),
        ("probably Pale Rushlet", "probable"),
        ("Pale Rushlet", ""),
    ],
)
def test_a_word_or_sign_of_doubt_is_the_certainty(tarn: Key, typed: str, certainty: str) -> None:
    """What is probable is more than what is possible."""
    read = read_name(tarn, typed)
    assert isinstance(read, NamedAs)
    assert (read.taxon.vernacular, read.certainty) == ("Pale Rushlet", certainty)


@pytest.mark.parametrize(
    ("typed", "kind"),
    [
        ("Pale Rushlet larva", Kind(stage="larva")),
        ("Pale Rushlet exuviae", Kind(stage="exuvia")),
        ("Pale Rushlet (male)", Kind(sex="male")),
        ("Tarnula pallida ♀", Kind(sex="female")),
        ("teneral Pale Rushlet", Kind(stage="teneral")),
        ("Tarnula pallida Female", Kind(sex="female")),
        ("Pale Rushlet ovipositing", Kind(behaviour=("ovipositing",))),
    ],
)
def test_what_is_written_with_a_name_is_not_lost(tarn: Key, typed: str, kind: Kind) -> None:
    """Sex, stage and what they did; whoever imports it is told what the name was taken for."""
    read = read_name(tarn, typed)
    assert isinstance(read, NamedAs)
    assert (read.taxon.scientific_name, read.kind, read.literal) == ("Tarnula pallida", kind, False)


def test_a_name_that_says_another_sex_than_its_column_is_a_fault(bring: Import) -> None:
    """One of the two is wrong, and nobody here knows which."""
    head = "Date,Grid Ref,Species,No.,Sex\n"
    [row] = faulty(bring(f"{head}12/07/2026,SU 431 118,Pale Rushlet (male),3,f\n"))
    assert row["fault"] == "cells-differ"
    assert row["why"].startswith('One cell of this row says "male", and another "female".')


def test_a_genus_with_both_names_of_a_pair_in_brackets_is_the_pair(tarn: Key) -> None:
    """So our own sheets write one that was not split."""
    read = read_name(tarn, "Tarnula (Tarnula pallida or Tarnula nebula)")
    assert isinstance(read, NamedAs)
    assert set(read.taxon.one_of) == {"Tarnula nebula", "Tarnula pallida"}


TERMS = "eventDate,verbatimCoordinates,vernacularName,scientificName,individualCount,lifeStage\n"
SCIENTIFIC = "Date,Grid Ref,Common name,Scientific name,No.,Certainty\n"


@pytest.mark.parametrize("head", [SCIENTIFIC, SCIENTIFIC.replace("Scientific", "Latin"), TERMS])
@pytest.mark.parametrize(
    ("names", "certainty", "qualifier"),
    [
        ("Pale Rushlet?,Tarnula pallida", "uncertain", ""),
        ("poss. Pale Rushlet,Tarnula pallida", "uncertain", ""),
        ("Pale Rushlet,Tarnula pallida?", "uncertain", ""),
        ("Pale Rushlet (prob.),Tarnula pallida", "probable", ""),
        ("prob Pale Rushlet,Tarnula pallida (probable)", "probable", ""),
        ("cf. Pale Rushlet,Tarnula pallida", None, "cf."),
        ("Pale Rushlet?,Tarnula", "uncertain", ""),
        ("Pale Rushlet,Tarnula pallida", None, ""),
    ],
)
def test_doubt_in_either_of_two_columns_of_names_is_doubt(
    bring: Import, tmp_path: Path, head: str, names: str, certainty: str | None, qualifier: str
) -> None:
    """What is kept goes out as doubt as well."""
    done = bring(f"{head}2026-07-12,SU 431 118,{names},3,\n")
    assert done.faulty == 0
    [(one, _)] = kept(tmp_path)
    assert (one.certainty, one.qualifier) == (certainty, qualifier)


@pytest.mark.parametrize("head", [SCIENTIFIC, TERMS])
def test_doubt_of_a_name_that_nobody_knows_is_doubt_too(bring: Import, tmp_path: Path, head: str) -> None:
    """The scientific name says what it was, and the English one how sure somebody was."""
    bring(f"{head}2026-07-12,SU 431 118,Pale Wombat?,Tarnula pallida,3,\n")
    [(one, _)] = kept(tmp_path)
    assert (one.taxon.scientific_name, one.certainty) == ("Tarnula pallida", "uncertain")


@pytest.mark.parametrize(
    "cells",
    [
        "prob. Pale Rushlet,Tarnula pallida?,3,",
        "aff. Pale Rushlet,Tarnula cf. pallida,3,",
        "Pale Rushlet?,Tarnula pallida,3,certain",
        "Pale Rushlet (prob),Tarnula pallida,3,uncertain",
    ],
)
def test_doubts_that_differ_are_asked_about(bring: Import, tmp_path: Path, cells: str) -> None:
    """None is chosen over another."""
    for head in (SCIENTIFIC, SCIENTIFIC.replace("Scientific", "Latin")):
        [row] = faulty(bring(f"{head}2026-07-12,SU 431 118,{cells}\n"))
        assert row["fault"] == "cells-differ"
    assert kept(tmp_path) == []
