"""Refusals that say why: numbers that cannot be what they claim, for the modules on colour, time and heat.

Every function takes anything NumPy reads as numbers and hands back a float array of the same shape, or
raises ValueError with the name of the value, the bound and the reason.  NaN is always refused: a value
that is not known is an interval for the caller to hold.  Infinity is refused unless ``endless``.
"""

from __future__ import annotations

from numpy.typing import ArrayLike

from blendwise.science import guards
from blendwise.science.guards import Bools, Floats, Ints

__all__ = ["Bools", "Floats", "Ints", "not_negative", "numbers", "positive", "share"]


def numbers(name: str, value: ArrayLike, *, endless: bool = False) -> Floats:
    """``value`` as floats, any shape."""
    return guards.numbers(name, value, endless=endless)


def positive(name: str, value: ArrayLike, why: str, *, endless: bool = False) -> Floats:
    """``value`` as floats above zero; ValueError that ends in ``why`` otherwise."""
    try:
        return guards.numbers(name, value, above=0, endless=endless)
    except ValueError as error:
        raise ValueError(f"{error}: {why}") from None


def not_negative(name: str, value: ArrayLike, why: str, *, endless: bool = False) -> Floats:
    """``value`` as floats of zero or more; ValueError that ends in ``why`` otherwise."""
    try:
        return guards.numbers(name, value, least=0, endless=endless)
    except ValueError as error:
        raise ValueError(f"{error}: {why}") from None


def share(name: str, value: ArrayLike, why: str) -> Floats:
    """``value`` as fractions in 0 to 1, both included; ValueError that ends in ``why`` otherwise."""
    try:
        return guards.numbers(name, value, least=0, most=1)
    except ValueError as error:
        raise ValueError(f"{error}: {why}") from None
