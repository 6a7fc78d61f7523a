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
from blendwise.facts.measures.clock import pace, pace_ends
from blendwise.facts.situation.appearance import appearance
from blendwise.facts.situation.timeline import own_order, timeline
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.findings.finding import Level
from blendwise.judge.rulebook.compile import Rule

FLUID, NEEDED = "minutes fluid", "minutes needed"


@dataclass(frozen=True)
class Clock:
    """What a rule on the clock compiles to."""

    rows: tuple[Row, ...] = ()
    slots: Slots | None = None


TIE = 0.001
"""What a light cup, and what the first to be scented, costs beside its share of the batter: it decides
between cups of one size."""


def haste_of(s: Situation, kept: NDArray[np.int64]) -> Floats:
    """What (scents, portions) it costs that a cup holds any of an oil which thickens it: the cup's share of
    the batter, a light or an early one a shade more, weighed by how quick the oil is at the plan's load.

    Summed it is the share of the batter that a quick oil is in, the mean over all quick oils.  Quick is at
    least *moderate*, as the rules have it; an oil whose quickness nobody knows counts as moderate.  Where the
    pour asks for no fluid batter nothing is lost by it.
    """
    line = timeline(s)
    if line is None or not line.wants_fluid:
        return np.zeros((len(kept), s.shape[1]))
    moderate = s.scales.acceleration["moderate"].factor.low
    known = [s.traits[int(k)].speed for k in kept]
    factor = np.array([each.high if each.known else moderate for each in known])
    at = np.array([each.dose if each.known else s.scenting.load for each in known])
    quick = np.where(factor >= moderate * (1 - 1e-9), (factor - 1.0) / np.maximum(at, 1e-9), 0.0)
    cups = s.split.oils / s.split.oils.sum()
    light = appearance(s).planned[:, 0] / 100.0
    row = own_order(s)
    early = np.zeros(len(cups)) if row is None else 1.0 - np.argsort(row) / len(cups)
    cost = cups * (1.0 + TIE * (np.nan_to_num(light) + early))
    return np.outer(quick / max(float(quick.sum()), 1e-12), cost)


def clock_of(rule: Rule, s: Situation, kept: NDArray[np.int64], fixed: Floats) -> Clock:
    """``minutes fluid: at least [k ×] minutes needed``, for the scents ``kept`` beside ``fixed`` doses.

    Bound at the kind end of judgement's doubt, and past the middle it weighs as a caution; a locked rule, or
    one asked with care, is bound at the harsh end.
    """
    line, factor = timeline(s), _factor(rule)
    if line is None or not line.wants_fluid or factor is None:
        return Clock()
    (low, high), ends = pace(s), pace_ends(s)
    harsh = not rule.leaves_open(s.believing.careful)
    unknown = tuple(_unknown(rule, s, kept, high))
    bound, middle = (np.where(np.isfinite(high), each, low)[:, None] for each in (ends[harsh], high))
    borne = line.harsh.bears().min(axis=0) if harsh else line.kind.bears().max(axis=0)
    caps = borne / factor
    by_bound, by_middle = bound / s.split.oils[None, :], middle / s.split.oils[None, :]
    left = np.maximum(line.base[0] - line.scented_at, 0.0)
    likely = left / (factor * (line.needed_until - line.scented_at))
    if line.family == "interleaved" and not (by_bound * fixed).any():
        softly = np.full(len(caps), np.inf if harsh else likely.max())
        soft = _rows(rule, s, kept, fixed, by_middle, softly, "caution")
        return Clock((*unknown, *soft), _slots(rule, s, by_bound[kept], caps[np.argsort(line.place)]))
    hard = _rows(rule, s, kept, fixed, by_bound, np.where(line.asks, caps, np.inf), rule.level)
    softly = np.full(len(caps), np.inf) if harsh else np.where(line.asks, likely, np.inf)
    return Clock((*unknown, *hard, *_rows(rule, s, kept, fixed, by_middle, softly, "caution")))


def _factor(rule: Rule) -> float | None:
    atom = next(a for a in rule.must if a.measure == FLUID)
    limit = atom.limits[0] if atom.limits else None
    return limit.factor if limit and atom.relation == "at least" and limit.measure == NEEDED else None


def _slots(rule: Rule, s: Situation, per_gram: Floats, caps: Floats) -> Slots:
    order = own_order(s)
    fixed_order = None if order is None else tuple(int(p) for p in order)
    subject = Subject("batch", (s.plan.plan,))
    source = source_of(rule, subject)
    return Slots(rule.name, source, per_gram, np.maximum.accumulate(caps), fixed_order, level=rule.level)


def _rows(
    rule: Rule,
    s: Situation,
    kept: NDArray[np.int64],
    fixed: Floats,
    per_gram: Floats,
    caps: Floats,
    level: Level,
) -> Iterator[Row]:
    """Every portion in its own slot: q ≤ cap, where it has one."""
    for p, name in enumerate(s.portions):
        if not np.isfinite(caps[p]):
            continue
        a = np.zeros(s.shape)
        a[:, p] = per_gram[:, p]
        half = Half(a, 1.0 - float(caps[p]), False, np.zeros(s.shape, dtype=bool), max(float(caps[p]), 1.0))
        subject = Subject("portion", (name,))
        yield row_of(restricted(half, kept, fixed), name_of(rule, subject), source_of(rule, subject), level)


def _unknown(rule: Rule, s: Situation, kept: NDArray[np.int64], high: Floats) -> Iterator[Row]:
    """An oil whose acceleration nobody knows leaves the clock undecided wherever it goes."""
    for k in np.flatnonzero(~np.isfinite(high[kept])):
        mask = np.zeros((len(kept), s.shape[1]), dtype=bool)
        mask[k] = True
        subject = Subject("scent", (s.scents[int(kept[k])],))
        zeros = np.zeros(mask.shape)
        yield Row(name_of(rule, subject), source_of(rule, subject), zeros, -1.0, rule.level, uncertain=mask)
