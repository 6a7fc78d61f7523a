"""Bayesian regression in closed form, with a column of its own for every batch and one-sided looks.

A look says y = η + noise, or only that η is at most (or at least) a bound.  η is the sum of the batch's own
column and a function g of the traits; where g bends, it is taken as straight at the present estimate and
the closed form is worked out again until it stands (Gauss-Newton; a one-sided look enters by the first two
derivatives of its logarithmic probability).  What comes out is the most probable value and, as its
covariance, the inverse of the curvature there; for a straight g and two-sided looks both are exact.

The batches' columns are never built: each look belongs to one batch, so they are eliminated one by one.
Source: the normal linear model with known variances, any text on Bayesian regression; the elimination is
the Schur complement; the ratio φ/Φ beyond two is Laplace's continued fraction.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Predict = Callable[[Floats], tuple[Floats, Floats]]
TWO_SIDED, AT_MOST, AT_LEAST = 0, 1, -1
MOST_STEPS: Final = 60
STANDS: Final = 1e-10  # a step smaller than this, of any trait, ends the search
ROUND_OFF: Final = 1e-13
SMALLEST_PART: Final = 1e-3
SMALLEST_SECANT: Final = 0.05
FRACTION_TERMS: Final = 60
ROOT_OF_TWO: Final = math.sqrt(2)


@dataclass(frozen=True, slots=True)
class Prior:
    """Means and precisions (1 / variance) of the traits (k,) and of the batches' columns (groups,)."""

    mean: Floats
    precision: Floats
    group_mean: Floats
    group_precision: Floats


@dataclass(frozen=True, slots=True)
class Looks:
    """``value`` (n,): what was seen, or the bound; ``side`` (n,): TWO_SIDED, AT_MOST or AT_LEAST;
    ``sd`` (n,): of the noise; ``group`` (n,): the batch of each."""

    value: Floats
    side: Ints
    sd: Floats
    group: Ints


@dataclass(frozen=True, slots=True)
class Posterior:
    """Mean (k,) and covariance (k, k) of the traits, and the means of the batches' columns (groups,)."""

    mean: Floats
    covariance: Floats
    groups: Floats


def closed_form(design: Floats, weight: Floats, weighted: Floats, group: Ints, prior: Prior) -> Posterior:
    """The posterior of y = design·θ + column of the batch + noise.

    ``design`` (n, k); ``weight`` (n,): 1 / variance of each look; ``weighted`` (n,): weight · y.
    """
    groups = len(prior.group_mean)
    own = np.bincount(group, weight, groups) + prior.group_precision
    right = np.bincount(group, weighted, groups) + prior.group_precision * prior.group_mean
    cross = _sums(design * weight[:, None], group, groups)
    inner = design.T @ (design * weight[:, None]) + np.diag(prior.precision)
    schur = inner - cross.T @ (cross / own[:, None])
    wanted = design.T @ weighted + prior.precision * prior.mean - cross.T @ (right / own)
    inverse = np.linalg.inv(schur)
    covariance = np.asarray((inverse + inverse.T) / 2, dtype=np.float64)
    mean = np.asarray(np.linalg.solve(schur, wanted), dtype=np.float64)
    return Posterior(mean, covariance, (right - cross @ mean) / own)


def _sums(rows: Floats, group: Ints, groups: int) -> Floats:
    """Rows (n, k) added up by group: (groups, k)."""
    total = np.zeros((groups, rows.shape[1]))
    for column, values in enumerate(rows.T):
        total[:, column] = np.bincount(group, values, groups)
    return total


