"""Words for pairs on one line: said twice, said of one male and one female, or of insects rather than pairs."""

from reedmace.faults import Fault
from reedmace.tasks.field_words import slip
from reedmace.tasks.tallies import Part, Tally


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
            joined[at] = told._replace(word=before.word, glued=before.glued, within=False)
        elif before.kind != part.kind or before.value != part.value:
            joined.append(part)  # "mating wheel" says it twice
    return joined


def put_together(parts: list[Part]) -> list[Part]:
    """`1m 1f in cop` is a pair: as many males as females, and "in" before what they were in."""
    counted = [part for part in parts if part.kind in ("count", "sex", "pairs", "pair")]
    last = counted[-1] if counted else None
    if last is None or not (last.kind == "pairs" and last.within):
        return parts
    sexes: dict[str, Part] = {}
    waiting: Part | None = None
    for part in counted[:-1]:
        tally = part.value
        if isinstance(tally, Tally) and not tally.sex and waiting is None:
            waiting = part
        elif isinstance(tally, Tally) and tally.sex and waiting is None and tally.sex not in sexes:
            sexes[tally.sex] = part
        elif part.kind == "sex" and waiting is not None and part.value not in sexes:
            sexes[str(part.value)] = waiting
            waiting = None
        else:
            return parts
    numbers = [part.value for part in sexes.values() if isinstance(part.value, Tally)]
    alike = len(numbers) == 2 and {(one.count, one.kind) for one in numbers} == {(numbers[0].count, "exact")}
    if waiting is not None or not alike:
        return parts
    first = next(iter(sexes.values()))
    pairs = Part("count", numbers[0]._replace(sex=None, typed=", ".join(one.typed for one in numbers)), first.word)
    others = [part for part in parts if all(part is not one for one in counted)]
    return [pairs, last._replace(within=False), *others]


def pairs_or_insects(count: Part, group: Part, typed: str) -> Fault | None:
    """What is wrong with `6 in tandem`: six pairs, or six insects that are three. An odd number is one of pairs."""
    tally = count.value
    if not isinstance(tally, Tally) or tally.count is None or not group.within:
        return None
    if tally.kind == "exact" and tally.count % 2:
        return None
    word = group.word.text
    all_of_them, half = _pairs(tally.count), _pairs(tally.count // 2)
    return slip(
        "pairs-or-insects",
        f"{tally.count} in {word} could be {all_of_them}, or {tally.count} insects: {half}.",
        f"write  {all_of_them} in {word}  or  {half} in {word}",
        typed,
        min(count.word.start, group.word.start),
        max(count.word.end, group.word.end),
    )


def _pairs(number: int) -> str:
    return f"{number} {'pair' if number == 1 else 'pairs'}"
