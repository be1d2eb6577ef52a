"""Times of day on the line of a visit; those that could be two times, or the weather's, are asked about."""

from __future__ import annotations

import re

from reedmace.keys.seasons import month_of
from reedmace.tasks.shorthand.field_words import Word, clock
from reedmace.tasks.shorthand.half_of_day import halves, later_than, time_unclear
from reedmace.tasks.shorthand.visit_said import Reader

_EARLIEST = "06:00"  # bare hours before that could be those of the afternoon


def times(reader: Reader, at: int) -> int | None:
    """`10:30-12:00`, `10:30 to 12:00`, `10:30`, `until 12:00`, `now`."""
    plain = reader.plain(at)
    if (end := _of_weather(reader, at)) is not None:
        return end
    if plain == "now":
        reader.put(reader.words[at], start=reader.now)
        return at + 1
    if plain in ("from", "start"):
        end = _range(reader, at + 1)
        return end if end is not None else _one(reader, at, at + 1, "start")
    if plain in ("until", "till", "til", "end", "ended", "to"):
        return _one(reader, at, at + 1, "end")
    end = _range(reader, at)
    return end if end is not None else _one(reader, at, at, "start")


def _one(reader: Reader, at: int, where: int, field: str) -> int | None:
    """The time at `where`, said by the word at `at`; of two that it may be, the one behind the start."""
    plain = reader.plain(where)
    time = reader.now if plain == "now" and where > at else clock(plain)
    start = reader.said.start if field == "end" else None
    if start is not None:
        time = later_than(start, plain) or time or _whole_hour(plain, start, reader.plain(where + 1))
    if time is None:
        return None
    if halves(plain) and not (start and later_than(start, plain)):
        unclear = time_unclear(reader.words[where], reader.typed)
        if unclear is not None:
            reader.faults.append(unclear)
            return where + 1
    reader.put(reader.words[at], **{field: time})
    return where + 1


def _range(reader: Reader, at: int) -> int | None:
    """Two times, in one word or in three."""
    word = reader.words[at] if at < len(reader.words) else None
    if word is None or word.quoted:
        return None
    first, last, end = "", "", at + 1
    if found := re.fullmatch(r"([^-–—]+?)(?:-|–|—|to)([^-–—]+)", word.plain):
        first, last = found[1], found[2]
        both = _from_to(first, last, reader.plain(end), dated=reader.said.day is not None)
    else:
        both = None
    if both is None and reader.plain(at + 1) in ("-", "–", "—", "to", "until", "till", "til"):
        first, last, end = word.plain, reader.plain(at + 2), at + 3
        both = _from_to(first, last, reader.plain(end), dated=reader.said.day is not None)
    if both is None:
        return None
    if halves(first) and not last.endswith(("am", "pm")):
        begun = Word(first, first, word.start, word.end)
        unclear = time_unclear(begun, reader.typed, bare=True, last=reader.words[end - 1])
        assert unclear is not None
        reader.faults.append(unclear)
    elif halves(last, bare=False) and both[1] != later_than(both[0], last):
        ending = reader.words[end - 1]
        unclear = time_unclear(Word(last, last, ending.start, ending.end), reader.typed)
        assert unclear is not None
        reader.faults.append(unclear)
    else:
        reader.put(word, start=both[0], end=both[1])
    return end


def _of_weather(reader: Reader, at: int) -> int | None:
    """`sunny until 11:00`: the time right behind the weather may be that of the weather. A comma parts the two."""
    if at != reader.behind_weather or reader.plain(at) not in ("until", "till", "til", "to", "from", "at", "by"):
        return None
    if not reader.typed[reader.words[at - 1].end : reader.words[at].start].isspace():
        return None
    end = at + 2
    if clock(reader.plain(at + 1)) is None and not re.match(r"[0-9.:]+(?:-|–|—|to)[0-9]", reader.plain(at + 1)):
        return None
    if reader.plain(end) in ("-", "–", "—", "to", "until", "till", "til") and clock(reader.plain(end + 1)):
        end += 2
    said = reader.typed[reader.words[at].start : reader.words[end - 1].end]
    weather = reader.weather[-1]
    reader.fault(
        "time-of-weather",
        f'"{said}" right behind the weather could be when it was {weather}, or the time of the visit.',
        f"of the visit write it with a comma before it:  {weather}, {said}  ; of the weather after  #",
        reader.words[at],
        reader.words[end - 1],
    )
    return end


