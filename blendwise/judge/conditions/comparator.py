"""The one comparator: what it means that a value stands in a relation to a limit.

Judge and solver both ask here, so that "at most 4 %" is the same 4 % to both.  A value and its limit
are intervals; the answer is true only if it is true for every pair of points inside them, false only if
it is false for every pair, and unknown otherwise.

The trick that keeps this short: for intervals, ``at most`` is a *count* of two tests,

    (high ≤ limit_low) + (low ≤ limit_high)   =   2 true, 1 unknown, 0 false,

because the first test implies the second.  Every other relation is built from it.
"""

from __future__ import annotations

import math
from functools import lru_cache, reduce
from typing import Literal, get_args

import numpy as np
from numpy.typing import ArrayLike, NDArray

from blendwise.facts.columns import Bools, Floats

Truths = NDArray[np.int8]
Relation = Literal["at least", "at most", "above", "below", "is", "is not"]
RELATIONS: tuple[Relation, ...] = get_args(Relation)

FALSE, UNKNOWN, TRUE = 0, 1, 2

TOLERANCE = 1e-9
"""Relative: two numbers nearer than this count as equal, whichever way they were summed."""
FLOOR = 1e-12
"""Absolute, for limits at or near zero, in canonical units (fractions, g, min, °C)."""


def margin(limit: ArrayLike, scale: ArrayLike = 1.0) -> Floats:
    """How far past ``limit · scale`` a value may stand and still count as equal to it.

    ``scale`` is the denominator of a fraction kept unreduced (1 for a plain value).  Shapes broadcast.
    """
    return np.asarray((TOLERANCE * np.abs(limit) + FLOOR) * np.asarray(scale))


def _raised(limit: Floats | float) -> Floats | float:
    """limit + margin(limit), written so that infinities stay what they are."""
    if not isinstance(limit, np.ndarray):
        return _raised_number(limit)
    raised = limit * (1 + TOLERANCE)
    np.maximum(raised, limit * (1 - TOLERANCE), out=raised)
    return np.add(raised, FLOOR, out=raised)


@lru_cache(maxsize=1024)
def _raised_number(limit: float) -> float:
    """Rules ask the same few hundred figures of every plan."""
    return max(limit * (1 + TOLERANCE), limit * (1 - TOLERANCE)) + FLOOR


def _lowered(limit: Floats | float) -> Floats | float:
    """limit − margin(limit)."""
    return -_raised(-limit)


def signed_slack(
    relation: Relation, numerator: ArrayLike, limit: ArrayLike, denominator: ArrayLike = 1.0
) -> Floats:
    """Room left before the limit, in the numerator's unit: limit·den − num, or its negative for a least.

    ``at most``/``at least`` hold where the slack is ≥ −margin(limit, denominator); ``below``/``above``
    hold where it is > +margin.  With denominator 1 this is the plain distance to the limit.  See ``holds``.
    """
    match relation:
        case "at most" | "below":
            return np.asarray(np.multiply(limit, denominator) - np.asarray(numerator))
        case "at least" | "above":
            return np.asarray(np.asarray(numerator) - np.multiply(limit, denominator))
    raise ValueError(f"{relation!r} has no direction, so it has no slack")


def holds(relation: Relation, slack: ArrayLike, limit: ArrayLike, denominator: ArrayLike = 1.0) -> Bools:
    """Whether a slack counts as within the limit (see ``signed_slack``), as the judge decides it."""
    room = margin(limit, denominator)
    strict = relation in ("above", "below")
    return np.asarray(np.asarray(slack) > room if strict else np.asarray(slack) >= -room)


