"""A row that tells of a withdrawal asks for something: it is told, and does nothing by itself."""

from __future__ import annotations

from pathlib import Path

from ledger.pond import counting
from reedmace.darwincore import occurrence, withdrawn_row, write_csv
from reedmace.ledger.store import open_ledger
from reedmace.ledger.wanted import Wanted
from tasks.importing import HEADS, NOW, ROW, Import, kept


def test_what_a_file_asks_to_be_taken_out_is_told_with_the_ids_that_stand(bring: Import, tmp_path: Path) -> None:
    """Of three, one stands, one was withdrawn here already, and one never came."""
    bring(HEADS + ROW.format(1) + ROW.format(2))
    with open_ledger(tmp_path / "pond") as pond:
        (one, at, _), (gone, _, _) = pond.current_sightings(Wanted())
        pond.withdraw([gone.id], "not seen", pond.people.ids_of("Ada Marsh")[0], NOW, counting(300))
        line = occurrence(one, at, NOW, pond.people.name_of)
    lines = [withdrawn_row({**line, "occurrenceID": name}, "2026-07-19", "") for name in (one.id, gone.id, "x-1")]
    write_csv(tmp_path / "part.csv", lines, tuple(line))
    text = (tmp_path / "part.csv").read_bytes()
    for dry in (True, False):
        done = bring(text, dry=dry)
        assert (done.rows, done.withdrawals, done.left_out, done.faulty) == (3, 3, 0, 0)
        assert done.to_withdraw == (one.id,)
    assert one.id in {sighting.id for sighting, _ in kept(tmp_path)}
