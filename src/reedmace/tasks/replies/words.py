"""The words in which a county recorder decides → the seven that we keep. Practice; receivers differ in them."""

from __future__ import annotations

import re

from reedmace.faults import Fault, did_you_mean
from reedmace.records.verification import STATUSES

_SPELLINGS: dict[str, str] = {
    **{status: status for status in STATUSES},
    **dict.fromkeys(
        ("accepted correct", "confirmed", "verified", "correct identification", "right", "valid"), "correct"
    ),
    # Whoever says no more than yes has not said how sure.
    **dict.fromkeys(
        ("accepted", "accept", "accepts", "accepted considered correct", "ok", "okay", "yes", "y", "fine", "good"),
        "considered correct",
    ),
    **dict.fromkeys(("possible", "probable", "likely", "unconfirmed plausible", "plausible unconfirmed"), "plausible"),
    **dict.fromkeys(("query", "queried", "doubtful", "unlikely", "questionable", "in question"), "unconfirmed"),
    **dict.fromkeys(
        (
            *("cannot verify", "can not verify", "not accepted unable to verify", "unable to confirm", "unverifiable"),
            *("cannot be verified", "not verifiable", "cannot tell", "could not verify", "unable"),
        ),
        "unable to verify",
    ),
    **dict.fromkeys(
        (
            *("not accepted incorrect", "wrong", "misidentified", "misidentification", "not correct"),
            *("rejected incorrect", "in error", "error"),
        ),
        "incorrect",
    ),
    **dict.fromkeys(
        (
            *("unconfirmed not reviewed", "pending", "unverified", "not verified", "not yet reviewed", "unreviewed"),
            *("not looked at", "no decision", "awaiting review", "requires verification", "to be determined", "tbd"),
            *("to be confirmed", "tbc", "to be verified", "to be reviewed", "to do", "not yet", "not yet verified"),
        ),
        "not reviewed",
    ),
}
# Words that could mean two of the seven: nobody is told that a name is wrong who was only told that it can't be seen.
_UNCLEAR = {
    "not accepted": ("incorrect", "unable to verify"),
    "rejected": ("incorrect", "unable to verify"),
    "reject": ("incorrect", "unable to verify"),
    # "Verified: no" may be said of a record that nobody looked at.
    "no": ("incorrect", "not reviewed"),
    "n": ("incorrect", "not reviewed"),
    "false": ("incorrect", "not reviewed"),
    "invalid": ("incorrect", "unable to verify"),
    "not confirmed": ("unconfirmed", "unable to verify"),
    "reviewed": ("correct", "considered correct"),
}


# Words that say no more than that the name is another; which, the row says beside them.
_RENAMED = frozenset(
    (
        *("redetermined", "re determined", "redet", "re det", "redetermination", "reidentified", "re identified"),
        *("renamed", "corrected", "name corrected", "name changed"),
    )
)
_NOT_THIS_NAME = frozenset(("not accepted", "rejected", "reject", "invalid", "no", "n", "false"))


def by_the_name(text: str, name: str, *, within: bool) -> str | None:
    """Give what a decision, unclear by itself, means where another scientific name stands beside it; None: unclear.

    `within` says that the record has a name that holds the other. "Not accepted" beside a genus could still mean
    that the species cannot be told; "redetermined" leaves it to the name, as a row without a decision does.
    """
    plain = _plain(text)
    if name and plain in _RENAMED:
        return ""
    return "incorrect" if plain in _NOT_THIS_NAME and " " in name and not within else None


def read_status(text: str) -> str | Fault:
    """Read a decision; raises nothing, gives a fault where it is none of ours or could be two."""
    plain = _plain(text)
    if plain in _RENAMED:
        said = f'"{text.strip()}" says that the name is another, and no other is given.'
        return Fault(
            "status-unclear", said, "write the right name into a column of its own, such as  Correct name", text
        )
    if plain in _UNCLEAR:
        one, other = _UNCLEAR[plain]
        said = f'"{text.strip()}" could mean {one} or {other}.'
        return Fault("status-unclear", said, f"write  {one}  or  {other}", text)
    if plain in _SPELLINGS:
        return _SPELLINGS[plain]
    said = f'"{text.strip()}" is no decision about a record.'
    hint = did_you_mean(plain, _SPELLINGS, f"one of: {', '.join(STATUSES)}")
    return Fault("unknown-status", said, hint, text)


def _plain(text: str) -> str:
    return " ".join(re.findall(r"[a-z]+", text.casefold()))
