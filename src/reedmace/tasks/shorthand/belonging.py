"""The tallies of a line: which number belongs to which sex, pair word, stage and behaviour, and what is a total."""

from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.tasks.shorthand.line_acts import with_acts
from reedmace.tasks.shorthand.line_among import take_among
from reedmace.tasks.shorthand.line_doubts import IN_DOUBT
from reedmace.tasks.shorthand.line_one_or_all import some_or_more
from reedmace.tasks.shorthand.line_pairs import kinds_of_pairs, one_of_each, one_word_a_pair, put_together
from reedmace.tasks.shorthand.line_skins import alike_twice, no_skin_in_a_pair, skins_apart, skins_or_insects
from reedmace.tasks.shorthand.line_stages import with_stages
from reedmace.tasks.shorthand.line_totals import brackets_told, without_total
from reedmace.tasks.shorthand.number_groups import meet
from reedmace.tasks.shorthand.tallies import NOT_AMONG, Layout, Met, Part, Tally, take_out


class Tallied(NamedTuple):
    """The tallies of a line; `in_all` is a total that was written beside its breakdown.

    `how` is as it was given, or as the line says; `taken` says that some were among others, and taken out of them.
    """

    tallies: tuple[Tally, ...]
    in_all: Tally | None = None
    how: str | None = None
    taken: bool = False


def tally_up(parts: list[Part], layout: Layout, how: str | None) -> Tallied | Fault:
    """Join numbers with sexes and pairs in the order they stand.

    `how` is "pairs-among" where what follows is among what was counted, "pairs-beside" where it is more.
    """
    parts = _others_there(_without_marks(parts))
    parts = put_together(one_word_a_pair(one_of_each(parts, layout)), layout)
    apart = _told_apart(parts, layout, how)
    if isinstance(apart, Fault):
        return apart
    met, how = apart
    among = take_among(met, layout, how)
    if isinstance(among, Fault):
        return among
    met, in_all = among.met, among.in_all
    if how is None and not among.any and (told := brackets_told(met, layout) or some_or_more(met, layout)) is not None:
        return told
    if in_all is None:
        kinds = kinds_of_pairs(met, layout, how)
        settled = kinds if isinstance(kinds, Fault) else without_total(kinds, layout.typed, how)
        if isinstance(settled, Fault):
            return settled
        met, in_all = settled
    # A sex in doubt has kept its number apart from the others'; it is recorded as none.
    tallies = tuple(one.tally._replace(sex=None) if one.tally.sex == IN_DOUBT else one.tally for one in met)
    grown = [one for one in tallies if one.stage not in NOT_AMONG]
    both = any(one.pairs for one in grown) and any(not one.pairs for one in grown)
    if how == "pairs-among" and both and not among.paired:
        left = take_out(tallies, layout.typed)
        return left if isinstance(left, Fault) else Tallied(left, in_all, how)
    return Tallied(tallies, in_all, how, among.any)


def _told_apart(parts: list[Part], layout: Layout, how: str | None) -> tuple[list[Met], str | None] | Fault:
    """The numbers with their sex, stage and what they did, and how what follows goes with what was counted."""
    apart = skins_apart(parts, layout)
    if isinstance(apart, Fault):
        return apart
    met = meet(apart, layout, how)
    if isinstance(met, Fault):
        return met
    if how is None and any(one.whole for one in met):
        how = "pairs-among"
    met = with_stages(met, [part for part in apart if part.kind == "stage"], layout)
    if isinstance(met, Fault):
        return met
    met = with_acts(met, [part for part in apart if part.kind == "behaviour"], layout)
    if isinstance(met, Fault):
        return met
    told = no_skin_in_a_pair(met, apart, layout) or skins_or_insects(met, layout, how) or alike_twice(met, layout)
    return (met, how) if told is None else told


def _without_marks(parts: list[Part]) -> list[Part]:
    """The parts without "seen", "present" and the like, which say nothing more where a number stands.

    Behind a sex without a number such a word is its number: `2m f present`.
    """
    # A plus between two words joins them: m + f.
    parts = [part for at, part in enumerate(parts) if part.word.plain != "+" or not 0 < at < len(parts) - 1]
    marks = [part for part in parts if _is_mark(part)]
    if not any(part.kind == "count" and not _is_mark(part) for part in parts):
        return [part for part in parts if part not in marks[1:]]
    kept = []
    for index, part in enumerate(parts):
        before = parts[index - 1] if index else None
        lone = before is not None and before.kind == "sex" and not _numbered(parts, index - 1)
        if not _is_mark(part) or lone:
            kept.append(part)
    return kept


def _others_there(parts: list[Part]) -> list[Part]:
    """The parts with a number for "others" that have none: in `10m + others` they were there, and not counted."""
    if not any(part.kind in ("sex", "pairs", "pair", "count") for part in parts):
        return parts
    found: list[Part] = []
    for at, part in enumerate(parts):
        beside = (*parts[max(0, at - 1) : at], *parts[at + 1 : at + 2])
        counted = any(isinstance(one.value, Tally) and one.value.sex is None for one in beside)
        told = at + 1 < len(parts) and parts[at + 1].kind in ("sex", "pairs", "pair")  # other males
        if part.kind == "rest" and not counted and not told:
            found.append(Part("count", Tally(None, "present", part.word.text), part.word))
        found.append(part)
    return found


def _is_mark(part: Part) -> bool:
    return part.kind == "count" and isinstance(part.value, Tally) and part.value.kind == "mark"


def _numbered(parts: list[Part], index: int) -> bool:
    """Whether a number stands before the part at `index`, behind the sex or pair word before it."""
    for part in reversed(parts[:index]):
        if part.kind == "count":
            return not (isinstance(part.value, Tally) and part.value.sex)
        if part.kind in ("sex", "pairs", "pair"):
            return False
    return False
