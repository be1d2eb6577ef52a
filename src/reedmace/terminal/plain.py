"""User text made safe for a terminal, in the signs that it has."""

from __future__ import annotations

import re

from reedmace.visible import literal

__all__ = ["glued", "in_signs_of", "lacks_signs", "literal", "loosened"]

_GLUE = "\ue000"  # stands for a blank while lines are broken
_CLINGING = re.compile(r" +(?=%)| +(?=[;,.](?: |$))")

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
        "●": "O",
        "◉": "@",
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


def glued(text: str) -> str:
    """The text with blanks that no line may be broken at made whole: before a per cent sign and before stops."""
    return text if _GLUE in text else _CLINGING.sub(lambda blanks: _GLUE * len(blanks[0]), text)


def loosened(line: str, whole: str) -> str:
    """A line with the blanks given back that `glued` made whole in the text `whole`."""
    return line if _GLUE in whole else line.replace(_GLUE, " ")
