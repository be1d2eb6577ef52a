"""Sizes in the conversation: in whatever unit, by themselves or within a look, and never offered only to be refused."""

from __future__ import annotations

from reedmace.keys.model import Key
from reedmace.tasks.naming.conversation import step
from reedmace.tasks.naming.replies import Choices
from tasks.dialogue import check, start


def test_a_size_is_read_in_the_unit_it_is_said_in(tarn: Key) -> None:
    """And said back in millimetres, as exactly as it was meant."""
    check(
        start(tarn),
        """
        > 4 cm long
        understood Length: 35 to 45 mm
        > 3-4 cm
        understood Length: 30 to 40 mm
        > about two inches
        understood Length: 45 to 57 mm
        > between 3 and 4 cm
        understood Length: 30 to 40 mm
        > length
        asks: How long is the body, in millimetres?, so far 30 to 40 mm
        > an inch and a half
        understood Length: 32 to 44 mm
        """,
    )


def test_a_size_that_is_offered_is_taken_with_the_rest(tarn: Key) -> None:
    """None of what was chosen with it is dropped."""
    check(
        start(tarn),
        """
        > a brown one, 4 cm long, wings folded
        could be body-colour=rusty brown; eye-colour=brown; wings-at-rest=closed along the back | type length 4 cm
        > 1 3 4
        understood Colour of the body: rusty brown; Wings at rest: closed along the back; Length: 35 to 45 mm
        """,
    )


def test_a_size_that_nothing_has_is_not_offered(tarn: Key) -> None:
    """A wing span is none of the body either."""
    for line in ("a brown one, 40 cm long, wings folded", "a brown one, 7 cm across, wings folded"):
        (put,) = step(start(tarn), line)[1]
        assert isinstance(put, Choices)
        assert not any(line.startswith("length ") for line in put.to_type)


def test_a_finger_is_told_to_be_laid_on_a_ruler(tarn: Key) -> None:
    """By itself, and within a look."""
    for line in ("As long as my finger", "a brown one the size of a matchstick"):
        (put,) = step(start(tarn), line)[1]
        told = " ".join(put.notes) if isinstance(put, Choices) else put.text  # type: ignore[union-attr]
        assert "lay that on a ruler" in told
