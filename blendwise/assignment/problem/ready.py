"""A problem made ready: rows stacked and normalised, totals in whole steps, a group's bounds kept."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property
from math import gcd

import numpy as np

from blendwise.assignment.problem.problem import STRICT, EitherOr, Problem, Row
from blendwise.assignment.problem.sides import Sides, sides_of
from blendwise.facts.columns import Bools, Floats

Group = tuple[int, ...]
Groups = tuple[Group, ...]
EPSILON = 1e-9


def whole_shares(shares: Floats, total: int) -> Floats:
    """Whole numbers in proportion to ``shares`` that sum to ``total`` (largest remainders, ties by
    position)."""
    exact = shares / shares.sum() * total
    floor: Floats = np.floor(exact + EPSILON)
    short = round(total - float(floor.sum()))
    first = np.argsort(-np.round(exact - floor, 9), kind="stable")[: max(short, 0)]
    floor[first] += 1.0
    return floor


def stack(rows: Iterable[Row], shape: tuple[int, int]) -> tuple[Floats, Floats]:
    """Rows as ``A`` (rows, scents, portions) and ``b`` (rows,) with ``A x <= b``, as shares of their
    scales."""
    kept = tuple(rows)
    if not kept:
        return np.zeros((0, *shape)), np.zeros(0)
    scale = np.array([row.scale for row in kept])
    strict = np.array([STRICT if row.strict else 0.0 for row in kept])
    coefs = np.stack([row.a for row in kept]) / scale[:, None, None]
    return coefs, -np.array([row.a0 for row in kept]) / scale - strict


def logic_items(problem: Problem) -> tuple[Row | EitherOr, ...]:
    """Rows and either-ors, in order."""
    return (*problem.rows, *problem.either)


class Frame:
    """Numbers of a problem that do not depend on the division.

    ``steps``: whether weighings are whole steps of the scale, each at least the problem's least number;
    without, doses are continuous (the relaxation on which conflicts are proved).
    ``grams`` (scents,): what is weighed of each scent in *same total*; ``dose`` (portions,) in *same dose*.
    """

    def __init__(self, problem: Problem, steps: bool = True) -> None:
        self.problem, self.steps = problem, steps
        self.shape = problem.shape
        self.fixed_total = problem.dosing == "same total"
        self.unit = problem.step if steps else 1.0
        self.least = problem.min_steps if steps else 0
        self.least_is_hard = problem.step_stated
        self.coefs, self.limits = stack(problem.rows, self.shape)
        self.hard = np.array([row.hard for row in problem.rows], dtype=np.bool_)
        self.costs = np.array([row.cost for row in problem.rows], dtype=np.float64)
        open_ended = ((item.uncertain, item.cost) for item in logic_items(problem))
        self.uncertain = tuple((mask, cost) for mask, cost in open_ended if mask is not None)
        self._totals()
        self._cells()
        self._kept: dict[Group, tuple[Floats, Floats, Floats]] = {}

    def _totals(self) -> None:
        problem, size = self.problem, self.unit
        asked = (
            np.zeros(self.shape[1]) if problem.dose is None else np.where(problem.closed, 0.0, problem.dose)
        )
        if self.steps:
            self.weighed = whole_shares(problem.blend, round(problem.grams / size))
            self.doses = np.floor(asked / size + 0.5)
        else:
            self.weighed = problem.blend * problem.grams
            self.doses = asked
        if not self.fixed_total:
            self.weighed = problem.blend * problem.grams / size

    @cached_property
    def blend(self) -> Floats:
        """Shares (scents,) of the bar's scent as they will be weighed."""
        total = self.weighed.sum()
        return self.problem.blend if total <= 0 or not self.fixed_total else self.weighed / total

    @cached_property
    def caution(self) -> float:
        """By how much fewer cautions are fewer at least: all their costs are multiples of it (0: no such)."""
        slots = self.problem.slots
        soft = [item for item in (*logic_items(self.problem), *([slots] if slots else ())) if not item.hard]
        costs = [1.0, *(item.cost for item in soft), *(cost for _, cost in self.uncertain)]
        tenths = [round(10 * cost) for cost in costs]
        exact = all(abs(10 * cost - n) < EPSILON for cost, n in zip(costs, tenths, strict=True))
        return gcd(*tenths) / 10 if exact else 0.0

    @cached_property
    def sides(self) -> Sides:
        """The either-ors as arrays."""
        return sides_of(self.problem.either, self.shape, STRICT)

    @cached_property
    def grams(self) -> float:
        """All the scent, g."""
        return float((self.weighed.sum() if self.fixed_total else self.doses.sum()) * self.unit)

    @cached_property
    def target(self) -> Floats:
        """An even dose (portions,) in units: per gram of oils over the open portions, or the dose asked."""
        if not self.fixed_total:
            return self.doses
        open_oils = np.where(self.problem.closed, 0.0, self.problem.portion_oils)
        return open_oils / max(float(open_oils.sum()), EPSILON) * float(self.weighed.sum())

    def _cells(self) -> None:
        problem = self.problem
        self.low, self.high = np.zeros(self.shape), np.full(self.shape, np.inf)
        slack = np.broadcast_to(np.asarray(self.pin_slack).reshape(-1, 1), self.shape)
        for given, part, room in (
            (problem.lower, "low", 0.0),
            (problem.upper, "high", 0.0),
            (problem.fixed, "low", -slack),
            (problem.fixed, "high", slack),
        ):
            if given is not None:
                self._narrow(part, given + room)
        closed = np.broadcast_to(problem.closed, self.shape)
        self.high[closed if problem.empty is None else closed | problem.empty] = 0.0
        if problem.fixed is not None:
            self.high[problem.fixed == 0.0] = 0.0

    def _narrow(self, part: str, given: Floats) -> None:
        known = ~np.isnan(given)
        if part == "low":
            self.low[known] = np.maximum(self.low[known], given[known])
        else:
            self.high[known] = np.minimum(self.high[known], given[known])

    @cached_property
    def pin_slack(self) -> Floats:
        """How far (scents,) in g a fixed dose may be off: half a step, and what rounding did to the
        scent's total."""
        if not self.steps:
            return np.zeros(self.shape[0])
        off = np.abs(self.weighed * self.unit - self.problem.blend * self.problem.grams)
        return np.asarray(0.5 * self.unit + off * self.fixed_total + EPSILON)

    def shares(self, group: Group) -> Floats:
        """Shares (scents,) within a premix, zero outside it."""
        share = np.zeros(self.shape[0])
        amounts = (
            self.weighed[list(group)]
            if self.weighed[list(group)].sum() > 0
            else self.problem.blend[list(group)]
        )
        share[list(group)] = amounts / amounts.sum()
        return share

    def wanted(self, groups: Groups) -> Floats:
        """Units (premixes, portions) that the plan as written gives of each premix."""
        asked = self.problem.as_written
        if asked is None:
            return np.zeros((len(groups), self.shape[1]))
        return np.stack([asked[list(group)].sum(axis=0) for group in groups]) / self.unit

    def haste(self, groups: Groups) -> Floats:
        """What (premixes, portions) it costs that a portion holds any of a premix: its oils' haste there."""
        haste = self.problem.haste
        if haste is None:
            return np.zeros((len(groups), self.shape[1]))
        return np.stack([haste[list(group)].sum(axis=0) for group in groups])

    def group(self, group: Group) -> tuple[Floats, Floats, Floats]:
        """For a premix, per unit of it: row coefficients (rows, portions), least and most units
        (portions,)."""
        if group not in self._kept:
            self._kept[group] = self._measure(group)
        return self._kept[group]

    def _measure(self, group: Group) -> tuple[Floats, Floats, Floats]:
        share = self.shares(group) * self.unit
        members = list(group)
        coefs = np.tensordot(share[members], self.coefs[:, members, :], axes=(0, 1))
        with np.errstate(divide="ignore", invalid="ignore"):
            low = np.max(self.low[members] / share[members, None], axis=0)
            high = np.min(self.high[members] / share[members, None], axis=0)
        high = np.minimum(high, self.total(group) if self.fixed_total else self.doses)
        high = np.minimum(high, self._row_caps(coefs))
        return coefs, self._up(low), self._down(high)

    def _row_caps(self, coefs: Floats) -> Floats:
        """Most units (portions,) which the hard rows without negative terms allow."""
        plain = self.hard & (self.coefs >= 0).all(axis=(1, 2)) if len(self.limits) else self.hard
        if not plain.any():
            return np.full(self.shape[1], np.inf)
        some = coefs[plain]
        room = np.maximum(self.limits[plain], 0.0)[:, None]
        with np.errstate(divide="ignore", invalid="ignore"):
            caps = np.where(some > EPSILON, room / some, np.inf)
        return np.asarray(caps.min(axis=0))

    def _down(self, amount: Floats) -> Floats:
        if not self.steps:
            return amount
        whole = np.floor(amount + 1e-7)
        least = self.least if self.least_is_hard else 1
        return np.where(whole < least, 0.0, whole)

    def _up(self, amount: Floats) -> Floats:
        return np.ceil(amount - 1e-7) if self.steps else amount

    def total(self, group: Group) -> float:
        """Units of a premix in all (same total)."""
        return float(self.weighed[list(group)].sum())

    def possible(self, group: Group) -> bool:
        """Whether the premix alone finds room (a cheap test that never refuses what is possible)."""
        _, low, high = self.group(group)
        if (low > high + EPSILON).any():
            return False
        return not self.fixed_total or float(high.sum()) >= self.total(group) - 1e-6

    def small_parts(self, groups: Groups) -> int:
        """Oils that go into a premix of several with fewer steps than asked, where that is but a caution."""
        if self.least_is_hard or not self.steps or not self.fixed_total:
            return 0
        parts = [s for group in groups if len(group) > 1 for s in group]
        return int((self.weighed[parts] < self.least).sum())

    @cached_property
    def weighable(self) -> Bools:
        """Scents (scents,) whose own amount can be weighed at the least number of steps."""
        if not self.fixed_total:
            return np.ones(self.shape[0], dtype=np.bool_)
        least = float(self.least) if self.least_is_hard else min(self.least, 1.0)
        return np.asarray(self.weighed >= max(least, EPSILON))
