"""A trial as plain values, for other programs."""

from __future__ import annotations

from typing import Any

from reedmace.keys.model import Key
from reedmace.keys.seasons import show_third
from reedmace.tasks.keys.try_key import Trial
from reedmace.trial.asking import Run
from reedmace.trial.left_out import LeftOut
from reedmace.trial.summary import Pair, Share, Summary

SHARES = (
    "settled_right",
    "settled_wrong",
    "narrowed_right",
    "narrowed_wrong",
    "open",
    "outside",
    "inside",
    "named",
    "best_right",
    "broken_off",
    "nothing_left",
)


def as_json(trial: Trial) -> dict[str, Any]:
    """One JSON-able object; outcomes are shares of all runs, with counts and standard errors beside."""
    found = {"runs": trial.summary.runs} | _figures(trial.key, trial.summary)
    if trial.all_left_out:
        found["left_out"] = _left_out(trial.key, trial.all_left_out) | {
            "species": [_left_out(trial.key, one) for one in trial.left_out],
        }
    return found | {
        "plan": trial.plan._asdict(),
        "assumptions": trial.assumptions._asdict(),
        "key": {"id": trial.key.id, "version": trial.key.version, "digest": trial.key.digest},
    }


def _figures(key: Key, summary: Summary) -> dict[str, Any]:
    shares: dict[str, Share] = {name: getattr(summary, name) for name in SHARES}
    return {
        **{name: share.value for name, share in shares.items()},
        "counts": {name: share.hits for name, share in shares.items()},
        "standard_errors": {name: share.error for name, share in shares.items()},
        "mean_set": summary.mean_set.value,
        "mean_answers": summary.answers.value,
        "median_answers": summary.answers.median,
        "mean_looks": summary.looks.value,
        "median_looks": summary.looks.median,
        "mean_effort": summary.effort.value,
        "median_effort": summary.effort.median,
        "standard_errors_of_means": {
            "set": summary.mean_set.error,
            "answers": summary.answers.error,
            "looks": summary.looks.error,
            "effort": summary.effort.error,
        },
        "misread": summary.misread.value,
        "misread_error": summary.misread.error,
        "stated_misread": summary.stated_misread,
        "ece": summary.ece,
        "ece_by_chance": summary.ece_by_chance,
        "reliability": [
            {"low": one.low, "high": one.high, "runs": one.runs, "stated": one.stated, "right": one.right.value}
            for one in summary.bins
        ],
        "worst_pairs": [_pair(key, pair) for pair in summary.pairs],
    }


def _pair(key: Key, pair: Pair) -> dict[str, Any]:
    return {
        "true": key.species[pair.true].name,
        "named": [key.species[member].name for member in pair.named],
        "verdict": pair.word,
        "runs": pair.runs,
        "of": pair.of,
        "example": _run(key, pair.example),
    }


def _run(key: Key, run: Run) -> dict[str, Any]:
    return {
        "run": run.number,
        "guise": key.guises[run.guise].title,
        "regions": [key.regions[region].id for region in run.regions],
        "date": show_third(run.third) if run.third is not None else None,
        "habitat": run.habitat,
        "probability": run.probability,
        "answers": [
            {
                "trait": f"{key.characters[report.answer.character].id}={report.answer.typed}",
                "wrong": report.wrong,
            }
            for report in run.reports
        ],
    }


def _left_out(key: Key, found: LeftOut) -> dict[str, Any]:
    shares = {
        "settled_wrong": found.settled_wrong,
        "settled_other_genus": found.other_genus,
        "kin_named": found.kin_named,
        "narrowed": found.narrowed,
        "open": found.open,
        "outside": found.outside,
    }
    return {
        **({"name": key.species[found.species].name} if found.species is not None else {}),
        "runs": found.runs,
        **{name: share.value for name, share in shares.items()},
        "standard_errors": {name: share.error for name, share in shares.items()},
        "mean_answers": found.answers.value,
        "taken_for": [{"name": key.species[species].name, "runs": runs} for species, runs in found.taken_for],
        "outside_auc": found.area.value,
        "outside_auc_error": found.area.error,
        "outside_probability_auc": found.area_of_outside.value,
        "outside_probability_auc_error": found.area_of_outside.error,
    }
