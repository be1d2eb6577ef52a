"""Ids as other programs write them: one id, however it is spelt.

A UUID is the same in capitals, in braces, without its hyphens and with `urn:uuid:` before it (RFC 9562, section 4), and
any id is the same behind the apostrophe by which a spreadsheet marks text.
"""

from __future__ import annotations

import re

_HEX = r"[0-9a-f]"
_UUID = re.compile(
    rf"(?:urn:uuid:)?(?P<open>\{{)?(?P<digits>{_HEX}{{8}}(?P<sign>-?)(?:{_HEX}{{4}}(?P=sign)){{3}}{_HEX}{{12}})(?(open)\}})",
    re.ASCII | re.IGNORECASE,
)
_PARTS = (8, 12, 16, 20)  # where hyphens stand among the digits


def read_id(text: str) -> str:
    """Give an id as it is kept and compared: a UUID in small letters with hyphens, another as it is, without blanks."""
    plain = text.strip()
    if plain.startswith("'"):
        plain = plain[1:].strip()
    found = _UUID.fullmatch(plain)
    if found is None:
        return plain
    digits = found["digits"].replace("-", "").lower()
    return "-".join(digits[start:end] for start, end in zip((0, *_PARTS), (*_PARTS, 32), strict=True))


def spellings_of(text: str) -> tuple[str, ...]:
    """Give all that a record of this id may be kept under, the one reading first: ids were once kept as they came."""
    plain = read_id(text)
    forms = [plain]
    if _UUID.fullmatch(plain):
        for one in (plain, plain.replace("-", "")):
            for cased in (one, one.upper()):
                forms += [cased, f"urn:uuid:{cased}", f"URN:UUID:{cased}", f"{{{cased}}}"]
    return tuple(dict.fromkeys((*forms, f"'{plain}", text.strip(), text)))
