"""Lines of CSV for plain sightings, put together from ready pieces.

Of some sixty cells a plain sighting fills a dozen of its own. All others are those of its visit or of its name, which
repeat: side by side they are kept as pieces of text, quoted already, and a line is its own cells between such pieces.
Read as CSV it is what `QuickRows.cells` gives. Whatever is out of the common is left to that.
"""

from __future__ import annotations

import json
from collections import OrderedDict
from itertools import groupby
from typing import Any, NamedTuple, get_args

from reedmace.darwincore.csvfile import escaped, one_line
from reedmace.darwincore.identification import grounds, key_words
from reedmace.darwincore.quick import EXACT, MOST, TAXON_TERMS, OfVisit, QuickRows
from reedmace.records import Taxon, Visit, with_names
from reedmace.records.bodies import NAMING, TAXON
from reedmace.records.kinds import Unfit
from reedmace.records.sighting import Evidence, Sex, Stage

_COMMON = frozenset(
    (
        *("id", "line_id", "visit_id", "taxon", "naming", "count", "count_kind", "count_typed", "sex", "stage"),
        *("evidence", "determiner", "determined_on", "remarks", "typed"),
    )
)
_SEXES, _STAGES, _EVIDENCES = (frozenset(("", *get_args(words))) for words in (Sex, Stage, Evidence))
_OWN = (
    *("occurrenceID", "identifiedBy", "dateIdentified", "identificationReferences", "identificationRemarks"),
    *("sex", "lifeStage", "individualCount", "dynamicProperties", "fieldNotes", "occurrenceRemarks", "modified"),
)
_NAME = (*TAXON_TERMS, "verbatimIdentification")


def quoted(text: str) -> str:
    """Give a cell that holds no line break as it stands in a line of CSV (RFC 4180)."""
    if '"' in text:
        return '"' + text.replace('"', '""') + '"'
    return f'"{text}"' if "," in text else text


class _Visited(NamedTuple):
    """The pieces of a visit in their places, own and names' places empty, and its part of the properties, quoted."""

    pieces: list[str]
    head: str
    weather: str
    exact: str
    one_time: bool


