"""The name that a person writes on a record instead of the one offered."""

from __future__ import annotations

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, could_mean
from reedmace.scoring.verdict import Verdict
from reedmace.tasks.shorthand.line import Line, read_chosen, read_line


def read_record_name(key: Key, verdict: Verdict, text: str) -> Line | Fault:
    """The name typed instead: anything a line of `log` may name, without count, sex or stage.

    Of several species that answer to it the only one in the verdict is meant.
    """
    line = read_line(key, text, listed=False)
    if isinstance(line, Fault) and line.code == "ambiguous-name":
        meant = [one for one in could_mean(key, text) if one in verdict.members]
        if len(meant) == 1:
            line = read_chosen(text, FoundName("", (meant[0],)))
    if isinstance(line, Fault):
        return line
    said = line.said._replace(typed="", left=(), tallies=(), certainty=None, qualifier="")
    counted = any(tally.typed or tally.count is not None or tally.sex or tally.pairs for tally in line.tallies)
    if counted or any(said) or line.said.stages:
        hint = "write the name here; how many, and what else, is asked next"
        return Fault("more-than-a-name", "There is more than a name here.", hint, text, typed=True)
    return line
