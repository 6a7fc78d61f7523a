"""A portion's menu: the corners of everything it may be given, for each choice of premixes.

With the premixes chosen, what a portion may take is an interval or a polygon.  All that is asked of it
(grams off the blend, missing grams, cautions, its slot on the clock) is linear between the lines on which
something changes, so the corners cut out by limits and by those lines carry everything: every dose is a
mix of corners of its own piece, and the mix never costs more than the dose itself.  That makes the
linear program over corners the tightest bound there is portion by portion.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np

from blendwise.assignment.frame import Frame, Group, Groups
from blendwise.assignment.goals import Measure
from blendwise.assignment.local import Demand, Local, demand
from blendwise.assignment.program import Ints
from blendwise.facts.columns import Bools, Floats

LOOSE = 1e-7


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


@dataclass(frozen=True)
class Piece:
    """Lines of one portion and one choice of premixes: ``a @ units <= b`` to keep, ``c @ units == d`` to cut along."""

    a: Floats
    b: Floats
    c: Floats
    d: Floats
    cost: float


class Kitchen:
    """Makes the menus of one problem; what does not depend on the division is kept."""

    def __init__(self, frame: Frame, local: Local) -> None:
        self.frame, self.local = frame, local
        self._demands: dict[tuple[int, Group], Demand] = {}
        problem = frame.problem
        self.must = np.zeros(frame.shape[1], dtype=np.bool_)
        if problem.must_scent is not None:
            self.must = problem.must_scent & ~problem.closed
        self.caps = np.zeros(0) if problem.slots is None else np.asarray(problem.slots.caps)

    def menu(
        self, groups: Groups, coefs: Floats, low: Floats, high: Floats, pace: Floats | None
    ) -> Menu | None:
        """The menu of a division: ``coefs`` (rows, premixes, portions), ends (premixes, portions) in units.

        None where a portion has nothing on it at all.
        """
        most = min(self.frame.problem.per_portion, 2)
        choices = [c for k in range(most + 1) for c in combinations(range(len(groups)), k)]
        corners: list[tuple[int, Floats, tuple[int, ...], float]] = []
        for p in range(self.frame.shape[1]):
            before = len(corners)
            for choice in choices:
                if self._allowed(choice, p, low, high):
                    found = self._corners(groups, choice, p, coefs, low, high, pace)
                    if found is not None and len(found[0]):
                        corners.append((p, found[0], choice, found[1]))
            if len(corners) == before:
                return None
        return self._finish(groups, coefs, pace, corners)

    def _allowed(self, choice: tuple[int, ...], p: int, low: Floats, high: Floats) -> bool:
        if not choice and self.must[p]:
            return False
        others = [j for j in range(len(low)) if j not in choice]
        return bool((high[list(choice), p] > LOOSE).all() and (low[others, p] <= LOOSE).all())

    def _demand(self, p: int, oils: Group) -> Demand:
        key = (p, oils)
        if key not in self._demands:
            self._demands[key] = demand(self.frame, self.local, p, oils)
        return self._demands[key]

    def _corners(
        self,
        groups: Groups,
        choice: tuple[int, ...],
        p: int,
        coefs: Floats,
        low: Floats,
        high: Floats,
        pace: Floats | None,
    ) -> tuple[Floats, float] | None:
        """Corners (corners, chosen premixes) and what the choice itself weighs."""
        oils = tuple(sorted(s for j in choice for s in groups[j]))
        asked = self._demand(p, oils)
        if not asked.possible:
            return None
        if not choice:
            return np.zeros((1, 0)), asked.cost
        piece = self._piece(groups, choice, p, coefs, low, high, pace, asked)
        points = _on_line(piece) if len(choice) == 1 else _on_plane(piece)
        return points, piece.cost

    def _piece(
        self,
        groups: Groups,
        choice: tuple[int, ...],
        p: int,
        coefs: Floats,
        low: Floats,
        high: Floats,
        pace: Floats | None,
        asked: Demand,
    ) -> Piece:
        frame, cells = self.frame, list(choice)
        least = float(frame.least if frame.least_is_hard else 1) if frame.steps else 0.0
        unit = np.eye(len(choice))
        hard = self.local.hard[p][self.local.hard[p] >= 0]
        soft = self.local.soft[p][self.local.soft[p] >= 0]
        shares = np.stack([frame.shares(groups[j]) for j in choice], axis=1) * frame.unit
        a = [unit, -unit, coefs[np.ix_(hard, cells, [p])][:, :, 0], asked.coefs @ shares]
        b = [high[cells, p], -np.maximum(low[cells, p], least), frame.limits[hard], asked.limits]
        c, d = [coefs[np.ix_(soft, cells, [p])][:, :, 0]], [frame.limits[soft]]
        if not frame.least_is_hard and frame.least > 1:
            c.append(unit)
            d.append(np.full(len(choice), float(frame.least)))
        ones = np.ones((1, len(choice)))
        if not frame.fixed_total:
            a, b = [*a, ones, -ones], [*b, frame.doses[[p]], -frame.doses[[p]]]
        share = np.array([frame.blend[list(groups[j])].sum() for j in choice])
        c += [ones, share[:, None] - unit]
        d += [frame.target[[p]], np.zeros(len(choice))]
        if pace is not None:
            finite = self.caps[np.isfinite(self.caps)]
            c.append(np.broadcast_to(pace[cells, p], (len(finite), len(choice))))
            d.append(finite - 1.0)
        return Piece(np.concatenate(a), np.concatenate(b), np.concatenate(c), np.concatenate(d), asked.cost)

    def _finish(
        self,
        groups: Groups,
        coefs: Floats,
        pace: Floats | None,
        corners: list[tuple[int, Floats, tuple[int, ...], float]],
    ) -> Menu:
        sizes = [len(points) for _, points, _, _ in corners]
        portion = np.repeat([p for p, _, _, _ in corners], sizes)
        units, used = np.zeros((sum(sizes), len(groups))), np.zeros((sum(sizes), len(groups)), dtype=np.bool_)
        at = 0
        for _, points, choice, _ in corners:
            units[at : at + len(points), list(choice)] = points
            used[at : at + len(points), list(choice)] = True
            at += len(points)
        cost = np.repeat([c for _, _, _, c in corners], sizes)
        level = np.zeros(len(portion), dtype=np.int64)
        if pace is not None:
            factor = 1.0 + (pace.T[portion] * units).sum(axis=1)
            level = np.searchsorted(self.caps, factor - LOOSE, side="left")
        return Menu(portion, units, used, level, self._values(groups, coefs, portion, units, used, cost))

    def _values(
        self, groups: Groups, coefs: Floats, portion: Ints, units: Floats, used: Bools, cost: Floats
    ) -> dict[Measure, Floats]:
        frame = self.frame
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
        return {
            "fewest cautions": count,
            "lightest cautions": far,
            "true to blend": np.maximum(share * doses[:, None] - units, 0.0).sum(axis=1) * frame.unit,
            "few weighings": used.sum(axis=1).astype(float),
            "even scent": np.maximum(frame.target[portion] - doses, 0.0) * frame.unit,
            "only where it browns": self._browning(groups, portion, units),
        }

    def _browning(self, groups: Groups, portion: Ints, units: Floats) -> Floats:
        problem = self.frame.problem
        if problem.browning is None or problem.light is None:
            return np.zeros(len(portion))
        share = np.array([self.frame.shares(group)[problem.browning].sum() for group in groups])
        return np.asarray(units @ share * self.frame.unit * problem.light[portion])


def _on_line(piece: Piece) -> Floats:
    """Corners (corners, 1) of an interval."""
    lines = np.concatenate([piece.a[:, 0], piece.c[:, 0]])
    ends = np.concatenate([piece.b, piece.d])
    some = np.abs(lines) > 1e-12
    points = np.unique(ends[some] / lines[some])[:, None]
    return _inside(points, piece)


def _on_plane(piece: Piece) -> Floats:
    """Corners (corners, 2) of a polygon and of the pieces it is cut into."""
    lines, ends = np.concatenate([piece.a, piece.c]), np.concatenate([piece.b, piece.d])
    one, other = np.triu_indices(len(lines), 1)
    cross = lines[one, 0] * lines[other, 1] - lines[one, 1] * lines[other, 0]
    size = np.abs(lines).max(axis=1)
    some = np.abs(cross) > 1e-12 * size[one] * size[other]
    one, other, cross = one[some], other[some], cross[some]
    x = (ends[one] * lines[other, 1] - lines[one, 1] * ends[other]) / cross
    y = (lines[one, 0] * ends[other] - ends[one] * lines[other, 0]) / cross
    return _inside(np.stack([x, y], axis=1), piece)


def _inside(points: Floats, piece: Piece) -> Floats:
    return points[(points @ piece.a.T <= piece.b + LOOSE * (1.0 + np.abs(piece.b))).all(axis=1)]
