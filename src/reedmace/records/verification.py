"""What a county recorder said of a record's name: verification, which is never ours to give."""

from typing import Literal, NamedTuple, get_args

Status = Literal[
    "correct", "considered correct", "plausible", "unconfirmed", "unable to verify", "incorrect", "not reviewed"
]
STATUSES: tuple[str, ...] = get_args(Status)
POSITIVE = ("correct", "considered correct")


class Verification(NamedTuple):
    """One answer about one sighting.

    `verifier` is a person's id, `date` an ISO date or "". `about` is the scientific name that the answer was about,
    `name` the one that the verifier gave instead, or "". "Unable to verify" says nothing against the name.
    """

    status: str
    verifier: str
    date: str = ""
    remark: str = ""
    about: str = ""
    name: str = ""

    def rejects(self, scientific_name: str) -> bool:
        """Say whether a record under this name is not what the verifier has it for: incorrect, or another species."""
        held = self.holds_for(scientific_name)
        return held == "incorrect" or (not held and bool(self.name) and scientific_name == self.about)

    def holds_for(self, scientific_name: str) -> str:
        """Give what this answer says of a record under this name; "" where it was about another one.

        Under the name that the verifier gave, the record is as the verifier has it.
        """
        if self.name:
            if scientific_name == self.name:
                return "correct"
            # Who accepts a record under another name does not accept it under ours, but for a genus and its species.
            kept = self.status not in POSITIVE or self.name.startswith(f"{self.about} ")
            return self.status if scientific_name == self.about and kept else ""
        return self.status if scientific_name == self.about else ""
