"""Reading a YAML file into plain values that know their place: lines and columns count from 1."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reedmace.faults import Fault, Where
from reedmace.keys.tree import Path, Tree, read_tree

POND = """\
format: 1
name: Withy Pond
depths:
  - 2
  - 3.5
owner: {first: Ada, last: Marsh}
empty:
note: |
  two
  lines
last: end
"""


def read(text: str) -> Tree:
    tree, faults = read_tree(text, "pond.yaml")
    assert faults == []
    return tree


def fault(text: str) -> Fault:
    _, faults = read_tree(text, "pond.yaml")
    assert len(faults) == 1, faults
    return faults[0]


def place(where: Where | None) -> tuple[int | None, int | None, int]:
    assert where is not None
    return where.line, where.column, where.width


@pytest.mark.parametrize(
    ("path", "field", "value"),
    [
        (("format",), (1, 1, 6), (1, 9, 1)),
        (("name",), (2, 1, 4), (2, 7, 10)),
        (("depths",), (3, 1, 6), (4, 3, 1)),
        (("depths", 0), (4, 5, 1), (4, 5, 1)),
        (("depths", 1), (5, 5, 3), (5, 5, 3)),
        (("owner",), (6, 1, 5), (6, 8, 1)),
        (("owner", "last"), (6, 21, 4), (6, 27, 5)),
        (("empty",), (7, 1, 5), (7, 1, 5)),
        (("note",), (8, 1, 4), (8, 7, 1)),
        (("last",), (11, 1, 4), (11, 7, 3)),
    ],
)
def test_every_field_and_every_value_knows_its_line_and_column(
    path: Path, field: tuple[int, int, int], value: tuple[int, int, int]
) -> None:
    tree = read(POND)
    assert place(tree.where(path, field=True)) == field
    assert place(tree.where(path)) == value


def test_a_place_carries_the_line_as_it_was_written() -> None:
    assert read(POND).where(("owner", "last")) == Where(
        "pond.yaml", 6, 27, "owner: {first: Ada, last: Marsh}", len("Marsh")
    )


def test_a_path_that_is_not_in_the_file_is_placed_at_the_field_that_should_hold_it() -> None:
    assert place(read(POND).where(("owner", "middle"))) == (6, 1, 5)
    assert place(read(POND).where(("depths", 7, "salt"))) == (3, 1, 6)


def test_an_empty_file_has_no_value_and_no_line() -> None:
    tree = read("")
    assert tree.value is None
    assert tree.where(("format",)) == Where("pond.yaml")


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("no", "no"),
        ("yes", "yes"),
        ("off", "off"),
        ("2026-07-12", "2026-07-12"),
        ("12:30", "12:30"),
        ("'1901'", "1901"),
        ("1.2.0", "1.2.0"),
        (".nan", ".nan"),
        (".inf", ".inf"),
        ("7" * 5000, "7" * 5000),
        ("true", True),
        ("17", 17),
        ("-1_000", -1000),
        ("0o17", 15),
        ("0x1F", 31),
        ("3.5", 3.5),
        ("1e3", 1000.0),
        ("~", None),
        ("null", None),
        ("", None),
        ("[]", ()),
        ("{}", {}),
        ("[a, [1, b]]", ("a", (1, "b"))),
    ],
)
def test_plain_values_stay_what_an_author_meant(text: str, value: object) -> None:
    """`no` is no truth value, a date no date object: the models say where one is wanted."""
    read_value = read(f"it: {text}").value["it"]
    assert read_value == value
    assert type(read_value) is type(value)


def test_a_field_that_stands_twice_is_told_at_the_second() -> None:
    found = fault("name: Withy Pond\ndepth: 2\nname: Alder Pond\n")
    assert (found.code, found.said, place(found.where)) == ("duplicate-field", "name", (3, 1, 4))


def test_a_field_that_stands_twice_is_found_in_braces_too() -> None:
    assert place(fault("owner: {first: Ada, first: Ida}").where) == (1, 21, 5)


@pytest.mark.parametrize(
    ("text", "line", "column"),
    [
        ("a: &it 1\nb: *it\n", 1, 4),
        ("a: &it [1]\nb: *it\nc: *it\n", 1, 4),
        ("a: &it [*it]\n", 1, 4),
        ("a: 1\nb: &it {c: *it}\n", 2, 4),
        ("&it a: 1", 1, 1),
        ("a: {b: 1}\nc:\n  <<: {d: 2}\n", 3, 3),
        ("a: !pond 1", 1, 4),
        ("a: !!str 1", 1, 4),
        ("a:\n  b: !!python/object:os.system {}\n", 2, 6),
        ("!!map {a: 1}", 1, 1),
        ("a: 1\n? [b, c]\n: 2\n", 2, 3),
        ("{a: 1}: 2", 1, 1),
        ("%YAML 1.1\n---\na: no\n", 1, 1),
    ],
)
def test_anchors_merges_tags_and_directives_are_refused_where_they_stand(text: str, line: int, column: int) -> None:
    found = fault(text)
    assert found.code == "yaml-anchor"
    assert place(found.where)[:2] == (line, column)
    assert found.hint


def test_anchors_that_multiply_are_read_once() -> None:
    """Forty doublings would be a billion lists if each were walked."""
    doublings = "\n".join(f"a{n}: &a{n} [*a{n - 1}, *a{n - 1}]" for n in range(1, 41))
    tree, faults = read_tree(f"a0: &a0 [1, 1]\n{doublings}\n", "pond.yaml")
    assert len(faults) == 41
    assert len(tree.value) == 41


@pytest.mark.parametrize(
    ("text", "line", "column"),
    [
        ("name: [Withy, Alder\n", 1, 7),
        ("a: 1\n  b: 2\n", 2, 4),
        ("a: 1\nb: 'no end\n", 2, 4),
        ("a:\n\t- b\n", 2, 1),
        ("a: 1\n---\nb: 2\n", 2, 1),
        ("a: *nobody\n", 1, 4),
        ("a: 1\nb: it\x0brains\n", 2, 6),
        ("a: 1\r\nb: \x00\r\n", 2, 4),
        ("a: \ud800\n", 1, 4),
    ],
)
def test_what_is_no_yaml_is_one_fault_at_its_line(text: str, line: int, column: int) -> None:
    found = fault(text)
    assert found.code == "yaml-syntax"
    assert place(found.where)[:2] == (line, column)


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ("a:\n\tb: 1\n", 2, "a tab stands here"),
        ("a: 1\nb:2\nc: 3\n", 2, "this line is no field"),
        ("a: b: c\n", 1, "a field cannot begin here"),
        ("a:\n  - b: 1\n   c: 2\n", 3, "this line stands further in or out"),
        ('a: 1\nb: "no end\nc: 2\n', 2, "the quotation mark that begins here"),
        ("a: [1, 2\nb: 3\n", 1, "the bracket that opens here"),
    ],
)
def test_what_authors_mistype_is_told_in_plain_words_where_it_was_typed(text: str, line: int, said: str) -> None:
    """Not where the reader of YAML gave up, a line or a page further on."""
    found = fault(text)
    assert found.where is not None
    assert found.where.line == line
    assert said in found.message


def test_a_file_nested_without_end_is_a_fault_and_no_crash() -> None:
    assert fault("[" * 20_000).code == "yaml-syntax"


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_lines_are_counted_alike_whatever_ends_them(end: str) -> None:
    tree = read(POND.replace("\n", end))
    assert place(tree.where(("owner", "last"))) == (6, 27, 5)
    assert tree.where(("owner", "last")).excerpt == "owner: {first: Ada, last: Marsh}"


@pytest.mark.parametrize("odd", ["\u2028", "\u2029", "\x85"])
def test_odd_line_separators_inside_a_note_do_not_shift_the_lines_after_it(odd: str) -> None:
    tree = read(f'note: "one{odd}two"\nname: Withy Pond\n')
    assert tree.where(("name",)).excerpt == "name: Withy Pond"


@settings(deadline=None, max_examples=200)
@given(st.text(st.sampled_from("ab:-[]{}&*!%#'\"|>?,~<=\n \t\r\x00\u2028é1.0"), max_size=40) | st.text(max_size=40))
def test_whatever_stands_in_a_file_reading_it_ends_in_values_or_in_faults_with_a_line(text: str) -> None:
    tree, faults = read_tree(text, "pond.yaml")
    for found in faults:
        assert found.where is not None
        assert found.where.line is not None
        assert found.where.excerpt == tree.lines[found.where.line - 1] or found.where.line > len(tree.lines)
