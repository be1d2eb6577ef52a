"""Whoever has no pages at hand gets a sound key by doing what the hints say, to the letter."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any, get_args

import pytest
from pydantic import BaseModel

from made_key import FILES, write_key
from reedmace.faults import Fault
from reedmace.keys.authoring import KeyFile, Level, SpeciesFile
from reedmace.keys.authoring_characters import CharactersFile
from reedmace.keys.forms import FORMS, form_of
from reedmace.keys.model import LEVELS
from reedmace.keys.tree import read_tree
from reedmace.tasks.keys.inspect_key import inspect_key

Run = Callable[..., Any]
EXEMPLUM, KEY, CHARACTERS = "species/exemplum.yaml", "key.yaml", "characters.yaml"


def do_what_it_says(fault: Fault, folder: Path) -> None:
    """Add what a hint says, where it says."""
    assert fault.where is not None
    here = folder.parent / fault.where.file
    if fault.code == "missing-file":
        named = re.search(r"species/\w+\.yaml", fault.hint)
        begun = re.search(r"begin it with  (.+?)  ", fault.hint)
        assert begun is not None
        put(folder / named[0] if named else here, begun[1])
    elif added := re.fullmatch(r"add to (\S+)  (\w+: \[.+\])", fault.hint):
        put(folder / added[1], added[2])
    elif added := re.match(r"add  (.+?)(  at the top of the file|$)", fault.hint):
        put(here, added[1])
    else:
        pytest.fail(f"no way out of {fault}")


def put(path: Path, line: str) -> None:
    path.parent.mkdir(exist_ok=True)
    before = path.read_text() if path.is_file() else ""
    path.write_text(f"{before}{line}\n" if line not in before else before)


@pytest.mark.parametrize("typed", ["my-key", "./my-key", "my-key/"])
def test_from_a_first_line_the_hints_alone_lead_to_a_sound_key(run: Run, tmp_path: Path, typed: str) -> None:
    folder = tmp_path / "my-key"
    folder.mkdir()
    ran = run("keys", "check", typed, cwd=tmp_path)
    assert ran.returncode == 2
    begun = re.search(r"begin that file with  (.+?)  ", ran.stderr)
    assert begun is not None
    put(folder / KEY, begun[1])
    rounds = 0
    while faults := inspect_key(folder).faults:
        rounds += 1
        assert rounds <= 5, faults
        for fault in faults:
            do_what_it_says(fault, folder)
    report = inspect_key(folder)
    assert (report.species, report.guises, report.characters) == (1, 1, 1)
    assert run("name", "--key", folder, "wings=closed").returncode == 0


@pytest.mark.parametrize(
    ("file", "gone"),
    [
        (KEY, "classification"),
        (KEY, "abundance"),
        (KEY, "suborders"),
        (KEY, "families"),
        (KEY, "regions"),
        (KEY, "habitats"),
        (KEY, "sources"),
        (CHARACTERS, "characters"),
        (EXEMPLUM, "family"),
        (EXEMPLUM, "species"),
    ],
)
def test_a_field_that_is_gone_altogether_is_told_with_its_form(tmp_path: Path, file: str, gone: str) -> None:
    """Never only "known:" with nothing behind it: the hint holds a line that can stand in the file."""
    text = re.sub(rf"^{gone}:.*\n(?:[ -].*\n)*", "", FILES[file], count=1, flags=re.MULTILINE)
    assert gone not in re.findall(r"^\w+", text, re.MULTILINE)
    faults = inspect_key(write_key(tmp_path / "made-pond", {file: text})).faults
    assert faults
    for fault in faults:
        assert not fault.hint.rstrip().endswith(":")
        assert "docs/" not in fault.hint
        line = re.search(r"\b(\w+: [\[{\"\w].*)$", fault.hint)
        assert line is not None
        tree, slips = read_tree(line[1], "hint")
        assert not slips
        assert tree.value


@pytest.mark.parametrize(
    ("file", "right", "wrong", "hint"),
    [
        (KEY, "regions:\n  - {id: lowland, title: the Lowland}", "regions: [lowland]\nscope2:", "regions: [{id: "),
        (KEY, "classification: {", "classification:\nx: {", "classification: {kingdom: "),
        (EXEMPLUM, "habitats: {pond: main, stream: also}", "habitats: [pond]", "habitats: {pond: main}"),
        (EXEMPLUM, "[early-june, late-july]", "early-june", "peak: [early-june, late-july]"),
        (CHARACTERS, "range: [20, 60]", "range: 20 to 60", "range: [20, 70]"),
        (CHARACTERS, "practised: {missed: 0.05, invented: 0.05}", "practised: low", "practised: {missed: "),
        (CHARACTERS, "range: [20, 60]", "range: [60, 20]", "write  [20, 60]"),
    ],
)
def test_a_value_of_the_wrong_form_is_told_the_form_of_its_own_field(
    tmp_path: Path, file: str, right: str, wrong: str, hint: str
) -> None:
    assert right in FILES[file]
    folder = write_key(tmp_path / "made-pond", {file: FILES[file].replace(right, wrong, 1)})
    assert any(hint in fault.hint for fault in inspect_key(folder).faults)


def test_all_that_a_character_lacks_is_told_at_once(tmp_path: Path) -> None:
    slim = "format: 1\nsource: memory\ncharacters:\n  - {id: spur, title: Spur}\n  - {id: size, kind: number}\n"
    faults = inspect_key(write_key(tmp_path / "made-pond", {CHARACTERS: slim})).faults
    told = [re.findall(r'"(\w+)" is missing', fault.message) for fault in faults]
    asked = ["question", "help", "part", "effort"]
    lacking = [*asked, "states", "beginner", "practised", "title", *asked, "unit", "range"]
    assert told == [[name] for name in lacking]


def test_a_misspelt_rate_is_told_once(tmp_path: Path) -> None:
    wrong = FILES[CHARACTERS].replace("beginner: {missed: 0.1", "begginer: {missed: 0.1", 1)
    faults = inspect_key(write_key(tmp_path / "made-pond", {CHARACTERS: wrong})).faults
    assert [fault.code for fault in faults] == ["unknown-field"]
    assert faults[0].hint == "did you mean beginner?"


@pytest.mark.parametrize("model", FORMS, ids=lambda model: model.__name__)
def test_the_forms_of_all_fields_are_valid_together(model: type[BaseModel]) -> None:
    text = "".join(f"{field}: {form}\n" for field, form in FORMS[model].items())
    tree, slips = read_tree(text, "forms")
    assert not slips
    has_format = {"format": 1} if "format" in model.model_fields else {}
    model.model_validate(tree.value | has_format)


def test_every_field_that_must_be_there_has_a_form() -> None:
    """A field that a file's format or a reader tells of by itself needs none."""
    for model, forms in FORMS.items():
        needed = {field.alias or name for name, field in model.model_fields.items() if field.is_required()}
        assert needed - {"format"} <= set(forms), model


