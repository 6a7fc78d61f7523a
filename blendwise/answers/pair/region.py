"""The region that works: for each ratio the greatest load under all rules, and the rule that stops it.

Closed form, no search.  Every rule is compiled as the assignment compiles it (rows and either-ors of
``a·x + a0 ≤ 0``); along a ratio the doses are ``x = load · shares · oils``, so that each row is a bound on
the load, and an either-or a union of spans.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Final

import numpy as np

from blendwise.answers.pair.result import Cap, Stop
from blendwise.assignment.problem.half_spaces import is_constant
from blendwise.assignment.problem.problem import HARD, Alternative, EitherOr, Row, Slots
from blendwise.assignment.problem.rules import Compiler
from blendwise.facts.columns import Floats
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import table
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.compile import Rule

PLANS_OWN: Final = frozenset({"times the load", "blend total met", "poured"})
"""Measures against the plan's own load and blend: here the load is what is sought."""
STEPS: Final = {2: 10, 3: 5}
"""Steps between nothing and all of one oil on the grid of ratios; of more oils, only the asked ratio."""
NOTHING: Final = 1e-12

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class _Bound:
    """One rule on one subject along all ratios: ``spans[k]`` are the loads that it allows at ratio k.

    ``waits``: the ratios at which a fact nobody knows decides, so that no load is sure.
    """

    rule: str
    subject: str
    level: str
    spans: list[list[Span]]
    waits: frozenset[int] = frozenset()


def grid(shares: Sequence[float]) -> Floats:
    """The ratios looked at, (ratios, oils): the asked one, then the rest of a grid for two or three oils."""
    count = len(shares)
    asked = np.asarray(shares, dtype=float)[None, :]
    if count not in STEPS:
        return asked
    steps = np.array(list(_compositions(STEPS[count], count)), dtype=float) / STEPS[count]
    return np.vstack([asked, steps[~np.isclose(steps, asked).all(axis=1)]])


def _compositions(total: int, count: int) -> Iterator[tuple[int, ...]]:
    """All ways to part ``total`` steps among ``count`` oils, most of the first one first."""
    for bars in combinations(range(total + count - 1), count - 1):
        ends = (-1, *bars, total + count - 1)
        yield tuple(reversed([b - a - 1 for a, b in pairwise(ends)]))


def region(s: Situation, rules: Sequence[Rule], shares: Floats) -> list[Cap]:
    """The greatest load at each ratio, (ratios, oils), in all portions alike.

    ``most``: of the loads from the least one up that no stop or conflict forbids; ``stops``: every rule that
    bounds the load from above, the lowest first; ``cautions``: the same for cautions; ``least``: below it
    nothing can be weighed.  Loads are fractions of portion oils.
    """
    bounds = [*_compiled(s, rules, shares), *_constant(s, rules, shares)]
    of_browning = {rule.name for rule in rules if "browning band" in rule.must.measures}
    ratios = [dict(zip(s.scents, map(float, ratio), strict=True)) for ratio in shares]
    return [_cap(ratio, k, bounds, of_browning) for k, ratio in enumerate(ratios)]


def _compiled(s: Situation, rules: Sequence[Rule], shares: Floats) -> Iterator[_Bound]:
    compiler = Compiler(s)
    guards = {rule.name for rule in rules if not rule.leaves_open(s.believing.careful)}
    for rule in rules:
        if PLANS_OWN.isdisjoint(rule.must.measures):
            compiler.take(rule)
    # (ratios, scents, portions): grams at a load of one, the scents in the order of the compiler's rows
    along = shares[:, compiler.kept, None] * s.split.oils
    found = compiler.found
    for row in found.rows:
        yield _bound(row, along, [_span_list(row, x) for x in along], guards)
    for either in found.either:
        yield _bound(either, along, [_union(either, x) for x in along], guards)
    if found.slots is not None:
        yield _bound(found.slots, along, [[_clock(found.slots, x)] for x in along], guards)


def _bound(
    item: Row | EitherOr | Slots, along: Floats, spans: list[list[Span]], guards: Collection[str]
) -> _Bound:
    """Where a dose leaves a guard undecided, no load is known to be free of it."""
    waits: frozenset[int] = frozenset()
    source = item.source
    heavy = item.level in HARD and str(source[1]) in guards
    if heavy and not isinstance(item, Slots) and item.uncertain is not None:
        waits = frozenset(k for k, x in enumerate(along) if (x[item.uncertain] > 0).any())
    held = [[] if k in waits else span for k, span in enumerate(spans)]
    return _Bound(str(source[1]), str(source[2]), item.level, held, waits)


