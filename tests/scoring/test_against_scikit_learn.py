"""Where the model is theirs (no error, flat prior), scikit-learn's naive Bayes gives the same posteriors.

Oracles: sklearn.naive_bayes.CategoricalNB and GaussianNB (Pedregosa et al. 2011, JMLR 12:2825–2830).
"""

from __future__ import annotations

import numpy as np
import pytest
from sklearn.datasets import load_iris
from sklearn.naive_bayes import CategoricalNB, GaussianNB

from reedmace.scoring.posterior import posterior
from reedmace.scoring.prior import Circumstances, prior
from reedmace.scoring.tables import Tables
from scoring.tables_made import answer, key_of, measured, number, plain, states


def ours(key, answers, **assumptions):
    tables = Tables(key, "beginner", plain(**assumptions))
    return posterior(tables, prior(key, Circumstances(flat=True), tables.assumptions), answers).species


@pytest.mark.parametrize("seed", range(5))
def test_categorical(seed):
    chance = np.random.default_rng(seed)
    truth = chance.integers(0, 4, 200)
    seen = (chance.integers(0, 3, (200, 6)) + truth[:, None] * chance.integers(0, 2, 6)) % 3
    model = CategoricalNB(alpha=1.0, fit_prior=False, min_categories=3).fit(seen, truth)
    characters = [states(i, f"c{i}", 3, np.exp(model.feature_log_prob_[i]).tolist(), range(4)) for i in range(6)]
    key = key_of(characters, ["A a", "B b", "C c", "D d"])
    for row in seen[:25]:
        found = ours(key, [answer(i, int(state)) for i, state in enumerate(row)])
        assert found == pytest.approx(model.predict_proba(row[None])[0], abs=1e-12)


def test_gaussian_on_iris():
    """Fisher's iris, four lengths in mm; the observer measures without error."""
    data = load_iris()
    lengths = data.data * 10
    model = GaussianNB(priors=[1 / 3] * 3).fit(lengths, data.target)
    characters = [
        number(i, f"n{i}", list(zip(model.theta_[:, i], np.sqrt(model.var_[:, i]), strict=True)), (0.0, 100.0))
        for i in range(4)
    ]
    key = key_of(characters, ["Iris setosa", "Iris versicolor", "Iris virginica"])
    for row in lengths[::7]:
        found = ours(key, [measured(i, float(value)) for i, value in enumerate(row)], measured_half_width=0.0)
        assert found == pytest.approx(model.predict_proba(row[None])[0], abs=1e-9)
