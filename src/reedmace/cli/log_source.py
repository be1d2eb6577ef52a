"""Where the lines of `reedmace log` come from: arguments, a file, standard input; and what its options say."""

from __future__ import annotations

import re
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

from reedmace.cli.surroundings import now, today
from reedmace.faults import Fault, Refused, Where, cannot_read
from reedmace.records.text import unreadable
from reedmace.tasks.shorthand.field_page import read_page, split_lines
from reedmace.tasks.shorthand.page_said import Ask, Reading

if TYPE_CHECKING:
    from reedmace.keys.model import Key
    from reedmace.records import Site
    from reedmace.tasks.shorthand.page_said import PageVisit
    from reedmace.tasks.shorthand.visit_said import VisitSaid


_ANEW = "type it again, or save the notes as UTF-8 (plain text) in your editor"


def options_said(
    key: Key,
    when: str | None,
    place: str | None,
    habitat: str | None,
    locality: str,
    vice_county: str | None,
    remarks: str,
    sites: Sequence[Site],
) -> VisitSaid:
    """The options as if they stood on a visit's line. A place may be a registered site's name."""
    from reedmace.places.place import read_place
    from reedmace.records import unless_blank
    from reedmace.tasks.shared.setting import read_setting
    from reedmace.tasks.shorthand.places_typed import find_site, site_unclear
    from reedmace.tasks.shorthand.visit_said import VisitSaid

    site = find_site(sites, place) if place else None
    reference = place is not None and not isinstance(read_place(place), Fault)
    if place and not reference and (unclear := site_unclear(sites, place)) is not None:
        raise Refused(unclear)
    setting = read_setting(key, when, None if site else place, habitat, today=today(), future=False)
    county = None
    if vice_county:
        from reedmace.places.vice_counties import find_vice_county

        found = find_vice_county(vice_county)
        if isinstance(found, Fault):
            raise Refused(found._replace(typed=True))
        county = found.number
    return VisitSaid(
        day=setting.date,
        place=setting.place,
        site=site,
        locality=unless_blank(locality),
        vice_county=county,
        habitat=setting.habitat.id if setting.habitat else "",
        habitat_typed=setting.habitat_typed,
        notes=(remarks,) if remarks else (),
    )


def read_lines(key: Key, words: tuple[str, ...], source: str | None, sites: Sequence[Site]) -> list[PageVisit]:
    """Lines from arguments (one in words, or several in quotes), a file or standard input; all faults at once."""
    if words and source is not None:
        hint = "put all lines into the file, or run the command twice"
        raise Refused(Fault("said-twice", "There are lines here and a file of lines too.", hint, source, typed=True))
    if words:
        return _from_arguments(key, words, sites)
    if source in (None, "-"):
        text, name = sys.stdin.read().removeprefix("\ufeff"), "standard input"
    else:
        assert source is not None
        text, name = _file(source), source
    return _read(text, Reading(key, name, today(), now(), sites, source in (None, "-"), _ask(key)))


def _ask(key: Key) -> Ask | None:
    """Questions about what is not clear, where somebody sits at a terminal."""
    if not sys.stdin.isatty():
        return None
    from reedmace.cli.log_asking import ask_again

    return ask_again(key)


def _read(text: str | Sequence[str], reading: Reading) -> list[PageVisit]:
    lines = split_lines(text) if isinstance(text, str) else text
    faults = [
        Fault(
            "text-unreadable",
            f"This line cannot be kept: {why}.",
            _ANEW,
            line,
            Where(reading.source, number),
            typed=reading.typed,
        )
        for number, line in enumerate(lines, 1)
        if (why := unreadable(line))
    ]
    if faults:
        raise Refused(*faults)
    visits, faults = read_page(text, reading)
    if faults:
        raise Refused(*faults)
    return visits


def _from_arguments(key: Key, words: tuple[str, ...], sites: Sequence[Site]) -> list[PageVisit]:
    """One line in words, or several in quotes. Where both are mixed, whatever reads without a fault is meant.

    The shell takes the quotes away: `log 2 emperor "by the sluice"` is one line with a remark. But an insect named
    in quotes is never made a remark of: `log "12 emperor m" willow`. A line break within an argument ends a line,
    as in a file.
    """
    reading = Reading(key, "argument", today(), now(), sites, True)
    words = tuple(word.strip("\r\n") for word in words)
    broken = [word for word in words if len(split_lines(word)) > 1]
    spaced = [word for word in words if " " in word.strip() or word in broken]
    if spaced and not broken and len(spaced) < len(words):
        return _mixed(words, spaced, reading)
    ways: list[list[str]] = [[" ".join(words)]]
    if broken:
        # Never a remark with a break in it: what stands behind the break is a line of its own.
        ways = [[line for word in words for line in split_lines(word)]]
        if len(spaced) < len(words):
            ways.append(split_lines(" ".join(words)))
    elif spaced:
        ways = [list(words)]
    for way in ways[:-1]:
        visits, faults = read_page(way, reading)
        if not faults:
            return visits
    return _read(ways[-1], reading._replace(ask=_ask(reading.key)))


