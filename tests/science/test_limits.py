"""Limits: the sum rule of a blend, constituents against maxima, the worst bar."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.science import limits, restrictions

BLENDS = st.lists(
    st.tuples(st.floats(0.01, 1), st.floats(0.0005, 1)), min_size=1, max_size=8
)  # parts and limits


def use(masses: list[float], most: list[float], bar: float) -> float:
    """Σ mass ÷ limit ÷ bar over the scents that are there, as the measure "limit used" sums it."""
    dosed = np.array(masses) > 0
    return float(np.array(masses)[dosed] @ limits.per_limit(most)[dosed]) / bar


def test_the_worked_blend() -> None:
    """40 % limited to 3.42 % with 60 % limited to 25 %: at 7.09 % of the bar the certificates are used up."""
    rates = limits.per_limit([0.0342, 0.25])
    assert 1 / (rates @ [0.4, 0.6]) == pytest.approx(0.0709, abs=5e-5)


def test_no_restriction_is_not_a_dose() -> None:
    """A limit of 100 % adds only its own mass to the use."""
    assert use([30.0, 0.0], [1.0, 0.05], 1000.0) == pytest.approx(0.03)


def test_not_for_this_use() -> None:
    """A limit of zero lets nothing of the oil in, and matters only where the oil is there."""
    assert limits.per_limit([0.0, 0.25]).tolist() == [np.inf, 4.0]
    assert use([1.0, 10.0], [0.0, 0.25], 1000.0) == np.inf
    assert use([0.0, 10.0], [0.0, 0.25], 1000.0) == pytest.approx(0.04)


@given(BLENDS)
def test_the_sum_rule_lies_between_the_others(blend: list[tuple[float, float]]) -> None:
    """For every blend: the lowest limit of any oil ≤ sum rule ≤ the least of limit over share (derived)."""
    parts, most = np.array(blend).T
    shares = parts / parts.sum()
    middle = 1 / float(shares @ limits.per_limit(most))
    assert most.min() * (1 - 1e-9) <= middle <= (most / shares).min() * (1 + 1e-9)


@given(st.floats(0, 2), st.floats(0, 1), st.floats(0, 5))
def test_the_worst_bar_lies_between_mean_and_strongest(mean: float, uneven: float, over: float) -> None:
    """No cut bar is weaker than reckoned by the mean or stronger than the strongest portion alone."""
    found = limits.worst_bar(mean, uneven, mean + over)
    assert mean <= found <= mean + over + 1e-12
    assert found <= mean * (1 + uneven) + 1e-12


def test_the_worst_bar_by_hand() -> None:
    """A pour that may be a quarter uneven makes 0.8 of a limit into 1.0; a top portion of 0.9 caps it."""
    assert limits.worst_bar(0.8, 0.25) == pytest.approx(1.0)
    assert limits.worst_bar(0.8, 0.25, 0.9) == pytest.approx(0.9)


def test_constituents_add_up_over_scents_and_embeds() -> None:
    """Methyl eugenol of two scents and an embed's scent is one sum over the finished bar."""
    masses = [10.0, 20.0, 1.0]
    contents = [[0.001, 0.0], [0.0002, 0.3], [0.002, 0.0]]
    found = limits.constituents_in_bar(masses, contents, 1000.0)
    assert found == pytest.approx([(0.01 + 0.004 + 0.002) / 1000, 0.006])


@pytest.mark.parametrize(
    ("substance", "per_cent"),
    [
        ("methyl eugenol", 0.001),
        ("safrole", 0.01),
        ("isoeugenol", 0.02),
        ("hydroxycitronellal", 1.0),
        ("rose ketones", 0.02),
        ("methyl salicylate", 0.06),
        ("musk ketone", 0.042),
        ("Peru balsam oil", 0.4),
        ("verbena absolute", 0.2),
        ("BHT", 0.8),
    ],
)
def test_at_just_under_and_just_over_a_maximum(substance: str, per_cent: float) -> None:
    """A constituent exactly at its EU maximum uses all of it, a thousandth more is too much."""
    _, members, maxima = restrictions.maxima_for([substance])
    bar = 1000.0
    grams = bar * per_cent / 100 * np.array([0.999, 1.0, 1.001])
    shares = limits.constituents_in_bar(grams[:, None], [[1.0]], bar)
    used = limits.use_of_maxima(shares, members, maxima)[:, 0]
    assert used == pytest.approx([0.999, 1.0, 1.001])
    assert (used > 1 + 1e-9).tolist() == [False, False, True]


def test_substances_under_one_entry_are_summed() -> None:
    """Two damascones of 0.012 % each are 0.024 %, above the 0.02 % for rose ketones together."""
    rows, members, maxima = restrictions.maxima_for(["alpha-damascone", "beta-damascone", "linalool"])
    assert [row.substance for row in rows] == ["Rose ketones"]
    assert limits.use_of_maxima([0.00012, 0.00012, 0.01], members, maxima) == pytest.approx([1.2])


def test_two_alkynoates_share_a_maximum() -> None:
    """Methyl 2-octynoate with methyl octine carbonate is 0.01 % together, the latter 0.002 % by itself."""
    rows, members, maxima = restrictions.maxima_for(["methyl heptine carbonate", "methyl octine carbonate"])
    used = dict(
        zip(
            (r.substance for r in rows),
            limits.use_of_maxima([0.00009, 0.00002], members, maxima),
            strict=True,
        )
    )
    assert used == {"Methyl 2-octynoate": pytest.approx(1.1), "Methyl octine carbonate": pytest.approx(1.0)}


def test_nothing_restricted_uses_nothing() -> None:
    """Where no constituent has a maximum there are no entries to use."""
    rows, members, maxima = restrictions.maxima_for(["linalool"])
    assert rows == ()
    assert limits.use_of_maxima([0.02], members, maxima).shape == (0,)


@pytest.mark.parametrize(
    ("call", "reason"),
    [
        (lambda: limits.per_limit([0.05, np.nan]), "a limit must be a number"),
        (lambda: limits.per_limit([0.05, 1.2]), "a limit must be at most 1"),
        (lambda: limits.constituents_in_bar([-1.0], [[0.1]], 1000.0), "mass of a scent must be at least 0"),
        (lambda: limits.constituents_in_bar([1.0], [[0.1]], 0.0), "mass of the finished bar must be above 0"),
        (lambda: limits.constituents_in_bar([1.0], [[1.1]], 100.0), "constituent must be at most 1"),
        (lambda: limits.worst_bar(0.5, -0.1), "unevenness must be at least 0"),
        (lambda: limits.use_of_maxima([0.1], [[1]], [0.0]), "published maximum must be above 0"),
    ],
)
def test_senseless_limits_are_refused(call: Callable[[], object], reason: str) -> None:
    """What cannot be is refused by name; an unknown limit is never computed with."""
    with pytest.raises(ValueError, match=reason):
        call()
