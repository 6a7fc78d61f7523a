"""Columns under one another: nothing is lost, and every row keeps its own."""

from __future__ import annotations

import numpy as np

from blendwise.answers.pair.stacked import joined
from blendwise.facts.columns import Column, Missing, SetColumn

GAP = (Missing("vetiver", "vanillin"),)


def test_rows_keep_their_numbers_gaps_and_evidence() -> None:
    """Two columns become one; what was said of a row is said of the same row, further down."""
    one = Column(np.array([1.0]), np.array([2.0]), asked=np.array([False]))
    other = Column(
        np.array([3.0, -np.inf]), np.array([3.0, np.inf]), missing={1: GAP}, evidence={0: "own cup"}
    )
    both = joined([one, other])
    assert isinstance(both, Column)
    assert [1.0, 3.0, -np.inf] == both.low.tolist()
    assert [2.0, 3.0, np.inf] == both.high.tolist()
    assert both.asked is not None
    assert [False, True, True] == both.asked.tolist()
    assert {2: GAP} == both.missing
    assert {1: "own cup"} == both.evidence


def test_asked_everywhere_stays_so() -> None:
    """Where no part leaves a row out, nothing is left out."""
    part = Column(np.zeros(2), np.zeros(2))
    assert joined([part, part]).asked is None
    assert 4 == len(joined([part, part]))


def test_sets_are_joined_over_all_words() -> None:
    """A word that only one part knows is not held by the other's rows."""
    one = SetColumn(("column",), np.array([[True]]), np.array([True]))
    other = SetColumn(("spun", "column"), np.array([[True, False]]), np.array([False]))
    both = joined([one, other])
    assert isinstance(both, SetColumn)
    assert ("column", "spun") == both.words
    assert [[True, False], [False, True]] == both.has.tolist()
    assert [True, False] == both.known.tolist()
