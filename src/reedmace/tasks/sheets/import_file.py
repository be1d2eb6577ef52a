"""Import a CSV file: rows → records → the ledger, portion by portion, and what does not fit into a file of faults.

A faulty row never stops the others and never vanishes: it goes, with its fault beside it, into `FILE.faults.csv`,
which can be corrected and imported in its turn. Importing a file again adds nothing: every row comes to the id it
had before.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import lru_cache, partial
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.ledger.bulk import Bulk, lone_visits
from reedmace.ledger.entries import Stamp, stamp
from reedmace.ledger.replies import Reply
from reedmace.ledger.store import Ledger
from reedmace.records import Sighting, Visit, unreadable
from reedmace.tasks.sheets.above import groups_of
from reedmace.tasks.sheets.columns import ColumnMapping
from reedmace.tasks.sheets.corrected import CorrectedRows
from reedmace.tasks.sheets.dates import typed_unlike
from reedmace.tasks.sheets.faults_file import EXTRA, FaultsFile
from reedmace.tasks.sheets.fields import Choices
from reedmace.tasks.sheets.ids import RowIds
from reedmace.tasks.sheets.import_people import ImportPeople
from reedmace.tasks.sheets.import_portion import earliest, others, would_refuse
from reedmace.tasks.sheets.import_told import Imported, Tally
from reedmace.tasks.sheets.long_cells import LONGEST, too_long
from reedmace.tasks.sheets.made import Made
from reedmace.tasks.sheets.numbering import is_number
from reedmace.tasks.sheets.otherwise import Differs, Told, all_differences, differences, otherwise
from reedmace.tasks.sheets.parts import COUNTING
from reedmace.tasks.sheets.records import RecordMaker
from reedmace.tasks.sheets.rows import Row, Sheet, rows
from reedmace.tasks.sheets.scientific import nearest_scientific
from reedmace.tasks.sheets.total_rows import says_total
from reedmace.tasks.sheets.unread import Unread, cell_error
from reedmace.tasks.sheets.visits import RowVisits
from reedmace.tasks.shorthand.children_kept import children_of_sighting, children_of_visit

# Rows written together: a second or two in which other programs wait. Small portions write the same pages of
# every index over and over.
PORTION = 5000
_IDS = frozenset(("id", "visit_id"))  # fields that may come in another spelling
_REPORT = 200  # rows between two reports of progress


class Importing(NamedTuple):
    """Who imports, when, and what is passed in: the user's person id, the time (UTC), ids, today.

    `observer` is the name taken where no row says who observed. `dry` writes nothing.
    """

    person: str
    observer: str
    written_at: str
    new_id: Callable[[], str]
    today: date
    dry: bool = False


def import_file(
    ledger: Ledger, key: Key, sheet: Sheet, mapping: ColumnMapping, how: Importing, progress: Callable[[int], None]
) -> Imported:
    """Import a file by a mapping; see the module. Raises Refused where the ledger cannot be written to."""
    if mapping.as_above:
        sheet = sheet._replace(repeats=groups_of(mapping, sheet.columns))
    run = _Run(ledger, key, sheet, mapping, how)
    try:
        for row in rows(sheet):
            run.take(row)
            if run.tally.rows % PORTION == 0:
                run.write(more=True)
            if run.tally.rows % _REPORT == 0:
                progress(run.tally.rows)
        run.write()
    finally:
        run.faults.close()
    told = run.tally.told(run.faults, run.corrected.found(), partial(nearest_scientific, key), run.people.new)
    return told._replace(may_be=run.people.may_be())


class _Run:
    """One import under way."""

    def __init__(self, ledger: Ledger, key: Key, sheet: Sheet, mapping: ColumnMapping, how: Importing) -> None:
        self.tally = Tally(how.observer)
        self.faults = FaultsFile(sheet, how.dry)
        self._ledger = ledger
        self._bulk: Bulk = ledger.importing()
        self._how = how
        self._places = mapping.places(sheet.columns)
        # In a file of the standard a blank is a blank; in one that is surely UTF-8, U+FFFD was written on purpose.
        self._exact, self._unsure = mapping.darwin_core, not sheet.sure
        self._own = [place for place, column in enumerate(sheet.columns) if column.casefold() not in EXTRA]
        self._whole = len(self._own) == len(sheet.columns)
        self._filled_up = mapping.as_above
        self._said_by_rows = len(sheet.columns) - len(sheet.everywhere)
        self._unread = Unread(sheet, mapping, self._own)
        meant = {field for _, field, _ in self._places}
        choices = Choices(mapping.zero, mapping.century, how.observer, COUNTING & meant, mapping.numbers, mapping.bands)
        unlike = frozenset[str]()
        if "visit_id" in meant:
            told = (row.cells for row in rows(sheet) if row.fault is None)
            unlike = typed_unlike(self._places, told, how.today, mapping.century)
        self._visits = RowVisits(self._visit_there, unlike)
        self.corrected = CorrectedRows(self._bulk.of_visit, differences, self._bulk.untold)
        self._key = lambda: key
        self._kept = lru_cache(1000)(self._bulk.kept)
        self._ids = RowIds(sheet.columns, self._own)
        self._id_column = next((sheet.columns[place] for place, field, _ in self._places if field == "id"), "")
        self._mapped = frozenset(meant)
        self.people = ImportPeople(ledger, how.new_id)
        self._maker = RecordMaker(key, choices, how.today, self.people.id_of, self._visits)
        # Rows not written yet, their records with what made them; ids among them.
        self._waiting: list[tuple[Row, Made]] = []
        self._new: set[str] = set()
        self._last: Visit | None = None
        self._dry_seen: set[str] = set()

    def take(self, row: Row) -> None:
        """Make records of a row, or keep it for the file of faults."""
        self.tally.rows += 1
        if row.fault is not None:
            self.faults.add(row, (row.fault,))
            return
        fields = self._fields(row)
        said = "\x1f".join(row.cells) if self._whole else "\x1f".join(row.cells[place] for place in self._own)
        if (spoilt := self._spoilt(said, row) or (too_long(fields) if len(said) > LONGEST else None)) is not None:
            self.faults.add(row, (spoilt,))
            return
        without_id = not fields.get("id", "").strip()
        made = self._maker.make(fields, lambda: self._ids.of(row.cells))
        if made.faults:
            cells = [row.cells[place] for place in self._own if place < self._said_by_rows]
            total = says_total(cells, filled_up=self._filled_up)
            self.faults.add(row, made.faults if total is None else (total,))
        elif made.said is not None and made.said.place.system is None and (lost := self._unread.place(row.cells)):
            self.faults.add(row, (lost,))
        elif made.left_out == "withdrawn":
            self.tally.asked(made.withdrawn, stands=self._bulk.stands(made.withdrawn))
        elif made.left_out and (fault := self._unread.fault(row.cells)):
            self.faults.add(row, (fault,))
        elif made.visit is None:
            self.tally.left_out += 1
        else:
            self._place(row, made, without_id=without_id)

    def _fields(self, row: Row) -> dict[str, str]:
        """Give what the cells of a row mean, ids as this ledger has them."""
        fields: dict[str, str] = {}
        for place, field, joiner in self._places:
            cell = row.cells[place]
            if cell and (self._exact or not cell.isspace()):
                if field not in fields:
                    fields[field] = cell
                elif joiner != " " or fields[field].strip() != cell.strip():
                    fields[field] = f"{fields[field]}{joiner}{cell}"
        return fields | {field: self._kept(fields[field]) for field in _IDS.intersection(fields)}

    def _spoilt(self, said: str, row: Row) -> Fault | None:
        """Say what a row holds that nobody wrote; `said` are its cells together."""
        why = unreadable(said) or ("it holds a sign that is no text" if self._unsure and "\ufffd" in said else None)
        if why is not None:
            hint = "save the file as CSV UTF-8, or say how it is written:  --encoding cp1252"
            return Fault("text-unreadable", f"This row cannot be kept: {why}.", hint)
        return cell_error(row.cells) if "#" in said else None

    def _place(self, row: Row, made: Made, *, without_id: bool) -> None:
        """Sort what was made into new and there already."""
        assert made.visit is not None
        new = []
        for sighting in made.sightings:
            there = self._bulk.there(sighting.id)
            if there is None and sighting.id not in self._new:
                new.append(sighting)
                continue
            differs = self._unlike(sighting, there, made) if isinstance(there, Sighting) else [Differs("kind")]
            if there is None:
                fault = Fault("id-twice", "This id stands in an earlier row.", "give each row an id of its own")
                self.faults.add(row, (fault._replace(said=sighting.id),))
            elif differs:
                at = there.visit_id if isinstance(there, Sighting) else ""
                number = self._id_column if is_number(sighting.id) else ""
                stands = self._bulk.stands(sighting.id)
                said = otherwise(sighting.id, differs, stands=stands, visit=at, numbering=number)
                self.faults.add(row, (said,))
            else:
                self.tally.there += 1
                if without_id and self._whole:
                    self.corrected.told(sighting)
                elif without_id:
                    self.tally.repeated[row.line] = None
        if new and made.objection is not None:
            self.faults.add(row, (made.objection,))
            return
        if (child := self._child_in(new, made)) is not None:
            self.faults.add(row, (child,))
            return
        if not made.sightings:
            self.tally.left_out += 1
        if new or (not made.sightings and made.left_out == "absent"):
            self._new.update(sighting.id for sighting in new)
            # The rows of a file of faults were never brought in before.
            for sighting in new if without_id and self._whole else ():
                self.corrected.new(row.line, sighting, made.visit)
            self._waiting.append((row, made._replace(sightings=tuple(new))))

    def _child_in(self, new: list[Sighting], made: Made) -> Fault | None:
        """Say whose name may be a child's in what would be kept; what is there already is for the check to ask."""
        visit = made.visit
        assert visit is not None
        observers = (new[0].observers if new else None) or visit.observers  # one row names them once

        def names() -> list[str]:
            return [self.people.compared(one) or "" for one in observers]

        for sighting in new:
            if found := children_of_sighting(sighting, visit, self._key, names):
                return found[0]
        if (found := children_of_visit(visit, self._key, names)) and self._is_new(visit):
            return found[0] if new or made.left_out == "absent" else None
        return None

    def write(self, more: bool = False) -> None:
        """Write what waits, whole; the file of faults first, so that no row is in neither.

        Where `more` rows may come, the last visit waits for them: its entry is as old as its oldest sighting's.
        """
        self.faults.flush()
        if not self._waiting:
            return
        last = self._waiting[-1][1].visit
        held = [one for one in self._waiting if one[1].visit == last] if more else []
        if len(held) < len(self._waiting):
            self._waiting = [one for one in self._waiting if one[1].visit != last] if held else self._waiting
        else:
            held = []
        records: list[tuple[Visit | Sighting, Stamp]] = []
        row_of: list[Row] = []
        oldest = earliest(self._waiting)
        visits: set[str] = set()
        for row, made in self._waiting:
            assert made.visit is not None
            if made.visit.id not in visits and self._is_new(made.visit):
                records.append((made.visit, self._stamp(oldest[made.visit.id])))
                row_of.append(row)
            visits.add(made.visit.id)
            for sighting in made.sightings:
                records.append(
                    (sighting, self._stamp(made.modified, "redetermined" if made.earlier else "", made.reason))
                )
                row_of.append(row)
        self.people.met((record for record, _ in records), others(self._waiting), dry=self._how.dry)
        before = {made.sightings[0].id: self._before(made) for _, made in self._waiting if made.earlier}
        refused = (
            would_refuse(records) if self._how.dry else self._bulk.write(records, self._how.new_id, before).refused
        )
        lone = lone_visits([record for record, _ in records], refused)
        for place, problem in refused.items():
            self.faults.add(row_of[place], problem.faults)
        self.faults.flush()
        kept = [record for place, (record, _) in enumerate(records) if place not in refused]
        written = [record for record in kept if record.id not in lone]
        self.tally.wrote(written, [made for _, made in self._waiting])
        if self._how.dry:
            self._dry_seen |= visits
        else:
            self._answers({record.id for record in written})
        self._waiting = held
        self._new = self._new if self._how.dry else {one.id for _, made in held for one in made.sightings}

    def _answers(self, written: set[str]) -> None:
        """Keep what a county recorder had said of records that are new here, beside them."""
        replies = [
            Reply(made.sightings[0].id, made.verified)
            for _, made in self._waiting
            if made.verified is not None and made.sightings and made.sightings[0].id in written
        ]
        if replies:
            how = self._how
            self._ledger.answered_by_recorder(replies, how.person, how.written_at, how.new_id)

    def _visit_of(self, there: Sighting) -> Visit | None:
        """Give the visit of a record; neighbours are mostly of one."""
        if self._last is None or self._last.id != there.visit_id:
            self._last = self._visit_there(there.visit_id)
        return self._last

    def _visit_there(self, visit_id: str) -> Visit | None:
        there = self._bulk.there(visit_id)
        return there if isinstance(there, Visit) else None

    def _is_new(self, visit: Visit) -> bool:
        return visit.id not in self._dry_seen and self._bulk.there(visit.id) is None

    def _before(self, made: Made) -> list[tuple[Sighting, Stamp]]:
        """Give the entries of the determinations before, as far as they are told."""
        first, *rest = made.earlier
        return [
            (first.sighting, self._stamp(first.written_at)),
            *((one.sighting, self._stamp(one.written_at, "redetermined", one.reason)) for one in rest),
        ]

    def _stamp(self, modified: str, act: str = "", reason: str = "") -> Stamp:
        """Say when the record was written: when it last changed where it comes from, where that is known."""
        how = self._how
        reason = (reason if reason.strip() else "as in the file it came from") if act else ""
        if modified:
            try:
                return stamp(act or "recorded", reason, how.person, min(modified, how.written_at))
            except ValueError:
                pass  # another form of time; ours is put in its place
        return stamp(act or "recorded", reason, how.person, how.written_at)

    def _unlike(self, one: Sighting, there: Sighting, made: Made) -> list[Differs]:
        """Name what a row says otherwise than the record of its id."""
        assert made.said is not None
        told = Told(
            one,
            made.said,
            self._mapped,
            exact=made.exact,
            nobody=made.nobody,
            withheld=made.withheld,
            untold=frozenset() if made.exact else self._visits.untold(one.visit_id, made.said),
        )
        found = all_differences(told, there, self._visit_of(there), self.people.compared)
        # A row without a visit's id says day and place and the like instead, which were compared.
        said = not made.visit_ids and one.visit_id != there.visit_id
        return [*found, Differs("visit")] if said else found
