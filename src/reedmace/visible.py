"""User text made safe to show: what was typed or imported is shown as text, never obeyed. Standard library only."""

from __future__ import annotations

import unicodedata

# Bidirectional overrides can make a line read as something it is not.
_TURNERS = {*range(0x202A, 0x202F), *range(0x2066, 0x206A)}

# Controls, halves of characters, and signs that break a line or a paragraph.
_UNSEEN = ("Cc", "Cs", "Zl", "Zp")


def literal(text: str) -> str:
    r"""The text with control characters (escape sequences, bells, overrides) shown as `\x1b` and the like."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_visible(character) for character in text)


def _visible(character: str) -> str:
    code = ord(character)
    if code in _TURNERS or unicodedata.category(character) in _UNSEEN:
        return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}"
    return character
