"""Replies of the conversation on the screen."""

from __future__ import annotations

from reedmace.keys.hints import example_trait
from reedmace.keys.model import Character
from reedmace.scoring.verdict import OUTSIDE, SETTLED
from reedmace.tasks.naming.answer_words import say_answer
from reedmace.tasks.naming.conversation import COMMANDS, OFFERED
from reedmace.tasks.naming.name_insect import Named
from reedmace.tasks.naming.replies import (
    Against,
    Because,
    Choices,
    Explained,
    Final,
    Given,
    Help,
    Listing,
    Note,
    Question,
    Reply,
    Running,
    Settling,
    Standing,
    Wrong,
)
from reedmace.terminal.fault_text import show_fault
from reedmace.terminal.naming import (
    show_caution,
    show_cautions,
    show_looks,
    show_ranking,
    show_reasons,
    show_rule_out,
    show_setting,
    show_verdict,
    show_why,
)
from reedmace.terminal.screen import Screen
from reedmace.terminal.words import EFFORTS, percent, times

WORDS = 8  # further words for a state that are told


def show_beginning(screen: Screen, named: Named) -> None:
    """How the conversation begins."""
    screen.say((named.key.title, "bold"))
    show_caution(screen, named)
    show_setting(screen, named)
    screen.say(
        "Answer what you saw, in any order: a number from the list, a question's name, or "
        f"{example_trait(named.key, short=True)}. "
        "Nothing has to be answered. Type  help  for the other words,  done  for the verdict."
    )
    show_looks(screen, named, OFFERED)


def show_reply(screen: Screen, reply: Reply) -> None:
    """One reply."""
    if isinstance(reply, Question | Choices | Explained):
        _put(screen, reply)
    elif isinstance(reply, Standing):
        _standing(screen, reply)
    elif isinstance(reply, Running):
        show_ranking(screen, reply.named, most=10)
    elif isinstance(reply, Because):
        show_why(screen, reply.named, reply.one, reply.other, reply.why)
    elif isinstance(reply, Against):
        _against(screen, reply)
    elif isinstance(reply, Settling):
        show_rule_out(screen, reply.named)
        show_looks(screen, reply.named, most=6)
    elif isinstance(reply, Listing):
        _listing(screen, reply.named)
    elif isinstance(reply, Given):
        _given(screen, reply.named)
    elif isinstance(reply, Note):
        screen.say(reply.text)
    elif isinstance(reply, Wrong):
        screen.say(show_fault(reply.fault, colour=False, width=screen.width, plain=screen.plain))
    elif isinstance(reply, Help):
        screen.say("Type a question's name or number, or one of these:")
        screen.table([("", "left"), ("", "left")], [[word, meaning] for word, meaning in COMMANDS.items()])
        screen.say(
            "Answers: a number, a word or part of one; 1/3 for either; a trailing ~ for unsure. "
            "To a question  ?  explains it,  can't tell  says that you did not see it, and  back  leaves it."
        )
    else:
        _final(screen, reply)


def _put(screen: Screen, reply: Question | Choices | Explained) -> None:
    """What is put to the user, to be answered by a number."""
    if isinstance(reply, Choices):
        _choices(screen, reply)
    elif isinstance(reply, Explained):
        _explained(screen, reply.character)
    else:
        _question(screen, reply)


def _question(screen: Screen, reply: Question) -> None:
    character = reply.character
    screen.say((character.question, "bold cyan"))
    screen.say(character.help, indent=2)
    if character.is_number:
        screen.say(f"for example  33  or  30-35  (in {character.unit}); 33 ruler when held against one", indent=2)
    else:
        rows = [[f"{number}", state.title] for number, state in enumerate(character.states, 1)]
        screen.table([("", "right"), ("", "left")], rows)
    if reply.given:
        screen.say(f"answered so far: {say_answer(character, reply.given)}", indent=2)


def _explained(screen: Screen, character: Character) -> None:
    """A question with all that the key says of it."""
    screen.say((character.question, "bold cyan"))
    screen.say(character.help, indent=2)
    screen.say(f"How it is seen: {EFFORTS[character.effort]}.", indent=2)
    if character.photograph:
        screen.say(f"A photograph of it: {character.photograph}.", indent=2)
    for number, state in enumerate(character.states, 1):
        words = [word for word in state.words if word.casefold() != state.title.casefold()]
        also = f"; also called {', '.join(words[:WORDS])}" if words else ""
        screen.say(f"{number}  {state.title}{also}", indent=2, hang=3)
    pairs = [f"{character.states[one].title} and {character.states[other].title}" for one, other in character.confused]
    if pairs:
        screen.say(f"Easily taken for each other: {'; '.join(pairs)}.", indent=2)
    if character.is_number:
        screen.say(
            f"For example  33  or  30-35  (in {character.unit}), or  3 cm ; by eye unless you say  33 ruler . About is "
            "good enough.",
            indent=2,
        )
    screen.say(
        "Answer with a number or a word; 1/3 for either; a trailing ~ for unsure. Did you not see it?  can't tell  "
        "weighs nothing, and it is not asked again;  back  leaves it open,  next  asks another.",
        indent=2,
    )


