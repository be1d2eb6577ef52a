"""A sighting: one species (or group) × stage × sex × behaviour on one visit."""

from __future__ import annotations

from typing import Literal, NamedTuple

from reedmace.records.naming import Naming
from reedmace.records.photo import Photo
from reedmace.records.place import PlaceRecord
from reedmace.records.taxon import Taxon

CountKind = Literal["exact", "estimate", "present", "at least", "band"]
Sex = Literal["male", "female"]
Stage = Literal["larva", "exuvia", "emerging", "teneral", "immature", "adult"]
Evidence = Literal["sight", "photo", "in hand", "exuvia"]
Certainty = Literal["certain", "probable", "uncertain"]


class Sighting(NamedTuple):
    """One sighting, one occurrence.

    `id` is minted once and kept for ever; sightings of one typed line share `line_id`.
    `count` is individuals, never 0; None goes with `count_kind` "present" (seen, not counted).
    A band or an estimated range runs from `count` to `count_to`; a band without `count_to` is open above.
    `pairs`: a pair, in tandem or copulating, is one sighting of two adults: `3 cop` is pairs 3, count 6,
    sex None, behaviour ("copulating",). It counts beside single males and females. Where pairs were typed as
    included, the singles of the same line or visit are written without them: `in_pairs` says how many of those
    counted are in pairs that have a sighting of their own, so that nothing is counted twice.
    `certainty` "uncertain" is a trailing `?`; `qualifier` is the determiner's own sign ("cf."), where typed.
    `place`, `time` (`HH:MM`) and `observers` are None where they are the visit's.
    `determiner` is a person id; `determined_on` an ISO date. `typed` is the line as typed, verbatim, people's
    names as marks (see names.py).
    """

    id: str
    line_id: str
    visit_id: str
    taxon: Taxon
    naming: Naming | None = None
    count: int | None = None  # type: ignore[assignment]  # hides tuple.count, which nobody needs here
    count_to: int | None = None
    count_kind: CountKind = "present"
    count_typed: str = ""
    pairs: int | None = None
    sex: Sex | None = None
    stage: Stage | None = None
    behaviour: tuple[str, ...] = ()
    evidence: Evidence | None = None
    determiner: str | None = None
    determined_on: str | None = None
    certainty: Certainty | None = None
    qualifier: str = ""
    place: PlaceRecord | None = None
    time: str | None = None
    observers: tuple[str, ...] | None = None
    photos: tuple[Photo, ...] = ()
    remarks: str = ""
    typed: str = ""
    in_pairs: int | None = None
