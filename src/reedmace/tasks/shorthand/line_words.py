"""How a line was understood, in words, so that it can be checked before it is written."""

from __future__ import annotations

from collections.abc import Sequence

from reedmace.tasks.shorthand.field_words import Word
from reedmace.tasks.shorthand.line import Line
from reedmace.tasks.shorthand.line_said import Counted
from reedmace.tasks.shorthand.tallies import NOT_AMONG, Tally


def show_line(line: Line | Counted) -> str:
    """How a line was understood, in words."""
    said = line.said if isinstance(line, Line) else line
    # Of one number the stage comes first, of several each says at once what it was and did.
    apart = len(said.tallies) == 1
    alike = len({tally.stage for tally in said.tallies}) == 1
    shown = " and ".join(show_tally(tally, acts=not apart, stage=not alike) for tally in said.tallies)
    grown = [tally for tally in said.tallies if tally.stage not in NOT_AMONG]  # skins are never among them
    pairs = [tally for tally in grown if tally.pairs]
    singles = [tally for tally in grown if not tally.pairs]
    rest = [said.tallies[0].stage or "" if alike else "", *(_acts(said.tallies[0]) if apart else ())]
    if pairs and singles:
        total = total_of(grown)
        how = "among those counted" if said.among else "beside the others"
        rest.append(f"the pairs {how}: {total} in all" if total else f"the pairs {how}")
    elif said.in_all is not None and said.in_all.count is not None:
        skins = " and ".join(stage for stage in said.stages if stage in NOT_AMONG)
        total = show_tally(said.in_all, acts=False)
        rest.append(f"{total} in all beside the {skins}" if skins and not alike else f"{total} in all")
    elif said.among_others:
        rest.append("among those counted on other lines")
    doubt = {"uncertain": "name uncertain", "probable": "name probable", "certain": "name certain"}
    rest += [
        said.qualifier or doubt.get(said.certainty or "", ""),
        *(f"{what} in doubt" for what in said.doubts),
        f"evidence: {said.evidence}" if said.evidence else "",
        *(f"photo {path}" for path in said.photos),
        f"at {said.time}" if said.time else "",
        f"at {said.place.square or said.place.typed.strip()}" if said.place else "",
        said.locality,
        f"seen by {_people(said.observers)}" if said.observers else "",
        f"also seen by {_people(said.company)}" if said.company else "",
        f"named by {said.determiner.text}" if said.determiner else "",
    ]
    shown = ", ".join([shown, *filter(None, rest)])
    return f"{shown}; remark: {said.remarks}" if said.remarks else shown


def _people(names: tuple[Word, ...]) -> str:
    return " and ".join(name.text for name in names)


def _acts(tally: Tally) -> tuple[str, ...]:
    """What they did, besides being paired."""
    return tally.behaviour[1:] if tally.pairs else tally.behaviour


def show_tally(tally: Tally, *, acts: bool = True, stage: bool = False) -> str:
    """One tally in words, with or without what they did and their stage."""
    lead = {"estimate": "about ", "at least": "at least "}.get(tally.kind, "") if tally.count is not None else ""
    said = [*([tally.stage] if stage and tally.stage else []), *(_acts(tally) if acts else ())]
    if tally.pairs:
        upper = f"–{tally.to // 2}" if tally.to else ""
        together = tally.behaviour[0] if tally.behaviour else "tandem"
        pair = "pair" if tally.pairs == 1 and not upper else "pairs"
        insects = f"{tally.count}–{tally.to}" if tally.to else f"{tally.count}"
        shown = f"{lead}{tally.pairs}{upper} {pair} ({together}, {insects} insects)"
    elif tally.count is None:
        return (
            " ".join([tally.sex, *said]) + ", not counted" if tally.sex else " ".join(["present, not counted", *said])
        )
    else:
        upper = f"–{tally.to}" if tally.to else ""
        lead = "" if tally.kind == "band" else lead
        shown = f"{lead}{tally.count}{upper}" + (f" {tally.sex}" if tally.sex else "")
    return " ".join([shown, *said])


def total_of(tallies: Sequence[Tally]) -> str:
    """The insects of several tallies together, in words; empty where one was not counted or is a range."""
    if any(tally.count is None or tally.to is not None for tally in tallies):
        return ""
    kinds = {tally.kind for tally in tallies}
    lead = "at least " if "at least" in kinds else "about " if "estimate" in kinds else ""
    return f"{lead}{sum(tally.count or 0 for tally in tallies)}"
