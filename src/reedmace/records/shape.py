"""A shape: which fields a record has and of what kind, to write it as a plain body and read it back.

A body leaves out every field that holds its default, so defaults are part of the format and never change.
A field the shape does not know is refused, not dropped: amending writes the whole record again, and a
field dropped on reading would be lost without a word.
"""

from collections.abc import Mapping
from typing import Any, Generic, NamedTuple, TypeVar

from reedmace.records.kinds import Kind, Unfit

R = TypeVar("R", bound=tuple[Any, ...])


class Field(NamedTuple):
    """How one field is written to, and read from, plain JSON-able values."""

    write: Kind
    read: Kind


def _named(make: type[tuple[Any, ...]]) -> tuple[tuple[str, ...], dict[str, Any]]:
    """Give names and defaults of a NamedTuple's fields, which the type checker cannot see here."""
    return make._fields, make._field_defaults  # type: ignore[attr-defined]


_NOTHING = object()  # in place of a default where there is none


class Shape(Generic[R]):
    """The fields of one kind of record, by name."""

    __slots__ = ("_defaults", "_make", "_needed", "_readers", "_writers")

    def __init__(self, make: type[R], fields: Mapping[str, Kind | Field]) -> None:
        names, defaults = _named(make)
        self._make = make
        made = {name: field if isinstance(field, Field) else Field(field, field) for name, field in fields.items()}
        self._readers = {name: field.read for name, field in made.items()}
        self._writers = tuple((name, field.write, defaults.get(name, _NOTHING)) for name, field in made.items())
        self._defaults = defaults
        self._needed = frozenset(names) - frozenset(self._defaults)
        assert tuple(made) == names, f"{make.__name__} and its shape have drifted apart"

    def write(self, record: Any) -> dict[str, Any]:
        """Write the plain body of a record."""
        if type(record) is not self._make:
            raise Unfit(f"this should be a {self._make.__name__}", record)
        body: dict[str, Any] = {}
        for (name, write, default), value in zip(self._writers, record, strict=True):
            # 1 == True and 0 == False: a number must not pass for a flag's default.
            if value is default or (value == default and type(value) is type(default)):
                continue
            try:
                body[name] = write(value)
            except Unfit as unfit:
                unfit.path.insert(0, name)
                raise
        return body

    def read(self, body: Any) -> R:
        """Read the record a body stands for."""
        if not isinstance(body, dict):
            raise Unfit(f"the fields of a {self._make.__name__} should be here", body)
        values: dict[str, Any] = {}
        readers = self._readers
        name = ""
        try:
            for name, value in body.items():
                values[name] = readers[name](value)
        except Unfit as unfit:
            unfit.path.insert(0, name)
            raise
        except KeyError:
            if name in readers:
                raise
            why = f"there is a field {name!r} that this version does not know"
            raise Unfit(why, name, "record-too-new") from None
        if not values.keys() >= self._needed:
            missing = self._needed - values.keys()
            raise Unfit(f"the field {min(missing)!r} is missing", None)
        made: R = self._make(**values)
        return made


def nested(shape: Shape[Any]) -> Field:
    """Hold a record within a record."""
    return Field(shape.write, shape.read)


def remembered(shape: Shape[Any], most: int = 4096) -> Field:
    """Hold a record of text within a record; one that was read before is the same one again.

    For records of which thousands share few, such as names. Only text may be in them: True would pass for 1.
    """
    memory: dict[tuple[tuple[str, Any], ...], Any] = {}

    def read(body: Any) -> Any:
        try:
            known = tuple(body.items())
            found = memory.get(known)
        except (TypeError, AttributeError):  # a list in it, or no body at all
            return shape.read(body)
        if found is None:
            found = shape.read(body)
            if len(memory) >= most:
                memory.clear()
            memory[known] = found
        return found

    return Field(shape.write, read)


def many(kind: Kind) -> Field:
    """Hold any number of values of one kind: a tuple in a record, a list in a body."""

    def write(values: Any) -> list[Any]:
        if not isinstance(values, tuple):
            raise Unfit("this should be a tuple", values)
        return [kind(value) for value in values]

    def read(values: Any) -> tuple[Any, ...]:
        if not isinstance(values, list):
            raise Unfit("this should be a list", values)
        return tuple([kind(value) for value in values])

    return Field(write, read)


def short_rows(make: type[R], *kinds: Kind) -> Field:
    """As `rows`, where a row of which only the first part is filled is that part alone.

    So lists that once held bare text still read.
    """
    full = rows(make, *kinds)
    rest = tuple(_named(make)[1].values())

    def write(values: Any) -> list[Any]:
        return [row[0] if tuple(row[1:]) == rest else row for row in full.write(values)]

    def read(values: Any) -> tuple[Any, ...]:
        if not isinstance(values, list):
            raise Unfit("this should be a list", values)
        return full.read([row if isinstance(row, list) else [row, *rest] for row in values])  # type: ignore[no-any-return]

    return Field(write, read)


def rows(make: type[R], *kinds: Kind) -> Field:
    """Hold any number of small tuples with named parts; in a body they are bare lists, to keep it short."""
    assert len(kinds) == len(_named(make)[0])
    number = len(kinds)

    def write(values: Any) -> list[Any]:
        if not isinstance(values, tuple):
            raise Unfit("this should be a tuple", values)
        return [_parts(row, tuple) for row in values]

    def read(values: Any) -> tuple[Any, ...]:
        if not isinstance(values, list):
            raise Unfit("this should be a list", values)
        return tuple([make(*_parts(row, list)) for row in values])

    def _parts(row: Any, of: type[tuple[Any, ...] | list[Any]]) -> list[Any]:
        if not isinstance(row, of) or len(row) != number:
            raise Unfit(f"each of these should have {number} parts", row)
        return [kind(part) for kind, part in zip(kinds, row)]  # noqa: B905  (as many, seen above)

    return Field(write, read)