def test_a_form_is_found_by_the_path_of_a_value() -> None:
    assert form_of(KeyFile, ("regions", 0)) == "regions: [{id: north, title: the North}]"
    assert form_of(SpeciesFile, ("species", 3, "abundance", "is")) == "abundance: {north: common}"
    assert form_of(CharactersFile, ("characters", 0, "states", 1, "title")) == "title: closed along the back"
    assert form_of(KeyFile, ()) is None
    assert form_of(KeyFile, ("nothing", "here")) is None


def test_the_levels_an_author_may_weigh_are_those_that_pages_show() -> None:
    assert get_args(Level) == LEVELS


def test_a_level_that_no_page_shows_is_refused(run: Run, tmp_path: Path) -> None:
    """It would count, and be missing from every list."""
    odd = FILES[KEY].replace("common: 0.5", "frequent: 0.3, common: 0.5")
    faults = inspect_key(write_key(tmp_path / "made-pond", {KEY: odd})).faults
    assert [(fault.code, fault.hint) for fault in faults] == [
        ("wrong-value", "write one of: abundant, common, local, scarce, rare, vagrant or absent")
    ]


def test_a_length_in_states_is_no_size_in_millimetres(run: Run, tmp_path: Path) -> None:
    """A beginner's first character may well be called length and be short or long."""
    length = re.search(r"    kind: number\n    unit: mm\n    range: .*\n", FILES[CHARACTERS])
    assert length is not None
    states = (
        "    beginner: {missed: 0.1, invented: 0.1}\n    practised: {missed: 0.1, invented: 0.1}\n"
        "    states: [{id: short, title: short}, {id: long, title: long}]\n"
    )
    species = re.sub(r"length: (\{.*\}|\[.*\])", "length: [short, long]", FILES[EXEMPLUM])
    paludula = FILES["species/paludula.yaml"].replace("length: [48, 56]", "length: long")
    folder = write_key(
        tmp_path / "made-pond",
        {
            CHARACTERS: FILES[CHARACTERS].replace(length[0], states),
            EXEMPLUM: species,
            "species/paludula.yaml": paludula,
        },
    )
    assert inspect_key(folder).faults == ()
    ran = run("about", "--key", folder, "First Example")
    assert (ran.returncode, ran.stderr) == (0, "Reading a key for the first time takes a few seconds.\n")
    assert "short (50 %) or long (50 %)" in ran.stdout
    assert " mm" not in ran.stdout.partition("\n\n")[0].replace("16 to 22 mm", "")
