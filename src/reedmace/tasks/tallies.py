"""Numbers, sexes and pairs of one line → tallies: how many insects alike, and how pairs count."""

import re
from collections.abc import Sequence
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.tasks.field_words import ABOUT, AT_LEAST, OVER, SEXES, VOCABULARY, Word, slip

# The bands of common recording forms: 1, 2–5, 6–20, 21–100, 101–500, over 500 (practice).
BANDS = frozenset({(2, 5), (6, 20), (21, 100), (101, 500)})
_COUNT = r"([~≈<>]=?|ca?\.?|x|×)?([0-9]{1,6})(?:(?:-|–|\.\.)([0-9]{1,6}))?(\+|ish)?([x×]|[^\W\d_♂♀]+|♂|♀)?"


class Tally(NamedTuple):
    """A number of insects alike.

    `count` None is "present, not counted"; `to` is the upper end of a band or an estimated range. `pairs` count
    two insects each. `in_pairs` were counted here and taken out again, for they are in pairs counted beside.
    """

    count: int | None  # type: ignore[assignment]  # hides tuple.count, which nobody needs here
    kind: str
    typed: str
    sex: str | None = None
    pairs: int | None = None
    to: int | None = None
    behaviour: tuple[str, ...] = ()
    in_pairs: int | None = None


class Part(NamedTuple):
    """One part of a line that says how many, what sex, whether paired, or what they did, in the order typed."""

    kind: str  # count, sex, pairs, pair, behaviour
    value: str | Tally
    word: Word
    glued: bool = False  # written in one with the number before it: 3m, 3cop


def count_parts(words: Sequence[Word], at: int, typed: str) -> tuple[list[Part], int] | Fault | None:
    """The parts that a number at `at` begins, and where they end; None where no number stands there."""
    if words[at].quoted:
        return None
    led = _led(words, at, typed)
    if led is None:
        return None
    word, lead, following = led
    plain = word.plain
    if not any(sign.isdigit() for sign in plain):
        return None
    joined = any(sign in plain for sign in "+/&")
    pieces = re.split(r"(?<=[\w♂♀])[+/&](?=[~0-9])", plain) if joined else [plain]  # 2m+3f, 2m/3f
    parts: list[Part] = []
    for number, piece in enumerate(pieces):
        found = re.fullmatch(_COUNT, piece)
        if found is None or (not piece.isascii() and not re.fullmatch(r"[\x00-\x7f♂♀×≈–]*", piece)):
            return None
        tail = found[5] or ""
        if tail not in ("", "x", "×") and VOCABULARY.get(tail, ("",))[0] not in ("sex", "stage", "pairs", "pair"):
            return None
        if len(pieces) > 1 and tail not in SEXES:
            return None
        shown = piece if len(pieces) > 1 else plain
        counted = word.text if len(pieces) == 1 else piece
        tally = _tally(found, lead if number == 0 else "", counted.removesuffix(tail) if tail else counted, typed, word)
        if isinstance(tally, Fault):
            return tally
        parts.append(Part("count", tally, word))
        if tail in VOCABULARY and tail not in ("x", "×"):
            kind, meaning = VOCABULARY[tail]
            if kind == "sex":
                parts[-1] = Part("count", tally._replace(sex=meaning, typed=shown), word)
            else:
                parts.append(Part(kind, meaning, word, glued=True))
    return parts, following


def _led(words: Sequence[Word], at: int, typed: str) -> tuple[Word, str, int] | None:
    """The number with the words before it as one, their sign, and where it ends; None for such words without one."""
    plain, ahead = words[at].plain, at + 1
    if plain in ("x", "×") and _plain(words, ahead).isdecimal():  # "emp x 2"
        lead = ""
    elif plain in ABOUT | AT_LEAST | OVER or (plain in ("at", "more") and _plain(words, ahead) in ("least", "than")):
        ahead += plain in ("at", "more")
        if not _plain(words, ahead)[:1].isdigit():
            return None
        lead = "~" if plain in ABOUT else ">" if plain in OVER or plain == "more" else "≥"
    else:
        return words[at], "", ahead
    start, number = words[at].start, words[ahead]
    return Word(typed[start : number.end], number.plain, start, number.end), lead, ahead + 1


def _plain(words: Sequence[Word], at: int) -> str:
    return words[at].plain if at < len(words) and not words[at].quoted else ""


