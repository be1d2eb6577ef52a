"""What is likely before the insect is looked at: how common here, flying now, at home in this water.

Place, date and habitat count once and only here. The product is floored, so that nothing is ever excluded.
"""

from typing import NamedTuple

from reedmace.keys.model import Guise, Key, Species
from reedmace.scoring.assumptions import DEFAULTS, Assumptions

# Shape of a flight period: at its very ends, one third beyond, two thirds beyond, and against that every further
# month from there on (practice). With a tail that never fell, what is common in June would stay likelier in January
# than a stray that sits the winter out.
AT_THE_ENDS = 0.10
JUST_BEYOND = 0.02
OFF_SEASON = 0.002
EVERY_MONTH = 0.1
YEAR = 36  # thirds of a month
# A habitat named as the species' own, as also used, and any other (practice).
HABITAT = {"main": 1.0, "also": 0.4}
OTHER_HABITAT = 0.06


class Circumstances(NamedTuple):
    """When and where: regions of the place (region numbers), third of the year, habitat id; all optional.

    `flat` makes all species alike whatever the circumstances.
    """

    regions: tuple[int, ...] = ()
    third: int | None = None
    habitat: str | None = None
    flat: bool = False


class Prior(NamedTuple):
    """`species` and `guises` add up to 1; `raw` are the species' unfloored weights, `undescribed` likewise."""

    species: list[float]
    guises: list[float]
    raw: list[float]
    undescribed: list[float]


def prior(key: Key, circumstances: Circumstances, assumptions: Assumptions = DEFAULTS) -> Prior:
    """Prior of species and guises under the circumstances."""
    if circumstances.flat:
        raw = [1.0] * len(key.species)
        undescribed = [1.0] * len(key.undescribed)
    else:
        raw = [species_weight(species, circumstances) for species in key.species]
        undescribed = [
            abundance(other.abundance, circumstances.regions) * in_flight(other.flight, circumstances.third)
            for other in key.undescribed
        ]
    least = max(raw) * assumptions.prior_floor
    floored = [max(weight, least) for weight in raw]
    total = sum(floored)
    species = [weight / total for weight in floored]
    third = None if circumstances.flat else circumstances.third
    shares = [share_here(guise, circumstances.regions) * in_flight(guise.flight, third) for guise in key.guises]
    whole = [0.0] * len(species)
    for guise, share in zip(key.guises, shares, strict=True):
        whole[guise.species] += share
    guises = [
        species[guise.species] * share / whole[guise.species] for guise, share in zip(key.guises, shares, strict=True)
    ]
    return Prior(species, guises, raw, undescribed)


def share_here(guise: Guise, regions: tuple[int, ...]) -> float:
    """A guise's share: the mean over the regions the place may lie in, where the key gives regional shares."""
    if not guise.share_in or not regions:
        return guise.share
    regional = dict(guise.share_in)
    return sum(regional.get(region, guise.share) for region in regions) / len(regions)


def species_weight(species: Species, circumstances: Circumstances) -> float:
    """Abundance × season × habitat, before the floor."""
    return (
        abundance(species.abundance, circumstances.regions)
        * in_flight(species.flight, circumstances.third)
        * at_home(species.habitats, circumstances.habitat)
    )


def abundance(weights: tuple[float, ...], regions: tuple[int, ...]) -> float:
    """The mean over the regions that the place may lie in; over all regions when the place is not known."""
    chosen = [weights[region] for region in regions] if regions else list(weights)
    return sum(chosen) / len(chosen) if chosen else 1.0


def in_flight(flight: tuple[int, int, int, int] | None, third: int | None) -> float:
    """1 in the peak, falling evenly to the ends of the flight period; a tail beyond, the thinner the further."""
    if flight is None or third is None:
        return 1.0
    first, peak_from, peak_to, last = flight
    if peak_from <= third <= peak_to:
        return 1.0
    if first <= third < peak_from:
        return AT_THE_ENDS + (1 - AT_THE_ENDS) * (third - first) / (peak_from - first)
    if peak_to < third <= last:
        return AT_THE_ENDS + (1 - AT_THE_ENDS) * (last - third) / (last - peak_to)
    beyond = min((first - third) % YEAR, (third - last) % YEAR)
    return JUST_BEYOND if beyond == 1 else OFF_SEASON * EVERY_MONTH ** ((beyond - 2) / 3)


def at_home(habitats: dict[str, str], habitat: str | None) -> float:
    """1 for a main habitat, less for one also used, little for any other."""
    if habitat is None or not habitats:
        return 1.0
    return HABITAT.get(habitats.get(habitat, ""), OTHER_HABITAT)
