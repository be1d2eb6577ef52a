"""`reedmace keys trial` from the shell: JSON by contract, one seed one trial, faults for what cannot be tried."""

from __future__ import annotations

import json

import pytest

from reedmace.faults import Refused
from reedmace.keys.leaving_out import without
from reedmace.keys.model import Key
from reedmace.scoring.assumptions import DEFAULTS
from reedmace.tasks.keys.try_key import species_left_out, try_key
from reedmace.tasks.naming.assume import ABOVE_0, read_assumptions
from reedmace.trial.plan import Plan
from tarn import FOLDER

pytestmark = pytest.mark.usefixtures("tarn")  # its compiled form is in the cache

CONTRACT = {
    "runs",
    "settled_right",
    "settled_wrong",
    "narrowed_right",
    "narrowed_wrong",
    "open",
    "outside",
    "mean_answers",
    "median_answers",
    "ece",
    "worst_pairs",
}


def trial(run, *arguments: str):
    return run("keys", "trial", FOLDER, *arguments)


def test_json_holds_what_other_programs_read(run) -> None:
    """The outcomes are shares that add up to 1; the counts beside them add up to the runs."""
    ran = trial(run, "--runs", "40", "--json", "--jobs", "1")
    assert (ran.returncode, ran.stderr) == (0, "")
    found = json.loads(ran.stdout)
    assert set(found) >= CONTRACT
    outcomes = ["settled_right", "settled_wrong", "narrowed_right", "narrowed_wrong", "open", "outside"]
    assert abs(sum(found[name] for name in outcomes) - 1) < 1e-9
    assert sum(found["counts"][name] for name in outcomes) == found["runs"] == 40
    assert set(outcomes) <= set(found["standard_errors"])
    assert found["plan"]["seed"] == 1
    assert sum(one["runs"] for one in found["reliability"]) == 40


def test_the_processes_do_not_matter_and_progress_goes_to_standard_error(run) -> None:
    one = trial(run, "--runs", "30", "--json", "--jobs", "1", "--progress")
    two = trial(run, "--runs", "30", "--json", "--jobs", "2")
    assert one.stdout == two.stdout
    assert two.stderr == ""
    assert one.stderr.splitlines() == ["0 of 30 runs", "10 of 30 runs", "20 of 30 runs", "30 of 30 runs"]


def test_species_left_out_are_told_one_by_one_and_together(run) -> None:
    done = trial(run, "--runs", "20", "--json", "--leave-out", "pale", "--leave-out", "misty", "--progress")
    assert [line for line in done.stderr.splitlines() if " 0 of" in f" {line}"] == [
        "0 of 20 runs",
        "part 2: 0 of 20 runs",
    ]
    found = json.loads(done.stdout)
    left = found["left_out"]
    assert [one["name"] for one in left["species"]] == ["Tarnula pallida", "Tarnula nebula"]
    assert left["runs"] == sum(one["runs"] for one in left["species"]) == 20
    assert 0 <= left["outside_auc"] <= 1
    for one in left["species"]:
        assert one["name"] not in [taken["name"] for taken in one["taken_for"]]


def test_another_assumption_changes_the_engine_and_not_the_observers(run) -> None:
    plain = json.loads(trial(run, "--runs", "40", "--json").stdout)
    assumed = ("--assume", "settle=0.6", "--assume", "separation=1")
    bold = json.loads(trial(run, "--runs", "40", "--json", *assumed).stdout)
    assert bold["assumptions"]["settle"] == 0.6
    assert bold["settled_right"] > plain["settled_right"]
    assert bold["mean_answers"] < plain["mean_answers"]


def test_what_cannot_be_tried_is_wrong_usage(run) -> None:
    """Every slip at once, with what was typed and a remedy; nothing on standard output."""
    ran = trial(run, "--leave-out", "palle", "--leave-out", "heron", "--runs", "5")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "heron" in ran.stderr
    assert "did you mean" in ran.stderr
    ran = trial(run, "--leave-out-genus", "--runs", "5")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "--leave-out SPECIES --leave-out-genus" in ran.stderr
    for option in (
        ("--runs", "0"),
        ("--misread", "-1"),
        ("--misread", "nan"),
        ("--order", "best"),
        ("--wrong-sex", "2"),
    ):
        ran = trial(run, *option)
        assert ran.returncode == 2, option


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("setle=0.9", "unknown-assumption"),
        ("0.9", "unknown-assumption"),
        ("settle", "unusable-assumption"),
        ("settle=often", "unusable-assumption"),
        ("settle=0", "unusable-assumption"),
        ("settle=1", "unusable-assumption"),
        ("echo_lapse=1", "unusable-assumption"),
        ("error_factor=nan", "unusable-assumption"),
        ("separation=inf", "unusable-assumption"),
        ("error_factor=-1", "unusable-assumption"),
        ("fit_from=4.5", "unusable-assumption"),
        ("fit_grid=0", "unusable-assumption"),
    ],
)
def test_an_assumption_that_cannot_be_one_is_refused(typed: str, code: str) -> None:
    """With what it usually is, and between what it may lie."""
    with pytest.raises(Refused) as refused:
        read_assumptions(["settle=0.9", typed])
    (fault,) = refused.value.faults
    assert (fault.code, fault.said, fault.typed) == (code, typed, True)
    assert fault.hint


@pytest.mark.parametrize("name", [name for name in DEFAULTS._fields if name not in ABOVE_0])
def test_every_assumption_that_may_be_nothing_can_be_tried_as_nothing(tarn: Key, name: str) -> None:
    found = try_key(tarn, Plan(runs=10), assumptions=read_assumptions([f"{name.replace('_', '-')}=0"]))
    assert getattr(found.assumptions, name) == 0
    assert found.summary.runs == 10


def test_nothing_is_left_of_a_key_of_one_genus(made_key: Key) -> None:
    whole = without(made_key, ["Paludula lata"])
    assert species_left_out(whole, ["each"]) == ("Exemplum primum", "Exemplum alterum")
    with pytest.raises(Refused) as refused:
        species_left_out(whole, ["each"], with_genus=True)
    assert [fault.code for fault in refused.value.faults] == ["nothing-left"]


def test_on_the_screen(run) -> None:
    ran = trial(run, "--runs", "20", "--jobs", "1")
    assert (ran.returncode, ran.stderr) == (0, "")
    assert ran.stdout.startswith("Trial of Tarn flies of the Two Fells 1.0.0\n20 runs, seed 1: beginners;")
    assert "settled, right" in ran.stdout


@pytest.mark.parametrize("early", [True, False])
def test_ctrl_c_stops_it_at_once(seat, early: bool) -> None:
    """On a terminal it shows how far it is; neither this process nor those it started show a traceback."""
    with seat("keys", "trial", FOLDER, "--runs", "100000", "--jobs", "2") as there:
        there.wait_for("0 of 100000 runs" if early else "10 of 100000 runs")
        there.interrupt()
        assert there.leave() == 130
        assert "Stopped." in there.text
        assert "Traceback" not in there.text
