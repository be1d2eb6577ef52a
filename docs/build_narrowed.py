"""Write docs/what-stays-narrow.md: which guises a complete description by eye still leaves among several species.

`python docs/build_narrowed.py` writes it; with `--check` nothing is written, and the exit code is 1 when the page
is not what the key makes it.
"""

from __future__ import annotations

import os
import sys
import tempfile
from itertools import groupby
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent / "tests"))

from descriptions.described import Told, all_described  # noqa: E402  (the tests' folder comes first)
from descriptions.looks import LOOKS  # noqa: E402
from reedmace.keys.answers import read_traits  # noqa: E402
from reedmace.keys.cache import load_key  # noqa: E402
from reedmace.keys.model import Key, Lookalike  # noqa: E402
from reedmace.keys.shipped import find_key  # noqa: E402
from reedmace.scoring.assessment import Assessment, assess  # noqa: E402
from reedmace.scoring.prior import Circumstances  # noqa: E402
from reedmace.scoring.tables import Tables  # noqa: E402
from reedmace.tasks.naming.tell_apart import tell_apart  # noqa: E402

IN_THE_WAY = 0.02  # probability from which another species stands in the way of a settled name
PAGE = HERE / "what-stays-narrow.md"
HEAD = """\
# What stays narrow

Written by `python docs/build_narrowed.py` from the key {id} {version}.

For every guise of every species that lives in Britain and Ireland this page takes a complete and true description:
its usual state of every mark that can be seen at a glance or with a steady look, given by a beginner at its own
water in the middle of its season.
Of {all} such descriptions {settled} are settled on the right species and {narrowed} are narrowed, with the
right one among them; {wrong} are settled on another species.

The ones that stay narrow are listed here, each with what they are narrowed to and the mark that would settle it.
An expert should nod at every line: where one can be told by eye, the key wants a better mark, and where one cannot
and is not listed, it wants a doubt.
"""


def page() -> str:
    """The whole page."""
    with tempfile.TemporaryDirectory() as folder:
        key = load_key(find_key(None), Path(os.environ.get("REEDMACE_EXAMPLES_CACHE", folder)))
        told = list(all_described(key, "beginner"))
    tables = Tables(key, "beginner")
    narrowed = [one for one in told if one.narrowed_rightly]
    wrong = [one for one in told if one.settled_on_another]
    settled = [one for one in told if one.found.verdict.word == "settled" and not one.settled_on_another]
    head = HEAD.format(
        id=key.id,
        version=key.version,
        all=len(told),
        settled=len(settled),
        narrowed=len(narrowed),
        wrong=len(wrong) or "none",
    )
    parts = [head]
    for species, own in groupby(narrowed, key=lambda one: one.species.english):
        parts.append(f"## {species}\n")
        parts += _of_one_species(tables, list(own))
    parts.append(_flat_looks(tables))
    left = [one for one in told if one not in narrowed and one not in settled and one not in wrong]
    if left:
        parts.append("\n## No name yet\n")
        parts += [f"- {one.species.english}, {one.guise.title}: {one.found.verdict.word}" for one in left]
    return "\n".join(parts) + "\n"


FLAT = """## Looks on flat priors

Eleven short looks are settled when place, date and habitat are given.
On `--flat`, where a stray from abroad counts as much as what lives in every garden, these of them stay narrow:
"""


def _flat_looks(tables: Tables) -> str:
    key, lines = tables.key, [FLAT]
    for wanted, _, _, _, traits in LOOKS.values():
        found = assess(tables, Circumstances(flat=True), read_traits(key, traits.split()))
        verdict = found.verdict
        if verdict.word == "settled":
            continue
        species = next(species for species in key.species if species.name == wanted)
        told = Told(species, key.guises[found.candidates[0].guise], found)
        lines.append(f"- **{species.english}**, by `{traits}`: {verdict.vernacular}")
        lines += [f"  - {_against(tables, told, other)}" for other in _in_the_way(told)]
    return "\n".join(lines)


