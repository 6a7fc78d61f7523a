"""The core of one division's model: what goes from which premix into which portion, and every row."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from blendwise.assignment.problem.ready import EPSILON, Frame, Group, Groups
from blendwise.assignment.program.program import Draft, Ints
from blendwise.facts.columns import Floats

SOME = 1e-6
"""Share of all the scent of which each oil holds at least so much, where its total is not asked for."""


@dataclass
class Sketch:
    """A model in the making.

    ``amount``, ``used`` (premixes, portions): column indices of the units given and of "given at all".
    ``coefs`` (rows, premixes, portions): the problem's rows per unit.  ``low``, ``high``: ends of ``amount``.
    ``broken`` and ``excess`` collect (columns, costs) of cautions: how many, and how far.
    """

    frame: Frame
    groups: Groups
    draft: Draft
    coefs: Floats
    low: Floats
    high: Floats
    amount: Ints
    used: Ints
    per_portion: int | None
    broken: list[tuple[Ints, Floats]] = field(default_factory=list)
    excess: list[tuple[Ints, Floats]] = field(default_factory=list)

    @property
    def shape(self) -> tuple[int, int]:
        """(premixes, portions)."""
        return self.low.shape[0], self.low.shape[1]

    def totals(self) -> Floats:
        """Units of each premix (premixes,) in all, in *same total*."""
        return np.array([self.frame.total(group) for group in self.groups])

    def peak(self, coefs: Floats) -> Floats:
        """The most (…,) that ``coefs`` (…, premixes, portions) times the amounts could reach."""
        gain = np.maximum(coefs, 0.0)
        cells = (gain * self.high).sum(axis=(-2, -1))
        if self.frame.fixed_total:
            spread = (coefs.max(axis=-1) * self.totals()).sum(axis=-1)
        else:
            spread = (gain.max(axis=-2) * self.frame.doses).sum(axis=-1)
        return np.asarray(np.minimum(cells, spread))

    def per_unit(self, per_gram: Floats) -> Floats:
        """Coefficients (…, scents, portions) per gram as (…, premixes, portions) per unit."""
        shares = np.stack([self.frame.shares(group) for group in self.groups]) * self.frame.unit
        return np.asarray(np.einsum("...sp,js->...jp", per_gram, shares))

    def count(self, columns: Ints, cost: float) -> None:
        """Have broken-or-not ``columns`` counted among the cautions."""
        self.broken.append((columns.ravel(), np.full(columns.size, cost)))


def begin(frame: Frame, groups: Groups, per_portion: int | None) -> Sketch | None:
    """Amounts, what is used, totals and rows; None where a premix alone finds no room."""
    if not all(frame.possible(group) for group in groups):
        return None
    parts = [frame.group(group) for group in groups]
    coefs = np.stack([part[0] for part in parts], axis=1)
    low, high = np.stack([part[1] for part in parts]), np.stack([part[2] for part in parts])
    draft, size = Draft(), low.size
    amount = draft.columns(size, low.ravel(), high.ravel(), whole=frame.steps).reshape(low.shape)
    used_low = np.where(low > EPSILON, 1.0, 0.0).ravel()
    used_high = np.where(high > EPSILON, 1.0, 0.0).ravel()
    used = draft.columns(size, used_low, used_high, whole=True).reshape(low.shape)
    sketch = Sketch(frame, groups, draft, coefs, low, high, amount, used, per_portion)
    _link(sketch)
    _sums(sketch)
    if per_portion is not None and len(groups) > per_portion:
        draft.table(used.T, 1.0, -np.inf, per_portion)
    _rows(sketch)
    return sketch


def _link(sketch: Sketch) -> None:
    open_cells = sketch.high.ravel() > EPSILON
    amount, used = sketch.amount.ravel()[open_cells], sketch.used.ravel()[open_cells]
    pairs, ones = np.stack([amount, used], axis=1), np.ones(len(amount))
    high = sketch.high.ravel()[open_cells]
    sketch.draft.table(pairs, np.stack([ones, -high], axis=1), -np.inf, 0.0)
    if not sketch.frame.steps:
        return
    least = max(sketch.frame.least, 1)
    if sketch.frame.least_is_hard or least == 1:
        sketch.draft.table(pairs, np.stack([ones, -least * ones], axis=1), 0.0, np.inf)
        return
    sketch.draft.table(pairs, np.stack([ones, -ones], axis=1), 0.0, np.inf)
    small = sketch.draft.columns(len(amount), 0.0, 1.0, whole=True)
    trios = np.column_stack([amount, used, small])
    sketch.draft.table(trios, np.array([1.0, -least, least - 1.0]), 0.0, np.inf)
    sketch.count(small, 1.0)


def _sums(sketch: Sketch) -> None:
    frame, draft = sketch.frame, sketch.draft
    must = frame.problem.musts
    if frame.fixed_total:
        totals = sketch.totals()
        draft.table(sketch.amount, 1.0, totals, totals)
        draft.table(sketch.used, 1.0, np.where(totals > EPSILON, 1.0, 0.0), np.inf)
        draft.table(sketch.used.T[must], 1.0, 1.0, np.inf)
        return
    scented = draft.columns(
        frame.shape[1], must.astype(float), (~frame.problem.closed).astype(float), whole=True
    )
    columns = np.column_stack([sketch.amount.T, scented])
    ones = np.ones((frame.shape[1], len(sketch.groups)))
    draft.table(columns, np.column_stack([ones, -frame.doses]), 0.0, 0.0)
    if frame.steps:
        draft.table(sketch.used, 1.0, 1.0, np.inf)
        draft.table(sketch.amount, 1.0, [least_made(frame, group) for group in sketch.groups], np.inf)
    else:
        draft.table(sketch.amount, 1.0, SOME * frame.grams, np.inf)


def least_made(frame: Frame, group: Group) -> float:
    """In *same dose*: units of a premix that let each of its oils be weighed."""
    share = float(frame.shares(group)[list(group)].min())
    return float(np.ceil((max(frame.least, 1) if frame.least_is_hard else 1) / share - 1e-7))


def _rows(sketch: Sketch) -> None:
    frame = sketch.frame
    if not len(frame.limits):
        return
    room = frame.limits - sketch.peak(sketch.coefs)
    tight = room < -EPSILON
    flat = sketch.amount.ravel()
    hard = np.flatnonzero(tight & frame.hard)
    table = sketch.coefs[hard].reshape(len(hard), flat.size)
    sketch.draft.table(np.broadcast_to(flat, table.shape), table, -np.inf, frame.limits[hard])
    soft = np.flatnonzero(tight & ~frame.hard)
    if len(soft):
        _soft_rows(sketch, soft, -room[soft])


def _soft_rows(sketch: Sketch, soft: Ints, most: Floats) -> None:
    draft, frame = sketch.draft, sketch.frame
    over = draft.columns(len(soft), 0.0, most)
    broken = draft.columns(len(soft), 0.0, 1.0, whole=True)
    table = np.column_stack([sketch.coefs[soft].reshape(len(soft), sketch.amount.size), -np.ones(len(soft))])
    flat = np.broadcast_to(sketch.amount.ravel(), (len(soft), sketch.amount.size))
    draft.table(np.column_stack([flat, over]), table, -np.inf, frame.limits[soft])
    draft.table(np.column_stack([over, broken]), np.column_stack([np.ones(len(soft)), -most]), -np.inf, 0.0)
    costs = np.array([frame.problem.rows[r].cost for r in soft])
    sketch.broken.append((broken, costs))
    sketch.excess.append((over, costs))
