"""A number that stands beside its breakdown: `3 emperor, 2m 1f` is three insects, not six."""

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import slip
from reedmace.tasks.shorthand.line_acts import may_lay
from reedmace.tasks.shorthand.tallies import NOT_AMONG, Layout, Met, Tally


def without_total(met: list[Met], typed: str, how: str | None) -> tuple[list[Met], Tally | None] | Fault:
    """The tallies without a total of them, and that total; what could be a total or more insects is a fault.

    With "incl" the total stays, less what is among it.
    """
    whole = _whole(met)
    if whole is None or how == "pairs-beside":
        return met, None
    rest = [one for one in met if one is not whole]
    skins = [one for one in rest if one.tally.stage in NOT_AMONG]
    rest = [one for one in rest if one not in skins]
    if not rest:
        return met, None
    total, among = whole.tally, sum(one.tally.count or 0 for one in rest)
    if "ovipositing" in total.behaviour and not any(may_lay(one.tally) for one in rest):
        return met, None  # 4 m, 2 ovip: these are no males
    pairs, singles = any(one.tally.pairs for one in rest), any(not one.tally.pairs for one in rest)
    if pairs and (how == "pairs-among" or not singles):
        # Pairs count beside the others unless they are said to be among them; one that did something could be of them.
        if how == "pairs-among" or not total.behaviour:
            equal = how is None and equals(total, rest, among)
            if equal and _behind_one(met, whole, rest):
                return more_or_among(total, among, typed, pairs=True)
            return (_less(met, whole, skins), total) if equal else (met, None)
        return more_or_among(total, among, typed, pairs=True)
    if equals(total, rest, among):
        if how is None and _behind_one(met, whole, rest):
            return more_or_among(total, among, typed, pairs=False)
        return _less(met, whole, skins), total
    if total.stage is not None and any((one.tally.stage or "adult") != total.stage for one in rest):
        return met, None
    did = whole is met[0] and whole.bare and all(one.bare and one.tally.behaviour for one in rest)
    if (how == "pairs-among" or did) and total.to is None and (total.count or 0) > among:
        left = whole._replace(tally=total._replace(count=(total.count or 0) - among))
        return [left if one is whole else one for one in met], total
    return more_or_among(total, among, typed, pairs=False)


def _behind_one(met: list[Met], whole: Met, rest: list[Met]) -> bool:
    """`1m 1` and `1 pair + 2`: nobody sums up one number behind it, so that it may be of more."""
    return len(rest) == 1 and whole is not met[0] and not whole.whole


def _less(met: list[Met], whole: Met, skins: list[Met]) -> list[Met]:
    """The tallies without their total; what was said of it is said of each, but for cast skins and larvae."""
    return [one if one in skins else told(one, whole.tally) for one in met if one is not whole]


def _whole(met: list[Met]) -> Met | None:
    """The one number without sex, pair or stage beside others; or with a stage, before others that have none."""
    said = next((one for one in met if one.whole), None)
    if said is not None and all(one.tally.count is not None for one in met):
        return said
    bare = [one for one in met if one.bare and one.tally.count is not None]
    plain = [one for one in bare if one.tally.stage is None] or _adults_of_others(met, bare)
    if len(plain) > 1 and plain[0] is met[0] and not plain[0].tally.behaviour:
        # 5, one ovipositing: those after it say what they did.
        plain = plain[:1] if all(one.tally.behaviour for one in plain[1:]) else plain
    rest = [one for one in met if one not in plain]
    if len(plain) == 1 and rest:
        return plain[0] if all(one.tally.count is not None for one in rest) else None
    first = bare[0] if len(bare) == 1 else None
    others = [one for one in met if one is not first]
    # 5 imm, 2m 3f: two or more of the others, or it could be one cast skin beside one insect.
    if first is not None and first is met[0] and len(others) > 1 and first.tally.stage not in (None, *NOT_AMONG):
        alike = all(one.tally.sex and one.tally.stage in (None, first.tally.stage) for one in others)
        if alike and equals(first.tally, others, sum(one.tally.count or 0 for one in others)):
            return first
    alike = len({one.tally.stage for one in met}) == 1 and len(bare) == 1 and len(met) > 1
    return bare[0] if alike and all(one.tally.count is not None for one in met) else None


def _adults_of_others(met: list[Met], bare: list[Met]) -> list[Met]:
    """`2m 1f 3 ad`: adults without a sex, where those with one are adults as well for all that is said."""
    adults = [one for one in bare if one.tally.stage == "adult"]
    others = [one for one in met if one not in adults]
    sexed = [one for one in others if one.tally.sex and not one.tally.pairs and one.tally.stage is None]
    return adults if len(adults) == 1 and sexed and len(sexed) == len(others) else []


def equals(total: Tally, rest: list[Met], among: int) -> bool:
    """Whether a total is surely the sum of the rest, which is `among`."""
    sure = total.kind != "at least" and total.to is None
    return sure and total.count == among and all(one.tally.to is None for one in rest)


def brackets_told(met: list[Met], layout: Layout) -> Fault | None:
    """What is wrong with `3m (1 ten)`: what stands in brackets could be among the others, or more."""
    inside = [one.tally for one in met if layout.in_brackets(one.first)]
    outside = [one.tally for one in met if not layout.in_brackets(one.first)]
    if not any(_may_be_among(one, other) for one in inside for other in outside):
        return None
    begins, ends = layout.brackets()
    before, among = layout.typed[:begins].strip(), layout.typed[begins + 1 : ends].strip()
    return slip(
        "total-unclear",
        "What stands in brackets could be among the others, or more.",
        f"write  {before} incl {among}  where it is among them,  {before} plus {among}  where it is more",
        layout.typed,
    )


def _may_be_among(one: Tally, other: Tally) -> bool:
    alike = one.pairs or other.pairs or one.sex is None or other.sex is None or one.sex == other.sex
    return bool(alike) and one.stage not in NOT_AMONG and other.stage not in NOT_AMONG


def told(one: Met, total: Tally) -> Met:
    """What was said of all of them, said of each."""
    tally = one.tally
    acts = [act for act in total.behaviour if act not in tally.behaviour]
    acts = [act for act in acts if act != "ovipositing" or tally.sex != "male"]
    return one._replace(tally=tally._replace(behaviour=(*tally.behaviour, *acts), stage=tally.stage or total.stage))


def more_or_among(total: Tally, among: int, typed: str, *, pairs: bool) -> Fault:
    """What is wrong with a number that could be that of all, among the others, or of more."""
    number = total.count or 0
    shown = total.typed or str(number)
    if pairs:
        what = "one more beside the pairs, or of one of them" if number == 1 else "more beside the pairs, or of them"
        message = f"The {shown} without a sex could be {what}."
        hint = f"where more were there, say so:  plus {shown}  ; else give those pairs a number of their own"
    elif total.to is not None:
        message = f"It is not clear whether {shown} is the number of all, or of others beside the {among}."
        hint = f"nothing can be taken out of a range: write those left as one, such as  15-25 plus {among}"
    elif number > among:
        message = f"It is not clear whether {shown} is the number of all, or of others beside the {among}."
        hint = f"write  {shown} incl  before the others for {number} in all, or  plus {shown}  for {number + among}"
    else:
        message = f"It is not clear whether the {shown} are among the {among} others, or more."
        other = f"incl {shown}  for {among} in all" if total.behaviour else f"leave the {shown} out, or correct it"
        hint = f"write  plus {shown}  for {number + among} in all; else {other}"
    return slip("total-unclear", message, hint, typed)
