"""A printable page into a new file, as its ending says: Markdown or HTML."""

from __future__ import annotations

from pathlib import Path

from reedmace.faults import Fault, Refused
from reedmace.reports.document import Page, html, markdown
from reedmace.tasks.write_lines import write_lines

_WRITERS = {".md": markdown, ".markdown": markdown, ".html": html, ".htm": html}


def page_format(to: str) -> None:
    """Refuse a file name that says neither Markdown nor HTML, before any work is done."""
    if Path(to).suffix.casefold() not in _WRITERS:
        hint = f"name it  {Path(to).stem or 'page'}.html  or  {Path(to).stem or 'page'}.md"
        raise Refused(Fault("page-format", "A page is written as .md or .html.", hint, to, typed=True))


def write_page(to: str, page: Page, replace: bool | None = None) -> None:
    """Write a page; raises `Refused` where the file is there and not to be replaced, or cannot be written.

    `replace` is None where nobody can ask for that.
    """
    page_format(to)
    write_lines(to, _WRITERS[Path(to).suffix.casefold()](page).removesuffix("\n").split("\n"), replace)
