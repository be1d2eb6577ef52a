"""Reading meta.xml of anybody's archive: which file holds the occurrences, and what its columns are.

It may come from anywhere, so it is read without ever resolving an entity: a document type is refused.
"""

from __future__ import annotations

import codecs
from typing import NamedTuple
from xml.parsers import expat

from reedmace.darwincore.terms import DARWIN_CORE
from reedmace.faults import Fault, Refused, Where

_SIGNS = {"\\t": "\t", "\\n": "\n", "\\r": "\r", "\\r\\n": "\r\n", "&quot;": '"'}
_DEEPEST = 20


class Core(NamedTuple):
    """The table of occurrences: its files, how they are written, and term by column.

    `columns` are pairs of index and term; `fixed` gives terms that are the same in every row; `identifier` is the
    index of the row's id, None where none is named.
    """

    files: tuple[str, ...]
    encoding: str
    delimiter: str
    quote: str
    header_lines: int
    identifier: int | None
    columns: tuple[tuple[int, str], ...]
    fixed: tuple[tuple[str, str], ...]


class _Element:
    """An element of the document: its bare name, attributes, text and what is in it."""

    def __init__(self, name: str, attributes: dict[str, str]) -> None:
        self.name = name
        self.attributes = attributes
        self.text = ""
        self.inside: list[_Element] = []

    def all(self, name: str) -> list[_Element]:
        """Give the elements of this name in it."""
        return [one for one in self.inside if one.name == name]


def read_meta(data: bytes, file: str) -> Core:
    """Read meta.xml; raises `Refused` where it is none that can be read, or is about no occurrences."""
    root = _parsed(data, file)
    if root.name != "archive":
        raise _bad(file, "It is no description of an archive.")
    cores = root.all("core")
    if len(cores) != 1:
        raise _bad(file, "It names no core, or several.")
    [core] = cores
    kind = core.attributes.get("rowType", "")
    if kind != f"{DARWIN_CORE}Occurrence":
        said = f"The core of this archive holds no occurrences, but {kind.rpartition('/')[2] or 'something unnamed'}."
        hint = "ask for it with occurrences as its core, or for the occurrences as CSV"
        raise Refused(Fault("archive-other-core", said, hint, kind or None, Where(file)))
    named = [part.text.strip() for place in core.all("files") for part in place.all("location")]
    if not named or not all(named):
        raise _bad(file, "It names no file for the occurrences.")
    columns, fixed = _columns(core, file)
    return Core(
        tuple(named),
        _encoding(core, file),
        _sign(core, "fieldsTerminatedBy", ",", file),
        _sign(core, "fieldsEnclosedBy", '"', file, may_lack=True),
        _whole(core.attributes.get("ignoreHeaderLines", "0"), file),
        _identifier(core, file),
        columns,
        fixed,
    )


def _parsed(data: bytes, file: str) -> _Element:
    top = _Element("", {})
    stack = [top]
    parser = expat.ParserCreate(namespace_separator=" ")

    def begin(name: str, attributes: dict[str, str]) -> None:
        if len(stack) > _DEEPEST:
            raise _bad(file, "Its elements are nested too deeply.")
        element = _Element(name.rpartition(" ")[2], attributes)
        stack[-1].inside.append(element)
        stack.append(element)

    def text(words: str) -> None:
        stack[-1].text += words

    def refuse(*_: object) -> None:
        raise _bad(file, "It holds a document type, which could make programs fetch or blow up something else.")

    parser.StartElementHandler = begin
    parser.EndElementHandler = lambda _: stack.pop()
    parser.CharacterDataHandler = text
    parser.StartDoctypeDeclHandler = refuse
    parser.EntityDeclHandler = refuse
    try:
        parser.Parse(data, True)
    except expat.ExpatError as error:
        said = f"It is no XML: {expat.errors.messages[error.code]}."
        raise _bad(file, said, error.lineno) from None
    except (LookupError, ValueError) as error:
        raise _bad(file, f"It is no XML: {error}.") from None
    return top.inside[0]


def _columns(core: _Element, file: str) -> tuple[tuple[tuple[int, str], ...], tuple[tuple[str, str], ...]]:
    columns: list[tuple[int, str]] = []
    fixed: list[tuple[str, str]] = []
    for field in core.all("field"):
        term = field.attributes.get("term", "").replace("#", "/").rpartition("/")[2]
        if not term:
            raise _bad(file, "A field of it has no term.")
        if term in dict(fixed) or term in (known for _, known in columns):
            raise Refused(
                Fault("column-twice", f'The column "{term}" stands here twice.', "keep one", term, Where(file))
            )
        if "index" in field.attributes:
            columns.append((_whole(field.attributes["index"], file), term))
        elif "default" in field.attributes:
            fixed.append((term, field.attributes["default"]))
    if len({index for index, _ in columns}) < len(columns):
        raise _bad(file, "It gives one column two meanings.")
    if not columns:
        raise _bad(file, "It says of no column what it is.")
    return tuple(columns), tuple(fixed)


def _identifier(core: _Element, file: str) -> int | None:
    ids = core.all("id")
    return _whole(ids[0].attributes["index"], file) if ids and "index" in ids[0].attributes else None


def _encoding(core: _Element, file: str) -> str:
    name = core.attributes.get("encoding", "UTF-8")
    try:
        found = codecs.lookup(name)
    except (LookupError, ValueError):
        found = None
    # Some codecs of Python are no encodings of text.
    if found is None or not getattr(found, "_is_text_encoding", True):
        said, hint = "Its table is written in an encoding that is not known.", "ask for it as UTF-8"
        raise Refused(Fault("archive-encoding", said, hint, name, Where(file)))
    return "utf-8-sig" if found.name == "utf-8" else found.name


def _sign(core: _Element, name: str, usual: str, file: str, may_lack: bool = False) -> str:
    given = core.attributes.get(name, usual)
    sign = _SIGNS.get(given, given)
    if (len(sign) == 1 and sign not in "\r\n") or (may_lack and not sign):
        return sign
    raise _bad(file, f"{name} is to be one sign, not {given!r}.")


def _whole(text: str, file: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) < 6):
        raise _bad(file, f'"{text}" is no place of a column.')
    return int(text)


def _bad(file: str, why: str, line: int | None = None) -> Refused:
    hint = "ask whoever made the archive for it once more, or for its table as CSV"
    said = f"The description of the columns cannot be used. {why}"
    return Refused(Fault("archive-meta", said, hint, None, Where(file, line) if line else Where(file)))
