"""What the columns of a sheet mean: guessed from their headings and contents, corrected by the user, kept by name."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from reedmace.darwincore import FIELD_OF_TERM, looks_like_darwin_core
from reedmace.faults import Fault, Refused, did_you_mean
from reedmace.keys.model import Key
from reedmace.tasks.sheets.bands import Bands, are_bands
from reedmace.tasks.sheets.by_sample import by_sample
from reedmace.tasks.sheets.contents import are_counts, by_contents, cells_of, finer, perhaps_running, running_numbers
from reedmace.tasks.sheets.eastings import grid_hint, in_metres, without_grid
from reedmace.tasks.sheets.heading_words import HEADINGS, headed, in_words, plain_heading
from reedmace.tasks.sheets.month_first import order_unclear, says_month_first
from reedmace.tasks.sheets.numbering import numbers_rows
from reedmace.tasks.sheets.numbers import are_numbers
from reedmace.tasks.sheets.parts import PARTS, TICK_HEADINGS, all_ticks, part_headed, ticks_under

# Columns that come from elsewhere and can be joined where several mean the same.
_JOINED = {
    "locality": ", ",
    "remarks": "; ",
    "visit_remarks": "; ",
    "observer": " | ",
    "photos": " | ",
    "name": " | ",
    "determiner": " | ",
}
_BESIDE_ADULTS = frozenset(PARTS) - {"males", "females", "adults"}
OURS = ("fault", "why", "what to do", "line in the file")  # the columns a file of faults has beside its own


class ColumnMapping(NamedTuple):
    """What each column means, by its heading, in the order of the sheet; None for one that is left out.

    `zero` is what 0 means (`absent`, `present`, `skip`), empty where nobody has said; `century` is the century of
    years with two digits (1900 or 2000), None where those are faults. `darwin_core` says that the headings are
    terms of the standard, `numbers` that dates and times are a spreadsheet's numbers.

    Of the columns that are left out, `left` are those of which the user said so, `running` those that number the
    rows, and `alike` those that say what another says, each with that other. `numbering` are
    columns that were headed like the id and were left out, since they only number the rows.

    `bands` say what letters or words stand for in a count; `as_above` that empty cells mean what stands above them.
    `metres` are an easting and a northing of a grid that no heading names, which are left out until somebody does.
    """

    columns: tuple[tuple[str, str | None], ...]
    zero: str = ""
    century: int | None = None
    darwin_core: bool = False
    numbers: bool = False
    left: tuple[str, ...] = ()
    running: tuple[str, ...] = ()
    alike: tuple[tuple[str, str], ...] = ()
    numbering: tuple[str, ...] = ()
    bands: Bands = ()
    as_above: bool = False
    metres: tuple[str, ...] = ()

    @property
    def passed_over(self) -> frozenset[str]:
        """The columns of which it is known that nothing is lost by leaving them out."""
        return frozenset(
            (*self.left, *self.running, *self.numbering, *self.metres, *(heading for heading, _ in self.alike))
        )

    def places(self, columns: Sequence[str]) -> list[tuple[int, str, str]]:
        """Give for a sheet with these columns: place, field, and what joins it to one before of the same field."""
        meant = dict(self.columns)
        found = [(place, meant.get(column)) for place, column in enumerate(columns)]
        return [(place, field, _JOINED.get(field, " ")) for place, field in found if field is not None]

    def as_body(self) -> dict[str, object]:
        """Give it as a note's body."""
        said: dict[str, object] = {
            "columns": [list(pair) for pair in self.columns],
            "zero": self.zero,
            "century": self.century,
        }
        if self.numbers:
            said["numbers"] = True
        if self.bands:
            said["bands"] = [list(pair) for pair in self.bands]
        if self.as_above:
            said["as_above"] = True
        if self.passed_over:
            said["left"] = sorted(self.passed_over)
        return said


