"""The files that make a key, and their digest: the same digest is the same key."""

from __future__ import annotations

import contextlib
from pathlib import Path

KEY_FILE = "key.yaml"
CHARACTERS_FILE = "characters.yaml"
SPECIES_FOLDER = "species"


def key_files(folder: Path) -> list[Path]:
    """The files of a key, in the order that its digest and its faults follow."""
    return [folder / KEY_FILE, folder / CHARACTERS_FILE, *sorted((folder / SPECIES_FOLDER).glob("*.yaml"))]


def folder_signature(folder: Path) -> str:
    """How the files look without opening them: names, sizes and times of change, in one line of ASCII."""
    looks = []
    for path in key_files(folder):
        try:
            found = path.stat()
        except OSError:
            continue
        looks.append(f"{path.name!a} {found.st_size} {found.st_mtime_ns} {found.st_ctime_ns} {found.st_ino}")
    return "; ".join(looks)


def folder_digest(folder: Path) -> str:
    """SHA-256 over names and bytes of the key's files, in hex; one that cannot be read counts as empty."""
    from hashlib import sha256  # it loads a whole library: not on every start

    digest = sha256()
    for path in key_files(folder):
        content = b""
        if path.is_file():
            with contextlib.suppress(OSError):  # reading says what is wrong with it
                content = path.read_bytes()
        digest.update(f"{path.relative_to(folder).as_posix()}\0{len(content)}\0".encode())
        digest.update(content)
    return digest.hexdigest()
