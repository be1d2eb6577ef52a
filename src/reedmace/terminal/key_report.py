"""The report of a key check as text."""

from __future__ import annotations

from reedmace.tasks.inspect_key import KeyReport
from reedmace.terminal.fault_text import show_faults
from reedmace.terminal.plain import literal


def show_report(report: KeyReport) -> str:
    """The whole report: faults first, then counts and values by source."""
    lines = []
    if report.faults:
        lines += [show_faults(report.faults, colour=False), ""]
    lines.append(f"{literal(report.title)} {report.version}".rstrip())
    lines.append(f"{report.species} species, {report.guises} guises, {report.characters} characters")
    if report.values_by_source:
        lines.append("values by source:")
        width = max(len(str(count)) for count in report.values_by_source.values())
        ranked = sorted(report.values_by_source.items(), key=lambda pair: (-pair[1], pair[0]))
        lines += [f"  {count:>{width}}  {source}" for source, count in ranked]
    faults = len(report.faults)
    lines.append("no faults" if not faults else f"{faults} fault{'s' if faults > 1 else ''}")
    return "\n".join(lines)
