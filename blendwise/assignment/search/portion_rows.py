"""What a portion's own scent must keep: the rows and either-ors that speak of one portion only.

These shape the portion's *menu*; everything that ties portions together stays outside it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from blendwise.assignment.problem.problem import Alternative, EitherOr
from blendwise.assignment.problem.ready import Frame, Group, stack
from blendwise.assignment.program.program import Ints
from blendwise.facts.columns import Bools, Floats


@dataclass(frozen=True)
class Local:
    """Rows by the portion they speak of, padded to equal number.

    ``hard``, ``soft`` (portions, rows) hold row numbers, -1 where padded; ``shared`` the hard rows which
    speak of several portions.  ``absent[p]``: either-ors on portion p alone.
    """

    hard: Ints
    soft: Ints
    shared: Ints
    either: tuple[tuple[EitherOr, ...], ...]


def local_of(frame: Frame) -> Local:
    """Sort a problem's rows and either-ors by portion."""
    touched = (frame.coefs != 0.0).any(axis=1)
    alone = touched.sum(axis=1) == 1
    portions = range(frame.shape[1])
    hard = [np.flatnonzero(alone & frame.hard & touched[:, p]) for p in portions]
    soft = [np.flatnonzero(alone & ~frame.hard & touched[:, p]) for p in portions]
    shared = np.flatnonzero(~alone & frame.hard)
    either: tuple[tuple[EitherOr, ...], ...] = tuple(
        tuple(e for e in frame.problem.either if _portions(e) == {p}) for p in portions
    )
    return Local(_pad(hard), _pad(soft), shared, either)


def _pad(lists: list[Ints]) -> Ints:
    width = max((len(part) for part in lists), default=0)
    return np.array([[*part, *[-1] * (width - len(part))] for part in lists], dtype=np.int64).reshape(
        len(lists), width
    )


def _portions(either: EitherOr) -> set[int]:
    """The portions an either-or speaks of."""
    found: set[int] = set()
    for alternative in either.alternatives:
        found |= {p for _, p in alternative.empty} | set(alternative.unscented)
        for row in alternative.rows:
            found |= {int(p) for p in np.flatnonzero((row.a != 0.0).any(axis=0))}
    return found


@dataclass(frozen=True)
class Demand:
    """What the either-ors ask of a portion that holds certain oils: never, rows to keep, cautions."""

    possible: bool
    coefs: Floats
    limits: Floats
    cost: float


def demand(frame: Frame, local: Local, portion: int, oils: Group) -> Demand:
    """The demand on a portion which holds exactly these oils (a relaxation where a choice is left open)."""
    coefs, limits, cost = [np.zeros((0, frame.shape[0]))], [np.zeros(0)], 0.0
    for either in local.either[portion]:
        left = [alternative for alternative in either.alternatives if _absent(alternative, oils)]
        if any(not alternative.rows for alternative in left):
            continue
        if not left and either.hard:
            return Demand(False, coefs[0], limits[0], 0.0)
        cost += 0.0 if left or either.hard else either.cost
        if len(left) == 1 and either.hard:
            a, b = stack(left[0].rows, frame.shape)
            coefs.append(a[:, :, portion])
            limits.append(b)
    return Demand(
        True, np.concatenate(coefs), np.concatenate(limits), cost + _undecided(frame, portion, oils)
    )


def _absent(alternative: Alternative, oils: Group) -> bool:
    """Whether a portion with these oils leaves the alternative's cells empty."""
    return not any(s in oils for s, _ in alternative.empty) and not (alternative.unscented and oils)


def _undecided(frame: Frame, portion: int, oils: Group) -> float:
    """What rules weigh which these oils leave undecided, where only this portion can do so."""
    cost = 0.0
    for uncertain, item_cost in frame.uncertain:
        if oils and uncertain[list(oils), portion].any() and _only(uncertain, portion):
            cost += item_cost
    return cost


def _only(uncertain: Bools, portion: int) -> bool:
    return int(uncertain.any(axis=0).sum()) == 1
