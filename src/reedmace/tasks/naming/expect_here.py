"""What place, date and habitat alone make likely, and why a species is far down here and now."""

from __future__ import annotations

from typing import Any, NamedTuple

from reedmace.keys.model import LEVELS, Key, Species
from reedmace.keys.seasons import PERIODS, show_third
from reedmace.scoring.prior import in_flight, prior
from reedmace.tasks.shared.setting import Setting

OFF = 0.1  # of what flies at its peak: less is not on the wing
FAR_DOWN = 0.01  # as likely as this, against the likeliest here and now, wants a reason


class Expected(NamedTuple):
    """One species: its chance before it is looked at, its level here, its season now, why it is far down."""

    species: int
    probability: float
    level: str
    season: str
    reasons: tuple[str, ...]


def expect(key: Key, setting: Setting) -> list[Expected]:
    """Every species of the key, likeliest first."""
    before = prior(key, setting.circumstances(key))
    order = sorted(range(len(key.species)), key=lambda species: (-before.species[species], species))
    return [
        Expected(
            species,
            before.species[species],
            level_here(key, setting, key.species[species]),
            season_now(key.species[species], setting.date.third if setting.date else None, key.stage),
            reasons_against(key, setting, species),
        )
        for species in order
    ]


def far_down(key: Key, setting: Setting, species: int) -> tuple[str, ...]:
    """Why a species is not to be expected here and now; empty when it is, or when all are taken as equally likely.

    One that is not on the wing is not to be expected, though nothing else may be, either.
    """
    if setting.flat:
        return ()
    raw = prior(key, setting.circumstances(key)).raw
    far = raw[species] < FAR_DOWN * max(raw) or _out_of_season(key.species[species], setting)
    return reasons_against(key, setting, species) if far else ()


def _out_of_season(species: Species, setting: Setting) -> bool:
    return bool(setting.date and species.flight and in_flight(species.flight, setting.date.third) < OFF)


def reasons_against(key: Key, setting: Setting, species: int) -> tuple[str, ...]:
    """What speaks against a species in this setting, in words, each a part of a sentence."""
    one, reasons = key.species[species], []
    level = level_here(key, setting, one)
    here = " and ".join(region.title for region in setting.regions)
    if level == "absent" and not any(how != "absent" for how in one.more.levels.values()):
        reasons.append("not known from any region of this key")
    elif level == "absent":
        reasons.append(f"not known from {here}" if here else "not known here")
    elif level in ("vagrant", "rare", "scarce"):
        word = "a rare stray" if level == "vagrant" else level
        reasons.append(f"{word} in {here}" if here else f"{word} everywhere")
    if one.flight and _out_of_season(one, setting):
        running = PERIODS[key.stage].running
        reasons.append(f"{running} from {show_third(one.flight[0])} to {show_third(one.flight[3])}")
    if setting.habitat and one.habitats and setting.habitat.id not in one.habitats:
        reasons.append(f"not usual here: {setting.habitat.title}")
    return tuple(reasons)


def level_here(key: Key, setting: Setting, species: Species) -> str:
    """The highest level of abundance in the regions that the place may lie in; in all of them without a place."""
    regions = setting.regions or key.regions
    levels = [species.more.levels.get(region.id, "absent") for region in regions]
    return min(levels, key=LEVELS.index) if levels else "absent"


def season_now(species: Species, third: int | None, stage: str) -> str:
    """`peak`, `beginning`, `ending` or what is said of other times, by the third of the month; empty without a date."""
    if third is None or species.flight is None:
        return ""
    first, peak_from, peak_to, last = species.flight
    if peak_from <= third <= peak_to:
        return "peak"
    if first <= third < peak_from:
        return "beginning"
    if peak_to < third <= last:
        return "ending"
    return PERIODS[stage].over


def as_json(key: Key, expected: list[Expected]) -> list[dict[str, Any]]:
    """One JSON-able object per species."""
    return [
        {
            "name": key.species[one.species].name,
            "vernacular": key.species[one.species].english,
            "probability": one.probability,
            "level": one.level,
            "season": one.season or None,
            "reasons_against": list(one.reasons),
        }
        for one in expected
    ]
