"""The continuous free split: each oil into each portion, no steps, every constraint led back to its source.

It contains every division into premixes, so what is impossible here is impossible for all of them.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from contextlib import contextmanager
from dataclasses import replace
from functools import cached_property

import numpy as np

from blendwise.assignment.problem.problem import Problem, Source
from blendwise.assignment.problem.ready import EPSILON, Frame, whole_shares
from blendwise.assignment.program.core import SOME, Sketch
from blendwise.assignment.program.either_or import add_either, add_slots
from blendwise.assignment.program.program import INF, Draft, Program
from blendwise.assignment.program.solver import Engine
from blendwise.facts.columns import Floats

ROOM = 2.0
"""No cell ever needs more than so many times the total (keeps either-ors finite)."""
BREAKS = 1e-7


class LooseSketch(Sketch):
    """A sketch whose totals may be left out, so that only the cells' own ends are relied on."""

    def peak(self, coefs: Floats) -> Floats:
        """The most (…,) that ``coefs`` (…, premixes, portions) times the amounts could reach."""
        return np.asarray((np.maximum(coefs, 0.0) * self.high).sum(axis=(-2, -1)))


class Freeform:
    """A problem's hard constraints as one program; any of its sources can be left out."""

    def __init__(self, problem: Problem, engine: Engine) -> None:
        self.problem, self.engine = problem, engine
        self._marks: list[tuple[Source, int, int]] = []
        self.sketch = self._begin()
        self._rows()
        self._logic()
        self._cells()
        self._sums()

    @cached_property
    def program(self) -> Program:
        """All of it as one program."""
        return self.sketch.draft.finish()

    @property
    def sources(self) -> tuple[Source, ...]:
        """Every source once, in the order in which they were told."""
        return tuple(dict.fromkeys(source for source, _, _ in self._marks))

    def possible(self, sources: Collection[Source]) -> bool:
        """Whether these sources can all be met at once."""
        kept = frozenset(sources)
        program = self._without(frozenset(self.sources) - kept)
        none = np.zeros(len(program.low))
        rough = self.engine.minimise(program, none, program.row_high, relaxed=True)
        if rough.status == "impossible" or not program.whole.any():
            return rough.status != "impossible"
        return self.engine.minimise(program, none, program.row_high).status != "impossible"

    def witness(self, sources: Collection[Source]) -> Floats | None:
        """Grams (scents, portions) at which these sources are all met; None where they cannot be."""
        program = self._without(frozenset(self.sources) - frozenset(sources))
        found = self.engine.minimise(program, np.zeros(len(program.low)), program.row_high)
        return None if found.values is None else np.asarray(found.values[self.sketch.amount])

    def suspects(self, sources: tuple[Source, ...]) -> tuple[Source, ...]:
        """Fewer sources which still clash: those that matter where all are bent as little as can be."""
        elastic, cost = self._elastic()
        outcome = self.engine.minimise(elastic, cost, elastic.row_high, relaxed=True)
        if outcome.duals is None or outcome.value < BREAKS:
            return sources
        matters = np.abs(outcome.duals) > EPSILON
        some = {source for source, first, end in self._marks if matters[first:end].any()}
        fewer = tuple(source for source in sources if source in some)
        return fewer if fewer and not self.possible(fewer) else sources

    def _begin(self) -> LooseSketch:
        problem = self.problem
        bare = replace(
            problem,
            lower=None,
            upper=None,
            fixed=None,
            empty=None,
            unscented=None,
            must_scent=None,
            rows=tuple(row for row in problem.rows if row.hard),
        )
        frame, draft = Frame(bare, steps=False), Draft()
        shape, most = problem.shape, ROOM * max(self._largest(), EPSILON)
        size = shape[0] * shape[1]
        amount = draft.columns(size, 0.0, most).reshape(shape)
        logical = bool(problem.either) or problem.slots is not None
        used = draft.columns(size if logical else 0, 0.0, 1.0, whole=True)
        groups = tuple((s,) for s in range(shape[0]))
        sketch = LooseSketch(
            frame,
            groups,
            draft,
            frame.coefs,
            np.zeros(shape),
            np.full(shape, most),
            amount,
            used.reshape(shape) if logical else amount,
            None,
        )
        if logical:
            pairs = np.stack([amount.ravel(), used], axis=1)
            draft.table(pairs, np.array([1.0, -most]), -INF, 0.0)
        return sketch

    def _largest(self) -> float:
        given = [part for part in (self.problem.lower, self.problem.fixed) if part is not None]
        return max([self.problem.grams, *(float(np.nan_to_num(part).max()) for part in given)])

    @contextmanager
    def _mark(self, source: Source) -> Iterator[None]:
        """Whatever rows are added inside belong to the source."""
        first = self.sketch.draft.rows
        yield
        if self.sketch.draft.rows > first:
            self._marks.append((source, first, self.sketch.draft.rows))

    def _rows(self) -> None:
        frame, flat = self.sketch.frame, self.sketch.amount.ravel()
        for r, row in enumerate(frame.problem.rows):
            with self._mark(row.source):
                self.sketch.draft.row(flat, frame.coefs[r].ravel(), -INF, float(frame.limits[r]))

    def _logic(self) -> None:
        for either in self.problem.either:
            if either.hard:
                with self._mark(either.source):
                    add_either(self.sketch, either)
        if self.problem.slots is not None and self.problem.slots.hard:
            with self._mark(self.problem.slots.source):
                add_slots(self.sketch, self.problem.slots)

    def _cells(self) -> None:
        problem = self.problem
        for s, p in np.ndindex(problem.shape):
            low, high = self._ends(s, p)
            if low > 0.0 or high < INF:
                default = ("cell", problem.scents[s], problem.portions[p])
                with self._mark(problem.cell_sources.get((s, p), default)):
                    self.sketch.draft.row([self.sketch.amount[s, p]], 1.0, low, high)
        for p in np.flatnonzero(problem.closed):
            with self._mark(problem.portion_sources.get(int(p), ("unscented", problem.portions[p]))):
                self.sketch.draft.row(self.sketch.amount[:, p], 1.0, -INF, 0.0)

    def _ends(self, s: int, p: int) -> tuple[float, float]:
        problem = self.problem
        lows = [part[s, p] for part in (problem.lower, problem.fixed) if part is not None]
        highs = [part[s, p] for part in (problem.upper, problem.fixed) if part is not None]
        closed = [0.0] if problem.empty is not None and problem.empty[s, p] else []
        low = max([float(v) for v in lows if not np.isnan(v)], default=0.0)
        return low, min([float(v) for v in highs if not np.isnan(v)] + closed, default=INF)

    def _sums(self) -> None:
        problem, draft, amount = self.problem, self.sketch.draft, self.sketch.amount
        if problem.dosing == "same total":
            for s, (name, ends) in enumerate(zip(problem.scents, _totals(problem), strict=True)):
                with self._mark(("total", name)):
                    draft.row(amount[s], 1.0, float(ends.min()), float(ends.max()))
            return
        for s, name in enumerate(problem.scents):
            with self._mark(("somewhere", name)):
                draft.row(amount[s], 1.0, SOME * problem.grams, INF)
        must = problem.musts
        for p in np.flatnonzero(~problem.closed):
            scented = draft.columns(1, float(must[p]), 1.0, whole=not must[p])
            dose = 0.0 if problem.dose is None else float(problem.dose[p])
            with self._mark(("dose", problem.portions[p])):
                draft.row(
                    np.append(amount[:, p], scented), np.append(np.ones(problem.shape[0]), -dose), 0.0, 0.0
                )

    def _without(self, dropped: Collection[Source]) -> Program:
        program = self.program
        low, high = program.row_low.copy(), program.row_high.copy()
        for source, first, end in self._marks:
            if source in dropped:
                low[first:end], high[first:end] = -INF, INF
        return replace(program, row_low=low, row_high=high)

    def _elastic(self) -> tuple[Program, Floats]:
        """The program with every row bendable at its own cost."""
        draft, program = Draft(), self.program
        draft.columns(len(program.low), program.low, program.high)
        rows = len(program.row_low)
        up, down = draft.columns(rows, 0.0, INF), draft.columns(rows, 0.0, INF)
        for r in range(rows):
            part = slice(int(program.start[r]), int(program.start[r + 1]))
            columns = np.concatenate([program.index[part], [up[r], down[r]]]).astype(np.int64)
            coefs = np.concatenate([program.value[part], [1.0, -1.0]])
            draft.row(columns, coefs, float(program.row_low[r]), float(program.row_high[r]))
        cost = np.zeros(draft.count)
        cost[len(program.low) :] = 1.0
        return draft.finish(), cost


def _totals(problem: Problem) -> Floats:
    """Each scent's grams (scents, 2), as asked and as whole steps weigh them: no rule forbids an oil which
    forbids it only before it is weighed."""
    asked = problem.blend * problem.grams
    weighed = whole_shares(problem.blend, round(problem.grams / problem.step)) * problem.step
    return np.stack([asked, weighed], axis=1)
