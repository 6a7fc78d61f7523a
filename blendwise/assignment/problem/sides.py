"""The either-ors of a problem as arrays, so that an answer is asked of all of them at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from blendwise.assignment.problem.problem import Alternative, EitherOr, Row
from blendwise.facts.columns import Bools, Floats

Ints = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Sides:
    """Alternatives one after another.

    ``a`` (rows, cells), ``limits`` (rows,): all their rows as ``a x <= limits``; ``row_of``: whose each is;
    ``shut`` (alternatives, cells): what has to be empty; ``side_of`` (alternatives,): of which either-or.
    """

    a: Floats
    limits: Floats
    row_of: Ints
    shut: Bools
    side_of: Ints
    either: int

    def held(self, grams: Floats, room: float) -> Bools:
        """Of which either-ors (either-ors,) an alternative holds at these grams (scents, portions)."""
        x = grams.ravel()
        fails = np.asarray((self.shut & (x > 0)).any(axis=1))
        fails[self.row_of[self.a @ x > self.limits + room]] = True
        held = np.zeros(self.either, dtype=np.bool_)
        held[self.side_of[~fails]] = True
        return held


def sides_of(either: Sequence[EitherOr], shape: tuple[int, int], strict: float) -> Sides:
    """All alternatives of either-ors; a strict row's limit lies ``strict`` lower."""
    sides = [(k, side) for k, each in enumerate(either) for side in each.alternatives]
    rows: list[tuple[int, Row]] = [(n, row) for n, (_, side) in enumerate(sides) for row in side.rows]
    scale = np.array([row.scale for _, row in rows])
    room = np.array([strict if row.strict else 0.0 for _, row in rows])
    size = shape[0] * shape[1]
    return Sides(
        np.array([row.a.ravel() for _, row in rows]).reshape(len(rows), size) / scale[:, None],
        -np.array([row.a0 for _, row in rows]) / scale - room,
        np.array([n for n, _ in rows], dtype=np.int64),
        np.array([_shut(side, shape) for _, side in sides], dtype=np.bool_).reshape(len(sides), size),
        np.array([k for k, _ in sides], dtype=np.int64),
        len(either),
    )


def _shut(side: Alternative, shape: tuple[int, int]) -> Bools:
    shut = np.zeros(shape, dtype=np.bool_)
    for cell in side.empty:
        shut[cell] = True
    shut[:, list(side.unscented)] = True
    return shut.ravel()
