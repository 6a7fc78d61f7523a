"""Why there is no answer: rules that clash, or only the premixes or the scale in the way, or nothing
proven."""

from __future__ import annotations

import time

import numpy as np

from blendwise.assignment.explain.conflict import conflict_of
from blendwise.assignment.problem.problem import Problem
from blendwise.assignment.problem.ready import Frame
from blendwise.assignment.program.division import build
from blendwise.assignment.program.solver import Engine
from blendwise.assignment.result import Obstacle, Result
from blendwise.assignment.search.candidates import every_division

CONFLICT_SECONDS = 5.0


def why_none(
    problem: Problem,
    per_portion: int | None,
    proven: bool,
    reason: str,
    deadline: float,
) -> Result:
    """The reply where no answer was found; ``proven``: none of all divisions serves.

    A conflict is looked for even when the clock has run out, for a few seconds: it is what helps most.
    """
    now = time.monotonic()
    sources = conflict_of(problem, Engine(), max(deadline, now + CONFLICT_SECONDS))
    if sources:
        return Result("infeasible", conflict=sources, obstacle="rules")
    if not proven:
        return Result("not solved", reason=reason)
    obstacle = _obstacle(problem, per_portion, max(deadline, now + CONFLICT_SECONDS))
    return Result("infeasible", obstacle=obstacle, reason=reason)


def _obstacle(problem: Problem, per_portion: int | None, deadline: float) -> Obstacle:
    """Whether a division would serve if doses need not be whole steps; "" when the clock runs out."""
    frame, engine = Frame(problem, steps=False), Engine()
    alone = tuple((s,) for s in range(frame.shape[0]))
    for groups in every_division(frame) if per_portion is not None else [alone]:
        model = build(frame, groups, (), per_portion)
        if time.monotonic() > deadline:
            return ""
        if model is None:
            continue
        none = np.zeros(len(model.program.low))
        if engine.minimise(model.program, none, model.program.row_high).status != "impossible":
            return "steps"
    return "premixes" if per_portion is not None else ""
