"""A walk as it was understood, in plain lines: shown before it is written, without rich, for `log` is to be quick."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from reedmace.keys.care import care_on
from reedmace.keys.model import Key
from reedmace.tasks.shorthand.line import Line
from reedmace.tasks.shorthand.line_words import show_line, total_of
from reedmace.tasks.shorthand.page_said import SeenLine
from reedmace.tasks.shorthand.tallies import Tally
from reedmace.tasks.shorthand.visit_said import VisitSaid
from reedmace.terminal.plain import literal


def name_shown(key: Key, line: Line) -> str:
    """The English name that a line was understood to mean."""
    if line.name.group is not None:
        return line.name.group.title
    names = [key.species[one].english for one in line.name.species]
    return " or ".join([*names, *(key.undescribed[one].english for one in line.name.others)])


def place_shown(said: VisitSaid) -> str:
    """A place in a few words: square, name, and its kind where it was said."""
    where: str | None = ""
    if said.place is not None:
        where = said.place.square if said.place.system != "WGS84" else said.place.typed.strip()
        where = where or said.place.typed.strip()
    elif said.site is not None:
        where = said.site.place.square or said.site.place.typed.strip()
    name = said.locality or (said.site.name if said.site else "")
    return ", ".join(filter(None, (where, name, said.place_kind or "")))


def visit_lines(said: VisitSaid, who: str) -> list[str]:
    """The visit: when, where and by whom, then what else was said of it."""
    times = f" {said.start}-{said.end}" if said.start and said.end else f" {said.start}" if said.start else ""
    times += f" until {said.end}" if said.end and not said.start else ""
    observers = " and ".join(name.text for name in said.observers) or who
    people = " and ".join([observers, *(name.text for name in said.company)])
    first = f"{said.day.iso if said.day else 'no date'}{times} at {place_shown(said)}, by {people}"
    if said.party:
        first += f", {said.party}"
    return [f"{first}:", *(f"  {line}" for line in _more(said))]


def added_lines(said: VisitSaid) -> list[str]:
    """What lines that join a visit say of its times, people and party."""
    times = "-".join(filter(None, (said.start, said.end)))
    company = " and ".join(name.text for name in said.company)
    told = (("time", times), ("with", company), ("party", said.party), ("name of the place", said.locality))
    return [f"  {label}: {value}" for label, value in told if value]


def _more(said: VisitSaid) -> Iterable[str]:
    weather = [f"{said.temperature_c:g} °C" if said.temperature_c is not None else ""]
    weather.append(f"sun {said.sun_percent} %" if said.sun_percent is not None else "")
    if said.wind:
        low, high = said.wind
        weather.append(f"wind force {low}" if low == high else f"wind force {low} to {high}")
    understood = ", ".join(filter(None, weather))
    if said.weather:
        yield f"weather: {understood}" if understood else f"weather: {said.weather}"
        # What has no figure ("light breeze", "F2 SW") is shown in its own words beside what it was understood to mean.
        figures = "[0-9]|°|deg|^c$|%|sun|wind|force|beaufort"
        plain = all(re.search(figures, word, re.IGNORECASE) for word in said.weather.replace(",", " ").split())
        if understood and not (plain and len(said.weather.split(", ")) <= len(list(filter(None, weather)))):
            yield f"  as typed: {said.weather}"
    noted = [
        name
        for name, all_of in (("damselflies", said.all_damselflies), ("dragonflies", said.all_dragonflies))
        if all_of
    ]
    if noted:
        yield f"all {' and all '.join(noted)} noted"
    if said.none_seen:
        yield "none seen"
    for label, value in (
        ("vice-county", said.vice_county),
        ("habitat", said.habitat_typed or said.habitat),
        ("method", said.method),
        ("searches for cast skins (exuviae)", said.exuvia_passes),
        ("permission", said.permission),
        ("named by", said.determiner.text if said.determiner else None),
    ):
        if value:
            yield f"{label}: {value}"
    for note in said.notes:
        yield f"remark: {note}"


def seen_lines(key: Key, lines: Sequence[SeenLine]) -> list[str]:
    """Every line as it was understood, under the spot it belongs to, and sums where pairs count beside singles."""
    shown: list[str] = []
    spot: VisitSaid | None = None
    for seen in lines:
        if seen.spot != spot:
            spot = seen.spot
            shown.append(f"  {_spot_shown(spot)}:" if spot else "  back at the visit's place:")
        said = seen.line.said
        # A key to cast skins says the stage, where the line does not; adults alone go without saying.
        if said.stages or key.stage != "adult":
            tallies = tuple(tally._replace(stage=tally.stage or key.stage) for tally in said.tallies)
            said = said._replace(tallies=tallies)
        line = seen.line._replace(said=said)
        shown.append(f"  {'  ' if spot else ''}{name_shown(key, line)}: {show_line(line)}")
    return [*shown, *_sums(key, lines)]


def _spot_shown(spot: VisitSaid) -> str:
    where = f"at {place_shown(spot)}" if place_shown(spot) else ""
    return " ".join(filter(None, (where, f"from {spot.start}" if spot.start else "")))


def _sums(key: Key, lines: Sequence[SeenLine]) -> list[str]:
    """Where singles and pairs of one species stand on different lines: whether they add up, and to what."""
    by_name: dict[str, list[SeenLine]] = {}
    for seen in lines:
        if any(map(_grown, seen.line.tallies)):
            by_name.setdefault(name_shown(key, seen.line), []).append(seen)
    sums = []
    for name, ones in by_name.items():
        tallies: list[Tally] = [tally for one in ones for tally in one.line.tallies if _grown(tally)]
        pairs = any(tally.pairs for tally in tallies)
        if len(ones) < 2 or not pairs or all(tally.pairs for tally in tallies):
            continue
        among = any(one.line.said.among for one in ones)
        how = "pairs among those counted" if among else "pairs beside the others"
        total = total_of(tallies)
        sums.append(f"  {name} in all: {total}, {how}" if total else f"  {name}: {how}")
    return sums


def _grown(tally: Tally) -> bool:
    return not tally.stage or tally.stage in ("adult", "immature")


def care_lines(key: Key, lines: Sequence[SeenLine], said: VisitSaid | None = None) -> list[str]:
    """The word of care for protected species among what was seen, and for what any sighting of the kind asks."""
    named = {one for seen in lines if seen.line.name.group is None for one in seen.line.name.species}
    species_lines = [
        f"  {key.species[species].english}: {note['text']} (as of {note['checked']})"
        for species in sorted(named)
        for note in key.species[species].more.protection
    ]
    stages = {tally.stage or key.stage for seen in lines for tally in seen.line.tallies}
    occasions = {occasion for stage in stages for occasion in _occasions(stage)}
    if said is not None:
        occasions |= {"garden"} if said.habitat == "garden-pond" else set()
        occasions |= {"party"} if said.party else set()
    return species_lines + [f"  {note.text} (as of {note.checked})" for note in care_on(*occasions)]


def _occasions(stage: str) -> tuple[str, ...]:
    """What a stage calls for care with."""
    return {"exuvia": ("cast-skin", "larva"), "larva": ("larva",), "teneral": ("teneral",)}.get(stage, ())


def wrapped(lines: Iterable[str], width: int | None) -> list[str]:
    """The lines as plain text, those that are longer than `width` wrapped with an indent."""
    shown: list[str] = []
    for line in map(literal, lines):
        if width is None or len(line) <= width:
            shown.append(line)
            continue
        import textwrap  # most lines are short enough

        margin = " " * (len(line) - len(line.lstrip()) + 2)
        shown += textwrap.wrap(line, width, subsequent_indent=margin, break_on_hyphens=False, drop_whitespace=True)
    return shown
