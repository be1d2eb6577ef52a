"""The shared reference folder: larger files to check against, which the project itself does not hold.

It is looked for beside the checkout (`../shared/reference`) or where REEDMACE_REFERENCE points.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest


def reference(name: str) -> Path:
    """The path of a reference file; the calling test is skipped, with the reason, where it is absent."""
    folder = os.environ.get("REEDMACE_REFERENCE")
    beside = Path(__file__).resolve().parents[2] / "shared" / "reference"
    path = (Path(folder) if folder else beside) / name
    if not path.exists():
        pytest.skip(f"reference file {name} is not here (set REEDMACE_REFERENCE to the folder that holds it)")
    return path
