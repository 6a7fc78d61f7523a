"""Strong Kleene logic on arrays, and the table that turns `when` and `must` into an outcome.

Truths are int8: 0 false < 1 unknown < 2 true, so that all-of is the least and any-of the greatest.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce
from typing import Final

import numpy as np

from blendwise.facts.columns import Bools
from blendwise.judge.conditions.comparator import FALSE, TRUE, Truths

NOT_ASKED, HOLDS, TIGHT, UNDECIDED, BROKEN = range(5)
"""Outcomes, mildest first: of two readings of a pair the worse is the greater.

*Tight*: settled at the middle of judgement's figures, not settled within their doubt.
"""
OUTCOMES: Final = ("not asked", "holds", "tight", "undecided", "broken")
"""Their words, in that order."""


def all_of(parts: Sequence[Truths], rows: int) -> Truths:
    """The least of the parts, row by row; true everywhere when there are none."""
    return reduce(np.minimum, parts) if parts else np.full(rows, TRUE, dtype=np.int8)


def any_of(parts: Sequence[Truths], rows: int) -> Truths:
    """The greatest of the parts, row by row; false everywhere when there are none."""
    return reduce(np.maximum, parts) if parts else np.full(rows, FALSE, dtype=np.int8)


def outcome(when: Truths, must: Truths, asked: Bools | None = None) -> Truths:
    """The outcome per row; where ``asked`` is False the rule is not asked.

    | `when` \\ `must` | true  | unknown   | false     |
    | true            | holds | undecided | broken    |
    | unknown         | holds | undecided | undecided |
    | false           | not asked, whatever `must` is |

    """
    answer: Truths = np.minimum(np.int8(3) - must, when + np.int8(1))  # 1 holds, 2 undecided, 3 broken
    answer += (answer > 1).view(np.int8)  # none of these is tight
    answer *= (when > FALSE).view(np.int8)
    return answer if asked is None else answer * asked.view(np.int8)


def doubted(middle: Truths, outer: Truths, *, harsh: bool) -> Truths:
    """The outcome where judgement doubts its figures: at their ``middle``, within their ``outer`` ends.

    | `outer` \\ `middle` | undecided | settled |
    | settled            | –         | `outer` |
    | undecided          | undecided | tight, and broken where ``harsh`` (a locked rule, or asked with care) |
    """
    within = (outer == UNDECIDED) & (middle != UNDECIDED)
    return np.where(within, np.int8(BROKEN if harsh else TIGHT), outer)


def worse(one: Truths, other: Truths) -> Truths:
    """The worse of two outcomes, row by row."""
    return np.maximum(one, other)
