"""Reading a latitude and longitude as a phone or a web map pastes it.

Decimal degrees ("52.5, -1.5"), with letters ("51.0596N 1.3101W", "N51.0596 W1.3101"), degrees and minutes or
degrees, minutes and seconds (52°30'0"N, 1°30'0"W), each optionally followed by its accuracy ("±8 m").
A position is taken as WGS84.  Only the British Isles and the sea around them are accepted, because nearly
every slip (swapped order, a lost minus) lands somewhere else, and can then be named.
"""

import re
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.places.datum import to_grid
from reedmace.places.grid import tidy
from reedmace.places.squares import EXTENT

_EXAMPLE = 'write it like "51.0596, -1.3101": latitude first, west negative'

_SAME = {
    **dict.fromkeys("−–‒﹣－", "-"),
    **dict.fromkeys("º˚", "°"),
    **dict.fromkeys("′’‘´`", "'"),
    **dict.fromkeys("″”“", '"'),
}
_ALIKE = str.maketrans(_SAME)

_NUMBER = r"(?:[0-9]{1,3}(?:\.[0-9]+)?|\.[0-9]+)"
_DECIMAL = rf"([-+]?) ?({_NUMBER}) ?°?"
_ANGLE = rf"([-+]?) ?((?:[0-9]{{1,3}}(?: ?° ?| )(?:[0-9]{{1,2}}(?: ?' ?| ))?)?{_NUMBER} ?[°'\"]?)"
_APART = r"(?: ?[,;] ?| )"
_MAYBE_APART = r"(?: ?[,;] ?| ?)"
_ACCURACY = r"[,;]? ?\(? ?(?:±|\+/-) ?([0-9]+(?:\.[0-9]+)?) ?(M|METRES?|METERS?) ?\)?$"

_DEGREE_M = 111_200


class Position(NamedTuple):
    """A WGS84 position in degrees; `uncertainty_m` is the accuracy typed with it, None if none was.

    `step_m` is how far apart, northwards, two positions are that can just be told apart as it was typed: about 1 km
    for two decimals of a degree. None where nothing is known of how it was typed.
    """

    typed: str
    latitude: float
    longitude: float
    uncertainty_m: float | None = None
    step_m: float | None = None


class _Angle(NamedTuple):
    """One half of a position as read: degrees with their sign, and its compass letter or ''."""

    degrees: float
    letter: str


def parse_position(text: str) -> Position | Fault:
    """Read the position a text says; a fault says why it can't be used.  Never raises."""
    plain = tidy(text).translate(_ALIKE).replace("''", '"')
    # Only our own letters: upper-casing may turn a foreign letter into one of them.
    plain = "".join(c.upper() if c.isascii() else c for c in plain)
    if not plain:
        return _fault("position-empty", "There is no position here.", _EXAMPLE, text)
    plain, accuracy = _accuracy(plain, text)
    if isinstance(accuracy, Fault):
        return accuracy
    read = _read(_bare(plain), text)
    if read is None:
        return _unreadable(plain, text)
    if isinstance(read, Fault):
        return read
    latitude, longitude = read
    return _range_fault(latitude, longitude, text) or Position(
        text, latitude, longitude, accuracy, _step_m(_bare(plain))
    )


def around_british_isles(latitude: float, longitude: float) -> bool:
    """Whether a position lies in the British Isles or the sea around them.

    The box runs from Rockall (14° W) to the east edge of the National Grid, and from just south of Scilly to
    north of Shetland; a second, small box holds the Channel Islands without the French mainland.
    """
    if in_channel_islands(latitude, longitude):
        return True
    if not (49.75 <= latitude <= 61.5 and -14.0 <= longitude <= 4.0):
        return False
    return to_grid("GB", latitude, longitude)[0] < EXTENT["GB"][0]


def in_channel_islands(latitude: float, longitude: float) -> bool:
    """Whether a position lies in the box around the Channel Islands, from the Minquiers to Alderney."""
    return 48.85 <= latitude < 49.8 and -2.9 <= longitude <= -1.9


def _accuracy(plain: str, typed: str) -> tuple[str, float | Fault | None]:
    """Split off the accuracy, in metres."""
    if "±" not in plain and "+/-" not in plain:
        return plain, None
    found = re.search(_ACCURACY, plain)
    if not found:
        remedy = 'write the accuracy last and in metres, like "±8 m", or leave it out'
        return plain, _fault("position-accuracy", "The accuracy (±) can't be read.", remedy, typed)
    metres = float(found.group(1))
    if not 0 < metres <= 100_000:
        remedy = "leave it out where it is not known"
        return plain, _fault("position-accuracy", f"±{metres:g} m is no accuracy.", remedy, typed)
    return plain[: found.start()].rstrip(), metres


def _bare(plain: str) -> str:
    """Drop brackets round the text and the words latitude and longitude."""
    if plain[:1] + plain[-1:] in ("()", "[]"):
        plain = plain[1:-1].strip()
    return re.sub(r"\b(?:LATITUDE|LONGITUDE|LAT|LONG|LON|LNG)\b ?[:=]? ?", "", plain).strip()


