"""The least change that makes a plan work: shares of the blend, masses of the portions, the load.

Solved in masses on the continuous free split, with every bound affine in doses, portion masses and total:
``min sum a_s e_s + sum b_p g_p + c h`` with ``|sum_p x_sp - share_s T| <= e_s T0``,
``|M_p - w_p (u0 - u1 T)| <= g_p U0``, ``|T - T0| <= h T0``, ``sum M_p = u0 - u1 T`` (the mould stays full).
Then on amounts that can be said aloud: whole per cents of the blend and of the batter, the load in steps of
a tenth of a per cent of the oils; for each load in turn the best such amounts are found exactly.
"""

from __future__ import annotations

import time
from dataclasses import dataclass, replace

import numpy as np

from blendwise.assignment.problem.problem import Problem
from blendwise.assignment.program.free_split import Freeform
from blendwise.assignment.program.program import INF, Draft, Ints, Program
from blendwise.assignment.program.solver import Engine
from blendwise.assignment.result import Result
from blendwise.assignment.search.solve import Ask, solve
from blendwise.facts.columns import Floats

SAID = 0.01
"""Shares of the blend and of the batter move in whole per cents."""
LOAD_STEP = 0.001
"""The load moves in tenths of a per cent of the oils."""
BETTER = 1e-6
EASE = (0.0, 0.01, 0.03, 0.06)
"""By what share of its scale each limit is kept at a distance, until an answer in whole steps exists."""


Place = tuple[Ints, Floats]
"""Columns and steps of one share: so many whole per cents, or as asked."""


@dataclass(frozen=True, slots=True)
class Weights:
    """How unwelcome changes are: of one oil's share, of one portion's share, of the load (each a
    fraction)."""

    blend: float = 1.0
    portion: float = 1.0
    load: float = 1.0


@dataclass(frozen=True)
class Change:
    """A change that makes the plan work.

    ``blend`` (scents,) and ``portions`` (portions,) as shares, ``load`` of all oils, each with what was asked
    beside it; ``total`` g of scent, ``mass`` (portions,) g; ``cost`` as weighed.  ``proven``: nothing on
    the same grid costs less.  ``least``: what the least change off the grid would cost.
    """

    blend: Floats
    blend_asked: Floats
    portions: Floats
    portions_asked: Floats
    load: float
    load_asked: float
    total: float
    mass: Floats
    cost: float
    least: float
    proven: bool

    @property
    def nothing(self) -> bool:
        """Whether nothing needs to change."""
        return self.cost <= BETTER


