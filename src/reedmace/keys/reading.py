"""A key's folder → its authored files and every fault in them.

Read in three passes, so that each fault is told once and at its own place: YAML, then each file's shape,
then what one file says of another. A file that cannot be read never hides the faults of the others.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any, NamedTuple, TypeVar

from pydantic import BaseModel, ValidationError

from reedmace.faults import Fault, Where, did_you_mean
from reedmace.keys.authoring import FORMAT, CharactersFile, KeyFile, SpeciesFile
from reedmace.keys.digest import CHARACTERS_FILE, KEY_FILE, SPECIES_FOLDER
from reedmace.keys.tree import Tree, read_tree

M = TypeVar("M", bound=BaseModel)


class ReadFile(NamedTuple):
    """A file of species with the tree that knows its lines."""

    content: SpeciesFile
    tree: Tree


class AuthoredKey(NamedTuple):
    """A key as its authors wrote it, shape checked."""

    key: KeyFile
    key_tree: Tree
    characters: CharactersFile
    characters_tree: Tree
    species: tuple[ReadFile, ...]


def read_key(folder: Path) -> tuple[AuthoredKey | None, list[Fault]]:
    """Read a key's folder. None when a file is missing or misshapen; references are not checked here."""
    faults: list[Fault] = []
    shown = folder.name
    if not (folder / SPECIES_FOLDER).is_dir():
        faults.append(
            Fault(
                "missing-file",
                f"The key has no folder {SPECIES_FOLDER}/.",
                "add it, with a file a genus",
                shown,
            )
        )
    key = _read(folder, folder / KEY_FILE, KeyFile, faults)
    characters = _read(folder, folder / CHARACTERS_FILE, CharactersFile, faults)
    paths = sorted((folder / SPECIES_FOLDER).glob("*.yaml"))
    species = [_read(folder, path, SpeciesFile, faults) for path in paths]
    if not paths and (folder / SPECIES_FOLDER).is_dir():
        faults.append(
            Fault("missing-file", "The key describes no species.", f"add {SPECIES_FOLDER}/<genus>.yaml", shown)
        )
    whole = [ReadFile(*read) for read in species if read]
    if key is None or characters is None or len(whole) < max(1, len(paths)):
        return None, faults
    return AuthoredKey(*key, *characters, tuple(whole)), faults


def _read(folder: Path, path: Path, model: type[M], faults: list[Fault]) -> tuple[M, Tree] | None:
    shown = f"{folder.name}/{path.relative_to(folder).as_posix()}"
    if not path.is_file():
        faults.append(Fault("missing-file", f"The key has no file {path.name}.", "add it", shown, Where(shown)))
        return None
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        faults.append(
            Fault(
                "not-utf8",
                f"This file is not UTF-8 (byte {error.start}).",
                "save it as UTF-8",
                shown,
                Where(shown),
            )
        )
        return None
    tree, slips = read_tree(text, shown)
    faults.extend(slips)
    if any(fault.code == "yaml-syntax" for fault in slips) or not _format_known(tree, faults):
        return None
    try:
        return model.model_validate(tree.value), tree
    except ValidationError as error:
        faults.extend(_shape_fault(tree, dict(slip), model) for slip in error.errors())
        return None


def _format_known(tree: Tree, faults: list[Fault]) -> bool:
    value = tree.value
    if not isinstance(value, dict) or "format" not in value:
        faults.append(
            Fault(
                "missing-field",
                "The file does not say its format.",
                f"begin it with  format: {FORMAT}",
                None,
                tree.where(()),
            )
        )
        return False
    if value["format"] != FORMAT:
        faults.append(
            Fault(
                "newer-format",
                f"This program reads format {FORMAT}.",
                "use a newer Reedmace for a newer key",
                str(value["format"]),
                tree.where(("format",)),
            )
        )
        return False
    return True


def _shape_fault(tree: Tree, slip: dict[str, Any], model: type[BaseModel]) -> Fault:
    """One slip that the models found, in the user's terms: code, line, hint."""
    path = tuple(slip["loc"])
    kind = slip["type"]
    last = str(path[-1]) if path else ""
    if kind == "extra_forbidden":
        known = _fields_beside(model, path)
        return Fault(
            "unknown-field",
            f'There is no field "{last}" here.',
            did_you_mean(last, known, f"fields here: {', '.join(known)}" if known else "take it out"),
            last,
            tree.where(path, field=True),
        )
    if kind == "missing":
        return Fault(
            "missing-field",
            f'The field "{last}" is missing.',
            f"add  {last}: …",
            None,
            tree.where(path[:-1], field=True),
        )
    where = tree.where(_without_tags(path, tree))
    expected = slip.get("ctx", {}).get("expected") or slip.get("ctx", {}).get("pattern")
    message = slip["msg"].removeprefix("Value error, ")
    hint = (
        f"write one of: {expected}"
        if kind == "literal_error"
        else f"it must look like {expected}"
        if expected
        else "see docs/key-format.md"
    )
    return Fault(
        "wrong-value",
        f"{message[0].upper()}{message[1:].rstrip('.')}.",
        hint,
        str(slip.get("input"))[:60],
        where,
    )


def _without_tags(path: tuple[Any, ...], tree: Tree) -> tuple[Any, ...]:
    """The path without parts that a model added (`is`) and the file does not have."""
    kept: tuple[Any, ...] = ()
    for part in path:
        if (*kept, part) in tree.spots:
            kept = (*kept, part)
    return kept


def _fields_beside(model: type[BaseModel], path: tuple[Any, ...]) -> list[str]:
    """The field names that would have been right beside the last part of `path`."""
    here: Any = model
    for part in path[:-1]:
        if isinstance(part, int) or not (isinstance(here, type) and issubclass(here, BaseModel)):
            continue
        field = here.model_fields.get(part) or next((f for f in here.model_fields.values() if f.alias == part), None)
        here = _model_in(field.annotation) if field else here
    if isinstance(here, type) and issubclass(here, BaseModel):
        return [field.alias or name for name, field in here.model_fields.items()]
    return []


def _model_in(annotation: Any) -> Any:
    """The first model named inside a type such as `tuple[Region, ...] | None`."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    inner = getattr(annotation, "__args__", ())
    return next((found for found in map(_model_in, inner) if found is not None), None)


def read_header(folder: Path) -> tuple[str, str]:
    """Version and title of a key, without reading its species."""
    tree, _ = read_tree((folder / KEY_FILE).read_text(encoding="utf-8"), KEY_FILE)
    header = tree.value if isinstance(tree.value, dict) else {}
    return str(header.get("version", "")), str(header.get("title", ""))
