"""A trial on the screen: verdicts, answers, calibration, the worst confusions and what led to them."""

from __future__ import annotations

from reedmace.keys.model import Key
from reedmace.keys.seasons import show_third
from reedmace.tasks.keys.try_key import Trial
from reedmace.terminal.screen import Screen
from reedmace.terminal.words import joined, plural
from reedmace.trial.asking import Run
from reedmace.trial.left_out import LeftOut
from reedmace.trial.plan import Plan
from reedmace.trial.summary import Mean, Pair, Share, Summary

SHOWN = 5  # confusions shown with an example; --json has more


def show_trial(screen: Screen, trial: Trial) -> None:
    """The whole page."""
    key, plan = trial.key, trial.plan
    screen.say((f"Trial of {key.title} {key.version}", "bold"), hang=2)
    screen.say(f"{plural(plan.runs, 'run')}, seed {plan.seed}: {'; '.join(_conditions(plan))}.", hang=2)
    if trial.all_left_out:
        _left_out(screen, key, trial, trial.all_left_out)
        screen.blank()
        screen.say(("The same observers, with the whole key", "bold"))
    _verdicts(screen, trial.summary)
    _asked(screen, trial.summary)
    _misread(screen, plan, trial.summary)
    _reliability(screen, trial.summary)
    _confusions(screen, key, trial.summary)


def _conditions(plan: Plan) -> list[str]:
    """What the plan says, as a reader would want it said."""
    said = [f"{plan.eye} observers" if plan.eye == "practised" else "beginners"]
    said.append("every species as often as any other" if plan.even else "species as common as the key says")
    said.append("date, place and habitat not told" if plan.flat else "date, place and habitat told")
    orders = {
        "look-next": "the look offered first",
        "greedy": "the most telling look",
        "exhaustive": "the most telling look while any tells",
        "information": "the mark whose state would tell most while any tells",
        "random": "looks at random",
    }
    said.append(f"{orders.get(plan.order, 'looks in the order of the key')}, at most {plan.answers}")
    if plan.misread != 1:
        said.append(f"misreads times {plan.misread:g}")
    if plan.scale != 1:
        said.append(f"the key's misread rates, too low to be believed, raised {plan.scale:.2f} times")
    if plan.chain != 1:
        said.append(f"a miss makes the next {plan.chain:g} times as likely")
    if plan.shares_wrong:
        said.append("guises drawn evenly")
    return said


def _share(share: Share) -> str:
    return f"{100 * share.value:.1f} ± {100 * share.error:.1f} %"


def _mean(mean: Mean) -> str:
    return f"{mean.value:.2f} ± {mean.error:.2f}"


def _verdicts(screen: Screen, summary: Summary) -> None:
    rows = [
        ("settled, right", summary.settled_right),
        ("settled, wrong", summary.settled_wrong),
        ("narrowed, right", summary.narrowed_right),
        ("narrowed, wrong", summary.narrowed_wrong),
        ("open", summary.open),
        ("outside (false alarm)", summary.outside),
        ("true species among those meant", summary.inside),
        ("likeliest species right", summary.best_right),
        ("nothing left to look at", summary.nothing_left),
        ("broken off", summary.broken_off),
    ]
    screen.blank()
    screen.table(
        [("verdict", "left"), ("runs", "right"), ("share", "right")],
        [(name, str(share.hits), _share(share)) for name, share in rows],
    )
    if summary.mean_set.value:
        screen.say(f"Where narrowed, {_mean(summary.mean_set)} species are named, median {summary.mean_set.median:g}.")


def _asked(screen: Screen, summary: Summary) -> None:
    rows = [
        ("answers", summary.answers),
        ("looks, seen or not", summary.looks),
        ("effort, in glances", summary.effort),
    ]
    screen.blank()
    screen.table(
        [("to the verdict", "left"), ("mean", "right"), ("median", "right")],
        [(name, _mean(mean), f"{mean.median:g}") for name, mean in rows],
    )


def _misread(screen: Screen, plan: Plan, summary: Summary) -> None:
    raised = f", raised {plan.scale:.2f} times" if plan.scale != 1 else ""
    rows = [
        ("wrong", _share(summary.misread)),
        (f"by the key's own rates{raised}", f"{100 * summary.stated_misread:.1f} %"),
    ]
    screen.blank()
    screen.table([("answers about marks", "left"), (str(summary.misread.of), "right")], rows)


