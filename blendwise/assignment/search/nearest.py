"""The one of many equal answers: its doses as near to the plan as written as its choices allow."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from blendwise.assignment.problem.goals import NEAREST, Measure
from blendwise.assignment.problem.ready import Frame
from blendwise.assignment.program.division import build
from blendwise.assignment.program.solver import Engine
from blendwise.assignment.search.evaluate import Evaluation, evaluate

GAP = 0.002
"""Part of all scent to which it is settled."""
SECONDS = 1.0


def nearest(
    frame: Frame,
    best: Evaluation,
    measures: Sequence[Measure],
    per_portion: int | None,
    ends: Mapping[Measure, float],
    engine: Engine,
) -> Evaluation | None:
    """The answer with the same cells used that no goal of ``ends`` is worse in; None where none was found."""
    model = build(frame, best.groups, (*measures, NEAREST), per_portion)
    if model is None:
        return None
    within = {measure: max(end, best.values[measure]) for measure, end in ends.items()}
    model = model.fixed(best.units > 0)
    outcome = model.minimise(engine, NEAREST, within, gap=GAP * frame.grams, seconds=SECONDS)
    if outcome.values is None:
        return None
    found = evaluate(frame, best.groups, model.doses(outcome.values))
    return found if found.sound else None
