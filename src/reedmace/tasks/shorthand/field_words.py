"""The words of field notes: what people write for sex, stage, behaviour and the like, and a line cut into words.

No name of an insect stands here; names come from the key. What each word means to the reader of a page is told
in docs/shorthand.md, and a test sees to it that no word is missing there.
"""

import re
from typing import NamedTuple

from reedmace.faults import Fault, Where

SEXES = {
    **dict.fromkeys(("m", "male", "males", "mm", "♂", "♂♂"), "male"),
    **dict.fromkeys(("f", "female", "females", "fem", "fems", "ff", "♀", "♀♀"), "female"),
}
STAGES = {
    **dict.fromkeys(("ad", "ads", "adult", "adults", "mature"), "adult"),
    **dict.fromkeys(("imm", "imms", "immature", "immatures", "juv", "juvs", "young"), "immature"),
    **dict.fromkeys(("ten", "tens", "teneral", "tenerals", "fresh", "freshly", "newly", "emerged"), "teneral"),
    **dict.fromkeys(("em", "emerging", "emergent", "emergents", "emerge"), "emerging"),
    **dict.fromkeys(("ex", "exs", "exuv", "exuvs", "exuvia", "exuviae", "exuvium", "skin", "skins", "cast"), "exuvia"),
    **dict.fromkeys(("larva", "larvae", "larv", "nymph", "nymphs"), "larva"),
}
BEHAVIOURS = {
    **dict.fromkeys(("ovi", "ovip", "ovipos", "ovipositing", "oviposition", "laying", "egglaying"), "ovipositing"),
    **dict.fromkeys(("egg-laying", "egg", "eggs", "ov", "oviposit", "oviposits", "oviposited"), "ovipositing"),
    **dict.fromkeys(("ter", "terr", "territorial", "holding", "territory", "defending"), "territorial"),
    **dict.fromkeys(("feed", "feeding", "hunting", "hawking"), "feeding"),
    **dict.fromkeys(("pat", "patrol", "patrolling", "patrols"), "patrolling"),
    **dict.fromkeys(("guard", "guarding"), "guarding"),
    **dict.fromkeys(("perch", "perched", "perching", "settled"), "perched"),
    **dict.fromkeys(("bask", "basking"), "basking"),
    **dict.fromkeys(("roost", "roosting"), "roosting"),
    **dict.fromkeys(("fly", "flying", "passing", "hovering", "flyby", "fly-by", "overhead"), "flying"),
    **dict.fromkeys(("fighting", "chasing"), "fighting"),
}
PAIRS = {
    **dict.fromkeys(("tan", "tand", "tandem", "tandems"), "tandem"),
    **dict.fromkeys(("cop", "cops", "copula", "copulating", "mating", "wheel", "wheels"), "copulating"),
}
# A pair of which nothing more is said is two insects that keep together: in tandem.
PLAIN_PAIRS = dict.fromkeys(("pair", "pairs", "pr", "prs"), "tandem")
# Without a number these are more than one, and nobody knows how many.
PLURAL_PAIRS = frozenset(("pairs", "prs", "tandems", "cops", "wheels"))
# What insects do rather than what a pair is called: an even number of them may be so many insects.
PAIRING = frozenset(("mating", "copulating"))
PRESENT = {
    **dict.fromkeys(("some", "few", "several", "many", "lots", "loads", "plenty", "numerous", "abundant"), "present"),
    # Beside a number these say nothing more.
    **dict.fromkeys(("present", "seen", "p", "x", "+"), "mark"),
}
CERTAINTIES = {
    **dict.fromkeys(("?", "poss", "possible", "possibly", "maybe", "unsure"), "uncertain"),
    **dict.fromkeys(("prob", "probable", "probably", "likely"), "probable"),
    **dict.fromkeys(("certain", "definite", "definitely", "sure"), "certain"),
}
QUALIFIERS = {"cf": "cf.", "cf.": "cf.", "aff": "aff.", "aff.": "aff.", "nr": "nr.", "nr.": "nr."}
EVIDENCE = {
    **dict.fromkeys(("photo", "photos", "photographed", "pic", "pics", "ph"), "photo"),
    **dict.fromkeys(("hand", "inhand", "netted", "caught"), "in hand"),
    **dict.fromkeys(("sight", "sighted"), "sight"),
}
INCLUDED = dict.fromkeys(("incl", "incl.", "inc", "inc.", "including", "includes", "included", "among"), "among")
BESIDE = dict.fromkeys(("excl", "excl.", "excluding", "plus", "beside", "besides", "extra"), "beside")
REST = dict.fromkeys(("other", "others", "unsexed", "single", "singles", "undetermined"), "others")
WHOLE = dict.fromkeys(("total", "altogether"), "all of them")
# Words that join others and say nothing of their own. The line is kept verbatim all the same.
JOINING = dict.fromkeys(("and", "&", "of", "in", "with", "×", "also"), "")
# Colours tell how an insect looked where they stand before its sex: "1 blue female emperor".
COLOURS = frozenset(
    (
        *("black", "blue", "brown", "bronze", "dark", "green", "grey", "orange", "pale", "pink"),
        *("purple", "red", "violet", "white", "yellow"),
    )
)
_SMALL = (
    *("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen"),
    *("fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"),
)
TENS = {
    word: str(10 * number)
    for number, word in enumerate(
        ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"),
        start=2,
    )
}
TIMES = {"dozen": 12, "hundred": 100}
NUMBERS = {
    **{word: str(number) for number, word in enumerate(_SMALL, start=1)},
    **TENS,
    **{word: str(number) for word, number in TIMES.items()},
    "an": "1",
    "half-dozen": "6",
}
ABOUT = frozenset(
    (
        *("~", "c", "c.", "ca", "ca.", "circa", "about", "approx", "approx.", "approximately", "around", "roughly"),
        *("est", "max", "max.", "≈", "±", "almost", "nearly"),
    )
)
AT_LEAST = frozenset(("min", "min.", "atleast", ">=", "≥"))
OVER = frozenset((">", "over"))
BELOW = frozenset(("<", "<=", "≤"))

