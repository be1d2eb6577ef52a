"""What was understood of traits typed in words of one's own."""

from __future__ import annotations

from reedmace.tasks.naming.answer_words import in_own_words, say_answer
from reedmace.tasks.naming.name_insect import Named
from reedmace.terminal.screen import Screen


def show_understood(screen: Screen, named: Named) -> None:
    """A line for each trait that was not typed by its state's own id or title."""
    for answer in named.assessment.answers:
        character = named.key.characters[answer.character]
        if in_own_words(character, answer):
            screen.say((answer.typed.strip(), "cyan"), f": {say_answer(character, answer)}", hang=2)
