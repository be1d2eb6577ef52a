"""Columns that count one part of the insects each (males, pairs, exuviae ...), and columns of ticks.

Each cell with a number is a sighting of its own, beside those of the other columns; how a column for all of them goes
with these is told in `sheet_totals`. Where none of them counts anything, the row says what a 0 says.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.tasks.sheets.counts import Count
from reedmace.tasks.sheets.totals import YOUNG, added_up
from reedmace.tasks.shorthand.field_words import PAIRS, PLAIN_PAIRS, SEXES, STAGES


class Part(NamedTuple):
    """What the insects in one column have in common; `paired` says that pairs are counted, two insects each."""

    sex: str | None = None
    stage: str | None = None
    behaviour: tuple[str, ...] = ()
    paired: bool = False


# Males and females come first: the ids of a row's further sightings go by this order.
PARTS: dict[str, Part] = {
    "males": Part(sex="male"),
    "females": Part(sex="female"),
    "adult_males": Part(sex="male", stage="adult"),
    "adult_females": Part(sex="female", stage="adult"),
    "unsexed": Part(),
    "adults": Part(stage="adult"),
    "pairs": Part(behaviour=("tandem",), paired=True),
    "tandem": Part(behaviour=("tandem",), paired=True),
    "copulating": Part(behaviour=("copulating",), paired=True),
    "ovipositing": Part(behaviour=("ovipositing",)),
    "ovipositing_females": Part(sex="female", behaviour=("ovipositing",)),
    "immature": Part(stage="immature"),
    "teneral": Part(stage="teneral"),
    "emerging": Part(stage="emerging"),
    "exuviae": Part(stage="exuvia"),
    "larvae": Part(stage="larva"),
}
_PAIRED = frozenset(PAIRS.values())
COUNTING = frozenset((*PARTS, "seen"))


_MEANING = {
    **SEXES,
    **{word: stage for word, stage in STAGES.items() if word not in ("fresh", "freshly", "newly", "young")},
    **PAIRS,
    **dict.fromkeys(PLAIN_PAIRS, "pairs"),
    **dict.fromkeys(("ovi", "ovip", "ovipos", "ovipositing", "oviposition", "laying", "egglaying"), "ovipositing"),
    **dict.fromkeys(("unsexed", "undetermined", "indeterminate"), "unsexed"),
    "larval": "larva",
    "nymphal": "larva",
    "exuvial": "exuvia",
    "juvenile": "immature",
    "juveniles": "immature",
}
_FIELDS = {
    frozenset(said): field
    for field, said in (
        *(("males", ["male"]), ("females", ["female"]), ("adults", ["adult"]), ("unsexed", ["unsexed"])),
        *(("adult_males", ["adult", "male"]), ("adult_females", ["adult", "female"]), ("pairs", ["pairs"])),
        *(("tandem", ["tandem"]), ("tandem", ["tandem", "pairs"]), ("copulating", ["copulating"])),
        *(("copulating", ["copulating", "pairs"]), ("ovipositing", ["ovipositing"])),
        *(("ovipositing_females", ["ovipositing", "female"]), ("immature", ["immature"]), ("teneral", ["teneral"])),
        *(("emerging", ["emerging"]), ("exuviae", ["exuvia"]), ("larvae", ["larva"])),
        *(("immature", ["immature", "adult"]), ("teneral", ["teneral", "adult"]), ("pairs", ["pairs", "adult"])),
        *(("tandem", ["tandem", "adult"]), ("copulating", ["copulating", "adult"])),
        *(("ovipositing", ["ovipositing", "adult"]), ("unsexed", ["unsexed", "adult"])),
    )
}
_SILENT = frozenset(
    (
        "no",
        "nos",
        "number",
        "numbers",
        "of",
        "in",
        "count",
        "counts",
        "counted",
        "total",
        "n",
        "egg",
        "seen",
        "observed",
        "recorded",
    )
)
# Of the shorthand's shortest words those that head a column of their own.
_SHORT = frozenset(("m", "f", "mm", "ff", "ad", "ex", "em", "pr"))

# What a column says that tells of each row whether anything was there.
WORDS_OF_STATUS = frozenset(
    (
        *("present", "absent", "detected", "notdetected", "yes", "no", "y", "n", "true", "false", "seen", "notseen"),
        *("recorded", "found", "notfound"),
    )
)


def part_begun(plain: str) -> str | None:
    """Give the part whose word a short heading begins: `cop` of copulating.

    That is for columns beside one that surely counts a part; alone `co` may mean anything, such as a county.
    """
    begun = [part for part in PARTS if 1 < len(plain) < 4 and part.startswith(plain)]
    return min(begun, key=len, default=None)


def part_headed(plain: str) -> str | None:
    """Give the part that a column counts, by its heading in plain words; None where it is none of these."""
    words = [word for word in plain.split() if word not in _SILENT]
    said = {_MEANING.get(word, "") if len(word) > 2 or word in _SHORT else "" for word in words}
    return _FIELDS.get(frozenset(said)) if said else None


_TICKED = frozenset({"✓", "✔", "√", "☑", "✅", "x", "y", "yes", "true", "1", "+", "p", "present", "seen"})
_NOT_TICKED = frozenset({"n", "no", "false", "0", "-", "–", "none", "absent", "not seen"})


def all_ticks(cells: Collection[str]) -> bool:
    """Say whether cells (those that are not blank) are ticks all of them, and not numbers."""
    plain = {cell.strip().casefold() for cell in cells}
    return bool(plain - {"0", "1"}) and plain <= _TICKED | _NOT_TICKED


def ticks_under(heading: str, cells: Collection[str]) -> bool:
    """Say whether cells under a heading like "seen" are ticks; there 1 and 0 are ticks as well."""
    plain = {cell.strip().casefold() for cell in cells}
    return heading in TICK_HEADINGS and bool(plain) and plain <= _TICKED | _NOT_TICKED


TICK_HEADINGS = frozenset(
    (
        *("seen", "present", "tick", "ticks", "ticked", "recorded", "observed", "found", "presence", "seen y n"),
        *("present y n", "present absent", "noted"),
    )
)


def read_tick(cell: str) -> bool | None:
    """Read a cell of ticks; None where it holds something else, which may be a count. A blank is no tick."""
    plain = cell.strip().casefold()
    return True if plain in _TICKED else False if not plain or plain in _NOT_TICKED else None


class Counted(NamedTuple):
    """The counts of a row: none of them where nothing is counted; `said` is the cell that says so."""

    counts: tuple[Count, ...] = ()
    said: str = ""


def counted(
    fields: Mapping[str, str], counting: Collection[str], read: Callable[[str], Sequence[Count]]
) -> Counted | Fault:
    """Give what a row counts. `counting` are the fields of the sheet that count parts, `read` reads a cell."""
    cells = {field: cell for field in PARTS if (cell := fields.get(field, "").strip())}
    parts: dict[str, list[Count]] = {}
    for field, cell in cells.items():
        found = [_part(field, cell, count) for count in read(cell) if not count.zero]
        if any(isinstance(one, Fault) for one in found):
            return next(one for one in found if isinstance(one, Fault))
        if found:
            parts[field] = [one for one in found if isinstance(one, Count)]
    typed, ticked = fields.get("count", "").strip(), fields.get("seen", "").strip()
    whole = list(read(typed)) if typed else []
    tick = read_tick(ticked)
    if tick is None:
        whole, typed = whole or list(read(ticked)), typed or ticked
    nothing = all(count.zero for count in whole)
    if tick is False and ticked and (parts or (whole and not nothing)):
        why = f'This row counts insects, and says "{ticked}".'
        return Fault("cells-differ", why, "correct one of the two", ticked)
    if parts:
        together = added_up(parts, whole, typed)
        return together if isinstance(together, Fault) else Counted(together)
    if whole:
        return Counted((), typed) if nothing else Counted(tuple(whole))
    if "seen" in counting and tick:
        return Counted((Count(None),))
    return Counted((), ticked or next(iter(cells.values()), ""))


def acts_of(part: str, own: tuple[str, ...], said: tuple[str, ...]) -> tuple[str, ...]:
    """Join what all in a column do to what is `said` besides: of mere pairs that tells what they do."""
    if part == "pairs" and not _PAIRED.isdisjoint(said):
        own = tuple(one for one in own if one not in _PAIRED or one in said)
    return tuple(dict.fromkeys((*own, *said)))


def _part(field: str, cell: str, count: Count) -> Count | Fault:
    """Make a count of one part of what its cell says."""
    part = PARTS[field]
    name = field.replace("_", " ")
    for own, other in ((part.sex, count.sex), (part.stage, count.stage)):
        if own and other and own != other:
            why = f'The cell "{cell}" stands in the column for {name}.'
            return Fault("cells-differ", why, "put it into the column of its own kind", cell)
    if count.pairs and field in YOUNG:
        why = f'The cell "{cell}" stands in the column for {name}, and only grown ones pair.'
        return Fault("cells-differ", why, "put it into the column of its own kind", cell)
    if count.pairs and (part.sex or field == "unsexed"):
        why = f'The cell "{cell}" stands in the column for {name}, but a pair is a male and a female.'
        hint = "put pairs into a column of their own, or write how many of this sex there were"
        return Fault("cells-differ", why, hint, cell)
    count = count._replace(
        sex=part.sex or count.sex,
        stage=part.stage or count.stage,
        behaviour=acts_of(name, part.behaviour, count.behaviour),
        typed=cell,
        part=name,
    )
    if not part.paired:
        return count
    if count.number is None or count.sex:
        why = "Pairs need a number, for each of them is two insects, a male and a female."
        return Fault("count-not-read", why, "write how many pairs", cell)
    if count.pairs:
        return count
    twice = None if count.to is None else 2 * count.to
    return count._replace(number=2 * count.number, to=twice, pairs=count.number)
