"""A doubt that is said of a sex, a stage, a number or of what they did, and not of the name: `2m? 1f`, `1 probable f`.

A record holds no doubt about these. What is doubted is left open in it, and the words stay in the remarks.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import CERTAINTIES, VOCABULARY, Word, slip
from reedmace.tasks.shorthand.tallies import NOT_AMONG, Layout, Part, Tally

IN_DOUBT = ""  # the sex or stage of a part that is doubted: it belongs to a number as one would, and says nothing
_COUNTED = ("sex", "stage", "pairs", "pair", "rest")


class Doubted(NamedTuple):
    """What is in doubt, in a word, and the words that say so, verbatim."""

    what: str
    said: str


def doubts_behind(words: Sequence[Word], at: int, parts: Sequence[Part], typed: str) -> bool:
    """Whether the doubting word at `at` is said of the part before it: written in one with it, or among the numbers."""
    if not at or not parts or parts[-1].word.end != words[at - 1].end or not _doubtable(parts[-1]):
        return False
    gap = typed[words[at - 1].end : words[at].start]
    if not gap.strip("(["):
        return True
    if "," in gap or ";" in gap:
        return False
    if gap.isspace() and Layout(typed).in_brackets(words[at].start) and _sexed(parts[-1]):
        return True  # 3 (1 f prob)
    after = next((word for word in words[at + 1 :] if word.plain not in ("+", "&", "and")), None)
    return after is not None and not after.quoted and _counts(after)


def doubts_ahead(words: Sequence[Word], at: int, left: Sequence[Word], typed: str) -> bool:
    """Whether the doubting word at `at` is said of the sex or stage behind it, and does not stand beside the name."""
    if at + 1 >= len(words) or CERTAINTIES[words[at].plain] == "certain":
        return False
    kind, meaning = VOCABULARY.get(words[at + 1].plain, ("", ""))
    if kind not in ("sex", "stage") or meaning in NOT_AMONG:
        return False
    if words[at].plain == "?":  # written in one with the sex behind it alone: 2 ?f
        return words[at].end == words[at + 1].start and (not at or words[at - 1].end < words[at].start)
    if not at:
        return False
    if any(sign in typed[words[at].end : words[at + 1].start] for sign in ",;"):
        return False
    beside = bool(left) and left[-1] == words[at - 1]
    return not beside or any(sign in typed[words[at - 1].end : words[at].start] for sign in ",;")


def more_in_doubt(words: Sequence[Word], at: int, parts: Sequence[Part], typed: str) -> Fault | None:
    """What is wrong with `2m, maybe 1 f` and `2m + ?`: whether there were more is doubted, or the name is."""
    counted = any(isinstance(part.value, Tally) and part.value.count is not None for part in parts)
    if not counted or CERTAINTIES[words[at].plain] == "certain":
        return None
    following = words[at + 1] if at + 1 < len(words) else None
    numbered = following is not None and not following.quoted and following.plain.lstrip("~≈<>c.")[:1].isdigit()
    sign = words[at].plain == "?"
    if not (words[at - 1].plain in ("+", "plus", "&", "and") if sign else numbered):
        return None
    last = at + numbered
    while numbered and last + 1 < len(words) and VOCABULARY.get(words[last + 1].plain, ("",))[0] in _COUNTED:
        last += 1
    end = words[last].end
    said = typed[words[at].start : end]
    return slip(
        "doubt-unclear",
        f'"{said}" could doubt whether there were more, or the name.',
        f'write those of which you are sure, and the doubt as a remark in quotes:  "{said}"  ; '
        "a doubtful name with  ?  right behind it",
        typed,
        words[at].start,
        end,
    )


def doubt_last(parts: list[Part], start: int, end: int, typed: str) -> Doubted | Fault:
    """Leave open what the last of the parts says, which is doubted; `start` and `end` are the columns of the words."""
    part = parts.pop()
    tally = part.value
    begin = min(start, part.word.start)
    before = parts[-1].value if parts else None
    if isinstance(before, Tally) and not before.sex and not typed[parts[-1].word.end : begin].strip():
        begin = parts[-1].word.start
    said = typed[begin:end].strip()
    if part.kind in ("pairs", "pair"):
        return slip(
            "pairs-unclear",
            "A pair is two insects, and whether they were one is doubted here.",
            f'write how many insects there were, and the doubt as a remark:  2 common blue "{said}"',
            typed,
            begin,
            end,
        )
    if isinstance(tally, Tally):
        if not tally.sex:
            kind = "estimate" if tally.kind == "exact" else tally.kind
            parts.append(part._replace(value=tally._replace(kind=kind)))
            return Doubted("number", said)
        parts += [part._replace(value=tally._replace(sex=None)), Part("sex", IN_DOUBT, part.word, glued=True)]
        return Doubted("sex", said)
    if part.kind == "sex":
        while parts and parts[-1].word == part.word:  # m/f?
            parts.pop()
    if part.kind != "behaviour":
        parts.append(part._replace(value=IN_DOUBT))
    return Doubted("behaviour" if part.kind == "behaviour" else part.kind, said)


def _sexed(part: Part) -> bool:
    if isinstance(part.value, Tally):
        return part.value.sex is not None
    return part.kind in ("sex", "stage")


def _doubtable(part: Part) -> bool:
    if isinstance(part.value, Tally):
        return part.value.count is not None
    return part.kind in ("sex", "stage", "behaviour", "pairs", "pair") and part.value not in NOT_AMONG


def _counts(word: Word) -> bool:
    return word.plain.lstrip("~≈<>")[:1].isdigit() or VOCABULARY.get(word.plain, ("",))[0] in _COUNTED
