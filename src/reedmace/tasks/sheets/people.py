"""A cell of people → their names, and company that is not named; or a fault, where it says what cannot be kept."""

from __future__ import annotations

import re
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.tasks.sheets import people_words as words
from reedmace.tasks.sheets.children import child_in

_ET_AL = re.compile(r"[\s,(]*\bet\.?\s+al(?:\.|ii\b|ia\b|\b)\)?", re.IGNORECASE)
_PARTED = re.compile(
    r"[|;&+\n]|(?<=[^\W\d_])\.?\s*/\s*(?=[^\W\d_])|\band\b(?!\s+(?:(?:a|his|her|their)\s+)?party)", re.IGNORECASE
)
_WITH = re.compile(r"\s*,?\s*\b(?:with|plus|accompanied\s+by|assisted\s+by)\b\s*", re.IGNORECASE)
_BRACKETS = re.compile(r"\s*[(\[]([^()\[\]]*)[)\]]")
_JOIN = r"\s*(?:,|\b(?:and|with|plus)\b)\s*"
_BEFORE = re.compile(rf"(?P<name>[^0-9]+?){_JOIN}(?P<party>(?:(?:a|his|her|their)\s+)?party\b.*)", re.IGNORECASE)
_BEHIND = re.compile(rf"(?P<party>.*\bparty\b.*?)(?:\s+led\s+by\s+|{_JOIN})(?P<name>[^0-9]+)", re.IGNORECASE)
_INITIALS = re.compile(r"(?:[^\W\d_]\.\s*)+")
_TITLE = re.compile(r"(?:mr|mrs|ms|miss|mx|dr|prof|rev|revd|sir|lady)\.?", re.IGNORECASE)
_TITLED = re.compile(rf"{_TITLE.pattern}\s+\S", re.IGNORECASE)
_YEAR = re.compile(r"(?P<name>.*[^\W\d_].*?)[\s,]+\(?(?:1[789]|20)[0-9]{2}\)?", re.ASCII)
# Words for people who are not named: where one stands before a party, it is part of what the party is called.
_NOT_NAMED = frozenset(
    (
        *("a", "an", "the", "leader", "leaders", "warden", "wardens", "ranger", "rangers", "guide", "teacher", "staff"),
        *("group", "club", "society", "school", "class", "children", "members", "volunteers", "others", "friends"),
        *("family", "students", "pupils", "party"),
    )
)
_PARTICLES = frozenset(
    ("de", "van", "von", "der", "den", "di", "da", "du", "del", "della", "la", "le", "ten", "ter", "af")
)
_BEHIND_NAMES = frozenset(("jr", "jnr", "junior", "sr", "snr", "senior", "phd", "msc", "bsc", "ba", "ma", "md"))
_PART_HINT = "part names with ; and write first name and surname:  Ada Marsh; Ben Sallow"


class People(NamedTuple):
    """Names, in their order, and company that is not named."""

    names: tuple[str, ...] = ()
    party: str = ""


def read_people(text: str, me: str = "") -> People | Fault:
    """Read who: names, and a party without names. Of "Ada Marsh and party of 12" the name is Ada Marsh.

    Names are parted by | ; & + / "and", "with", and by a comma between whole names ("Ada Marsh, Ben Sallow") or
    behind initials ("Marsh, A., Sallow, B."); one comma else stays in a name, for many write the surname first
    ("Marsh, Ada"). `me` is the name of whoever keeps the sheet.
    """
    cell = " ".join(text.split())
    if words.is_nobody(cell):
        return People()
    contact = words.contact_in(cell)
    if contact:
        return _contact(contact, cell)
    reading = _Reading(cell, me)
    child = child_in(cell)
    if child is not None:
        return child
    return reading.read()