class Changer:
    """One problem's least change; ``problem.mass`` and ``mass_empty`` must be known for portions to move."""

    def __init__(self, problem: Problem, weights: Weights | None = None) -> None:
        self.problem, self.weights, self.engine = problem, weights or Weights(), Engine()
        self.total = problem.grams
        self.oils = float(problem.portion_oils.sum())
        mass = problem.portion_oils if problem.mass is None else problem.mass
        self.mass = np.asarray(mass, dtype=np.float64)
        self.movable = problem.mass is not None
        self.full = float(self.mass.sum())

    def least(self, seconds: float = 5.0) -> Change | None:
        """The least change on amounts that can be said aloud; None where no change of this kind helps."""
        deadline = time.monotonic() + seconds
        rough = self._rough()
        if rough is None:
            return None
        best: tuple[float, Floats, Floats, float] | None = None
        proven = True
        for total in self._totals(rough[1]):
            if time.monotonic() > deadline:
                proven = False
                break
            share = abs(total - self.total) / max(self.total, BETTER) * self.weights.load
            found = self.said(total, INF if best is None else best[0] - share - BETTER)
            if found is not None:
                best = (found[0] + share, found[1], found[2], total)
        return None if best is None else self._change(best, rough[0], proven)

    def _change(self, best: tuple[float, Floats, Floats, float], rough: float, proven: bool) -> Change:
        cost, blend, portions, total = best
        return Change(
            blend,
            self.problem.blend,
            portions,
            self.mass / self.full,
            total / self.oils,
            self.total / self.oils,
            total,
            portions * self._room(total),
            cost,
            rough,
            proven,
        )

    def _room(self, total: float) -> float:
        """Batter (g) that fills the mould together with ``total`` g of scent."""
        return self.full - self.problem.mass_per_scent * (total - self.total)

    def _totals(self, likely: float) -> list[float]:
        """Total scent (g): as asked, and every load on the grid, those near the ``likely`` total first."""
        asked = self.total / self.oils
        loads = [k * LOAD_STEP for k in range(1, 2 * round(asked / LOAD_STEP) + 1)]
        totals = [self.total, *(load * self.oils for load in loads if abs(load - asked) > BETTER)]
        return sorted(totals, key=lambda total: (round(abs(total - likely), 6), total))

    def _rough(self) -> tuple[float, float] | None:
        """Cost and total of the least change off the grid, or None where even that does not exist."""
        draft, parts = self._begin()
        amount, mass, total = parts
        bent = draft.columns(len(self.problem.blend), 0.0, INF)
        moved = draft.columns(len(self.mass), 0.0, INF if self.movable else 0.0)
        off = draft.columns(1, 0.0, 1.0)
        for s, share in enumerate(self.problem.blend):
            for sign in (1.0, -1.0):
                columns = np.concatenate([amount[s], total, bent[[s]]])
                coefs = [*np.full(len(self.mass), sign), -sign * share, -self.total]
                draft.row(columns, coefs, -INF, 0.0)
        for p, w in enumerate(self.mass / self.full):
            for sign in (1.0, -1.0):
                end = sign * w * (self.full + self.problem.mass_per_scent * self.total)
                coefs = [sign, sign * w * self.problem.mass_per_scent, -self.full]
                draft.row([mass[p], total[0], moved[p]], coefs, -INF, end)
        for sign in (1.0, -1.0):
            draft.row([total[0], off[0]], [sign, -self.total], -INF, sign * self.total)
        cost = np.zeros(draft.count)
        cost[bent], cost[moved] = self.weights.blend, self.weights.portion
        cost[off] = self.weights.load
        outcome = self._solve(draft.finish(), cost)
        return None if outcome is None else (outcome[0], float(outcome[1][total[0]]))

    def said(self, total: float, below: float) -> tuple[float, Floats, Floats] | None:
        """With this total (g): cheapest whole per cents (blend, portions) that work and cost at most
        ``below``."""
        draft, (amount, mass, _) = self._begin(total)
        blend, blend_cost = self._grid(draft, self.problem.blend, True)
        share, share_cost = self._grid(draft, self.mass / self.full, self.movable)
        for s, (columns, steps) in enumerate(blend):
            terms = np.concatenate([amount[s], columns])
            draft.row(terms, [*np.ones(len(self.mass)), *(-steps * total)], 0.0, 0.0)
        for p, (columns, steps) in enumerate(share):
            draft.row([mass[p], *columns], [1.0, *(-steps * self._room(total))], 0.0, 0.0)
        cost = np.zeros(draft.count)
        for columns, each in blend_cost:
            cost[columns] = each * self.weights.blend * total / max(self.total, BETTER)
        for columns, each in share_cost:
            cost[columns] = each * self.weights.portion * self._room(total) / self.full
        if below < 0.0:
            return None
        if below < INF:
            kept = np.flatnonzero(cost)
            draft.row(kept, cost[kept], -INF, below)
        outcome = self._solve(draft.finish(), cost)
        if outcome is None:
            return None
        value, at = outcome
        return value, _read(blend, at), _read(share, at)

    def _grid(
        self, draft: Draft, asked: Floats, movable: bool
    ) -> tuple[list[Place], list[tuple[Ints, Floats]]]:
        """Shares that stay as asked or take a whole per cent: columns and steps of each share, and costs."""
        places, costs = [], []
        for share in asked:
            stay = draft.columns(1, 0.0 if movable else 1.0, 1.0, whole=True)
            said = draft.columns(1, 0.0, 100.0 if movable else 0.0, whole=True)
            away = draft.columns(1, 0.0, 1.0)
            draft.row([said[0], stay[0]], [1.0, 100.0], -INF, 100.0)
            draft.row([said[0], stay[0]], [1.0, 1.0], 1.0, INF)
            for sign in (1.0, -1.0):
                coefs = [sign * SAID, sign * share, -1.0]
                draft.row([said[0], stay[0], away[0]], coefs, -INF, sign * share)
            places.append((np.concatenate([said, stay]), np.array([SAID, share])))
            costs.append((away, np.ones(1)))
        columns = np.concatenate([place[0] for place in places])
        draft.row(columns, np.concatenate([place[1] for place in places]), 1.0, 1.0)
        return places, costs

    def _begin(self, total: float | None = None) -> tuple[Draft, tuple[Ints, Ints, Ints]]:
        """The rows that must hold, affine in doses, masses and total; columns of these."""
        form = Freeform(self.problem, self.engine, totals=False)
        draft, amount = form.sketch.draft, form.sketch.amount
        movable = (0.0, self.full * 2.0) if self.movable else (self.mass, self.mass)
        mass = draft.columns(len(self.mass), *movable)
        scent = draft.columns(1, total or 0.0, total or 3.0 * self.total)
        form.bend(mass, scent, self.mass, self.total)
        draft.row(np.concatenate([amount.ravel(), scent]), [*np.ones(amount.size), -1.0], 0.0, 0.0)
        full = self.full + self.problem.mass_per_scent * self.total
        if self.movable:
            draft.row(
                np.concatenate([mass, scent]), [*np.ones(len(mass)), self.problem.mass_per_scent], full, full
            )
        return draft, (amount, mass, scent)

    def _solve(self, program: Program, cost: Floats) -> tuple[float, Floats] | None:
        bound = self.engine.minimise(program, cost, program.row_high, relaxed=True)
        if bound.status == "impossible":
            return None
        outcome = self.engine.minimise(program, cost, program.row_high, seconds=2.0)
        return None if outcome.values is None else (outcome.value, outcome.values)


