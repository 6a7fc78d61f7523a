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
    _refuse(name, found, np.isnan(found) if endless else ~np.isfinite(found), "a number")
    if least is not None:
        _refuse(name, found, found < least, f"at least {least:g}")
    if above is not None:
        _refuse(name, found, found <= above, f"above {above:g}")
    if most is not None:
        _refuse(name, found, found > most, f"at most {most:g}")
    if below is not None:
        _refuse(name, found, found >= below, f"below {below:g}")
    return found


def _refuse(name: str, found: Floats, wrong: Bools, wanted: str) -> None:
    if np.any(wrong):
        raise ValueError(f"{name} must be {wanted}, not {found[wrong].flat[0]:g}")
