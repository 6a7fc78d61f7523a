"""The clock of a pour as the solver sees it: slots of an interleaved pour, rows of a layered one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from blendwise.assignment.problem.half_spaces import Half, restricted
from blendwise.assignment.problem.problem import Row, Slots
from blendwise.assignment.problem.sources import name_of, row_of, source_of
from blendwise.facts.columns import Floats, Subject
from blendwise.facts.measures.clock import pace
from blendwise.facts.situation.timeline import Timeline, own_order, timeline
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.rulebook.compile import Rule

FLUID, NEEDED = "minutes fluid", "minutes needed"


@dataclass(frozen=True)
class Clock:
    """What a rule on the clock compiles to."""

    rows: tuple[Row, ...] = ()
    slots: Slots | None = None


def clock_of(rule: Rule, s: Situation, kept: NDArray[np.int64], fixed: Floats) -> Clock:
    """``minutes fluid: at least [k ×] minutes needed``, for the scents ``kept`` beside ``fixed`` doses."""
    line, factor = timeline(s), _factor(rule)
    if line is None or not line.wants_fluid or factor is None:
        return Clock()
    low, high = pace(s)
    unknown = tuple(_unknown(rule, s, kept, high))
    per_gram = np.where(np.isfinite(high), high, low)[:, None] / s.split.oils[None, :]
    caps = np.maximum(line.base[0] - line.slots, 0.0) / (factor * _needed(line))
    if line.family == "interleaved" and not (per_gram * fixed).any():
        return Clock(unknown, _slots(rule, s, per_gram[kept], caps))
    return Clock((*unknown, *_rows(rule, s, kept, fixed, per_gram, caps[line.place])))


def _factor(rule: Rule) -> float | None:
    atom = next(a for a in rule.must if a.measure == FLUID)
    limit = atom.limits[0] if atom.limits else None
    return limit.factor if limit and atom.relation == "at least" and limit.measure == NEEDED else None


def _needed(line: Timeline) -> Floats:
    """Minutes from each slot to the end of the pour that it serves."""
    needed = np.empty(len(line.slots))
    needed[line.place] = line.needed_until
    return np.asarray(needed - line.slots)


def _slots(rule: Rule, s: Situation, per_gram: Floats, caps: Floats) -> Slots:
    order = own_order(s)
    fixed_order = None if order is None else tuple(int(p) for p in order)
    subject = Subject("batch", (s.plan.plan,))
    source = source_of(rule, subject)
    return Slots(rule.name, source, per_gram, np.maximum.accumulate(caps), fixed_order, level=rule.level)


def _rows(
    rule: Rule, s: Situation, kept: NDArray[np.int64], fixed: Floats, per_gram: Floats, caps: Floats
) -> Iterator[Row]:
    """Every portion in its own slot: q ≤ cap."""
    for p, name in enumerate(s.portions):
        a = np.zeros(s.shape)
        a[:, p] = per_gram[:, p]
        half = Half(a, 1.0 - float(caps[p]), False, np.zeros(s.shape, dtype=bool), max(float(caps[p]), 1.0))
        subject = Subject("portion", (name,))
        yield row_of(
            restricted(half, kept, fixed), name_of(rule, subject), source_of(rule, subject), rule.level
        )


def _unknown(rule: Rule, s: Situation, kept: NDArray[np.int64], high: Floats) -> Iterator[Row]:
    """An oil whose acceleration nobody knows leaves the clock undecided wherever it goes."""
    for k in np.flatnonzero(~np.isfinite(high[kept])):
        mask = np.zeros((len(kept), s.shape[1]), dtype=bool)
        mask[k] = True
        subject = Subject("scent", (s.scents[int(kept[k])],))
        zeros = np.zeros(mask.shape)
        yield Row(name_of(rule, subject), source_of(rule, subject), zeros, -1.0, rule.level, uncertain=mask)
