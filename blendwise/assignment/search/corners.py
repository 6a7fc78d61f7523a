"""A division as a linear program over the corners of its portions' menus: bounds, and a tree on who
takes what."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from blendwise.assignment.problem.goals import Measure
from blendwise.assignment.problem.problem import Slots
from blendwise.assignment.problem.ready import Frame, Groups
from blendwise.assignment.program.core import least_made
from blendwise.assignment.program.division import SLACK
from blendwise.assignment.program.program import INF, Program
from blendwise.assignment.search.menu import Division, Kitchen, Menu, Order
from blendwise.facts.columns import Floats

PURE = 1e-6


@dataclass(frozen=True)
class Corners:
    """The program over corners.

    ``program``: columns are the menu's corners, then one for each cell which may be a premix's only one
    (``alone``).  ``costs``: each measure over the columns, and its constant; ``rows``: where it is bounded.
    """

    groups: Groups
    menu: Menu
    program: Program
    costs: Mapping[Measure, tuple[Floats, float]]
    rows: Mapping[Measure, int]

    def row_high(self, ends: Mapping[Measure, float]) -> Floats:
        """Row ends with every measure in ``ends`` held."""
        high = self.program.row_high.copy()
        for measure, end in ends.items():
            if measure in self.rows:
                high[self.rows[measure]] = end - self.costs[measure][1] + SLACK
        return high

    def usage(self, weights: Floats) -> Floats:
        """How far (portions, premixes) each portion takes each premix, 0 to 1."""
        count = len(self.menu.portion)
        usage = np.zeros((int(self.menu.portion.max()) + 1, len(self.groups)))
        np.add.at(usage, self.menu.portion, weights[:count, None] * self.menu.used)
        return usage

    def units(self, weights: Floats) -> Floats:
        """Units (premixes, portions) which the weights mix to."""
        count = len(self.menu.portion)
        units = np.zeros((int(self.menu.portion.max()) + 1, len(self.groups)))
        np.add.at(units, self.menu.portion, weights[:count, None] * self.menu.units)
        return units.T


def corners_of(
    frame: Frame, kitchen: Kitchen, groups: Groups, measures: Sequence[Measure], order: Order
) -> Corners | None:
    """The program of a division, or None where a premix or a portion alone shows that it is impossible."""
    if not all(frame.possible(group) for group in groups):
        return None
    parts = [frame.group(group) for group in groups]
    coefs, low, high = (np.stack([part[k] for part in parts], axis=int(k == 0)) for k in range(3))
    slots = frame.problem.slots
    clock = slots is not None and slots.hard
    pace = None
    if slots is not None and clock:
        pace = np.stack([frame.shares(group) @ slots.pace * frame.unit for group in groups])
    menu = kitchen.menu(Division(groups, coefs, low, high, pace), order)
    if menu is None:
        return None
    table = Table(frame, groups, menu, _alone(frame, groups, high))
    table.structure()
    if slots is not None and clock:
        table.clock(slots)
    for r in kitchen.local.shared:
        table.add((coefs[r][:, menu.portion].T * menu.units).sum(axis=1), -INF, float(frame.limits[r]))
    costs = {measure: table.cost(measure) for measure in measures if measure in menu.values}
    rows = {measure: table.add(cost, -INF, INF) for measure, (cost, _) in costs.items()}
    return Corners(groups, menu, table.finish(), costs, rows)


def _alone(frame: Frame, groups: Groups, high: Floats) -> list[tuple[int, int]]:
    """Cells (premix, portion) that could take a whole premix of several oils."""
    cells = []
    for j, group in enumerate(groups):
        need = frame.total(group) if frame.fixed_total else 0.0
        if len(group) > 1:
            cells += [(j, p) for p in range(frame.shape[1]) if high[j, p] >= max(need, 1.0) - PURE]
    return cells


class Table:
    """The rows of a division over its corners and its ``alone`` columns."""

    def __init__(self, frame: Frame, groups: Groups, menu: Menu, alone: list[tuple[int, int]]) -> None:
        self.frame, self.groups, self.menu, self.alone = frame, groups, menu, alone
        self.alone_of = np.array([j for j, _ in alone], dtype=np.int64)
        self.count = len(menu.portion) + len(alone)
        self.high = np.ones(self.count)
        self._rows: list[Floats] = []
        self._ends: list[tuple[float, float]] = []

    def add(self, row: Floats, low: float, high: float) -> int:
        """A row over all columns, or over the corners only; its number."""
        full = np.zeros(self.count)
        full[: len(row)] = row
        self._rows.append(full)
        self._ends.append((low, high))
        return len(self._rows) - 1

    def structure(self) -> None:
        """Each portion takes one thing from its menu; premixes are used up; what goes to one portion
        alone."""
        menu, portions = self.menu, self.frame.shape[1]
        for p in range(portions):
            self.add((menu.portion == p).astype(float), 1.0, 1.0)
        for j, group in enumerate(self.groups):
            used = menu.used[:, j].astype(float)
            if self.frame.fixed_total:
                total = self.frame.total(group)
                self.add(menu.units[:, j], total, total)
            elif self.frame.steps:
                self.add(menu.units[:, j], least_made(self.frame, group), INF)
            self.add(used, 1.0 if self.frame.steps else 0.0, INF)
            mine = (self.alone_of == j) * (portions - 1.0)
            if mine.any():
                self.add(np.concatenate([used, mine]), -INF, float(portions))
        for k, (j, p) in enumerate(self.alone):
            self._all_of_it(k, j, p)

    def _all_of_it(self, k: int, j: int, p: int) -> None:
        """Where portion p is premix j's only one, it takes all of it."""
        total = self.frame.total(self.groups[j]) if self.frame.fixed_total else 1.0
        row = np.zeros(self.count)
        row[: len(self.menu.portion)] = self.menu.units[:, j] * (self.menu.portion == p)
        row[len(self.menu.portion) + k] = -total
        self.add(row, 0.0, INF)

    def clock(self, slots: Slots) -> None:
        """At most so many portions need a slot later than k; or each keeps the cap of the slot it was
        given."""
        menu, last = self.menu, len(slots.caps)
        corners = self.high[: len(menu.portion)]
        corners[menu.level >= last] = 0.0
        if slots.order is not None:
            place = np.argsort(np.array(slots.order))
            corners[menu.level > place[menu.portion]] = 0.0
            return
        for k in range(last - 1):
            late = (menu.level > k).astype(float)
            if late.any():
                self.add(late, -INF, float(last - 1 - k))

    def cost(self, measure: Measure) -> tuple[Floats, float]:
        """A measure over the columns, and its constant."""
        row, constant = np.zeros(self.count), 0.0
        row[: len(self.menu.portion)] = self.menu.values[measure]
        if measure == "few weighings":
            row[len(self.menu.portion) :] = -1.0
            constant = float(sum(len(group) for group in self.groups if len(group) > 1))
        if measure == "fewest cautions":
            constant = float(self.frame.small_parts(self.groups))
        return row, constant

    def finish(self) -> Program:
        """The arrays."""
        matrix = np.stack(self._rows)
        where = np.nonzero(matrix)
        start = np.concatenate([[0], np.cumsum(np.bincount(where[0], minlength=len(matrix)))])
        ends = np.array(self._ends)
        return Program(
            np.zeros(self.count),
            self.high,
            np.zeros(self.count, dtype=np.bool_),
            ends[:, 0].copy(),
            ends[:, 1].copy(),
            start.astype(np.int32),
            where[1].astype(np.int32),
            matrix[where],
        )
