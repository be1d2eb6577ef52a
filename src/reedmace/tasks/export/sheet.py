"""A recipient's own sheet: their headings in their order, one row a record, or one row a species of a visit."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import NamedTuple

from reedmace.darwincore import TERMS, pair_words, whole_file
from reedmace.records import Sighting
from reedmace.tasks.export.cells import Number, day_written, harmless, number_of, number_written
from reedmace.tasks.export.profiles import SheetLayout
from reedmace.tasks.export.rows import ExportRow
from reedmace.tasks.export.sources import VERIFICATION
from reedmace.tasks.export.unsaid import columns_of, record_unsaid, species_unsaid

_PAIRS = ("pairs", "tandem", "copulating")
_OF_A_WITHDRAWN = ("id", "visit", "date", "species", "english name", "code", "change", "remarks")
Cells = dict[str, str]


class Sheet(NamedTuple):
    """What was written: rows, names that the recipient's list of codes lacks, and rows that do not say all.

    `lacking` counts rows of which something is said in no column: the sheet has none for remarks.
    """

    rows: int
    without_code: tuple[str, ...]
    lacking: int


def write_sheet(path: Path, rows: Iterable[ExportRow], layout: SheetLayout, overwrite: bool) -> Sheet:
    """Write a sheet whole, or leave what was there as it was."""
    writing = _Writing(layout)
    sign = "\t" if layout.delimiter == "tab" else layout.delimiter
    with whole_file(path, overwrite) as file:
        out = io.TextIOWrapper(file, encoding="utf-8-sig" if layout.mark else "utf-8", newline="")
        writer = csv.writer(out, delimiter=sign, lineterminator="\r\n")
        writer.writerow([harmless(heading) for heading in layout.columns])
        number = 0
        for cells in writing.rows(rows):
            writer.writerow([harmless(cells.get(source, "")) for source in layout.columns.values()])
            number += 1
        out.flush()
        out.detach()
    return Sheet(number, tuple(sorted(writing.without_code)), writing.lacking)


def cells_of_rows(rows: Iterable[ExportRow], layout: SheetLayout) -> Iterator[Cells]:
    """Give the cells of each row of a sheet, by what they hold; `id` is among them whether it has a column or not."""
    return _Writing(layout).rows(rows)


class _Writing:
    """One sheet being written."""

    def __init__(self, layout: SheetLayout) -> None:
        self._layout = layout
        self._codes = {name.casefold(): code for name, code in layout.codes.items()}
        self._fixed = {source: source[1:] for source in layout.columns.values() if source.startswith("=")}
        self._columns = frozenset(layout.columns.values())
        self._terms = [source for source in layout.columns.values() if source in TERMS]
        self.without_code: set[str] = set()
        self.lacking = 0

    def rows(self, rows: Iterable[ExportRow]) -> Iterator[Cells]:
        """Give the rows that the layout wants."""
        return self.by_species(rows) if self._layout.rows == "species" else self.by_record(rows)

    def by_record(self, rows: Iterable[ExportRow]) -> Iterator[Cells]:
        """Give one row for each record."""
        for row in rows:
            terms = row.terms()
            cells = self._common(row, terms)
            sighting = row.sighting
            cells |= {
                "count": self._written(number_of(sighting)),
                "sex": "pairs" if sighting.pairs else sighting.sex or "",
                "stage": sighting.stage or "",
                "behaviour": ", ".join(sighting.behaviour),
                "pairs": str(sighting.pairs or ""),
                "evidence": sighting.evidence or "",
                "id": sighting.id,
            }
            if row.notes.change == "withdrawn":
                cells = {source: cells[source] for source in _OF_A_WITHDRAWN}
            else:
                unsaid = record_unsaid(sighting, self._columns)
                words = [", ".join(unsaid), pair_words(sighting)[1], sighting.remarks, _place_kept_back(row)]
                cells["remarks"] = self._remarks(unsaid, words)
            yield {**{term: terms[term] for term in self._terms if term in terms}, **cells, **self._fixed}

    def by_species(self, rows: Iterable[ExportRow]) -> Iterator[Cells]:
        """Give one row for each species of a visit at one place, with numbers by stage and behaviour."""
        visit, species = "", dict[tuple[object, ...], _OfSpecies]()
        # What the county recorder said of one record is not said of the others in its row.
        apart = not self._columns.isdisjoint(VERIFICATION)
        for row in rows:
            if row.visit.id != visit:
                yield from (self._summed(one) for one in species.values())
                visit, species = row.visit.id, {}
            seen = row.sighting
            named = (seen.taxon.scientific_name, seen.taxon.one_of, seen.certainty, seen.qualifier)
            key = (*named, seen.place, seen.time, seen.observers, self._verified(row) if apart else None)
            if key not in species:
                species[key] = _OfSpecies(self._common(row, row.terms()), _place_kept_back(row))
            species[key].take(seen)
        yield from (self._summed(one) for one in species.values())

    def _summed(self, one: _OfSpecies) -> Cells:
        numbers = {
            name: str(number.low) if name in _PAIRS else self._written(number) for name, number in one.numbers.items()
        }
        unsaid = species_unsaid(one.sightings, self._columns)
        ids = " | ".join(sighting.id for sighting in one.sightings)
        remarks = self._remarks(unsaid, [*unsaid, *one.remarks, one.place_kept_back])
        return {**one.cells, **numbers, "remarks": remarks, "id": ids, **self._fixed}

    def _remarks(self, unsaid: Sequence[str], words: Iterable[str]) -> str:
        """Join what stands in the remarks, and note a row that has no room for what no other column says."""
        self.lacking += bool(unsaid) and "remarks" not in self._columns
        return "; ".join(text for text in words if text and not text.isspace())

    def _common(self, row: ExportRow, terms: Mapping[str, str]) -> Cells:
        """Give what a row says of its visit, place and name."""
        sighting, visit = row.sighting, row.visit
        place = sighting.place or visit.place
        taxon = sighting.taxon
        name = taxon.scientific_name
        if taxon.one_of:
            name = f"{name} ({' or '.join(taxon.one_of)})"
        elif sighting.qualifier or sighting.certainty == "uncertain":
            name = f"{name} {sighting.qualifier or '?'}"
        county = place.vice_county or ""
        return {
            "date": day_written(visit.date, self._layout.dates) if visit.date else visit.date_typed,
            "time": terms["eventTime"].replace("/", "-"),
            "species": name,
            "english name": taxon.vernacular,
            "code": self._code(taxon.scientific_name, taxon.vernacular),
            "certainty": sighting.certainty or "",
            "recorder": terms["recordedBy"].replace(" | ", ", "),
            "determiner": terms["identifiedBy"],
            "grid reference": place.square or "",
            "place as written": terms["verbatimCoordinates"],
            "locality": terms["verbatimLocality"] or terms["locality"],
            "vice-county": county,
            "vice-county name": row.dataset.vice_county_names.get(county, ""),
            "habitat": terms["habitat"],
            "method": visit.method,
            "weather": visit.weather,
            "visit remarks": visit.remarks,
            "remarks": terms["occurrenceRemarks"],
            "visit": visit.id,
            "change": row.notes.change,
            **dict(zip(VERIFICATION, self._verified(row), strict=True)),
        }

    def _verified(self, row: ExportRow) -> tuple[str, str, str]:
        """Give the answer on the name that stands, who gave it and when; nothing of one about another name."""
        notes = row.notes
        if not notes.verification or notes.verified is None:
            return notes.verification, "", ""
        said = notes.verified
        day = day_written(said.date, self._layout.dates) if said.date else ""
        return notes.verification, row.name_of(said.verifier), day

    def _code(self, scientific: str, english: str) -> str:
        if not self._codes:
            return ""
        code = self._codes.get(scientific.casefold()) or self._codes.get(english.casefold(), "")
        if not code and "code" in self._columns:
            self.without_code.add(english or scientific)
        return code

    def _written(self, number: Number) -> str:
        return number_written(number, self._layout.bands, self._layout.present)


def _place_kept_back(row: ExportRow) -> str:
    """Say that a place is not told, where nobody else may see it: a sheet has no column for that."""
    return row.notes.generalised[:1].lower() + row.notes.generalised[1:] if row.blurred else ""


class _OfSpecies:
    """One species of a visit at one place, summed up."""

    def __init__(self, cells: Cells, place_kept_back: str) -> None:
        self.cells = cells
        self.place_kept_back = place_kept_back
        self.sightings: list[Sighting] = []
        self.numbers: dict[str, Number] = {}

    @property
    def remarks(self) -> list[str]:
        """The remarks of all, each once."""
        return list(dict.fromkeys(one.remarks for one in self.sightings))

    def take(self, sighting: Sighting) -> None:
        """Take a sighting up."""
        self.sightings.append(sighting)
        insects, pairs = number_of(sighting), Number(sighting.pairs or 0, sighting.pairs or 0)
        for column in columns_of(sighting):
            more = pairs if column in _PAIRS else insects
            self.numbers[column] = self.numbers.get(column, Number()).plus(more)
