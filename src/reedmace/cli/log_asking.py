"""`reedmace log` at a terminal: prompts for people who do not know the shorthand, and questions about a line."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

import click

from reedmace.cli.asking import NO_WAY_BACK, Back, InTurn, ask, commanded, fault_shown, tell
from reedmace.cli.log_visit_asking import visit_asked
from reedmace.cli.output import columns
from reedmace.faults import Fault
from reedmace.tasks.shared.prompt_words import plain_word
from reedmace.tasks.shorthand.children import no_childs_name
from reedmace.tasks.shorthand.field_words import cut, without_marks
from reedmace.tasks.shorthand.line import Line, choices, read_chosen, read_line, read_lines, read_tallies
from reedmace.tasks.shorthand.line_said import Counted
from reedmace.tasks.shorthand.line_words import show_line
from reedmace.tasks.shorthand.number_words import has_number_word, in_figures
from reedmace.tasks.shorthand.page_said import PageVisit, SeenLine
from reedmace.tasks.shorthand.visit_said import VisitSaid
from reedmace.terminal.plain import literal
from reedmace.terminal.walk_text import name_shown, wrapped

if TYPE_CHECKING:
    from reedmace.cli.given_back import Answered
    from reedmace.keys.model import Key
    from reedmace.records import Site

_OF_A_NAME = ("ambiguous-name", "unknown-name")  # faults for which names may be offered
_MOST = 9  # names that are offered by number
_NONE_SEEN = ("none seen", "nothing seen", "none", "nothing")  # in place of a first line: that is a result as well
_HOW = (
    "What was seen, one at a time: a name, or a whole line such",
    "as  12 common blue m . Then how many, and what else:",
    "male, female, mating, laying eggs, fresh, cast skin, photo,",
    'unsure; words of your own in quotes: "over the alders".',
    "undo  takes the last one back; an empty line ends the list.",
)
_ENDED = ("done", "end", "finished")
_HOW_SEEN = (
    "A name, or a whole line such as  12 common blue m ; an empty line or  done  ends the list,  undo  takes the"
)
_HOW_SEEN += " last one back, and  quit  leaves and writes nothing."


def ask_page(key: Key, answered: Answered, sites: Sequence[Site]) -> tuple[VisitSaid, list[PageVisit]]:
    """Ask for the visit, as far as options and a visit under way do not say it, then for what was seen."""
    if answered.visit is None:
        answered.visit = visit_asked(key, answered, sites)
    while True:
        try:
            answered.visit.go()
            if not answered.told:
                for line in _HOW:
                    click.echo(line)
                answered.told = True
            none_seen = _lines_or_back(key, answered)
            break
        except Back:
            tell(NO_WAY_BACK)
    answered.said = answered.said._replace(none_seen=none_seen)
    return answered.said, [PageVisit(None, tuple(answered.lines))]


def _lines_or_back(key: Key, answered: Answered) -> bool:
    """Ask for what was seen, or, where there is no line to take back, for the last of the visit again."""
    assert answered.visit is not None
    while True:
        try:
            return _ask_lines(key, answered.lines)
        except Back as typed:
            answered.visit.back(typed.word)
            answered.visit.go()


def _ask_lines(key: Key, lines: list[SeenLine]) -> bool:
    """Ask for what was seen, line after line, until an empty one or the end of input; True where none were seen.

    Raises `Back` where there is no line to be taken back.
    """
    read = _reader(key)

    nothing: list[Line] = []
    ended: list[Line] = []

    def seen(text: str) -> list[Line] | Fault:
        if plain_word(text) in _ENDED:
            return ended
        if text.casefold() in _NONE_SEEN and not lines:
            return nothing
        several = read_lines(key, text)
        if not isinstance(several, Fault) and len(several) > 1:
            return several
        line = read(text)
        return line if isinstance(line, Fault) else [line]

    while True:
        try:
            found = ask("seen: ", seen, ends=True, back=True, how=_HOW_SEEN)
            if found is None or found is ended or found is nothing:
                return found is nothing
            _take(key, lines, found)
        except Back as typed:
            if not lines and typed.word != "undo":
                raise
            _taken_back(key, lines)


def _take(key: Key, lines: list[SeenLine], found: Sequence[Line]) -> None:
    """Take what was seen, at once: who stops at a question is given it back. Raises `Back` from the first question."""
    first = not lines
    lines += [SeenLine(line, len(lines) + number) for number, line in enumerate(found, start=1)]
    if len(found) == 1:
        _ask_more(key, lines, first=first)
    understood = [f"  {name_shown(key, one.line)}: {show_line(one.line)}" for one in lines[-len(found) :]]
    for shown in wrapped(understood, columns()):
        click.echo(shown)


def _taken_back(key: Key, lines: list[SeenLine]) -> None:
    gone = lines.pop() if lines else None
    said = f"taken back: {name_shown(key, gone.line)}" if gone else "there is nothing to take back"
    click.echo(literal(f"  {said}"))


def _ask_more(key: Key, lines: list[SeenLine], *, first: bool) -> None:
    """Of a bare name, ask how many and what else, with examples the first time; the last line is kept as it grows.

    Raises `Back` from the first of the two.
    """
    line = lines[-1].line
    said = line.said
    bare = said.left and all(tally.count is None and not tally.sex for tally in said.tallies)
    if not bare or said.stages or said.tallies[0].behaviour or said.tallies[0].typed:
        return

    def keep(line: Line) -> None:
        lines[-1] = lines[-1]._replace(line=line)

    def asking(prompt: str, read: Callable[[str], Counted | Fault]) -> Callable[[Line, Line], Line]:
        return lambda stands, _: (ask(prompt, _adding(key, stands, read), back=True) or stands)._replace()

    number = f"  how many{': 12, ~40, 2m 3f, 3 pairs' * first} [not counted]: "
    more = f"  what else{': female, laying eggs' * first} [nothing]: "
    InTurn(line, (asking(number, _read_number), asking(more, _read_more)), keep).go()


def _adding(key: Key, line: Line, read: Callable[[str], Counted | Fault]) -> Callable[[str], Line | Fault]:
    """A reader of words that are added to a line: what does not go with it is a fault, and the line stays as it is."""

    def added(text: str) -> Line | Fault:
        alone = read(text)
        if isinstance(alone, Fault):
            return alone
        whole = _with_words(line.typed, text)
        together = read_line(key, whole)
        if isinstance(together, Fault) and together.code in _OF_A_NAME:
            return read_chosen(whole, line.name)  # which one it is was asked already
        return together

    return added


def _with_words(typed: str, added: str) -> str:
    """A line with words added: before its comment, which goes to its end."""
    pieces = cut(typed)
    if isinstance(pieces, Fault) or pieces.comment is None:
        return f"{typed.rstrip()} {added}"
    sign = typed.index("#", pieces.words[-1].end if pieces.words else 0)
    return f"{typed[:sign].rstrip()} {added} {typed[sign:]}"


def _read_number(text: str) -> Counted | Fault:
    """How many, in figures or words; of "ten" it is asked which is meant, for it is a stage too."""
    pieces = cut(text)
    if isinstance(pieces, Fault):
        return pieces
    words = in_figures(tuple(word for word in pieces.words if word.plain != "ten"))
    if len(words) < len(pieces.words) and not any(sign.isdigit() for word in words for sign in word.plain):
        hint = "write  10  for the number,  teneral  for the stage"
        return Fault("count-not-read", '"ten" could be the number or the stage.', hint, text, typed=True)
    read = read_tallies(text)
    if isinstance(read, Fault) and has_number_word(pieces.words):
        figures = in_figures(pieces.words)
        again = read_tallies(" ".join(word.plain for word in figures if not word.quoted))
        return read if isinstance(again, Fault) else again
    return read


def _read_more(text: str) -> Counted | Fault:
    """What else was seen of it; for words of their own people are told of the quotes."""
    read = read_tallies(text)
    if isinstance(read, Fault) and read.code == "count-not-read":
        first, width = (read.where.column or 1, read.where.width) if read.where else (1, len(text))
        before, own, behind = text[: first - 1], text[first - 1 : first - 1 + width], text[first - 1 + width :]
        return read._replace(hint=f'to keep words of your own, put them in quotes:  {before}"{own}"{behind}')
    return read


def _reader(key: Key) -> Callable[[str], Line | Fault]:
    again = ask_again(key)

    def read(text: str) -> Line | Fault:
        text = without_marks(text)
        line = read_line(key, text)
        if isinstance(line, Fault) and line.code in _OF_A_NAME and choices(key, text):
            return again(text, line) or line
        return no_childs_name(line, text) if isinstance(line, Fault) else line

    return read


def ask_again(key: Key) -> Callable[[str, Fault], Line | None]:
    """A question about a line that does not read: one of several names by its number, or the line written anew."""

    def again(text: str, fault: Fault) -> Line | None:
        from reedmace.cli.asking import read_line as read_typed

        names = choices(key, text)[:_MOST] if fault.code in _OF_A_NAME else ()
        click.echo(fault.message if names else fault_shown(fault))
        english = {species.name: species.english for species in key.species}
        for number, name in enumerate(names, start=1):
            click.echo(f"  {number}  {english[name]}")
        prompt = "which one, or the line again [stop]: " if names else "the line again [stop]: "
        while typed := (read_typed(prompt) or "").strip():
            try:
                commanded(typed, back=True)
            except Back:
                return None
            if plain_word(typed) == "stop":
                return None
            if typed.isdecimal() and 1 <= int(typed) <= len(names):
                from reedmace.keys.names import FoundName

                index = next(one.index for one in key.species if one.name == names[int(typed) - 1])
                chosen = read_chosen(text, FoundName("", (index,)))
            else:
                chosen = read_line(key, typed)
            if not isinstance(chosen, Fault):
                return chosen
            click.echo(fault_shown(chosen))
        return None

    return again
