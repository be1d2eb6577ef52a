"""A place on the line of a visit without its signs: a reference without `@`, the name behind it without quotes.

Taken is only what is nothing else: a reference of six figures or more, and a name that says that it is a place's.
Fewer figures could be a wind's, and two words with capitals a person's: those are told, and nothing is taken.
"""

from __future__ import annotations

import re

from reedmace.faults import Fault
from reedmace.places.place import Place, read_place
from reedmace.tasks.shorthand.place_words import PLACES, SURNAMES_TOO
from reedmace.tasks.shorthand.visit_said import Reader
from reedmace.tasks.shorthand.visit_words import REFERENCE

_SURE = 6  # figures of a reference that is nothing else
_BRACKETS = "()[]'‘’«»"


def reference(reader: Reader, at: int) -> int | None:
    """`SU 431 118` without its `@`; what stands before it, `Sallow Farm SU 431 118`, is taken for the place's name."""
    _, last = reader.name_run(at)
    for start in range(at, last + 1):
        found = _read(reader, start)
        if found is not None:
            return _taken(reader, at, start, *found) or _told(reader, at, start, found[1])
    return None


def name_behind(reader: Reader, at: int) -> int | None:
    """`Sallow Farm pond` right behind the reference, or first on a line that has one further on.

    What stands behind its last word for a place is none of it.
    """
    begins = at == (reader.words[0].plain.rstrip(":.") in ("visit", "walk"))
    heads = begins and re.search(REFERENCE, reader.typed[reader.words[at].end :], re.ASCII) is not None
    name, end = reader.name_run(at) if at == reader.behind_place or heads else ("", at)
    if not name:
        return None
    last = next((stop for stop in range(end, at, -1) if _is_of_a_place(reader.words[stop - 1].text)), None)
    whole = reader.typed[reader.words[at].start : reader.words[(last or end) - 1].end].strip(_BRACKETS)
    if last is not None and (not reader.named or whole == reader.said.locality):
        reader.named = True
        reader.put(reader.words[at], locality=whole)
        return last
    if heads:
        return None
    hint = f'the name of a place goes in quotes:  @ SU 431 118  "{name}"  ; a remark after  #'
    message = f'"{name}" is not understood without quotes.'
    reader.fault("visit-word-not-read", message, hint, reader.words[at], reader.words[end - 1])
    return end


def _is_of_a_place(name: str) -> bool:
    """Whether one of its words names a water or a spot, and no surname."""
    words = (word.strip(".,;()'’") for word in name.split())
    return any(word.casefold() in PLACES and (word.islower() or word.casefold() not in SURNAMES_TOO) for word in words)


def _taken(reader: Reader, at: int, start: int, place: Place, end: int) -> int | None:
    """Take a reference that is nothing else, where the line says no other place; None where it has to be told."""
    run = reader.typed[reader.words[start].start : reader.words[end - 1].end]
    name = reader.typed[reader.words[at].start : reader.words[start - 1].end].strip(_BRACKETS) if start > at else ""
    another = reader.said.place or reader.said.site or any(word.plain == "@" for word in reader.words)
    if sum(map(str.isdigit, run)) < _SURE or another:
        return None
    if name and (reader.named or not _is_of_a_place(name)):
        return None
    reader.put(reader.words[start], place=place)
    if name:
        reader.named = True
        reader.put(reader.words[at], locality=name)
    else:
        reader.behind_place = end
    return end


def _told(reader: Reader, at: int, start: int, end: int) -> int:
    """Keep the fault of a reference without its sign."""
    text = reader.typed[reader.words[start].start : reader.words[end - 1].end]
    named = reader.words[at - 1] if at > 1 and reader.words[at - 2].plain == "@" else None
    if named is not None and named.quoted and start == at:
        hint = f'write  @ {text} "{named.text}"'
        message = "The reference comes right behind @, before the name."
        reader.fault("place-order", message, hint, reader.words[at], reader.words[end - 1])
        return end
    hint = f"write  @ {text}"
    if start > at:
        name = reader.typed[reader.words[at].start : reader.words[start - 1].end].strip(_BRACKETS)
        hint += f' "{name}"'
        if PLACES.isdisjoint(name.casefold().split()):
            hint += "  ; a person goes behind  by  or  with"
    if reader.said.place is not None or reader.said.site is not None:
        hint = f"{hint}  , on a line of its own above what was seen there"
    reader.fault("place-without-sign", "A place begins with @.", hint, reader.words[at], reader.words[end - 1])
    return end


def _read(reader: Reader, start: int) -> tuple[Place, int] | None:
    """The grid reference that begins at a word, and where it ends; None where there is none."""
    for end in range(min(len(reader.words), start + 3), start, -1):
        run = reader.words[start:end]
        text = reader.typed[run[0].start : run[-1].end]
        if any(one.quoted for one in run) or not re.fullmatch(r"[A-Za-z]{1,2} ?[0-9]{2,5} ?[0-9]{2,5}", text, re.ASCII):
            continue
        place = read_place(text)
        if not isinstance(place, Fault):
            return place, end
    return None