def _standing(screen: Screen, reply: Standing) -> None:
    named = reply.named
    if reply.note:
        screen.say(("· ", "dim"), reply.note)
    candidates = named.assessment.candidates
    verdict = named.assessment.verdict
    if not named.assessment.after.clues:
        show_looks(screen, named, OFFERED)
        return
    if verdict.word in (SETTLED, OUTSIDE):
        show_verdict(screen, named)
        screen.say("Type  done  to end, or go on answering.", indent=2)
    else:
        leaders = [
            f"{named.key.species[one.species].english} {percent(one.probability)}"
            for one in candidates[:3]
            if one.probability >= 0.02
        ]
        word = verdict.vernacular if verdict.word == "narrowed" else "open"
        screen.say((f"So far: {word}.", "bold"), f" In the running: {', '.join(leaders)}.")
    show_looks(screen, named, OFFERED)


def _against(screen: Screen, reply: Against) -> None:
    key = reply.named.key
    best = key.species[reply.named.assessment.candidates[0].species].english
    if not reply.answers:
        screen.say(f"Nothing answered so far speaks against {best}.")
        return
    screen.say((f"Against {best}", "bold"))
    rows = []
    for answer, weight, species in reply.answers:
        character = key.characters[answer.character]
        said = f"{character.title.lower()}: {say_answer(character, answer)}"
        rows.append([said, f"{key.species[species].english}, {times(weight)}"])
    screen.table([("", "left"), ("speaks for", "left")], rows)


def _listing(screen: Screen, named: Named) -> None:
    answered = {answer.character: answer for answer in named.assessment.answers}
    part = ""
    for character in named.key.characters:
        if character.part != part:
            part = character.part
            screen.say((f"{part[0].upper()}{part[1:]}", "bold"))
        given = answered.get(character.index)
        said = f" = {say_answer(character, given)}" if given else ""
        screen.say((character.id, "cyan"), f"  {character.question}{said}", indent=2, hang=2)


def _choices(screen: Screen, reply: Choices) -> None:
    """What words could be, each beside what it is taken from where there are several."""
    if reply.answers or reply.to_type:
        screen.say((f'"{reply.typed}" could be', "bold"))
    several = len({answer.typed for answer in reply.answers}) > 1
    rows, before = [], ""
    for number, answer in enumerate(reply.answers, 1):
        character = reply.named.key.characters[answer.character]
        meaning = f"{character.title}: {say_answer(character, answer)}"
        taken_from = f"{answer.typed} →" if several and answer.typed != before else ""
        rows.append([f"{number}", f"{taken_from} {meaning}".strip()])
        before = answer.typed
    for number, line in enumerate(reply.to_type, len(rows) + 1):
        rows.append([f"{number}", line if " " in line else f"the question  {line}"])
    if rows:
        screen.table([("", "right"), ("", "left")], rows)
        more = f" {reply.others} more questions know it." if reply.others else ""
        if reply.others == 1:
            more = " One more question knows it."
        many = ", several numbers take several" if len(rows) > 1 else ""
        if several:
            many += "; mostly one for each word is enough"
        screen.say(f"A number takes one{many}. Or type the question with it.{more}", indent=2)
    for note in reply.notes:
        screen.say(note, indent=2)
    if reply.unread:
        screen.say(f"Not understood: {', '.join(reply.unread)}", indent=2)


def _given(screen: Screen, named: Named) -> None:
    show_setting(screen, named)
    answers = named.assessment.answers
    if not answers:
        screen.say("Nothing has been answered yet.")
        return
    rows = []
    for answer in answers:
        character = named.key.characters[answer.character]
        rows.append([character.title, say_answer(character, answer)])
    screen.table([("", "left"), ("", "left")], rows)


def _final(screen: Screen, reply: Final) -> None:
    named = reply.named
    screen.blank()
    show_verdict(screen, named)
    screen.blank()
    show_ranking(screen, named)
    show_reasons(screen, named)
    show_rule_out(screen, named)
    if named.assessment.verdict.word != SETTLED:
        show_looks(screen, named)
    show_cautions(screen, named)
