"""Words at a prompt: yes and no in all their forms, words of command, and what is really called so."""

from __future__ import annotations

import pytest

from reedmace.faults import Fault
from reedmace.tasks.naming.conversation_words import BY_ITSELF, COMMANDS, DO
from reedmace.tasks.shared.prompt_words import OF_COMMAND, own_place, own_text, said_yes


@pytest.mark.parametrize(
    "typed",
    [
        *("y", "Yes", "YES!", "yep", "yeah", "ok", "OK.", "okay", "aye", "sure", "yes please", "yes, log it", "log it"),
        *("please do", "do it", "of course", "go ahead", "yes, of course", "sure thanks"),
    ],
)
def test_a_yes_is_a_yes_however_it_is_said(typed: str) -> None:
    """As people say it."""
    assert said_yes(typed) is True


@pytest.mark.parametrize(
    "typed", ["n", "No", "nope", "nah", "not now", "no thanks", "don't", "don’t log it", "do not", "never", "not yet"]
)
def test_a_no_is_a_no_however_it_is_said(typed: str) -> None:
    """As people say it."""
    assert said_yes(typed) is False


@pytest.mark.parametrize("typed", ["", "1", "2 m", "perhaps", "yes?", "yes but as a pair", "azure", "no idea", "oui"])
def test_what_is_neither_yes_nor_no_is_asked_again(typed: str) -> None:
    """Nothing is dropped on a guess, and nothing written."""
    assert said_yes(typed) is None


@pytest.mark.parametrize("word", sorted({*COMMANDS, *DO, *BY_ITSELF}))
def test_no_word_of_command_is_taken_for_data(word: str) -> None:
    """Whatever it does in the conversation, a place is not called so."""
    assert word in OF_COMMAND
    for text in (word, word.upper(), f" {word} ", f"{word}."):
        read = own_place(text)
        assert isinstance(read, Fault)
        assert read.code == "word-of-command"
        assert f'"{text.strip()}"' in read.hint


def test_a_place_really_called_so_can_be_quoted() -> None:
    """Quotes around all of it say that it is meant, and are not kept."""
    assert own_place('"quit"') == "quit"
    assert own_place("“Back”") == "Back"
    assert own_text("Back Lane") == "Back Lane"
    assert own_text('the "old" pond') == 'the "old" pond'
    assert own_place("none") == ""
