"""The description of a rarity: what was claimed, what was seen, how each look-alike was ruled out, what was not seen.

Pure functions of plain values. What nobody answered is left as a question with room for an answer by hand; the page
never says more than was said.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from reedmace.reports.document import Block, Facts, Heading, Items, Page, Paragraph, Table, ToFill

ASKED = {
    "views": "How long was it seen, from which sides, and was it flying or perched?",
    "distance": "From how far?",
    "light": "What was the light like, and where did it come from?",
    "optics": "With what: bare eye, binoculars, camera, lens in the hand?",
    "experience": "How well do you know this species, and those it could be confused with?",
    "others": "Who else saw it, and what did they say? No names of children.",
    "written": "When was this written, and from what: notes of the day, photographs, memory?",
}
_LINES = {"views": 2, "experience": 2, "others": 2}


class RuledOut(NamedTuple):
    """One look-alike.

    `words` say how the answers weigh between the two, `for_it` and `against` which of them speak for the name that
    was given and which for the look-alike. `done` says that the answers tell them apart; `mark` is what would, and
    `open_marks` those that decide and were not answered. Without answers all of it but the mark is empty.
    """

    name: str
    done: bool
    words: str
    for_it: tuple[str, ...]
    against: tuple[str, ...]
    mark: str
    open_marks: tuple[str, ...]


class Described(NamedTuple):
    """All that the description of a record says; `facts` are names with values.

    `seen` are questions with the observer's answers in words, `unsure` those that could not be told, `not_seen`
    marks that decide and were never answered. `said` are the observer's words by the keys of `ASKED`. `worked_out`
    says by which key the look-alikes were weighed, "" where there were no answers to weigh.
    """

    title: str
    facts: tuple[tuple[str, str], ...]
    seen: tuple[tuple[str, str], ...] = ()
    unsure: tuple[str, ...] = ()
    not_seen: tuple[str, ...] = ()
    rivals: tuple[RuledOut, ...] = ()
    said: tuple[tuple[str, str], ...] = ()
    worked_out: str = ""
    needs: tuple[str, ...] = ()
    care: tuple[str, ...] = ()


def description_page(of: Described) -> Page:
    """Give the page of a description, to be written as Markdown or HTML (document.py)."""
    return Page(of.title, tuple(_blocks(of)))


def _blocks(of: Described) -> Iterator[Block]:
    yield Facts(of.facts)
    yield Heading("The views")
    said = dict(of.said)
    for field, question in ASKED.items():
        if said.get(field, "").strip():
            yield Facts(((question, said[field]),))
        else:
            yield ToFill(question, _LINES.get(field, 1))
    yield Heading("What was seen of it")
    if of.seen:
        yield Paragraph("As it was answered when the insect was named.")
        yield Table(("what was looked at", "what was seen"), of.seen)
    else:
        yield Paragraph("No answers are kept with this record.")
    if of.unsure:
        yield Paragraph("Looked at, but it could not be told:")
        yield Items(of.unsure)
    yield ToFill("What else was seen, in your own words: size, shape, colours, marks, behaviour", 4)
    yield from _rivals(of)
    yield Heading("What was not seen")
    if of.not_seen:
        yield Paragraph("Marks that would decide against a look-alike, and were not answered:")
        yield Items(of.not_seen)
    else:
        yield ToFill("Which parts were not seen, or not well?", 2)
    yield Heading("Evidence")
    if of.needs:
        yield Items(of.needs)
    yield ToFill("Photographs, cast skin, drawing: what there is, and where it is kept", 2)
    if of.care:
        yield Heading("Care and law")
        yield Items(of.care)


def _rivals(of: Described) -> Iterator[Block]:
    yield Heading("How each look-alike was ruled out")
    if not of.rivals:
        yield ToFill("Which species could it be confused with, and what rules each of them out?", 4)
        return
    if of.worked_out:
        yield Paragraph(of.worked_out)
    for one in of.rivals:
        yield Heading(one.name, 3)
        rows = [("By the answers", one.words), ("For the name given", "; ".join(one.for_it))]
        rows += [("For the look-alike", "; ".join(one.against)), ("The mark that tells them apart", one.mark)]
        rows += [("Of it not answered", "; ".join(one.open_marks))]
        yield Facts(tuple((name, value) for name, value in rows if value))
        if not one.done:
            yield ToFill(f"How was {one.name} ruled out?", 2)
