"""The registry of the vocabulary: every measure with the functions behind it, by name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from blendwise.facts.columns import AnyColumn, Floats, Word
from blendwise.facts.forms import AffineFraction


@dataclass(frozen=True, slots=True)
class Bound:
    """A bound on the fraction that a measure reads: ``fraction relation limit`` (limit per home row)."""

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

    ``fraction`` is set where the measure is an affine fraction of the doses.  ``reads`` names the fractions
    through which alone doses move it: with their columns in place its function answers for many blends at
    once.  ``cap(situation, relation, limit)`` is set where a bound on it is one on the only fraction that it
    reads (``form`` is then inverted).
    """

    word: Word
    compute: Callable[[Any], AnyColumn]
    fraction: Callable[[Any], AffineFraction] | None = None
    cap: Callable[[Any, str, Floats], Bound] | None = None
    reads: tuple[str, ...] = ()
    use: Use = PLAIN


Family = Callable[[str], "Measure | None"]
"""A name → its measure, where it is one of the family (``dose of [lime, cedar]``)."""


class Registry(dict[str, Measure]):
    """Name → measure.  The functions take a situation (``facts.situation.worked_out``).

    A measure of named things is made when it is first asked for; what is iterated and counted are the plain
    measures alone.
    """

    def __init__(self) -> None:
        super().__init__()
        self.families: list[Family] = []
        self._made: dict[str, Measure | None] = {}

    def __missing__(self, name: str) -> Measure:
        found = self._of_family(name)
        if found is None:
            raise KeyError(name)
        return found

    def __contains__(self, name: object) -> bool:
        return super().__contains__(name) or (isinstance(name, str) and self._of_family(name) is not None)

    def get(self, name: str, default: Any = None) -> Any:
        """The measure of a name, plain or of a family."""
        try:
            return self[name]
        except KeyError:
            return default

    def _of_family(self, name: str) -> Measure | None:
        if name not in self._made:
            if len(self._made) > MOST_MADE:
                self._made.clear()
            made = (family(name) for family in self.families)
            self._made[name] = next((each for each in made if each is not None), None)
        return self._made[name]


MOST_MADE = 5_000
"""Names of families that are kept at once."""

REGISTRY = Registry()


def of_size(measure: str) -> bool:
    """Whether a measure follows the size of the batch, or the one that a word says of one side of a pair."""
    found = REGISTRY.get(measure) or REGISTRY.get(measure.partition(" ")[2])
    return found is not None and found.use.of_size
