"""How long something took or was watched: `for 20 min`, `watched 2 hours`, `45 mins`. It is kept in its own words."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence

from reedmace.tasks.shorthand.field_words import NUMBERS, Word

_N = rf"(?:[0-9]{{1,3}}(?:\.[0-9])?|[0-9]½|½|half an|(?:an?|one) (?:and a )?half|an?|a few|several|{'|'.join(NUMBERS)})"
_ABOUT = r"(?:about|c|c\.|ca|ca\.|~|approx|approx\.|nearly|almost|around|over|at least|some|the last|the|another) ?"
_LEAD = (
    r"(?:(?:watched|watching|observed|lasted|lasting|stayed|spent|took|duration:?|effort:?)(?: (?:it|them|him|her))?)"
)
# A bare "min" is the least that there were as well, and "h" stands in times of day.
_SURE = r"(?:minutes?|mins|hours?|seconds?|secs?)\.?"
_SHORT = rf"(?:{_SURE}|min\.?|hrs?\.?|h)"
_TOLD = (
    rf"{_LEAD} (?:for |over |in )?(?:{_ABOUT})?{_N} ?{_SHORT}(?: {_N} ?{_SHORT})?",
    rf"(?:for|during|over|in|within) (?:{_ABOUT})?{_N} ?{_SHORT}(?: {_N} ?{_SHORT})?",
    rf"(?:{_ABOUT})?{_N} ?{_SURE}(?: {_N} ?{_SHORT})?",
)
_MOST = 7  # words
_TIMES = ("at", "from", "until", "till", "til", "to", "by", "after", "before")


def duration_at(words: Sequence[Word], at: int, typed: str) -> int | None:
    """Where the words from `at` on that say how long something took end; None where they say nothing of the kind.

    What is parted by a comma is not one, nor is what stands behind a word for a time of day.
    """
    if at and not words[at - 1].quoted and words[at - 1].plain in _TIMES:
        return None
    for end in range(min(len(words), at + _MOST), at, -1):
        run = words[at:end]
        gaps = (typed[one.end : other.start] for one, other in itertools.pairwise(run))
        if any(one.quoted for one in run) or not all(gap == "" or gap.isspace() for gap in gaps):
            continue
        said = " ".join(one.plain for one in run)
        text = said.strip("()[].")
        bracketed = said[:1] in "([" and said[-1:] in ")]" and re.fullmatch(rf"(?:{_ABOUT})?{_N} ?{_SHORT}", text)
        if bracketed or any(re.fullmatch(pattern, text) for pattern in _TOLD):
            return end
    return None


def durations_apart(words: Sequence[Word], typed: str) -> tuple[Word, ...]:
    """The words of a line, with each that says how long as a remark, as if it stood in quotes."""
    if not re.search(r"min|h(?:ou)?r|sec|[0-9] ?h\b", typed, re.IGNORECASE):
        return tuple(words)
    found: list[Word] = []
    at = 0
    while at < len(words):
        end = duration_at(words, at, typed)
        if end is None:
            found.append(words[at])
            at += 1
            continue
        start, stop = words[at].start, words[end - 1].end
        found.append(Word(typed[start:stop].strip("()[]"), "", start, stop, quoted=True))
        at = end
    return tuple(found)