def whole_hours(reader: Reader, at: int) -> int | None:
    """`10-12` and `1030-1200`, where nothing else fits; figures that could be years are left."""
    found = re.fullmatch(r"([0-9]{1,2})([0-9]{2})?[-–]([0-9]{1,2})([0-9]{2})?", reader.joined(at, at + 3), re.ASCII)
    end = at + 3
    if found is None:
        plain = reader.plain(at)
        found = re.fullmatch(r"([0-9]{1,2})([0-9]{2})?[-–]([0-9]{1,2})([0-9]{2})?", plain, re.ASCII)
        end = at + 1
    if found is None or bool(found[2]) != bool(found[4]) or month_of(reader.plain(end)):
        return None
    if not found[2] and halves(found[1]) and halves(found[3]) and int(found[1]) < int(found[3]):
        begun = Word(found[1], found[1], reader.words[at].start, reader.words[at].end)
        unclear = time_unclear(begun, reader.typed, bare=True, last=reader.words[end - 1])
        assert unclear is not None
        reader.faults.append(unclear)
        return end
    first, last = clock(f"{found[1]}:{found[2] or '00'}"), clock(f"{found[3]}:{found[4] or '00'}")
    years = bool(found[2]) and int(found[1]) > 17
    if first is None or last is None or years or not _EARLIEST <= first < last:
        return None
    reader.put(reader.words[at], start=first, end=last)
    return end


def _from_to(first: str, last: str, following: str, *, dated: bool) -> tuple[str, str] | None:
    """Two times; a first one without am or pm is in the half of the day of the last, if it comes before it there.

    `following` is the word behind them, `dated` says that the day was told before.
    """
    end = clock(last)
    begun = clock(first) or _hour_before(first, last, following, dated=dated)
    if begun is not None and not month_of(following):
        end = later_than(begun, last) or end or _whole_hour(last, begun, following)
    if end is None:
        return None
    half = last[-2:] if last.endswith(("am", "pm")) else ""
    if half and not first.endswith(("am", "pm")):
        same = clock(f"{first}{half}")
        start = same if same is not None and same <= end else clock(first) or clock(f"{first}am")
    else:
        # Of a bare hour before a whole time it is asked which half of the day is meant.
        both = halves(first)
        start = begun or (both[0] if both else None)
    return (start, end) if start is not None and (begun == clock(first) or start < end) else None


def _hour_before(first: str, last: str, following: str, *, dated: bool) -> str | None:
    """The bare hour of `11-12.30`, from that of the earliest bare one on; days and their month are no times."""
    if not re.fullmatch(r"[0-9]{1,2}", first, re.ASCII) or re.fullmatch(r"[0-9]{4}", following, re.ASCII):
        return None
    ending = re.fullmatch(r"[0-9]{1,2}([.:h])([0-5][0-9])(?:am|pm)?", last, re.ASCII)
    if ending is None or (ending[1] == "." and 0 < int(ending[2]) <= 12 and not dated):  # 10-12.07
        return None
    hour = f"{int(first):02}:00"
    return hour if _EARLIEST < hour < "24:00" else None


def _whole_hour(last: str, start: str, following: str) -> str | None:
    """The bare hour of "10.30 to 12", where it comes after the start and is not the day of a date."""
    if month_of(following):
        return None
    if not re.fullmatch(r"[0-9]{1,2}", last, re.ASCII):
        return None
    if start >= "12:00" and 0 < int(last) < 12:  # "2pm until 4"
        last = str(int(last) + 12)
    hour = f"{int(last):02}:00" if int(last) < 24 else ""
    return hour if hour > start else None
