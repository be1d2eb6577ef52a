"""Who was there, on the line of a visit: people by name, and a party or children by number."""

from __future__ import annotations

import re

from reedmace.tasks.shorthand.field_words import NUMBERS
from reedmace.tasks.shorthand.people_names import name_doubtful, names_after
from reedmace.tasks.shorthand.person_unclear import person_unclear
from reedmace.tasks.shorthand.visit_said import Reader

_N = "|".join(("[0-9]{1,4}", *(word for word in NUMBERS if word not in ("an", "one", "dozen", "hundred"))))
_WITH = r",? (?:with|incl\.?|including|and|&|plus|\+)"
_CHILDREN = r"(?:more |young )?(?:children|child|kids|pupils|grandchildren|grandkids)"
_OTHERS = r"(?:others|other people|more people|people|more adults|adults|helpers)"
_MORE = rf"(?:({_WITH}) ({_N}) {_CHILDREN})?"
_AMONG = rf"(?: \((?:{_N}) (?:of (?:them|whom|these) )?{_CHILDREN}\)|, ?(?:{_N}) of (?:them|whom|these) {_CHILDREN})?"
_PARTY = rf"(?:party|group)(?: of)? ?:?\(?({_N})\)?{_MORE}{_AMONG}"
_ALSO = rf"(?:({_WITH}|,|(?<=adults)) ({_N}) (?:{_CHILDREN}|{_OTHERS}))?"
_COMPANY = rf"(?:and |leader |with |a |\+ |& )*(?:{_PARTY}|({_N}) (?:{_CHILDREN}|{_OTHERS}){_ALSO})(?!\w)"
_UNCOUNTED = r"(?:and |with |\+ |& )+(?:a )?(?:party|group)(?!\w| of)"
_BESIDE = ("and", "&", "plus", "+", "")  # beside those said before; what is included is among them
_BEGINS = ("party", "group", "and", "leader", "with", "+", "&", "a", *NUMBERS)
_OBSERVERS = ("by", "observer", "observers", "obs", "recorder", "recorders", "leader", "leaders")
_DONE = ("led", "seen", "recorded", "observed", "noted")


def people(reader: Reader, at: int) -> int | None:
    """`by Ada Marsh`, `with Ben Sallow and Cat Rush`, `det Dan Fen`, `party of 12`, `with 6 children` or others."""
    plain = reader.plain(at).rstrip(":.")
    if (plain in _BEGINS or plain.isdecimal()) and (end := _take_party(reader, at)) is not None:
        return _no_quote(reader, end)
    if plain in _DONE and reader.plain(at + 1) == "by":
        return people(reader, at + 1)
    if plain not in ("with", "det", *_OBSERVERS):
        return None
    habitats = frozenset(word.casefold() for one in reader.key.habitats for word in (one.id, one.title, *one.words))
    named = names_after(reader.words, at + 1, of_visit=True, habitats=habitats)
    names, end = named.names, named.end
    if named.doubtful is not None:
        reader.faults.append(name_doubtful(named, plain, reader.typed))
        end += 1
    elif not names:
        reader.fault(
            "person-not-read",
            f'After "{reader.words[at].text}" comes the name of a person.',
            f'write it with capitals or in quotes:  {plain} "Ada Marsh"',
            reader.words[at],
        )
        return at + 1
    elif (unclear := person_unclear(names, plain, reader.typed)) is not None:
        reader.faults.append(unclear)
    if plain == "with":
        reader.put(reader.words[at], company=names)
    elif plain == "det":
        reader.put(reader.words[at], determiner=names[0])
    else:
        reader.put(reader.words[at], observers=names)
    return _no_quote(reader, end)


def _no_quote(reader: Reader, end: int) -> int:
    """Words in quotes right behind people could be one more of them, the place or a remark: they are refused."""
    if end >= len(reader.words) or not reader.words[end].quoted:
        return end
    reader.fault(
        "quoted-behind-people",
        f'"{reader.words[end].text}" behind people could be a person, the place or a remark.',
        "write a remark after  #  ; the name of the place behind the place; a comma before one more person",
        reader.words[end],
    )
    return end + 1


def _take_party(reader: Reader, at: int) -> int | None:
    start = reader.words[at].start
    found = re.match(_COMPANY, reader.typed[start:], re.ASCII | re.IGNORECASE)
    size = 0
    if found is not None:
        size = _number(found[1] or found[4])
        for how, more in ((found[2], found[3]), (found[5], found[6])):
            size += _number(more) if more and how.casefold().strip(", ") in _BESIDE else 0
    else:
        found = re.match(_UNCOUNTED, reader.typed[start:], re.ASCII | re.IGNORECASE)
    if found is None:
        return None
    said = re.sub(r"(?i)^(?:and|with|\+|&) ", "", found[0])
    reader.put(reader.words[at], party=said, party_size=size or None)
    stop = start + found.end()
    return next((one for one in range(at, len(reader.words)) if reader.words[one].start >= stop), len(reader.words))


def _number(word: str) -> int:
    return int(NUMBERS.get(word.casefold(), word))