def compare(
    relation: Relation, low: Floats, high: Floats, limit_low: Floats | float, limit_high: Floats | float
) -> Truths:
    """Three-valued answer per row: 0 false, 1 unknown, 2 true.

    ``low``, ``high``: the value's interval, shape (rows,), without NaN.  ``limit_low``, ``limit_high``:
    the limit's interval, one number or one a row.  Wholly unknown on either side is always unknown.
    """
    answer = _relate(relation, low, high, limit_low, limit_high)
    if not isinstance(limit_low, np.ndarray) and math.isfinite(limit_low) and limit_low == limit_high:
        return answer  # against a finite number, what is wholly unknown comes out unknown by itself
    nothing_known = (low == -np.inf) & (high == np.inf)
    nothing_known |= (limit_low == -np.inf) & (limit_high == np.inf)
    open_: Truths = nothing_known.view(np.int8)
    settled: Truths = answer * (open_ ^ np.int8(1))
    return settled + open_  # 1, unknown, where nothing is known


def _relate(
    relation: Relation, low: Floats, high: Floats, limit_low: Floats | float, limit_high: Floats | float
) -> Truths:
    match relation:
        case "at most":
            return _count(high <= _raised(limit_low), low <= _raised(limit_high))
        case "at least":
            return _count(low >= _lowered(limit_high), high >= _lowered(limit_low))
        case "below":
            return _count(high < _lowered(limit_low), low < _lowered(limit_high))
        case "above":
            return _count(low > _raised(limit_high), high > _raised(limit_low))
        case "is":
            return np.minimum(
                _relate("at most", low, high, limit_low, limit_high),
                _relate("at least", low, high, limit_low, limit_high),
            )
        case "is not":
            return negate(_relate("is", low, high, limit_low, limit_high))
    raise ValueError(f"no such relation: {relation!r}")


def _count(surely: Bools, possibly: Bools) -> Truths:
    return np.add(surely.view(np.int8), possibly.view(np.int8))


def in_all(truths: Truths) -> Truths:
    """One truth a row of those in each world (worlds, rows): settled only where all worlds agree."""
    least, most = truths.min(axis=0), truths.max(axis=0)
    return np.asarray(np.where(least == most, least, np.int8(UNKNOWN)))


def negate(truths: Truths) -> Truths:
    """Kleene's not: true and false change places, unknown stays."""
    return np.subtract(np.int8(TRUE), truths)


def among(low: Floats, high: Floats, members: Bools) -> Truths:
    """Whether a word of a scale is one of some words: ``members[k]`` says so for word k.

    ``low``, ``high``: index intervals, shape (rows,); open ends reach to the ends of the scale, yet a
    row of which nothing at all is known is unknown even where every word is a member.
    """
    surely, possibly = (np.zeros(len(low), dtype=bool) for _ in range(2))
    runs = _runs(members)
    for first, last in runs:
        inside = low > first - 1 if first else np.ones(len(low), dtype=bool)
        if last < len(members) - 1:
            inside &= high < last + 1
        surely |= inside
        possibly |= (low <= last) & (high >= first)
    answer = _count(surely & possibly, possibly)
    if not runs or runs[0] == (0, len(members) - 1):  # else it comes out unknown by itself
        answer[(low == -np.inf) & (high == np.inf)] = UNKNOWN
    return answer


def _runs(members: Bools) -> list[tuple[int, int]]:
    """The first and last of members that follow one another; a span of words lies in one run or in none."""
    steps = np.flatnonzero(np.diff(np.concatenate([[False], np.asarray(members), [False]]).astype(np.int8)))
    return [(int(first), int(end) - 1) for first, end in zip(steps[::2], steps[1::2], strict=True)]


def contains(has: Bools, known: Bools, members: Bools) -> Truths:
    """Whether a set of words holds one of some words.

    ``has``: (rows, words); ``known``: (rows,), whether the set is complete; ``members``: (words,).
    A word that is written down is there, complete or not; one that is not written is unknown until the
    set is complete.
    """
    columns = [has[:, word] for word in np.flatnonzero(members)]
    found = reduce(np.logical_or, columns) if columns else np.zeros(len(known), dtype=bool)
    return _count(found, found | ~known)


def is_known(low: Floats, high: Floats) -> Truths:
    """``known``: true where the interval is a point, else false; never unknown."""
    return np.asarray((low == high).view(np.int8) * np.int8(TRUE))
