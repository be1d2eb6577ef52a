"""What an import came to, on the screen."""

from __future__ import annotations

from reedmace.tasks.sheets.import_told import Imported
from reedmace.terminal.faulty_rows import show_faulty_rows
from reedmace.terminal.plain import literal
from reedmace.terminal.screen import Screen
from reedmace.terminal.words import plural

_MOST_NAMES = 20
_MOST_IDS = 5


def show_import(screen: Screen, done: Imported, *, dry: bool) -> None:
    """Say what came in, what did not, and what was taken for granted; `dry` where nothing was written."""
    would = "Would bring in" if dry else "Brought in"
    brought = f"{plural(done.sightings, 'sighting')} and {plural(done.visits, 'visit')}"
    screen.say(f"{would} {brought} from {plural(done.rows, 'row')}.")
    if done.there:
        screen.say(f"In the ledger already, and left as they are: {done.there:,}.")
    if done.repeated:
        _repeated(screen, done)
    if done.left_out:
        screen.say(f"Rows that say that there was nothing: {done.left_out:,}.")
    if done.nobody:
        screen.say(f"Rows that name nobody who observed, credited to {literal(done.observer)}: {done.nobody:,}.")
    if done.timeless:
        screen.say(
            f"Rows with a time of another zone from before 1981, brought in without it: {done.timeless:,}. What was"
            " typed is kept with them."
        )
    _new_people(screen, done, dry=dry)
    if done.withdrawals:
        _withdrawals(screen, done)
    _read_as(screen, done)
    _not_in_key(screen, done)
    if done.corrected:
        _corrected(screen, done, dry=dry)
    if done.faulty:
        show_faulty_rows(screen, done.faulty, done.faults)


def _repeated(screen: Screen, done: Imported) -> None:
    """Say which rows that were put right may be further records, though they say what another one says."""
    lines = ", ".join(f"{line}" for line in done.repeated[:_MOST_NAMES])
    more = f" and {len(done.repeated) - _MOST_NAMES:,} more" if len(done.repeated) > _MOST_NAMES else ""
    screen.say(
        f"Of these, rows of a file of faults that say just what a record says that was there: line {lines}{more}."
        " Where one was not brought in earlier but is another of the same, write something into it that tells it apart,"
        " such as a remark, and import the file again."
    )


def _read_as(screen: Screen, done: Imported) -> None:
    """List the names that had to be read into something, so that whoever typed them can look."""
    if not done.read_as:
        return
    screen.say("Names that are not in the key as they were typed. Read as:")
    for one in done.read_as[:_MOST_NAMES]:
        screen.say(f"{one.typed}: {one.taken_for}, {plural(one.rows, 'row')}", indent=2, hang=2)
    rest = done.read_as[_MOST_NAMES:]
    if rest:
        rows = plural(sum(one.rows for one in rest), "row")
        screen.say(f"and {plural(len(rest), 'name')} more, in {rows}: all of them are in  --json", indent=2, hang=2)


def _new_people(screen: Screen, done: Imported, *, dry: bool) -> None:
    """Name those who are new in the register: a cell that was read wrongly shows here."""
    if not done.new_people:
        return
    some, rest = done.new_people[:_MOST_NAMES], done.new_people[_MOST_NAMES:]
    more = f"; and {len(rest):,} more: all of them are in  --json" if rest else ""
    who = "; ".join(literal(name) for name in some)
    screen.say(f"New people{' there would be' if dry else ''}: {who}{more}", hang=2)
    if not done.may_be:
        return
    screen.say("Of these may be somebody who is there under another name:")
    for name, others in done.may_be[:_MOST_NAMES]:
        screen.say(f"{literal(name)}: {literal(' or '.join(others))}", indent=2, hang=2)
    here = "here:  reedmace ledger amend VISIT observers=NAME --reason WHY"
    where = "in the file, before it is brought in" if dry else here
    screen.say(f"If it is, write the whole name {where}", indent=2, hang=2)


def _not_in_key(screen: Screen, done: Imported) -> None:
    """List the scientific names that the key does not have, for no search, check or season knows what they are."""
    if not done.not_in_key:
        return
    screen.say("Scientific names that are not in the key, kept as they are:")
    for one in done.not_in_key[:_MOST_NAMES]:
        near = f"; the key has {literal(one.nearest)}" if one.nearest else ""
        screen.say(f"{literal(one.name)}, {plural(one.rows, 'row')}{near}", indent=2, hang=2)
    rest = done.not_in_key[_MOST_NAMES:]
    if rest:
        rows = plural(sum(one.rows for one in rest), "row")
        screen.say(f"and {plural(len(rest), 'name')} more, in {rows}: all of them are in  --json", indent=2, hang=2)


def _withdrawals(screen: Screen, done: Imported) -> None:
    asks = "1 row asks" if done.withdrawals == 1 else f"{done.withdrawals:,} rows ask"
    if not done.to_withdraw:
        screen.say(f"{asks} that a record be taken out; none of these stands in this ledger.")
        return
    screen.say(f"{asks} that a record be taken out:")
    screen.say('reedmace ledger withdraw ID --reason "..."', indent=2)
    standing = len(done.to_withdraw)
    screen.say(f"In this ledger {'stands' if standing == 1 else 'stand'}:", indent=2)
    for one in done.to_withdraw[:_MOST_IDS]:
        screen.say(one, indent=4)
    if standing > _MOST_IDS:
        screen.say(f"and {standing - _MOST_IDS:,} more: all of them are in  --json", indent=4)


def _corrected(screen: Screen, done: Imported, *, dry: bool) -> None:
    """Put to the user what looks like corrected rows: both records stand until somebody says otherwise."""
    many = len(done.corrected)
    which = "1 new row looks like a correction" if many == 1 else f"{many:,} new rows look like corrections"
    screen.say(
        f"{which} of what this ledger has from an earlier sheet: no row of this file tells any more of the"
        f" {'record' if many == 1 else 'records'} named below. Nothing was overwritten;"
        f" both {'would count' if dry else 'count'} until one is withdrawn."
    )
    for one in done.corrected[:_MOST_IDS]:
        differs = f", another {', '.join(one.differs)}" if one.differs else ""
        screen.say(f"line {one.line}, {literal(one.name)}{differs}:", indent=2, hang=2)
        screen.say(f'reedmace ledger withdraw {one.before} --reason "..."', indent=4)
    if many > _MOST_IDS:
        screen.say(f"and {many - _MOST_IDS:,} more: all of them are in  --json", indent=2)
