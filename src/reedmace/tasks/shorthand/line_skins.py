"""Cast skins and larvae beside insects that fly: a comma, a plus or "and" parts them, and no skin is in a pair."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import VOCABULARY, Word, slip
from reedmace.tasks.shorthand.tallies import NOT_AMONG, Layout, Met, Part, Tally

_JOINERS = ("+", "&", "and", "plus", "with", "beside")
_GROUPS = ("sex", "pairs", "pair")


def parted_by_joiners(words: Sequence[Word]) -> list[int]:
    """Where "+" or "and" parts a cast skin from something else, as a comma does: `m + exuvia`, `exuvia and m`."""
    found = []
    for at in range(1, len(words) - 1):
        if words[at].plain in _JOINERS and not words[at].quoted:
            before, after = _sort(words[at - 1]), _sort(words[at + 1])
            if before != after and "skin" in (before, after) and before and after:
                found.append(words[at].start)
    return found


def _sort(word: Word) -> str:
    kind, meaning = VOCABULARY.get(word.plain, ("", ""))
    if kind == "stage":
        return "skin" if meaning in NOT_AMONG else "grown"
    return "grown" if kind in _GROUPS or word.plain[:1].isdigit() else ""


def skins_apart(parts: list[Part], layout: Layout) -> list[Part] | Fault:
    """The parts, with a number that was not counted before each skin that stands alone: `m, exuvia` are two things."""
    if not any(part.kind in (*_GROUPS, "count") for part in parts):
        return parts
    found: list[Part] = []
    for at, part in enumerate(parts):
        if not _is_skin(part) or part.glued or part.of_all or layout.inside(part.word.start):
            found.append(part)
            continue
        stretch = layout.stretch(part.word.start)
        beside = [one for one in parts if layout.stretch(one.word.start) == stretch and one is not part]
        others = [one for one in parts if one.kind in (*_GROUPS, "count") and one not in beside]
        sexed = [one for one in others if one.kind != "count" or (isinstance(one.value, Tally) and one.value.sex)]
        joined = _joined(part, layout)
        if any(one.kind in (*_GROUPS, "count", "stage") for one in beside) or not (sexed or (joined and others)):
            if not beside and (told := _behind_number(part, parts, layout)) is not None:
                return told
            found.append(part)
            continue
        numbers = any(one.kind == "count" for one in others)
        if numbers and not any(one.kind in (*_GROUPS, "count") for one in parts[:at]) and not joined:
            return _before_all(part, layout)
        found += [Part("count", Tally(None, "present", ""), part.word), part]
    return found


def _joined(part: Part, layout: Layout) -> bool:
    """Whether "+" or "and", and no comma, begins or ends the stretch of a part."""
    before = max((comma for comma in layout.commas if comma < part.word.start), default=None)
    behind = min((comma for comma in layout.commas if comma > part.word.start), default=None)
    bounds = [bound for bound in (before, behind) if bound is not None]
    return any(layout.typed[bound:].casefold().startswith(_JOINERS) for bound in bounds)


def _behind_number(part: Part, parts: Sequence[Part], layout: Layout) -> Fault | None:
    """What is wrong with `10 large red, exuviae`: ten cast skins, or ten insects and cast skins beside them."""
    told = [one for one in parts if one.kind in (*_GROUPS, "count")]
    count = told[0].value if len(told) == 1 else None
    if not isinstance(count, Tally) or count.count is None or told[0].word.start > part.word.start:
        return None
    stretch = layout.stretch(told[0].word.start)
    if stretch == layout.stretch(part.word.start) or not any(layout.stretch(at) == stretch for at in layout.names):
        return None  # a number between commas of its own is that of all: large red, 10, exuviae
    number, word = told[0].word.text, part.word.text.rstrip(".:")
    return slip(
        "stage-unclear",
        f'"{word}" could be what the {number} are, or be there beside them.',
        f"write  {number} {word}  without a comma, or  {number} + {word}",
        layout.typed,
        part.word.start,
        part.word.end,
    )


def _is_skin(part: Part) -> bool:
    return part.kind == "stage" and part.value in NOT_AMONG


def _before_all(part: Part, layout: Layout) -> Fault:
    word = part.word.text.rstrip(".:")
    return slip(
        "stage-unclear",
        f'"{word}" could be said of these numbers, or be one thing seen and they another.',
        f"of them all:  5 {word} (2m 3f)  ; beside them, behind the numbers and with a number:  2m, 3f, 1 {part.value}",
        layout.typed,
        part.word.start,
        part.word.end,
    )


def no_skin_in_a_pair(met: Sequence[Met], parts: Sequence[Part], layout: Layout) -> Fault | None:
    """What is wrong with `3 tan ex`: cast skins and larvae are in no pair."""
    one = next((one for one in met if one.tally.pairs and one.tally.stage in NOT_AMONG), None)
    if one is None:
        return None
    columns = (one.first, one.at)
    part = next(part for part in parts if part.kind in ("pairs", "pair") and part.word.start in columns)
    who = "cast skins" if one.tally.stage == "exuvia" else "larvae"
    return slip(
        "behaviour-unclear",
        f'"{part.word.text}" cannot be said of {who}: a pair is a male and a female that fly.',
        f"give each a number of its own:  2 {part.word.text}, 3 {one.tally.stage}  ; or leave it out",
        layout.typed,
        part.word.start,
        part.word.end,
    )


def skins_or_insects(met: Sequence[Met], layout: Layout, how: str | None) -> Fault | None:
    """What is wrong with `12 ex, 7m 5f`: the sexes could be those of the skins, for they add up to as many."""
    if how is not None:
        return None
    for at, one in enumerate(met):
        sexed = [other for other in met[at + 1 :] if other.tally.sex]
        skin = one.tally.stage in NOT_AMONG and one.bare and one.tally.kind == "exact"
        if not skin or len(sexed) < 2 or sexed != list(met[at + 1 :]) or layout.inside(sexed[0].first):
            continue
        if any(other.tally.stage or other.tally.behaviour or other.tally.kind != "exact" for other in sexed):
            continue
        if sum(other.tally.count or 0 for other in sexed) != one.tally.count:
            continue
        number, stage = one.tally.count, one.tally.stage
        skins = "cast skins" if stage == "exuvia" else "larvae"
        split = " ".join(f"{other.tally.count}{(other.tally.sex or '')[:1]}" for other in sexed)
        return slip(
            "total-unclear",
            f"It is not clear whether {split} are the {number} {skins}, or insects beside them.",
            f"they are those:  {number} {stage} ({split}) ; they are more:  {number} {stage} plus {split}",
            layout.typed,
        )
    return None


def alike_twice(met: Sequence[Met], layout: Layout) -> Fault | None:
    """What is wrong with `2m 2m`: two numbers for the same, and nothing that tells them apart."""
    for one, other in pairwise(met):
        same = one.tally._replace(count=None, kind="", typed="", to=None, pairs=None) == other.tally._replace(
            count=None, kind="", typed="", to=None, pairs=None
        )
        if same and (one.tally.sex or one.tally.stage) and layout.place(one.first)[1] == layout.place(other.first)[1]:
            what = " ".join(filter(None, (one.tally.stage, one.tally.sex)))
            return slip(
                "said-twice",
                f"This line counts {what} twice, and nothing tells the two numbers apart.",
                "give them one number, or a line for each",
                layout.typed,
                min(one.first, other.first),
                max(one.at, other.at) + 1,
            )
    return None
