"""Whoever has only docs/key-format.md can write a key: its example is one, and its tables leave no field out."""

from __future__ import annotations

import importlib.util
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel

from reedmace.keys import authoring as key
from reedmace.keys import authoring_characters as characters
from reedmace.tasks.keys.inspect_key import inspect_key

DOCS = Path(__file__).resolve().parents[2] / "docs"
PAGE = (DOCS / "key-format.md").read_text(encoding="utf-8")
Run = Callable[..., Any]

# what stands before a table, and whose fields it has; `states` and `numbers` are needed for that kind of character
TABLES: dict[str, type[BaseModel]] = {
    "## Fields of key.yaml": key.KeyFile,
    "**In `classification`:": key.Classification,
    "**Each of `suborders`:": key.Suborder,
    "**Each of `families`:": key.Family,
    "**Each of `groups`:": key.Group,
    "**Each of `regions`:": key.Region,
    "**Each of `habitats`:": key.Habitat,
    "**Each of `undescribed`:": key.Undescribed,
    "**Each of `namesakes`:": key.Namesake,
    "**Each of `remarks`:": key.Remark,
    "**Each of `sources`:": key.Source,
    "## Fields of characters.yaml": characters.CharactersFile,
    "**Each of `characters`:": characters.CharacterEntry,
    "**In `beginner` and `practised`": characters.Misreading,
    "**In `by_eye`": characters.ByEye,
    "**In `applies`": characters.Applies,
    "**Each of `states`:": characters.CharacterState,
    "## Fields of a species file": key.SpeciesFile,
    "**Each of `species`:": key.SpeciesEntry,
    "**In `flight`": key.Flight,
    "**Each of `guises`:": key.GuiseEntry,
    "**Each of `lookalikes`:": key.LookalikeEntry,
    "**Each of `protection`:": key.Protection,
}


def _examples() -> Any:
    spec = importlib.util.spec_from_file_location("run_examples", DOCS / "run_examples.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The key of the page, put together from its pieces."""
    _examples().write_files(PAGE, tmp_path)
    return tmp_path / "ditch-flies"


def test_the_pieces_on_the_page_are_a_sound_key_of_four_species(run: Run, folder: Path) -> None:
    ran = run("keys", "check", folder)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "4 species, 6 guises, 4 characters" in ran.stdout
    assert ran.stdout.endswith("no faults\n")


def test_in_the_pages_key_no_question_is_idle_no_pair_beyond_telling_and_no_cell_not_known(folder: Path) -> None:
    report = inspect_key(folder)
    assert report.idle == ()
    assert report.inseparable == ()
    assert not any(missing for _, missing, _ in report.not_known)


@pytest.mark.parametrize(
    ("traits", "named"),
    [
        (("wings=flat", "colour=green", "length=60mm"), "Great Rusher"),
        (("wings=shut", "colour=rusty", "length=32mm", "--habitat", "dyke"), "Red"),
        (("wings=closed", "colour=blue", "length=33mm", "--place", "SU 431 118"), "Blue"),
    ],
)
def test_the_pages_key_names_its_species(run: Run, folder: Path, traits: tuple[str, ...], named: str) -> None:
    ran = run("name", "--key", folder, *traits, "--date", "2026-07-12")
    assert ran.returncode == 0
    assert re.search(rf"^(Settled|Narrowed): {named}\b", ran.stdout, re.MULTILINE)


def test_the_pages_look_alikes_are_told_apart_by_their_mark(run: Run, folder: Path) -> None:
    ran = run("apart", "--key", folder, "Blue Ditchlet", "Twin Ditchlet")
    assert ran.returncode == 0
    assert "Decided by: notch in the collar." in ran.stdout
    assert "When that can't be seen, write: Blue or Twin Ditchlet." in ran.stdout


@pytest.mark.parametrize("name", ["Red Ditchlet", "Common Ditchlet", "Ditchula gemella", "great rusher"])
def test_about_shows_each_species_of_the_pages_key(run: Run, folder: Path, name: str) -> None:
    ran = run("about", "--key", folder, name)
    assert ran.returncode == 0
    assert "Sources" in ran.stdout
    assert "at home in" in ran.stdout


def test_the_questions_of_the_pages_key_can_be_asked(run: Run, folder: Path) -> None:
    ran = run("key", "--key", folder, "--date", "2026-07-12", stdin="questions\nquit\n")
    assert "How long is the body, in millimetres?" in ran.stdout
    assert "Traceback" not in ran.stderr


def test_half_a_key_is_told_what_it_lacks_after_every_piece(run: Run, tmp_path: Path) -> None:
    """So that the check can be run as often as the author likes; the key is whole with the last piece."""
    folder = tmp_path / "ditch-flies"
    lacking = []
    for name, more, text in _examples().PIECE.findall(PAGE):
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text((path.read_text() if more else "") + text)
        ran = run("keys", "check", folder)
        assert (ran.returncode, ran.stderr) == (int("no faults" not in ran.stdout), "")
        assert ran.stdout.count("hint: ") == len(inspect_key(folder).faults)
        lacking.append(bool(ran.returncode))
    assert lacking[:-5] == [True] * (len(lacking) - 5)  # the last five pieces begin with the first species
    assert lacking[-5:] == [True, False, True, False, False]  # one species names another that comes next


@pytest.mark.parametrize(("before", "model"), TABLES.items(), ids=[model.__name__ for model in TABLES.values()])
def test_a_table_has_every_field_and_says_rightly_which_are_needed(before: str, model: type[BaseModel]) -> None:
    assert PAGE.count(f"\n{before}") == 1
    table = PAGE.partition(f"\n{before}")[2].partition("|---|---|---|\n")[2].partition("\n\n")[0]
    rows = re.findall(r"^\| `(\w+)` \| (\w+) \| \S", table, re.MULTILINE)
    assert len(rows) == len(table.splitlines())
    fields = {field.alias or name: field.is_required() for name, field in model.model_fields.items()}
    assert [name for name, _ in rows] == sorted(fields, key=[name for name, _ in rows].index)
    assert {name for name, needed in rows if needed == "yes"} == {name for name, needed in fields.items() if needed}


def test_what_only_one_kind_of_character_needs_is_told(tmp_path: Path, folder: Path) -> None:
    """The words `states` and `numbers` in the table are what the check asks for."""
    table = PAGE.partition("**Each of `characters`:")[2].partition("\n\n**")[0]
    told = {kind: set(re.findall(rf"^\| `(\w+)` \| {kind} ", table, re.MULTILINE)) for kind in ("states", "numbers")}
    for kind, more in (("states", ""), ("numbers", "kind: number, ")):
        bare = f"{more}id: x, title: x, question: x, help: x, part: x, effort: look"
        (folder / "characters.yaml").write_text(f"format: 1\nsource: memory\ncharacters: [{{{bare}}}]\n")
        faults = [fault for fault in inspect_key(folder).faults if fault.code == "missing-field"]
        assert {fault.message.split('"')[1] for fault in faults} == told[kind]


def test_every_model_of_a_key_has_a_table() -> None:
    models = {
        one
        for module in (key, characters)
        for one in vars(module).values()
        if isinstance(one, type) and issubclass(one, key.Authored) and one.__module__ == module.__name__
    }
    assert models - {key.Authored, key.Valued} == set(TABLES.values())
