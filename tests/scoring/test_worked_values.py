"""The engine against values worked by hand with fractions (the shared engine_worked.md).

The posterior is the one used in bacteriology since Dybowski & Franklin 1968 (J. Gen. Microbiol. 54:215–229) and
Lapage et al. 1973 (77:273–290); the numbers are worked on that formula, independent of this program.
"""

from __future__ import annotations

import pytest

from reedmace.scoring.gains import plain_gains, weights
from reedmace.scoring.posterior import posterior
from reedmace.scoring.prior import Circumstances, prior
from reedmace.scoring.tables import Tables
from scoring.tables_made import answer, key_of, plain, states, two_state_key

TABLE = {"A": [0.99, 0.95, 0.10, 0.01], "B": [0.90, 0.05, 0.80, 0.01], "C": [0.01, 0.95, 0.15, 0.90]}
SIGNS = {"+": 0, "−": 1}

# answers | error | outside prior | A | B | C | outside
WORKED = """
++−? | 0   | 0   | .980226398 | .010422397 | .009351206 |
++−− | 0   | 0   | .988536669 | .010510757 | .000952574 |
−+−+ | 0   | 0   | .000118820 | .000013897 | .999867283 |
++++ | 0   | 0   | .364111498 | .139372822 | .496515679 |
++−− | .05 | 0   | .966652806 | .024801832 | .008545362 |
++−− | .05 | .05 | .953455289 | .024463217 | .008428694 | .013652800
++++ | .05 | .05 | .241648549 | .127506034 | .291834555 | .339010862
""".strip().splitlines()


def answers_of(signs: str) -> list:
    """`++−?` → answers; `?` is left out."""
    return [answer(i, SIGNS[sign]) for i, sign in enumerate(signs) if sign != "?"]


@pytest.mark.parametrize("row", WORKED)
def test_posteriors_to_every_printed_digit(row):
    signs, error, outside_prior, *wanted = [part.strip() for part in row.split("|")]
    tables = Tables(two_state_key(TABLE, error=float(error)), "beginner", plain(outside_prior=float(outside_prior)))
    after = posterior(tables, prior(tables.key, Circumstances(flat=True), tables.assumptions), answers_of(signs))
    # Printed values are of the whole, outside included; the engine keeps species inside the key and outside apart.
    found = [probability * (1 - after.outside) for probability in after.species]
    for value, printed in zip([*found, after.outside], wanted, strict=True):
        if printed:
            assert value == pytest.approx(float(printed), abs=5.1e-10)


def gains(tables: Tables, before: list[float]) -> list[float]:
    """Expected information of all four characters, by number."""
    after = posterior(tables, prior(tables.key, Circumstances(flat=True), tables.assumptions), [])
    return plain_gains(tables, after, weights(tables, before), tables.key.characters)


@pytest.mark.parametrize(
    ("error", "wanted"),
    [(0.0, [0.737884, 0.647671, 0.333813, 0.679094]), (0.05, [0.547654, 0.493813, 0.262374, 0.500399])],
)
def test_expected_information_from_the_uniform_prior(error, wanted):
    tables = Tables(two_state_key(TABLE, error=error), "beginner", plain())
    assert gains(tables, [1 / 3] * 3) == pytest.approx(wanted, abs=5.1e-7)


def test_expected_information_after_one_answer():
    """After character 1 = +: posterior .521053 .473684 .005263; of 2–4: .711984 .397007 .027613."""
    tables = Tables(two_state_key(TABLE), "beginner", plain())
    after = posterior(tables, prior(tables.key, Circumstances(flat=True), tables.assumptions), [answer(0, 0)])
    assert after.species == pytest.approx([0.521053, 0.473684, 0.005263], abs=5.1e-7)
    assert gains(tables, after.guises)[1:] == pytest.approx([0.711984, 0.397007, 0.027613], abs=5.1e-7)


ATOMS = [
    ("2/2 split", 2, 0.0, [0, 0, 1, 1], 1.0),
    ("3/1 split", 2, 0.0, [0, 0, 0, 1], 0.811278),
    ("2/2 with 10 % error", 2, 0.10, [0, 0, 1, 1], 0.531004),
    ("3/1 with 10 % error", 2, 0.10, [0, 0, 0, 1], 0.412295),
    ("four distinct states", 4, 0.0, [0, 1, 2, 3], 2.0),
    ("four distinct states with 10 % error", 4, 0.10, [0, 1, 2, 3], 1.372508),
]


@pytest.mark.parametrize(("name", "count", "error", "column", "bits"), ATOMS, ids=[atom[0] for atom in ATOMS])
def test_atoms_of_expected_information(name, count, error, column, bits):
    cells = [[float(k == state) for k in range(count)] for state in range(count)]
    key = key_of([states(0, "c", count, cells, column, error=error)], ["A a", "B b", "C c", "D d"])
    assert gains(Tables(key, "beginner", plain()), [0.25] * 4) == pytest.approx([bits], abs=5.1e-7)
