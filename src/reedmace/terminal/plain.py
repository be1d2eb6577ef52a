"""User text made safe for a terminal: what was typed or imported is shown as text, never obeyed."""

from __future__ import annotations

import unicodedata

# Bidirectional overrides can make a line read as something it is not.
_TURNERS = {*range(0x202A, 0x202F), *range(0x2066, 0x206A)}

# Controls, halves of characters, and signs that break a line or a paragraph.
_UNSEEN = ("Cc", "Cs", "Zl", "Zp")
# Signs of ours that a terminal without UTF-8 cannot show, and what stands for them there.
_STAND_INS = str.maketrans(
    {
        "–": "-",
        "—": "-",
        "×": "x",
        "·": "-",
        "…": "...",
        "’": "'",
        "°": " deg",
        "±": "+/-",
        "•": "*",
        "→": "->",
        "♂": "m",
        "♀": "f",
    }
)


def lacks_signs(encoding: str | None) -> bool:
    """True for a stream that cannot show every sign: anything but UTF-8 and its like."""
    return not (encoding or "utf-8").casefold().startswith("utf")


def in_signs_of(encoding: str, text: str) -> str:
    r"""The text in signs that the encoding has; what has no stand-in comes as `\xe9`, so that widths hold."""
    return text.translate(_STAND_INS).encode(encoding, "backslashreplace").decode(encoding)


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
