"""The issue: no step of any kind, in any order, loses or changes an entry (short form; the long one: torture.py)."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings
from hypothesis.stateful import run_state_machine_as_test

from ledger.machine import LedgerMachine
from reedmace.keys.model import Key

EXAMPLES = int(os.environ.get("REEDMACE_MACHINE_EXAMPLES", "6"))


def test_no_order_of_steps_loses_or_changes_an_entry(tarn: Key) -> None:
    """Record, amend, redetermine, withdraw, import, merge, settle, back up, dump and restore."""
    machine = type("Handled", (LedgerMachine,), {"key": tarn})
    run_state_machine_as_test(
        machine,
        settings=settings(
            max_examples=EXAMPLES,
            stateful_step_count=15,
            deadline=None,
            derandomize=EXAMPLES < 50,
            suppress_health_check=list(HealthCheck),
        ),
    )
