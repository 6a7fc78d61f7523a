"""What the maker prefers, as expressions to be made least; their bands and gaps in one table."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np

from blendwise.assignment.problem.problem import Goal
from blendwise.assignment.problem.ready import EPSILON, Frame
from blendwise.assignment.program.core import Sketch
from blendwise.assignment.program.program import INF, Expression
from blendwise.facts.columns import Bools, Floats

Measure = Goal | Literal["fewest cautions", "lightest cautions", "near the plan", "nearest to the plan"]
NEAR: Final = "near the plan"
"""Of answers that are equal in all goals the one nearest to the plan as written: it comes last."""
NEAREST: Final = "nearest to the plan"
"""The same, a farther gram costing more, so that no dose is far off: what settles the doses at the end."""
FIRST: tuple[Measure, ...] = ("fewest cautions", "lightest cautions")


@dataclass(frozen=True, slots=True)
class Band:
    """How much worse than its best a goal may get so that the next one has something to choose.

    ``share`` and ``gap`` are of the total scent where ``of_total``, else in the goal's own unit; ``gap`` is
    how much of the asked gap counts (0: always exact).  ``part``: of what the goal comes to at its best,
    where that is more than ``share``: what is far off anyway smells no different a little farther off.
    """

    share: float
    of_total: bool
    gap: float
    part: float = 0.0


BANDS: Mapping[Measure, Band] = {
    "fewest cautions": Band(0.0, False, 0.0),
    "lightest cautions": Band(0.02, False, 0.0),
    "true to blend": Band(0.05, True, 1.0, 1 / 3),
    "few weighings": Band(0.0, False, 0.0),
    "even scent": Band(0.05, True, 1.0),
    "quick oils in little batter": Band(0.0, False, 0.0),
    "only where it browns": Band(0.02, True, 1.0),
    "wide margin": Band(0.02, False, 1.0),
    NEAR: Band(0.0, True, 1.0),
}
MARGIN_MOST = 1.0


FAR = (0.0, 0.1, 0.2, 0.35, 0.5, 0.75, 1.0, 1.5, 2.5)
"""Parts of an even dose beyond which a gram off the plan as written costs as much again."""


def band(measure: Measure, total: float, best: float = 0.0) -> float:
    """The band in the goal's own unit; ``total`` g of scent, ``best`` what the goal comes to."""
    entry = BANDS[measure]
    return max(entry.share * (total if entry.of_total else 1.0), entry.part * best)


def gap(measure: Measure, total: float, share: float) -> float:
    """The proven gap that is close enough, in the goal's own unit; ``share`` as asked, of the total."""
    entry = BANDS[measure]
    return share * entry.gap * (total if entry.of_total else 1.0)


def varying(frame: Frame) -> Bools:
    """Hard rows (rows,) which depend on where the scents go; the margin is taken over these."""
    open_portions = ~frame.problem.closed
    if not len(frame.limits) or not open_portions.any():
        return np.zeros(len(frame.limits), dtype=np.bool_)
    some = frame.coefs[:, :, open_portions]
    moves = np.ptp(some, axis=2) if frame.fixed_total else np.abs(some).max(axis=2)
    return np.asarray(frame.hard & (moves.max(axis=1) > EPSILON))


def express(sketch: Sketch, measure: Measure) -> Expression:
    """The goal as an expression of the sketch's columns (adding the columns and rows it needs)."""
    return _EXPRESS[measure](sketch)


def _costs(parts: list[tuple[np.ndarray, Floats]]) -> Expression:
    if not parts:
        return Expression(np.zeros(0, dtype=np.int64), np.zeros(0))
    return Expression(np.concatenate([p[0] for p in parts]), np.concatenate([p[1] for p in parts]))


def _fewest(sketch: Sketch) -> Expression:
    return replace(_costs(sketch.broken), constant=float(sketch.frame.small_parts(sketch.groups)))


def _lightest(sketch: Sketch) -> Expression:
    return _costs(sketch.excess)


def _true(sketch: Sketch) -> Expression:
    """Grams to exchange, within portions, for each to have the blend: sum of max(0, share * dose - given)."""
    frame, (count, portions) = sketch.frame, sketch.shape
    if count == 1:
        return Expression(np.zeros(0, dtype=np.int64), np.zeros(0))
    share = np.array([frame.blend[list(group)].sum() for group in sketch.groups])
    short = sketch.draft.columns(count * portions, 0.0, INF).reshape(count, portions)
    mix = np.outer(np.ones(count), np.ones(count)) * share[:, None] - np.eye(count)
    columns = np.concatenate(
        [np.broadcast_to(sketch.amount.T[None], (count, portions, count)), short[:, :, None]], 2
    )
    coefs = np.concatenate(
        [np.broadcast_to(mix[:, None, :], (count, portions, count)), -np.ones((count, portions, 1))], 2
    )
    sketch.draft.table(columns.reshape(-1, count + 1), coefs.reshape(-1, count + 1), -np.inf, 0.0)
    left_out = count - (sketch.per_portion or count)
    if left_out > 0:
        _left_out(sketch, short, float(np.sort(share)[:left_out].sum()))
    return Expression(short.ravel(), np.full(short.size, frame.unit))