def from_body(body: Mapping[str, object]) -> ColumnMapping:
    """Read a mapping from a note's body; raises Refused where it is none."""
    columns, zero, century = body.get("columns"), body.get("zero"), body.get("century")
    left, bands = body.get("left", []), body.get("bands", [])
    if (
        not isinstance(columns, list)
        or not all(isinstance(pair, list) and len(pair) == 2 and pair[1] in (None, *HEADINGS) for pair in columns)
        or zero not in ("", "absent", "present", "skip")
        or century not in (None, 1900, 2000)
        or body.get("numbers") not in (None, True)
        or body.get("as_above") not in (None, True)
        or not are_bands(bands)
        or not isinstance(left, list)
    ):
        hint = "make it again: import the file without it and save it under a new name"
        raise Refused(Fault("profile-unread", "This saved mapping cannot be read.", hint))
    pairs = tuple((str(heading), field) for heading, field in columns)
    assert isinstance(bands, list)
    return ColumnMapping(
        pairs,
        str(zero),
        century,
        numbers="numbers" in body,
        left=tuple(map(str, left)),
        bands=tuple((word, band) for word, band in bands),
        as_above="as_above" in body,
    )


def guess(key: Key, columns: Sequence[str], sample: Iterable[Sequence[str]], today: date) -> ColumnMapping:
    """Guess what the columns mean: by the standard's terms, by their headings, else by what is in them."""
    ours = {name.casefold() for name in OURS}
    if looks_like_darwin_core(columns):
        twice = next(
            (column for column in columns if column in FIELD_OF_TERM and list(columns).count(column) > 1), None
        )
        if twice:
            said = f'The column "{twice}" stands here twice.'
            raise Refused(Fault("column-twice", said, "keep one of the two", twice))
        terms = {column: FIELD_OF_TERM.get(column) for column in columns}
        if "id" not in terms.values():
            terms |= dict.fromkeys(_plain_ids(columns, list(sample)), "id")
        return ColumnMapping(tuple(terms.items()), darwin_core=True)
    meant: dict[str, str | None] = {}
    for column in columns:
        meant[column] = None if column.casefold() in ours else FIELD_OF_TERM.get(column) or headed(column)
    rows = list(sample)
    meant = by_sample(meant, columns, rows, today)
    metres = in_metres(meant, {column: cells_of(rows, place) for place, column in enumerate(columns)})
    meant |= dict.fromkeys(metres)
    running = tuple(running_numbers(in_words(columns), meant, rows))
    meant |= dict.fromkeys(running)
    if "adults" in meant.values() and not _BESIDE_ADULTS.intersection(meant.values()):
        meant = {column: "count" if field == "adults" else field for column, field in meant.items()}
    known = {one for one in columns if one.casefold() in ours or one in running or one in metres}
    _by_contents(key, meant, known, columns, rows, today)
    meant = {
        column: "date_month_first" if field == "date" and says_month_first(column) else field
        for column, field in meant.items()
    }
    numbering = tuple(
        column for place, column in enumerate(columns) if meant[column] == "id" and numbers_rows(cells_of(rows, place))
    )
    meant |= dict.fromkeys(numbering)
    if "scientific_name" in meant.values() and "name" not in meant.values():
        meant = {column: "name" if field == "scientific_name" else field for column, field in meant.items()}
    return by_cells(
        ColumnMapping(tuple(meant.items()), running=running, numbering=numbering, metres=metres), columns, rows
    )


