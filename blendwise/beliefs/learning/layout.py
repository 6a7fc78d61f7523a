"""Looks laid out as a regression: columns for oils and their lots, and each batch's own word afterwards."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from blendwise.beliefs.learning.evidence import Bottle, Row
from blendwise.beliefs.learning.priors import Centre
from blendwise.beliefs.learning.regression import Floats, Looks, Posterior, Prior

CUP_NOISE: Final = 1.25  # times the noise of a look at a batch: judgement, a cup being small and soon cold
MAIN_SHARE: Final = 0.5  # a batch has a word on an oil where that oil does at least so much of what is seen


@dataclass(frozen=True, slots=True)
class Layout:
    """``columns``: oils, then bottles.  ``amounts`` (n, bottles), ``members`` (bottles, columns)."""

    oils: tuple[str, ...]
    bottles: tuple[Bottle, ...]
    amounts: Floats
    members: Floats
    looks: Looks
    prior: Prior

    def pick(self, oil: str, lot: str) -> tuple[Floats, bool]:
        """The columns that make up an oil's bottle (columns,), and whether that lot was ever seen."""
        chosen = np.zeros(self.members.shape[1])
        chosen[self.oils.index(oil)] = 1.0
        seen = bool(lot) and (oil, lot) in self.bottles
        if seen:
            chosen[len(self.oils) + self.bottles.index((oil, lot))] = 1.0
        return chosen, seen


def lay_out(
    rows: Sequence[Row], centres: Mapping[str, Centre], lot_sd: float, batch_sd: Sequence[float]
) -> Layout:
    """Rows as arrays; every oil in them has a centre."""
    bottles = tuple(dict.fromkeys(bottle for row in rows for bottle in row.amounts))
    oils = tuple(dict.fromkeys(oil for oil, _ in bottles))
    place = {bottle: index for index, bottle in enumerate(bottles)}
    amounts = np.zeros((len(rows), len(bottles)))
    for n, row in enumerate(rows):
        for bottle, amount in row.amounts.items():
            amounts[n, place[bottle]] = amount
    own = np.array([[oil == name for name in oils] for oil, _ in bottles], dtype=float)
    members = np.hstack([own, np.eye(len(bottles))])
    means = [centres[oil][0] for oil in oils] + [0.0] * len(bottles)
    widths = [centres[oil][1] for oil in oils] + [lot_sd] * len(bottles)
    return Layout(oils, bottles, amounts, members, _looks(rows), _prior(means, widths, batch_sd))


def _looks(rows: Sequence[Row]) -> Looks:
    return Looks(
        np.array([row.value - row.offset for row in rows], dtype=float),
        np.array([row.side for row in rows], dtype=np.int64),
        np.array([row.sd * (CUP_NOISE if row.is_cup else 1.0) for row in rows], dtype=float),
        np.array([row.batch for row in rows], dtype=np.int64),
    )


def _prior(means: Sequence[float], widths: Sequence[float], batch_sd: Sequence[float]) -> Prior:
    return Prior(
        np.array(means, dtype=float),
        1 / np.array(widths, dtype=float) ** 2,
        np.zeros(len(batch_sd)),
        1 / np.array(batch_sd, dtype=float) ** 2,
    )


@dataclass(frozen=True, slots=True)
class Word:
    """A batch's own word on an oil: the value it implies, all else as believed."""

    oil: str
    row: Row
    value: float


def own_words(
    rows: Sequence[Row], laid: Layout, after: Posterior, law: tuple[Floats, Floats], base_apart: bool
) -> Iterator[Word]:
    """One word a batch and oil, from the portion in which the oil weighed most; ``law``: g and slopes.

    ``base_apart``: the batch's own column speaks of its batter, not of its oils, and is taken off.
    """
    g, slopes = law
    weight = slopes[:, : len(laid.oils)]
    share = weight / np.maximum(weight.sum(axis=1, keepdims=True), 1e-12)
    best: dict[tuple[str, int], int] = {}
    for n, column in zip(*np.nonzero((share >= MAIN_SHARE) & (weight > 0)), strict=True):
        key = (laid.oils[column], rows[n].batch)
        if key not in best or weight[n, column] > weight[best[key], column]:
            best[key] = int(n)
    for (oil, batch), n in sorted(best.items(), key=lambda item: (item[0][1], item[0][0])):
        bottle = next(each for each in rows[n].amounts if each[0] == oil)
        believed = float(laid.members[laid.bottles.index(bottle)] @ after.mean)
        left = laid.looks.value[n] - g[n] - (after.groups[batch] if base_apart else 0.0)
        yield Word(oil, rows[n], float(believed + left / weight[n, laid.oils.index(oil)]))
