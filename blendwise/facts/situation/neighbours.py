"""Which portions touch in the bar, and which scents meet in one portion."""

from __future__ import annotations

from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from blendwise.facts.situation.worked_out import Situation, once_for_all_doses

Ints = NDArray[np.int64]


@once_for_all_doses
def edges(s: Situation) -> tuple[Ints, Ints]:
    """Pairs of portions that touch, each once: the plan's own, else by the style of pour."""
    pairs = _own(s) if s.plan.touching is not None else _by_style(s)
    found = np.array(pairs, dtype=np.int64).reshape(len(pairs), 2)
    return found[:, 0], found[:, 1]


def _own(s: Situation) -> list[tuple[int, int]]:
    assert s.plan.touching is not None
    named = [(s.portions.index(a), s.portions.index(b)) for a, b in s.plan.touching]
    return sorted({(min(p), max(p)) for p in named if p[0] != p[1]})


def _by_style(s: Situation) -> list[tuple[int, int]]:
    count = len(s.portions)
    match s.pour.touching if s.pour else "each other":
        case "in order":
            return [(p, p + 1) for p in range(count - 1)]
        case "through the body":
            return [(0, p) for p in range(1, count)]
        case "none":
            return []
        case _:  # without a pour any two may touch
            return list(combinations(range(count), 2))


@once_for_all_doses
def pair_cells(s: Situation) -> tuple[Ints, Ints, Ints]:
    """(one, other, portion) for every two scents in every portion, at all doses."""
    scents, portions = s.shape
    rows = [(i, j, p) for i, j in combinations(range(scents), 2) for p in range(portions)]
    found = np.array(rows, dtype=np.int64).reshape(len(rows), 3)
    return found[:, 0], found[:, 1], found[:, 2]
