"""A name beside words that speak of a child: asked about before anything is written, for children are not named."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from functools import cache
from itertools import pairwise

from reedmace.faults import Fault
from reedmace.keys.care import care_on
from reedmace.keys.seasons import month_of
from reedmace.records import Visit
from reedmace.tasks.shorthand.field_words import Word, cut
from reedmace.tasks.shorthand.names_in_small_letters import age_of_somebody, small_beside_age, small_first_names
from reedmace.tasks.shorthand.names_with_ages import GROUPS, beside_age, child_words, first_names, in_party
from reedmace.tasks.shorthand.page_said import PageVisit
from reedmace.tasks.shorthand.people_short import longer_names
from reedmace.tasks.shorthand.visit_said import VisitSaid

# Words that tell the age of somebody who is named; the other words may speak of children who are not.
_AGES = ("aged", "year-old")
_AGE = r"\bage[d:]?\s+\d|\baged\b|\byear-old"
_YEARS = r"\b\d{1,2}[\s-]*(?:yrs?|years?)\b"  # of a pond too: it is about somebody who has a first name only
_NUMBER = r"\(?\d{1,2}\)?"
_LITTLE = ("a", "an", "the", "my", "our", "his", "her", "their", "young", "little", "small", "one", "of")
_REMEDY = 'write initials or "a child" in place of the name, or count the children:  with 6 children'

# A visit of a page, what is said of it, and the visit in the ledger that it becomes a part of.
_Walk = tuple[PageVisit, VisitSaid, Visit | None]


def children_named(walks: Iterable[_Walk], known: Collection[str] = (), *, remarks: bool = True) -> list[Fault]:
    """Every name that may be a child's: bare first names where children or a party are spoken of, any beside an age.

    `remarks` says whether names are looked for in remarks too; `known` are words of names of animals.
    """
    found: list[Fault] = []
    for walk in walks:
        found += _named_in(walk)
        if remarks:
            found += _in_remarks(walk, known)
    return list({fault.message: fault for fault in found}.values())


def children_beside(
    cell: str, names: Iterable[tuple[str, int]], aged: Iterable[tuple[str, str]], name: str
) -> Fault | None:
    """Say that one of the names of a cell of people may be a child's.

    `names` come with their places in the cell, `aged` with the age that stands beside them; `name` is the pattern of
    a name, for those that stand right behind a word for a child.
    """
    some = tuple(Word(text, text.casefold(), at, at + len(text)) for text, at in names if not _nobody(text))
    found = [_may_be_one(who, age, cell) for who, age in aged if not _nobody(who)]
    before = "|".join(map(re.escape, (word for word in _words() if word not in _AGES)))
    if before and (son := re.search(rf"\b((?i:{before}))\b[,:]? ({name})", cell)) and not _nobody(son[2]):
        found.append(_may_be_one(son[2], son[1], cell))
    party = cell if re.search(r"\bparty\b", cell, re.IGNORECASE) else ""
    # Of several the one without a surname.
    found += sorted(_named(cell, some, cell, _young(party)), key=lambda fault: " " in fault.message.split('"')[1])
    return found[0]._replace(typed=False) if found else None


def children_in_text(
    text: str, known: Collection[str] = (), *, beside: str = "", adults: Collection[str] = (), typed: str = ""
) -> list[Fault]:
    """Every name of a text that may be a child's: beside an age or a word for a child, or alone among children.

    `beside` are further words that may speak of children, `adults` first names of people who are known in full,
    `typed` is what the fault shows in place of the text.
    """
    if not text:
        return []
    told = {**dict(beside_age(text, known)), **dict(small_beside_age(text, known))}
    found = [_may_be_one(name, said, typed or text) for name, said in told.items()]
    company = _spoken(f"{beside} {text}") or age_of_somebody(text)
    if company:
        named = (*first_names(text, known, adults), *small_first_names(text, known, adults))
        alone = (name for name in dict.fromkeys(named) if name not in told)
        found += [_may_be_one(name, company, typed or text, with_age=False) for name in alone]
    return found


def children_in_party(party: str, known: Collection[str] = ()) -> list[Fault]:
    """The first names in words that should say how many they were: a party is a number."""
    found = children_in_text(party, known)
    found += [_may_be_one(name, party, party, with_age=False) for name in in_party(party, known)]
    return list({fault.message.partition(" may")[0]: fault for fault in reversed(found)}.values())


def _in_remarks(walk: _Walk, known: Collection[str]) -> Iterator[Fault]:
    page, said, joins = walk
    noted = [(said.typed, note) for note in said.notes]
    noted += [(one.line.typed, one.line.said.remarks) for one in page.lines if one.line.said.remarks]
    if not noted:
        return
    names = _names(said.observers, said.company, said.determiner)
    adults = {name.text.split()[0].casefold() for name in names if " " in name.text.strip()}
    beside = " ".join((_without(said.party, names), *said.notes, *((joins.party, joins.remarks) if joins else ())))
    for typed, note in noted:
        yield from children_in_text(note, known, beside=beside, adults=adults, typed=typed)


def no_childs_name(fault: Fault, typed: str) -> Fault:
    """The fault of a line that names somebody and tells an age: advised is to leave the name out, not to keep both."""
    pieces = cut(typed)
    if isinstance(pieces, Fault):
        return fault
    words = pieces.words
    names = [at for at, word in enumerate(words) if at and words[at - 1].plain.rstrip(":.") in ("by", "with", "det")]
    first = next((at for at in names if words[at].quoted or words[at].text[:1].isupper()), len(words))
    behind = list(pairwise(words[first:]))
    young = _spoken(typed) or any(_in_brackets(word) for _, word in behind)
    unread = fault.where.column - 1 if fault.where and fault.where.column else -1
    told = fault.code in ("two-counts", "total-unclear") and any(
        _tells_age(word, before) for before, word in behind[-3:]
    )
    if fault.code in ("word-not-read", "visit-word-not-read"):
        told = any(word.start == unread and (young or _tells_age(word, before)) for before, word in behind)
        told = told or any(word.start == unread and young and word.text[:1].isupper() for word in words)
    if fault.code in ("person-not-read", "visit-word-not-read"):  # with my daughter tilly
        at = next((at for at, word in enumerate(words) if word.start == unread), len(words))
        told = told or any(word.plain in child_words()[0] for word in words[max(0, at - 1) : at + 3] if not word.quoted)
    return fault._replace(hint=f"children are not named: {_REMEDY}") if told else fault


def _tells_age(word: Word, before: Word) -> bool:
    """Whether a word behind a name is an age: `(8)`, `aged`, or a number behind a capital."""
    if word.quoted:
        return False
    named = before.quoted or (before.text[:1].isupper() and not month_of(before.plain))
    bare = word.plain.isdecimal() and len(word.plain) < 3 and named
    return _in_brackets(word) or bare or word.plain.strip("(),.") in ("age", "years", "yrs", *_words())


def _in_brackets(word: Word) -> bool:
    return not word.quoted and re.fullmatch(r"\(\d{1,2}\)?", word.plain, re.ASCII) is not None


def _named_in(walk: _Walk) -> Iterator[Fault]:
    page, said, joins = walk
    # The name of the place is none of people: there is many a School Pond.
    noted = " ".join((said.typed.replace(said.locality, " "), *said.notes)) if said.locality else ""
    noted = noted or " ".join((said.typed, *said.notes))
    party = _names(said.observers, said.company, said.determiner)
    yield from _named(noted, party, said.typed, _young(said.party))
    full = [name.text for name in party if " " in name.text.strip()]
    with_children = _young(said.party)
    for seen in page.lines:
        line = seen.line.said
        names = _names(line.observers, line.company, line.determiner)
        if names:
            before = f"{joins.typed} {joins.remarks}" if joins else ""
            with_children = with_children or (_young(joins.party) if joins else "") or _spoken(f"{noted} {before}")
            yield from _named(line.typed, names, line.typed, with_children, full)


def _names(observers: Sequence[Word], company: Sequence[Word], determiner: Word | None) -> tuple[Word, ...]:
    names = (*observers, *company, *((determiner,) if determiner else ()))
    return tuple(name for name in names if not _nobody(name.text))


def _named(
    text: str, names: tuple[Word, ...], typed: str, with_children: str, full: Collection[str] = ()
) -> Iterator[Fault]:
    """The names of a text that may be a child's; `with_children` is what else speaks of children or of a party.

    What may be short for one of the `full` names, those on the line of the visit, is asked about as such instead.
    """
    if not names:
        return  # before the notes are read: most lines name nobody
    age = _age(text)
    years = re.search(_YEARS, text, re.ASCII | re.IGNORECASE)
    spoken = _spoken(_without(text, names)) or with_children or (years[0] if years else "")
    for name in names:
        own = re.search(r"\(\d{1,2}\)|,\s*\d{1,2}$", name.text, re.ASCII)
        after = re.match(r"[\s,#]*(\(\d{1,2}\))", text[name.end :], re.ASCII)
        said = age or (name.text if own else "") or (after[1] if after else "")
        bare = " " not in name.text.strip() and (name.quoted or not longer_names(name.text, full))
        if said or (bare and spoken):
            yield _may_be_one(name.text, said or spoken, typed, with_age=bool(said))


def _may_be_one(name: str, said: str, typed: str, *, with_age: bool = True) -> Fault:
    return Fault(
        "child-may-be-named",
        f'"{name}" may be a child, for the line says "{said}". Children\'s names go into nothing.',
        f"{_REMEDY}; of an adult {'leave the age out' if with_age else 'write the full name'}",
        typed,
        typed=True,
    )


def _young(party: str) -> str:
    """A party as far as there may be children in it."""
    return "" if "adult" in party.casefold() and not _spoken(party) else party


def _nobody(name: str) -> bool:
    """Whether it names no child: initials, or words such as "a child" and "my daughter"."""
    letters = [sign for sign in name if sign.isalpha()]
    initials = len(letters) < 5 and all(sign.isupper() for sign in letters) and not any(map(str.isdigit, name))
    return initials or all(word in _LITTLE or word in _words() for word in name.split())


@cache
def _words() -> tuple[str, ...]:
    return tuple(word for note in care_on("child") for word in note.words)


def _spoken(text: str) -> str:
    """The first word of a text that speaks of a child; "" where none does."""
    words = (*_words(), *GROUPS)
    found = re.search(rf"\b(?:{'|'.join(map(re.escape, words))})\b", text, re.IGNORECASE)
    return found[0] if found else ""


def _without(text: str, names: tuple[Word, ...]) -> str:
    """The text without people's names in capitals: a surname may be one of the words."""
    for name in names:
        if not name.quoted:
            text = text.replace(name.text, " ")
    return text


def _age(text: str) -> str:
    """The age that a text tells of one person; "" where it tells none, or that of a group ("6 children aged 8")."""
    words = [word for word in _words() if word not in _AGES]
    if not words:
        return ""
    several = "|".join(re.escape(word) for word in words if word.endswith(("s", "ren")))
    group = rf"(?:\b(?:{several})|\b(?:party|group) of \d+)[\s,]*\(?(?:aged? )?\d[\d\s–-]*(?:to \d+)?"
    text = re.sub(rf"{group}(?:\s*(?:yrs?|years?)(?:[\s-]old)?)?\)?", " ", text, flags=re.IGNORECASE | re.ASCII)
    one = "|".join(re.escape(word) for word in words if not word.endswith(("s", "ren")))
    found = re.search(rf"{_AGE}|\b(?:{one})[\s,]+{_NUMBER}", text, re.IGNORECASE | re.ASCII)
    return found[0] if found else ""
