"""A printable page as plain values, and the two ways to write it: Markdown, and HTML in one file without scripts.

What users typed goes in as it is and comes out as text: no markup of theirs is obeyed, control characters are
shown, and a text that runs from right to left stays in its place.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from html import escape
from typing import NamedTuple

from reedmace.reports import strips
from reedmace.reports.strips import Strips
from reedmace.visible import literal


class Heading(NamedTuple):
    """A heading of the second (2) or third (3) level."""

    text: str
    level: int = 2


class Paragraph(NamedTuple):
    """A paragraph."""

    text: str


class Items(NamedTuple):
    """A list."""

    texts: tuple[str, ...]


class Facts(NamedTuple):
    """Names with values, in their order."""

    rows: tuple[tuple[str, str], ...]


class Table(NamedTuple):
    """A table; `right` are the numbers of columns of figures, `whole` of those that stay on one line, such as days."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: tuple[int, ...] = ()
    whole: tuple[int, ...] = ()


class ToFill(NamedTuple):
    """A question left to be answered by hand, with so many lines of room."""

    question: str
    lines: int = 1


Block = Heading | Paragraph | Items | Facts | Table | ToFill | Strips


class Page(NamedTuple):
    """A page: its title and what stands on it."""

    title: str
    blocks: tuple[Block, ...]


def markdown(page: Page) -> str:
    """Write a page as Markdown (CommonMark, with tables), ending in a line break."""
    parts = [f"# {_marked(page.title)}", *("\n".join(_markdown(block)) for block in page.blocks)]
    return "\n\n".join(part for part in parts if part) + "\n"


def _markdown(block: Block) -> Iterator[str]:
    if isinstance(block, Heading):
        yield f"{'#' * block.level} {_marked(block.text)}"
    elif isinstance(block, Paragraph):
        yield _marked(block.text)
    elif isinstance(block, Items):
        yield from (f"- {_marked(text)}" for text in block.texts)
    elif isinstance(block, Facts):
        # A question ends with its own sign.
        yield from (f"- **{_marked(name)}{':' * (name[-1:] != '?')}** {_marked(value)}" for name, value in block.rows)
    elif isinstance(block, Table):
        yield _row(map(_marked, block.heads))
        yield _row("---:" if column in block.right else "---" for column in range(len(block.heads)))
        yield from (_row(_marked(cell) for cell in row) for row in block.rows)
    elif isinstance(block, Strips):
        # A fence is ended only by a line of nothing else, and every line with a name goes on after it.
        yield from ("```text", *(line.rstrip() for line in strips.plain_lines(block)), "```")
    else:
        yield f"**{_marked(block.question)}**"
        yield from ("", *(["\\_" * 60, ""] * block.lines)[:-1])


def _row(cells: Iterable[str]) -> str:
    return f"| {' | '.join(cells)} |"


_SIGNS = re.compile(r"([\\`*_{}\[\]<>#|~&$!])")
_STARTS = re.compile(r"^([-+=]|[0-9]+[.)])")


def _marked(text: str) -> str:
    """Give user text as Markdown that shows it: signs of markup escaped, on one line."""
    plain = literal(" ".join(text.split()))
    return _STARTS.sub(lambda found: f"{found[0][:-1]}\\{found[0][-1]}", _SIGNS.sub(r"\\\1", plain))


