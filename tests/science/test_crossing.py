"""The first crossing, on measures whose crossings are known."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from blendwise.science.crossing import first_crossing

Looks = NDArray[np.float64]
Rows = NDArray[np.int_]


def falling(x: Looks, _rows: Rows) -> Looks:
    return 1 - x


def valley(x: Looks, _rows: Rows) -> Looks:
    """Falls from 1 to 0 at x = 0.4 and climbs again."""
    return np.abs(x - 0.4) / 0.4


def test_a_straight_fall() -> None:
    """1 - x falls to 0.5 at 0.5; the answer stands one part in 1e9 short of it."""
    assert pytest.approx(0.5 * (1 - 1e-9), abs=2e-12) == float(first_crossing(falling, 1, 0.5, 1)[0])


def test_the_first_crossing_and_not_the_last() -> None:
    """A valley below the limit stops at its near side, however high the far side is."""
    assert pytest.approx(0.2, abs=1e-8) == float(first_crossing(valley, 1, 0.5, 4)[0])


def test_no_crossing_and_none_from_the_start() -> None:
    """Where nothing falls short the answer is the top; where the start does, -1."""
    seen = first_crossing(falling, 3, [0.5, -1, 1.5], [0.3, 1, 1])
    np.testing.assert_array_equal(seen, [0.3, 1, -1])


@given(st.floats(0.02, 0.98), st.floats(0.001, 0.5))
def test_a_narrow_dip_is_found(at: float, width: float) -> None:
    """A smooth dip that just passes the limit between two looks is not stepped over."""

    def dip(x: Looks, _rows: Rows) -> Looks:
        return ((x - at) / width) ** 2

    least = (0.3 * 0.02 / width) ** 2
    seen = float(first_crossing(dip, 1, least, 1)[0])
    assert pytest.approx(max(at - 0.3 * 0.02, 0), abs=1e-6) == seen or (seen == -1 and at < 0.3 * 0.02)


def test_a_sharp_turn_is_found_where_it_is_announced() -> None:
    """A notch far narrower than the steps is found if its place is among the kinks."""

    def notch(x: Looks, _rows: Rows) -> Looks:
        return np.minimum(np.abs(x - 0.51234) * 1e6, 1.0)

    assert pytest.approx(0.51234, abs=1e-5) == float(first_crossing(notch, 1, 0.5, 1, [0.51234])[0])


def test_each_row_has_its_own_question() -> None:
    """Rows are answered apart: limits, tops and measures may differ."""

    def by_row(x: Looks, rows: Rows) -> Looks:
        return 1 - x * (1 + rows[:, None])

    seen = first_crossing(by_row, 3, 0.5, [1, 1, 0.1])
    np.testing.assert_allclose(seen, [0.5, 0.25, 0.1], rtol=1e-8)


def test_what_a_question_costs() -> None:
    """97 looks at first, 25 at a suspected step, and 40 halvings of the one in which it falls."""
    asked: list[int] = []

    def counted(x: Looks, rows: Rows) -> Looks:
        asked.append(x.shape[1])
        return falling(x, rows)

    first_crossing(counted, 1, 0.5, 1)
    assert asked[0] == 97
    assert set(asked[1:-40]) == {25}
    assert asked[-40:] == [1] * 40


def test_no_rows_no_answers() -> None:
    """Nothing asked, nothing answered."""
    assert first_crossing(falling, 0, 0.5, 1).shape == (0,)
