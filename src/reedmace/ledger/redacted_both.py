"""One entry out of two copies from which different names were taken: what either copy removed is removed.

A removed name stands as `REMOVED` in an entry's words, and nobody knows any more what stood there. So two texts are
of one entry where one text can be thought of from which both came, by taking out whole words: read side by side,
each word of one stands in the other, or lies within something removed there. What both still have is kept, as much
of it as can be; whatever lies under a removal of either is removed. So no removed name can come back, whichever copy
is merged into which, and how often.
"""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from typing import Any, NamedTuple

from reedmace.ledger.entries import COLUMNS, compact
from reedmace.ledger.redact import KEPT, REMOVED

_WORD = re.compile(r"[^\W_]+|[\W_]")
_LONGEST = 24  # words and signs of a name, at most: more than that is a difference of another kind
_WORDS = frozenset(("reason", "body", "locality"))  # columns that words stand in; the place's name is the body's

Token = str | None
"""A word or a sign; None for what was removed."""


class _At(NamedTuple):
    """How far both texts were read, within whose removals, and over how many tokens of the other they reach."""

    ours: int
    theirs: int
    within: tuple[bool, bool] = (False, False)
    reach: tuple[int, int] = (0, 0)


_Best = tuple[int, tuple[Token, ...]]
"""How many tokens are kept, and the text so far."""


def together(
    ours: Sequence[Any], theirs: Sequence[Any], ours_redacted: bool, theirs_redacted: bool
) -> tuple[str, str] | None:
    """Give reason and body without what either removed; None where the two differ in anything else."""
    mine, other = dict(zip(COLUMNS, ours, strict=True)), dict(zip(COLUMNS, theirs, strict=True))
    if any(mine[column] != other[column] for column in COLUMNS if column not in _WORDS):
        return None
    both = _Both(ours_redacted, theirs_redacted)
    reason = both.text(mine["reason"], other["reason"])
    body: str | None = mine["body"]
    if mine["body"] != other["body"]:
        try:
            body = compact(both.value(json.loads(mine["body"]), json.loads(other["body"])))
        except (_DiffersError, ValueError, RecursionError):
            return None
    return None if reason is None or body is None else (reason, body)


class _DiffersError(Exception):
    """The two say different things."""


class _Both(NamedTuple):
    """Whether a name was taken out of ours, and of theirs: only then does `REMOVED` stand for one there."""

    ours: bool
    theirs: bool

    def value(self, one: Any, other: Any) -> Any:
        """Give a JSON value without what either removed; raises `_DiffersError`."""
        if type(one) is not type(other):
            raise _DiffersError
        if isinstance(one, str):
            text = self.text(one, other)
            if text is None:
                raise _DiffersError
            return text
        if isinstance(one, list) and len(one) == len(other):
            return [self.value(*pair) for pair in zip(one, other, strict=True)]
        if isinstance(one, dict) and list(one) == list(other):
            if any(one[key] != other[key] for key in one.keys() & KEPT):
                raise _DiffersError
            return {key: one[key] if key in KEPT else self.value(one[key], other[key]) for key in one}
        if one != other or isinstance(one, list | dict):
            raise _DiffersError
        return one

    def text(self, one: str, other: str) -> str | None:
        """Give a text without what either removed; None where they differ beyond that."""
        if one == other:
            return one
        found = aligned(_tokens(one, self.ours), _tokens(other, self.theirs))
        return None if found is None else "".join(REMOVED if token is None else token for token in found)


def _tokens(text: str, redacted: bool) -> tuple[Token, ...]:
    """Give words, single signs, and None for what was removed."""
    parts = text.split(REMOVED) if redacted else [text]
    found: list[Token] = []
    for number, part in enumerate(parts):
        found += [None] * (number > 0) + _WORD.findall(part)
    return tuple(found)


def aligned(ours: Sequence[Token], theirs: Sequence[Token]) -> tuple[Token, ...] | None:
    """Give what both keep, with None for what either removed; None where no text can have been the source of both.

    Of several ways to read them side by side, the one that keeps most with the fewest removals; of equals, the same
    whichever text comes first.
    """
    layers: list[dict[_At, _Best]] = [{} for _ in range(len(ours) + len(theirs) + 1)]
    layers[0][_At(0, 0)] = (0, ())
    end = _At(len(ours), len(theirs))
    for layer in layers:
        # Steps that read nothing leave a removal, so those within two come first, those within none last.
        for within in (2, 1, 0):
            for at in [at for at in layer if sum(at.within) == within]:
                for to, best in _steps(at, layer[at], ours, theirs):
                    row = layers[to.ours + to.theirs]
                    if to not in row or _rank(row[to]) < _rank(best):
                        row[to] = best
    found = layers[-1].get(end)
    return None if found is None else found[1]


def _rank(best: _Best) -> tuple[int, int, tuple[str, ...]]:
    return best[0], -len(best[1]), tuple("" if token is None else f" {token}" for token in best[1])


def _steps(at: _At, best: _Best, ours: Sequence[Token], theirs: Sequence[Token]) -> list[tuple[_At, _Best]]:
    """Give every way to read on."""
    kept, text = best
    i, j = at.ours, at.theirs
    mine = ours[i] if i < len(ours) else ""
    other = theirs[j] if j < len(theirs) else ""
    if at.within == (False, False):
        return _from_nothing(i, j, mine, other, best)
    found: list[tuple[_At, _Best]] = [(_At(i, j), (kept, (*text, None)))]  # all removals end here
    if at.within == (True, True):
        found.append((_At(i, j, (True, False), (at.reach[0], 0)), best))
        found.append((_At(i, j, (False, True), (0, at.reach[1])), best))
    elif at.within == (True, False) and other != "" and at.reach[0] < _LONGEST:
        within = (True, other is None)
        found.append((_At(i, j + 1, within, (at.reach[0] + 1, 0)), best))
    elif at.within == (False, True) and mine != "" and at.reach[1] < _LONGEST:
        within = (mine is None, True)
        found.append((_At(i + 1, j, within, (0, at.reach[1] + 1)), best))
    return found


def _from_nothing(i: int, j: int, mine: Token, other: Token, best: _Best) -> list[tuple[_At, _Best]]:
    """Read one token of each: the same word, or what was removed from one and stands, or is removed, in the other."""
    kept, text = best
    if mine == "" or other == "":
        return []
    if mine is None or other is None:
        within = (mine is None, other is None)
        reach = (int(mine is None), int(other is None))
        return [(_At(i + 1, j + 1, within, reach), best)]
    return [(_At(i + 1, j + 1), (kept + 1, (*text, mine)))] if mine == other else []
