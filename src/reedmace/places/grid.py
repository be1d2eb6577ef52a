"""Reading grid references as people type them, at every size from 10 km to 1 m, on both grids.

Spaces (also no-break ones) and lower case are welcome.  What cannot be read for certain is refused, each kind
of slip under its own code and with its remedy: a wrong square is worse than a question.
"""

from __future__ import annotations

import re

from reedmace.faults import Fault
from reedmace.places.datum import GridSystem
from reedmace.places.squares import (
    EXTENT,
    QUADRANTS,
    TETRAD_LETTERS,
    Square,
    hundred_km_corner,
    square_at,
    square_reference,
)

__all__ = ["Square", "parse_grid", "square_reference", "tidy"]

_EXAMPLE = 'write a grid reference like "SU12", "SU1234" or "SU 123 345"'
_LATLON = 'give latitude, longitude instead, like "49.4512, -2.5391"'
_LETTER_AMONG = "There is a letter where a figure should be (l or I for 1, or O for 0)."
_INVISIBLE = str.maketrans("", "", "\u200b\u200c\u200d\u200e\u200f\u2060\ufeff")
# How far out, in metres, letters are still taken for a sea square beyond the edge and not for a slip.
_NEAR_WEST_SOUTH, _NEAR_EAST, _NEAR_NORTH = (-400_000, -200_000), 1_000_000, 1_500_000


def parse_grid(text: str) -> Square | Fault:
    """Read the square a reference stands for; a fault says why it can't be read.  Never raises."""
    plain = tidy(text)
    if not plain:
        return _fault("grid-empty", "There is no grid reference here.", _EXAMPLE, text)
    # ASCII first: upper-casing may turn a foreign letter into one of ours.
    strange = next((c for c in plain if not (c.isascii() and (c.isalnum() or c == " "))), None)
    if strange is not None:
        return _unexpected(plain, strange, text)
    upper = plain.upper()
    shape = re.fullmatch(r"([A-Z]+) ?([0-9][0-9 ]*)([A-Z]*)", upper)
    if shape is None:
        return _shapeless(upper, text)
    letters, digits, suffix = shape.group(1), shape.group(2).split(), shape.group(3)
    return (
        _letter_in_digits(upper, text)
        or _letters_fault(letters, text)
        or _digits_fault(upper, digits, text)
        or _square(letters, digits, suffix, text)
    )


def tidy(text: str) -> str:
    """Make every run of white space (no-break ones too) one space, and drop invisible marks."""
    return " ".join(text.translate(_INVISIBLE).split())


def _square(letters: str, groups: list[str], suffix: str, typed: str) -> Square | Fault:
    """Make the square, once letters and digits are known to be sound: only the suffix can still be wrong."""
    digits = "".join(groups)
    half = len(digits) // 2
    side = 10 ** (5 - half)
    east, north = hundred_km_corner(letters)
    east += int(digits[:half]) * side
    north += int(digits[half:]) * side
    system: GridSystem = "GB" if len(letters) == 2 else "IE"
    if suffix:
        refused = _suffix_fault(square_at(system, east, north, side), suffix, typed)
        if refused:
            return refused
        if len(suffix) == 1:
            column, row = divmod(TETRAD_LETTERS.index(suffix), 5)
            east, north, side = east + column * 2_000, north + row * 2_000, 2_000
        else:
            east, north, side = east + QUADRANTS[suffix][0], north + QUADRANTS[suffix][1], 5_000
    return square_at(system, east, north, side, typed)


