"""A year as strips of thirds of a month, one name a line: when it flies by the book, and when it was seen.

As signs for a screen or plain text, and as drawings within a page. A drawing is stretched to the room there is, so
it holds no words: the names beside it stay as large as the rest of the page, on a phone too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from html import escape
from typing import NamedTuple

from reedmace.keys.seasons import MONTHS, show_third
from reedmace.visible import literal

THIRDS = 36
INITIALS = "".join(month[0].upper() for month in MONTHS)
NOTHING, FLIES, PEAK, ADULTS, SKINS, BOTH = ".", "-", "=", "●", "x", "◉"


class Strip(NamedTuple):
    """One name. `flies` and `peak` are the first and last third of each, None where nobody says.

    `adults` and `skins` are numbers of records by third: of insects on the wing (fresh and emerging ones among them),
    and of cast skins.
    """

    name: str
    scientific_name: str
    flies: tuple[int, int] | None = None
    peak: tuple[int, int] | None = None
    adults: tuple[int, ...] = (0,) * THIRDS
    skins: tuple[int, ...] = (0,) * THIRDS


class Strips(NamedTuple):
    """Several names under one row of months."""

    rows: tuple[Strip, ...]


def reach(rows: Iterable[Strip]) -> tuple[int, int]:
    """Give the whole months that anything is in, as thirds from and to (not inside); May to August at least."""
    first, last = 12, 23
    for row in rows:
        used = [third for third in range(THIRDS) if row.adults[third] or row.skins[third]]
        used += row.flies or ()
        first, last = min([first, *used]), max([last, *used])
    return first // 3 * 3, last // 3 * 3 + 3


def signs(row: Strip, first: int = 0, end: int = THIRDS) -> str:
    """Give a sign for each third: seen, else what the book says, else nothing."""
    return "".join(_sign(row, third) for third in range(first, end))


def _sign(row: Strip, third: int) -> str:
    if row.adults[third]:
        return BOTH if row.skins[third] else ADULTS
    if row.skins[third]:
        return SKINS
    if _within(third, row.peak):
        return PEAK
    return FLIES if _within(third, row.flies) else NOTHING


def _within(third: int, ends: tuple[int, int] | None) -> bool:
    return ends is not None and ends[0] <= third <= ends[1]


def in_words(row: Strip) -> tuple[str, str, str]:
    """Give the flight period, when adults were seen, and when cast skins were found, each in words."""
    return _ends(row.flies), _runs(row.adults), _runs(row.skins)


def _ends(ends: tuple[int, int] | None) -> str:
    if ends is None:
        return ""
    first, last = map(show_third, ends)
    return first if first == last else f"{first} to {last}"


def _runs(records: Sequence[int]) -> str:
    """Give unbroken runs of thirds: early-June to mid-July, late-August."""
    found: list[tuple[int, int]] = []
    for third in (third for third, number in enumerate(records) if number):
        if found and found[-1][1] == third - 1:
            found[-1] = (found[-1][0], third)
        else:
            found.append((third, third))
    return ", ".join(map(_ends, found))


def legend(signs_of: bool = True) -> tuple[tuple[str, str], ...]:
    """Give each sign (or the name of its drawing) with what it means."""
    return (
        (ADULTS if signs_of else "adults", "adults seen"),
        (SKINS if signs_of else "skins", "cast skins (exuviae) found"),
        *([(BOTH, "both")] if signs_of else []),
        (FLIES if signs_of else "flies", "its flight period"),
        (PEAK if signs_of else "peak", "when most of them fly"),
    )


def plain_lines(strips: Strips) -> Iterator[str]:
    """Give the chart as lines of plain text, the widest 26 columns wider than a year."""
    first, end = reach(strips.rows)
    wide = max((len(literal(row.name)) for row in strips.rows), default=0)
    yield f"{'':{wide}}  {'  '.join(INITIALS[first // 3 : end // 3])}"
    yield from (f"{literal(row.name):{wide}}  {signs(row, first, end)}" for row in strips.rows)
    yield ""
    yield from (f"{sign}  {meaning}" for sign, meaning in legend())


STYLE = """
.strips { table-layout: fixed; }
.strips th, .strips td { border: 0; padding: .1rem 0; vertical-align: middle; font-weight: normal; }
.strips th:first-child { width: 13rem; padding-right: .6rem; line-height: 1.15; }
.strips svg { display: block; width: 100%; height: 1.5rem; background: var(--soft); }
.strips .months { display: grid; grid-auto-flow: column; grid-auto-columns: 1fr; font-size: .8rem; }
.legend { display: flex; flex-wrap: wrap; gap: .2rem 1.2rem; list-style: none; padding: 0; font-size: .9rem; }
.legend svg { width: 1.4rem; height: 1.1rem; margin-right: .4rem; vertical-align: middle; background: var(--soft); }
.month { stroke: var(--paper); stroke-width: 1px; fill: none; }
.flies { fill: #c3d1bf; } .peak { fill: #9db697; } .adults { fill: #14507d; } .skins { fill: #8a4b12; }
@media (prefers-color-scheme: dark) {
  .flies { fill: #51665a; } .peak { fill: #6d8873; } .adults { fill: #9fd2f7; } .skins { fill: #eaa968; }
}
@media (max-width: 34rem) {
  .strips thead { position: static; width: auto; height: auto; overflow: visible; clip-path: none; display: block; }
  .strips th, .strips td { display: block; width: auto !important; }
  .strips th:empty { display: none; }
  .strips tr { border: 0; padding: .15rem 0; }
  .strips td::before { content: none; }
}
@media print {
  .strips svg, .legend svg { background: none; outline: 1px solid #bbb; }
  .month { stroke: #ccc; }
  .flies { fill: #ddd; } .peak { fill: #bbb; } .adults { fill: #000; } .skins { fill: #555; }
  .strips thead { display: table-header-group; }
}
"""


def drawn(strips: Strips) -> str:
    """Give the chart as HTML: a table of names with a drawing each, whose words say what it shows."""
    first, end = reach(strips.rows)
    months = "".join(f"<span>{month}</span>" for month in INITIALS[first // 3 : end // 3])
    head = f'<tr><th></th><td aria-hidden="true"><div class="months">{months}</div></td></tr>'
    rows = "".join(
        f'<tr><th scope="row">{_name(row.name)}</th><td>{_drawing(row, first, end)}</td></tr>' for row in strips.rows
    )
    shapes = "".join(f"<li>{_sample(name)}{meaning}</li>" for name, meaning in legend(False))
    return f'<ul class="legend">{shapes}</ul><table class="strips"><thead>{head}</thead><tbody>{rows}</tbody></table>'


def _name(name: str) -> str:
    shown = escape(literal(" ".join(name.split())))
    return f"<bdi>{shown}</bdi>" if not shown.isascii() else shown


def _drawing(row: Strip, first: int, end: int) -> str:
    flies, adults, skins = in_words(row)
    said = "; ".join(
        f"{what}: {when or 'none'}"
        for what, when in (("flight period", flies or "not known"), ("adults seen", adults), ("cast skins", skins))
    )
    lines = "".join(f"M{third - first} 0V24" for third in range(first + 3, end, 3))
    return (
        f'<svg role="img" aria-label="{escape(said)}" viewBox="0 0 {end - first} 24" preserveAspectRatio="none">'
        f"{''.join(_shapes(row, first, end))}"
        f'<path class="month" d="{lines}" vector-effect="non-scaling-stroke"/></svg>'
    )


def _shapes(row: Strip, first: int, end: int) -> Iterator[str]:
    """Give the bars of one drawing; what overlaps differs in height as well as in colour."""
    for kind, ends in (("flies", row.flies), ("peak", row.peak)):
        if ends:
            yield _bar(kind, ends[0] - first, ends[1] + 1 - first)
    for kind, records in (("adults", row.adults), ("skins", row.skins)):
        yield from (_bar(kind, third - first, third - first + 1) for third in range(first, end) if records[third])


_HEIGHTS = {"flies": (6, 6), "peak": (3, 12), "adults": (1, 15), "skins": (18, 5)}


def _bar(kind: str, start: float, end: float) -> str:
    top, height = _HEIGHTS[kind]
    inset = 0.12 if kind in ("adults", "skins") else 0
    width = f"{end - start - 2 * inset:g}"
    return f'<rect class="{kind}" x="{start + inset:g}" y="{top}" width="{width}" height="{height}"/>'


def _sample(kind: str) -> str:
    return f'<svg aria-hidden="true" viewBox="0 0 1 24" preserveAspectRatio="none">{_bar(kind, 0, 1)}</svg>'
