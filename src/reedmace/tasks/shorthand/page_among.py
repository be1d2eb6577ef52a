"""Lines of a visit that count insects of its other lines: pairs that are among them, and a total of them all."""

from __future__ import annotations

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import slip
from reedmace.tasks.shorthand.line_words import show_tally, total_of
from reedmace.tasks.shorthand.page_said import PageVisit, Reading, SeenLine, placed
from reedmace.tasks.shorthand.tallies import NOT_AMONG, Tally, take_out


def pairs_among_others(visit: PageVisit, reading: Reading) -> tuple[PageVisit, list[Fault]]:
    """`3 cop common blue incl`: the pairs are among the singles on other lines for the same insect and spot."""
    lines, faults = list(visit.lines), []
    for paired in visit.lines:
        if not paired.line.said.among_others:
            continue
        pairs = [tally for tally in paired.line.tallies if tally.pairs]
        like = [index for index, one in enumerate(lines) if _same_insects(one, paired)]
        stages = {_stage(tally) for tally in pairs}
        singles: list[tuple[int, Tally]] = [
            (index, tally)
            for index in like
            for tally in lines[index].line.tallies
            if not tally.pairs and _stage(tally) in stages
        ]
        if not singles:
            fault = slip(
                "nothing-to-include-in",
                "These pairs are to be among others (incl), but no line counts the others.",
                "write the others too, or leave out  incl",
                paired.line.typed,
            )
            faults.append(placed(fault, reading, paired.number, paired.line.typed))
            continue
        left = take_out([*pairs, *(tally for _, tally in singles)], paired.line.typed)
        if isinstance(left, Fault):
            faults.append(placed(left, reading, paired.number, paired.line.typed))
            continue
        waiting = [tally for tally in left if not tally.pairs]
        for index in like:
            kept = []
            for tally in lines[index].line.tallies:
                if tally.pairs or _stage(tally) not in stages:
                    kept.append(tally)
                elif waiting and _same_count(waiting[0], tally):
                    kept.append(waiting.pop(0))
            seen = lines[index]
            said = seen.line.said._replace(tallies=tuple(kept))
            lines[index] = seen._replace(line=seen.line._replace(said=said))
    # A line of which nothing is left beside the pairs is no sighting of its own; its words stay with the visit.
    gone = [f"{one.line.typed.strip()} (all of them in pairs)" for one in lines if not one.line.tallies]
    kept_lines = tuple(one for one in lines if one.line.tallies)
    return visit._replace(lines=kept_lines, notes=(*visit.notes, *gone)), faults


def totals_of_others(visit: PageVisit, reading: Reading) -> tuple[PageVisit, list[Fault]]:
    """`total 17 common blue` below lines that count them is no further sighting; its words stay with the visit."""
    faults, sums = [], []
    for summed in visit.lines:
        if not summed.line.said.whole:
            continue
        [whole] = summed.line.tallies
        others = [tally for one in visit.lines if _same_insects(one, summed) for tally in one.line.tallies]
        if whole.stage not in NOT_AMONG:
            others = [tally for tally in others if tally.stage not in NOT_AMONG]
        others = [tally for tally in others if whole.sex in (None, tally.sex) and whole.stage in (None, tally.stage)]
        if not others:
            continue
        among = total_of(others)
        said = summed.line.said
        more = said.observers or said.company or said.determiner or said.photos  # these have no room in a remark
        if among and among == total_of([whole]) and not more:
            sums.append(summed)
            continue
        typed, number = summed.line.typed, show_tally(whole, acts=False)
        fault = slip(
            "total-unclear",
            f"This line says {number} in all, and the other lines for the same insects say {among or 'otherwise'}.",
            "correct one of them; without the words for all it counts as more",
            typed,
        )
        faults.append(placed(fault, reading, summed.number, typed))
    notes = tuple(one.line.typed.strip() for one in sums)
    kept = tuple(one for one in visit.lines if not any(one is gone for gone in sums))
    return visit._replace(lines=kept, notes=(*visit.notes, *notes)), faults


def _same_insects(one: SeenLine, other: SeenLine) -> bool:
    mine, theirs = one.line, other.line
    return (
        one is not other
        and (mine.name.species, mine.name.others) == (theirs.name.species, theirs.name.others)
        and one.spot == other.spot
        and mine.said.place == theirs.said.place
    )


def _stage(tally: Tally) -> str:
    return tally.stage or "adult"


def _same_count(left: Tally, before: Tally) -> bool:
    """Whether a tally is what is left of another one."""
    return (left.sex, left.kind, left.typed) == (before.sex, before.kind, before.typed)
