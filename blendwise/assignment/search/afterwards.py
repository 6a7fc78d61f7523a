"""What only a finished answer shows: the problem's own check, and premixes as they are weighed."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from blendwise.assignment.explain.report import as_weighed
from blendwise.assignment.problem.problem import EitherOr, Problem, Row
from blendwise.assignment.result import Answer
from blendwise.assignment.search.evaluate import HOLDS


def heaviness(asked: Problem, ready: Problem, best: Answer) -> float:
    """What speaks against an answer, a caution counting one; infinite where it breaks a rule once weighed."""
    if _roomier(asked, ready, best) is not None:
        return float("inf")
    later = asked.recheck.weight(as_weighed(best, asked.shape)) if asked.recheck else 0.0
    return best.values.get("fewest cautions", 0.0) + later


def with_cuts(asked: Problem, ready: Problem, best: Answer) -> Problem | None:
    """``ready`` with what the answer calls for added, or None where it holds in everything that was asked."""
    cuts = tuple(
        (asked.recheck(as_weighed(best, asked.shape), ready.either) if asked.recheck else None) or ()
    )
    rows = _roomier(asked, ready, best)
    if not cuts and rows is None:
        return None
    extra = tuple(cut for cut in cuts if isinstance(cut, Row))
    either = tuple(cut for cut in cuts if isinstance(cut, EitherOr))
    return replace(ready, rows=(rows or ready.rows) + extra, either=ready.either + either)


def _roomier(asked: Problem, ready: Problem, best: Answer) -> tuple[Row, ...] | None:
    """In *same dose*: the rows with more room for those which the answer breaks once it is weighed.

    There a premix's parts are rounded to whole steps only when its size is known, so they are a little off.
    """
    if asked.dosing != "same dose":
        return None
    grams = as_weighed(best, asked.shape)
    over = np.array([float((row.a * grams).sum() + row.a0) / row.scale for row in asked.rows])
    missed = [k for k, row in enumerate(asked.rows) if row.hard and over[k] > HOLDS]
    rows = list(ready.rows)
    for k in missed:
        rows[k] = replace(rows[k], a0=rows[k].a0 + (over[k] + HOLDS) * rows[k].scale)
    return tuple(rows) if missed else None
