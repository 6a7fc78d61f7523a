"""Conditions as data: what a rule's ``when`` and ``must`` say, once read against the vocabulary."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

from blendwise.facts.columns import Word

BOUNDS: Final = ("at least", "at most", "above", "below")
WORDED: Final = ("is", "is not", "one of", "none of")
KNOWING: Final = ("known", "unknown")
RELATIONS: Final = (*BOUNDS, "between", *WORDED, *KNOWING)
"""All that can be said of a measure.  This set is closed: what does not fit gets a new kind, never code."""

INCLUSIVE: Final = ("at least", "at most", "between")

RELATIONS_OF: Final = {
    "number": (*BOUNDS, "between", "is", "is not", *KNOWING),
    "word": RELATIONS,
    "flag": ("is", "is not", *KNOWING),
    "set": (*WORDED, *KNOWING),
}
"""Word.kind → what can be said of such a measure."""

ANY_OF: Final = "any of"


@dataclass(frozen=True, slots=True)
class Limit:
    """What a value is held against: a number (or index of a word), or ``factor`` times another measure."""

    value: float = 0.0
    measure: str = ""
    factor: float = 1.0
    text: str = ""


@dataclass(frozen=True, slots=True)
class Atom:
    """One line of a condition: ``word`` stands in ``relation`` to its limits or words.

    ``limits`` holds one limit for a bound, ``is`` or ``is not``, two for ``between``; ``words`` the words of
    ``one of`` and ``none of``, and all that is said of a set; both are empty for ``known`` and ``unknown``.
    ``line`` is 1-based, 0 if none.
    """

    word: Word
    relation: str
    limits: tuple[Limit, ...] = ()
    words: tuple[str, ...] = ()
    line: int = 0

    @property
    def measure(self) -> str:
        return self.word.name

    @property
    def limit_measures(self) -> tuple[str, ...]:
        """The measures its limits are taken from."""
        return tuple(limit.measure for limit in self.limits if limit.measure)

    @property
    def measures(self) -> tuple[str, ...]:
        """Every measure that it reads."""
        return (self.measure, *self.limit_measures)

    @property
    def is_bound(self) -> bool:
        """Whether it holds a value against a limit from above or below."""
        return self.relation in BOUNDS or self.relation == "between"

    def __str__(self) -> str:
        tail = " and ".join(limit.text for limit in self.limits) or " or ".join(self.words)
        return f"{self.measure}: {self.relation} {tail}".rstrip()


@dataclass(frozen=True)
class Condition:
    """All of ``atoms``, and (where there are ``branches``) all atoms of at least one branch."""

    atoms: tuple[Atom, ...] = ()
    branches: tuple[tuple[Atom, ...], ...] = ()

    def __iter__(self) -> Iterator[Atom]:
        """Every atom, those of the branches last."""
        yield from self.atoms
        for branch in self.branches:
            yield from branch

    @cached_property
    def measures(self) -> frozenset[str]:
        return frozenset(measure for atom in self for measure in atom.measures)


_SWAPPED: Final = {"one": "other", "other": "one"}


def swap_name(measure: str) -> str:
    """The measure read from the other side of a pair: ``one tags`` ↔ ``other tags``."""
    first, blank, rest = measure.partition(" ")
    return f"{_SWAPPED[first]} {rest}" if blank and first in _SWAPPED else measure


def _swap_atom(atom: Atom) -> Atom:
    if all(swap_name(measure) == measure for measure in atom.measures):
        return atom
    limits = tuple(replace(limit, measure=swap_name(limit.measure)) for limit in atom.limits)
    return replace(atom, word=replace(atom.word, name=swap_name(atom.measure)), limits=limits)


def swap(condition: Condition) -> Condition:
    """The condition with ``one`` and ``other`` changed about."""
    return Condition(
        tuple(_swap_atom(atom) for atom in condition.atoms),
        tuple(tuple(_swap_atom(atom) for atom in branch) for branch in condition.branches),
    )
