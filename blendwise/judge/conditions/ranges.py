"""Interval reasoning about conditions: what a line allows, and whether one line implies another.

Everything here is about conditions alone, without facts; where nothing can be proved the answer is no.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

from blendwise.facts.columns import Word
from blendwise.judge.conditions.comparator import margin
from blendwise.judge.conditions.conditions import Atom, Condition, Limit

INFINITY: Final = float("inf")


@dataclass(frozen=True, slots=True)
class Range:
    """The values from ``low`` to ``high``, ends included unless open."""

    low: float = -INFINITY
    high: float = INFINITY
    open_low: bool = False
    open_high: bool = False

    @property
    def is_empty(self) -> bool:
        return self.low > self.high or (self.low == self.high and (self.open_low or self.open_high))

    def __and__(self, other: Range) -> Range:
        low, open_low = max((self.low, self.open_low), (other.low, other.open_low))
        high, shut = min((self.high, not self.open_high), (other.high, not other.open_high))
        return Range(low, high, open_low, not shut)

    def within(self, other: Range) -> bool:
        """Whether every value here is one there (an empty range is within all)."""
        return self.is_empty or (self & other) == self

    def apart_from(self, other: Range) -> bool:
        """Whether no value is in both, by more than the comparator's tolerance."""
        both = self & other
        return both.is_empty and bool(both.low - both.high > margin(float(both.high)))


def possible(word: Word) -> Range:
    """All values a measure can take: its own bounds, or its scale."""
    if word.scale is not None:
        return Range(0.0, float(len(word.scale) - 1))
    return Range(word.lowest, word.highest)


def range_of(atom: Atom) -> Range | None:
    """The values which a line allows; None where it is no range of numbers or hangs on another measure."""
    if atom.limit_measures or not atom.limits or atom.relation == "is not":
        return None
    low, high = atom.limits[0].value, atom.limits[-1].value
    match atom.relation:
        case "at least":
            return Range(low=low)
        case "above":
            return Range(low=low, open_low=True)
        case "at most":
            return Range(high=high)
        case "below":
            return Range(high=high, open_high=True)
        case _:
            return Range(low, high)


def ranges(atoms: Iterable[Atom]) -> dict[str, Range]:
    """Measure → the values left by all the lines that speak of it, within what is possible."""
    left: dict[str, Range] = {}
    for atom in atoms:
        allowed = range_of(atom)
        if allowed is not None:
            left[atom.measure] = left.get(atom.measure, possible(atom.word)) & allowed
    return left


def implies(one: Atom, other: Atom) -> bool:
    """Whether a line that holds makes another hold, for every value (proved, or no)."""
    if one.measure != other.measure:
        return False
    mine, theirs = range_of(one), range_of(other)
    if mine is not None and theirs is not None:
        return (mine & possible(one.word)).within(theirs)
    if one.relation != other.relation:
        return False
    return _IMPLIES.get(one.relation, _same)(one, other)


def _same(one: Atom, other: Atom) -> bool:
    return (one.limits, set(one.words)) == (other.limits, set(other.words))


def _not_above(one: Limit, other: Limit, word: Word) -> bool:
    """Whether one limit never exceeds the other: alike, with a factor that is no greater."""
    if one.measure != other.measure:
        return False
    if not one.measure:
        return one.value <= other.value
    return one.factor == other.factor or (one.factor < other.factor and possible(word).low >= 0)


def _lower(one: Atom, other: Atom) -> bool:
    return _not_above(one.limits[0], other.limits[0], one.word)


def _higher(one: Atom, other: Atom) -> bool:
    return _not_above(other.limits[0], one.limits[0], one.word)


def _narrower(one: Atom, other: Atom) -> bool:
    return _not_above(other.limits[0], one.limits[0], one.word) and _not_above(
        one.limits[1], other.limits[1], one.word
    )


_IMPLIES: Final[dict[str, Callable[[Atom, Atom], bool]]] = {
    "at most": _lower,
    "below": _lower,
    "at least": _higher,
    "above": _higher,
    "between": _narrower,
    "one of": lambda one, other: set(one.words) <= set(other.words),
    "none of": lambda one, other: set(one.words) >= set(other.words),
}


def covers(wide: Condition, narrow: Condition) -> bool:
    """Whether ``wide`` holds wherever ``narrow`` does: each of its lines follows from one of the other's."""
    if wide.branches:
        return wide == narrow
    return all(any(implies(mine, line) for mine in narrow.atoms) for line in wide.atoms)
