"""Loading a key fast: the compiled form is kept in the user's cache folder under the digest of its files.

A missing, stale or broken cache is never an error: the YAML is read again, and the cache written if it can be.
"""

from __future__ import annotations

import contextlib
import json
import os
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any
from zlib import crc32

from reedmace import __version__
from reedmace.faults import Refused
from reedmace.keys.digest import folder_digest, folder_signature
from reedmace.keys.model import Key, from_compiled

# Raised whenever the layout of the compiled form changes, so that an older one is never read.
LAYOUT = 17
_FORMS = 4  # of one name, for there may be two keys of it
# Kept on lines of their own, in this order behind the rest.
_APART = ("characters", "sources")


def load_key(folder: Path, cache: Path | None, on_reading: Callable[[], None] | None = None) -> Key:
    """The running key of a folder; `cache` is where compiled forms are kept, or None.

    `on_reading` is called before the YAML is read, which takes seconds. Raises Refused with every fault in the key.
    """
    if cache is None:
        return from_compiled(_compile(folder, folder_digest(folder)))
    signature = folder_signature(folder)
    seen = cache / f"{folder.resolve().name}-{crc32(str(folder.resolve()).encode()):08x}.seen"
    digest = _remembered(seen, signature)
    key = _from_cache(_kept_at(folder, cache, digest), digest) if digest else None
    if key:
        return key
    digest = folder_digest(folder)
    kept = _kept_at(folder, cache, digest)
    key = _from_cache(kept, digest)
    if key is None:
        if on_reading:
            on_reading()
        form = _compile(folder, digest)
        # Each start decodes only what it needs: all but these two lists, the characters where a name is looked for.
        running = {name: value for name, value in form.items() if name not in (*_APART, "values_by_source")}
        lines = [json.dumps(part, separators=(",", ":")).encode() for part in (running, *map(form.get, _APART))]
        _write(kept, b"\n".join((_seal(lines), *lines)))
        _tidy(kept, folder.resolve().name)
        key = from_compiled(form)
    _write(seen, f"{digest}\n{signature}".encode())
    return key


def load_sources(folder: Path, cache: Path | None) -> dict[str, dict[str, Any]]:
    """The sources that a key names, by id: from the cache, else from its files."""
    if cache is not None:
        with contextlib.suppress(OSError, ValueError, TypeError, KeyError):
            kept = _kept_at(folder, cache, folder_digest(folder)).read_bytes()
            return {source["id"]: source for source in json.loads(kept.split(b"\n")[3])}
    from reedmace.keys.reading import read_key

    authored, faults = read_key(folder)
    if authored is None:
        raise Refused(*faults)
    return {source.id: source.model_dump() for source in authored.key.sources}


def _remembered(seen: Path, signature: str) -> str | None:
    """The digest of the files when they last looked as they do now (names, sizes, times), if that is known."""
    try:
        digest, _, looked = seen.read_bytes().decode("ascii").partition("\n")
    except (OSError, ValueError):
        return None
    return digest if looked == signature and len(digest) == 64 else None


def _kept_at(folder: Path, cache: Path, digest: str) -> Path:
    return cache / f"{folder.resolve().name}-{digest[:20]}-{__version__}-{LAYOUT}.json"


def _tidy(kept: Path, name: str) -> None:
    """Of a key that is written on, or was of an earlier version, only the forms made last stay."""
    with contextlib.suppress(OSError):
        forms = [path for path in kept.parent.iterdir() if path.name.startswith(f"{name}-") and path.suffix == ".json"]
        for path in sorted(forms, key=lambda one: one.stat().st_mtime, reverse=True)[_FORMS:]:
            path.unlink(missing_ok=True)


def _compile(folder: Path, digest: str) -> dict[str, Any]:
    from reedmace.keys.compiling import compile_key
    from reedmace.keys.crosscheck import cross_check
    from reedmace.keys.reading import read_key

    authored, faults = read_key(folder)
    if authored is not None:
        faults = [*faults, *cross_check(authored)]
    if authored is None or faults:
        raise Refused(*faults)
    return compile_key(authored, digest)


def _from_cache(kept: Path, digest: str) -> Key | None:
    try:
        seal, *lines = kept.read_bytes().split(b"\n")
        if seal != _seal(lines):
            return None
        running, characters, _ = lines
        form = json.loads(running)
        return from_compiled(form | {"characters": characters}) if form["digest"] == digest else None
    except (OSError, ValueError, KeyError, TypeError, IndexError, AttributeError, RecursionError):
        return None


def _seal(lines: Iterable[bytes]) -> bytes:
    """The first line of a kept file: it tells a damaged one, also where the damage still reads as JSON."""
    return b" ".join(b"%08x %d" % (crc32(line), len(line)) for line in lines)


def _write(path: Path, content: bytes) -> None:
    """Write beside and rename, so that two programs starting at once never read half a file; or not at all."""
    import tempfile  # only the first run pays for it

    with contextlib.suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=".keeping-")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            Path(name).replace(path)
        except OSError:
            Path(name).unlink(missing_ok=True)
            raise