class _Reading:
    """A cell being read."""

    def __init__(self, cell: str, me: str) -> None:
        self.cell, self.me = cell, me
        self.names: dict[str, None] = {}
        self.company: list[str] = []
        self.fault: Fault | None = None

    def read(self) -> People | Fault:
        plain = words.PREFIX.sub("", self.cell, count=1) if words.PREFIX.match(self.cell) else self.cell
        also = _ET_AL.search(plain)
        if also:
            plain = f"{plain[: also.start()]} ; {plain[also.end() :]}"
        behind: list[str] = []

        def bracket(found: re.Match[str]) -> str:
            inside = found[1].strip()
            if inside.casefold().strip(".") in words.ROLES or _YEAR.fullmatch(f"x {inside}"):
                return " "
            joined = re.sub(r"^(?:with|and|plus|incl\.?|including)\b\s*|^[+&]\s*", "", inside, flags=re.IGNORECASE)
            if words.is_company(joined) or (joined != inside and words.holds_group(joined)):
                behind.append(joined)
                return " "
            return f" ({inside})"

        plain = _BRACKETS.sub(bracket, plain)
        parts = [" ".join(part.split()).strip(" ,:") for part in _PARTED.split(plain)]
        for part, following in zip(parts, [*parts[1:], ""], strict=True):
            # `A. & B. Marsh` have one surname, and so have `Mr & Mrs Marsh`.
            alone = _INITIALS.fullmatch(part) and _INITIALS.match(following) and not _INITIALS.fullmatch(following)
            shared = alone or (_TITLE.fullmatch(part) and _TITLED.match(following))
            self._part(f"{part} {following.rpartition(' ')[2]}" if shared else part)
        self.company += behind
        if also:
            self.company.append(also[0].strip(" ,()"))
        return self._told()

    def _told(self) -> People | Fault:
        party = "; ".join(self.company)
        if self.fault is None and party and not self.names and not words.is_party(party):
            self._unread(party)
        return self.fault or People(tuple(self.names), party)

    def _part(self, part: str) -> None:
        if not part or (self.names and _YEAR.fullmatch(f"x {part}")):
            return
        people, comma, last = part.rpartition(",")
        listed = comma and words.is_company(last) and not words.holds_group(people)  # Marsh, A., Quill, P., party
        if not (listed or words.is_company(part)) and re.search(r"\bparty\b", part, re.IGNORECASE):
            name, party = _apart(part)
            if name:
                self._names(name)
            self.company.append(party)
            return
        first, *others = _WITH.split(part)
        self._person(first)
        for other in others:
            self._person(other, beside=True)

    def _person(self, part: str, *, beside: bool = False) -> None:
        """Take one person, or several parted by commas, or company; `beside` somebody who was named before."""
        part = part.strip(" ,:")
        if not part:
            return
        if words.is_company(part) or (beside and words.holds_group(part)):
            self.company.append(part)
            return
        *before, last = re.split(r"\s*,\s*", part)
        if before and words.is_company(last):
            self._names(", ".join(before))
            self.company.append(last)
            return
        self._names(part)

    def _names(self, text: str) -> None:
        """Take names, each without the year that stands behind it."""
        dated = _YEAR.fullmatch(text)
        text = dated["name"].strip(" ,") if dated else text
        parted = _by_comma(text)
        if parted is None:
            why = f'In "{text}" it is not clear where one name ends and the next begins.'
            self.fault = self.fault or Fault("people-unclear", why, _PART_HINT, self.cell)
            return
        for name in parted:
            plain = name.casefold().strip(" .")
            if plain in words.ME:
                self._myself()
            elif words.is_nobody(name):
                self.company.append(name)
            elif words.is_code(name):
                self.names[name] = None
            elif any(sign.isdigit() or sign in "()[]<>=@#?" for sign in name) or _unclear(plain):
                self._unread(name)
            else:
                self.names[name] = None

    def _myself(self) -> None:
        if self.me:
            self.names[self.me] = None
        else:
            hint = 'write the name, or say who you are:  reedmace people --me "Ada Marsh"'
            why = "Nobody has said who keeps this sheet."
            self.fault = self.fault or Fault("people-not-read", why, hint, self.cell)

    def _unread(self, what: str) -> None:
        why = f'"{what}" is no name of a person, or not only that.'
        hint = "write names alone, parted by ; and count who is not named (party of 6); what else there is to say goes"
        self.fault = self.fault or Fault("people-not-read", why, f"{hint} into the remarks", self.cell)


def _unclear(plain: str) -> bool:
    found = re.findall(r"[^\W_]+", plain)
    return not found or any(word in words.UNCLEAR for word in found) or _TITLE.fullmatch(plain) is not None


def _contact(contact: str, cell: str) -> Fault:
    why = f'"{contact}" is no part of a name. Contact details go into no record, and into no export.'
    hint = 'write the name alone; to keep it in your register:  reedmace people --add NAME --contact "..."'
    return Fault("contact-in-names", why, hint, cell)


def _by_comma(text: str) -> list[str] | None:
    """Part names at commas where that is clear; None where it could be done in several ways."""
    parts = [part.strip() for part in text.split(",") if part.strip()]
    if len(parts) < 2 or all(part.casefold().strip(".") in _BEHIND_NAMES for part in parts[1:]):
        return [text]
    kinds = "".join(map(_kind, parts))
    if set(kinds) == {"N"}:
        return parts
    if re.fullmatch("(?:[SN]I)+", kinds):
        return [", ".join(pair) for pair in zip(parts[::2], parts[1::2], strict=True)]
    if kinds in ("SS", "SN") or (kinds == "NS" and parts[0].split()[0].casefold() in _PARTICLES):
        return [text]
    return parts if set(kinds) == {"I"} else None


def _kind(part: str) -> str:
    """Give what a part between commas is: initials, a single word, or a whole name."""
    if re.fullmatch(r"(?:[^\W\d_]\.?[\s-]*){1,4}", part) and (part.isupper() and ("." in part or len(part) < 4)):
        return "I"
    return "N" if " " in part or re.search(r"\.\S", part) else "S"


def _apart(part: str) -> tuple[str, str]:
    """Part a person's name from a party that stands with it; no name where there is none."""
    found = _BEFORE.fullmatch(part) or _BEHIND.fullmatch(part)
    if found is None:
        return "", part
    name, party = found["name"].strip(" ,("), found["party"].strip()
    said = re.findall(r"\w+", name.casefold())
    if not said or _NOT_NAMED.intersection(said):
        return "", part
    return name, party.removesuffix(")") if "(" not in party else party