def _read(plain: str, typed: str) -> tuple[float, float] | Fault | None:
    """Latitude and longitude as written; None where the text has not the shape of a position."""
    if found := re.fullmatch(_DECIMAL + _APART + _DECIMAL, plain):
        pairs = [(found[1], found[2], ""), (found[3], found[4], "")]
    elif "°" in plain and (found := re.fullmatch(_ANGLE + _MAYBE_APART + _ANGLE, plain)):
        if not (found[2].count("°") == found[4].count("°") == 1):
            return None
        pairs = [(found[1], found[2], ""), (found[3], found[4], "")]
    elif found := re.fullmatch(rf"{_ANGLE} ?([NSEW]){_MAYBE_APART}{_ANGLE} ?([NSEW])", plain):
        pairs = [(found[1], found[2], found[3]), (found[4], found[5], found[6])]
    elif found := re.fullmatch(rf"([NSEW]) ?{_ANGLE}{_MAYBE_APART}([NSEW]) ?{_ANGLE}", plain):
        pairs = [(found[2], found[3], found[1]), (found[5], found[6], found[4])]
    else:
        return None
    angles = []
    for sign, parts, letter in pairs:
        if sign and letter:
            remedy = f'leave out the "{sign}" or the letter {letter}'
            return _fault("position-sign-and-letter", "A sign and a compass letter together.", remedy, typed)
        degrees = _degrees(parts)
        if degrees is None:
            remedy = "minutes and seconds run from 0 to 59, and only the last part has decimals"
            return _fault("position-minutes", "These minutes or seconds can't be right.", remedy, typed)
        angles.append(_Angle(-degrees if sign == "-" or letter in ("S", "W") else degrees, letter))
    return _in_order(*angles)


def _in_order(first: _Angle, second: _Angle) -> tuple[float, float] | None:
    """Latitude, longitude; compass letters, where typed, say which is which."""
    if not first.letter or (first.letter in "NS" and second.letter in "EW"):
        return first.degrees, second.degrees
    if first.letter in "EW" and second.letter in "NS":
        return second.degrees, first.degrees
    return None


def _degrees(parts: str) -> float | None:
    """Degrees from one to three numbers (degrees, minutes, seconds); None for an impossible combination."""
    numbers = re.findall(_NUMBER, parts)
    # The marks, where typed, must stand after the right numbers.
    marks = re.sub(r"[^°'\"]", "", parts)
    if not "°'\"".startswith(marks) or len(marks) > len(numbers) or any("." in n for n in numbers[:-1]):
        return None
    if any(float(number) >= 60 for number in numbers[1:]):
        return None
    whole, *finer = (float(number) for number in numbers)
    return whole + sum(part / (60.0, 3600.0)[place] for place, part in enumerate(finer))


def _step_m(plain: str) -> float:
    """How far the last figure of a position reaches: of the finer half, for a 0 at the end may have been left out."""
    numbers = re.findall(_NUMBER, plain)
    parts = 1 if len(numbers) == 2 else max(1, len(numbers) // 2)  # degrees; and minutes; and seconds
    lasts = (numbers[parts - 1], numbers[-1])
    decimals = max(len(number.partition(".")[2]) for number in lasts)
    return _DEGREE_M / (1.0, 60.0, 3600.0)[min(parts, 3) - 1] / 10.0**decimals


def _range_fault(latitude: float, longitude: float, typed: str) -> Fault | None:
    """Why a position that could be read can't be used, if it can't."""
    if latitude == 0 and longitude == 0:
        remedy = "a phone without a fix says so: take the position again, or give a grid reference"
        return _fault("position-zero", "0, 0 lies in the Gulf of Guinea.", remedy, typed)
    if around_british_isles(latitude, longitude):
        return None
    for other in ((longitude, latitude), (longitude, -latitude)):
        if around_british_isles(*other):
            remedy = f"did you mean {_pair(*other)}? Latitude comes first, and west of Greenwich is negative"
            return _fault("position-swapped", "Latitude and longitude look swapped.", remedy, typed)
    if abs(latitude) > 90 or abs(longitude) > 180:
        what = "latitude goes to 90" if abs(latitude) > 90 else "longitude goes to 180"
        return _fault("position-beyond-range", f"There is no such place: {what} degrees.", _EXAMPLE, typed)
    for other in ((latitude, -longitude), (-latitude, longitude), (-latitude, -longitude)):
        if around_british_isles(*other):
            remedy = f"did you mean {_pair(*other)}? West of Greenwich is negative, north is not"
            return _fault("position-sign", "This lies outside the British Isles.", remedy, typed)
    remedy = "check the figures; only places in the British Isles and the sea around them are read"
    return _fault("position-outside", "This lies outside the British Isles.", remedy, typed)


def _unreadable(plain: str, typed: str) -> Fault:
    """Names the slip in a text that has not the shape of a position."""
    if "_" in plain:
        return _fault("position-underscore", "There is an underscore in a number.", _EXAMPLE, typed)
    if re.fullmatch(r"[-+0-9., ;]*\b(?:NAN|INF|INFINITY)\b[-+0-9., ;NAIFTY]*", plain):
        return _fault("position-not-a-number", "This is no number of degrees.", _EXAMPLE, typed)
    if re.search(r"[0-9]E[-+]?[0-9]", plain) and not re.search("[NS]", plain):
        remedy = "write the degrees out, like 52.5"
        return _fault("position-exponent", "There is an exponent in a number.", remedy, typed)
    commas = re.findall(r"(?<=[0-9]),(?=[0-9])", plain)
    pointed = _bare(re.sub(r"(?<=[0-9]),(?=[0-9])", ".", plain))
    read = _read(pointed, typed) if commas else None
    if isinstance(read, tuple):
        remedy = f"write decimals with a point: {_pair(*read)}?"
        return _fault("position-decimal-comma", "A comma as decimal sign is ambiguous here.", remedy, typed)
    if len(commas) > 1:
        return _fault("position-decimal-comma", "There are too many commas.", _EXAMPLE, typed)
    return _fault("position-not-read", "This does not read as a latitude and longitude.", _EXAMPLE, typed)


def _pair(latitude: float, longitude: float) -> str:
    return f"{latitude:.8g}, {longitude:.8g}"


def _fault(code: str, message: str, hint: str, typed: str) -> Fault:
    return Fault(code, message, hint, said=typed, typed=True)
