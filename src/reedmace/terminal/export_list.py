"""What was sent to whom, on the screen."""

from __future__ import annotations

from collections.abc import Sequence

from reedmace.tasks.export.log import Sent
from reedmace.tasks.export.sheet import Sheet
from reedmace.terminal.screen import Screen
from reedmace.terminal.words import plural


def show_sent(screen: Screen, sent: Sequence[Sent]) -> None:
    """A table of submissions, with what to type for each; of each the receipts below it."""
    if not sent:
        screen.say("Nothing was sent yet.")
        return
    heads = [("when", "left"), ("to", "left"), ("no.", "right"), ("file", "left"), ("rows", "right")]
    wide = screen.width >= 80
    heads += [("sha-256", "left")] if wide else []
    heads.append(("id", "left"))
    rows: list[list[str | tuple[str, str]]] = []
    for one in sent:
        was = one.submission
        row: list[str | tuple[str, str]] = [was.made_at[:10], one.recipient, str(one.number), was.file_name]
        row.append(f"{was.rows}{f' ({one.withdrawn} withdrawn)' if one.withdrawn else ''}")
        row += [(was.digest[:12], "dim")] if wide else []
        rows.append([*row, was.id[-12:] if wide else was.id[-6:]])
    screen.table(heads, rows)
    for one in sent:
        for receipt in one.receipts:
            note = f": {receipt.note}" if receipt.note else ""
            loaded = f"loaded {receipt.loaded} of {receipt.of}{note}"
            screen.say(f"{one.recipient} {one.number}, {receipt.written_at[:10]}: {loaded}")
    screen.say(plural(len(sent), "submission"))
    screen.say("They have received one:  reedmace reply --receipt ID --loaded N --of M", hang=2)


def show_left_out(screen: Screen, sheet: Sheet) -> None:
    """What a recipient's own sheet has no code or no column for."""
    if sheet.without_code:
        screen.say(f"Their list of codes lacks: {', '.join(sheet.without_code)}", hang=2)
    if sheet.lacking:
        rows = plural(sheet.lacking, "row")
        said = f"Doubt, stage, sex, behaviour or pairs of {rows} stand in no column: add  Remarks: remarks"
        screen.say(said, hang=2)
