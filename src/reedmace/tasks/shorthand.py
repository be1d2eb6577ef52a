"""One line as people write it in the field → what was seen: `12 common blue m`, `3 cop azure`, `~40 large red`.

The order of the parts is free. Numbers count; words for sex, stage and behaviour are taken out; what is left is
the name. `2m 3f` makes two sightings of one line. Everything after `#` is a remark; a `?` is a doubtful name.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, find_name

SEXES = {
    **dict.fromkeys(("m", "male", "males", "♂"), "male"),
    **dict.fromkeys(("f", "female", "females", "fem", "♀"), "female"),
}
STAGES = {
    **dict.fromkeys(("ad", "adult", "adults"), "adult"),
    **dict.fromkeys(("imm", "immature", "immatures", "juv", "young"), "immature"),
    **dict.fromkeys(("ten", "teneral", "tenerals", "fresh"), "teneral"),
    **dict.fromkeys(("em", "emerging", "emergent"), "emerging"),
    **dict.fromkeys(("exuvia", "exuviae", "exuv", "ex", "skin", "skins"), "exuvia"),
    **dict.fromkeys(("larva", "larvae", "nymph", "nymphs"), "larva"),
}
BEHAVIOURS = {
    **dict.fromkeys(("ovip", "ovi", "ovipositing", "laying", "egglaying"), "ovipositing"),
    **dict.fromkeys(("terr", "territorial"), "territorial"),
    **dict.fromkeys(("feeding", "hunting"), "feeding"),
}
PAIRS = {
    **dict.fromkeys(("tandem", "tandems", "tan"), "tandem"),
    **dict.fromkeys(("cop", "cops", "copulating", "mating", "wheel", "wheels"), "copulating"),
}
# A pair of which nothing more is said is two insects that keep together: in tandem.
PLAIN_PAIRS = dict.fromkeys(("pair", "pairs"), "tandem")
_WORDS = {"sex": SEXES, "stage": STAGES, "together": PAIRS, "pair": PLAIN_PAIRS, "behaviour": BEHAVIOURS}
_COUNT = re.compile(r"([~c]?)\s*([0-9]{1,6})(\+?)(m|f|male|males|female|females|♂|♀)?", re.ASCII)


class Tally(NamedTuple):
    """A number of insects alike: count None is "present, not counted"; pairs count two adults each."""

    count: int | None  # type: ignore[assignment]  # hides tuple.count, which nobody needs here
    kind: str
    typed: str
    sex: str | None = None
    pairs: int | None = None


class Line(NamedTuple):
    """A line understood; `tallies` become one sighting each."""

    typed: str
    name: FoundName
    tallies: tuple[Tally, ...]
    stage: str | None
    behaviour: tuple[str, ...]
    doubtful: bool
    remarks: str


class Counted(NamedTuple):
    """The parts of a line that are not its name."""

    tallies: tuple[Tally, ...]
    stage: str | None
    behaviour: tuple[str, ...]
    doubtful: bool
    left: tuple[str, ...]


def read_line(key: Key, typed: str) -> Line | Fault:
    """Understand one line, or say what is wrong with it."""
    body, _, remarks = typed.partition("#")
    if not body.strip():
        return _fault("line-empty", "There is nothing on this line.", "write, for example,  12 common blue m", typed)
    counted = _count(body, typed)
    if isinstance(counted, Fault):
        return counted
    found = find_name(key, " ".join(counted.left))
    if isinstance(found, Fault):
        return found._replace(said=typed)
    return Line(
        typed.strip(),
        found,
        counted.tallies,
        counted.stage,
        counted.behaviour,
        counted.doubtful,
        remarks.strip(),
    )


def read_tallies(typed: str) -> Counted | Fault:
    """Understand a line without a name: `2m 1f`, `1 f imm`, `3 cop`."""
    counted = _count(typed, typed)
    if not isinstance(counted, Fault) and counted.left:
        left = " ".join(counted.left)
        return _fault(
            "count-not-read",
            f'"{left}" is no count, sex, stage or behaviour.',
            "write, for example,  2m 1f",
            typed,
        )
    return counted


def _count(body: str, typed: str) -> Counted | Fault:
    counts: list[Tally] = []
    known: dict[str, list[str]] = {kind: [] for kind in _WORDS}
    left: list[str] = []
    doubtful = False
    for word in body.replace("?", " ? ").split():
        plain = word.casefold().strip(",;")
        if count := _COUNT.fullmatch(plain):
            tally = _tally(count, typed)
            if isinstance(tally, Fault):
                return tally
            counts.append(tally)
        elif plain == "?":
            doubtful = True
        elif (kind := next((kind for kind, words in _WORDS.items() if plain in words), None)) is not None:
            known[kind].append(_WORDS[kind][plain])
        else:
            left.append(word)
    stages = known["stage"]
    # "2 pairs cop": the plain word says how many, the other what they did.
    together = known["together"] or known["pair"]
    if len(set(stages)) > 1:
        return _fault("two-stages", f"This line says both {stages[0]} and {stages[1]}.", "write a line for each", typed)
    tallies = _tallies(counts, known["sex"], together, typed)
    if isinstance(tallies, Fault):
        return tallies
    behaviour = dict.fromkeys([*together[:1], *known["behaviour"]])
    return Counted(tallies, stages[0] if stages else None, tuple(behaviour), doubtful, tuple(left))


def _tally(count: re.Match[str], typed: str) -> Tally | Fault:
    number = int(count[2])
    if number == 0:
        return _fault(
            "zero-count",
            "A count of 0 could mean absent, or present and not counted.",
            "leave the number out when it was not counted; leave the line out when it was not there",
            typed,
        )
    kind = "estimate" if count[1] else "at least" if count[3] else "exact"
    sex = SEXES.get(count[4] or "")
    return Tally(number, kind, count[0], sex)


def _tallies(counts: list[Tally], sexes: list[str], together: list[str], typed: str) -> tuple[Tally, ...] | Fault:
    """Join numbers with sexes in the order they stand: `2 m 3 f` is two males and three females."""
    if together:
        if len(counts) > 1 or len(set(together)) > 1 or sexes or any(tally.sex for tally in counts):
            return _fault(
                "pairs-unclear",
                "This line mixes pairs with something else.",
                "a pair is a male and a female: write a line for the pairs, such as  3 cop azure",
                typed,
            )
        pairs = counts[0].count if counts else 1
        kind = counts[0].kind if counts else "exact"
        return (Tally(pairs * 2 if pairs else 2, kind, counts[0].typed if counts else "", None, pairs),)
    bare = [tally for tally in counts if tally.sex is None]
    if not counts:
        return tuple(Tally(None, "present", "", sex) for sex in dict.fromkeys(sexes)) or (Tally(None, "present", ""),)
    if len(bare) > 1 and not sexes:
        return _fault(
            "two-counts",
            "This line has two numbers, and nothing says what each of them counts.",
            "write  2m 3f  or a line for each",
            typed,
        )
    if not sexes or len(bare) == len(sexes):
        waiting = iter(sexes)
        return tuple(tally._replace(sex=next(waiting, None)) if tally.sex is None else tally for tally in counts)
    return _fault(
        "count-and-sex",
        "It is not clear which number belongs to which sex.",
        "write  2m 3f  or a line for each",
        typed,
    )


def _fault(code: str, message: str, hint: str, typed: str) -> Fault:
    return Fault(code, message, hint, typed, typed=True)


def show_line(line: Line | Counted) -> str:
    """How a line was understood, in words."""
    parts = []
    for tally in line.tallies:
        if tally.pairs:
            together = line.behaviour[0] if line.behaviour else "tandem"
            pair = "pair" if tally.pairs == 1 else "pairs"
            parts.append(f"{tally.pairs} {pair} ({together}, {tally.count} insects)")
            continue
        number = (
            "present, not counted"
            if tally.count is None
            else f"{'about ' * (tally.kind == 'estimate')}{'at least ' * (tally.kind == 'at least')}{tally.count}"
        )
        parts.append(f"{number} {tally.sex}" if tally.sex else number)
    rest = [line.stage or "", *(act for act in line.behaviour if act not in PAIRS.values())]
    return ", ".join([" and ".join(parts), *filter(None, rest), *(["name uncertain"] if line.doubtful else [])])
