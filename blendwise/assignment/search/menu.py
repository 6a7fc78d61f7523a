"""A portion's menu: the corners of everything it may be given, for each choice of premixes.

With the premixes chosen, what a portion may take is an interval or a polygon.  All that is asked of it
(grams off the blend, missing grams, cautions, its slot on the clock) is linear between the lines on which
something changes, so the corners cut out by limits and by those lines carry everything: every dose is a
mix of corners of its own piece, and the mix never costs more than the dose itself.  That makes the
linear program over corners the tightest bound there is portion by portion.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import combinations

import numpy as np

from blendwise.assignment.problem.goals import NEAR, Measure
from blendwise.assignment.problem.ready import Frame, Group, Groups
from blendwise.assignment.program.program import Ints
from blendwise.assignment.search.portion_rows import Demand, Local, demand
from blendwise.facts.columns import Bools, Floats

LOOSE = 1e-7
TINY = 1e-12


@dataclass(frozen=True)
class Menu:
    """Corners (corners,) of all portions.

    ``portion``; ``units`` (corners, premixes); ``used`` (corners, premixes); ``level``: the first slot of
    the clock that bears it; ``values``: what each measure comes to at the corner.
    """

    portion: Ints
    units: Floats
    used: Bools
    level: Ints
    values: dict[Measure, Floats]


@dataclass(frozen=True, slots=True)
class Order:
    """What a menu must show: cut along what matters to the goals at hand; ``strict``: no caution at all."""

    even: bool
    true: bool
    strict: bool
    near: bool = False


@dataclass(frozen=True)
class Pieces:
    """For one choice of premixes and each portion: ``a @ units <= b`` to keep, ``c @ units == d`` to
    cut along.

    Shapes: ``a`` (portions, rows, chosen), ``b`` (portions, rows), likewise ``c`` and ``d``.
    """

    a: Floats
    b: Floats
    c: Floats
    d: Floats


@dataclass(frozen=True)
class Course:
    """Corners for one choice: their ``portion`` and ``points`` (corners, chosen), what the choice
    itself weighs."""

    choice: tuple[int, ...]
    portion: Ints
    points: Floats
    cost: Floats


@dataclass(frozen=True)
class Division:
    """A division's numbers: rows (rows, premixes, portions), ends and pace (premixes, portions), all
    per unit."""

    groups: Groups
    coefs: Floats
    low: Floats
    high: Floats
    pace: Floats | None


class Kitchen:
    """Makes the menus of one problem; what does not depend on the division is kept."""

    def __init__(self, frame: Frame, local: Local) -> None:
        self.frame, self.local = frame, local
        self._demands: dict[tuple[int, Group], Demand] = {}
        self._alone: dict[tuple[Group, Order], Course] = {}
        problem = frame.problem
        self.must = problem.musts
        self.caps = np.zeros(0) if problem.slots is None else np.asarray(problem.slots.caps)

    def menu(self, division: Division, order: Order) -> Menu | None:
        """The menu of a division, or None where a portion has nothing on it at all."""
        most = min(self.frame.problem.per_portion, 2)
        choices = [c for k in range(most + 1) for c in combinations(range(len(division.groups)), k)]
        courses = [self._course(division, choice, order) for choice in choices]
        served = np.unique(np.concatenate([course.portion for course in courses]))
        return self._finish(division, courses) if len(served) == self.frame.shape[1] else None

    def _course(self, division: Division, choice: tuple[int, ...], order: Order) -> Course:
        allowed = self._allowed(division, choice)
        if len(choice) != 1:
            return self._corners(division, choice, order, allowed)
        key = division.groups[choice[0]], order
        if key not in self._alone:
            everywhere = np.ones(self.frame.shape[1], dtype=np.bool_)
            self._alone[key] = self._corners(division, choice, order, everywhere)
        kept, course = allowed[self._alone[key].portion], self._alone[key]
        return Course(choice, course.portion[kept], course.points[kept], course.cost[kept])

    def _allowed(self, division: Division, choice: tuple[int, ...]) -> Bools:
        """Portions (portions,) which may take exactly this choice, as far as single doses show."""
        cells = list(choice)
        others = [j for j in range(len(division.groups)) if j not in choice]
        allowed = (division.high[cells] > LOOSE).all(axis=0) & (division.low[others] <= LOOSE).all(axis=0)
        return np.asarray(allowed if choice else allowed & ~self.must)

    def _demand(self, p: int, oils: Group) -> Demand:
        key = (p, oils)
        if key not in self._demands:
            self._demands[key] = demand(self.frame, self.local, p, oils)
        return self._demands[key]

    def _corners(self, division: Division, choice: tuple[int, ...], order: Order, allowed: Bools) -> Course:
        oils = tuple(sorted(s for j in choice for s in division.groups[j]))
        asked = [self._demand(p, oils) for p in range(self.frame.shape[1])]
        cost = np.array([each.cost for each in asked])
        allowed = allowed & np.array([each.possible for each in asked])
        if order.strict:
            allowed = allowed & (cost <= 0.0)
        if not choice:
            portion = np.flatnonzero(allowed)
            return Course(choice, portion, np.zeros((len(portion), 0)), cost[portion])
        pieces = self._pieces(division, choice, order, asked)
        points = _on_line(pieces) if len(choice) == 1 else _on_plane(pieces)
        inside = _inside(points, pieces) & allowed[:, None]
        portion = np.nonzero(inside)[0]
        return Course(choice, portion, points[inside], cost[portion])

    def _pieces(
        self, division: Division, choice: tuple[int, ...], order: Order, asked: list[Demand]
    ) -> Pieces:
        frame, cells, portions = self.frame, list(choice), self.frame.shape[1]
        exact = frame.least_is_hard or order.strict
        least = float(frame.least if exact else 1) if frame.steps else 0.0
        unit = np.broadcast_to(np.eye(len(choice)), (portions, len(choice), len(choice)))
        ones = np.ones((portions, 1, len(choice)))
        hard, soft = (
            self._rows(division, cells, self.local.hard),
            self._rows(division, cells, self.local.soft),
        )
        shares = np.stack([frame.shares(division.groups[j]) for j in choice], axis=1) * frame.unit
        keep = [(unit, division.high[cells].T), (-unit, -np.maximum(division.low[cells].T, least)), hard]
        keep += [_asked(asked, shares)]
        cut: list[tuple[Floats, Floats]] = []
        (keep if order.strict else cut).append(soft)
        if not exact and frame.least > 1:
            cut.append((unit, np.full((portions, len(choice)), float(frame.least))))
        if not frame.fixed_total:
            keep += [(ones, frame.doses[:, None]), (-ones, -frame.doses[:, None])]
        if order.even:
            cut.append((ones, frame.target[:, None]))
        if order.true and len(choice) > 1:
            share = np.array([frame.blend[list(division.groups[j])].sum() for j in choice])
            cut.append((share[:, None] - unit, np.zeros((portions, len(choice)))))
        if order.near:
            cut.append((unit, frame.wanted(tuple(division.groups[j] for j in choice)).T))
        if division.pace is not None:
            finite = self.caps[np.isfinite(self.caps)]
            pace = np.broadcast_to(division.pace[cells].T[:, None], (portions, len(finite), len(choice)))
            cut.append((pace, np.broadcast_to(finite - 1.0, (portions, len(finite)))))
        return Pieces(*_joined(keep, len(choice)), *_joined(cut, len(choice)))

    def _rows(self, division: Division, cells: list[int], rows: Ints) -> tuple[Floats, Floats]:
        """The portions' own rows: coefficients (portions, rows, chosen) and limits; padding always holds."""
        portions = np.arange(self.frame.shape[1])[:, None]
        if not rows.shape[1]:
            return np.zeros((len(portions), 0, len(cells))), np.zeros((len(portions), 0))
        some = division.coefs[rows[:, :, None], np.array(cells), portions[:, :, None]]
        padded = rows < 0
        return np.where(padded[:, :, None], 0.0, some), np.where(padded, 1.0, self.frame.limits[rows])

    def _finish(self, division: Division, courses: list[Course]) -> Menu:
        sizes = [len(course.portion) for course in courses]
        portion = np.concatenate([course.portion for course in courses])
        shape = len(portion), len(division.groups)
        units, used = np.zeros(shape), np.zeros(shape, dtype=np.bool_)
        at = 0
        for course, size in zip(courses, sizes, strict=True):
            units[at : at + size, list(course.choice)] = course.points
            used[at : at + size, list(course.choice)] = True
            at += size
        cost = np.concatenate([course.cost for course in courses])
        level = np.zeros(len(portion), dtype=np.int64)
        if division.pace is not None:
            factor = 1.0 + (division.pace.T[portion] * units).sum(axis=1)
            level = np.searchsorted(self.caps, factor - LOOSE, side="left")
        return Menu(portion, units, used, level, self._values(division, portion, units, used, cost))

    def _values(
        self, division: Division, portion: Ints, units: Floats, used: Bools, cost: Floats
    ) -> dict[Measure, Floats]:
        frame, groups, coefs = self.frame, division.groups, division.coefs
        share = np.array([frame.blend[list(group)].sum() for group in groups])
        doses = units.sum(axis=1)
        count, far = cost.copy(), np.zeros(len(portion))
        for k in range(self.local.soft.shape[1]):
            rows = self.local.soft[portion, k]
            over = (coefs[rows, :, portion] * units).sum(axis=1) - frame.limits[rows]
            costs = np.where(rows >= 0, frame.costs[rows], 0.0)
            count += costs * (over > LOOSE)
            far += costs * np.maximum(over, 0.0)
        if not frame.least_is_hard and frame.steps:
            count += (used & (units < frame.least - LOOSE)).sum(axis=1)
        missing = np.maximum(frame.wanted(groups).T[portion] - units, 0.0)
        return {
            NEAR: missing.sum(axis=1) * frame.unit,
            "fewest cautions": count,
            "lightest cautions": far,
            "true to blend": np.maximum(share * doses[:, None] - units, 0.0).sum(axis=1) * frame.unit,
            "few weighings": used.sum(axis=1).astype(float),
            "even scent": np.maximum(frame.target[portion] - doses, 0.0) * frame.unit,
            "quick oils in little batter": (used * frame.haste(groups).T[portion]).sum(axis=1),
            "only where it browns": self._browning(groups, portion, units),
        }

    def _browning(self, groups: Groups, portion: Ints, units: Floats) -> Floats:
        problem = self.frame.problem
        if problem.browning is None or problem.light is None:
            return np.zeros(len(portion))
        share = np.array([self.frame.shares(group)[problem.browning].sum() for group in groups])
        return np.asarray(units @ share * self.frame.unit * problem.light[portion])


