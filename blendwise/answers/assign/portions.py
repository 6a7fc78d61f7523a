"""An answer of the solver as a maker weighs it: premixes, and a row a portion with its clock."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from blendwise.answers.answer import Range
from blendwise.answers.assign.result import Pour, Premix
from blendwise.assignment.problem.problem import Problem
from blendwise.assignment.result import Answer
from blendwise.facts.columns import Column
from blendwise.facts.situation.timeline import timeline
from blendwise.facts.situation.worked_out import Situation


def poured(s: Situation, problem: Problem, answer: Answer) -> Situation:
    """The situation at an answer's doses, its premixes weighed together."""
    x = np.where(s.scenting.blend[:, None] > 0, 0.0, s.x)
    index = [s.scents.index(name) for name in problem.scents]
    x[index] = answer.grams
    groups = tuple(tuple(index[i] for i in premix.scents) for premix in answer.premixes)
    return s.with_doses(x, groups)


def premix_name(problem: Problem, premix_scents: Sequence[int], number: int) -> str:
    """One oil goes by its own name; several by a number."""
    if len(premix_scents) == 1:
        return problem.scents[premix_scents[0]]
    return f"premix {number}"


def premix_names(problem: Problem, answer: Answer) -> list[str]:
    names, number = [], 0
    for premix in answer.premixes:
        number += len(premix.scents) > 1
        names.append(premix_name(problem, premix.scents, number))
    return names


def premixes_of(problem: Problem, answer: Answer | None) -> tuple[Premix, ...]:
    if answer is None:
        return ()
    return tuple(
        Premix(
            name,
            {problem.scents[i]: grams for i, grams in zip(premix.scents, premix.grams, strict=True)},
            max(premix.off, default=None),
        )
        for name, premix in zip(premix_names(problem, answer), answer.premixes, strict=True)
        if len(premix.scents) > 1
    )


def pours_of(s: Situation, problem: Problem, answer: Answer | None) -> tuple[Pour, ...]:
    """A row a portion, in the plan's order, with its place in the scenting order and its clock."""
    names = [] if answer is None else premix_names(problem, answer)
    outside = np.flatnonzero(s.scenting.blend == 0)
    rows = []
    for p, portion in enumerate(s.portions):
        weighed = {} if answer is None else {n: float(d[p]) for n, d in zip(names, answer.doses, strict=True)}
        weighed |= {s.scents[i]: float(s.x[i, p]) for i in outside}
        scents = {name: float(s.x[i, p]) for i, name in enumerate(s.scents) if s.x[i, p] > 0}
        held = {name: grams for name, grams in weighed.items() if grams > 0}
        rows.append(Pour(portion, held, scents, float(s.x[:, p].sum() / s.split.oils[p]), *_clock(s, p)))
    return tuple(rows)


def _clock(s: Situation, p: int) -> tuple[int | None, Range | None, float | None]:
    """Place in the scenting order (from 1), fluid until (least, most), minutes to spare."""
    line = timeline(s)
    if line is None:
        return None, None, None
    until = Range(*(float(end[p]) for end in line.fluid_until))
    spare = s.home("minutes to spare")
    assert isinstance(spare, Column)
    slack = None if not line.asks[p] else float(spare.low[p])
    return int(line.place[p]) + 1, until, slack
