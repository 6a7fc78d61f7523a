"""Refusals shared by the sciences: senseless input is named, never computed with."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.int64]

# Decimal input is binary inside: 35 % + 25 % + 25 % + 15 % may miss 100 % by a few units in the last place.
ROUNDING = 1e-9


def numbers(
    name: str,
    value: ArrayLike,
    *,
    least: float | None = None,
    above: float | None = None,
    most: float | None = None,
    below: float | None = None,
    endless: bool = False,
) -> Floats:
    """``value`` as an array of floats of the same shape, checked against its bounds.

    ``least``/``most`` are allowed values, ``above``/``below`` are not; infinities only where ``endless``.
    ValueError names the quantity, the bound and the first value that breaks it.
    """
    found = np.asarray(value, dtype=np.float64)
    if found.size and not endless:
        first, last = float(np.minimum.reduce(found, axis=None)), float(np.maximum.reduce(found, axis=None))
        # A not-a-number makes both ends one, and is within no bounds.
        if (
            -np.inf < first <= last < np.inf
            and (least is None or least <= first)
            and (above is None or above < first)
            and (most is None or last <= most)
            and (below is None or last < below)
        ):
            return found
    _need(name, found, ~np.isnan(found) if endless else np.isfinite(found), "a number")
    if least is not None:
        _need(name, found, found >= least, "at least", least)
    if above is not None:
        _need(name, found, found > above, "above", above)
    if most is not None:
        _need(name, found, found <= most, "at most", most)
    if below is not None:
        _need(name, found, found < below, "below", below)
    return found


def _need(name: str, found: Floats, right: Bools, wanted: str, bound: float | None = None) -> None:
    if not right.all():
        least = "" if bound is None else f" {bound:g}"
        raise ValueError(f"{name} must be {wanted}{least}, not {found[~right].flat[0]:g}")