def _letters_fault(letters: str, typed: str) -> Fault | None:
    """Why these are not the letters of a 100 km square, if they are not."""
    if letters in ("WV", "WA"):
        return _fault(
            "grid-channel-islands",
            f"{letters} squares are the Channel Islands' own grid, not part of the National Grid.",
            _LATLON,
            typed,
        )
    if len(letters) <= 2 and "I" in letters:
        return _fault(
            "grid-letter-i",
            "The letter I is not used for 100 km squares.",
            "look at the map's letters again: perhaps J, L or T was meant",
            typed,
        )
    if len(letters) == 1:
        return None
    if len(letters) == 2:
        east, north = hundred_km_corner(letters)
        width, height = EXTENT["GB"]
        if 0 <= east < width and 0 <= north < height:
            return None
        if _NEAR_WEST_SOUTH[0] <= east < _NEAR_EAST and _NEAR_WEST_SOUTH[1] <= north < _NEAR_NORTH:
            where = "holds Rockall and lies" if letters == "MC" else "lies"
            return _fault(
                "grid-outside",
                f"Square {letters} {where} outside the National Grid (700 km by 1300 km).",
                'give latitude, longitude instead, like "57.5963, -13.6873"',
                typed,
            )
    return _fault(
        "grid-letters-unknown",
        f"There is no 100 km square {letters}.",
        "the National Grid has two letters (SU, NT …), the Irish Grid one (O, J …)",
        typed,
    )


def _digits_fault(upper: str, groups: list[str], typed: str) -> Fault | None:
    """Why the figures do not make an easting and a northing, if they do not."""
    digits = "".join(groups)
    if len(groups) > 2:
        return _fault(
            "grid-three-groups",
            f"There are {len(groups)} groups of figures; a reference has an easting and a northing.",
            'write the figures as one group or two of the same length, like "SU 123 345"',
            typed,
        )
    if len(groups) == 2 and len(groups[0]) != len(groups[1]):
        return _fault(
            "grid-unequal-groups",
            f"{groups[0]} has {_figures(groups[0])}, but {groups[1]} has {_figures(groups[1])}.",
            "both need the same number of figures: look for one missing or one too many",
            typed,
        )
    if len(digits) > 10:
        return _fault(
            "grid-too-many-digits",
            f"{len(digits)} figures are more than 5 each, which is already 1 m.",
            "leave figures off the end of easting and northing alike, without rounding",
            typed,
        )
    if len(digits) % 2:
        hint = "easting and northing need the same number of figures: look for one missing or one too many"
        if upper[0] in "HNOST" and upper[1:].lstrip().startswith("0"):
            hint += f"; or was {upper[0]}O meant, with the letter O?"
        return _fault("grid-odd-digits", f"{digits} has an odd number of figures.", hint, typed)
    return None


def _suffix_fault(base: Square, suffix: str, typed: str) -> Fault | None:
    """Why letters after the figures do not name a tetrad or a quadrant, if they do not."""
    quadrant, tetrad = suffix in QUADRANTS, len(suffix) == 1
    if not quadrant and not tetrad:
        return _fault(
            "grid-suffix-unknown",
            f'The letters "{suffix}" after the figures mean nothing here.',
            "after a 10 km square may come one letter (a tetrad, 2 km) or NE, NW, SE, SW (a quadrant, 5 km)",
            typed,
        )
    if base.side_m != 10_000:
        part = 2_000 if tetrad else 5_000
        holder = square_reference(base.system, base.easting, base.northing, part)
        return _fault(
            "grid-suffix-needs-10km",
            f'"{suffix}" names a part of a 10 km square, but {base.reference} is a smaller square.',
            f"write {base.reference} alone, or {holder} for the {part // 1000} km square that holds it",
            typed,
        )
    if suffix == "O":
        return _fault(
            "grid-tetrad-o",
            "There is no tetrad O.",
            "perhaps a zero was meant, or a figure is missing; after N comes P",
            typed,
        )
    return None


def _letter_in_digits(upper: str, typed: str) -> Fault | None:
    """Find a letter l, I or O among the figures, if that is what makes the text unreadable."""
    # Irish letters are tried only where two letters name no square: "NL47I" is a tetrad, not N1471.
    length = next((n for n in (2, 1) if upper[:n].isalpha() and not _letters_fault(upper[:n], typed)), 0)
    letters, body = upper[:length], upper[length:].strip()
    # A single letter after an even number of figures is a suffix, and is judged as one.
    among = sum(c.isdigit() for c in body) % 2 or re.search("[OIL] ?[0-9OIL]", body)
    if not length or not among or not re.fullmatch("[0-9 ]*[OIL][0-9OIL ]*", body):
        return None
    meant = parse_grid(letters + body.replace("O", "0").replace("I", "1").replace("L", "1"))
    if not isinstance(meant, Square):
        return None
    return _fault("grid-letter-for-digit", _LETTER_AMONG, f"did you mean {meant.reference}?", typed)


