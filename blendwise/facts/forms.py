"""Affine fractions: the one form in which judge and solver share a measure.

A measure that is a fraction of affine forms in the doses is written once, as

    value_i(x) = (Σ_sp a[i,s,p]·x[s,p] + a0[i]) / (Σ_sp d[i,s,p]·x[s,p] + d0[i]),   denominator ≥ 0.

The judge evaluates it at the plan's doses; the solver turns ``value ≤ limit`` into
``a·x + a0 − limit·(d·x + d0) ≤ 0``.  A coefficient that is only partly known is an interval
``[a, a_high]``; ``a_high`` is infinite where the worst case is not known.  Where judgement doubts it besides,
``[a_least, a_most]`` lies around that.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from blendwise.facts.columns import Bools, Floats

End = Literal["kind", "middle", "harsh"]
"""Where judgement is taken within its doubt: as it favours the plan, in between, as it speaks against it."""


@dataclass(frozen=True, slots=True)
class AffineFraction:
    """Rows of fractions.  ``a``, ``a_high``, ``d``: (rows, scents, portions); ``a0``, ``d0``: (rows,).

    ``home``: (rows,) where several rows make up one value, their greatest (the worst of all published
    maxima, say): the home row of each, rising; None where every row is a value of its own.
    ``a_least`` ≤ ``a`` and ``a_most`` ≥ ``a_high``: within judgement's doubt, None where there is none.
    """

    a: Floats
    a0: Floats
    d: Floats
    d0: Floats
    a_high: Floats
    home: NDArray[np.int64] | None = None
    a_least: Floats | None = None
    a_most: Floats | None = None

    def __len__(self) -> int:
        return len(self.a0) if self.home is None else int(self.home.max(initial=-1)) + 1

    @property
    def is_known(self) -> bool:
        """Whether no coefficient is open."""
        return bool((self.a == self.a_high).all())

    @property
    def is_doubted(self) -> bool:
        """Whether judgement doubts any coefficient."""
        return self.a_least is not None or self.a_most is not None

    @property
    def outer(self) -> AffineFraction:
        """The fraction with each coefficient as far as judgement doubts it."""
        return replace(
            self,
            a=self.a if self.a_least is None else self.a_least,
            a_high=self.a_high if self.a_most is None else self.a_most,
            a_least=None,
            a_most=None,
        )

    def at(self, end: End, *, upper: bool) -> Floats:
        """Coefficients for a bound from above (``upper``) or below, at an end of judgement's doubt.

        At the middle a bound from above takes ``a_high``, one from below ``a``; what nobody wrote down keeps
        them at the kind end too.
        """
        usual = self.a_high if upper else self.a
        if end == "middle" or not self.is_doubted:
            return usual
        outer = self.outer
        if end == "harsh":
            return outer.a_high if upper else outer.a
        return np.where(self.a == self.a_high, outer.a if upper else outer.a_high, usual)

    def rows_of(self, home: int) -> NDArray[np.int64]:
        """The rows that make up one value."""
        return np.array([home]) if self.home is None else np.flatnonzero(self.home == home)

    def evaluate(self, x: Floats) -> tuple[Floats, Floats, Bools]:
        """(low, high, asked) at the doses ``x`` (scents, portions) in grams; 0/0 is not asked."""
        below = np.einsum("isp,sp->i", self.d, x) + self.d0
        low = np.einsum("isp,sp->i", self.a, x) + self.a0
        # Summed apart, the two ends of one number could cross by a rounding.
        high = low if self.is_known else np.maximum(low, _sum_with_infinities(self.a_high, x) + self.a0)
        asked = below > 0
        with np.errstate(divide="ignore", invalid="ignore"):
            values = np.where(asked, low / below, 0.0), np.where(asked, high / below, 0.0), np.asarray(asked)
        return values if self.home is None else _greatest(*values, self.home)


def _greatest(
    low: Floats, high: Floats, asked: Bools, home: NDArray[np.int64]
) -> tuple[Floats, Floats, Bools]:
    """The greatest of each home row's values."""
    starts = np.searchsorted(home, np.arange(int(home.max(initial=-1)) + 1))
    if not len(starts):
        return low, high, asked
    lowest = np.where(asked, low, -np.inf), np.where(asked, high, -np.inf)
    reduced = [np.maximum.reduceat(v, starts) for v in lowest]
    any_asked = np.logical_or.reduceat(asked, starts)
    return np.where(any_asked, reduced[0], 0.0), np.where(any_asked, reduced[1], 0.0), np.asarray(any_asked)


def _sum_with_infinities(a: Floats, x: Floats) -> Floats:
    """Σ a·x where an infinite coefficient counts only where something is dosed (0 · ∞ is 0 here)."""
    finite = np.where(np.isfinite(a), a, 0.0)
    open_ended = (~np.isfinite(a) & (x > 0)).any(axis=(1, 2))
    return np.asarray(np.where(open_ended, np.inf, np.einsum("isp,sp->i", finite, x)))


def fraction(
    a: Floats,
    d: Floats | None = None,
    d0: Floats | float = 1.0,
    *,
    a0: Floats | float = 0.0,
    a_high: Floats | None = None,
    home: NDArray[np.int64] | None = None,
    doubt: tuple[Floats, Floats] | None = None,
) -> AffineFraction:
    """Build an AffineFraction; a missing ``d`` is zero, a missing ``a_high`` is ``a`` (all known).

    ``doubt``: (a_least, a_most), where judgement doubts ``a`` and ``a_high``.
    """
    rows = len(a)
    return AffineFraction(
        np.asarray(a, dtype=float),
        np.broadcast_to(np.asarray(a0, dtype=float), (rows,)),
        np.zeros_like(a, dtype=float) if d is None else np.asarray(d, dtype=float),
        np.broadcast_to(np.asarray(d0, dtype=float), (rows,)),
        np.asarray(a if a_high is None else a_high, dtype=float),
        home,
        *(doubt or ()),
    )


def not_asked(rows: AffineFraction) -> AffineFraction:
    """The same rows with nothing below the line: no value of theirs is asked."""
    return replace(rows, d=np.zeros_like(rows.d), d0=np.zeros_like(rows.d0))
