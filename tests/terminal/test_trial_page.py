"""The page of a trial, compared with golden files."""

from __future__ import annotations

from reedmace.keys.model import Key
from reedmace.terminal.trial_page import show_trial
from terminal.golden import check
from terminal.made_trial import trial, trial_left_out


def test_a_trial(tarn: Key) -> None:
    check("trial", lambda screen: show_trial(screen, trial(tarn)))


def test_a_trial_with_species_left_out(tarn: Key) -> None:
    check("trial-left-out", lambda screen: show_trial(screen, trial_left_out(tarn)))
