"""The search over divisions: each goal in its turn, best-first on proven bounds.

A division is bounded cheaply, then by its linear relaxation, and only then solved in whole steps, always
below what is already in hand; the phase ends when no bound left can beat the answer by more than the gap.
"""

from __future__ import annotations

import heapq
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from blendwise.assignment.evaluate import Evaluation, evaluate
from blendwise.assignment.frame import Frame, Groups
from blendwise.assignment.goals import BANDS, MARGIN_MOST, Measure, band, gap
from blendwise.assignment.model import SLACK, Model, build
from blendwise.assignment.solver import Engine

EXACT = 1e-6
NEAR = 1e-7
UNKNOWN = -float("inf")


@dataclass(frozen=True)
class Phase:
    """What one goal came to: its best value, a proven lower bound, and the end which later goals keep to."""

    measure: Measure
    value: float
    bound: float
    end: float


@dataclass
class Search:
    """One problem's search; ``finished`` turns False when the clock ran out before all was proven."""

    frame: Frame
    measures: Sequence[Measure]
    gap: float
    deadline: float
    per_portion: int | None
    engine: Engine
    finished: bool = True
    solved: int = 0
    pool: list[Evaluation] = field(default_factory=list)
    phases: list[Phase] = field(default_factory=list)
    models: dict[Groups, Model | None] = field(default_factory=dict)
    dead: set[Groups] = field(default_factory=set)

    def run(self, divisions: Sequence[Groups]) -> Evaluation | None:
        """The best answer over the divisions, or None where there is none (or none was found in time)."""
        ends: dict[Measure, float] = {}
        best: Evaluation | None = None
        for measure in self.measures:
            best, bound = self._phase(measure, ends, divisions)
            if best is None:
                return None
            value = best.values[measure]
            ends[measure] = value + band(measure, self.frame.grams)
            self.phases.append(Phase(measure, value, min(bound, value), ends[measure]))
        return best

    def _phase(
        self, measure: Measure, ends: Mapping[Measure, float], divisions: Sequence[Groups]
    ) -> tuple[Evaluation | None, float]:
        best = self._in_hand(measure, ends)
        heap = [
            (self._cheap(measure, groups), 0, k) for k, groups in enumerate(divisions) if groups not in self.dead
        ]
        heapq.heapify(heap)
        low = float("inf")
        while heap:
            bound, stage, k = heapq.heappop(heap)
            if best is not None and bound > self._cut(measure, best):
                low = min(low, bound)
                break
            if time.monotonic() > self.deadline:
                self.finished, low = False, min(low, bound)
                break
            if stage == 0:
                relaxed = self._relax(measure, ends, divisions[k])
                if relaxed < float("inf"):
                    heapq.heappush(heap, (max(bound, relaxed), -1, k))
                continue
            found, proven = self._solve(measure, ends, divisions[k], best)
            low = min(low, proven)
            if found is not None:
                best = found
        return best, low

    def _in_hand(self, measure: Measure, ends: Mapping[Measure, float]) -> Evaluation | None:
        fitting = [e for e in self.pool if all(e.values[m] <= end + SLACK for m, end in ends.items())]
        return min(fitting, key=lambda e: e.values[measure], default=None)

    def _cut(self, measure: Measure, best: Evaluation) -> float:
        """An answer must be at most this to count as better."""
        if measure == "few weighings":
            return best.values[measure] - 1.0 + EXACT
        return best.values[measure] - max(gap(measure, self.frame.grams, self.gap), EXACT)

    def _cheap(self, measure: Measure, groups: Groups) -> float:
        """A bound that needs no model."""
        frame = self.frame
        if measure == "wide margin":
            return -MARGIN_MOST
        if measure == "few weighings" and frame.fixed_total:
            return float(frame.shape[0])
        if measure == "true to blend" and frame.fixed_total and self.per_portion is not None:
            shares = sorted(float(frame.blend[list(group)].sum()) for group in groups)
            return sum(shares[:max(len(groups) - self.per_portion, 0)]) * frame.grams - NEAR
        return 0.0

    def _model(self, groups: Groups) -> Model | None:
        if groups not in self.models:
            self.models[groups] = build(self.frame, groups, self.measures, self.per_portion)
        return self.models[groups]

    def _relax(self, measure: Measure, ends: Mapping[Measure, float], groups: Groups) -> float:
        model = self._model(groups)
        if model is None:
            self.dead.add(groups)
            return float("inf")
        outcome = model.minimise(self.engine, measure, ends, relaxed=True)
        if outcome.status == "impossible":
            self.dead.add(groups)
            return float("inf")
        bound = outcome.bound if outcome.status == "optimal" else UNKNOWN
        whole = measure == "few weighings"
        return float(-(-(bound - NEAR) // 1)) if whole and bound > UNKNOWN else bound - NEAR

    def _solve(
        self, measure: Measure, ends: Mapping[Measure, float], groups: Groups, best: Evaluation | None
    ) -> tuple[Evaluation | None, float]:
        """A better answer in this division, if any, and what is proven of the division."""
        model = self._model(groups)
        assert model is not None
        self.solved += 1
        within = dict(ends)
        if best is not None:
            within[measure] = self._cut(measure, best)
        allowed = 0.5 if measure == "few weighings" else gap(measure, self.frame.grams, self.gap)
        outcome = model.minimise(
            self.engine, measure, within, gap=allowed, seconds=self.deadline - time.monotonic()
        )
        if outcome.status == "impossible":
            if best is None:
                self.dead.add(groups)
            return None, within.get(measure, float("inf"))
        if outcome.status == "stopped":
            self.finished = False
        if outcome.values is None:
            return None, outcome.bound
        found = evaluate(self.frame, groups, model.doses(outcome.values))
        if not found.sound:
            raise ArithmeticError("the solver's answer does not keep its own rows")
        self.pool.append(found)
        return found, outcome.bound


def measures_of(frame: Frame) -> tuple[Measure, ...]:
    """The goals in order: cautions first, where there can be any, then what the maker prefers."""
    problem = frame.problem
    open_ended = any(item.uncertain is not None for item in (*problem.rows, *problem.either))
    soft_rows = any(not row.hard for row in problem.rows)
    others = any(not either.hard for either in problem.either) or bool(problem.slots and not problem.slots.hard)
    small = frame.steps and not frame.least_is_hard and frame.least > 1
    first: list[Measure] = []
    if open_ended or soft_rows or others or small:
        first.append("fewest cautions")
    if soft_rows:
        first.append("lightest cautions")
    prefer = dict.fromkeys(goal for goal in problem.prefer if goal in BANDS)
    return (*first, *prefer)