def _of_one_species(tables: Tables, told: list[Told]) -> list[str]:
    """What each guise is narrowed to, then what settles it against each of the others."""
    sets: dict[str, list[str]] = {}
    marks: dict[str, None] = {}
    for one in told:
        sets.setdefault(_named(one.found), []).append(one.guise.title)
        marks |= dict.fromkeys(_against(tables, one, other) for other in _in_the_way(one))
    lines = [f"- **{'; '.join(titles)}**: {named}" for named, titles in sets.items()]
    return [*lines, "", *(f"{mark}\n" for mark in marks)]


def _named(found: Assessment) -> str:
    verdict = found.verdict
    if len(verdict.members) + len(verdict.others) > 1:
        return verdict.vernacular
    return f"{verdict.vernacular} alone, but rare enough that a stranger which shares all but one mark is not ruled out"


def _in_the_way(one: Told) -> list[int]:
    """The other species that keep this one from being settled: not told apart, or not unlikely enough."""
    found = one.found
    capping = {rival.species for rival in found.verdict.rivals if rival.caps and rival.species is not None}
    others = [member for member in found.verdict.members if member != one.species.index]
    likely = sorted(others, key=lambda member: -found.after.species[member])[:2]
    return [
        member
        for member in others
        if member in capping or member in likely or found.after.species[member] >= IN_THE_WAY
    ]


def _against(tables: Tables, one: Told, other: int) -> str:
    """`Common Hawker: settled by …`, from what the key says of the pair for this guise."""
    key = tables.key
    entries = [entry for entry in one.species.lookalikes if entry.species == other]
    own = [entry for entry in entries if one.guise.id in entry.guises]
    entry = next(iter([*own, *(entry for entry in entries if not entry.guises)]), None)
    if any(rival.separated for rival in one.found.verdict.rivals if rival.species == other):
        said = "told apart by these answers already; one more mark that agrees is wanted against all the rest together."
    else:
        said = _settles(key, entry) if entry else _best_mark(tables, one, other)
    return f"{key.species[other].english}: {said}"


def _settles(key: Key, entry: Lookalike) -> str:
    mark = f"{entry.mark[0].upper()}{entry.mark[1:]}."
    names = [key.character(name) for name in entry.decided_by]
    if not names:
        return f"no single mark settles it. {mark}"
    said = "; ".join(f"{character.title.lower()} ({_how(character.effort)})" for character in names)
    return f"settled by {said}, where it shows. {mark}"


def _best_mark(tables: Tables, one: Told, other: int) -> str:
    """For two that are no listed look-alikes: what tells them apart best, of what these answers leave open."""
    key, answered = tables.key, {answer.character for answer in one.found.answers}
    for chapter in tell_apart(tables, (one.species.index, other)).chapters:
        if chapter.age != one.guise.age or chapter.sex not in (None, one.guise.sex):
            continue
        for mark in chapter.marks:
            character = key.characters[mark.character]
            if character.index not in answered and mark.shows[0] != mark.shows[1]:
                here, there = (" or ".join(character.states[state].title for state in shown) for shown in mark.shows)
                return (
                    f"not listed as a look-alike; told best by {character.title.lower()} ({_how(character.effort)}): "
                    f"{here} here, {there} there."
                )
    return "not listed as a look-alike of this form, and nothing more to see tells them apart."


def _how(effort: str) -> str:
    return {"glance": "at a glance", "look": "a steady look", "close": "close up", "hand": "in the hand"}[effort]


def main(arguments: list[str]) -> int:
    """Write or check the page."""
    wanted = page()
    if arguments == ["--check"]:
        if PAGE.is_file() and PAGE.read_text(encoding="utf-8") == wanted:
            return 0
        sys.stderr.write("docs/what-stays-narrow.md is out of date: run  python docs/build_narrowed.py\n")
        return 1
    PAGE.write_text(wanted, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