def _span(a: Floats, a0: float, x: Floats, scale: float) -> Span | None:
    """Loads at which ``load · (a·x) + a0 ≤ 0``; None where there is none."""
    slope = float((a * x).sum())
    if abs(slope) <= NOTHING * scale:
        return (0.0, np.inf) if a0 <= NOTHING * scale else None
    edge = -a0 / slope
    if slope > 0:
        return (0.0, edge) if edge >= 0 else None
    return (max(edge, 0.0), np.inf)


def _span_list(row: Row, x: Floats) -> list[Span]:
    span = _span(row.a, row.a0, x, row.scale)
    return [] if span is None else [span]


def _union(either: EitherOr, x: Floats) -> list[Span]:
    found = (_all_of(way, x) for way in either.alternatives)
    return sorted(span for span in found if span is not None)


def _all_of(way: Alternative, x: Floats) -> Span | None:
    """Loads at which one alternative holds: its rows, and its cells and portions empty."""
    if any(x[cell] > 0 for cell in way.empty) or any(x[:, p].sum() > 0 for p in way.unscented):
        return None
    low, high = 0.0, float(np.inf)
    for row in way.rows:
        span = _span(row.a, row.a0, x, row.scale)
        if span is None:
            return None
        low, high = max(low, span[0]), min(high, span[1])
    return (low, high) if low <= high else None


def _clock(slots: Slots, x: Floats) -> Span:
    """All portions alike: the earliest slot, which bears least, decides."""
    quickest = float((slots.pace * x).sum(axis=0).max())
    room = float(slots.caps.min()) - 1
    if quickest <= NOTHING:
        return (0.0, float(np.inf)) if room >= 0 else (0.0, 0.0)
    return (0.0, max(room, 0.0) / quickest)


def _constant(s: Situation, rules: Sequence[Rule], shares: Floats) -> Iterator[_Bound]:
    """Rules on an oil that no dose changes (not for skin, no certificate): with it, no load at all."""
    fixed = [
        rule
        for rule in rules
        if rule.looks_at == "scent"
        and rule.level != "hint"
        and all(map(is_constant, (*rule.when, *rule.must)))
    ]
    for finding in judge(fixed, {"scent": table(s, "scent", every=True)}):
        undecided = finding.status == "undecided"
        if finding.status == "tight" or finding.open or (undecided and finding.level not in HARD):
            continue
        index = s.scents.index(finding.subject[0])
        met = np.flatnonzero(shares[:, index] > 0)
        spans: list[list[Span]] = [[] if k in met else [(0.0, float(np.inf))] for k in range(len(shares))]
        waits = frozenset(map(int, met)) if undecided else frozenset()
        yield _Bound(finding.rule, finding.subject_text, finding.level, spans, waits)


def _cap(ratio: Mapping[str, float], k: int, bounds: Sequence[_Bound], of_browning: Collection[str]) -> Cap:
    hard = [_stop(bound, k, of_browning) for bound in bounds if bound.level in HARD]
    soft = [_stop(bound, k, of_browning) for bound in bounds if bound.level == "caution"]
    stops = sorted((stop for stop in hard if stop.load is not None), key=_order)
    least = max(
        (bound.spans[k][0][0] for bound in bounds if bound.level in HARD and bound.spans[k]), default=0.0
    )
    most = stops[0].load if stops else None
    fits = most is None or (most > 0 and most >= least)
    return Cap(
        ratio,
        most if fits else 0.0,
        least if fits else 0.0,
        tuple(stops),
        tuple(sorted((stop for stop in soft if stop.load is not None), key=_order)),
    )


def _order(stop: Stop) -> tuple[float, bool, str]:
    assert stop.load is not None
    return stop.load, stop.waits, stop.rule


def _stop(bound: _Bound, k: int, of_browning: Collection[str]) -> Stop:
    """Where the loads that the rule allows, from its least one up, end (None: nowhere)."""
    spans, browning = bound.spans[k], bound.rule in of_browning
    if not spans:
        return Stop(bound.rule, bound.subject, bound.level, 0.0, browning, k in bound.waits)
    top = spans[0][1]
    for low, high in spans[1:]:
        if low <= top:
            top = max(top, high)
    return Stop(
        bound.rule, bound.subject, bound.level, None if np.isinf(top) else max(top, 0.0) + 0.0, browning
    )


__all__ = ["STEPS", "grid", "region"]
