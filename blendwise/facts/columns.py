"""Columns and tables of facts: what the judge reads.

Every numeric, worded or yes/no fact is held as an **interval** ``[low, high]``:

* known: ``low == high``;
* partly known (a sum with one unknown term): ``low`` is what is certain, ``high`` may be infinite;
* not known at all: ``(-inf, inf)``.

Beside what nobody wrote down stands what judgement does not know better: ``[least, most]``, around
``[low, high]``.  A known value with two ends (minutes of a recipe's class: 24, by judgement 17 to 34) has
``low == high == 24``, ``least == 17``, ``most == 34``; where no ends are given they are ``low`` and ``high``.

Words of a scale ("ivory" … "chocolate") are held by their index in ``scale``; yes/no is the scale
``("no", "yes")``.  So one comparison serves all kinds, and *unknown* can never pass for zero.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from blendwise.records.place import Spot

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

YES_NO = ("no", "yes")
GRAINS = ("batch", "additive", "embed", "portion", "scent", "dose", "pair", "edge")


@dataclass(frozen=True, slots=True, order=True)
class Missing:
    """A base fact that nobody has written down, e.g. ``Missing("vetiver", "vanillin")``."""

    subject: str
    fact: str


@dataclass(frozen=True, slots=True)
class Column:
    """One fact over all rows of a table.

    ``low``, ``high``: floats of shape (rows,), in the measure's canonical unit (fractions, g, °C, min)
    or indices into ``scale``: *what nobody wrote down*, judgement taken at its middle.
    ``least`` ≤ ``low`` and ``most`` ≥ ``high`` (same shape, None where there is no doubt): judgement's own
    doubt as well.  A measure that hangs on doubtful figures is worked out at their corners, a figure that
    is shared moved once.  ``narrowed_by``: per row, the facts that would bring these two nearer.
    ``worlds`` (worlds, rows): its value at each of those corners, where another measure hangs on the same
    figures; two such columns are held against each other corner by corner, never end against end.
    ``asked``: False where the thing does not exist (0/0, an unscented
    portion, a missing second scent), so that a rule on it is *not asked*; None means asked everywhere.
    ``missing``: per row, the base facts that would close the interval.  ``evidence``: per row, who says so.
    """

    low: Floats
    high: Floats
    scale: tuple[str, ...] | None = None
    asked: Bools | None = None
    missing: Mapping[int, tuple[Missing, ...]] = field(default_factory=dict)
    evidence: Mapping[int, str] = field(default_factory=dict)
    least: Floats | None = None
    most: Floats | None = None
    narrowed_by: Mapping[int, tuple[Missing, ...]] = field(default_factory=dict)
    worlds: Floats | None = None

    def __len__(self) -> int:
        return len(self.low)

    @property
    def known(self) -> Bools:
        """Where the interval is a single point, judgement taken at its middle."""
        return np.asarray(self.low == self.high)

    @property
    def widened(self) -> bool:
        """Whether judgement doubts any of its values."""
        return self.least is not None or self.most is not None

    @property
    def outer(self) -> tuple[Floats, Floats]:
        """(least, most): ``low`` and ``high`` with judgement's own doubt."""
        least = self.low if self.least is None else self.least
        return least, self.high if self.most is None else self.most


@dataclass(frozen=True, slots=True)
class SetColumn:
    """A set of words per row (tags).

    ``has[i, k]`` says whether row i has ``words[k]``; ``known[i]`` whether anything is known of it.
    ``maybe[i, k]``: where the set is known but for some words, whether ``words[k]`` may be one of them.
    """

    words: tuple[str, ...]
    has: Bools
    known: Bools
    asked: Bools | None = None
    missing: Mapping[int, tuple[Missing, ...]] = field(default_factory=dict)
    evidence: Mapping[int, str] = field(default_factory=dict)
    maybe: Bools | None = None

    def __len__(self) -> int:
        return len(self.known)


AnyColumn = Column | SetColumn


@dataclass(frozen=True, slots=True)
class Subject:
    """What a row speaks of: the names that findings show and that acceptances match.

    ``names``: (scent, portion) for a dose, (scent, scent, portion) for a pair, (portion, portion) for an
    edge, one name for any other grain.  ``place``: where the plan says so, if anywhere.
    """

    grain: str
    names: tuple[str, ...]
    place: Spot | None = None

    def __str__(self) -> str:
        match self.grain, self.names:
            case "dose", (scent, portion):
                return f"{scent} in {portion}"
            case "pair", (one, other, portion):
                return f"{one} with {other} in {portion}"
            case "edge", (one, other):
                return f"{one} and {other}"
            case _:
                return self.names[0]


class Table:
    """All facts of one grain, each column computed at first need and kept; so are subjects that are a call.

    ``swap``: for pair and edge tables, the permutation that reads every row the other way round
    is expressed by the measures themselves (``one …``/``other …``), so the judge needs nothing more.
    ``careful``: what is within judgement's doubt counts as broken.
    """

    def __init__(
        self,
        grain: str,
        subjects: Sequence[Subject] | Callable[[], Sequence[Subject]],
        compute: Callable[[str], AnyColumn],
        careful: bool = False,
        rows: int | None = None,
    ) -> None:
        self.grain = grain
        self.careful = careful
        self._subjects = subjects
        self._rows = rows
        self._compute = compute
        self._kept: dict[str, AnyColumn] = {}

    @cached_property
    def subjects(self) -> tuple[Subject, ...]:
        """What each row speaks of."""
        return tuple(self._subjects() if callable(self._subjects) else self._subjects)

    def __len__(self) -> int:
        return len(self.subjects) if self._rows is None else self._rows

    def column(self, measure: str) -> AnyColumn:
        """The column of a measure (KeyError where the vocabulary has no such word at this grain)."""
        if measure not in self._kept:
            self._kept[measure] = self._compute(measure)
        return self._kept[measure]


@dataclass(frozen=True, slots=True)
class Word:
    """What the judge must know of a measure to read a condition on it.

    ``kind``: number | word | flag | set.  ``dimension``: name of a quantity Dimension for numbers.
    ``unit``: how it is shown ("% of portion oils", "min", "g").  ``basis``: the basis of a fraction.
    ``scale``: the words in order for kind word.  ``grain``: home grain; ``grains``: where it may be used.
    ``theme``: what it belongs to (the module that declares it); ``source``: where such figures come from.
    ``form``: constant | fraction | inverted | afterwards, how it compiles for the solver.
    """

    name: str
    grain: str
    grains: tuple[str, ...]
    kind: str
    unit: str = ""
    dimension: str = "NUMBER"
    basis: str = ""
    scale: tuple[str, ...] | None = None
    form: str = "constant"
    lowest: float = -np.inf
    highest: float = np.inf
    meaning: str = ""
    formula: str = ""
    theme: str = ""
    source: str = ""


Vocabulary = Mapping[str, Word]
