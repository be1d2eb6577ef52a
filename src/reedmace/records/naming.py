"""What the key said when the insect was named: a plain copy, kept beside the sighting for ever.

The key may change and the program may change; the reasons given on the day stay as they were.
"""

from typing import Literal, NamedTuple

Eye = Literal["beginner", "practised"]
VerdictWord = Literal["settled", "narrowed", "open", "outside"]


class Answer(NamedTuple):
    """One answer given: the character's id and the answer as typed (`broad`, `absent~`, `30-35mm`)."""

    character: str
    typed: str


class Ranked(NamedTuple):
    """One line of the ranking: species, the guise it was seen in (empty where summed), probability 0 to 1."""

    name: str
    guise: str
    probability: float


class Circumstances(NamedTuple):
    """Date, place and habitat as typed for the naming, and whether abundance was left out (`--flat`)."""

    date: str = ""
    place: str = ""
    habitat: str = ""
    flat: bool = False


class Naming(NamedTuple):
    """The key, the answers, the verdict and the ranking, best first."""

    key_id: str
    key_version: str
    key_digest: str
    eye: Eye | None = None
    answers: tuple[Answer, ...] = ()
    circumstances: Circumstances = Circumstances()
    verdict: VerdictWord | None = None
    verdict_name: str = ""
    ranking: tuple[Ranked, ...] = ()
    reedmace: str = ""