def _tally(found: re.Match[str], lead: str, shown: str, typed: str, word: Word) -> Tally | Fault:
    number, to = int(found[2]), int(found[3]) if found[3] else None
    sign = lead or found[1] or ""
    if number == 0:
        return slip(
            "zero-count",
            "A count of 0 could mean absent, or present and not counted.",
            "leave the number out when it was not counted; leave the line out when it was not there",
            typed,
            word.start,
            word.end,
        )
    if sign == "<" or sign == "<=":
        return slip(
            "count-not-read",
            "A count below a number does not say that there were any.",
            "give what was counted, or a range such as  2-5",
            typed,
            word.start,
            word.end,
        )
    if to is not None:
        if to <= number:
            return slip(
                "count-range",
                f"A count from {number} to {to} does not rise.",
                "give the lower number first, such as  6-20",
                typed,
                word.start,
                word.end,
            )
        return Tally(number, "band" if (number, to) in BANDS and not sign else "estimate", shown, to=to)
    if sign in (">", "≥", ">="):
        return Tally(number + (sign == ">"), "at least", shown)
    if sign in ("", "x", "×"):
        return Tally(number, "at least" if found[4] == "+" else "estimate" if found[4] else "exact", shown)
    return Tally(number, "estimate", shown)


def tally_up(parts: list[Part], typed: str, among: bool) -> tuple[Tally, ...] | Fault:
    """Join numbers with sexes and pairs in the order they stand; `among`: the pairs are among the singles."""
    parts = _one_word_a_pair(parts)
    met = _meet(parts, typed)
    if isinstance(met, Fault):
        return met
    tallies = _with_behaviour(met, [part for part in parts if part.kind == "behaviour"])
    if among and any(one.pairs for one in tallies) and any(not one.pairs for one in tallies):
        return take_out(tallies, typed)
    return tuple(tallies)


def _one_word_a_pair(parts: list[Part]) -> list[Part]:
    """In "2 pairs cop" the plain word says how many, the other what they did."""
    joined: list[Part] = []
    for part in parts:
        before = joined[-1] if joined else None
        if before and {before.kind, part.kind} == {"pair", "pairs"}:
            joined[-1] = (before if before.kind == "pairs" else part)._replace(word=before.word, glued=before.glued)
        elif before and before.kind == part.kind == "pairs" and before.value == part.value:
            continue  # "mating wheel" says it twice
        else:
            joined.append(part)
    return joined


class _Met(NamedTuple):
    tally: Tally
    at: int  # where in the line it stands


def _meet(parts: list[Part], typed: str) -> list[_Met] | Fault:
    """Which number belongs to which sex or pair."""
    counts = [part for part in parts if part.kind == "count"]
    groups = [part for part in parts if part.kind in ("sex", "pairs", "pair")]
    ready: list[_Met] = []
    bare: list[Part] = []
    for part in counts:
        assert isinstance(part.value, Tally)
        if part.value.sex:
            ready.append(_Met(part.value, part.word.start))
        else:
            bare.append(part)
    sexes = [part for part in groups if part.kind == "sex"]
    pairs = [part for part in groups if part.kind != "sex"]
    if len(bare) == len(groups):
        matched, left = list(zip(bare, groups, strict=True)), list[Part]()
    else:
        matched, left = _neighbours(parts, bare, groups)
        if left and sexes:
            return _unclear("pairs-unclear" if pairs else "count-and-sex", typed)
        if len(left) > 1:
            return _unclear("two-counts", typed)
    alone = [part for part in groups if all(part is not group for _, group in matched)]
    if alone and pairs and (len(alone) > 1 or matched or ready or left):
        return _unclear("pairs-unclear", typed)
    if alone and not pairs and (matched or ready or left):
        return _unclear("count-and-sex", typed)
    for count, group in matched:
        assert isinstance(count.value, Tally)
        tally = _grouped(count.value, group)
        if tally is None:
            return _unclear("pairs-uncounted", typed)
        ready.append(_Met(tally, max(count.word.start, group.word.start)))
    # A lone "cop" is one pair; sexes without a number are there, and not counted.
    told = {(part.kind, part.value): part for part in reversed(alone)}
    for group in reversed(told.values()):
        lone = Tally(1, "exact", "") if group.kind != "sex" else Tally(None, "present", "")
        ready.append(_Met(_grouped(lone, group) or lone, group.word.start))
    for part in left:
        assert isinstance(part.value, Tally)
        ready.append(_Met(part.value, part.word.start))
    return sorted(ready, key=lambda one: one.at) or [_Met(Tally(None, "present", ""), 0)]


