"""The registry of the vocabulary: every measure with the functions behind it, by name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from blendwise.facts.columns import AnyColumn, Floats, Word
from blendwise.facts.forms import AffineFraction


@dataclass(frozen=True, slots=True)
class Bound:
    """A bound on an underlying fraction: ``fraction relation limit`` (limit per home row)."""

    of: str
    relation: str
    limit: Floats


@dataclass(frozen=True, slots=True)
class Use:
    """What answers make of a measure beside its column; said where the measure is declared.

    ``warns_of``: the trouble (``beliefs.expected.Trouble``) that a look shows where a rule on it was right.
    ``of_pour``: a pour decides it, so that a rule which reads it is asked of every style.
    ``of_size``: it changes with the size of the batch, every share staying as it is; no other measure may.
    ``besides``: what is said of a colourant, whatever the scent, where a rule finds it broken.
    ``fact``, ``told_by(scent record)``: a fact that a maker wants of every oil, and whether it was given.
    """

    warns_of: str = ""
    of_pour: bool = False
    of_size: bool = False
    besides: str = ""
    fact: str = ""
    told_by: Callable[[Any], object] = bool


PLAIN = Use()


@dataclass(frozen=True, slots=True)
class Measure:
    """One word of the vocabulary with the function behind it.

    ``fraction`` is set where the measure is an affine fraction of the doses; ``cap(situation,
    relation, limit)`` where a bound on it is a bound on another fraction (``form`` is then inverted).
    """

    word: Word
    compute: Callable[[Any], AnyColumn]
    fraction: Callable[[Any], AffineFraction] | None = None
    cap: Callable[[Any, str, Floats], Bound] | None = None
    use: Use = PLAIN


REGISTRY: dict[str, Measure] = {}
"""Name → measure.  The functions take a situation (``facts.situation.worked_out``)."""


def of_size(measure: str) -> bool:
    """Whether a measure follows the size of the batch, or the one that a word says of one side of a pair."""
    found = REGISTRY.get(measure) or REGISTRY.get(measure.partition(" ")[2])
    return found is not None and found.use.of_size
