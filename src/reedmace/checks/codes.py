"""All codes there are, of our own rules and of the published validations."""

from __future__ import annotations

from reedmace.checks.catalogue import CODES, Entry
from reedmace.checks.raw_rows import FILE_CODES


def every_code() -> dict[str, Entry]:
    """Code → what it asks, why, and what to do about it."""
    return {**CODES, **FILE_CODES}
