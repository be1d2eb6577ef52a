"""Names of people that are hardly any: an article, a pronoun, a title alone, a place, half of a couple.

What stands in quotes is a name whatever it says, but a child's; all else is asked about before it is registered.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import Word, slip
from reedmace.tasks.shorthand.place_words import ARTICLES, PLACES, PRONOUNS, SURNAMES_TOO, TITLES

_LETTERS = 3  # so many capitals alone may be initials


def person_unclear(names: Sequence[Word], begins: str, typed: str) -> Fault | None:
    """What is wrong with names read without quotes; `begins` is what they stand behind ("by"), empty for nothing."""
    capitals = not any(sign.islower() for sign in re.sub(r'#.*|"[^"]*"', "", typed))
    for at, name in enumerate(names):
        if name.quoted:
            continue
        following = names[at + 1] if at + 1 < len(names) else None
        told = _unclear(name, following, typed, capitals=capitals)
        if told is not None:
            why, hint = told
            said = hint.replace("{by}", f"{begins} " if begins else "")
            return slip("person-unclear", f'"{name.text}" {why}', said, typed, name.start, name.end)
    return None


def _unclear(name: Word, following: Word | None, typed: str, *, capitals: bool) -> tuple[str, str] | None:
    """Why a name is hardly one, and what to write."""
    words = name.text.split()
    plain = [word.casefold().rstrip(".") for word in words]
    behind = re.match(r"\s*\d+", typed[name.end :], re.ASCII)
    remark = 'for where it was write it in quotes or after  #  ; for a person  {by}"' + name.text + '"'
    if plain[0] in ARTICLES - {"a", "an"}:  # those two may be an initial and a first name
        return "begins with a word that no name begins with.", remark
    if len(words) == 1 and plain[0] in PRONOUNS:
        return "is nobody's name.", "write the full name; whoever logs is the observer where nobody is named"
    if all(word in TITLES for word in plain):
        return "is a title, and no name.", 'write the name with it, in quotes:  {by}"Mr Ben Sallow"'
    last = plain[-1]
    if (
        last in PLACES
        and (len(words) == 1 or last not in SURNAMES_TOO)
        and not (len(words) == 2 and len(plain[0]) == 1)
    ):
        if len(words) > 2:
            first = " ".join(words[:2])
            return "could be a person and a place.", f'write  {{by}}"{first}"  and the place in quotes or after  #'
        return "could be a place.", remark
    if len(words) == 1 and behind is not None and last in PLACES:
        return "could be a place.", remark
    if len(words) == 1 and capitals and len(name.text) > _LETTERS and name.text.isupper():
        return "could be a person or a place.", remark
    if len(words) == 1 and not _initials(name.text) and (first := _first_behind(name, following, typed)):
        both = f"{first} {name.text}"
        return f"with {first} behind it could be one person or two.", (
            f'write  {{by}}{both}  , or of two people  {{by}}"{name.text}" and "{first}"'
        )
    joined = following is not None and not following.quoted and " " in following.text
    if len(words) == 1 and joined and following is not None and not _initials(name.text):
        between = typed[name.end : following.start].strip().casefold()
        if between in ("&", "and"):
            surname = following.text.split()[-1]
            both = f"{name.text} {surname} and {following.text}"
            return f"could be {name.text} {surname}, or somebody else.", (
                f'write  {{by}}{both}  , or  {{by}}"{name.text}" and {following.text}'
            )
    return None


def _first_behind(name: Word, following: Word | None, typed: str) -> str:
    """The initials that a comma parts from what may be their surname, `Fenn, A.`; "" where there are none."""
    if following is None or following.quoted or typed[name.end : following.start].strip() != ",":
        return ""
    return following.text if re.fullmatch(r"[A-Z]|(?:[A-Z]\. ?)+", following.text) else ""


def _initials(text: str) -> bool:
    return len(text) <= _LETTERS + 1 and text.replace(".", "").isupper()
