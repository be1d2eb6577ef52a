"""What a trial is to be: who looks, how often they err, what is drawn, and how many times."""

from __future__ import annotations

from typing import NamedTuple

# "exhaustive" is greedy that knows no stop: it looks while any mark may tell anything. "information" knows no stop
# either, nor that some marks are seldom seen: the mark whose state would tell most, as handbooks describe it.
ORDERS = ("look-next", "greedy", "exhaustive", "information", "random", "fixed")
# The mean chance of a misread over the marks asked, below which an observer would be too good to prove anything.
LEAST_MISREAD = {"beginner": 0.10, "practised": 0.05}


class Plan(NamedTuple):
    """A trial: the same plan gives the same runs, on any number of processes. Chances unless a unit is named."""

    runs: int = 1000
    seed: int = 1
    eye: str = "beginner"
    misread: float = 1.0  # factor on every chance of a misread
    scale: float = 1.0  # a further factor, where the key's own rates average below `LEAST_MISREAD`
    chain: float = 1.0  # a miss multiplies the chance of a miss in the next answer by this
    even: bool = False  # every species as often as any other, instead of by how common it is
    flat: bool = False  # the engine is not told of date, place and habitat
    order: str = "look-next"
    answers: int = 200  # looks after which a run is broken off, a safety; counted apart
    wrong_sex: float = 0.03  # that sex or age is misjudged as a whole
    echo_lapse: float = 0.03  # that one lapse colours all answers of an echo group
    shares_wrong: bool = False  # guises drawn evenly, not by the shares the key states
    leave_out: tuple[str, ...] = ()  # species observed, but taken out of the engine's key
    leave_out_genus: bool = False  # … and their congeners with them