def _reliability(screen: Screen, summary: Summary) -> None:
    screen.blank()
    rows = [
        (
            f"{100 * one.low:.0f} to {100 * one.high:.0f} %",
            str(one.runs),
            f"{100 * one.stated:.1f} %",
            _share(one.right),
        )
        for number, one in enumerate(summary.bins)
        if one.runs
    ]
    screen.table([("likeliest given", "left"), ("runs", "right"), ("mean", "right"), ("right", "right")], rows)
    screen.say(
        f"Calibration error {summary.ece:.3f}; chance alone would make it about {summary.ece_by_chance:.3f}.", hang=2
    )


def _confusions(screen: Screen, key: Key, summary: Summary) -> None:
    if not summary.pairs:
        return
    screen.blank()
    screen.say(("Worst confusions, each with the shortest run that led there (! wrong, ? could not tell)", "bold"))
    for pair in summary.pairs[:SHOWN]:
        screen.say(_taken(key, pair), hang=2)
        screen.say(_met(key, pair.example), indent=4, hang=2)
        screen.say(_answers(key, pair.example), indent=4, hang=2)


def _taken(key: Key, pair: Pair) -> str:
    names = [key.species[member].english for member in pair.named]
    shown = joined(names) if len(names) < 4 else f"one of {len(names)} others"
    return f"{key.species[pair.true].english}, {pair.word} as {shown}: {pair.runs} of {plural(pair.of, 'run')}"


def _met(key: Key, run: Run) -> str:
    parts = [f"run {run.number}", key.guises[run.guise].title]
    parts += [key.regions[region].title for region in run.regions]
    parts += [show_third(run.third)] if run.third is not None else []
    parts += [habitat.title for habitat in key.habitats if habitat.id == run.habitat]
    return ", ".join(parts)


def _answers(key: Key, run: Run) -> str:
    said = []
    for report in run.reports:
        name = key.characters[report.answer.character].id
        if report.answer.says_nothing:
            said.append(f"{name} ?")
        else:
            said.append(f"{name}={report.answer.typed}{' !' if report.wrong else ''}")
    return ", ".join(said)


def _left_out(screen: Screen, key: Key, trial: Trial, together: LeftOut) -> None:
    congeners = " and its congeners" if trial.plan.leave_out_genus else ""
    screen.blank()
    screen.say((f"Each left-out species{congeners} taken from the key, and observed", "bold"))
    rows = [(key.species[one.species].english, one) for one in trial.left_out if one.species is not None]
    rows = sorted(rows, key=lambda row: (-row[1].other_genus.value, -row[1].settled_wrong.value, row[0]))
    screen.table(
        [("settled as", "left"), *((name, "right") for name in ("sister", "other", "outside", "area"))],
        [_left_out_row(name, one) for name, one in [("all together", together), *rows]],
    )
    screen.say(
        'A "sister" is a species of the same genus, an "other" one of another genus. The area is that under the curve '
        "of P(outside) and fit against ordinary runs: 0.5 for no difference, 1 for a clean one.",
        hang=2,
    )
    figures = [
        ("settled on some species", _share(together.settled_wrong)),
        ("  one of another genus among them", _share(together.other_genus)),
        ("narrowed to several", _share(together.narrowed)),
        ("left open", _share(together.open)),
        ("found outside", _share(together.outside)),
        ("area under the curve", f"{together.area.value:.3f} ± {together.area.error:.3f}"),
        (
            "the same by P(outside) alone",
            f"{together.area_of_outside.value:.3f} ± {together.area_of_outside.error:.3f}",
        ),
        ("false alarms in ordinary runs", _share(trial.summary.outside)),
    ]
    screen.blank()
    screen.table([("all together", "left"), (plural(together.runs, "run"), "right")], figures)
    strangers = [(name, one) for name, one in rows if one.other_genus.hits]
    if strangers:
        screen.blank()
        screen.say(("Settled as a species of another genus", "bold"))
    for name, one in strangers:
        assert one.species is not None
        genus = key.species[one.species].genus
        taken = [(key.species[other], runs) for other, runs in one.taken_for if key.species[other].genus != genus]
        said = ", ".join(f"{species.english} {runs}" for species, runs in taken)
        screen.say(f"{name}: {said} of {plural(one.runs, 'run')}", indent=2, hang=2)


def _left_out_row(name: str, one: LeftOut) -> tuple[str, ...]:
    sister = one.settled_wrong.value - one.other_genus.value
    shares = (sister, one.other_genus.value, one.outside.value)
    return name, *(f"{100 * share:.0f} %" for share in shares), f"{one.area.value:.2f}"
