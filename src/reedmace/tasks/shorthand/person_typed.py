"""A text that is to be one person's name: the owner of a ledger, or whoever is put into its register."""

from __future__ import annotations

import re

from reedmace.faults import Fault
from reedmace.tasks.shorthand.children import children_in_text
from reedmace.tasks.shorthand.field_words import cut
from reedmace.tasks.shorthand.place_words import ARTICLES, PRONOUNS, TITLES


def person_typed(text: str) -> Fault | None:
    """What is wrong with a text that is to be one person's name, such as that of `people --me`."""
    name = " ".join(text.split())
    if found := children_in_text(name):
        return found[0]
    if re.search(r"[\d|;&+]|\band\b", name, re.IGNORECASE) and not re.search(r"\b[A-Z]+\d", name):
        return Fault(
            "person-not-one",
            "This is more than the name of one person.",
            'write one name at a time, such as  "Ada Marsh"  , and nothing beside it',
            text,
            typed=True,
        )
    pieces = cut(name)
    words = () if isinstance(pieces, Fault) else pieces.words
    plain = [word.plain.rstrip(".") for word in words]
    if (name and not any(sign.isalpha() for sign in name)) or (
        plain and (all(word in TITLES for word in plain) or plain[0] in PRONOUNS | ARTICLES - {"a", "an"})
    ):
        hint = 'write the full name, such as  "Ada Marsh"'
        return Fault("person-unclear", f'"{name}" is nobody\'s name.', hint, text, typed=True)
    return None
