"""A whole plan as a problem: its rules compiled, its own lines, its scale and its goals."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from blendwise.assignment.problem.clock_rows import haste_of
from blendwise.assignment.problem.problem import DEFAULT_PREFER, Goal, Problem, Source
from blendwise.assignment.problem.recheck import Afterwards
from blendwise.assignment.problem.rules import Compiler
from blendwise.facts.columns import Bools, Column, Floats
from blendwise.facts.measures.dose import scale_step
from blendwise.facts.scales import BANDS
from blendwise.facts.situation.appearance import appearance
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.rulebook.compile import Rule

LIGHT_FROM = 70.0  # L* from which a portion counts as light for the goal "only where it browns"
USUAL_PREMIXES = 3
LEAST_STEPS = 10
LEAST_RATE = 0.015
"""Scent on a cup's own oils below which nobody smells it (common practice, no source)."""
LEAST_OF_LOAD = 0.5
"""Of a low load a cup counts as scented with half of it (judgement)."""


def compile_problem(
    s: Situation, rules: Sequence[Rule], *, prefer: Sequence[Goal] = (), premixes: int | None = None
) -> Problem:
    """The problem of a situation under the rules (ValueError where there is no blend to place)."""
    compiler = Compiler(s)
    for rule in rules:
        compiler.take(rule)
    kept = compiler.kept
    if not len(kept):
        raise ValueError("the plan has no blend to place")
    blend = s.scenting.blend[kept]
    first = tuple(prefer) or tuple(s.plan.prefer) or tuple(s.book.usual.prefer)
    later = [rule for rule in rules if rule.name in compiler.found.afterwards]
    return Problem(
        scents=tuple(s.scents[int(k)] for k in kept),
        portions=s.portions,
        blend=blend / blend.sum(),
        portion_oils=s.split.oils,
        total=s.scenting.total,
        dosing="same total" if s.scenting.same_total else "same dose",
        dose=s.scenting.load * s.split.oils,
        rows=tuple(compiler.found.rows),
        either=tuple(compiler.found.either),
        slots=compiler.found.slots,
        fixed=s.scenting.written[kept],
        empty=~s.scenting.allowed[kept],
        cell_sources=dict(_cell_sources(s, kept)),
        unscented=np.array([p.scented is False for p in s.plan.portions], dtype=bool),
        step=scale_step(s),
        step_stated=s.book.usual.scale_step is not None,
        premixes=premixes or s.plan.premixes or USUAL_PREMIXES,
        prefer=tuple(dict.fromkeys((*first, *DEFAULT_PREFER))),
        least=_least(s),
        as_written=s.x[kept],
        together=_together(s, [s.scents[int(k)] for k in kept]),
        recheck=Afterwards(s, later, kept, LEAST_STEPS * scale_step(s)),
        browning=np.array([_browns(s, int(k)) for k in kept], dtype=bool),
        light=_light(s),
        haste=haste_of(s, kept),
    )


def _cell_sources(s: Situation, kept: NDArray[np.int64]) -> Iterator[tuple[tuple[int, int], Source]]:
    index = {s.scents[int(k)]: i for i, k in enumerate(kept)}
    for lines, word in ((s.plan.only, "only"), (s.plan.never, "never")):
        for line in lines:
            place = line.place.spot if line.place else None
            inside = {s.portions.index(p) for p in line.in_}
            closed = inside if word == "never" else set(range(len(s.portions))) - inside
            for p in sorted(closed):
                if line.scent in index:
                    yield (index[line.scent], p), ("plan", word, f"{line.scent} in {s.portions[p]}", place)
    for i, k in enumerate(kept):
        for open_cell in np.flatnonzero(~np.isnan(s.scenting.written[int(k)])):
            p = int(open_cell)
            yield (i, p), ("plan", "doses", f"{s.scents[int(k)]} in {s.portions[p]}", None)


def _least(s: Situation) -> Floats | None:
    """The least (portions,) that a cup takes if it is scented at all; 0 where the plan keeps scent out of it.

    Under *same dose* every cup takes the load, and nothing is asked beside that.
    """
    if not s.scenting.same_total:
        return None
    blend = s.scenting.blend > 0
    open_to = s.scenting.allowed[blend] & ~(s.scenting.written[blend] <= 0)
    others = s.x[~blend].sum(axis=0) > 0
    rate = min(LEAST_RATE, LEAST_OF_LOAD * s.scenting.load)
    return np.where(open_to.any(axis=0) & ~others, rate * s.split.oils, 0.0)


def _together(s: Situation, names: Sequence[str]) -> tuple[tuple[int, ...], ...]:
    """The maker's own mixes, of the oils that are placed."""
    mixes = (sorted(names.index(n) for n in mix if n in names) for mix in s.plan.weigh_together)
    return tuple(tuple(mix) for mix in mixes if len(mix) > 1)


def _browns(s: Situation, scent: int) -> bool:
    """Whether an oil at the load would leave the first band by itself."""
    first = next(step.up_to for step in s.scales.bands if step.up_to is not None)
    top = s.traits[scent].browner.high
    return bool(not np.isfinite(top) or top * s.scenting.load / s.pot.batter_to_oils > first.high)


def _light(s: Situation) -> Bools:
    planned = s.home("planned band")
    assert isinstance(planned, Column)
    return np.asarray((appearance(s).planned[:, 0] >= LIGHT_FROM) & (planned.low <= BANDS.index("cream")))
