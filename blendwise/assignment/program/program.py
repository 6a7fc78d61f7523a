"""A linear program in the making: columns, rows, and the arrays the solver takes."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike, NDArray

from blendwise.facts.columns import Bools, Floats

Ints = NDArray[np.int64]
INF = float("inf")


@dataclass(frozen=True, slots=True)
class Expression:
    """``constant + sum(coefs * columns)``: a goal, or a measure of the program."""

    cols: Ints
    coefs: Floats
    constant: float = 0.0

    def at(self, values: Floats) -> float:
        """Its value for the columns' ``values``."""
        return self.constant + float(self.coefs @ values[self.cols])

    def cost(self, count: int) -> Floats:
        """The coefficients over all ``count`` columns."""
        cost = np.zeros(count)
        np.add.at(cost, self.cols, self.coefs)
        return cost


@dataclass(frozen=True, slots=True)
class Program:
    """Column ends, row ends and the matrix by rows; ``whole`` marks integer columns."""

    low: Floats
    high: Floats
    whole: Bools
    row_low: Floats
    row_high: Floats
    start: NDArray[np.int32]
    index: NDArray[np.int32]
    value: Floats


@dataclass
class Draft:
    """Collects columns and rows; ``finish`` gives the program."""

    count: int = 0
    rows: int = 0
    _low: list[Floats] = field(default_factory=list)
    _high: list[Floats] = field(default_factory=list)
    _whole: list[Bools] = field(default_factory=list)
    _row_low: list[float] = field(default_factory=list)
    _row_high: list[float] = field(default_factory=list)
    _cells: list[tuple[Ints, Ints, Floats]] = field(default_factory=list)

    def columns(self, count: int, low: ArrayLike, high: ArrayLike, whole: bool = False) -> Ints:
        """Add ``count`` columns between the given ends; their indices."""
        self._low.append(np.broadcast_to(np.asarray(low, dtype=np.float64), count))
        self._high.append(np.broadcast_to(np.asarray(high, dtype=np.float64), count))
        self._whole.append(np.full(count, whole))
        self.count += count
        return np.arange(self.count - count, self.count)

    def row(self, cols: ArrayLike, coefs: ArrayLike, low: float, high: float) -> int:
        """Add one row ``low <= coefs @ columns <= high``; its index."""
        where = np.asarray(cols, dtype=np.int64).ravel()
        values = np.broadcast_to(np.asarray(coefs, dtype=np.float64).ravel(), where.shape)
        return self.table(where[None, :], values[None, :], [low], [high])

    def table(self, cols: Ints, coefs: ArrayLike, low: ArrayLike, high: ArrayLike) -> int:
        """Add rows of equal length: ``cols`` and ``coefs`` (rows, terms); the first one's index."""
        values = np.broadcast_to(np.asarray(coefs, dtype=np.float64), cols.shape)
        first, count = self.rows, cols.shape[0]
        numbers = np.repeat(np.arange(first, first + count), cols.shape[1])
        kept = values.ravel() != 0.0
        self._cells.append((numbers[kept], cols.ravel()[kept], values.ravel()[kept]))
        self._row_low.extend(np.broadcast_to(np.asarray(low, dtype=np.float64), count).tolist())
        self._row_high.extend(np.broadcast_to(np.asarray(high, dtype=np.float64), count).tolist())
        self.rows += count
        return first

    def finish(self) -> Program:
        """The arrays; terms of one row are in the order of their columns."""
        numbers, index, value = (
            np.concatenate([part[k] for part in self._cells]) if self._cells else np.zeros(0)
            for k in range(3)
        )
        order = np.lexsort((index, numbers))
        start = np.searchsorted(numbers[order], np.arange(self.rows + 1))
        return Program(
            np.concatenate(self._low),
            np.concatenate(self._high),
            np.concatenate(self._whole),
            np.asarray(self._row_low),
            np.asarray(self._row_high),
            start.astype(np.int32),
            index[order].astype(np.int32),
            value[order],
        )
