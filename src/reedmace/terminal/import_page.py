"""What an import came to, on the screen."""

from __future__ import annotations

from reedmace.tasks.import_told import Imported
from reedmace.terminal.faulty_rows import show_faulty_rows
from reedmace.terminal.plain import literal
from reedmace.terminal.screen import Screen
from reedmace.terminal.words import plural


def show_import(screen: Screen, done: Imported, *, dry: bool) -> None:
    """Say what came in, what did not, and what was taken for granted; `dry` where nothing was written."""
    would = "Would bring in" if dry else "Brought in"
    brought = f"{plural(done.sightings, 'sighting')} and {plural(done.visits, 'visit')}"
    screen.say(f"{would} {brought} from {plural(done.rows, 'row')}.")
    if done.there:
        screen.say(f"In the ledger already, and left as they are: {done.there:,}.")
    if done.left_out:
        screen.say(f"Rows that say that there was nothing: {done.left_out:,}.")
    if done.nobody:
        screen.say(f"Rows that name nobody who observed, credited to {literal(done.observer)}: {done.nobody:,}.")
    if done.faulty:
        show_faulty_rows(screen, done.faulty, done.faults)
    if done.faults_file is not None:
        screen.say(f"They are in {literal(done.faults_file)}: correct them there, and import that file.")
