"""A key's folder → its authored files and every fault in them.

Read in three passes, so that each fault is told once and at its own place: YAML, then each file's shape,
then what one file says of another. A file that cannot be read never hides the faults of the others.
"""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple, TypeVar

from pydantic import BaseModel, ValidationError

from reedmace.faults import Fault, Where
from reedmace.keys.authoring import FORMAT, KeyFile, SpeciesFile
from reedmace.keys.authoring_characters import CharactersFile
from reedmace.keys.digest import CHARACTERS_FILE, KEY_FILE, SPECIES_FOLDER
from reedmace.keys.shape import shape_faults
from reedmace.keys.tree import Tree, in_short, read_tree

M = TypeVar("M", bound=BaseModel)
_BEGIN = f"begin it with  format: {FORMAT}  and check again: the faults say what else it needs"


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
    shown = folder.resolve().name
    if not (folder / SPECIES_FOLDER).is_dir():
        faults.append(
            Fault(
                "missing-file",
                f"The key has no folder {SPECIES_FOLDER}/.",
                f"make the folder, with a file for each genus in it: {SPECIES_FOLDER}/exemplum.yaml; {_BEGIN}",
                None,
                Where(f"{shown}/{SPECIES_FOLDER}"),
            )
        )
    key = _read(folder, folder / KEY_FILE, KeyFile, faults)
    characters = _read(folder, folder / CHARACTERS_FILE, CharactersFile, faults)
    paths = sorted((folder / SPECIES_FOLDER).glob("*.yaml"))
    species = [_read(folder, path, SpeciesFile, faults) for path in paths]
    if not paths and (folder / SPECIES_FOLDER).is_dir():
        faults.append(
            Fault(
                "missing-file",
                "The key describes no species.",
                f"write a file for each genus: {SPECIES_FOLDER}/exemplum.yaml; {_BEGIN}",
                None,
                Where(f"{shown}/{SPECIES_FOLDER}"),
            )
        )
    faults.extend(_stray(folder, shown))
    whole = [ReadFile(*read) for read in species if read]
    if key is None or characters is None or len(whole) < max(1, len(paths)):
        return None, faults
    return AuthoredKey(*key, *characters, tuple(whole)), faults


def _stray(folder: Path, shown: str) -> list[Fault]:
    """Files that look like a part of the key and that nobody reads: a genus would be missing without a word."""
    read = {folder / KEY_FILE, folder / CHARACTERS_FILE, *(folder / SPECIES_FOLDER).glob("*.yaml")}
    looking = (*folder.glob("*"), *(folder / SPECIES_FOLDER).rglob("*"))
    return [
        Fault(
            "stray-file",
            "This file is no part of the key where it is.",
            f"put it into {SPECIES_FOLDER}/, with a name that ends in .yaml; or give it another ending",
            None,
            Where(f"{shown}/{path.relative_to(folder).as_posix()}"),
        )
        for path in sorted(looking)
        if path.suffix.casefold() in (".yaml", ".yml")
        and path.is_file()
        and path not in read
        and not path.name.startswith(".")
    ]


def _read(folder: Path, path: Path, model: type[M], faults: list[Fault]) -> tuple[M, Tree] | None:
    shown = f"{folder.resolve().name}/{path.relative_to(folder).as_posix()}"
    if not path.is_file():
        faults.append(
            Fault("missing-file", f"The key has no file {path.name}.", f"write it; {_BEGIN}", None, Where(shown))
        )
        return None
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        faults.append(
            Fault(
                "not-utf8",
                f"This file is not UTF-8 (byte {error.start}).",
                "save it as UTF-8",
                None,
                _where_undecoded(shown, error),
            )
        )
        return None
    except OSError as error:
        reason = error.strerror or "no reason given"
        faults.append(
            Fault(
                "unreadable-file",
                f"This file cannot be read ({reason.lower()}).",
                "make it readable for yourself",
                None,
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
        faults.extend(shape_faults(tree, error, model))
        return None


def _where_undecoded(shown: str, error: UnicodeDecodeError) -> Where:
    before = error.object[: error.start].decode("utf-8", "replace")
    line = error.object.decode("utf-8", "replace").split("\n")[before.count("\n")]
    return Where(shown, before.count("\n") + 1, len(before) - before.rfind("\n"), line.rstrip("\r"))


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
    given = value["format"]
    if type(given) is int and given == FORMAT:
        return True
    newer = type(given) is int and given > FORMAT
    faults.append(
        Fault(
            "newer-format" if newer else "wrong-value",
            f"This program reads format {FORMAT}.",
            "use a newer Reedmace for a newer key" if newer else f"write  format: {FORMAT}",
            in_short(given),
            tree.where(("format",)),
        )
    )
    return False


def read_header(folder: Path) -> tuple[str, str]:
    """Version and title of a key, without reading its species."""
    tree, _ = read_tree((folder / KEY_FILE).read_text(encoding="utf-8"), KEY_FILE)
    header = tree.value if isinstance(tree.value, dict) else {}
    return str(header.get("version", "")), str(header.get("title", ""))
