"""What tests of tasks share."""

from __future__ import annotations

from itertools import islice
from pathlib import Path

import pytest

from ledger.pond import counting
from reedmace.keys.model import Key
from reedmace.ledger.store import open_ledger
from reedmace.tasks.sheets.columns import by_cells, corrected, guess, missing
from reedmace.tasks.sheets.everywhere import with_said_above
from reedmace.tasks.sheets.import_file import Importing, import_file
from reedmace.tasks.sheets.import_told import Imported
from reedmace.tasks.sheets.rows import look_at, rows
from reedmace.tasks.sheets.twins import settled
from tasks.importing import NOW, TODAY, Import


@pytest.fixture
def bring(tarn: Key, tmp_path: Path) -> Import:
    """Import a text (or bytes) as a file into the ledger `pond`; options by name."""
    mint = counting(1, "a")

    def importing(
        text: str | bytes,
        name: str = "walks.csv",
        ledger: str = "pond",
        dry: bool = False,
        typed: tuple[str, ...] = (),
        now: str = NOW,
        **options: object,
    ) -> Imported:
        path = tmp_path / name
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        sheet = with_said_above(look_at(str(path)))
        sample = [row.cells for row in islice(rows(sheet), 200)]
        guessed = corrected(guess(tarn, sheet.columns, sample, TODAY), typed)
        said = {text.rpartition("=")[0] for text in typed}
        mapping = settled(sheet, by_cells(guessed, sheet.columns, sample)._replace(**options), said)
        assert missing(mapping) == []
        with open_ledger(tmp_path / ledger) as pond:
            ada = pond.people.register("Ada Marsh", mint)
            how = Importing(ada, "Ada Marsh", now, mint, TODAY, dry)
            return import_file(pond, tarn, sheet, mapping, how, lambda _: None)

    return importing
