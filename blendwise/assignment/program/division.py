"""One division's program with all goals in it: build once, minimise any goal within the bands of those
before."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from blendwise.assignment.problem.goals import Measure, express
from blendwise.assignment.problem.ready import Frame, Groups
from blendwise.assignment.program.core import begin
from blendwise.assignment.program.either_or import add_logic
from blendwise.assignment.program.program import Expression, Ints, Program
from blendwise.assignment.program.solver import Engine, Outcome
from blendwise.facts.columns import Bools, Floats

SLACK = 1e-7


@dataclass(frozen=True)
class Model:
    """A division as a program.

    ``amount``, ``used`` (premixes, portions): columns; ``goals``: each measure's expression and the row
    which holds it within its band.
    """

    frame: Frame
    groups: Groups
    program: Program
    amount: Ints
    used: Ints
    goals: Mapping[Measure, tuple[Expression, int]]

    def minimise(
        self,
        engine: Engine,
        measure: Measure,
        ends: Mapping[Measure, float],
        *,
        relaxed: bool = False,
        gap: float = 0.0,
        seconds: float = 600.0,
    ) -> Outcome:
        """Least ``measure`` while every measure in ``ends`` is at most its end."""
        expression, _ = self.goals[measure]
        high = self.program.row_high.copy()
        for other, end in ends.items():
            held, row = self.goals[other]
            high[row] = end - held.constant + SLACK
        cost = expression.cost(len(self.program.low))
        found = engine.minimise(self.program, cost, high, relaxed=relaxed, gap=gap, seconds=seconds)
        shift = expression.constant
        return Outcome(found.status, found.value + shift, found.bound + shift, found.values, found.duals)

    def fixed(self, used: Bools) -> Model:
        """The same model with exactly these cells (premixes, portions) used."""
        low, high = self.program.low.copy(), self.program.high.copy()
        low[self.used[used]] = 1.0
        high[self.used[~used]] = 0.0
        high[self.amount[~used]] = 0.0
        return replace(self, program=replace(self.program, low=low, high=high))

    def doses(self, values: Floats) -> Floats:
        """Units (premixes, portions), rounded to whole ones where steps count."""
        amounts = values[self.amount]
        return np.asarray(np.round(amounts) if self.frame.steps else np.maximum(amounts, 0.0))


def build(frame: Frame, groups: Groups, measures: Sequence[Measure], per_portion: int | None) -> Model | None:
    """The model of one division, or None where it is plainly impossible."""
    sketch = begin(frame, groups, per_portion)
    if sketch is None:
        return None
    add_logic(sketch)
    goals: dict[Measure, tuple[Expression, int]] = {}
    for measure in measures:
        expression = express(sketch, measure)
        goals[measure] = expression, sketch.draft.row(expression.cols, expression.coefs, -np.inf, np.inf)
    return Model(frame, groups, sketch.draft.finish(), sketch.amount, sketch.used, goals)
