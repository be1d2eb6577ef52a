"""Dates that are more, or less, than a day: `2026-07-12/2026-07-14`, `June-July 1987`, `summer 1987`, `1980s`."""

import re

from reedmace.keys.seasons import MONTHS

# Seasons by whole months, as weather services count them; winter runs over two years and is left out.
_SEASONS = {"spring": (3, 5), "summer": (6, 8), "autumn": (9, 11)}


def read_vague(plain: str) -> str | None:
    """The ISO 8601 interval that a vague date in small letters means; None where it is none."""
    if "/" in plain and re.match(r"[0-9]{4}", plain) and _is_date(plain):
        return plain
    if decade := re.fullmatch(r"([0-9]{3}0)s", plain, re.ASCII):
        return f"{decade[1]}/{int(decade[1]) + 9}"
    if season := re.fullmatch(r"(spring|summer|autumn)\s+([0-9]{4})", plain, re.ASCII):
        first, last = _SEASONS[season[1]]
        return f"{season[2]}-{first:02}/{season[2]}-{last:02}"
    if months := re.fullmatch(r"([a-z]{3,9})\s*(?:-|–|to)\s*([a-z]{3,9})\s+([0-9]{4})", plain):
        first_month, last_month = (_month(months[part]) for part in (1, 2))
        if first_month and last_month and first_month < last_month:
            return f"{months[3]}-{first_month:02}/{months[3]}-{last_month:02}"
    if days := re.fullmatch(r"([0-9]{1,2})\s*(?:-|–|to)\s*([0-9]{1,2})\s+([a-z]{3,9})\s+([0-9]{4})", plain):
        month = _month(days[3])
        text = f"{days[4]}-{month or 0:02}-{int(days[1]):02}/{days[4]}-{month or 0:02}-{int(days[2]):02}"
        return text if _is_date(text) else None
    return None


def _is_date(iso: str) -> bool:
    from reedmace.records.dates import span  # brings all records with it: only those who type an interval pay

    return span(iso) is not None


def _month(word: str) -> int | None:
    return next((index + 1 for index, name in enumerate(MONTHS) if len(word) > 2 and name.startswith(word)), None)
