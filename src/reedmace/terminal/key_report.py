"""The report of a key check as text."""

from __future__ import annotations

from reedmace.tasks.keys.inspect_key import KeyReport
from reedmace.terminal.fault_text import show_faults
from reedmace.terminal.plain import literal
from reedmace.terminal.walk_text import wrapped


def show_report(report: KeyReport, width: int | None = None) -> str:
    """The whole report: faults first, then counts and values by source; in lines of `width` at most."""
    lines = []
    if report.faults:
        lines += [show_faults(report.faults, colour=False, width=width), ""]
    told = len(lines)
    lines.append(f"{literal(report.title)} {report.version}".rstrip())
    lines.append(f"{report.species} species, {report.guises} guises, {report.characters} characters")
    lines += _by_source(report.values_by_source)
    lines += _findings(report)
    faults = len(report.faults)
    lines.append("no faults" if not faults else f"{faults} fault{'s' if faults > 1 else ''}")
    return "\n".join([*lines[:told], *wrapped(lines[told:], width)])


MOST = 15  # published sources listed; --json has them all


def _by_source(counts: dict[str, int]) -> list[str]:
    """Values by source: what is published, practice and memory, then the sources that stand for most."""
    if not counts:
        return []
    plain = {name: counts[name] for name in ("practice", "memory") if name in counts}
    published = {name: count for name, count in counts.items() if name not in plain}
    width = len(str(max(sum(published.values()), *plain.values(), 0)))
    lines = ["values by source (a value with two sources counts for both):"]
    plural = "" if len(published) == 1 else "s"
    lines.append(f"  {sum(published.values()):>{width}}  from {len(published)} published source{plural}")
    lines += [f"  {count:>{width}}  {name}" for name, count in plain.items()]
    ranked = sorted(published.items(), key=lambda pair: (-pair[1], pair[0]))
    if ranked:
        lines.append("  of the published ones:")
        lines += [f"    {count:>{width}}  {name}" for name, count in ranked[:MOST]]
    return lines


def _findings(report: KeyReport) -> list[str]:
    """What the authors should know: what no visible mark separates, what decides nothing, what is not known."""
    lines = []
    if report.inseparable:
        lines.append("guises of different species that no visible mark separates:")
        lines += [f"  {one}, {guise} / {other}, {theirs}" for one, guise, other, theirs in report.inseparable]
    if report.idle:
        lines.append(f"characters that decide nothing: {', '.join(report.idle)}")
    missing = [counted for counted in report.not_known if counted[1]]
    if missing:
        lines.append("cells not known, of those that apply:")
        ranked = sorted(missing, key=lambda counted: (-counted[1] / counted[2], counted[0]))
        lines += [f"  {cells:>4} of {of:>4}  {name}" for name, cells, of in ranked]
    return lines
