"""Grid references that stand in columns of their own: eastings and northings in full metres, or letters and figures."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from typing import Literal

from reedmace.faults import Fault
from reedmace.places.squares import square_at

EASTINGS: dict[str, tuple[str, ...]] = {
    "british_easting": ("british easting", "british grid easting", "national grid easting"),
    "british_northing": ("british northing", "british grid northing", "national grid northing"),
    "irish_easting": ("irish easting", "irish grid easting"),
    "irish_northing": ("irish northing", "irish grid northing"),
}
# A reference cut into columns: the letters of its 100 km square, and its figures in one column or in two.
IN_PARTS: dict[str, tuple[str, ...]] = {
    "grid_letters": ("grid letters", "100km square", "100 km square", "100km", "100 km"),
    "grid_east": (),
    "grid_north": (),
    "grid_figures": ("grid figures",),
}
# Words of a heading that name the grid, and those that say no more of it.
_NAMING = {
    **dict.fromkeys(("british", "gb", "os", "osgb", "osgb36", "bng"), "british"),
    **dict.fromkeys(("irish", "ireland", "ing"), "irish"),
}
_SILENT = frozenset(("grid", "national", "ref", "reference", "coordinate", "co", "ordinate", "m", "metres", "36"))
_SILENT |= {"full", "in", "of", "on", "the", "x", "y", "britain", "great"}
_WAYS = {**dict.fromkeys(("easting", "eastings"), "easting"), **dict.fromkeys(("northing", "northings"), "northing")}
_SHORT_WAYS = {**_WAYS, "east": "easting", "e": "easting", "x": "easting", "north": "northing", "n": "northing"}
_SHORT_WAYS["y"] = "northing"
_LETTERS = re.compile(r"[A-HJ-Za-hj-z]{1,2}", re.ASCII)
_FIGURES = re.compile(r"[0-9 ]{1,11}", re.ASCII)
_OTHERS = frozenset(("itm", "utm"))  # grids that are not read
_GRIDS: tuple[tuple[Literal["GB", "IE"], str], ...] = (("GB", "british"), ("IE", "irish"))
_MANY_METRES = re.compile(r"[0-9]{4,7}(?:[.,][0-9]+)?", re.ASCII)
_METRES = re.compile(r"([0-9]{1,7})(?:[.,][0-9]+)?", re.ASCII)


def reference_of(fields: Mapping[str, str]) -> tuple[str, str] | Fault | None:
    """Give the reference that columns of their own stand for, and these as typed; None where there are none.

    An easting and a northing in metres are a square of 1 m.
    """
    if "grid_letters" in fields:
        return _put_together(fields)
    for system, grid in _GRIDS:
        east, north = (fields.get(f"{grid}_{part}", "").strip() for part in ("easting", "northing"))
        if not (east or north):
            continue
        typed = f"{east}, {north}"
        one, other = _METRES.fullmatch(east), _METRES.fullmatch(north)
        if one is None or other is None:
            why = "An easting and a northing are two numbers of metres."
            return Fault("easting-not-read", why, "write both in full, such as  443150  and  111850", typed)
        try:
            return square_at(system, int(one[1]), int(other[1]), 1).reference, typed
        except ValueError:
            why = f"The {grid.capitalize()} grid does not reach this easting and northing."
            return Fault("easting-not-read", why, "look whether they are in metres, in full, and of this grid", typed)
    return None


def _put_together(fields: Mapping[str, str]) -> tuple[str, str] | Fault | None:
    parts = [fields.get(field, "").strip() for field in IN_PARTS]
    letters, east, north, figures = parts
    typed = " ".join(filter(None, parts))
    if not (east or north or figures):
        return typed, typed
    if not figures and len(east) != len(north):
        why = "The figures for east and north are not equally many."
        hint = f"write noughts in front too, such as  {east.zfill(len(north))}  and  {north.zfill(len(east))}"
        return Fault("easting-not-read", why, hint, typed)
    return f"{letters} {figures or f'{east} {north}'}", typed


def letters_apart(meant: Mapping[str, str | None], cells: Mapping[str, Sequence[str]]) -> dict[str, str]:
    """Find the columns of references that were cut: one of a square's letters, and its figures in one or in two.

    `meant` are columns by their headings so far, `cells` what is in each.
    """
    unread = (None, "place", "grid_letters")
    letters = next((one for one, field in meant.items() if field in unread and _all(_LETTERS, cells[one])), None)
    if letters is None:
        return {}
    figures = [
        one
        for one, field in meant.items()
        if one != letters and field in (None, "place", "longitude", "latitude", "count") and _all(_FIGURES, cells[one])
    ]
    ways = {way: [one for one in figures if way in _ways(one)] for way in ("easting", "northing")}
    if all(len(found) == 1 for found in ways.values()):
        return {letters: "grid_letters", ways["easting"][0]: "grid_east", ways["northing"][0]: "grid_north"}
    whole = [one for one in figures if meant[one] == "place"]
    return {letters: "grid_letters", whole[0]: "grid_figures"} if len(whole) == 1 else {}


def _all(form: re.Pattern[str], cells: Sequence[str]) -> bool:
    return bool(cells) and all(form.fullmatch(cell) for cell in cells)


def _ways(heading: str) -> set[str]:
    return {_SHORT_WAYS[word] for word in re.findall(r"[^\W_]+", heading.casefold()) if word in _SHORT_WAYS}


def easting_headed(plain: str) -> str | None:
    """Give the field of a heading in plain words that names an easting or northing and one grid; None for others."""
    words = plain.split()
    ways = {_WAYS[word] for word in words if word in _WAYS}
    grids = {_NAMING[word] for word in words if word in _NAMING}
    if not grids and "national" in words and "grid" in words:
        grids = {"british"}
    known = all(word in _WAYS or word in _NAMING or word in _SILENT for word in words)
    return f"{grids.pop()}_{ways.pop()}" if known and len(ways) == len(grids) == 1 else None


def in_metres(meant: Mapping[str, str | None], cells: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    """Give the headings of an easting and a northing that were taken for degrees: no degree has that many figures."""
    pair = [next((one for one, field in meant.items() if field == way), "") for way in ("longitude", "latitude")]
    degrees = [one for one in pair if not one or not _all(_MANY_METRES, cells[one])]
    return () if degrees else tuple(pair)


def without_grid(
    columns: Sequence[tuple[str, str | None]], said: Collection[str], metres: Sequence[str] = ()
) -> Fault | None:
    """Say that there are eastings of a grid that nobody named, and nothing else says where as exactly.

    `columns` are headings with their fields; of those in `said` the user has spoken. `metres` are the headings of an
    easting and a northing that are known by what is in them.
    """
    fields = {field for _, field in columns}
    if fields & {"place", "latitude", "british_easting", "irish_easting", "grid_letters"}:
        return None
    left = [heading for heading, field in columns if field is None and heading not in said]
    hint = grid_hint(left, metres)
    if hint is None or not any("northing" in heading.casefold() or heading in metres for heading in left):
        return None
    heading = next(one for one in left if "easting" in one.casefold() or one in metres)
    why = "This sheet has eastings and northings, and does not say of which grid."
    return Fault("easting-not-read", why, f'{hint} ; or leave them out:  --map "{heading}="', heading, typed=True)


def grid_hint(columns: Sequence[str], metres: Sequence[str] = ()) -> str | None:
    """Say what to do with eastings of a grid that nobody named."""
    if metres and set(metres) <= set(columns):
        east, north = metres
        how = f'--map "{east}=british_easting" --map "{north}=british_northing"'
        return f"these are metres on a grid; say of which:  {how} , or irish_easting and irish_northing"
    for heading in columns:
        if "easting" not in heading.casefold():
            continue
        if _OTHERS.intersection(re.findall(r"[^\W_]+", heading.casefold())):
            return "eastings of this grid are not read: give grid references, or latitudes and longitudes"
        how = f'--map "{heading}=british_easting"'
        return f"an easting is of a grid; say of which:  {how} , or irish_easting; and the northing likewise"
    return None