def fit(predict: Predict, looks: Looks, prior: Prior) -> Posterior:
    """The most probable traits and the curvature there.

    ``predict(θ)`` gives g (n,) and its slopes (n, k).  A step that overshoots is shortened, by how far the
    one before it overshot, and halved where it would make things worse.
    """
    now = Posterior(prior.mean, np.eye(len(prior.mean)) / prior.precision, prior.group_mean)
    best = _worth(predict, looks, prior, now.mean, now.groups)
    last, part = np.zeros_like(prior.mean), 1.0
    for _ in range(MOST_STEPS):
        aim = _step(predict, looks, prior, now)
        move, shift = aim.mean - now.mean, aim.groups - now.groups
        if np.abs(move).max(initial=0.0) < STANDS:
            break
        part = _secant(move, last, part)
        reached = _worth(predict, looks, prior, now.mean + part * move, now.groups + part * shift)
        while reached < best - ROUND_OFF * abs(best) and part > SMALLEST_PART:
            part /= 2
            reached = _worth(predict, looks, prior, now.mean + part * move, now.groups + part * shift)
        now = Posterior(now.mean + part * move, aim.covariance, now.groups + part * shift)
        best, last = reached, move
    return _curvature(predict, looks, prior, now)


def _secant(move: Floats, last: Floats, part: float) -> float:
    """What part of a step to take, when ``part`` of the ``last`` one left ``move`` still to go along it."""
    length = float(last @ last)
    if length == 0:
        return 1.0
    left = float(move @ last) / length
    return min(1.0, max(SMALLEST_SECANT, part / (1 - left))) if left < 1 else 1.0


def _step(predict: Predict, looks: Looks, prior: Prior, now: Posterior) -> Posterior:
    g, slopes = predict(now.mean)
    column = now.groups[looks.group]
    pull, weight = pulls(looks, g + column)
    straight = slopes @ now.mean + column
    return closed_form(slopes, weight, weight * straight + pull, looks.group, prior)


def _curvature(predict: Predict, looks: Looks, prior: Prior, now: Posterior) -> Posterior:
    there = _step(predict, looks, prior, now)
    return Posterior(now.mean, there.covariance, now.groups)


def pulls(looks: Looks, eta: Floats) -> tuple[Floats, Floats]:
    """First derivative of every look's log probability by η, and minus the second (each (n,))."""
    two = looks.side == TWO_SIDED
    z = np.where(two, 0.0, looks.side * (looks.value - eta) / looks.sd)
    ratio = tail_ratio(z)
    pull = np.where(two, (looks.value - eta) / looks.sd**2, -looks.side * ratio / looks.sd)
    weight = np.where(two, 1.0, np.clip(ratio * (ratio + z), 0.0, 1.0)) / looks.sd**2
    return pull, weight


def tail_ratio(z: Floats) -> Floats:
    """φ(z) / Φ(z) of the standard normal, without loss far below zero."""
    found = np.zeros_like(z)
    far = z < -2
    if far.any():
        t = -z[far]
        rest = np.zeros_like(t)
        for k in range(FRACTION_TERMS, 0, -1):
            np.add(t, rest, out=rest)
            np.divide(k, rest, out=rest)
        found[far] = t + rest
    near = ~far
    if near.any():
        found[near] = np.exp(-(z[near] ** 2) / 2) / math.sqrt(2 * math.pi) / normal_below(z[near])
    return found


def normal_below(z: Floats) -> Floats:
    """Φ(z) of the standard normal."""
    return 0.5 * np.array(list(map(math.erfc, (-z / ROOT_OF_TWO).tolist())))


def _log_below(z: Floats) -> Floats:
    """log Φ(z), by φ(z) over the ratio where Φ itself is too small."""
    far = z < -2
    found = np.empty_like(z)
    found[far] = -(z[far] ** 2) / 2 - math.log(math.sqrt(2 * math.pi)) - np.log(tail_ratio(z[far]))
    found[~far] = np.log(normal_below(z[~far]))
    return found


def _worth(predict: Predict, looks: Looks, prior: Prior, mean: Floats, groups: Floats) -> float:
    """Logarithm of the posterior density, up to a constant."""
    eta = predict(mean)[0] + groups[looks.group]
    two = looks.side == TWO_SIDED
    seen = -(((looks.value - eta) / looks.sd)[two] ** 2).sum() / 2
    bounded = _log_below((looks.side * (looks.value - eta) / looks.sd)[~two]).sum()
    told = (prior.precision * (mean - prior.mean) ** 2).sum() / 2
    batches = (prior.group_precision * (groups - prior.group_mean) ** 2).sum() / 2
    return float(seen + bounded - told - batches)
