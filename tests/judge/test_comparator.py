"""The one comparator: intervals, tolerance, and the form that the solver shares."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.judge.conditions.comparator import (
    FALSE,
    RELATIONS,
    TOLERANCE,
    TRUE,
    UNKNOWN,
    Relation,
    among,
    compare,
    contains,
    holds,
    margin,
    negate,
    signed_slack,
)

INF = float("inf")
numbers = st.floats(-1e6, 1e6, allow_nan=False)
relations = st.sampled_from(RELATIONS)
DIRECTED: tuple[Relation, ...] = ("at least", "at most", "above", "below")


def one(
    relation: Relation, low: float, high: float, limit_low: float, limit_high: float | None = None
) -> int:
    limit_high = limit_low if limit_high is None else limit_high
    return int(compare(relation, np.array([low]), np.array([high]), limit_low, limit_high)[0])


@pytest.mark.parametrize(
    ("relation", "answers"),
    [
        # value: [1,2]   [2,2]    [2,4]    [3,3]    [3,4]    [4,5]   against the limit 3
        ("at most", (TRUE, TRUE, UNKNOWN, TRUE, UNKNOWN, FALSE)),
        ("at least", (FALSE, FALSE, UNKNOWN, TRUE, TRUE, TRUE)),
        ("below", (TRUE, TRUE, UNKNOWN, FALSE, FALSE, FALSE)),
        ("above", (FALSE, FALSE, UNKNOWN, FALSE, UNKNOWN, TRUE)),
        ("is", (FALSE, FALSE, UNKNOWN, TRUE, UNKNOWN, FALSE)),
        ("is not", (TRUE, TRUE, UNKNOWN, FALSE, UNKNOWN, TRUE)),
    ],
)
def test_intervals_against_a_number(relation: Relation, answers: tuple[int, ...]) -> None:
    """True only where true for every value inside, false only where false for every value, else unknown."""
    low, high = np.array([1.0, 2, 2, 3, 3, 4]), np.array([2.0, 2, 4, 3, 4, 5])
    assert answers == tuple(compare(relation, low, high, 3.0, 3.0))


@pytest.mark.parametrize("relation", RELATIONS)
@pytest.mark.parametrize("limit", [0.0, 3.0, -3.0])
def test_nothing_known_is_unknown(relation: Relation, limit: float) -> None:
    """What is wholly unknown on either side is unknown in every relation, to infinite limits too."""
    assert one(relation, -INF, INF, limit) == UNKNOWN
    ends = np.array([INF]), np.array([INF])
    assert compare(relation, np.array([-INF]), np.array([INF]), *ends)[0] == UNKNOWN
    nothing = np.array([-INF]), np.array([INF])
    assert compare(relation, np.array([limit]), np.array([limit]), *nothing)[0] == UNKNOWN


def test_partly_known_can_be_settled() -> None:
    """A sum with an open top already breaks a limit below what is certain, and never keeps one."""
    assert one("at most", 5.0, INF, 4.0) == FALSE
    assert one("at most", 3.0, INF, 4.0) == UNKNOWN
    assert one("at least", 5.0, INF, 4.0) == TRUE


@given(numbers, st.integers(-4, 4))
def test_tolerance_is_shared_by_both_sides(limit: float, ulps: int) -> None:
    """What differs only by rounding is at the limit: at most and at least hold, above and below do not."""
    value = limit * (1 + ulps * np.finfo(float).eps)
    assert [TRUE, TRUE, FALSE, FALSE] == [
        one(r, value, value, limit) for r in ("at most", "at least", "above", "below")
    ]


@given(st.floats(1e-3, 1e6), st.floats(3.0, 100.0), st.booleans())
def test_tolerance_is_no_wider_than_it_says(limit: float, times: float, upwards: bool) -> None:
    """Three tolerances away is past the limit."""
    step = times * TOLERANCE * limit
    past = limit + step if upwards else limit - step
    assert one("at most" if upwards else "at least", past, past, limit) == FALSE


@given(relations, numbers, numbers, numbers, numbers)
def test_answer_is_right_for_every_point(relation: Relation, a: float, b: float, c: float, d: float) -> None:
    """A settled answer on intervals is the answer at the four corners and in the middle."""
    low, high = min(a, b), max(a, b)
    limit_low, limit_high = min(c, d), max(c, d)
    whole = one(relation, low, high, limit_low, limit_high)
    corners = {
        one(relation, value, value, limit)
        for value in (low, (low + high) / 2, high)
        for limit in (limit_low, (limit_low + limit_high) / 2, limit_high)
    }
    if whole != UNKNOWN:
        assert corners == {whole}


@given(relations, numbers, numbers, numbers, numbers, numbers)
def test_widening_never_settles(
    relation: Relation, a: float, b: float, more: float, less: float, limit: float
) -> None:
    """To know less never turns an answer into its opposite."""
    low, high = min(a, b), max(a, b)
    narrow = one(relation, low, high, limit)
    wide = one(relation, low - abs(less), high + abs(more), limit)
    assert wide in (narrow, UNKNOWN)


@given(numbers, numbers, numbers)
def test_opposites(a: float, b: float, limit: float) -> None:
    """Above is not at most, below is not at least, is not is not is: unknown stays unknown."""
    low, high = np.array([min(a, b)]), np.array([max(a, b)])
    for relation, opposite in (("at most", "above"), ("at least", "below"), ("is", "is not")):
        said = compare(relation, low, high, limit, limit)  # type: ignore[arg-type]
        assert negate(said) == compare(opposite, low, high, limit, limit)  # type: ignore[arg-type]


@given(st.sampled_from(DIRECTED), numbers, st.floats(1e-3, 1e6), st.floats(-100, 100))
def test_solver_and_judge_agree(
    relation: Relation, numerator: float, denominator: float, limit: float
) -> None:
    """The slack of num − limit·den says what the judge says of num ÷ den, away from the rounding edge."""
    slack = signed_slack(relation, numerator, limit, denominator)
    edge = margin(limit, denominator)
    rounding = 8 * np.finfo(float).eps * (abs(numerator) + abs(limit * denominator))
    if abs(abs(float(slack)) - float(edge)) <= rounding + 1e-300:
        return
    value = numerator / denominator
    assert bool(holds(relation, slack, limit, denominator)) == (one(relation, value, value, limit) == TRUE)


def test_slack_has_a_sign_and_a_unit() -> None:
    """4 g on 100 g of oils under a limit of 5 % leaves 1 g; over a least of 5 % it lacks 1 g."""
    assert float(signed_slack("at most", 4.0, 0.05, 100.0)) == pytest.approx(1.0)
    assert float(signed_slack("at least", 4.0, 0.05, 100.0)) == pytest.approx(-1.0)
    with pytest.raises(ValueError, match="no direction"):
        signed_slack("is", 4.0, 0.05)


def test_among_counts_words_inside() -> None:
    """A band of words is one of some words if all of it is, is not if none of it is, else unknown."""
    members = np.array([False, False, True, True, False, False])  # beige, tan
    low, high = np.array([2.0, 2, 3, 1, 4, -INF, 0]), np.array([3.0, 2, 5, 2, INF, INF, 1])
    assert [TRUE, TRUE, UNKNOWN, UNKNOWN, FALSE, UNKNOWN, FALSE] == among(low, high, members).tolist()
    assert among(np.array([-INF]), np.array([INF]), np.ones(6, dtype=bool))[0] == UNKNOWN


def test_sets_say_what_is_written() -> None:
    """A word that is written is there even in an incomplete set; one that is not written is then unknown."""
    has = np.array([[True], [False], [False], [True]])
    known = np.array([True, True, False, False])
    assert [TRUE, FALSE, UNKNOWN, TRUE] == contains(has, known, np.array([True])).tolist()


def test_among_is_what_each_word_of_the_span_says() -> None:
    """Every set of six words, every span of them, ends left open too: true of all, of none, or of some."""
    ends = [-INF, *map(float, range(6)), INF]
    spans = [(low, high) for low in ends for high in ends if low <= high and low < INF and high > -INF]
    low, high = (np.array([span[end] for span in spans]) for end in (0, 1))
    for chosen in range(64):
        members = np.array([bool(chosen >> word & 1) for word in range(6)])
        for found, (first, last) in zip(among(low, high, members), spans, strict=True):
            inside = members[int(max(first, 0)) : int(min(last, 5)) + 1]
            wanted = TRUE if inside.all() else UNKNOWN if inside.any() else FALSE
            assert (UNKNOWN if (first, last) == (-INF, INF) else wanted) == found
