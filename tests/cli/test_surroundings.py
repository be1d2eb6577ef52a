"""New ids and the stamp of an entry: what the commands bring from outside."""

from __future__ import annotations

import re
import time
import uuid

from reedmace.cli.surroundings import new_id, written_at


def test_ids_are_uuids_of_version_7_in_the_order_in_which_they_were_made() -> None:
    """Python's own uuid reads them (RFC 9562: version 7, variant 10); lines keep the order they were typed in."""
    made = [new_id() for _ in range(2000)]
    read = [uuid.UUID(one) for one in made]
    assert [str(one) for one in read] == made
    assert {(one.version, one.variant) for one in read} == {(7, uuid.RFC_4122)}
    assert made == sorted(set(made))


def test_an_id_tells_the_millisecond_it_was_made_in() -> None:
    """The first 48 bits are Unix time in milliseconds."""
    before = time.time_ns() // 1_000_000
    stamp = uuid.UUID(new_id()).int >> 80
    assert before <= stamp <= time.time_ns() // 1_000_000


def test_an_entry_is_stamped_in_utc() -> None:
    """To the second, as the ledger wants it."""
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", written_at())
    assert written_at()[:13] in {time.strftime("%Y-%m-%dT%H", time.gmtime(time.time() + shift)) for shift in (-1, 0, 1)}
