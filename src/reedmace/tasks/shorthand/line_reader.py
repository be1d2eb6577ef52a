"""The words of one line that are not its name: numbers, sexes, stages, behaviour, evidence, people, place and time."""

from itertools import pairwise

from reedmace.faults import Fault
from reedmace.tasks.shorthand.belonging import tally_up
from reedmace.tasks.shorthand.field_words import Word, slip
from reedmace.tasks.shorthand.line_cut import cut_line
from reedmace.tasks.shorthand.line_reading import Reading
from reedmace.tasks.shorthand.line_said import Counted
from reedmace.tasks.shorthand.line_signs import quoted_or_more
from reedmace.tasks.shorthand.line_skins import parted_by_joiners
from reedmace.tasks.shorthand.line_strokes import list_number
from reedmace.tasks.shorthand.tallies import Layout, Part


def read_words(
    typed: str, *, as_name: Word | None = None, needed: bool = True, numbers: bool = False, one: int | None = None
) -> Counted | Fault:
    """Read a line but for its name, whose words are `left`; `as_name` is a word to be taken for a part of it.

    `needed` is False where an empty line says something too: present, not counted. With `numbers` words for numbers
    count ("two"), rather than being a part of a name; `one` is the column of an "a" that is one.
    """
    pieces = cut_line(typed, numbers=numbers)
    if isinstance(pieces, Fault):
        return pieces
    if one is not None:
        words = tuple(word._replace(plain="1") if word.start == one else word for word in pieces.words)
        pieces = pieces._replace(words=words)
    if not pieces.words and needed:
        hint = "write, for example,  12 common blue m"
        return slip("line-empty", "There is nothing on this line.", hint, typed)
    if (told := quoted_or_more(pieces.words, typed) or list_number(pieces.words, typed)) is not None:
        return told
    reading = Reading(typed, pieces.words, as_name, needed)
    at = 0
    while at < len(pieces.words):
        step = reading.step(at)
        if isinstance(step, Fault):
            return step
        at = step
    how = reading.said.get("pairs")
    tallied = tally_up(reading.parts, _layout(typed, pieces.words, reading), how)
    if isinstance(tallied, Fault):
        return tallied
    tallies, in_all, how, taken = tallied
    paired = any(tally.pairs for tally in tallies)
    if reading.said.get("pairs") == "pairs-among" and not paired and in_all is None and not taken:
        return slip(
            "no-pairs-to-include",
            'This line says that some are included ("incl"), but not which, or among how many.',
            "write how many, such as  12m incl 3 cop common blue  or  12 incl 3f common blue",
            typed,
        )
    among = how == "pairs-among" and paired
    comment = pieces.comment
    return Counted(
        typed,
        tallies,
        reading.said.get("certainty"),
        reading.said.get("qualifier", ""),
        "; ".join(text for text in (*reading.quoted, comment or "") if text),
        reading.said.get("evidence") or ("photo" if reading.photos else None),
        tuple(reading.photos),
        reading.time,
        reading.place,
        reading.locality,
        reading.people.get("by", ()),
        reading.people.get("with", ()),
        next(iter(reading.people.get("det", ())), None),
        among,
        among and all(tally.pairs for tally in tallies) and not _had_singles(reading.parts),
        in_all,
        len(tallies) == 1 and tallies[0].count is not None and any(part.kind == "whole" for part in reading.parts),
        _without_strokes(reading.left, pieces.words),
        tuple(dict.fromkeys(reading.doubts)),
    )


def _layout(typed: str, words: tuple[Word, ...], reading: Reading) -> Layout:
    gaps = [(one.end, typed[one.end : other.start]) for one, other in pairwise(words)]
    commas = [at for at, gap in gaps if any(sign in gap for sign in ",;")]
    names = tuple(word.start for word in reading.left)
    joiners = parted_by_joiners(words)
    return Layout(typed, tuple(sorted((*commas, *joiners))), names, tuple(reading.opens), tuple(reading.dashes))


def _without_strokes(left: list[Word], words: tuple[Word, ...]) -> tuple[Word, ...]:
    """The words of the name without a stroke that stands between no two of them: `azure dam 4 m / 2 f`."""
    between = {
        words[at]
        for at in range(1, len(words) - 1)
        if words[at].plain == "/" and {words[at - 1], words[at + 1]} <= set(left)
    }
    return tuple(word for word in left if word.plain != "/" or word in between)


def _had_singles(parts: list[Part]) -> bool:
    return sum(part.kind == "count" for part in parts) > 1
