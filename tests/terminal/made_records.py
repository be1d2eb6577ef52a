"""Sightings of the made tarn flies for the lists, some with words that look like something else."""

from __future__ import annotations

from checks.records_made import LOWLAND, UPLAND, judged_by, sighting, visit
from reedmace.keys.model import Key
from reedmace.ledger.entries import EntryMeta
from reedmace.records import PlaceRecord, Sighting, Visit
from reedmace.tasks.checking.check_records import Checked, check

TRICKY = "Aus bus [sensu lato] [/x] :bee: \x1b[31mred"


def meta(act: str = "recorded") -> EntryMeta:
    """How an entry came about."""
    at = "2026-07-12T10:00:00Z"
    return EntryMeta("e-1", None, "sighting", "s-1", act, "", "p-1", at, modified=at)


def rows(key: Key) -> list[tuple[Sighting, Visit, EntryMeta]]:
    """Everything a list may have to show."""
    tarn = visit(place=LOWLAND._replace(locality="Harrowmere, Sallow Farm tarn"))
    beck = visit(id="v-2", date="2026-07", place=UPLAND._replace(locality=TRICKY))
    nowhere = visit(date=None, place=PlaceRecord())
    told = [
        (sighting(key, "pale", count=12), tarn, meta()),
        (sighting(key, "misty", sex="female", certainty="uncertain"), tarn, meta()),
        (sighting(key, "pale", count=6, pairs=3, sex=None, behaviour=("copulating",)), tarn, meta()),
        (sighting(key, "sunny", count=40, count_to=60, count_kind="estimate", sex=None), tarn, meta()),
        (sighting(key, "great", count=40, count_kind="at least", sex=None, stage="teneral"), beck, meta()),
        (sighting(key, "lone", count=None, count_kind="present", sex=None), beck, meta("withdrawn")),
        (
            sighting(key, "pale/misty", sex="female", behaviour=("ovipositing",)),
            nowhere,
            meta(),
        ),
    ]
    numbered = []
    for number, (one, at, how) in enumerate(told, 1):
        taxon = one.taxon._replace(vernacular=TRICKY) if number == 5 else one.taxon
        numbered.append((one._replace(id=f"s-{number:012}", taxon=taxon), at, how))
    return numbered


def checked(key: Key) -> list[Checked]:
    """The same records with their queries; the first has none."""
    return list(check(judged_by(key), ((one, at) for one, at, _ in rows(key))))