def _read(places: list[Place], at: Floats) -> Floats:
    return np.array([float(np.round(at[columns]) @ steps) for columns, steps in places])


def least_change(problem: Problem, weights: Weights | None = None, seconds: float = 5.0) -> Change | None:
    """The least change of blend, portions and load under which all hard rules can hold; *same total* only.

    None where none does (a rule that no dose, share or load can meet), or where the dosing is per portion.
    """
    if problem.dosing != "same total" or problem.grams <= 0.0:
        return None
    return Changer(problem, weights).least(seconds)


def workable_change(
    problem: Problem, ask: Ask, weights: Weights | None = None, seconds: float = 8.0
) -> tuple[Change, Result] | None:
    """A least change after which whole steps serve too: limits are kept at a little distance until they do.

    None where none was found in ``seconds``.
    """
    deadline = time.monotonic() + seconds
    for room in EASE:
        left = deadline - time.monotonic()
        change = least_change(eased(problem, room), weights, left / 2) if left > 0 else None
        if change is None:
            return None
        result = solve(changed(problem, change), ask)
        if result.best is not None:
            return change, result
    return None


def eased(problem: Problem, room: float) -> Problem:
    """The problem with every hard row tighter by ``room`` of its scale."""
    rows = tuple(replace(row, a0=row.a0 + room * row.scale) if row.hard else row for row in problem.rows)
    return replace(problem, rows=rows)


def changed(problem: Problem, change: Change) -> Problem:
    """The problem as it would be after the change, its rows moved with the masses and the total."""
    total = change.total
    mass = problem.portion_oils if problem.mass is None else problem.mass
    rows = tuple(
        replace(
            row, a0=row.a0 + row.on_total * (total - problem.grams) + _moved(row.on_mass, change.mass - mass)
        )
        for row in problem.rows
    )
    oils = problem.portion_oils * change.mass / mass
    return replace(
        problem,
        blend=change.blend / change.blend.sum(),
        total=total,
        rows=rows,
        portion_oils=oils,
        mass=change.mass if problem.mass is not None else None,
    )


def _moved(on_mass: Floats | None, by: Floats) -> float:
    return 0.0 if on_mass is None else float(on_mass @ by)