def _joined(parts: list[tuple[Floats, Floats]], width: int) -> tuple[Floats, Floats]:
    if not parts:
        return np.zeros((1, 0, width)), np.zeros((1, 0))
    return np.concatenate([a for a, _ in parts], axis=1), np.concatenate([b for _, b in parts], axis=1)


def _asked(asked: list[Demand], shares: Floats) -> tuple[Floats, Floats]:
    """What the either-ors ask (portions, rows, chosen), padded with rows that always hold."""
    width = max(len(each.limits) for each in asked)
    coefs, limits = np.zeros((len(asked), width, shares.shape[1])), np.ones((len(asked), width))
    for p, each in enumerate(asked):
        coefs[p, : len(each.limits)] = each.coefs @ shares
        limits[p, : len(each.limits)] = each.limits
    return coefs, limits


def _lines(pieces: Pieces) -> tuple[Floats, Floats]:
    portions = len(pieces.a)
    c = np.broadcast_to(pieces.c, (portions, *pieces.c.shape[1:]))
    d = np.broadcast_to(pieces.d, (portions, pieces.d.shape[1]))
    return np.concatenate([pieces.a, c], axis=1), np.concatenate([pieces.b, d], axis=1)


def _on_line(pieces: Pieces) -> Floats:
    """Where (portions, lines, 1) the lines meet the axis; infinite where they do not."""
    lines, ends = _lines(pieces)
    with np.errstate(divide="ignore", invalid="ignore"):
        points = ends / np.where(np.abs(lines[:, :, 0]) > TINY, lines[:, :, 0], np.nan)
    points = np.sort(points, axis=1)
    again = np.diff(points, axis=1, prepend=-np.inf) <= TINY
    return np.where(again, np.nan, points)[:, :, None]


@cache
def _pairs(count: int) -> tuple[Ints, Ints]:
    one, other = np.triu_indices(count, 1)
    return one, other


def _on_plane(pieces: Pieces) -> Floats:
    """Where (portions, pairs of lines, 2) every two lines cross; not a number where they do not."""
    lines, ends = _lines(pieces)
    one, other = _pairs(lines.shape[1])
    x1, y1, b1 = lines[:, one, 0], lines[:, one, 1], ends[:, one]
    x2, y2, b2 = lines[:, other, 0], lines[:, other, 1], ends[:, other]
    cross = x1 * y2 - y1 * x2
    size = np.abs(lines).max(axis=2)
    cross = np.where(np.abs(cross) > TINY * size[:, one] * size[:, other], cross, np.nan)
    return np.stack([(b1 * y2 - y1 * b2) / cross, (x1 * b2 - b1 * x2) / cross], axis=2)


def _inside(points: Floats, pieces: Pieces) -> Bools:
    """Which points (portions, points) keep everything; not-a-number keeps nothing."""
    over = (
        np.matmul(points, pieces.a.transpose(0, 2, 1))
        <= (pieces.b + LOOSE * (1.0 + np.abs(pieces.b)))[:, None]
    )
    return np.asarray(over.all(axis=2))
