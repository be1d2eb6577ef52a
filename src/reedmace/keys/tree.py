"""YAML text → plain values, with the line and column of every one of them.

A key file is data: anchors, merges and tags are refused, duplicate fields too. Sequences become tuples and
mappings dicts, so that the strict models take them as they are; every path (`("species", 0, "name")`)
keeps the spot where its field and its value stand.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from reedmace.faults import Fault, Where

Path = tuple[str | int, ...]

_CORE = "tag:yaml.org,2002:"


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
        self.lines = text.splitlines()
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


def read_tree(text: str, file: str) -> tuple[Tree, list[Fault]]:
    """Read YAML text; `file` is the name shown in faults. With faults the tree holds what could be read."""
    tree = Tree(file, text)
    faults: list[Fault] = []
    try:
        root = YAML(typ="safe", pure=True).compose(text)
    except MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        place = tree._where(mark.line, mark.column, 1) if mark else Where(file)
        reason = " ".join(str(part) for part in (error.context, error.problem) if part)
        hint = "check quotes, brackets and indentation on this line and the one before it"
        return tree, [Fault("yaml-syntax", f"This is not YAML: {reason}.", hint, place.excerpt, place)]
    if root is not None:
        tree.value = _plain(root, (), tree, faults)
    return tree, faults


def _plain(node: Node, path: Path, tree: Tree, faults: list[Fault]) -> Any:
    if path not in tree.spots:
        start = node.start_mark
        width = _width(node)
        tree.spots[path] = Spot(start.line, start.column, width, start.line, start.column, width)
    if node.anchor or not str(node.tag).startswith(_CORE):
        faults.append(
            Fault(
                "yaml-anchor",
                "A key file is plain data, without anchors, merges or tags.",
                "write the value out where it is needed",
                str(node.anchor or node.tag),
                tree.where(path),
            )
        )
    if isinstance(node, MappingNode):
        return _mapping(node, path, tree, faults)
    if isinstance(node, SequenceNode):
        return tuple(_plain(item, (*path, index), tree, faults) for index, item in enumerate(node.value))
    assert isinstance(node, ScalarNode)
    return _scalar(node)


def _mapping(node: MappingNode, path: Path, tree: Tree, faults: list[Fault]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for field, value in node.value:
        name = str(field.value)
        here = (*path, name)
        repeated = name in found
        start, at = field.start_mark, value.start_mark
        tree.spots[here] = Spot(start.line, start.column, len(name), at.line, at.column, _width(value))
        if name == "<<":
            faults.append(
                Fault(
                    "yaml-anchor",
                    "A key file has no merges.",
                    "write the fields out",
                    name,
                    tree.where(here, field=True),
                )
            )
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
        found[name] = _plain(value, here, tree, faults)
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
