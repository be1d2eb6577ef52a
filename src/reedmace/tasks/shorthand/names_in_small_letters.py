"""First names of children in small letters, where nothing else stands: `tilly saw it first`, `jack aged 8`.

A word in small letters may be any word. It is taken for a name only beside an age, behind "my daughter" and the like,
or, where children are spoken of, as whoever saw or said something, and never where it says what somebody is.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from functools import cache

from reedmace.tasks.shorthand.field_words import NUMBERS
from reedmace.tasks.shorthand.names_with_ages import LEADS, NOBODY, child_words
from reedmace.tasks.shorthand.place_words import ARTICLES, PLACES, PRONOUNS

# Who somebody is, and words that stand where a name could and are none.
_ROLES = frozenset(
    (
        *("mum", "mums", "mother", "dad", "dads", "father", "parent", "parents", "gran", "granny"),
        *("grandma", "grandad", "grandpa", "nan", "uncle", "aunt", "auntie", "brother", "brothers"),
        *("sister", "sisters", "cousin", "baby", "wife", "husband", "partner", "friend", "teacher"),
        *("teachers", "helper", "helpers", "ranger", "warden", "wardens", "volunteer", "volunteers"),
        *("guide", "owner", "landowner", "farmer", "angler", "anglers", "keeper", "walker", "walkers"),
        *("dog", "dogs", "cat", "bird", "birder", "expert", "recorder", "observer", "observers"),
        *("colleague", "neighbour", "passer-by", "lady", "man", "woman", "men", "women", "couple"),
        *("family", "youth", "most", "many", "few", "several", "some", "none", "any", "more", "less"),
        *("other", "another", "every", "only", "just", "never", "still", "almost", "always", "again"),
        *("last", "next", "once", "twice", "now", "soon", "even", "too", "along", "nearby", "behind"),
        *("out", "off", "away", "asleep", "yesterday", "instead", "earlier", "which", "whoever", "whom"),
        *("that", "what", "where", "why", "how", "than", "had", "has", "have", "was", "were", "been"),
        *("being", "not", "easily", "can", "could", "must", "should", "would", "will", "did", "does"),
        *("well", "since", "until", "pairs", "pair", "skin", "skins", "exuvia", "exuviae", "larva"),
        *("larvae", "net", "nets", "later", "thing"),
    )
)
_WORD = r"(?P<name>(?<![\w’'-])[^\W\d_A-Z][^\W\d_A-Z’'-]{2,11})"
# "newts found" were found by somebody; "tilly found it" was somebody.
_SAW = (
    r"(?:(?:saw|sees|finds|nets|says|said|thinks|thought|drew|shouted|asked|told|showed)\b"
    r"|(?:found|netted|spotted|spied|noticed|counted|photographed|identified|recognised|discovered)\s"
    r"(?:it|them|him|her|his|the|an?|one|two|three|this|that|these|some|another|our|most|all|[0-9]+)\b)"
)
_BEGINS = r"(?:^|[.;:!?,]\s+|\b(?:and|when|then|but|so|as)\s+|&\s+)"
_AGE = r"age[d:]?\s*(?:1[0-7]|[1-9])\b(?!\s*(?:days?|weeks?|months?|hours?|h\b|to\b|or\b|and\b|&|[-–]))"
_SHE_IS = (
    r"\b(?:she|he)(?:['’]s|\s(?:is|was)|\shas just turned)\s(?:only\s)?(?:1[0-7]|[1-9])\b(?![.:/][0-9]|\s?%)"
    r"(?!\s*(?:[cmk]?m|mins?|minutes?|seconds?|hours?|days?|weeks?|months?|inch(?:es)?|f(?:ee)?t|yards?|metres?|miles?"
    r"|am|pm)\b)"
)


def small_beside_age(text: str, known: Collection[str] = ()) -> Iterator[tuple[str, str]]:
    """Each name in small letters beside an age or a word for one child, with what makes it a child's."""
    one, _ = child_words()
    kin = "|".join(map(re.escape, one))
    whose = r"(?:my|our|his|her|their|[\w-]+['’]s)"
    patterns = (
        rf"{_WORD},?\s+\(?(?P<said>{_AGE})",
        rf"\b{whose}\s(?P<said>{kin}),?\s(?:called\s|named\s)?{_WORD}(?=\s+{_SAW}|\s*(?:[,.;!)]|$))",
    )
    for pattern in patterns:
        for match in re.finditer(pattern, text):
            if _may_be_one(match["name"], known):
                yield match["name"], match["said"]


def small_first_names(text: str, known: Collection[str] = (), adults: Collection[str] = ()) -> Iterator[str]:
    """Each word in small letters that begins a sentence, or its part, as whoever saw or said something."""
    for match in re.finditer(rf"{_BEGINS}{_WORD}\s+(?:also\s|first\s)?{_SAW}", text):
        if match["name"] not in adults and _may_be_one(match["name"], known):
            yield match["name"]
    for match in re.finditer(rf"{_BEGINS}{_WORD}\s(?:and|&)\s(?:[^\W\d_]+)\s+(?:also\s|first\s)?{_SAW}", text):
        if match["name"] not in adults and _may_be_one(match["name"], known):
            yield match["name"]


def age_of_somebody(text: str) -> str:
    """What a text says of somebody's age without a name: `she is 8`; "" where it says none."""
    found = re.search(_SHE_IS, text, re.IGNORECASE | re.ASCII)
    return found[0] if found else ""


@cache
def _no_names() -> frozenset[str]:
    one, several = child_words()
    return frozenset((*one, *several, *NOBODY, *LEADS, *PLACES, *PRONOUNS, *ARTICLES, *_ROLES, *NUMBERS))


def _may_be_one(word: str, known: Collection[str]) -> bool:
    animal = word in known or word.removesuffix("s") in known
    formed = word.endswith(("ly", "ing")) and len(word) > 5
    return not (animal or formed or word in _no_names() or re.match(_SAW, f"{word} it"))
