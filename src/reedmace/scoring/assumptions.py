"""The numbers the engine assumes, in one place.

Calibrated in trials with simulated observers on the key of Britain and Ireland (2026-11-25; docs/method.md says why).
A misread rate is what the trade would believe of an observer, never what makes a trial pass.
"""

from typing import NamedTuple


class Assumptions(NamedTuple):
    """Every number that is a choice. Probabilities unless a unit is named."""

    error_factor: float = 1.1  # misreads assumed, against those the key states
    doubt: float = 0.15  # chance that an observer errs far more than that …
    doubt_factor: float = 3.0  # … by this factor on the misreads the key states
    echo_lapse: float = 0.1  # chance that one lapse colours a whole echo group
    unsure: float = 0.5  # share of an unsure answer that is pure chance
    outside_prior: float = 0.02  # that the insect is not in the key
    kin: float = 0.8  # share of those that are kin of a species in it …
    kin_differs: float = 0.15  # … and differ from it in so many of their marks
    settle_outside: float = 0.01  # probability of outside up to which a name is settled …
    as_expected: float = 0.8  # … or always, where each answer is so likely against the one to be expected
    number_floor: float = 0.10  # share of numbers that are plain slips
    range_margin: float = 0.10  # how far a number's range is widened at each end, as a share of it
    ruler_half_width: float = 2.0  # mm, 95 %
    measured_half_width: float = 0.5  # mm, 95 %
    prior_floor: float = 1e-4  # least prior with circumstances, against the largest
    settle: float = 0.95  # probability of a settled name inside the key
    separation: float = 7.0  # decibans of evidence without prior between look-alikes
    differing: float = 1.0  # decibans from which an answer counts as telling two apart
    least_chance: float = 0.02  # that open marks change the verdict, below which nothing more is asked
    excused: float = 1e-3  # a look-alike this much less likely here and now need not be separated
    misfit_tail: float = 0.02  # lower tail of the fit below which an insect may be outside
    misfit_outside: float = 0.5  # … if the probability of outside is above this as well
    outside: float = 0.7  # probability of outside that needs no misfit
    fit_from: int = 4  # answers below which fit cannot be judged
    fit_grid: float = 0.05  # nat


DEFAULTS = Assumptions()
EFFORT = {"glance": 1.0, "look": 2.0, "close": 4.0, "hand": 10.0}