def _neighbours(parts: list[Part], bare: list[Part], groups: list[Part]) -> tuple[list[tuple[Part, Part]], list[Part]]:
    """Numbers that stand right before a sex or a pair word, and the numbers that are left."""
    matched: list[tuple[Part, Part]] = []
    waiting: Part | None = None
    for part in parts:
        if any(part is one for one in bare):
            waiting = part
        elif any(part is one for one in groups):
            if waiting is not None:
                matched.append((waiting, part))
            waiting = None
    return matched, [part for part in bare if all(part is not count for count, _ in matched)]


def _grouped(tally: Tally, group: Part) -> Tally | None:
    """A number of one sex, or of pairs; None for pairs that were not counted."""
    assert isinstance(group.value, str)
    if group.kind == "sex":
        return tally._replace(sex=group.value)
    if tally.count is None:
        return None
    upper = None if tally.to is None else 2 * tally.to
    return tally._replace(count=2 * tally.count, to=upper, pairs=tally.count, behaviour=(group.value,))


_UNCLEAR = {
    "pairs-unclear": (
        "It is not clear how many of this line are pairs.",
        "a pair is a male and a female: write  3 cop azure  on a line of its own, or  2m 3 cop azure",
    ),
    "pairs-uncounted": (
        "Pairs need a number, for each of them is two insects.",
        "write how many pairs, such as  3 cop azure  or  ~10 tandem azure",
    ),
    "two-counts": (
        "This line has two numbers, and nothing says what each of them counts.",
        "write  2m 3f  or a line for each",
    ),
    "count-and-sex": ("It is not clear which number belongs to which sex.", "write  2m 3f  or a line for each"),
}


def _unclear(code: str, typed: str) -> Fault:
    message, hint = _UNCLEAR[code]
    return slip(code, message, hint, typed)


def _with_behaviour(met: list[_Met], acts: list[Part]) -> list[Tally]:
    """What they did belongs to the number written before it, else to the first after it; males lay no eggs."""
    tallies = [one.tally for one in met]
    for act in acts:
        assert isinstance(act.value, str)
        able: Sequence[int] = range(len(met))
        if act.value == "ovipositing":
            able = [index for index, one in enumerate(tallies) if one.sex != "male"] or able
        before = [index for index in able if met[index].at <= act.word.start]
        index = before[-1] if before else able[0]
        behaviour = tallies[index].behaviour
        if act.value not in behaviour:
            tallies[index] = tallies[index]._replace(behaviour=(*behaviour, act.value))
    return tallies


def take_out(tallies: Sequence[Tally], typed: str) -> tuple[Tally, ...] | Fault:
    """Take the pairs of these tallies out of the singles among which they were counted.

    A male and a female of each pair leave the males and the females, where these were counted; where no sex was
    given, two insects of each pair leave the number. What has nothing left is no tally any more.
    """
    pairs = sum(one.pairs or 0 for one in tallies)
    singles = [one for one in tallies if not one.pairs]
    left = list(tallies)
    sexed = {one.sex for one in singles if one.sex}
    if sexed and any(one.sex is None for one in singles):
        return slip(
            "pairs-unclear",
            "The pairs could be among those with a sex or among those without.",
            "write the singles without the pairs:  9m 3 cop azure",
            typed,
        )
    for sex in (*sorted(sexed),) or (None,):
        wanted = pairs if sex else 2 * pairs
        for index, one in enumerate(left):
            if one.pairs or one.sex != sex or not wanted:
                continue
            if one.count is None or one.to is not None:
                return slip(
                    "pairs-among-uncounted",
                    "Pairs can be taken out only of a number that was counted or estimated.",
                    "write the singles without the pairs, as a number or a line of their own",
                    typed,
                )
            out = min(wanted, one.count)
            wanted -= out
            left[index] = one._replace(count=one.count - out, in_pairs=(one.in_pairs or 0) + out)
        if wanted:
            what = f"{pairs} pairs are {pairs} {sex}s" if sex else f"{pairs} pairs are {2 * pairs} insects"
            return slip(
                "pairs-more-than-counted",
                f"{what}, more than the line they should be among.",
                "check the numbers, or leave out  incl  to count the pairs beside the others",
                typed,
            )
    return tuple(one for one in left if one.count != 0)
