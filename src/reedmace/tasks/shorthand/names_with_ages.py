"""Names in a remark beside words that make them a child's: an age, a school year, a word for a child.

`Tim, 7`, `Tim aged seven`, `Tim (8) netted it`, `Tim, Year 5`, `my daughter Poppy`, `Poppy (my daughter)`,
`Poppy's mum`. In company of children a first name alone is told too: `Tim saw it first`.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from functools import cache

from reedmace.keys.care import care_on
from reedmace.tasks.shorthand.place_words import ARTICLES, PLACES, PRONOUNS, SURNAMES_TOO

# Groups of children, in general words.
GROUPS = (
    *("cubs", "brownies", "beavers", "scouts", "guides", "class", "classes", "school", "schools", "schoolchildren"),
    *("nursery", "playgroup", "youngsters", "boys", "girls"),
)
# Further words for one child, beside a name only: alone they say nothing of the record.
_KIN = (
    *("niece", "nephew", "grandchild", "grandkid", "boy", "girl", "lad", "schoolchild", "stepson", "stepdaughter"),
    *("youngster", "teenager", "godson", "goddaughter", "goddaughters", "youngest", "eldest"),
)
NOBODY = frozenset(
    (
        *("aged", "age", "boy", "girl", "group", "party", "year", "years", "mixed", "people", "person", "those"),
        *("visitor", "visitors", "member", "members", "friend", "friends", "participants", "survey", "visit", "walk"),
        *("count", "counts", "project", "monitoring", "round", "day", "week", "event", "leader", "wind", "sun"),
        *("male", "males", "female", "females", "photo", "photos", "no", "number", "adult", "adults"),
        *("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"),
        *("january", "february", "march", "april", "may", "june", "july", "august", "september", "october"),
        *("november", "december", *GROUPS),
    )
)
# Words that begin a sentence before a name, and are no part of it.
LEADS = frozenset(
    (
        *("with", "by", "for", "and", "found", "seen", "netted", "caught", "spotted", "when", "then", "also", "but"),
        *("today", "there", "here", "later", "first", "as", "so", "young", "little", "because", "only", "not"),
        *("from", "to", "thanks", "in", "at", "on", "near", "of", "after", "before", "while", "young", "what"),
    )
)
_UPPER = "".join(sign for sign in map(chr, range(0x41, 0x250)) if sign.isupper())
_ONE = rf"[{_UPPER}][\w’'-]*[^\W\d_{_UPPER}][\w’'-]*?"
_NAME = rf"(?<![\w’'-])(?P<name>{_ONE}(?:\ (?:{_ONE}|[{_UPPER}]\.))*(?:\ {_ONE})?)(?![\w-])"
# Ages of children in words.
AGES = (
    *("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"),
    *("thirteen", "fourteen", "fifteen", "sixteen", "seventeen"),
)
_AGE = rf"(?:(?:1[0-7]|[1-9])(?!\d|\s*(?:-|–|to|or)\s*\d)|\b(?i:{'|'.join(AGES)})\b)"
_OLD = r"(?i:[\s-]*(?:yrs?|years?)?[\s-]*olds?|\s?y/?o)\b"
_YEARS = r"\s*(?i:yrs?|years?)\b"
_SAW = (
    r"(?i:saw|sees|found|finds|netted|nets|caught|spotted|spied|noticed|counted|held|said|says|thinks|thought|took"
    r"|photographed|pointed|shouted|drew|identified|recognised|discovered|knew|heard|loved|liked|watched|asked|told"
    r"|showed|wanted|touched|swept|dipped|scooped|helped)"
)
_END = r"(?=\s*(?:[,.;)!]|and\b|&|$))"
_SCHOOL_YEAR = r"(?:(?:[Yy]ear|YEAR|[Yy]r)\.?\s?|Y)(?:1[0-3]|[1-9])(?!\d|\s*(?:of\b|to\b|-|–))"
_TOLD = (
    rf"{_NAME}(?:\ is|\ was|['’]s|\ turned)?[\s,(]*(?P<said>(?i:age[d:]?)\s*{_AGE}|{_AGE}{_OLD})",
    rf"\b(?P<said>{_AGE}{_OLD})\s+{_NAME}",
    rf"{_NAME}[\s,(]+(?P<said>{_AGE}{_YEARS})(?={_END[3:-1]}|\s+{_SAW}\b)",
    rf"{_NAME}(?:\s+\(|,\s*)(?P<said>{_AGE})\)?,?(?=\s+{_SAW}\b)",
    rf"^[\s'‘“(]*{_NAME}(?:\s+\(|,\s*)(?P<said>{_AGE})\)?\W*$",
    rf"{_NAME}[\s,(]+(?:(?:in|from|of)\s)?(?P<said>{_SCHOOL_YEAR})",
    rf"{_NAME}[\s,(]+in\s(?P<said>(?i:reception))\b",
    r"\b(?i:by|with)\s(?P<name>[a-z]{2,}),?\s\(?(?P<said>aged?\s(?:1[0-7]|[1-9])\b|(?:1[0-7]|[1-9])[\s-]years?[\s-]old)",
)
# A number alone is an age in a list of people only: insects are listed with numbers too.
_PEOPLE = r"\b(?i:with|by|for)\s"
_LISTED = rf"{_NAME}(?:,\s*|\s*\()(?P<said>{_AGE}){_END}"
_PARENTS = rf"{_NAME}['’]s\s(?P<said>mums?|mummy|dads?|daddy|parents)\b"
_PARENT_OF = rf"\b(?P<said>(?i:mum|mummy|dad|daddy|mother|father|parents?|gran|granny|grandad))\sof\s{_NAME}"
_FIRST = rf"(?<![\w’'-])(?P<name>{_ONE})(?![\w-])"
_BARE = (
    rf"{_FIRST}(?:\s(?:and|&)\s{_ONE})?\s+(?:also\s|first\s)?{_SAW}\b",
    rf"\b(?:and|&)\s{_FIRST}\s+(?:also\s|first\s)?{_SAW}\b",
    rf"\b(?i:(?:found|seen|netted|caught|spotted|noticed|photographed|counted|named|held|drawn|photo)\s(?:\w+\s)?by|with"
    rf"|thanks\sto)\s{_FIRST}(?!\s(?:[a-z]{{1,3}}\s){{0,2}}{_ONE}|\s[{_UPPER}]\.)",
    rf"(?<![\w’'-])(?P<name>{_ONE})['’]s\s(?i:finds?|first|catch|spot|sighting|one|photo|discovery)\b",
)


def beside_age(text: str, known: Collection[str] = ()) -> Iterator[tuple[str, str]]:
    """Each name of a remark with what makes it a child's; people in initials are not named.

    `known` are words of names of animals: a name made of them is an animal's, but behind "by" or "with".
    """
    plain = text.casefold()
    one, several = child_words()
    aged = any(sign.isdigit() for sign in text) or any(word in plain for word in (*AGES, "reception"))
    child = any(word in plain for word in (*one, *several))
    parents = re.search(r"['’]s (?:mum|dad|parent)|(?:mum|dad|mother|father|parents?|gran|y) of", plain) is not None
    if not (aged or child or parents):
        return
    read = _capitals(text)
    found: list[re.Match[str]] = []
    if aged:
        found += (match for pattern in _TOLD for match in re.finditer(pattern, read))
        if people := re.search(rf"{_PEOPLE}(?={_LISTED})", read):
            found += re.compile(_LISTED).finditer(read, people.end())
    if child:
        found += _of_kin(read, one, several)
    if parents:
        found += (match for pattern in (_PARENTS, _PARENT_OF) for match in re.finditer(pattern, read))
    told: dict[str, str] = {}
    for match in found:
        if (name := _person(text, match, known)) and name not in told:
            told[name] = text[match.start("said") : match.end("said")]
    yield from told.items()


def first_names(text: str, known: Collection[str] = (), adults: Collection[str] = ()) -> Iterator[str]:
    """Each first name alone of a remark that is somebody's who saw or did something, but for those of `adults`."""
    read = _capitals(text)
    told = set()
    for pattern in _BARE:
        for match in re.finditer(pattern, read):
            name = _person(text, match, known)
            whole = re.search(rf"[{_UPPER}][\w.'’-]*\s$", read[: match.start("name")])
            if whole and whole[0].strip(" .").casefold() not in LEADS:
                continue  # the surname of somebody
            if name and " " not in name and name not in told and name.casefold() not in adults:
                told.add(name)
                yield name


