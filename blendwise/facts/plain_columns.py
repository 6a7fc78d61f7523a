"""Columns from plain lists: the same few lines for every measure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from blendwise.facts.columns import YES_NO, Bools, Column, Floats, Missing, SetColumn

Gap = Missing | tuple[Missing, ...]
"""What would close a row: one fact, or several."""


def known(values: Floats | Sequence[float], asked: Bools | None = None) -> Column:
    """A column whose values are all known; NaN stands for not known and opens the interval."""
    found = np.asarray(values, dtype=float)
    lost = np.isnan(found)
    return Column(np.where(lost, -np.inf, found), np.where(lost, np.inf, found), asked=asked)


def numbers(
    values: Sequence[float | None],
    missing: Sequence[Gap],
    asked: Bools | None = None,
    evidence: Sequence[str] | None = None,
) -> Column:
    """A column of numbers, None where not known; ``missing[i]`` names the fact of row i."""
    found = np.array([np.nan if v is None else v for v in values], dtype=float)
    column = known(found, asked)
    return _with_missing(column, np.isnan(found), missing, evidence)


def words(
    values: Sequence[str | None],
    scale: tuple[str, ...],
    missing: Sequence[Gap] | None = None,
    asked: Bools | None = None,
    evidence: Sequence[str] | None = None,
) -> Column:
    """A column of words of a scale, None where not known."""
    found = np.array([np.nan if v is None else scale.index(v) for v in values], dtype=float)
    plain = known(found, asked)
    column = Column(plain.low, plain.high, scale, asked)
    return _with_missing(column, np.isnan(found), missing or (), evidence)


def flags(
    values: Sequence[bool | None] | Bools,
    missing: Sequence[Gap] | None = None,
    asked: Bools | None = None,
) -> Column:
    """A yes/no column, None where not known."""
    return words([None if v is None else YES_NO[bool(v)] for v in values], YES_NO, missing, asked)


def widened(column: Column, least: Floats, most: Floats, like: Column) -> Column:
    """The column with the ends of judgement's doubt, never inside its own, narrowed as ``like`` is."""
    outer = np.minimum(least, column.low), np.maximum(most, column.high)
    return replace(column, least=outer[0], most=outer[1], narrowed_by=like.narrowed_by)


def sets(values: Sequence[Sequence[str]], asked: Bools | None = None) -> SetColumn:
    """A column of sets of words; an empty set is known to be empty."""
    vocabulary = tuple(sorted({w for row in values for w in row}))
    has = np.array([[w in row for w in vocabulary] for row in values], dtype=bool).reshape(
        len(values), len(vocabulary)
    )
    return SetColumn(vocabulary, has, np.ones(len(values), dtype=bool), asked)


def _with_missing(
    column: Column, lost: Bools, missing: Sequence[Gap], evidence: Sequence[str] | None
) -> Column:
    named = {i: _facts(missing[i]) for i in map(int, np.flatnonzero(lost))} if missing else {}
    said = {i: e for i, e in enumerate(evidence) if e} if evidence else {}
    return Column(column.low, column.high, column.scale, column.asked, named, said)


def _facts(gap: Gap) -> tuple[Missing, ...]:
    return (gap,) if isinstance(gap, Missing) else gap
