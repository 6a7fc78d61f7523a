"""Acceleration: factors from cups, q of a portion, and the gates."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.science import acceleration as acc

WORDS = {"thins": 0.9, "none": 1.0, "slight": 1.3, "moderate": 2.0, "fast": 5.0}
factor = st.floats(0.3, 20)
dose = st.floats(0, 0.1)
reference = st.floats(0.005, 0.1)


def test_factor_is_the_ratio_to_the_unscented_cup() -> None:
    """A control cup of 20 minutes beside a scented one of 8 makes a factor of 2.5."""
    assert acc.factor_from_cups(20, 8) == 2.5


@pytest.mark.parametrize("minutes", [(0, 5), (20, 0), (20, -1)])
def test_a_cup_without_time_gives_no_factor(minutes: tuple[float, float]) -> None:
    """Minutes of zero are refused, and the refusal says what to note instead."""
    with pytest.raises(ValueError, match="gives no rate; note that it seizes"):
        acc.factor_from_cups(*minutes)


@pytest.mark.parametrize(
    ("minutes", "word"),
    [
        (20.01, "none"), (20, "slight"), (10.01, "slight"), (10, "moderate"), (4.01, "moderate"),
        (4, "fast"), (1, "fast"), (0.99, "seizes"),
    ],
)  # fmt: skip
def test_grades_at_their_edges(minutes: float, word: str) -> None:
    """Common practice: over 20 min none, 10 to 20 slight, 4 to 10 moderate, 1 to 4 fast, under 1 seizes."""
    assert word == acc.GRADES[int(acc.grade_from_minutes(minutes))]


def test_q_worked_by_hand() -> None:
    """Factor 3 noted at 4 %, dosed 2 %, and factor 1.5 noted at 3 %, dosed 3 %: q = 1 + 1 + 0.5."""
    assert pytest.approx(2.5) == float(acc.quickening([3, 1.5], [0.02, 0.03], [0.04, 0.03]))


def test_thinning_is_never_credited() -> None:
    """A thinning scent takes nothing off the quickening of another."""
    assert acc.quickening([0.5, 3], [0.04, 0.04], 0.04) == acc.quickening([1, 3], [0.04, 0.04], 0.04) == 3


def test_unscented_is_one() -> None:
    """A portion without scent has q = 1, also where there are no scents at all."""
    assert acc.quickening([5, np.inf], [0, 0], 0.04) == 1
    assert acc.quickening(np.ones(0), np.ones((3, 0)), np.ones(0)).tolist() == [1, 1, 1]


def test_not_known_is_open_upwards_where_dosed() -> None:
    """A factor not known lies between 1 and infinity, and q with it, in the portions that hold the scent."""
    low, high = acc.factors_of(["moderate", None], WORDS)
    doses = [[0.04, 0.01], [0.04, 0]]
    assert acc.quickening(low, doses, 0.04).tolist() == [2, 2]
    assert acc.quickening(high, doses, 0.04).tolist() == [np.inf, 2]


def test_words_become_the_factors_of_the_rulebook() -> None:
    """Known words take the rulebook's factor on both ends; "seizes" is endless."""
    low, high = acc.factors_of(["thins", "fast", "seizes"], WORDS)
    assert low.tolist() == high.tolist() == [0.9, 5.0, np.inf]


def test_a_word_outside_the_rulebook_is_named() -> None:
    """A word without a factor is refused by name."""
    with pytest.raises(ValueError, match='"quick" has no factor in the rulebook'):
        acc.factors_of(["slight", "quick"], WORDS)


@given(st.lists(st.tuples(factor, dose, reference), min_size=1, max_size=5), st.integers(0, 4), dose)
def test_q_never_falls_with_a_dose(scents: list[tuple[float, float, float]], which: int, more: float) -> None:
    """More of any scent never slows the portion, and q is at least 1."""
    factors, doses, references = np.array(scents).T
    fuller = doses.copy()
    fuller[which % len(doses)] += more
    q, faster = acc.quickening(factors, doses, references), acc.quickening(factors, fuller, references)
    assert 1 <= q <= faster + 1e-12
    assert np.isfinite(faster)


@given(factor, dose, reference)
def test_q_is_linear_in_the_dose(f: float, x: float, ref: float) -> None:
    """q - 1 is the dose times the solver's coefficient."""
    assert pytest.approx(1 + x * float(acc.excess_per_dose(f, ref))) == float(acc.quickening([f], [x], [ref]))


@pytest.mark.parametrize(
    ("call", "why"),
    [
        (([2], [-0.01], [0.04]), "weighed in, never out"),
        (([2], [0.01], [0]), "without a dose cannot be scaled"),
        (([0], [0.01], [0.04]), "ratio of two times"),
        (([np.nan], [0.01], [0.04]), "factor must be"),
    ],
)
def test_senseless_scents_are_refused(call: tuple[list[float], list[float], list[float]], why: str) -> None:
    """A dose below zero, a note without a dose, a factor of nothing: refused with the reason."""
    with pytest.raises(ValueError, match=why):
        acc.quickening(*call)


def test_the_gate_of_seizing() -> None:
    """Any trace of a seizing scent shuts the gate, however small; none of it leaves the gate open."""
    grades = [acc.GRADES.index("seizes"), acc.GRADES.index("fast")]
    assert acc.seizes(grades, [[1e-6, 0.04], [0.0, 0.04], [0.0, 0.0]]).tolist() == [True, False, False]


def test_the_gate_of_ricing() -> None:
    """The worst ricer that is dosed counts; an unscented portion does not rice."""
    ricing = [acc.RICING.index(word) for word in ("bad", "slight", "none")]
    seen = acc.worst_ricing(ricing, np.array([[1, 1, 0], [0, 1, 2], [0, 0, 2], [0, 0, 0]]) / 100)
    assert [acc.RICING[index] for index in seen] == ["bad", "slight", "none", "none"]