VOCABULARY: dict[str, tuple[str, str]] = {
    word: (kind, meaning)
    for kind, words in (
        ("sex", SEXES),
        ("stage", STAGES),
        ("behaviour", BEHAVIOURS),
        ("pairs", PAIRS),
        ("pair", PLAIN_PAIRS),
        ("present", PRESENT),
        ("certainty", CERTAINTIES),
        ("qualifier", QUALIFIERS),
        ("evidence", EVIDENCE),
        ("pairs-among", INCLUDED),
        ("pairs-beside", BESIDE),
        ("rest", REST),
        ("whole", WHOLE),
        ("joining", JOINING),
    )
    for word, meaning in words.items()
}
# Signs that open a quotation, each with those that close it, as keyboards of several languages have them.
QUOTES = {'"': '"', "“": "”“", "”": "”", "„": "“”„", "«": "»", "»": "«»", "‹": "›", "›": "‹"}
# These are apostrophes too: they open one only before a word, and close it only behind one.
_SINGLE = {"'": "'", "‘": "’", "‚": "‘’"}
# How names of files of photographs and recordings end.
FILE_ENDING = r"\.(?:jpe?g|png|hei[cf]|tiff?|gif|webp|bmp|avif|raw|dng|cr[23]|nef|arw|orf|rw2|raf|mp4|mov|avi|wav)"
FILE_NAME = rf"\S+{FILE_ENDING}"
CLOCK = r"(?:from|at|c)?([01]?[0-9]|2[0-3])(?:[:h]|\.(?=[0-9]{2}(?![.0-9])))([0-5][0-9])(am|pm)?"


# Signs without a shape that message threads and editors leave in a text; joiners within letters and emoji are none.
_MARKS = dict.fromkeys((0xFEFF, 0x200B, 0x200E, 0x200F, 0x2060, *range(0x202A, 0x202F), *range(0x2066, 0x206A)))


class Word(NamedTuple):
    """One word of a line: as typed, as compared, and the columns (from 0) it takes; quoted text is one word."""

    text: str
    plain: str
    start: int
    end: int
    quoted: bool = False


class Cut(NamedTuple):
    """A line cut into words, and its comment (None where it has none)."""

    typed: str
    words: tuple[Word, ...]
    comment: str | None


