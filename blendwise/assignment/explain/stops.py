"""Why an answer stops where it stops: for each portion and premix, the first rule that one gram more
would break."""

from __future__ import annotations

import numpy as np

from blendwise.assignment.problem.problem import Alternative, EitherOr, Slots, Source
from blendwise.assignment.problem.ready import EPSILON, Frame, stack
from blendwise.assignment.result import MoreStops
from blendwise.assignment.search.evaluate import HOLDS, Evaluation
from blendwise.facts.columns import Floats

Limit = tuple[float, str, Source]


def stops(frame: Frame, found: Evaluation) -> tuple[MoreStops, ...]:
    """For every premix and open portion, what breaks first when only that dose grows; nothing where
    nothing does."""
    told = []
    for j, group in enumerate(found.groups):
        share = frame.shares(group)
        for p in range(frame.shape[1]):
            first = min(_limits(frame, found, share, p), default=None, key=lambda limit: limit[0])
            takes = float(found.units[j, p]) * frame.unit
            if first is not None and takes + first[0] <= _most(frame, group, p):
                told.append(MoreStops(j, p, takes, takes + first[0], first[1], first[2]))
    return tuple(told)


def _most(frame: Frame, group: tuple[int, ...], portion: int) -> float:
    """Grams of a premix beyond which no portion could go anyway."""
    units = frame.total(group) if frame.fixed_total else float(frame.doses[portion])
    return units * frame.unit + EPSILON


def _limits(frame: Frame, found: Evaluation, share: Floats, portion: int) -> list[Limit]:
    """(grams more, name, source) of everything that a larger dose of this premix would meet."""
    problem = frame.problem
    limits: list[Limit] = []
    per_gram = frame.coefs[:, :, portion] @ share
    left = frame.limits - np.einsum("rsp,sp->r", frame.coefs, found.grams)
    for r in np.flatnonzero((per_gram > EPSILON) & (left > -EPSILON)):
        limits.append((float(max(left[r], 0.0) / per_gram[r]), problem.rows[r].name, problem.rows[r].source))
    for s in np.flatnonzero(share > 0):
        most = float(frame.high[s, portion])
        if np.isfinite(most):
            source = problem.cell_sources.get(
                (int(s), portion), ("cell", problem.scents[s], problem.portions[portion])
            )
            limits.append(
                (max(most - float(found.grams[s, portion]), 0.0) / float(share[s]), problem.scents[s], source)
            )
    for either in problem.either:
        if either.hard:
            limits += _either(frame, either, found.grams, share, portion)
    if problem.slots is not None:
        limits += _clock(problem.slots, found, share, portion)
    return limits


def _either(frame: Frame, either: EitherOr, grams: Floats, share: Floats, portion: int) -> list[Limit]:
    """How much more before the last alternative that now holds gives way; none where it never does."""
    ends = [
        end for side in either.alternatives if (end := _side(frame, side, grams, share, portion)) is not None
    ]
    return [(max(ends), either.name, either.source)] if ends and np.isfinite(max(ends)) else []


def _side(frame: Frame, side: Alternative, grams: Floats, share: Floats, portion: int) -> float | None:
    """Grams more at which an alternative gives way (infinite: never), or None where it does not hold now."""
    if any(grams[cell] > 0 for cell in side.empty) or any(grams[:, p].sum() > 0 for p in side.unscented):
        return None
    coefs, limits = stack(side.rows, frame.shape)
    left = limits - np.einsum("rsp,sp->r", coefs, grams)
    if (left < -HOLDS).any():
        return None
    grows = any(p == portion and share[s] > 0 for s, p in side.empty) or portion in side.unscented
    per_gram = coefs[:, :, portion] @ share
    ends = [float(max(room, 0.0) / each) for room, each in zip(left, per_gram, strict=True) if each > EPSILON]
    return min([*ends, 0.0 if grows else np.inf])


def _clock(slots: Slots, found: Evaluation, share: Floats, portion: int) -> list[Limit]:
    """How much more before the portion is too fast for the best slot that the others leave it."""
    per_gram = float(slots.pace[:, portion] @ share)
    if per_gram <= EPSILON or portion not in found.order:
        return []
    factors = 1.0 + (slots.pace * found.grams).sum(axis=0)
    others = sorted(float(factors[p]) for p in found.order if p != portion)
    cap = _best_slot(slots, others) if slots.order is None else float(slots.caps[slots.order.index(portion)])
    if not np.isfinite(cap):
        return []
    return [(max(cap - float(factors[portion]), 0.0) / per_gram, slots.name, slots.source)]


def _best_slot(slots: Slots, others: list[float]) -> float:
    """The latest slot's cap such that the other portions still fit into what is left."""
    for k in range(len(slots.caps) - 1, -1, -1):
        left = np.delete(slots.caps, k)
        if (np.asarray(others) <= left * (1.0 + 3e-9)).all():
            return float(slots.caps[k])
    return float(slots.caps[0])
