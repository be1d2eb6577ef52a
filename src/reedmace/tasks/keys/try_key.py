"""Try a key with simulated observers, on several processes, and add up what came of it."""

from __future__ import annotations

import gc
import signal
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from multiprocessing import get_context
from threading import current_thread, main_thread
from typing import NamedTuple, Self

from reedmace.faults import Fault, Refused
from reedmace.keys.leaving_out import without
from reedmace.keys.model import Key
from reedmace.keys.names import find_name
from reedmace.scoring.assumptions import DEFAULTS, Assumptions
from reedmace.scoring.tables import Tables
from reedmace.trial.asking import Engine, Run, run
from reedmace.trial.left_out import LeftOut, left_out, regular
from reedmace.trial.nature import Nature
from reedmace.trial.plan import LEAST_MISREAD, Plan
from reedmace.trial.summary import Summary, summarise

BATCH = 10  # runs that a process takes at a time
REMEMBERED = 5_000  # clues an engine may remember before it forgets them all
ROUNDS = 3  # attempts to find the scale at which misreads are as frequent as they must be

EACH = "each"

Progress = Callable[[int, int], None]


class Trial(NamedTuple):
    """A trial that was run, with the plan as it was in the end (`scale`).

    `left_out` and `all_left_out` where species were left out; `summary` is of ordinary runs with the whole key.
    """

    key: Key
    plan: Plan
    assumptions: Assumptions
    summary: Summary
    left_out: tuple[LeftOut, ...]
    all_left_out: LeftOut | None


class _Batch(NamedTuple):
    """Runs `numbers` of a plan; `met` are the only species met (none: all), `lacking` those the engine's key lacks."""

    plan: Plan
    numbers: range
    met: tuple[int, ...]
    lacking: tuple[str, ...]


def try_key(
    key: Key,
    plan: Plan,
    *,
    jobs: int = 1,
    assumptions: Assumptions = DEFAULTS,
    as_stated: bool = False,
    on_progress: Progress | None = None,
) -> Trial:
    """Run a trial. The figures depend on key, plan and assumptions, never on `jobs`.

    Misread rates that average below what the trade would believe are scaled up, unless `as_stated`.
    """
    with _Workers(key, assumptions, jobs) as workers:
        plan, runs = _fair_runs(workers, plan, as_stated, on_progress)
        summary = summarise(runs)
        if not plan.leave_out:
            return Trial(key, plan, assumptions, summary, (), None)
        foreign = _ordered(workers, _left_out_batches(key, plan), plan.runs, on_progress)
    numbers = [species.index for species in key.species if species.name in plan.leave_out]
    each = [left_out(key, n, [one for one in foreign if one.species == n], runs) for n in numbers]
    return Trial(key, plan, assumptions, summary, tuple(each), left_out(key, None, foreign, runs))


def species_left_out(key: Key, typed: Sequence[str], *, with_genus: bool = False) -> tuple[str, ...]:
    """The species meant, each once, to be left out in turn; `each` means every regular one.

    Raises Refused for names that mean none, and where nothing would be left of the key.
    """
    faults: list[Fault] = []
    found: dict[int, None] = {}
    if with_genus and not typed:
        message = "The congeners of species left out are to be left out too, but no species is."
        hint = f"say which:  --leave-out SPECIES --leave-out-genus , or  --leave-out {EACH} --leave-out-genus"
        faults.append(Fault("nothing-left-out", message, hint, "--leave-out-genus", typed=True))
    for name in typed:
        if name.strip().casefold() == EACH:
            found |= dict.fromkeys(regular(key))
            continue
        meant = find_name(key, name)
        if isinstance(meant, Fault):
            faults.append(meant)
        else:
            found |= dict.fromkeys(meant.species)
    emptied = next((one for one in found if len(_lacking(key, one, with_genus)) == len(key.species)), None)
    if emptied is not None:
        name = key.species[emptied].name
        message = f"Nothing is left of this key without {name}{' and its congeners' if with_genus else ''}."
        faults.append(Fault("nothing-left", message, "leave out fewer, or try a larger key", name, typed=True))
    if faults:
        raise Refused(*faults)
    return tuple(key.species[index].name for index in sorted(found))