def _shapeless(upper: str, typed: str) -> Fault:
    """Name the fault of a text that is not letters, figures and perhaps a suffix."""
    if re.fullmatch("[0-9 ]+", upper):
        return _fault(
            "grid-which-grid",
            "Figures alone do not say which grid they are on.",
            "put the letters of the 100 km square before them, like SU or O"
            + (" (the letter O, not a zero?)" if upper[0] == "0" else ""),
            typed,
        )
    letters = upper.replace(" ", "")
    if letters.isalpha() and len(letters) <= 2:
        refused = _letters_fault(letters, typed)
        return refused or _fault(
            "grid-too-coarse",
            f"{letters} alone is a square of 100 km, too coarse for a record.",
            f"add figures: {letters}12 is a square of 10 km, {letters}1234 one of 1 km",
            typed,
        )
    return _letter_in_digits(upper, typed) or _two_references(upper, typed) or _unreadable(upper, typed)


def _two_references(upper: str, typed: str) -> Fault | None:
    """Two or more references in one field, if that is what it is."""
    starts = [m.start() for m in re.finditer(r"(?<![A-Z])(?:[A-Z]{2}|(?<![0-9])[A-Z]) ?[0-9]", upper)]
    if len(starts) < 2 or starts[0] != 0:
        return None
    parts = [upper[a:b].strip() for a, b in zip(starts, [*starts[1:], len(upper)], strict=True)]
    if not all(isinstance(parse_grid(part), Square) for part in parts):
        return None
    return _fault(
        "grid-two-references",
        f"There are {len(parts)} references here: {' and '.join(parts[:3])}{' …' if len(parts) > 3 else ''}.",
        "give one; a place that straddles squares can be given as the larger square that holds it",
        typed,
    )


def _unreadable(upper: str, typed: str) -> Fault:
    if re.fullmatch("[A-Z]{1,2} ?[0-9][0-9OIL ]*", upper):
        return _fault("grid-letter-for-digit", _LETTER_AMONG, "type the figures 0 and 1 for them", typed)
    found = re.match(r"[A-Z]+ ?[0-9 ]*[0-9] ?([A-Z][A-Z0-9 ]*)$", upper)
    if found:
        return _fault(
            "grid-suffix-unknown",
            f'"{found.group(1)}" after the figures means nothing here.',
            "after a 10 km square may come one letter (a tetrad, 2 km) or NE, NW, SE, SW (a quadrant, 5 km)",
            typed,
        )
    return _fault("grid-not-a-reference", "This does not read as a grid reference.", _EXAMPLE, typed)


def _unexpected(plain: str, strange: str, typed: str) -> Fault:
    spaced = tidy(re.sub("[^A-Z0-9]", " ", plain.upper())) if plain.isascii() else ""
    two = _two_references(spaced, typed) if spaced else None
    if two:
        return two
    shown = strange if strange.isprintable() else f"U+{ord(strange):04X}"
    hint = "use only letters A to Z, figures 0 to 9 and spaces"
    if strange == ".":
        hint = "leave the decimals off, without rounding: a reference is the square that holds the point"
    elif spaced and isinstance(meant := parse_grid(spaced), Square):
        hint = f"did you mean {meant.reference}?"
    return _fault("grid-unexpected-characters", f'"{shown}" does not belong in a grid reference.', hint, typed)


def _figures(group: str) -> str:
    return "1 figure" if len(group) == 1 else f"{len(group)} figures"


def _fault(code: str, message: str, hint: str, typed: str) -> Fault:
    return Fault(code, message, hint, said=typed, typed=True)
