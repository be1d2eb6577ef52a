"""Every choice of sightings, found by whatever way, is what looking at each of them in turn would give."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from ledger.pond import LATER, NOON, begun, sighting, visit
from reedmace.ledger import finding
from reedmace.ledger.entries import EntryMeta
from reedmace.ledger.store import Ledger, open_ledger
from reedmace.ledger.wanted import Wanted
from reedmace.records import PlaceRecord, Sighting, Taxon, Visit, span

Row = tuple[Sighting, Visit, EntryMeta]
TAXA = [Taxon("Aeshna mixta", vernacular="Migrant Hawker"), Taxon("Aeshna cyanea"), Taxon("Anax imperator")]
SQUARES = ["SU4311", "SU431118", "SU432119", "SU43201190", "TQ3480"]
DATES = ["2024-06-01", "2024-06-14", "2025-07", "2025", "2024/2025", "2026-06-14", "2026-06-14/2026-06-20", None]
DITCH = PlaceRecord(square="TQ3480", locality="the SLUICE ditch")
WORDS = ["sluice", "Sluiceway", "Café", "reeds", "windy", ""]


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Forty walks of everything, some amended, some withdrawn."""
    file = tmp_path_factory.mktemp("finding") / "pond"
    chance = random.Random(3)
    with begun(file) as (ledger, ada, mint):
        ben = ledger.people.register("Ben Sallow", mint)
        for number in range(40):
            place = PlaceRecord(square=chance.choice(SQUARES), locality=f"{chance.choice(WORDS)} pond")
            walk = visit(1, chance.choice([ada, ben]), id=f"v{number}", date=chance.choice(DATES), place=place)
            seen = []
            for other in range(chance.randint(1, 5)):
                one = sighting(f"{number}-{other}", walk.id, taxon=chance.choice(TAXA), remarks=chance.choice(WORDS))
                one = one._replace(
                    stage=chance.choice(["adult", "teneral", None]),
                    sex=chance.choice(["male", None]),
                    determiner=chance.choice([ada, None]),
                    place=chance.choice([None, None, PlaceRecord(square=chance.choice(SQUARES)), DITCH]),
                    observers=chance.choice([None, None, (ben,), (ada, ben)]),
                    typed="",
                )
                seen.append(one)
            ledger.record_walk(walk, seen, ada, NOON, mint)
            if number % 5 == 0:
                ledger.amend(seen[0]._replace(remarks="changed reeds"), "why", ada, LATER, mint)
            if number % 7 == 0:
                ledger.withdraw([seen[-1].id], "why", ada, LATER, mint)
            if number % 11 == 0:
                ledger.amend(walk._replace(date="2024-06-14", remarks="windy"), "why", ada, LATER, mint)
            if number % 13 == 1:
                moved = place._replace(locality="Reed Pondlet")
                ledger.amend(walk._replace(place=moved), "why", ada, LATER, mint)
    return file


def fits(row: Row, wanted: Wanted) -> bool:
    """Look at one sighting."""
    one, at, meta = row
    place = one.place or at.place
    days = span(at.date) if at.date else None
    people = set(at.observers if one.observers is None else one.observers) | {one.determiner}
    text = [
        *(one.taxon.scientific_name, one.taxon.vernacular, one.stage, one.sex, one.remarks, one.taxon.typed),
        *(place.locality, at.place.locality, at.remarks, at.place.typed),
    ]
    words = {word for part in text if part for word in finding.words_of(part)}
    square = "".join((place.square or "").split())
    status = {"withdrawn": meta.act == "withdrawn", "amended": meta.act == "amended", "diverged": meta.diverged}
    return all(
        [
            status[wanted.status] if wanted.status else wanted.withdrawn or meta.act != "withdrawn",
            wanted.year is None or (days is not None and days.year == wanted.year),
            wanted.since is None or (days is not None and days.last >= wanted.since),
            wanted.until is None or (days is not None and days.first <= wanted.until),
            wanted.taxon is None
            or f"{one.taxon.scientific_name} ".casefold().startswith(f"{wanted.taxon} ".casefold())
            or one.taxon.vernacular == wanted.taxon,
            wanted.stage is None or one.stage == wanted.stage,
            wanted.sex is None or one.sex == wanted.sex,
            not wanted.people or people & set(wanted.people),
            wanted.square is None or (square[:2] == "SU" and square.startswith("SU43") and "11" in square),
            wanted.locality is None
            or any(wanted.locality.lower() in one.locality.lower() for one in (place, at.place)),
            wanted.text is None
            or (
                finding.words_of(wanted.text)
                and all(any(word.startswith(begin) for word in words) for begin in finding.words_of(wanted.text))
            ),
        ]
    )


def choices(ada: str, ben: str) -> list[Wanted]:
    """Give every condition alone, and many together."""
    parts: list[dict[str, object]] = [
        *({"year": year} for year in (2024, 2025)),
        *({"since": day} for day in ("2024-06-14", "2025-03-01", "2026-06-15")),
        *({"until": day} for day in ("2024-06-01", "2025-12-31")),
        *({"taxon": name} for name in ("Aeshna mixta", "aeshna", "Migrant Hawker", "Anax imperator", "Nothing")),
        *({"stage": stage} for stage in ("adult", "teneral")),
        {"sex": "male"},
        *({"people": people} for people in ((ada,), (ben,), (ada, ben))),
        {"square": "SU 43 11"},
        *({"locality": name} for name in ("sluice", "POND", "ditch", "pondl", "wombat")),
        *(
            {"text": text}
            for text in ("sluice", "slu reed", "cafe", "CAFÉ", "s", "windy mixta", "wombat", "!", "luice")
        ),
        *({"status": status} for status in ("withdrawn", "amended", "diverged")),
        {"withdrawn": True},
    ]
    chance = random.Random(8)
    several = []
    for _ in range(150):
        some: dict[str, object] = {}
        for part in chance.sample(parts, chance.randint(2, 4)):
            some |= part
        several.append(some)
    return [Wanted(**some) for some in (*parts, *several)]  # type: ignore[arg-type]


@pytest.mark.parametrize("few", [0, 20, 10_000])
@pytest.mark.parametrize("most", [None, 7])
def test_every_choice_is_what_looking_at_each_would_give(
    path: Path, monkeypatch: pytest.MonkeyPatch, few: int, most: int | None
) -> None:
    """In the same order, whether few are taken to be none, some or all; and a page is the beginning of it."""
    monkeypatch.setattr(finding, "FEW", few)
    monkeypatch.setattr(finding, "FEW_AT_PLACES", 2 * few)
    monkeypatch.setattr(finding, "COMMON", 3 * few)
    with open_ledger(path) as ledger:
        everything = list(ledger.current_sightings(Wanted(withdrawn=True)))
        assert len(everything) > 80
        people = [ledger.people.ids_of(name)[0] for name in ("Ada Marsh", "Ben Sallow")]
        for wanted in choices(*people):
            found = [row[0].id for row in rows_of(ledger, wanted, most)]
            assert found == [row[0].id for row in everything if fits(row, wanted)][:most], wanted


def rows_of(ledger: Ledger, wanted: Wanted, most: int | None) -> list[Row]:
    """Ask the ledger."""
    return list(ledger.current_sightings(wanted, most))