def _fair_runs(workers: _Workers, plan: Plan, as_stated: bool, on_progress: Progress | None) -> tuple[Plan, list[Run]]:
    """The ordinary runs, with the misread rates scaled up as far as the least believable mean asks."""
    least = LEAST_MISREAD[plan.eye]
    for attempt in range(ROUNDS):
        batches = [
            _Batch(plan, range(first, min(first + BATCH, plan.runs)), (), ()) for first in range(0, plan.runs, BATCH)
        ]
        runs = _ordered(workers, batches, plan.runs, on_progress)
        stated = summarise(runs).stated_misread
        if as_stated or not stated or stated >= least or attempt == ROUNDS - 1:
            break
        plan = plan._replace(scale=plan.scale * least / stated * 1.005)
    return plan, runs


def _left_out_batches(key: Key, plan: Plan) -> list[_Batch]:
    """The runs of the left-out species, as many for each of them as for any other."""
    chosen = [species for species in key.species if species.name in plan.leave_out]
    batches = []
    first = 0
    for place, species in enumerate(chosen):
        count = plan.runs // len(chosen) + (place < plan.runs % len(chosen))
        lacking = _lacking(key, species.index, plan.leave_out_genus)
        batches += [
            _Batch(plan, range(start, min(start + BATCH, first + count)), (species.index,), lacking)
            for start in range(first, first + count, BATCH)
        ]
        first += count
    return batches


def _lacking(key: Key, left_out: int, with_genus: bool) -> tuple[str, ...]:
    """What the engine's key lacks while one species is left out."""
    species = key.species[left_out]
    genus = species.genus if with_genus else None
    return tuple(other.name for other in key.species if other.name == species.name or other.genus == genus)


def _ordered(workers: _Workers, batches: Sequence[_Batch], count: int, on_progress: Progress | None) -> list[Run]:
    runs: list[Run] = []
    if on_progress:
        on_progress(0, count)
    for done in workers.run(batches):
        runs += done
        if on_progress:
            on_progress(len(runs), count)
    return sorted(runs, key=lambda one: one.number)


class _Workers:
    """Processes that run batches; none but this one when one is enough."""

    def __init__(self, key: Key, assumptions: Assumptions, jobs: int) -> None:
        self._mine = _Worker(key, assumptions)
        # Started afresh, not forked: the same on every system, and safe whatever threads there are.
        with _interrupts_left_to_us():
            self._pool = get_context("spawn").Pool(jobs, _begin, (key, assumptions)) if jobs > 1 else None

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        if self._pool:
            self._pool.terminate()
            self._pool.join()

    def run(self, batches: Sequence[_Batch]) -> Iterator[list[Run]]:
        """The runs of all batches, in no order."""
        return self._pool.imap_unordered(_work, batches) if self._pool else map(self._mine.work, batches)


class _Worker:
    """Runs batches; keeps the engines it made."""

    def __init__(self, key: Key, assumptions: Assumptions) -> None:
        self._key = key
        self._assumptions = assumptions
        self._engines: dict[tuple[tuple[str, ...], str], Engine] = {}
        self._natures: dict[tuple[Plan, tuple[int, ...]], Nature] = {}

    def work(self, batch: _Batch) -> list[Run]:
        """The runs of one batch."""
        engine = self._engine(batch.lacking, batch.plan.eye)
        nature = self._natures.get((batch.plan, batch.met))
        if nature is None:
            self._natures.clear()
            nature = self._natures[batch.plan, batch.met] = Nature(self._key, batch.plan, batch.met)
        runs = [run(engine, nature, batch.plan, number) for number in batch.numbers]
        if len(engine.tables.clues) > REMEMBERED:
            engine.tables.forget()
        return runs

    def _engine(self, lacking: tuple[str, ...], eye: str) -> Engine:
        engine = self._engines.get((lacking, eye))
        if engine is None:
            self._engines = {at: kept for at, kept in self._engines.items() if not at[0]}
            seen = without(self._key, lacking) if lacking else self._key
            engine = self._engines[lacking, eye] = Engine(self._key, Tables(seen, eye, self._assumptions, many=True))
        return engine


@contextmanager
def _interrupts_left_to_us() -> Iterator[None]:
    """Processes started meanwhile ignore interrupts from their first moment: Ctrl-C at a terminal reaches them too."""
    if current_thread() is not main_thread():
        yield
        return
    usual = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, usual)


_worker: _Worker | None = None  # of a process started for a trial


def _begin(key: Key, assumptions: Assumptions) -> None:
    """In a new process: an interrupt is the parent's to answer."""
    global _worker
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    gc.set_threshold(200_000, 20, 20)
    _worker = _Worker(key, assumptions)


def _work(batch: _Batch) -> list[Run]:
    assert _worker is not None
    return _worker.work(batch)
