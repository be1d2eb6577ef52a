"""Versions of one record side by side: in which fields they differ, and what each says there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence


def differing(versions: Sequence[Mapping[str, str]], gone: Sequence[bool]) -> list[tuple[tuple[str, str], ...] | None]:
    """For each version of a record the fields in which versions differ, with what it says; None where it is `gone`."""
    names = dict.fromkeys(name for fields in versions for name in fields)
    differ = [name for name in names if len({fields.get(name, "") for fields in versions}) > 1]
    return [
        None if out else tuple((name, fields.get(name) or "nothing") for name in differ)
        for fields, out in zip(versions, gone, strict=True)
    ]


def told_version(says: tuple[tuple[str, str], ...] | None, who: str, written_at: str, reason: str) -> str:
    """What one version says where versions differ, and whose it is, in one line; None is one that was taken back."""
    why = f": {reason}" if reason else ""
    words = "as it was before it was taken back" if says is not None else "taken back"
    if says:
        words = ", ".join(f"{name}: {value}" for name, value in says)
    return f"{words} ({who} at {written_at}{why})"
