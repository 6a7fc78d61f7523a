"""The tree of one division: who takes which premix, bounded over corners, finished in whole steps.

A node closes some corners.  Its linear program bounds it; where every portion's mix stays within one choice
of premixes, the units are rounded with the totals kept and judged.  Where rounding does not settle a choice
the tree gives up: the corners say too little of this division, and the solver takes the whole of it.
"""

from __future__ import annotations

import heapq
import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np

from blendwise.assignment.problem.goals import Measure
from blendwise.assignment.problem.ready import Frame
from blendwise.assignment.program.division import SLACK
from blendwise.assignment.program.solver import Engine
from blendwise.assignment.search.corners import PURE, Corners
from blendwise.assignment.search.evaluate import HOLDS, Evaluation, evaluate, weighings
from blendwise.facts.columns import Bools, Floats


@dataclass
class Tree:
    """One search of one division for one goal.

    ``cut``: an answer must be at most this; ``step``: by how much the next must be better again.
    ``without``: a choice that is not looked at; what else rounding does not settle is passed over then.
    """

    frame: Frame
    corners: Corners
    engine: Engine
    measure: Measure
    ends: Mapping[Measure, float]
    cut: float
    step: float
    deadline: float
    without: Bools | None = None
    best: Evaluation | None = None
    finished: bool = True
    gave_up: bool = False
    nodes: int = 0
    _heap: list[tuple[float, int, Bools]] = field(default_factory=list)

    def run(self) -> float:
        """Search; the proven lower bound of the division (what was found is in ``best``)."""
        self.cost, self.shift = self.corners.costs[self.measure]
        self.low = np.zeros(len(self.cost))
        self.engine.open(self.corners.program, self.cost, self.corners.row_high(self.ends))
        proven = float("inf")
        everything = np.ones(len(self.cost), dtype=np.bool_)
        for part in [everything] if self.without is None else self._others(self.without, everything):
            self._push(-float("inf"), part)
        while self._heap:
            bound, _, kept = heapq.heappop(self._heap)
            if bound > self.cut:
                return min(proven, bound)
            if self.gave_up and self.without is None:
                return min(proven, bound)
            if time.monotonic() > self.deadline:
                self.finished = False
                return min(proven, bound)
            proven = min(proven, self._plunge(kept))
        return proven

    def _push(self, bound: float, kept: Bools) -> None:
        heapq.heappush(self._heap, (bound, len(self._heap) + self.nodes, kept))

    def _plunge(self, kept: Bools) -> float:
        """Follow one path down, leaving its side branches on the heap; what was settled is bounded by
        this."""
        while True:
            self.nodes += 1
            outcome = self.engine.probe(self.low, np.where(kept, self.corners.program.high, 0.0))
            if outcome.status == "stopped":
                self.finished = False
                return -float("inf")
            if outcome.values is None:
                return float("inf")
            bound = outcome.value + self.shift - PURE
            if bound > self.cut:
                return bound
            split = self._split(outcome.values, kept)
            if split is None:
                return self._settle(outcome.values, bound, kept)
            near, far = split
            self._push(bound, kept & far)
            kept = kept & near

    def _split(self, weights: Floats, kept: Bools) -> tuple[Bools, Bools] | None:
        """Corners kept in the nearer and the further branch, or None where every portion has made its
        choice (a doubt that no corner which is kept stands for is but rounding)."""
        usage = self.corners.usage(weights)
        doubt = np.minimum(usage, 1.0 - usage)
        if doubt.max() <= PURE:
            return None
        p, j = np.unravel_index(int(doubt.argmax()), doubt.shape)
        menu = self.corners.menu
        takes, leaves = np.ones(len(self.cost), dtype=np.bool_), np.ones(len(self.cost), dtype=np.bool_)
        mine = menu.portion == p
        takes[: len(mine)] = ~mine | menu.used[:, j]
        leaves[: len(mine)] = ~mine | ~menu.used[:, j]
        near, far = (takes, leaves) if usage[p, j] >= 0.5 else (leaves, takes)
        return (near, far) if (kept & ~near).any() else None

    def _settle(self, weights: Floats, bound: float, kept: Bools) -> float:
        """Settle the choice at hand; what else the node holds goes back on the heap."""
        used = self.corners.usage(weights).T > 0.5
        here = self._here(weights, used, bound)
        if bound <= self.cut:
            for rest in self._others(used, kept):
                self._push(bound, rest)
        return here

    def _here(self, weights: Floats, used: Bools, bound: float) -> float:
        """Round and judge; the proven bound of this choice."""
        if self.measure == "few weighings":
            bound = max(bound, float(weighings(self.corners.groups, used.astype(float))))
        if bound > self.cut:
            return bound
        found = self._rounded(self.corners.units(weights))
        if found is not None:
            self._take(found)
        self.gave_up = self.gave_up or bound <= self.cut
        return bound

    def _others(self, used: Bools, kept: Bools) -> Iterator[Bools]:
        """The rest of a node: all but this choice, parted by the first portion that chooses otherwise."""
        menu, so_far = self.corners.menu, kept
        count = len(menu.portion)
        same = (menu.used == used.T[menu.portion]).all(axis=1)
        for p in range(used.shape[1]):
            mine = menu.portion == p
            other = so_far.copy()
            other[:count] &= ~mine | ~same
            if other[:count][mine].any():
                yield other
            so_far = so_far.copy()
            so_far[:count] &= ~mine | same

    def _take(self, found: Evaluation) -> None:
        self.best = found
        self.cut = found.values[self.measure] - self.step

    def _rounded(self, units: Floats) -> Evaluation | None:
        """The units as whole ones with the totals kept, if they then hold and are good enough."""
        whole = round_units(self.frame, self.corners.groups, units) if self.frame.steps else units
        if whole is None:
            return None
        found = evaluate(self.frame, self.corners.groups, whole)
        within = all(found.values[m] <= end + SLACK for m, end in self.ends.items())
        return found if found.sound and within and found.values[self.measure] <= self.cut else None


def round_units(frame: Frame, groups: tuple[tuple[int, ...], ...], units: Floats) -> Floats | None:
    """Units (premixes, portions) made whole, each premix's total kept, going up where the rows leave room."""
    whole = np.floor(units + PURE)
    coefs = np.stack([frame.group(group)[0] for group in groups], axis=1)
    high = np.stack([frame.group(group)[2] for group in groups])
    hard = frame.hard
    left = frame.limits[hard] - np.einsum("rjp,jp->r", coefs[hard], whole)
    if not frame.fixed_total:
        return _round_doses(frame, units, whole)
    for j, group in enumerate(groups):
        short = round(frame.total(group) - float(whole[j].sum()))
        order = np.argsort(-(units[j] - whole[j]), kind="stable")
        for p in [p for p in order if whole[j, p] > 0]:
            if short <= 0:
                break
            step = coefs[hard, j, p]
            if whole[j, p] + 1 <= high[j, p] and (step <= left + HOLDS).all():
                whole[j, p] += 1.0
                left = left - step
                short -= 1
        if short:
            return None
    return whole


def _round_doses(frame: Frame, units: Floats, whole: Floats) -> Floats:
    """In *same dose*: what is missing of a portion's dose goes to the premix with the largest remainder."""
    for p in range(whole.shape[1]):
        missing = float(np.round(units[:, p].sum())) - float(whole[:, p].sum())
        if missing > 0:
            whole[int(np.argmax(units[:, p] - whole[:, p])), p] += missing
    return whole
