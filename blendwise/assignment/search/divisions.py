"""Divisions of oils into premixes: every way to put n oils into at most k groups."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import comb, factorial

from blendwise.assignment.problem.ready import Group, Groups


def count(oils: int, most: int) -> int:
    """Number of divisions of ``oils`` into at most ``most`` non-empty groups (Stirling numbers, summed)."""
    return sum(_stirling(oils, groups) for groups in range(1, min(oils, most) + 1))


def _stirling(oils: int, groups: int) -> int:
    terms = (int((-1) ** (groups - k)) * comb(groups, k) * k**oils for k in range(groups + 1))
    return int(sum(terms)) // factorial(groups)


def divisions(oils: int, groups: int, allowed: Callable[[Group], bool]) -> Iterator[Groups]:
    """Every division into exactly ``groups`` groups, each of them ``allowed``; always in the same order."""
    yield from _split(tuple(range(oils)), groups, allowed)


def _split(left: Group, groups: int, allowed: Callable[[Group], bool]) -> Iterator[Groups]:
    if groups == 1:
        if allowed(left):
            yield (left,)
        return
    first, others = left[0], left[1:]
    for mask in range(2 ** len(others) - 1):
        rest = tuple(oil for k, oil in enumerate(others) if not mask >> k & 1)
        if len(rest) < groups - 1:
            continue
        group = (first, *(oil for k, oil in enumerate(others) if mask >> k & 1))
        if allowed(group):
            yield from ((group, *tail) for tail in _split(rest, groups - 1, allowed))
