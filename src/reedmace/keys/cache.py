"""Loading a key fast: the compiled form is kept in the user's cache folder under the digest of its files.

A missing, stale or broken cache is never an error: the YAML is read again, and the cache written if it can be.
"""

from __future__ import annotations

import contextlib
import json
import os
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Any

from reedmace import __version__
from reedmace.faults import Refused
from reedmace.keys.digest import folder_digest
from reedmace.keys.model import Key, from_compiled

# Raised whenever the layout of the compiled form changes, so that an older one is never read.
LAYOUT = 5


def load_key(folder: Path, cache: Path | None, on_reading: Callable[[], None] | None = None) -> Key:
    """The running key of a folder; `cache` is where compiled forms are kept, or None.

    `on_reading` is called before the YAML is read, which takes seconds.

    Raises Refused with every fault in the key.
    """
    digest = folder_digest(folder)
    kept = _kept_at(folder, cache, digest)
    if kept:
        key = _from_cache(kept, digest)
        if key:
            return key
    if on_reading:
        on_reading()
    form = _compile(folder, digest)
    if kept:
        _keep(kept, form)
    return from_compiled(form)


def _kept_at(folder: Path, cache: Path | None, digest: str) -> Path | None:
    name = folder.resolve().name
    return cache / f"{name}-{digest[:20]}-{__version__}-{LAYOUT}.json" if cache else None


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
        seal, _, body = kept.read_bytes().partition(b"\n")
        if seal != _seal(body):
            return None
        form = json.loads(body)
        return from_compiled(form) if form["digest"] == digest else None
    except (OSError, ValueError, KeyError, TypeError, IndexError, AttributeError, RecursionError):
        return None


def _seal(body: bytes) -> bytes:
    """The first line of a kept file: it tells a damaged one, also where the damage still reads as JSON."""
    return sha256(body).hexdigest().encode()


def _keep(kept: Path, form: dict[str, Any]) -> None:
    """Write beside and rename, so that two programs starting at once never read half a file."""
    import tempfile  # only the first run pays for it

    with contextlib.suppress(OSError):
        kept.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=kept.parent, prefix=".compiling-")
        try:
            # Running needs no list of sources; it is a sixth of the whole.
            running = {name: value for name, value in form.items() if name not in ("sources", "values_by_source")}
            body = json.dumps(running, separators=(",", ":")).encode()
            with os.fdopen(handle, "wb") as file:
                file.write(_seal(body) + b"\n" + body)
            Path(name).replace(kept)
        except OSError:
            Path(name).unlink(missing_ok=True)
            raise