def _mixed(words: tuple[str, ...], spaced: Sequence[str], reading: Reading) -> list[PageVisit]:
    """Words of which some, the `spaced`, stood in quotes: lines, or one line, or a line with a remark."""
    named = {name for word in spaced for name in _insects(read_page([word], reading)[0])}
    counted = any(re.match(r"\s*[~c]?\.?[0-9]", word, re.ASCII) for word in spaced)
    lines, joined, remarked = list(words), [" ".join(words)], [_quoted_again(words)]
    for way in (lines, joined) if counted else (lines, joined, remarked):
        visits, faults = read_page(way, reading)
        if not faults and named <= _insects(visits):
            return visits
    if len(spaced) == len(words) - 1 and (named or counted):
        meant = lines
    elif named:
        what = ", ".join(f'"{word}"' for word in spaced)
        hint = "put each line in quotes, or all of it as one; a remark stands behind  #"
        message = f"{what} could be a line, or a remark on one."
        raise Refused(Fault("lines-or-remark", message, hint, remarked[0], typed=True))
    else:
        meant = joined if counted else remarked
    return _read(meant, reading._replace(ask=_ask(reading.key)))


def _insects(visits: Sequence[PageVisit]) -> set[int]:
    """The species named on the lines of visits."""
    return {species for visit in visits for seen in visit.lines for species in seen.line.name.species}


def _quoted_again(words: tuple[str, ...]) -> str:
    """The words in one line, those with blanks in quotes."""
    return " ".join(f'"{word}"' if " " in word.strip() and '"' not in word else word for word in words)


def _file(source: str) -> str:
    from pathlib import Path

    try:
        return Path(source).read_text(encoding="utf-8-sig")
    except OSError as error:
        raise cannot_read(source, error) from error
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        raise Refused(
            Fault(
                "notes-not-utf-8",
                "This file is no UTF-8 text from here on.",
                "save it as UTF-8 (plain text) in your editor",
                where=Where(source, line),
            )
        ) from error


def said_of(key: Key, words: tuple[str, ...], sites: Sequence[Site]) -> VisitSaid:
    """A visit in the words of its line, with its place and day; raises `Refused` with every fault.

    The shell takes quotes away, so words with blanks are tried bare, then in quotes.
    """
    from reedmace.tasks.shorthand.field_words import without_marks
    from reedmace.tasks.shorthand.page_said import placed
    from reedmace.tasks.shorthand.visit_line import read_visit_line
    from reedmace.tasks.walks.log_walk import site_called

    reading = Reading(key, "argument", today(), now(), sites)
    words = tuple(map(without_marks, words))
    text = " ".join(words).strip()
    if len(split_lines(text)) > 1:
        hint = "write the visit on one line; what was seen goes into  reedmace log"
        raise Refused(Fault("several-lines", "The words of a visit are one line.", hint, text, typed=True))
    said, faults = read_visit_line(key, text, today=today(), now=now(), sites=sites)
    if faults and (quoted := _quoted_again(words)) != text and len(words) > 1:
        text = quoted
        said, faults = read_visit_line(key, text, today=today(), now=now(), sites=sites)
    if faults:
        raise Refused(*(placed(fault, reading, 1, text) for fault in faults))
    return somewhere_some_day(site_called(sites, said))


def somewhere_some_day(said: VisitSaid, page: PageVisit | None = None, *, above: bool = False) -> VisitSaid:
    """A visit that says where it was, today unless it says a day; raises `Refused` where it says no place.

    `page` is the visit within a page, `above` says that its lines stand above the first line of a visit.
    """
    from reedmace.tasks.shared.dates import read_date

    if said.place is None and said.site is None:
        hint = 'add  --place "SU 431 118"  or a position from a phone:  --place "51.06, -1.31"'
        if said.locality:
            hint += f'; to use the name alone, register it:  reedmace sites add "{said.locality}" "SU 431 118"'
        why = "Without a place it is no record."
        if page is not None and page.said is not None:
            why = f"The visit of line {page.number} says no place, and without one it is no record."
            hint = f"write the place on that line, such as  @ SU 431 118  ; or {hint}"
        elif page is not None and above and page.lines:
            why = "These lines stand above the line of a visit, and belong to none."
            hint = "write the line of the visit above what was seen on it;  #  begins a remark"
            raise Refused(Fault("visit-below", why, hint, page.lines[0].line.typed.strip(), typed=True))
        elif page is not None and (spot := next((one.spot for one in page.lines if one.spot), None)) is not None:
            why = f"{why} A line that begins with @ is a place within a visit."
            hint = f"begin the page with the line of the visit:  visit {spot.typed.strip()}  ; or {hint}"
        raise Refused(Fault("place-missing", why, hint, said.typed or None, typed=True))
    if said.day is None:
        day = read_date("today", today())
        assert not isinstance(day, Fault)
        said = said._replace(day=day)
    not_to_come(said.day.iso if said.day else None, said.start, said.end)
    return said


def not_to_come(day: str | None, *times: str | None) -> None:
    """Raise `Refused` where one of the times of a day, which may be today, is still to come."""
    from reedmace.tasks.walks.to_come import time_to_come

    if day is not None and any(times) and (told := time_to_come(day, times, today().isoformat(), now())) is not None:
        raise Refused(told)
