"""What authors write in a key's files, as strict models. Only reading uses these; running uses `model`.

Characters have models of their own, in `authoring_characters`.

References between files (characters, states, regions, sources) are checked in `crosscheck`.
"""

from __future__ import annotations

from typing import Annotated, Any, Generic, Literal, TypeVar

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, model_validator

FORMAT = 1

T = TypeVar("T")
Id = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")]
Third = Annotated[str, Field(pattern=r"^(early|mid|late)-[a-z]+$")]
Day = Annotated[str, Field(pattern=r"^\d{4}-\d{2}-\d{2}$")]
Number = Annotated[float, Field(strict=False, allow_inf_nan=False)]
Text = Annotated[str, Field(min_length=1)]
Level = Literal["abundant", "common", "local", "scarce", "rare", "vagrant", "absent"]


class Slip(ValueError):  # noqa: N818  (the project's word: it is the author's, not ours)
    """What is wrong with a value, in plain words, with what to write instead."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.hint = hint


def as_tuple(value: Any) -> Any:
    """One word stands for a list of it."""
    return (value,) if isinstance(value, str) else value


def _with_absent(value: dict[Level, float]) -> dict[Level, float]:
    # A region that a species does not name counts as `absent`, so that there must be a weight for it.
    if "absent" not in value:
        raise Slip("the level absent is missing: a region that a species does not name has it", "add  absent: 0.000002")
    return value


Sex = Literal["male", "female"]
Age = Literal["mature", "immature", "teneral"]
Names = Annotated[tuple[Text, ...], BeforeValidator(as_tuple)]


class Authored(BaseModel):
    """Base of all: nothing unknown, nothing coerced, nothing changed afterwards."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, populate_by_name=True)


class Valued(Authored, Generic[T]):
    """A value with, optionally, its own source and a note; a bare value stands for `{is: value}`."""

    value: T = Field(alias="is")
    source: Names = ()
    note: str = ""

    @model_validator(mode="before")
    @classmethod
    def _bare(cls, given: Any) -> Any:
        return given if isinstance(given, dict) and "is" in given else {"is": given}


class Classification(Authored):
    """The ranks above the suborder, the same for every species of the key."""

    kingdom: Text
    phylum: Text
    class_: Text = Field(alias="class")
    order: Text
    title: Text  # plain words for one member of the order


class Suborder(Authored):
    """A suborder with the plain word for one of its members."""

    name: Text
    title: Text
    words: Names = ()


class Family(Suborder):
    """A family, likewise."""

    suborder: Text


class Group(Authored):
    """A group the trade names that is neither genus nor family; members are species, genera or families."""

    id: Id
    title: Text
    rank: Literal["pair", "aggregate"]
    members: tuple[Text, ...] = Field(min_length=1)


class Region(Authored):
    """A region of the key, with plain names of it or of what lies in it; several regions may share one."""

    id: Id
    title: Text
    words: Names = ()


class Habitat(Authored):
    """A habitat, with other words people use for it."""

    id: Id
    title: Text
    words: Names = ()


class Flight(Authored):
    """A flight period in thirds of a month."""

    first: Third
    peak: tuple[Third, Third]
    last: Third


class Undescribed(Authored):
    """A species named as a look-alike before it is described here."""

    name: Text
    english: Text
    group: Text
    abundance: dict[str, str]
    flight: Flight
    source: Names = ("practice",)


class Namesake(Authored):
    """Short names that another animal has too, and the words by which a page speaks of such animals."""

    animal: Text
    names: Annotated[Names, Field(min_length=1)]
    words: Names = ()


class Remark(Authored):
    """Words of another animal, or of what says nothing of the kind, and what is told to whoever types them."""

    words: Annotated[Names, Field(min_length=1)]
    tell: Text
    instead: bool = False  # the words are no mark, whatever state is called so
    unless: Names = ()  # beside these words it is not meant
    source: Names = ("practice",)


class Source(Authored):
    """Where values come from: a publication, or the words `memory` and `practice`."""

    id: Id
    title: Text
    authors: str = ""
    year: int | None = None
    publisher: str = ""


class KeyFile(Authored):
    """`key.yaml`."""

    format: Literal[1]
    id: Id
    title: Text
    version: Annotated[str, Field(pattern=r"^\d+\.\d+\.\d+$")]
    scope: Text
    licence: Text
    caution: str = ""  # shown before anything is named
    stage: Literal["adult", "exuvia", "larva"] = "adult"  # of what the key names, where a record says nothing else
    classification: Classification
    suborders: tuple[Suborder, ...] = ()
    families: tuple[Family, ...] = ()
    groups: tuple[Group, ...] = ()
    abundance: Annotated[dict[Level, Annotated[float, Field(strict=False, gt=0, le=1)]], AfterValidator(_with_absent)]
    regions: tuple[Region, ...] = ()
    squares: dict[str, Names] = Field(default_factory=dict)
    habitats: tuple[Habitat, ...] = ()
    undescribed: tuple[Undescribed, ...] = ()
    namesakes: tuple[Namesake, ...] = ()
    remarks: tuple[Remark, ...] = ()
    sources: tuple[Source, ...] = Field(min_length=1)

    @property
    def weights(self) -> dict[str, float]:
        """The weight of each level of abundance, by its word."""
        return {str(level): weight for level, weight in self.abundance.items()}


class LookalikeEntry(Authored):
    """A species to rule out, with the mark that does it."""

    species: Text
    guises: Names = ()
    mark: Text
    decided_by: dict[str, Names] = Field(default_factory=dict)
    unseen: str = ""
    source: Names = ()


class GuiseEntry(Authored):
    """One way a species can look."""

    id: Id
    title: Text
    sex: Sex | None = None
    age: Age
    form: str = ""
    share: Annotated[float, Field(strict=False, gt=0, le=1)]
    share_in: dict[str, Annotated[float, Field(strict=False, gt=0, le=1)]] = Field(default_factory=dict)
    flight: Valued[Flight] | None = None
    evidence: Valued[Literal["sight", "photo", "hand", "panel"]]
    photograph: str = ""
    source: Names = ()
    traits: dict[str, Valued[Any]] = Field(default_factory=dict)


class Protection(Authored):
    """A legal protection or care note, dated."""

    text: Text
    law: str = ""
    area: str = ""
    checked: Day
    source: Names = ()


class SpeciesEntry(Authored):
    """One species with its guises."""

    name: Annotated[str, Field(pattern=r"^[A-Z][a-z]+ [a-z-]+$")]
    authority: Text
    english: Text
    aliases: Names = ()
    synonyms: Names = ()
    status: Valued[Text]
    abundance: Valued[dict[str, str]]
    flight: Valued[Flight] | None = None
    habitats: Valued[dict[str, Literal["main", "also"]]]
    hindwing: Valued[tuple[Number, Number]] | None = None
    source: Names = ()
    traits: dict[str, Valued[Any]] = Field(default_factory=dict)
    guises: tuple[GuiseEntry, ...] = Field(min_length=1)
    lookalikes: tuple[LookalikeEntry, ...] = ()
    protection: tuple[Protection, ...] = ()
    notes: Names = ()


class SpeciesFile(Authored):
    """`species/<genus>.yaml`."""

    format: Literal[1]
    genus: Annotated[str, Field(pattern=r"^[A-Z][a-z]+$")]
    family: Text
    title: Text
    source: Names = ()
    species: tuple[SpeciesEntry, ...] = Field(min_length=1)