def cut(typed: str) -> Cut | Fault:
    """Cut a line into words. A `#` outside quotes begins a comment; text in quotes is one word."""
    words: list[Word] = []
    at, end = 0, len(typed)
    while at < end:
        sign = typed[at]
        if sign == "#":
            return Cut(typed, tuple(words), typed[at + 1 :].strip())
        if (close := _single_close(typed, at)) is not None:
            words.append(Word(typed[at + 1 : close], "", at, close + 1, True))
            at = close + 1
        elif sign in QUOTES:
            close = next((i for i in range(at + 1, end) if typed[i] in QUOTES[sign]), None)
            if close is None:
                return slip(
                    "quote-not-closed",
                    "A quote begins here and does not end.",
                    'close it, as in  "outflow ditch"',
                    typed,
                    at,
                    end,
                )
            words.append(Word(typed[at + 1 : close], "", at, close + 1, True))
            at = close + 1
        elif sign in "?@":
            words.append(Word(sign, sign, at, at + 1))
            at += 1
        elif sign.isspace() or sign in ",;":
            at += 1
        else:
            begin = at
            while at < end and not (typed[at].isspace() or typed[at] in ",;?@#" or typed[at] in QUOTES):
                at += 1
            # A quote inside a word is an inch, a minute or a second: it belongs to the word.
            while at < end and typed[at] in QUOTES and typed[begin:at][-1:].isdigit():
                at += 1
                while at < end and not (typed[at].isspace() or typed[at] in ",;?@#"):
                    at += 1
            text = typed[begin:at]
            plain = text.casefold()
            if not text.isascii():  # hyphens of their own, which some keyboards set, are hyphens
                plain = plain.replace("\u2010", "-").replace("\u2011", "-")
            words.append(Word(text, plain, begin, at))
    return Cut(typed, tuple(words), None)


def _single_close(typed: str, at: int) -> int | None:
    """Where the quotation ends that a single quote opens; None where it opens none."""
    closing = _SINGLE.get(typed[at], "")
    if not closing or not typed[at + 1 : at + 2].strip() or typed[at + 1] in closing:
        return None
    ends = (i for i in range(at + 2, len(typed)) if typed[i] in closing and not typed[i - 1].isspace())
    return next((i for i in ends if not typed[i + 1 : i + 2].strip() or typed[i + 1] in ",;.:!?)]#"), None)


def without_marks(line: str) -> str:
    """A line without marks that nobody sees or types, but for those in quotes and in its comment: these stay."""
    if line.isascii():
        return line
    read, close = "", ""
    for at, sign in enumerate(line):
        if not close and sign == "#":
            return read + line[at:]
        if close:
            close = "" if sign in close else close
        elif sign in QUOTES:
            close = sign + QUOTES[sign]
        read += sign if close else sign.translate(_MARKS)
    return read


def slip(code: str, message: str, hint: str, typed: str, start: int = 0, end: int | None = None) -> Fault:
    """A fault in a typed line, with carets under what is meant."""
    width = max(1, (len(typed) if end is None else end) - start)
    where = Where("line", 1, start + 1, typed, width)
    return Fault(code, message, hint, typed, where, typed=True)


def is_file(text: str) -> bool:
    """Whether a text in quotes is the name of a file of a photograph, blanks and all."""
    ending = text.strip().rpartition(".")[2]
    return ending != text and ending.isascii() and re.fullmatch(FILE_NAME, f"a.{ending}", re.IGNORECASE) is not None


def clock(word: str) -> str | None:
    """A time of day as `HH:MM`, from `10:30`, `9.05`, `10h30`, `2:15pm`, `2pm`, `noon`; None where it is none."""
    if word in ("noon", "midday"):
        return "12:00"
    if word[:1].isdigit() and word.endswith(("am", "pm")) and word[:-2].isdecimal():
        word = f"{word[:-2]}:00{word[-2:]}"
    # Patterns are compiled where they are used, and only for words that may fit: it costs `log` milliseconds.
    if not (":" in word or "." in word or "h" in word) or not any(sign.isdigit() for sign in word):
        return None
    found = re.fullmatch(CLOCK, word, re.ASCII)
    if found is None:
        return None
    hour = int(found[1])
    if found[3]:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if found[3] == "pm" else 0)
    return f"{hour:02}:{found[2]}"
