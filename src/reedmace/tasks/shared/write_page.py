"""A printable page into a new file, as its ending says: Markdown or HTML."""

from __future__ import annotations

from pathlib import Path

from reedmace.darwincore import room_for, whole_file
from reedmace.faults import Fault, Refused
from reedmace.reports.document import Page, html, markdown

_WRITERS = {".md": markdown, ".markdown": markdown, ".html": html, ".htm": html}


def page_format(to: str) -> None:
    """Refuse a file name that says neither Markdown nor HTML, before any work is done."""
    if Path(to).suffix.casefold() not in _WRITERS:
        hint = f"name it  {Path(to).stem or 'page'}.html  or  {Path(to).stem or 'page'}.md"
        raise Refused(Fault("page-format", "A page is written as .md or .html.", hint, to, typed=True))


def page_room(to: str, overwrite: bool) -> None:
    """Refuse a page that could not be written for its name, or for what is there already, before any work is done."""
    page_format(to)
    room_for(to, overwrite)


def write_page(to: str, page: Page, overwrite: bool) -> None:
    """Write a page; where there is a file already it is replaced, or without `overwrite` refused with `Refused`."""
    page_room(to, overwrite)
    with whole_file(to, overwrite) as file:
        file.write(_WRITERS[Path(to).suffix.casefold()](page).encode())