class PlainLines:
    """Makes lines of these columns, at least two, for sightings of one visit after the other."""

    def __init__(self, rows: QuickRows, columns: tuple[str, ...]) -> None:
        self._rows = rows
        runs = [(kind, tuple(run)) for kind, run in groupby(columns, self._kind)]
        # Of what is no default column there is nothing, so that it can be told where each cell of a visit stands.
        at = {column: place for place, column in enumerate(rows.columns)}
        nothing = len(rows.columns)
        self._of_visit = [
            (slot, [at.get(column, nothing) for column in run])
            for slot, (kind, run) in enumerate(runs)
            if kind == "visit"
        ]
        self._of_name = [(slot, run) for slot, (kind, run) in enumerate(runs) if kind == "name"]
        self._count = len(runs)
        own = {run[0]: slot for slot, (kind, run) in enumerate(runs) if kind not in ("visit", "name")}
        # What is not asked for goes behind the line, and is cut off.
        self._slots = tuple(own.get(term, self._count) for term in _OWN)
        self._whole = len(own) == len(_OWN)
        self._visit: Visit | None = None
        self._of: _Visited | None = None
        self._names: OrderedDict[tuple[tuple[str, Any], ...], list[tuple[int, str]]] = OrderedDict()

    @staticmethod
    def _kind(column: str) -> str:
        return column if column in _OWN else "name" if column in _NAME else "visit"

    def line(self, body: dict[str, Any], visit: Visit, modified: str) -> str | None:
        """Give the line of a plain sighting out of its body (see records.bodies); None where it has to be read whole.

        Whatever is out of the common, or not as it has to be, is left to that.
        """
        try:
            return self._line(body, visit, modified)
        except (TypeError, AttributeError, KeyError, Unfit):
            return None  # damaged, as reading it will say

    def _line(self, body: dict[str, Any], visit: Visit, modified: str) -> str | None:
        get = body.get
        sex, stage, evidence, count = get("sex", ""), get("stage", ""), get("evidence", ""), get("count")
        typed, remarks, who, on = get("typed", ""), get("remarks", ""), get("determiner", ""), get("determined_on", "")
        if (
            not body.keys() <= _COMMON
            or type(count) is not int
            or count < 1
            or get("count_kind") != "exact"
            or get("count_typed", "") not in ("", str(count))
            or not (sex in _SEXES and stage in _STAGES and evidence in _EVIDENCES)
            or not (type(body["id"]) is type(typed) is type(remarks) is type(who) is type(on) is str)
            or body["visit_id"] != visit.id
        ):
            return None
        name = self._names.get(tuple(body["taxon"].items()))
        if name is None and (name := self._named(body["taxon"])) is None:
            return None
        if visit is not self._visit:
            self._visit, self._of = visit, self._visited(visit)
        of = self._of
        assert of is not None
        pieces = of.pieces.copy()
        for slot, text in name:
            pieces[slot] = text
        for_id, for_who, for_day, for_key, for_grounds, for_sex, for_stage, for_count, *more = self._slots
        for_properties, for_typed, for_remarks, for_modified = more
        pieces[for_id] = quoted(body["id"])
        pieces[for_modified] = modified
        pieces[for_count] = str(count)
        pieces[for_sex] = sex
        pieces[for_stage] = stage
        if who:
            pieces[for_who] = quoted(one_line(self._rows.name_of(who)))
        pieces[for_day] = quoted(on)
        if remarks and not remarks.isspace():
            pieces[for_remarks] = quoted(one_line(remarks))
        if typed:
            pieces[for_typed] = quoted(one_line(with_names(typed, self._rows.name_of) if "{" in typed else typed))
        exact = ""
        if evidence:
            pieces[for_grounds] = f"Evidence: {evidence}"
        if "naming" in body:
            naming = NAMING.read(body["naming"])
            pieces[for_key] = quoted(one_line(key_words(naming)))
            pieces[for_grounds] = quoted(one_line(grounds(evidence, naming)))
            exact = f'"naming": {escaped(json.dumps(body["naming"], ensure_ascii=False))}'.replace('"', '""')
        if of.one_time:
            exact = f'{exact}{", " if exact else ""}""time"": null'
        evidence = f'""evidence"": ""{evidence}"", ' if evidence else ""
        own = f', ""sighting"": {{{exact}}}' if exact else ""
        pieces[for_properties] = f'"{{{of.head}{evidence}{of.weather}{_EXACT}{own}{of.exact}}}}}"'
        return ",".join(pieces if self._whole else pieces[: self._count])

    def _named(self, body: Any) -> list[tuple[int, str]] | None:
        """Give the pieces of a name out of its body; None for one that could not be split, or is no plain name."""
        taxon: Taxon = TAXON.read(body)
        if taxon.one_of or " or " in taxon.typed:
            return None
        told, typed = self._rows.named(taxon)
        cells = dict(zip(_NAME, (*told, typed), strict=True))
        found = [(slot, _joined([cells[term] for term in run])) for slot, run in self._of_name]
        self._names[tuple(body.items())] = found
        if len(self._names) > MOST:
            self._names.popitem(last=False)
        return found

    def _visited(self, visit: Visit) -> _Visited:
        of: OfVisit = self._rows.shared(visit)
        pieces = [""] * (self._count + 1 - self._whole)
        cells = [*map(quoted, of.cells), ""]
        for slot, run in self._of_visit:
            pieces[slot] = ",".join([cells[place] for place in run])
        head, weather, exact = [text.replace('"', '""') for text in (of.head, of.weather, of.exact)]
        return _Visited(pieces, head, weather, exact, of.one_time)


_EXACT = EXACT.replace('"', '""')


def _joined(cells: list[str]) -> str:
    return ",".join(map(quoted, cells))
