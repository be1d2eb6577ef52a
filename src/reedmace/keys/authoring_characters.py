"""What authors write in `characters.yaml`, as strict models (see `authoring`)."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import (
    AfterValidator,
    BeforeValidator,
    Field,
    ModelWrapValidatorHandler,
    ValidationError,
    model_validator,
)
from pydantic_core import ErrorDetails, InitErrorDetails

from reedmace.keys.authoring import Age, Authored, Id, Names, Number, Sex, Slip, Text, as_tuple

Chance = Annotated[float, Field(strict=False, ge=0, le=0.9)]
Unit = Annotated[str, Field(pattern=r"^[a-z]+$")]  # as it is typed behind a number, where capitals count as small
Effort = Literal["glance", "look", "close", "hand"]


def _rising(value: tuple[float, float]) -> tuple[float, float]:
    low, high = value
    if not low < high:
        raise Slip("a range goes from smaller to larger", f"write  [{high:g}, {low:g}]")
    return value


class Misreading(Authored):
    """How often a state that is there is missed, and how often one is invented where there is none."""

    missed: Chance
    invented: Chance


class ByEye(Authored):
    """A length judged by eye: 95 % half-width and upward bias, both as a share of the length."""

    half_width: Chance
    bias: Chance = 0.0


class Applies(Authored):
    """Which guises a question makes sense for: any of the named groups, any of the named sexes and ages."""

    groups: Names = ()
    sexes: Annotated[tuple[Sex, ...], BeforeValidator(as_tuple)] = ()
    ages: Annotated[tuple[Age, ...], BeforeValidator(as_tuple)] = ()


class CharacterState(Authored):
    """One state; `absent` marks the state that means there is nothing to see."""

    id: Id
    title: Text
    words: Names = ()
    absent: bool = False


class CharacterEntry(Authored):
    """One character: states to choose from, or a number."""

    id: Id
    title: Text
    question: Text
    help: Text
    part: Text
    effort: Effort
    kind: Literal["states", "number"] = "states"
    echo: Id | None = None
    aliases: Names = ()
    ordered: bool = False
    sexing: bool = False
    colours: bool = False
    needs: Id | None = None
    shown_by: Sex | None = None
    visible: Annotated[float, Field(strict=False, gt=0, le=1)] | None = None
    photograph: str = ""
    applies: Applies = Applies()
    confused: tuple[tuple[str, str], ...] = ()
    beginner: Misreading | None = None
    practised: Misreading | None = None
    states: tuple[CharacterState, ...] = Field(default=(), min_length=2)
    unit: Unit = ""
    range: Annotated[tuple[Number, Number], AfterValidator(_rising)] | None = None
    by_eye: dict[Literal["beginner", "practised"], ByEye] = Field(default_factory=dict)
    source: Names = ()

    @model_validator(mode="wrap")
    @classmethod
    def _whole(cls, given: Any, handler: ModelWrapValidatorHandler[CharacterEntry]) -> CharacterEntry:
        """What only one kind needs is missed together with all else that is missing, so that one check tells it all."""
        made, slips = None, []
        try:
            made = handler(given)
        except ValidationError as error:
            slips = [_again(slip) for slip in error.errors(include_url=False)]
        for field in _needed(given):
            if field not in given if made is None else not getattr(made, field):
                slips.append(InitErrorDetails(type="missing", loc=(field,), input=given))
        if made is None or slips:
            raise ValidationError.from_exception_data(cls.__name__, slips)
        return made


def _again(slip: ErrorDetails) -> InitErrorDetails:
    """A slip that was told, to be told again beside others."""
    return InitErrorDetails(type=slip["type"], loc=slip["loc"], input=slip["input"], ctx=slip.get("ctx", {}))


def _needed(given: Any) -> tuple[str, ...]:
    """The fields that a character needs for its kind; none where it is no character, or of no kind that there is."""
    kind = given.get("kind", "states") if isinstance(given, dict) else None
    return {"states": ("states", "beginner", "practised"), "number": ("unit", "range")}.get(str(kind), ())


class CharactersFile(Authored):
    """`characters.yaml`."""

    format: Literal[1]
    source: Names = ()
    characters: tuple[CharacterEntry, ...] = Field(min_length=1)
