"""What needs yes-or-no columns besides: either-ors, the pour clock, rules that a dose leaves undecided."""

from __future__ import annotations

import numpy as np

from blendwise.assignment.problem.problem import Alternative, EitherOr, Slots
from blendwise.assignment.problem.ready import EPSILON, stack
from blendwise.assignment.program.core import Sketch
from blendwise.assignment.program.program import Ints
from blendwise.facts.columns import Bools, Floats

Cell = tuple[int, int]


def add_logic(sketch: Sketch) -> None:
    """Add the problem's either-ors, slots and uncertain cells."""
    problem = sketch.frame.problem
    for either in problem.either:
        add_either(sketch, either)
    if problem.slots is not None:
        add_slots(sketch, problem.slots)
    for uncertain, cost in sketch.frame.uncertain:
        _undecided(sketch, uncertain, cost)


def _absent(sketch: Sketch, alternative: Alternative) -> set[Cell]:
    """The (premix, portion) cells that must be empty and are not so already."""
    cells = {(j, p) for s, p in alternative.empty for j, group in enumerate(sketch.groups) if s in group}
    cells |= {(j, p) for p in alternative.unscented for j in range(len(sketch.groups))}
    return {(j, p) for j, p in cells if sketch.high[j, p] > EPSILON}


def add_either(sketch: Sketch, either: EitherOr) -> None:
    """Add one either-or: at least one alternative holds."""
    single: set[Cell] = set()
    several: list[int] = []
    pending = []
    for alternative in either.alternatives:
        cells = _absent(sketch, alternative)
        coefs, limits = stack(alternative.rows, sketch.frame.shape)
        coefs = sketch.per_unit(coefs)
        over = sketch.peak(coefs) - limits
        tight = over > EPSILON
        if not cells and not tight.any():
            return
        if len(cells) == 1 and not tight.any():
            single |= cells
        else:
            pending.append((cells, coefs[tight], limits[tight], over[tight]))
    for cells, coefs, limits, over in pending:
        several.append(_chosen(sketch, cells, coefs, limits, over))
    _at_least_one(sketch, either, sorted(single), several)


def _chosen(sketch: Sketch, cells: set[Cell], coefs: Floats, limits: Floats, over: Floats) -> int:
    """A column that may be 1 only where the cells are empty and the rows hold; its index."""
    draft = sketch.draft
    chosen = int(draft.columns(1, 0.0, 1.0, whole=True)[0])
    for j, p in sorted(cells):
        draft.row([sketch.used[j, p], chosen], 1.0, -np.inf, 1.0)
    if len(limits):
        columns = np.broadcast_to(
            np.append(sketch.amount.ravel(), chosen), (len(limits), sketch.amount.size + 1)
        )
        table = np.column_stack([coefs.reshape(len(limits), -1), over])
        draft.table(columns, table, -np.inf, limits + over)
    return chosen


def _at_least_one(sketch: Sketch, either: EitherOr, single: list[Cell], several: list[int]) -> None:
    columns = [int(sketch.used[cell]) for cell in single] + several
    coefs = [-1.0] * len(single) + [1.0] * len(several)
    if not either.hard:
        broken = sketch.draft.columns(1, 0.0, 1.0, whole=True)
        sketch.count(broken, either.cost)
        columns.append(int(broken[0]))
        coefs.append(1.0)
    sketch.draft.row(columns, coefs, 1.0 - len(single), np.inf)


def add_slots(sketch: Sketch, slots: Slots) -> None:
    """Add the pour clock: ``after[p, k]`` is 1 where portion p takes a slot later than k."""
    pace = sketch.per_unit(slots.pace)
    most = 1.0 + np.minimum(
        (pace * sketch.high).sum(axis=0),
        sketch.peak(_one_portion(pace)),
    )
    caps = np.minimum(slots.caps, max(float(most.max()), 1.0))
    late = _late(sketch, slots, most - caps[-1])
    if slots.order is not None:
        for k, p in enumerate(slots.order):
            _within(sketch, pace, p, np.zeros(0, dtype=np.int64), np.zeros(0), float(caps[k]), late)
        return
    steps = [k for k in range(len(caps) - 1) if caps[k + 1] - caps[k] > EPSILON]
    needs = most[:, None] > caps[None, steps] + EPSILON
    after = sketch.draft.columns(needs.size, 0.0, needs.astype(float).ravel(), whole=True).reshape(
        needs.shape
    )
    for i, k in enumerate(steps):
        sketch.draft.row(after[:, i], 1.0, -np.inf, len(caps) - 1.0 - k)
    if len(steps) > 1:
        pairs = np.stack([after[:, 1:].ravel(), after[:, :-1].ravel()], axis=1)
        sketch.draft.table(pairs, np.array([1.0, -1.0]), -np.inf, 0.0)
    gains = np.array([caps[k + 1] - caps[k] for k in steps])
    for p in range(len(caps)):
        if most[p] > caps[0] + EPSILON:
            _within(sketch, pace, p, after[p], gains, float(caps[0]), late)


def _one_portion(pace: Floats) -> Floats:
    """``pace`` (premixes, portions) spread out to (portions, premixes, portions), one portion at a time."""
    return np.asarray(pace[None, :, :] * np.eye(pace.shape[1])[:, None, :])


def _late(sketch: Sketch, slots: Slots, excess: Floats) -> Ints | None:
    """Where the clock is soft: a column each portion, 1 where it is too fast for any slot left to it."""
    if slots.hard:
        return None
    late = sketch.draft.columns(len(excess), 0.0, 1.0, whole=True)
    sketch.count(late, slots.cost)
    return late


def _within(
    sketch: Sketch, pace: Floats, portion: int, after: Ints, gains: Floats, cap: float, late: Ints | None
) -> None:
    columns = np.concatenate([sketch.amount[:, portion], after])
    coefs = np.concatenate([pace[:, portion], -gains])
    if late is not None:
        columns, room = np.append(columns, late[portion]), float((pace * sketch.high)[:, portion].sum()) + 1.0
        coefs = np.append(coefs, -room)
    sketch.draft.row(columns, coefs, -np.inf, cap - 1.0)


def _undecided(sketch: Sketch, uncertain: Bools, cost: float) -> None:
    cells = [
        (j, p)
        for j, group in enumerate(sketch.groups)
        for p in range(sketch.shape[1])
        if uncertain[list(group), p].any() and sketch.high[j, p] > EPSILON
    ]
    if not cells:
        return
    waits = sketch.draft.columns(1, 0.0, 1.0, whole=True)
    sketch.count(waits, cost)
    for cell in cells:
        sketch.draft.row([sketch.used[cell], waits[0]], [1.0, -1.0], -np.inf, 0.0)