def in_party(text: str, known: Collection[str] = ()) -> Iterator[str]:
    """Each first name alone of words that should say how many there were: `6 children, Poppy and Finn`."""
    pattern = rf"(?:^|[,+&:(]|\b(?:and|with|plus|incl|including)\b)\s*{_FIRST}(?=\s*(?:[,+&)]|\band\b|$))"
    for match in re.finditer(pattern, _capitals(text)):
        if name := _person(text, match, known):
            yield name


def _of_kin(text: str, one: tuple[str, ...], several: tuple[str, ...]) -> Iterator[re.Match[str]]:
    """Names right before or behind a word for a child."""
    child = rf"(?P<said>(?i:{'|'.join(map(re.escape, one))}))\b"
    children = rf"(?P<said>(?i:{'|'.join(map(re.escape, several))}))\b"
    named = r"(?:,|:|\s\(|\s(?:called|named))?\s*"
    yield from re.finditer(rf"\b{child}{named}(?<=\W){_NAME}", text)
    # Behind a comma one name could be the place: a list of names is none.
    yield from re.finditer(rf"\b{children}(?::|\s\(|\s(?:called|named))?\s*(?<=\W){_NAME}", text)
    for match in re.finditer(rf"\b{children},\s*(?={_NAME}\s*(?:,|and\b|&)\s*[{_UPPER}])", text):
        again = re.compile(rf"{children}.*?{_NAME}").match(text, match.start("said"))
        if again:
            yield again
    whose = r"(?:(?:my|our|his|her|their|a|the|[\w-]+['’]s)\s)?(?:(?:young|little|youngest|younger|eldest|older)\s)?"
    before = r"(?<!\bat )(?<!\bin )(?<!\bnear )(?<!\bfrom )(?<!\bto )(?<!\bof )(?<!\bon )(?<!\bAt )(?<!\bIn )"
    yield from re.finditer(rf"{before}{_NAME}(?:,|\s\()\s*{whose}{child}(?=\s*(?:[,.;)!]|$))", text)
    yield from re.finditer(rf"{_NAME}\s(?:is|was)\s{whose}{child}", text)
    yield from re.finditer(rf"\b(?:by|with|and)\s{_NAME},?\s(?:my|our)\s(?:\w+\s)?{child}", text)


