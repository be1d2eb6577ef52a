"""Audit a ledger, and the photographs its sightings name."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from pathlib import Path

from reedmace.ledger.audit import Finding
from reedmace.ledger.store import Ledger

_PORTION = 1 << 20


def audit_ledger(ledger: Ledger, folder: str | None, progress: Callable[[int], None]) -> list[Finding]:
    """Give everything that is amiss; relative paths of photographs start at `folder`, or the ledger's own."""
    found = list(ledger.audit(progress))
    base = Path(folder) if folder is not None else Path(ledger.path).absolute().parent
    for photo in ledger.photos():
        if "://" in photo.path:
            continue  # an address on the net is not looked up
        file = base / photo.path
        if not file.is_file():
            said = f"The photograph {photo.path} is not there."
            remedy = "put it back, or say with --photos FOLDER where photographs are"
            found.append(Finding("photo-missing", said, remedy, photo.sighting_id))
        elif photo.sha256 and _digest(file) != photo.sha256:
            said = f"The photograph {photo.path} is not the one that was recorded: its checksum differs."
            remedy = "put the original back; an edited copy belongs beside it under a name of its own"
            found.append(Finding("photo-changed", said, remedy, photo.sighting_id))
    return found


def _digest(file: Path) -> str:
    digest = hashlib.sha256()
    with file.open("rb") as data:
        while portion := data.read(_PORTION):
            digest.update(portion)
    return digest.hexdigest()
