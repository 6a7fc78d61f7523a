"""What an answer is worth, computed from its grams alone: the same rows, no solver."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from blendwise.assignment.problem.goals import MARGIN_MOST, NEAR, Measure, varying
from blendwise.assignment.problem.problem import EitherOr, Row, Slots
from blendwise.assignment.problem.ready import Frame, Groups, logic_items
from blendwise.facts.columns import Floats

HOLDS = 3e-9
"""A row holds within this share of its scale: rounding in floating point, nothing else."""

Item = Row | EitherOr | Slots


@dataclass(frozen=True)
class Evaluation:
    """An answer judged.

    ``units`` (premixes, portions) of ``unit`` g; ``grams`` (scents, portions); ``broken``: items and by how
    much (share of scale; for either-ors 1, for the clock the number of late portions); ``undecided``:
    items that a dose leaves open; ``small``: weighings below the least number of steps, as (premix,
    portion); ``values`` of all measures; ``order``: portions by slot.
    """

    groups: Groups
    units: Floats
    grams: Floats
    broken: tuple[tuple[Item, float], ...]
    undecided: tuple[Item, ...]
    small: tuple[tuple[int, int], ...]
    values: Mapping[Measure, float]
    order: tuple[int, ...]

    @property
    def sound(self) -> bool:
        """Whether all hard items hold."""
        return not any(item.hard for item, _ in self.broken)


def spread(frame: Frame, groups: Groups, units: Floats) -> Floats:
    """Grams (scents, portions) from units (premixes, portions)."""
    shares = np.stack([frame.shares(group) for group in groups], axis=1)
    return np.asarray(shares @ units * frame.unit)


def evaluate(frame: Frame, groups: Groups, units: Floats) -> Evaluation:
    """Judge one answer."""
    grams = spread(frame, groups, units)
    problem = frame.problem
    over = np.einsum("rsp,sp->r", frame.coefs, grams) - frame.limits
    broken: list[tuple[Item, float]] = [
        (row, float(over[r])) for r, row in enumerate(problem.rows) if over[r] > HOLDS
    ]
    held = frame.sides.held(grams, HOLDS)
    broken += [(either, 1.0) for either, holds in zip(problem.either, held, strict=True) if not holds]
    order, late = _order(problem.slots, grams)
    if problem.slots is not None and late:
        broken.append((problem.slots, float(late)))
    undecided = tuple(
        item
        for item in logic_items(problem)
        if item.uncertain is not None and bool((grams[item.uncertain] > 0).any())
    )
    small = (
        []
        if frame.least_is_hard or not frame.steps
        else np.argwhere((units > 0) & (units < frame.least)).tolist()
    )
    cells = tuple((int(j), int(p)) for j, p in small)
    values = _values(frame, groups, units, grams, over)
    values["fewest cautions"] = _cautions(broken, undecided, len(cells) + frame.small_parts(groups))
    return Evaluation(groups, units, grams, tuple(broken), undecided, cells, values, order)


def _cautions(broken: Sequence[tuple[Item, float]], undecided: Sequence[Item], small: int) -> float:
    soft = sum(
        item.cost * (much if isinstance(item, Slots) else 1.0) for item, much in broken if not item.hard
    )
    return soft + sum(item.cost for item in undecided) + small


def _values(frame: Frame, groups: Groups, units: Floats, grams: Floats, over: Floats) -> dict[Measure, float]:
    problem, doses = frame.problem, grams.sum(axis=0)
    costs = np.array([row.cost for row in problem.rows])
    soft = ~frame.hard & (over > 0)
    margins = -over[varying(frame)]
    brown = 0.0
    if problem.browning is not None and problem.light is not None:
        brown = float(grams[np.ix_(problem.browning, problem.light)].sum())
    near: dict[Measure, float] = {}
    if problem.as_written is not None:
        near[NEAR] = float(np.maximum(frame.wanted(groups) - units, 0.0).sum() * frame.unit)
    return near | {
        "lightest cautions": float((costs[soft] * over[soft]).sum()),
        "true to blend": float(np.abs(grams - np.outer(frame.blend, doses)).sum() / 2),
        "few weighings": float(weighings(groups, units)),
        "even scent": float(np.maximum(frame.target * frame.unit - doses, 0.0).sum()),
        "quick oils in little batter": float(frame.haste(groups)[units > 0].sum()),
        "only where it browns": brown,
        "wide margin": -min([MARGIN_MOST, *margins.tolist()]),
    }


def weighings(groups: Groups, units: Floats) -> int:
    """How often something is put on the scale: oils into a premix, and each dose from premix or bottle."""
    number = 0
    for group, row in zip(groups, units, strict=True):
        given = int((row > 0).sum())
        number += given if len(group) == 1 else (len(group) + (given if given > 1 else 0)) * (given > 0)
    return number


def pace(slots: Slots, grams: Floats) -> Floats:
    """How many times faster (portions,) each portion thickens than without scent."""
    return np.asarray(1.0 + (slots.pace * grams).sum(axis=0))


def _order(slots: Slots | None, grams: Floats) -> tuple[tuple[int, ...], int]:
    """Portions by slot, slowest thickening first, and how many cannot keep the clock."""
    if slots is None:
        return (), 0
    factors = pace(slots, grams)
    caps = slots.caps * (1.0 + HOLDS)
    if slots.order is not None:
        late = sum(bool(factors[p] > caps[k]) for k, p in enumerate(slots.order))
        return slots.order, late
    order = np.argsort(factors, kind="stable")
    kept = 0
    for cap in caps:
        kept += bool(kept < len(order) and factors[order[kept]] <= cap)
    return tuple(int(p) for p in order), len(order) - kept
