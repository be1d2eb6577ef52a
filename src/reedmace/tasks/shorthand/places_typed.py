"""Places as they are typed within a line: after `@` a reference, a name in quotes, or a registered site."""

from __future__ import annotations

import re
from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.places.place import Place, read_place
from reedmace.records import Site, unless_blank
from reedmace.tasks.shorthand.field_words import Word, slip


def place_unsigned(typed: str) -> Fault | None:
    """What is wrong with `emperor 1 SU 4321 1190`: figures of a place without its sign were taken for counts."""
    for found in re.finditer(
        r"(?<![\w@])[A-Z]{1,2} ?([0-9]{2,5}) ([0-9]{2,5})(?!\w)", typed.partition("#")[0], re.ASCII
    ):
        before = typed[: found.start()].rstrip()
        said = before.endswith("@") or re.search(r"(?i)\bat$", before) or before.count('"') % 2
        if said or len(found[1]) != len(found[2]) or isinstance(read_place(found[0]), Fault):
            continue
        return slip(
            "place-without-sign", "A place begins with @.", f"write  @ {found[0]}", typed, found.start(), found.end()
        )
    return None


def place_at(typed: str, words: tuple[Word, ...], at: int) -> tuple[Place | None, str, int] | Fault:
    """The place that begins at an `@`: the longest run of words that reads as one, then a name in quotes.

    Gives the place (None where there is no reference), the name, and where the next word begins.
    """
    first = at + 1
    fault: Fault | None = None
    figures = False
    for end in range(min(len(words), first + 6), first, -1):
        run = words[first:end]
        if any(word.quoted or word.plain in ("@", "?") for word in run):
            continue
        read = read_place(typed[run[0].start : run[-1].end])
        if not isinstance(read, Fault):
            quoted = words[end] if end < len(words) and words[end].quoted else None
            return read, unless_blank(quoted.text) if quoted else "", end + (quoted is not None)
        # The fault to tell is that of the words that look like one reference: "SU" and the figures after it.
        alike = all(len(word.text) == 1 or not any(sign.isalpha() for sign in word.text) for word in run[1:])
        if fault is None or (alike and not figures):
            figures = alike
            fault = slip(read.code, read.message, read.hint, typed, run[0].start, run[-1].end)
    if first < len(words) and words[first].quoted:
        return None, unless_blank(words[first].text), first + 1
    if fault is not None and re.match(r"[A-Za-z]{1,2}(?:[0-9]|$)|[0-9+-]", words[first].text):
        return fault
    return None, "", first


def find_site(sites: Sequence[Site], typed: str) -> Site | None:
    """The registered site with this name, or the one whose name it begins; None for none or several."""
    found, _ = sites_called(sites, typed)
    return found[0] if len(found) == 1 else None


def sites_called(sites: Sequence[Site], typed: str) -> tuple[list[Site], bool]:
    """The registered sites with this name, else those whose names it begins; and whether it is their whole name."""
    wanted = " ".join(typed.casefold().split())
    if not wanted:
        return [], False
    named = [(" ".join(name.casefold().split()), site) for site in sites for name in (site.name, *site.also)]
    whole = {site.id: site for name, site in named if name == wanted}
    begun = {site.id: site for name, site in named if name.startswith(wanted)}
    return list((whole or (begun if len(wanted) > 2 else {})).values()), bool(whole)


def site_unclear(sites: Sequence[Site], typed: str, *, whole: bool = False) -> Fault | None:
    """The fault of a name that several registered sites answer to, with all of them; `whole` leaves beginnings out."""
    found, is_whole = sites_called(sites, typed)
    if len(found) < 2 or (whole and not is_whole):
        return None
    names = ", ".join(f'"{site.name}"' for site in found)
    hint = f"write one of their names:  {names}"
    if len({site.name.casefold() for site in found}) < len(found) or any(
        " ".join(site.name.casefold().split()) == " ".join(typed.casefold().split()) for site in found
    ):
        hint = f"they are  {names}  : write a name that only one of them has, or the grid reference with the name"
    return Fault("site-ambiguous", f'"{typed}" could be {len(found)} registered sites.', hint, typed, typed=True)


def name_taken(others: Sequence[Site], names: Sequence[str]) -> Fault | None:
    """The fault of a site's name, or further name, that another site has: nobody could say which is meant."""
    for name in names:
        found, whole = sites_called(others, name)
        if whole:
            hint = (
                f'give it another name; to change the other:  reedmace sites add "{found[0].name}" PLACE --reason WHY'
            )
            return Fault("site-name-taken", f"The site {found[0].name} has this name.", hint, name, typed=True)
    return None
