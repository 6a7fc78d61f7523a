"""How the traits of what is in a portion show in it: the same laws that the checks use, with their slopes.

Columns of θ: an oil's own column, then a column for each of its lots (how that lot departs from the oil).
``amounts`` (n, bottles): how much of each bottle (an oil of one lot) a look's portion holds;
``members`` (bottles, k): 1 where a bottle has a column.
"""

from __future__ import annotations

import numpy as np

from blendwise.beliefs.learning.regression import Floats, Predict

LEAST_SPEED = 0.2  # however much a scent thins, batter thickens some day: keeps the logarithm
LEAST_LOAD = 1e-12


def speed_law(amounts: Floats, members: Floats) -> Predict:
    """log q of a portion, q = 1 + Σ (factor - 1) · dose / reference dose, θ = log factor.

    ``amounts``: dose over the reference dose of the oil's entry.
    """

    def predict(theta: Floats) -> tuple[Floats, Floats]:
        factor = np.exp(members @ theta)
        q = np.maximum(1 + amounts @ (factor - 1), LEAST_SPEED)
        return np.log(q), (amounts * factor / q[:, None]) @ members

    return predict


def browning_law(amounts: Floats, members: Floats) -> Predict:
    """log load of a portion, load = Σ grams · content / batter, θ = log content.

    ``amounts``: grams of the oil over grams of the portion as poured.
    """

    def predict(theta: Floats) -> tuple[Floats, Floats]:
        parts = amounts * np.exp(members @ theta)
        load = np.maximum(parts.sum(axis=1), LEAST_LOAD)
        return np.log(load), (parts / load[:, None]) @ members

    return predict


def remains_law(amounts: Floats, members: Floats) -> Predict:
    """What a nose finds of a portion's scent: the mean of what is left of its oils, by dose.

    ``amounts``: the oil's share of the portion's scent; θ = the fraction that is left.
    """
    straight = amounts @ members

    def predict(theta: Floats) -> tuple[Floats, Floats]:
        return straight @ theta, straight

    return predict