def _left_out(sketch: Sketch, short: np.ndarray, least: float) -> None:
    """A portion that must do without some premixes misses at least the smallest shares of its dose."""
    count = len(sketch.groups)
    coefs = np.concatenate([np.full(count, least), -np.ones(count)])
    sketch.draft.table(np.column_stack([sketch.amount.T, short.T]), coefs, -np.inf, 0.0)


def _weighings(sketch: Sketch) -> Expression:
    """Oils weighed into premixes of several, and every dose; a premix for one portion is weighed into
    its cup."""
    draft, (_, portions) = sketch.draft, sketch.shape
    cols, coefs, constant = [sketch.used.ravel()], [np.ones(sketch.used.size)], 0.0
    for j, group in enumerate(sketch.groups):
        if len(group) == 1:
            continue
        alone = draft.columns(1, 0.0, 1.0, whole=True)
        draft.row(np.append(sketch.used[j], alone), [1.0] * portions + [portions - 1.0], -np.inf, portions)
        cols.append(alone)
        coefs.append(-np.ones(1))
        constant += len(group)
    return Expression(np.concatenate(cols), np.concatenate(coefs), constant)


def _even(sketch: Sketch) -> Expression:
    """Grams missing, over all portions, from an even dose per gram of oils."""
    count, portions = sketch.shape
    missing = sketch.draft.columns(portions, 0.0, INF)
    columns = np.column_stack([sketch.amount.T, missing])
    sketch.draft.table(columns, np.ones(count + 1), sketch.frame.target, np.inf)
    return Expression(missing, np.full(portions, sketch.frame.unit))


def _haste(sketch: Sketch) -> Expression:
    """Share of the batter that holds a quick oil, over these by their quickness (see ``Frame.haste``)."""
    return Expression(sketch.used.ravel(), sketch.frame.haste(sketch.groups).ravel())


def _browning(sketch: Sketch) -> Expression:
    """Grams of browning scents in light portions."""
    problem = sketch.frame.problem
    if problem.browning is None or problem.light is None:
        return Expression(np.zeros(0, dtype=np.int64), np.zeros(0))
    per_unit = sketch.per_unit(np.outer(problem.browning, problem.light).astype(float))
    return Expression(sketch.amount.ravel(), per_unit.ravel())


def _margin(sketch: Sketch) -> Expression:
    """The least room under any hard row, as a share of its limit, made large (so: minus it)."""
    frame = sketch.frame
    column = sketch.draft.columns(1, 0.0, MARGIN_MOST)
    rows = np.flatnonzero(varying(frame))
    if len(rows):
        table = np.column_stack([sketch.coefs[rows].reshape(len(rows), -1), np.ones(len(rows))])
        columns = np.broadcast_to(np.append(sketch.amount.ravel(), column), table.shape)
        sketch.draft.table(columns, table, -np.inf, frame.limits[rows])
    return Expression(column, -np.ones(1))


def _near(sketch: Sketch) -> Expression:
    """Grams that a portion takes less of a premix than the plan as written would give it."""
    wanted = sketch.frame.wanted(sketch.groups)
    short = sketch.draft.columns(wanted.size, 0.0, INF)
    columns = np.column_stack([sketch.amount.ravel(), short])
    sketch.draft.table(columns, np.ones(2), wanted.ravel(), np.inf)
    return Expression(short, np.full(short.size, sketch.frame.unit))


def _nearest(sketch: Sketch) -> Expression:
    """Grams that each dose is off the plan as written, the farther counted again."""
    frame, draft = sketch.frame, sketch.draft
    wanted, amount = frame.wanted(sketch.groups).ravel(), sketch.amount.ravel()
    oils = frame.problem.portion_oils / frame.problem.portion_oils.sum()
    even = (frame.wanted(sketch.groups).sum(axis=1)[:, None] * oils).ravel()
    far = []
    for part in FAR:
        some = draft.columns(2 * amount.size, 0.0, INF).reshape(2, -1)
        ones = np.ones((amount.size, 2))
        room = part * even
        draft.table(np.column_stack([amount, some[0]]), ones, wanted - room, np.inf)
        draft.table(np.column_stack([amount, some[1]]), ones * (1.0, -1.0), -np.inf, wanted + room)
        far.append(some.ravel())
    columns = np.concatenate(far)
    return Expression(columns, np.full(columns.size, frame.unit))


_EXPRESS: Mapping[Measure, Callable[[Sketch], Expression]] = {
    "fewest cautions": _fewest,
    "lightest cautions": _lightest,
    "true to blend": _true,
    "few weighings": _weighings,
    "even scent": _even,
    "quick oils in little batter": _haste,
    "only where it browns": _browning,
    "wide margin": _margin,
    NEAR: _near,
    NEAREST: _nearest,
}
