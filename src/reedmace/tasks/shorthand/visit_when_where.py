"""When and where, on the line of a visit: each function reads one thing at a word, or leaves it (None)."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from reedmace.faults import Fault
from reedmace.places.vice_counties import find_vice_county
from reedmace.records import Site
from reedmace.tasks.shared.dates import read_date, weekday_of
from reedmace.tasks.shared.setting import find_habitat
from reedmace.tasks.shorthand.field_words import Word, clock
from reedmace.tasks.shorthand.places_typed import find_site, place_at, site_unclear
from reedmace.tasks.shorthand.visit_said import Reader
from reedmace.tasks.shorthand.visit_words import REFERENCE

KINDS = {
    "exact": "exact",
    "map": "map estimate",
    "mapped": "map estimate",
    "centroid": "centroid",
    "centre": "centroid",
}
_DIRECTIONS = ("north", "south", "east", "west", "mid", "n", "s", "e", "w")
_DATE_LIKE = r"[0-9]{1,4}[-/.][0-9]{1,2}[-/.][0-9]{1,4}|[0-9]{4}-[0-9]{2}|[0-9]{1,2}/[0-9]{4}|[0-9]{4}-[0-9-]+/[0-9-]+"


def place(reader: Reader, at: int) -> int | None:
    """`@ SU 431 118 "outflow ditch"`, or `@ "a registered site"`."""
    word = reader.words[at]
    if word.plain != "@":
        return None
    site, end = _bare_site(reader, at + 1)
    if site is not None:
        reader.put(word, site=site)
        return end
    if ":" in reader.plain(at + 1) and clock(reader.plain(at + 1)):
        time = reader.words[at + 1]
        hint = f"write the time alone:  {time.text}  ; with a place  @ SU 431 118 {time.text}"
        reader.fault("place-missing", "After @ comes a place, and this is a time.", hint, word, time)
        return at + 2
    found = place_at(reader.typed, reader.words, at)
    if isinstance(found, Fault):
        reader.faults.append(found)
        stop = found.where.column - 1 + found.where.width if found.where and found.where.column else word.end
        return next((one for one in range(at, len(reader.words)) if reader.words[one].start >= stop), len(reader.words))
    place, name, end = found
    if place is not None:
        reader.put(word, place=place)
        reader.behind_place = end if not name else -1
    if place is None and not name:
        if (several := _several_sites(reader, at + 1)) is not None:
            return several
        unread = at + 1 < len(reader.words) and not reader.words[at + 1].quoted
        if unread:
            return _not_read(reader, at)
        if reader.words[0] is not word:
            reader.fault(
                "place-missing", "After @ comes a place.", 'write, for example,  @ SU 431 118  "Sallow Farm"', word
            )
    elif name:
        reader.named = True
        site = find_site(reader.sites, name) if place is None else None
        spot = reader.words[0] is word  # where a name alone will do, it is a site's only as a whole
        unclear = site_unclear(reader.sites, name, whole=spot) if place is None else None
        if unclear is not None:
            reader.fault(unclear.code, unclear.message, unclear.hint, word, reader.words[end - 1])
            return end
        reader.put(word, **({"site": site} if site is not None else {"locality": name}))
    return end


def _not_read(reader: Reader, at: int) -> int:
    """Keep the fault of words behind `@` that are no place; a reference behind a name is shown before it."""
    begins = reader.words[at + 1].start
    said, stop = reader.name_run(at + 1)
    stop = max(stop, at + 2)
    turned = re.match(rf"([^\d@\"]*[^\W\d_])[\s,:(-]+({REFERENCE})", reader.typed[begins:], re.ASCII)
    if turned is not None:
        ends = begins + turned.end()
        stop = next((one for one in range(at, len(reader.words)) if reader.words[one].start >= ends), len(reader.words))
        message, shown = "The reference comes right behind @, before the name.", f'{turned[2]} "{turned[1]}"'
        reader.fault("place-order", message, f"write  @ {shown}", reader.words[at + 1], reader.words[stop - 1])
        return stop
    named = f' "{said}"' if said else ""
    reader.fault(
        "place-not-read",
        "This is no grid reference, no position and no registered site.",
        f"write, for example,  @ SU 431 118{named}  ; a name of a place goes in quotes",
        reader.words[at + 1],
        reader.words[stop - 1],
    )
    return stop


def _several_sites(reader: Reader, at: int) -> int | None:
    """Keep the fault of words without quotes that several registered sites answer to."""
    for run, end in _runs(reader, at):
        unclear = site_unclear(reader.sites, " ".join(one.text for one in run))
        if unclear is not None:
            reader.fault(unclear.code, unclear.message, unclear.hint, run[0], run[-1])
            return end
    return None


def _runs(reader: Reader, at: int) -> Iterator[tuple[Sequence[Word], int]]:
    """Words without quotes from `at` on that may be one name, the longest first, and where they end."""
    for end in range(min(len(reader.words), at + 6), at, -1):
        run = reader.words[at:end]
        if not any(one.quoted or one.plain == "@" for one in run):
            yield run, end


def _bare_site(reader: Reader, at: int) -> tuple[Site | None, int]:
    for run, end in _runs(reader, at):
        site = find_site(reader.sites, " ".join(one.text for one in run))
        if site is not None:
            return site, end
    return None, at


def day(reader: Reader, at: int) -> int | None:
    """A date of one to seven words; one that looks like a date and is none is a fault."""
    for end in range(min(len(reader.words), at + 7), at, -1):
        run = reader.words[at:end]
        if any(one.quoted for one in run):
            continue
        text = reader.typed[run[0].start : run[-1].end]
        if end - at == 1 and not re.search(r"[0-9]{4}|day", text):
            continue
        # The longer ones end in their year; of two figures it may be behind a day of the week: Sun 28 June 26.
        figures = 2 if end - at == 4 and weekday_of(run[0].plain.rstrip(".")) is not None else 4
        if end - at > 3 and not re.search(rf"[0-9]{{{figures}}}$", text, re.ASCII):
            continue
        read = read_date(text, reader.today)
        if not isinstance(read, Fault):
            reader.put(run[0], day=read)
            return end
        if read.code != "date-not-read" and (end - at > 1 or re.fullmatch(_DATE_LIKE, text, re.ASCII)):
            reader.fault(read.code, read.message, read.hint, run[0], run[-1])
            return end
    text = reader.words[at].plain
    if re.fullmatch(_DATE_LIKE, text, re.ASCII):
        read = read_date(text, reader.today)
        if isinstance(read, Fault):
            reader.fault(read.code, read.message, read.hint, reader.words[at])
            return at + 1
    return None


def county(reader: Reader, at: int) -> int | None:
    """`VC11`, `vc H33`, `VC S. Hants`; `H21` alone beside a place, for it could be one."""
    plain = reader.plain(at).rstrip(":.")
    if re.fullmatch(r"h[0-9]{1,2}", plain, re.ASCII):
        return _irish(reader, at)
    found = re.fullmatch(r"(?:v\.?c|vice-county)(h?[0-9]{0,3})", plain, re.ASCII)
    if found is None:
        return None
    if not found[1] and (end := county_named(reader, at + 1)) is not None:
        return end
    end = at + 1 if found[1] else at + 2
    read = find_vice_county(found[1] or reader.plain(at + 1))
    if isinstance(read, Fault):
        reader.fault(read.code, read.message, read.hint, reader.words[at])
    else:
        reader.put(reader.words[at], vice_county=read.number)
    return end


def _irish(reader: Reader, at: int) -> int | None:
    word = reader.words[at]
    read = find_vice_county(word.text)
    if isinstance(read, Fault):
        return None
    if any(one.plain == "@" for one in reader.words):
        reader.put(word, vice_county=read.number)
    else:
        hint = f"write  VC{read.number}  or  @ {word.text}"
        reader.fault("county-or-place", f"{word.text} could be a vice-county or a 10-km square.", hint, word)
    return at + 1


def county_named(reader: Reader, at: int) -> int | None:
    """A vice-county by its name with a capital, in up to five words: `South Hampshire`, `S. Hants`."""
    if not (at < len(reader.words) and reader.plain(at) and reader.words[at].text[:1].isupper()):
        return None
    for end in range(min(len(reader.words), at + 5), at, -1):
        run = reader.words[at:end]
        text = reader.typed[run[0].start : run[-1].end]
        if any(one.quoted for one in run) or not re.fullmatch(r"[^\W\d_](?:[^\W\d_]|[ .,'’-])*", text):
            continue
        read = find_vice_county(text)
        if not isinstance(read, Fault):
            reader.put(run[0], vice_county=read.number)
            return end
        if len(run) == 1 and read.code == "vice-county-ambiguous" and run[0].plain.rstrip(".") not in _DIRECTIONS:
            reader.fault(read.code, read.message, read.hint, run[0])
            return end
    return None


def kind(reader: Reader, at: int) -> int | None:
    """`exact`, `map estimate`, `centroid`."""
    kind = KINDS.get(reader.plain(at))
    if kind is None:
        return None
    reader.put(reader.words[at], place_kind=kind)
    return at + 1 + (reader.plain(at + 1) in ("estimate", "est"))


def habitat(reader: Reader, at: int) -> int | None:
    """A habitat of the key by its whole name, in up to three words."""
    for end in range(min(len(reader.words), at + 3), at, -1):
        text = " ".join(reader.plain(one) for one in range(at, end))
        known = {one.id for one in reader.key.habitats} | {one.title.casefold() for one in reader.key.habitats}
        known |= {word.casefold() for one in reader.key.habitats for word in one.words}
        if text in known or text.replace(" ", "-") in known:
            found = find_habitat(reader.key, " ".join(word.text for word in reader.words[at:end]))
            if not isinstance(found, Fault):
                reader.put(reader.words[at], habitat=found[0].id, habitat_typed=found[1])
                return end
    return None
