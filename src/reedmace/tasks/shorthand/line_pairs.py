"""Words for pairs on one line: said twice, said of one male and one female, or of insects rather than pairs."""

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import PAIRING, PLURAL_PAIRS, slip
from reedmace.tasks.shorthand.tallies import Layout, Met, Part, Tally


def one_word_a_pair(parts: list[Part]) -> list[Part]:
    """In "2 pairs cop" and "2 pairs laying in tandem" the plain word says how many, the other what they did."""
    joined: list[Part] = []
    for part in parts:
        at = next((index for index in reversed(range(len(joined))) if joined[index].kind != "behaviour"), None)
        before = joined[at] if at is not None else None
        if at is None or before is None or part.kind not in ("pair", "pairs"):
            joined.append(part)
        elif {before.kind, part.kind} == {"pair", "pairs"}:
            told = before if before.kind == "pairs" else part
            word = before.word
            if part.word.plain in PLURAL_PAIRS:  # "tandem pairs" without a number are not one pair
                word = word._replace(plain=part.word.plain)
            joined[at] = told._replace(word=word, glued=before.glued, within=False)
        elif before.kind != part.kind or before.value != part.value:
            joined.append(part)
        else:  # "mating wheel" says it twice
            joined[at] = before._replace(within=before.within and part.within)
    return joined


def one_of_each(parts: list[Part], layout: Layout) -> list[Part]:
    """`2 (m+f)` is one male and one female."""
    counted = [part for part in parts if part.kind in ("count", "sex", "pairs", "pair")]
    if [part.kind for part in counted] != ["count", "sex", "sex"] or counted[1].value == counted[2].value:
        return parts
    total, *sexes = counted
    whole = isinstance(total.value, Tally) and (total.value.count, total.value.kind) == (2, "exact")
    apart = [layout.place(part.word.start) != layout.place(total.word.start) for part in sexes]
    if not whole or not all(apart) or (isinstance(total.value, Tally) and total.value.sex):
        return parts
    return [
        Part("count", Tally(1, "exact", "", str(part.value)), part.word) if any(part is one for one in sexes) else part
        for part in parts
    ]


def put_together(parts: list[Part], layout: Layout) -> list[Part]:
    """`1m 1f in cop` is a pair: as many males as females, and "in" before what they were in; so is `1m 1f cop`."""
    counted = [part for part in parts if part.kind in ("count", "sex", "pairs", "pair")]
    last = counted[-1] if counted else None
    if last is None or last.kind not in ("pairs", "pair") or not any(part.kind != "pairs" for part in counted[:-1]):
        return parts
    sexes: dict[str, Part] = {}
    waiting: Part | None = None
    for part in counted[:-1]:
        tally = part.value
        if isinstance(tally, Tally) and not tally.sex and waiting is None:
            waiting = part
        elif isinstance(tally, Tally) and tally.sex and waiting is None and tally.sex not in sexes:
            sexes[tally.sex] = part
        elif part.kind == "sex" and part.value not in sexes:
            sexes[str(part.value)] = waiting or Part("count", Tally(1, "exact", ""), part.word)
            waiting = None
        else:
            return parts
    numbers = [part.value for part in sexes.values() if isinstance(part.value, Tally)]
    alike = len(numbers) == 2 and {(one.count, one.kind) for one in numbers} == {(numbers[0].count, "exact")}
    if waiting is not None or not alike:
        return parts
    one_of_each = numbers[0].count == 1 and layout.place(counted[-2].word.start) == layout.place(last.word.start)
    if not last.within and not (one_of_each and last.word.plain not in PLURAL_PAIRS):
        return parts
    first = next(iter(sexes.values()))
    typed = ", ".join(one.typed for one in numbers if one.typed)
    pairs = Part("count", numbers[0]._replace(sex=None, typed=typed), first.word)
    others = [part for part in parts if all(part is not one for one in counted)]
    return [pairs, last._replace(within=False, of_all=False), *others]


def kinds_of_pairs(met: list[Met], layout: Layout, how: str | None) -> list[Met] | Fault:
    """`4 pairs, 3 in tandem, 1 in cop` are four pairs, and not eight: the plain word counts those told after it."""
    whole = next((one for one in met if one.tally.pairs), None)
    others = [one for one in met if one.tally.pairs and one is not whole]
    if how is not None or whole is None or not whole.plain or not others or any(one.plain for one in others):
        return met
    total, among = whole.tally, sum(one.tally.pairs or 0 for one in others)
    sure = total.kind == "exact" and all(one.tally.kind == "exact" for one in others)
    if sure and total.pairs == among:
        done = total.behaviour[1:]
        return [
            one._replace(tally=one.tally._replace(behaviour=tuple(dict.fromkeys((*one.tally.behaviour, *done)))))
            if one in others
            else one
            for one in met
            if one is not whole
        ]
    said = others[0]
    number, word = said.tally.pairs or 0, said.tally.behaviour[0]
    several = f"{total.pairs} pairs"
    return slip(
        "total-unclear",
        f"It is not clear whether {_pairs(among)} said apart are among the {several}, or more.",
        f"write  {several} incl {number} {word}  or  {several} plus {number} {word}",
        layout.typed,
    )


def pairs_or_insects(count: Part, group: Part, typed: str) -> Fault | None:
    """What is wrong with `6 in tandem`: six pairs, or six insects that are three. An odd number is one of pairs."""
    tally = count.value
    if not isinstance(tally, Tally) or tally.count is None or not group.within:
        return None
    if tally.kind == "exact" and tally.count % 2:
        return None
    word = group.word.text if group.word.plain in PAIRING else f"in {group.word.text}"
    all_of_them, half = _pairs(tally.count), _pairs(tally.count // 2)
    return slip(
        "pairs-or-insects",
        f"{tally.count} {word} could be {all_of_them}, or {tally.count} insects: {half}.",
        f"write  {all_of_them} {word}  or  {half} {word}",
        typed,
        min(count.word.start, group.word.start),
        max(count.word.end, group.word.end),
    )


def _pairs(number: int) -> str:
    return f"{number} {'pair' if number == 1 else 'pairs'}"
