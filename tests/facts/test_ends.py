"""The ends of what a measure can be: what it says of itself is never passed by a demo plan."""

from __future__ import annotations

import datetime
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from blendwise.api import Book
from blendwise.facts.columns import Column
from blendwise.facts.registry import REGISTRY
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import vocabulary
from blendwise.records.as_of import AsOf

DEMO = Path(__file__).resolve().parents[2] / "demo_catalog"
NUMBERS = sorted(name for name, measure in REGISTRY.items() if measure.word.kind == "number")
ROUNDING = 1e-9


@cache
def situations() -> list[Situation]:
    book = Book(DEMO)
    day = datetime.date(2026, 11, 25)
    return [book.situation(path, AsOf(day)) for path in sorted((DEMO / "plans").glob("*.yaml"))]


@pytest.mark.parametrize("name", NUMBERS)
def test_no_plan_passes_the_ends(name: str) -> None:
    """What is known of a measure lies between the least and the most that it says it can be."""
    word = REGISTRY[name].word
    for situation in situations():
        column = situation.home(name)
        assert isinstance(column, Column)
        there = np.ones(len(column), dtype=bool) if column.asked is None else column.asked
        low, high = column.low[there], column.high[there]
        assert (low[np.isfinite(low)] >= word.lowest - ROUNDING).all()
        assert (high[np.isfinite(high)] <= word.highest + ROUNDING).all()


@pytest.mark.parametrize(
    ("name", "ends"),
    [
        ("planned lightness", (0, 100)),
        ("lighter planned lightness", (0, 100)),
        ("dose", (0, np.inf)),
        ("base notes", (0, 1)),
        ("minutes fluid", (0, np.inf)),
        ("superfat", (-np.inf, 1)),
        ("gel suits the colour", (-1, 1)),
        ("portion mass", (0, np.inf)),
        ("hues apart", (0, 180)),
    ],
)
def test_the_ends_of_some(name: str, ends: tuple[float, float]) -> None:
    """Lightness, rates, shares, minutes and superfat say where they begin and end, sided readings too."""
    word = vocabulary()[name]
    assert ends == (word.lowest, word.highest)
