"""YAML text → plain values, with the line and column of every one of them.

A key file is data: anchors, merges and tags are refused, duplicate fields too. Sequences become tuples and
mappings dicts, so that the strict models take them as they are; every path (`("species", 0, "name")`)
keeps the spot where its field and its value stand.
"""

from __future__ import annotations

import re
import reprlib
from typing import Any, NamedTuple

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode
from ruamel.yaml.reader import ReaderError

from reedmace.faults import Fault, Where

Path = tuple[str | int, ...]

_CORE = "tag:yaml.org,2002:"
# As YAML 1.2 counts lines; str.splitlines would also break at page feeds and at U+2028.
_LINE_END = re.compile(r"\r\n|\n|\r")
_DIRECTIVE = re.compile(r"^%[A-Z]", re.MULTILINE)


class Spot(NamedTuple):
    """Where something stands: 0-based line and column of its field (or itself) and of its value."""

    line: int
    column: int
    width: int
    value_line: int
    value_column: int
    value_width: int


class Tree:
    """A YAML file read: `value` (dicts, tuples, str, int, float, bool, None), and where each part stands."""

    __slots__ = ("file", "lines", "spots", "value")

    def __init__(self, file: str, text: str) -> None:
        self.file = file
        self.lines = _LINE_END.split(text)
        self.spots: dict[Path, Spot] = {}
        self.value: Any = None

    def where(self, path: Path, *, field: bool = False) -> Where:
        """The place of a path, or of the longest part of it that stands in the file."""
        for length in range(len(path), -1, -1):
            spot = self.spots.get(path[:length])
            if spot is None:
                continue
            if field or length < len(path):
                return self._where(spot.line, spot.column, spot.width)
            return self._where(spot.value_line, spot.value_column, spot.value_width)
        return Where(self.file)

    def _where(self, line: int, column: int, width: int) -> Where:
        excerpt = self.lines[line] if line < len(self.lines) else ""
        return Where(self.file, line + 1, column + 1, excerpt, max(1, min(width, len(excerpt) - column)))


def in_short(value: Any) -> str:
    """A value as text for a fault's `said`: at most 60 characters, however much it holds."""
    return value[:60] if isinstance(value, str) else reprlib.repr(value)[:60]


def read_tree(text: str, file: str) -> tuple[Tree, list[Fault]]:
    """Read YAML text; `file` is the name shown in faults. With faults the tree holds what could be read."""
    tree = Tree(file, text)
    faults: list[Fault] = []
    try:
        root = YAML(typ="safe", pure=True).compose(text)
        directive = _DIRECTIVE.search(text)
        if directive:  # %YAML 1.1 would turn "no" into false
            place = tree._where(*_line_and_column(text, directive.start()), len(directive[0]))
            faults.append(_not_plain("A key file has no directives.", "take the line out", place.excerpt, place))
        elif root is not None:
            tree.value = _plain(root, (), tree, faults, {})
    except MarkedYAMLError as error:
        return tree, [_slipped(error, tree)]
    except ReaderError as error:
        place = tree._where(*_line_and_column(text, error.position), 1)
        return tree, [_not_yaml(f"it holds the control character U+{error.character:04X}", "take it out", place)]
    except RecursionError:
        return tree, [_not_yaml("it is nested too deep", "a key file is never more than ten deep", Where(file))]
    return tree, faults


# What the reader of YAML says → where the slip mostly is (at the beginning of what it read, or where it stopped), and
# why and what to do in plain words.
_PLAINLY = (
    (r"'\\t'", False, "a tab stands here", "indent with spaces"),
    (
        "unexpected end of stream|quoted scalar.*document separator",
        True,
        "the quotation mark that begins here is never closed",
        "close it with the same mark",
    ),
    (
        "flow (mapping|sequence).*expected",
        True,
        "the bracket that opens here is not closed, or what it holds has no comma between",
        "close it with its own kind, ] or }, and put commas between; text with a comma or a bracket stands in quotes",
    ),
    (
        "could not find expected ':'",
        True,
        "this line is no field, since no colon with a space behind it ends its name",
        "write  field: value",
    ),
    (
        "mapping values are not allowed",
        False,
        "a field cannot begin here",
        'text that holds ": " stands in quotes; a dash at the beginning has a space behind it; '
        "what belongs to the line before stands two spaces further in",
    ),
    (
        "expected <block end>",
        False,
        "this line stands further in or out than those it belongs to",
        "bring it below the first letter of the field or the dash above it",
    ),
)


