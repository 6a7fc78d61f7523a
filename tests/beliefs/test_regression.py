"""The closed form against reference libraries, and the one-sided looks against brute force."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import optimize, stats  # type: ignore[import-untyped]
from sklearn.gaussian_process import GaussianProcessRegressor  # type: ignore[import-untyped]
from sklearn.gaussian_process.kernels import DotProduct  # type: ignore[import-untyped]

from blendwise.beliefs.learning.regression import (
    AT_LEAST,
    AT_MOST,
    TWO_SIDED,
    Floats,
    Looks,
    Predict,
    Prior,
    closed_form,
    fit,
    normal_below,
    tail_ratio,
)


def problem(seed: int, n: int = 40, k: int = 5, groups: int = 6) -> tuple[Floats, Looks, Prior]:
    """A random design with looks, groups and a prior."""
    rng = np.random.default_rng(seed)
    design = rng.uniform(0, 1.5, (n, k)) * (rng.uniform(size=(n, k)) < 0.5)
    looks = Looks(
        rng.normal(size=n), np.zeros(n, dtype=np.int64), rng.uniform(0.1, 0.5, n), rng.integers(0, groups, n)
    )
    prior = Prior(
        rng.normal(size=k), rng.uniform(1, 20, k), rng.normal(size=groups), rng.uniform(1, 20, groups)
    )
    return design, looks, prior


def whole(design: Floats, looks: Looks, prior: Prior) -> tuple[Floats, Floats, Floats]:
    """The same with a column a batch: design, prior means, prior standard deviations."""
    columns = np.eye(len(prior.group_mean))[looks.group]
    means = np.concatenate([prior.mean, prior.group_mean])
    widths = 1 / np.sqrt(np.concatenate([prior.precision, prior.group_precision]))
    return np.hstack([design, columns]), means, widths


@pytest.mark.parametrize("seed", range(5))
def test_the_posterior_is_the_reference_librarys(seed: int) -> None:
    """Mean and covariance equal those of scikit-learn's Gaussian process with a linear kernel to 1e-9."""
    design, looks, prior = problem(seed)
    weight = 1 / looks.sd**2
    found = closed_form(design, weight, weight * looks.value, looks.group, prior)
    full, means, widths = whole(design, looks, prior)
    reference = GaussianProcessRegressor(
        DotProduct(sigma_0=1e-12, sigma_0_bounds="fixed"), alpha=looks.sd**2, optimizer=None
    )
    reference.fit(full * widths, looks.value - full @ means)
    mean, covariance = reference.predict(np.eye(len(widths)), return_cov=True)
    k = len(prior.mean)
    assert np.allclose(means[:k] + widths[:k] * mean[:k], found.mean, rtol=0, atol=1e-9)
    assert np.allclose(means[k:] + widths[k:] * mean[k:], found.groups, rtol=0, atol=1e-9)
    expected = covariance[:k, :k] * np.outer(widths[:k], widths[:k])
    assert np.allclose(expected, found.covariance, rtol=0, atol=1e-9)


@pytest.mark.parametrize("seed", range(5))
def test_a_straight_law_needs_one_step(seed: int) -> None:
    """For a straight law and two-sided looks the repeated step gives the closed form itself."""
    design, looks, prior = problem(seed)
    weight = 1 / looks.sd**2
    once = closed_form(design, weight, weight * looks.value, looks.group, prior)
    again = fit(lambda theta: (design @ theta, design), looks, prior)
    assert np.allclose(once.mean, again.mean, rtol=0, atol=1e-10)
    assert np.allclose(once.covariance, again.covariance, rtol=0, atol=1e-10)


def test_the_tail_ratio_is_scipys() -> None:
    """φ/Φ equals SciPy's by its logarithms from -300 to 8, where Φ itself is long zero."""
    z = np.concatenate([np.linspace(-300, -2, 200), np.linspace(-2, 8, 200)])
    expected = np.exp(stats.norm.logpdf(z) - stats.norm.logcdf(z))
    assert np.allclose(expected, tail_ratio(z), rtol=1e-9, atol=1e-300)
    assert np.allclose(stats.norm.cdf(z[200:]), normal_below(z[200:]), rtol=1e-12)


