"""Why nothing fits: an irreducible set of sources, proved on the continuous free split without steps."""

from __future__ import annotations

import time

from blendwise.assignment.problem.problem import Problem, Source
from blendwise.assignment.program.free_split import Freeform
from blendwise.assignment.program.solver import Engine


def conflict_of(problem: Problem, engine: Engine, deadline: float) -> tuple[Source, ...]:
    """An irreducible conflict: without any one of these sources the rest can be met; empty where all
    can be met."""
    form = Freeform(problem, engine)
    sources = form.sources
    if form.possible(sources):
        return ()
    kept = form.suspects(sources)
    for source in tuple(kept):
        if time.monotonic() > deadline:
            break
        fewer = tuple(other for other in kept if other != source)
        if not form.possible(fewer):
            kept = fewer
    return kept