@cache
def child_words() -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Words for one child, and for several."""
    words = [word for note in care_on("child") for word in note.words if word not in ("aged", "year-old")]
    several = tuple(word for word in words if word.endswith(("s", "ren")))
    return (*(word for word in words if word not in several), *_KIN), (*several, "boys", "girls", "youngsters", "cubs")


def _person(text: str, match: re.Match[str], known: Collection[str]) -> str:
    """The name that was found as somebody's, without words that only begin the sentence; else ""."""
    words = text[match.start("name") : match.end("name")].split()
    while words and words[0].casefold() in LEADS:
        del words[0]
    plain = [word.casefold().strip(".'’") for word in words]
    one, several = child_words()
    nobody = NOBODY | PLACES | PRONOUNS | ARTICLES | {*several, *one}
    if not words or len(words) > 3 or plain[0] in nobody:
        return ""
    if len(plain) > 1 and plain[-1] in (NOBODY | PLACES) - SURNAMES_TOO:
        return ""
    with_people = re.search(r"\b(?:by|with|for)\s*$", text[: match.start("name")], re.IGNORECASE)
    animal = all(word in known or word.removesuffix("s") in known for word in plain)
    return "" if animal and not with_people else " ".join(words)


def _capitals(text: str) -> str:
    """A text all in capitals as it would be written else, sign for sign; initials and a short form alone stay."""
    if any(sign.islower() for sign in text) or len(re.findall(r"[^\W\d_]{3,}", text)) < 2:
        return text
    return re.sub(r"[^\W\d_]{3,}", lambda word: word[0][0] + word[0][1:].lower(), text)