def _slipped(error: MarkedYAMLError, tree: Tree) -> Fault:
    """A slip of YAML, in plain words where it is one that people make."""
    reason = " ".join(str(part) for part in (error.context, error.problem) if part)
    mark = error.problem_mark or error.context_mark
    hint = "check quotes, brackets and indentation on this line and the one before it"
    for pattern, begins, plainly, remedy in _PLAINLY:
        if re.search(pattern, reason):
            mark = (error.context_mark if begins else None) or mark
            reason, hint = plainly, remedy
            break
    place = tree._where(mark.line, mark.column, 1) if mark else Where(tree.file)
    return _not_yaml(reason, hint, place)


def _not_yaml(reason: str, hint: str, place: Where) -> Fault:
    return Fault("yaml-syntax", f"This is not YAML: {reason}.", hint, place.excerpt, place)


def _not_plain(message: str, hint: str, said: str | None, place: Where) -> Fault:
    return Fault("yaml-anchor", message, hint, said, place)


def _line_and_column(text: str, position: int) -> tuple[int, int]:
    before = _LINE_END.split(text[:position])
    return len(before) - 1, len(before[-1])


def _plain(node: Node, path: Path, tree: Tree, faults: list[Fault], shared: dict[int, Any]) -> Any:
    """The value of a node. `shared` holds those of anchored nodes, which are walked once (they may nest)."""
    if id(node) in shared:
        return shared[id(node)]
    if path not in tree.spots:
        start = node.start_mark
        width = _width(node)
        tree.spots[path] = Spot(start.line, start.column, width, start.line, start.column, width)
    faults.extend(_slips(node, tree.where(path)))
    if node.anchor:
        shared[id(node)] = None
    found: Any
    if isinstance(node, ScalarNode):
        found = _scalar(node)
    elif isinstance(node, MappingNode):
        found = _mapping(node, path, tree, faults, shared)
    else:
        assert isinstance(node, SequenceNode)
        found = tuple(_plain(item, (*path, index), tree, faults, shared) for index, item in enumerate(node.value))
    if node.anchor:
        shared[id(node)] = found
    return found


def _slips(node: Node, place: Where) -> list[Fault]:
    # A tag that was written has a handle, also where it names what the value is anyway (`!!str`).
    if not node.anchor and not node.ctag.handle and str(node.tag).startswith(_CORE):
        return []
    message = "A key file is plain data, without anchors, merges or tags."
    return [_not_plain(message, "write the value out where it is needed", str(node.anchor or node.tag), place)]


def _mapping(node: MappingNode, path: Path, tree: Tree, faults: list[Fault], shared: dict[int, Any]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for field, value in node.value:
        if not isinstance(field, ScalarNode):
            place = tree._where(field.start_mark.line, field.start_mark.column, 1)
            faults.append(_not_plain("A field is a word, no list or map.", "write  field: value", None, place))
            continue
        name = str(field.value)
        here = (*path, name)
        repeated = name in found
        start, at, width = field.start_mark, value.start_mark, _width(value)
        if isinstance(value, ScalarNode) and at.index == value.end_mark.index:
            at, width = start, len(name)  # nothing was written: its mark would be the next thing in the file
        tree.spots[here] = Spot(start.line, start.column, len(name), at.line, at.column, width)
        faults.extend(_slips(field, tree.where(here, field=True)) if name != "<<" else [])
        if name == "<<":
            place = tree.where(here, field=True)
            faults.append(_not_plain("A key file has no merges.", "write the fields out", name, place))
            continue
        if repeated:
            faults.append(
                Fault(
                    "duplicate-field",
                    f'The field "{name}" stands here twice.',
                    "keep one of the two",
                    name,
                    tree.where(here, field=True),
                )
            )
        found[name] = _plain(value, here, tree, faults, shared)
    return found


def _scalar(node: ScalarNode) -> Any:
    kind = str(node.tag)[len(_CORE) :]
    text: str = node.value
    if kind == "null":
        return None
    if kind == "bool":
        return text.lower() == "true"
    try:
        if kind == "int":
            return int(text.replace("_", ""), 0 if text[:2].lower() in ("0x", "0o") else 10)
        if kind == "float":
            return float(text.replace("_", ""))
    except ValueError:
        return text
    return text  # dates stay text: the models say where one is wanted


def _width(node: Node) -> int:
    if isinstance(node, ScalarNode) and node.start_mark.line == node.end_mark.line:
        return max(1, int(node.end_mark.column - node.start_mark.column))
    return 1