_LONG = 30  # a name that would fill several lines of its column
# Wide enough for a table on paper, narrow enough to be read; on a phone tables become cards by CSS alone.
_STYLE = """
:root { color-scheme: light dark; --ink: #1d2521; --paper: #fdfdfa; --line: #b9c2ba; --soft: #eef2ec; }
@media (prefers-color-scheme: dark) { :root { --ink: #e6ebe5; --paper: #161b18; --line: #4d5a50; --soft: #222a25; } }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1.2rem; max-width: 52rem; color: var(--ink); background: var(--paper);
  font: 1rem/1.5 Georgia, "Times New Roman", serif; overflow-wrap: anywhere; }
h1 { font-size: 1.6rem; line-height: 1.2; margin: .3rem 0 1rem; }
h2 { font-size: 1.2rem; margin: 1.8rem 0 .5rem; border-bottom: 1px solid var(--line); }
h3 { font-size: 1rem; margin: 1.2rem 0 .3rem; }
p, ul { margin: .4rem 0 .8rem; }
ul { padding-left: 1.2rem; }
dl { display: grid; grid-template-columns: 8.5rem 1fr; gap: .15rem 1rem; margin: .4rem 0 .8rem; }
dt { font-weight: bold; }
dd { margin: 0; }
dt.long, dt.long + dd { grid-column: 1 / -1; }
table { border-collapse: collapse; width: 100%; margin: .4rem 0 .8rem; }
th, td { text-align: left; vertical-align: top; padding: .25rem .6rem .25rem 0; border-bottom: 1px solid var(--line); }
th, td { min-width: 6.5rem; }
.figure, .whole { min-width: 0; white-space: nowrap; }
.figure { text-align: right; font-variant-numeric: tabular-nums; }
.figure + .whole { padding-left: .6rem; }
.fill { margin: .6rem 0 1rem; break-inside: avoid; }
.fill span { display: block; height: 2rem; border-bottom: 1px solid var(--ink); }
@media (max-width: 40rem) {
  dl { grid-template-columns: 7.4rem 1fr; gap: .15rem .6rem; }
  thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  table, tbody, tr, td { display: block; }
  tr { padding: .5rem 0; border-bottom: 1px solid var(--line); }
  td, .figure + .whole { border: 0; padding: 0; min-width: 0; }
  td:empty { display: none; }
  td::before { content: attr(data-head) ": "; font-weight: bold; }
  .figure { text-align: left; }
}
@media print {
  :root { color-scheme: light; --ink: #000; --paper: #fff; --line: #999; }
  body { max-width: none; padding: 0; font-size: 10pt; }
  tr, dl, .fill { break-inside: avoid; }
  h2, h3 { break-after: avoid; }
}
"""


def html(page: Page) -> str:
    """Write a page as one HTML file: no scripts, nothing fetched, for paper, phone and screen, light and dark."""
    body = "\n".join(_html(block) for block in page.blocks)
    return f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>{escape(literal(page.title))}</title>
<style>{_STYLE}{_styles(page)}</style>
</head>
<body>
<h1>{_shown(page.title)}</h1>
{body}
</body>
</html>
"""


def _styles(page: Page) -> str:
    """Give the style of what only some pages have."""
    return strips.STYLE if any(isinstance(block, Strips) for block in page.blocks) else ""


def _html(block: Block) -> str:
    if isinstance(block, Heading):
        return f"<h{block.level}>{_shown(block.text)}</h{block.level}>"
    if isinstance(block, Paragraph):
        return f"<p>{_shown(block.text)}</p>"
    if isinstance(block, Items):
        return f"<ul>{''.join(f'<li>{_shown(text)}</li>' for text in block.texts)}</ul>"
    if isinstance(block, Facts):
        return f"<dl>{''.join(_fact(name, value) for name, value in block.rows)}</dl>"
    if isinstance(block, Strips):
        return strips.drawn(block)
    if isinstance(block, ToFill):
        return f'<div class="fill"><strong>{_shown(block.question)}</strong>{"<span></span>" * block.lines}</div>'
    head = "".join(f'<th scope="col"{_class(block, at)}>{_shown(text)}</th>' for at, text in enumerate(block.heads))
    rows = "".join(f"<tr>{_cells(block, row)}</tr>" for row in block.rows)
    return f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"


def _fact(name: str, value: str) -> str:
    """Give a name with its value beside it, or below where the name is a whole question."""
    long = ' class="long"' if len(name) > _LONG else ""
    return f"<dt{long}>{_shown(name)}</dt><dd>{_shown(value)}</dd>"


def _cells(block: Table, row: Sequence[str]) -> str:
    return "".join(
        f'<td data-head="{escape(literal(block.heads[at]))}"{_class(block, at)}>{_shown(cell)}</td>'
        for at, cell in enumerate(row)
    )


def _class(block: Table, column: int) -> str:
    if column in block.right:
        return ' class="figure"'
    return ' class="whole"' if column in block.whole else ""


def _shown(text: str) -> str:
    """Give user text as HTML that shows it; what runs from right to left is kept by itself."""
    shown = escape(literal(" ".join(text.split())))
    return f"<bdi>{shown}</bdi>" if not shown.isascii() else shown
