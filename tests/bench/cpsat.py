"""The same assignment model for OR-Tools CP-SAT: every subset of oils may be a premix, goals in the
same order.

Coefficients are whole numbers at ``FINE`` to the unit, so its answers may differ in the last digits; it is
here to be timed, not to be believed.
"""

from __future__ import annotations

import time
from itertools import combinations
from typing import Any

import numpy as np
from ortools.sat.python import cp_model

from blendwise.assignment.problem.goals import band, gap
from blendwise.assignment.problem.problem import Alternative, Problem, Slots
from blendwise.assignment.problem.ready import Frame, stack
from blendwise.assignment.search.best_first import measures_of

FINE = 1_000_000
COARSE = 1_000


class SameModel:
    """One CP-SAT model over all subsets; ``solve`` runs the goals one after the other, on one thread."""

    def __init__(self, problem: Problem) -> None:
        self.problem, self.frame, self.model = problem, Frame(problem), cp_model.CpModel()
        oils = range(problem.shape[0])
        subsets = [g for k in range(1, len(oils) + 1) for g in combinations(oils, k)]
        self.groups = [g for g in subsets if self.frame.possible(g)]
        self.portions = range(problem.shape[1])
        self.broken: list[tuple[Any, float]] = []
        self.excess: list[tuple[Any, float]] = []
        self._amounts()
        self._rows()
        for either in problem.either:
            choices = [self._alternative(alternative) for alternative in either.alternatives]
            self.model.add_bool_or(choices)
        if problem.slots is not None:
            self._slots(problem.slots)

    def _amounts(self) -> None:
        frame, model = self.frame, self.model
        highs = [np.where(np.isfinite(h := frame.group(g)[2]), h, 0).astype(int) for g in self.groups]
        self.chosen = [model.new_bool_var("") for _ in self.groups]
        self.amount = [[model.new_int_var(0, int(h[p]), "") for p in self.portions] for h in highs]
        self.used = [[model.new_bool_var("") for _ in self.portions] for _ in self.groups]
        for j, group in enumerate(self.groups):
            model.add(sum(self.amount[j]) == int(frame.total(group)) * self.chosen[j])
            for p in self.portions:
                model.add(self.amount[j][p] >= frame.least * self.used[j][p])
                model.add(self.amount[j][p] <= int(highs[j][p]) * self.used[j][p])
        for s in range(frame.shape[0]):
            model.add_exactly_one(self.chosen[j] for j, group in enumerate(self.groups) if s in group)
        model.add(sum(self.chosen) <= self.problem.premixes)
        for p in self.portions:
            model.add(sum(used[p] for used in self.used) <= self.problem.per_portion)

    def _sum(self, per_gram: np.ndarray, scale: int) -> Any:
        """A linear form in grams (scents, portions) over the amounts, times ``scale``."""
        terms = []
        for j, group in enumerate(self.groups):
            per_unit = self.frame.shares(group) @ per_gram * self.frame.unit * scale
            terms += [round(float(c)) * self.amount[j][p] for p, c in enumerate(per_unit) if abs(c) > 0]
        return sum(terms)

    def _rows(self) -> None:
        for r, row in enumerate(self.problem.rows):
            form, limit = self._sum(self.frame.coefs[r], FINE), round(float(self.frame.limits[r]) * FINE)
            if row.hard:
                self.model.add(form <= limit)
                continue
            over, broken = self.model.new_int_var(0, 50 * FINE, ""), self.model.new_bool_var("")
            self.model.add(form <= limit + over)
            self.model.add(over <= 50 * FINE * broken)
            self.broken.append((broken, row.cost))
            self.excess.append((over, row.cost))

    def _alternative(self, alternative: Alternative) -> Any:
        chosen = self.model.new_bool_var("")
        coefs, limits = stack(alternative.rows, self.frame.shape)
        for a, b in zip(coefs, limits, strict=True):
            self.model.add(self._sum(a, FINE) <= round(float(b) * FINE)).only_enforce_if(chosen)
        cells = [(j, p) for s, p in alternative.empty for j, g in enumerate(self.groups) if s in g]
        cells += [(j, p) for p in alternative.unscented for j in range(len(self.groups))]
        for j, p in cells:
            self.model.add_implication(chosen, self.used[j][p].negated())
        return chosen

    def _slots(self, slots: Slots) -> None:
        caps = [round(float(min(cap, 1e3)) * FINE) for cap in slots.caps]
        slot = [[self.model.new_bool_var("") for _ in caps] for _ in self.portions]
        for p in self.portions:
            self.model.add_exactly_one(slot[p])
            self.model.add_exactly_one(row[p] for row in slot)
            one = np.zeros(self.frame.shape)
            one[:, p] = slots.pace[:, p]
            self.model.add(
                FINE + self._sum(one, FINE) <= sum(c * s for c, s in zip(caps, slot[p], strict=True))
            )

    def _goal(self, measure: str) -> tuple[Any, float]:
        """The goal's form and what one of its own units counts in it."""
        unit, frame = self.frame.unit, self.frame
        if measure == "fewest cautions":
            return sum(round(c * COARSE) * b for b, c in self.broken), COARSE
        if measure == "lightest cautions":
            return sum(round(c * 10) * o for o, c in self.excess), FINE * 10
        if measure == "few weighings":
            return self._weighings(), 1.0
        missing = []
        if measure == "even scent":
            for p in self.portions:
                gone = self.model.new_int_var(0, 10**7 * COARSE, "")
                given = sum(amount[p] for amount in self.amount)
                self.model.add(gone >= round(float(frame.target[p]) * COARSE) - given * COARSE)
                missing.append(gone)
            return sum(missing), COARSE / unit
        for s in range(frame.shape[0]):
            for p in self.portions:
                form = np.zeros(frame.shape)
                form[:, p] = frame.blend[s]
                form[s, p] -= 1.0
                gone = self.model.new_int_var(0, 10**7 * COARSE, "")
                self.model.add(gone >= self._sum(form, COARSE))
                missing.append(gone)
        return sum(missing), float(COARSE)

    def _weighings(self) -> Any:
        terms: list[Any] = []
        for j, group in enumerate(self.groups):
            terms += self.used[j]
            if len(group) > 1:
                alone = self.model.new_bool_var("")
                self.model.add(sum(self.used[j]) <= 1).only_enforce_if(alone)
                self.model.add_implication(alone, self.chosen[j])
                terms += [len(group) * self.chosen[j], -1 * alone]
        return sum(terms)

    def solve(self, share: float, seconds: float) -> tuple[str, dict[str, float], float]:
        """Status, values by goal and seconds taken, for an absolute gap of ``share`` of the total."""
        begun = time.perf_counter()
        values: dict[str, float] = {}
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        for measure in measures_of(self.frame):
            form, per = self._goal(measure)
            self.model.minimize(form)
            solver.parameters.absolute_gap_limit = max(gap(measure, self.frame.grams, share) * per, 1e-3)
            solver.parameters.max_time_in_seconds = max(seconds - (time.perf_counter() - begun), 0.01)
            status = solver.solve(self.model)
            if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                return solver.status_name(status), values, time.perf_counter() - begun
            values[measure] = solver.objective_value / per
            end = solver.objective_value + band(measure, self.frame.grams, solver.objective_value / per) * per
            if not isinstance(form, int):
                self.model.add(form <= int(np.floor(end + 1e-6)))
        return "OPTIMAL" if status == cp_model.OPTIMAL else "FEASIBLE", values, time.perf_counter() - begun