def _plain_ids(columns: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    """Find the column of ids in a file of the standard without their term: headed as in archives, no running number.

    Where one stands in two rows they are those of visits, as in an archive of these.
    """
    headed_so = [(column, cells_of(rows, at)) for at, column in enumerate(columns) if column.strip().casefold() == "id"]
    return [column for column, cells in headed_so if len(set(cells)) == len(cells) and not numbers_rows(cells)][:1]


def _by_contents(
    key: Key,
    meant: dict[str, str | None],
    known: Collection[str],
    columns: Sequence[str],
    rows: Sequence[Sequence[str]],
    today: date,
) -> None:
    """Say of columns without a telling heading, but for those `known`, what they mean by what is in them; in place."""
    places: list[str] = []  # columns taken for places, the finest last
    for place, column in enumerate(columns):
        if meant[column] not in (None, "status") or column in known:
            continue
        cells = cells_of(rows, place)
        if ticks_under(plain_heading(column), cells):
            meant[column] = "seen"
        if meant[column] is not None:
            continue
        field = by_contents(key, cells, today)
        if field is None and plain_heading(column) in TICK_HEADINGS and are_counts(cells):
            field = "count"
        if field is not None and field not in meant.values():
            meant[column] = field
            places += [column] if field == "place" else []
        elif field == "place" and places and finer(cells, cells_of(rows, columns.index(places[-1]))):
            meant |= {places[-1]: None, column: field}
            places.append(column)


def by_cells(mapping: ColumnMapping, columns: Sequence[str], sample: Iterable[Sequence[str]]) -> ColumnMapping:
    """Take a column of counts that holds ticks only for one of ticks, and see whether dates are numbers."""
    rows = list(sample)
    days, times = (
        [cell for place, field, _ in mapping.places(columns) if field in some for cell in cells_of(rows, place)]
        for some in (("date", "date_month_first"), ("time", "start", "end"))
    )
    mapping = mapping._replace(numbers=not mapping.darwin_core and are_numbers(days, times))
    ticked = {
        columns[place]
        for place, field, _ in mapping.places(columns)
        if field == "count" and (cells := cells_of(rows, place)) and all_ticks(cells)
    }
    if mapping.darwin_core or not ticked:
        return mapping
    return mapping._replace(
        columns=tuple((heading, "seen" if heading in ticked else field) for heading, field in mapping.columns)
    )


def unsure(mapping: ColumnMapping, columns: Sequence[str], sample: Sequence[Sequence[str]]) -> list[Fault]:
    """Ask of columns of which nothing tells: whether one counts insects or numbers the rows, which date is meant."""
    if mapping.darwin_core:
        return []
    asked = perhaps_running(in_words(columns), dict(mapping.columns), sample)
    unclear = order_unclear(mapping.columns, sample, columns)
    return [one for one in (asked, unclear) if one is not None]


def corrected(
    mapping: ColumnMapping, typed: Sequence[str], fields: Mapping[str, Collection[str]] = HEADINGS
) -> ColumnMapping:
    """Give a mapping with corrections typed as `Heading=field`, the field empty for a column to leave out.

    `fields` are what a column can mean, each with the headings it goes by, which will do as well.
    """
    meant = dict(mapping.columns)
    left = dict.fromkeys(mapping.left)
    unsaid = set(meant)
    faults = []
    for text in typed:
        heading, _, field = (part.strip() for part in text.rpartition("="))
        field = _field_meant(field, fields)
        if heading not in meant:
            hint = did_you_mean(heading, meant, f"columns: {', '.join(meant)}")
            faults.append(Fault("unknown-column", "The file has no such column.", hint, text, typed=True))
        elif field and field not in fields:
            hint = did_you_mean(field, fields, f"it can mean: {', '.join(fields)}")
            faults.append(Fault("unknown-field", "A column cannot mean this.", hint, text, typed=True))
        else:
            meant[heading] = field or None
            left[heading] = None
            unsaid.discard(heading)
    if faults:
        raise Refused(*faults)
    return mapping._replace(
        columns=tuple(meant.items()),
        darwin_core=mapping.darwin_core and not typed,
        left=tuple(heading for heading in left if meant[heading] is None),
        running=tuple(heading for heading in mapping.running if heading in unsaid),
        numbering=tuple(heading for heading in mapping.numbering if heading in unsaid),
    )


def _field_meant(typed: str, fields: Mapping[str, Collection[str]]) -> str:
    field = typed.replace("-", "_").replace(" ", "_")
    plain = plain_heading(typed)
    headed = next((one for one, names in fields.items() if plain in names), part_headed(plain))
    return headed if headed is not None and headed in fields and field not in fields else field


def missing(mapping: ColumnMapping, said: Collection[str] = ()) -> list[Fault]:
    """Say what no record can do without and no column gives; of the columns `said` the user has spoken."""
    fields = {field for _, field in mapping.columns}
    faults = []
    for what, some in (
        ("name", ("name", "scientific_name")),
        ("date", ("date", "date_month_first", "year")),
        ("place", ("place", "latitude", "locality", "british_easting", "irish_easting", "grid_letters")),
    ):
        if not fields.intersection(some):
            hint = f'say which column it is:  --map "Heading={some[0]}" ; headings stand in the first row'
            if what == "place":
                hint = grid_hint([heading for heading, _ in mapping.columns], mapping.metres) or hint
            faults.append(Fault(f"no-{what}-column", f"No column gives the {what}.", hint, typed=True))
    unsaid = without_grid(mapping.columns, said, mapping.metres) if "locality" in fields else None
    return [*faults, unsaid] if unsaid else faults