def density(theta: Floats, design: Floats, looks: Looks, prior: Prior) -> float:
    """Minus the log posterior, with SciPy's own functions."""
    k = len(prior.mean)
    eta = design @ theta[:k] + theta[k:][looks.group]
    z = (looks.value - eta) / looks.sd
    two = looks.side == TWO_SIDED
    told = stats.norm.logpdf(z[two]).sum() + stats.norm.logcdf((looks.side * z)[~two]).sum()
    before = np.concatenate([prior.mean, prior.group_mean])
    precision = np.concatenate([prior.precision, prior.group_precision])
    return float(-told + (precision * (theta - before) ** 2).sum() / 2)


@pytest.mark.parametrize("seed", range(4))
def test_one_sided_looks_reach_the_mode(seed: int) -> None:
    """With looks of all three kinds the result is the most probable value that SciPy's minimiser finds."""
    design, looks, prior = problem(seed, n=30, k=3, groups=3)
    rng = np.random.default_rng(seed)
    looks = Looks(looks.value, rng.choice([TWO_SIDED, AT_MOST, AT_LEAST], 30), looks.sd, looks.group)
    found = fit(lambda theta: (design @ theta, design), looks, prior)
    start = np.concatenate([prior.mean, prior.group_mean])
    best = optimize.minimize(
        density, start, args=(design, looks, prior), method="BFGS", options={"gtol": 1e-8}
    )
    assert np.allclose(best.x[:3], found.mean, atol=1e-5)
    assert np.allclose(best.x[3:], found.groups, atol=1e-5)


def curved(theta: Floats) -> tuple[Floats, Floats]:
    """log(1 + Σ (e^θ - 1)) of one and of two oils: the law of speed in small."""
    amounts = np.array([[1.0, 0.0], [0.5, 0.5], [0.0, 1.0]])
    factor = np.exp(theta)
    q = 1 + amounts @ (factor - 1)
    return np.log(q), amounts * factor / q[:, None]


@given(st.lists(st.floats(0.0, 2.5), min_size=3, max_size=3))
@settings(max_examples=40, deadline=None)
def test_a_curved_law_reaches_a_standing_point(values: list[float]) -> None:
    """However far the looks lie from the prior, the slope of the posterior is zero where it ends."""
    looks = Looks(np.array(values), np.zeros(3, dtype=np.int64), np.full(3, 0.2), np.zeros(3, dtype=np.int64))
    prior = Prior(np.array([0.3, 0.3]), np.array([4.0, 4.0]), np.zeros(1), np.array([16.0]))
    found = fit(curved, looks, prior)
    g, slopes = curved(found.mean)
    left = (looks.value - g - found.groups[0]) / 0.04
    assert np.allclose(slopes.T @ left - 4.0 * (found.mean - 0.3), 0, atol=1e-6)


@given(st.integers(0, 10_000))
@settings(max_examples=30, deadline=None)
def test_a_look_never_widens_a_belief(seed: int) -> None:
    """Adding a two-sided look leaves every standard deviation as it was or smaller."""
    design, looks, prior = problem(seed, n=12, k=3, groups=2)
    weight = 1 / looks.sd**2
    few = closed_form(design[:-1], weight[:-1], (weight * looks.value)[:-1], looks.group[:-1], prior)
    all_ = closed_form(design, weight, weight * looks.value, looks.group, prior)
    assert (np.diag(all_.covariance) <= np.diag(few.covariance) + 1e-12).all()


def test_nothing_seen_leaves_the_prior() -> None:
    """Without a look the posterior is the prior."""
    prior = Prior(np.array([0.2]), np.array([9.0]), np.zeros(1), np.ones(1))
    none = Looks(np.zeros(0), np.zeros(0, dtype=np.int64), np.ones(0), np.zeros(0, dtype=np.int64))
    predict: Predict = lambda theta: (np.zeros(0), np.zeros((0, 1)))  # noqa: E731
    found = fit(predict, none, prior)
    assert found.mean == pytest.approx([0.2])
    assert math.sqrt(found.covariance[0, 0]) == pytest.approx(1 / 3)
