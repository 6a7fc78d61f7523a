"""What the assignment solves, as numbers only: scents, portions, rows, either-ors, a pour clock, goals.

Nothing here knows a rule or a plan.  Every constraint carries a ``source``, an opaque tuple which the
compiler understands (rule, subject, plan line) and which conflicts and explanations hand back unchanged.
Doses are grams ``x[s, p]`` of scent s in portion p, arrays of shape (scents, portions).
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal, Protocol, get_args

import numpy as np

from blendwise.facts.columns import Bools, Floats
from blendwise.judge.findings.finding import Level
from blendwise.records.kinds.plan import Preference

Source = tuple[Hashable, ...]
Dosing = Literal["same total", "same dose"]
Goal = Preference
GOALS: tuple[Goal, ...] = get_args(Preference)
DEFAULT_PREFER: tuple[Goal, ...] = (
    "true to blend",
    "even scent",
    "few weighings",
    "quick oils in little batter",
)
"""What is smelled, then the work; a batter that hurries is a risk, and decides where these leave a choice:
that the pour keeps its time is not hoped for here, rules ask it first."""

HARD: frozenset[Level] = frozenset({"stop", "conflict"})
LEVEL_WEIGHT: Mapping[Level, float] = {"hint": 0.1, "caution": 1.0, "conflict": 10.0, "stop": 100.0}
"""What one broken (soft) or undecided (any level) rule weighs when the fewest are sought."""

STRICT = 1e-6
"""A strict row (the negation of "at most") must clear its limit by this share of its scale."""


@dataclass(frozen=True, eq=False)
class Row:
    """One bound, ``sum(a * x) + a0 <= 0`` with ``a`` of shape (scents, portions).

    An affine fraction ``num <= limit * den`` is handed in as ``num - limit * den``.  ``scale`` (> 0) is the
    size of the limit side in the row's own unit, so that ``violation / scale`` is a share of the limit.
    ``uncertain`` (scents, portions) marks the cells in which a dose leaves the rule undecided.
    """

    name: str
    source: Source
    a: Floats
    a0: float
    level: Level = "conflict"
    scale: float = 1.0
    weight: float | None = None
    strict: bool = False
    uncertain: Bools | None = None

    @property
    def hard(self) -> bool:
        """Whether an answer must keep it (stop, conflict)."""
        return self.level in HARD

    @property
    def cost(self) -> float:
        """What breaking it weighs."""
        return LEVEL_WEIGHT[self.level] if self.weight is None else self.weight


@dataclass(frozen=True, eq=False)
class Alternative:
    """All of: every row holds, every cell of ``empty`` (scent, portion) has no dose, every portion of
    ``unscented`` none."""

    rows: tuple[Row, ...] = ()
    empty: tuple[tuple[int, int], ...] = ()
    unscented: tuple[int, ...] = ()


@dataclass(frozen=True, eq=False)
class EitherOr:
    """At least one of the alternatives holds (a soft one may be broken at its cost)."""

    name: str
    source: Source
    alternatives: tuple[Alternative, ...]
    level: Level = "conflict"
    weight: float | None = None
    uncertain: Bools | None = None

    @property
    def hard(self) -> bool:
        """Whether an answer must keep it (stop, conflict)."""
        return self.level in HARD

    @property
    def cost(self) -> float:
        """What breaking it weighs."""
        return LEVEL_WEIGHT[self.level] if self.weight is None else self.weight


def apart(
    name: str, source: Source, one: int, other: int, portion: int, level: Level = "conflict"
) -> EitherOr:
    """Two scents never together in one portion."""
    sides = (Alternative(empty=((one, portion),)), Alternative(empty=((other, portion),)))
    return EitherOr(name, source, sides, level)


@dataclass(frozen=True, eq=False)
class Slots:
    """The clock of an interleaved pour: each portion takes one slot, in slot k it may have ``q <= caps[k]``.

    ``q[p] = 1 + sum over s of pace[s, p] * x[s, p]``; ``pace`` (scents, portions) >= 0 per gram; ``caps``
    (portions,) never fall from one slot to the next, infinite where a slot bears anything.
    ``order``: the portion in each slot where the maker has fixed it.
    """

    name: str
    source: Source
    pace: Floats
    caps: Floats
    order: tuple[int, ...] | None = None
    level: Level = "conflict"
    weight: float | None = None

    @property
    def hard(self) -> bool:
        """Whether an answer must keep it (stop, conflict)."""
        return self.level in HARD

    @property
    def cost(self) -> float:
        """What breaking it weighs."""
        return LEVEL_WEIGHT[self.level] if self.weight is None else self.weight


class Recheck(Protocol):
    """What can only be asked of finished doses (scents, portions)."""

    def __call__(self, grams: Floats, so_far: Sequence[EitherOr]) -> Sequence[Row | EitherOr] | None:
        """The cuts which forbid these doses beside what the search keeps to already; None: all is well."""

    def weight(self, grams: Floats) -> float:
        """What speaks against these doses, a caution counting one."""


@dataclass(frozen=True, eq=False)
class Problem:
    """Everything the solver is told.

    ``blend`` (scents,): shares of the whole, sum 1.  ``portion_oils`` (portions,): g of oils.
    *same total*: ``total`` g in all, each scent exactly its share of it.  *same dose*: a scented portion p
    gets ``dose[p]`` g in all, in the blend's proportions within each premix; ``total`` is their sum.
    ``lower``, ``upper``, ``fixed`` (scents, portions): g, NaN where nothing is asked; a fixed one is kept
    to half a step.  ``empty``: cells closed by *never* and *only*.  ``cell_sources`` names their plan lines.
    ``unscented``, ``must_scent`` (portions,); see ``musts`` for what counts where the latter is None.
    ``least`` (portions,): g of scent below which a cup that is meant to be scented is bare; else 0.
    ``on_hand`` (scents,): g in the bottle, NaN not known.
    ``step``: g, of the scent scale; a weighing is at least ``min_steps`` of them, strictly where the step
    was stated (``step_stated``), else a caution each.  ``premixes``: at most so many; ``per_portion``: at
    most so many of them in one portion.  ``browning`` (scents,) and ``light`` (portions,) serve the goal
    *only where it browns*, ``haste`` (scents, portions), what a quick oil costs wherever there is any of it,
    *quick oils in little batter*.  ``together``: oils (indices, ascending) that the maker mixes: each a
    premix.  ``as_written`` (scents, portions): g as the plan has them; of equal answers the nearest to it is
    taken.
    """

    scents: tuple[str, ...]
    portions: tuple[str, ...]
    blend: Floats
    portion_oils: Floats
    total: float = 0.0
    dosing: Dosing = "same total"
    dose: Floats | None = None
    rows: tuple[Row, ...] = ()
    either: tuple[EitherOr, ...] = ()
    slots: Slots | None = None
    lower: Floats | None = None
    upper: Floats | None = None
    fixed: Floats | None = None
    empty: Bools | None = None
    cell_sources: Mapping[tuple[int, int], Source] = field(default_factory=dict)
    unscented: Bools | None = None
    must_scent: Bools | None = None
    least: Floats | None = None
    portion_sources: Mapping[int, Source] = field(default_factory=dict)
    on_hand: Floats | None = None
    step: float = 1.0
    min_steps: int = 10
    step_stated: bool = False
    premixes: int = 3
    per_portion: int = 2
    prefer: tuple[Goal, ...] = DEFAULT_PREFER
    browning: Bools | None = None
    light: Bools | None = None
    haste: Floats | None = None
    together: tuple[tuple[int, ...], ...] = ()
    as_written: Floats | None = None
    recheck: Recheck | None = None

    def __post_init__(self) -> None:
        """ValueError where shapes or signs cannot be meant."""
        _check(self)

    @property
    def shape(self) -> tuple[int, int]:
        """(scents, portions)."""
        return len(self.scents), len(self.portions)

    @property
    def grams(self) -> float:
        """The total that counts: ``total``, or the sum of the doses of the portions which may be scented."""
        if self.dosing == "same total" or self.dose is None:
            return self.total
        return float(np.sum(self.dose[~self.closed]))

    @property
    def closed(self) -> Bools:
        """Portions (portions,) that stay unscented."""
        if self.unscented is None:
            return np.zeros(len(self.portions), dtype=np.bool_)
        return self.unscented

    @property
    def musts(self) -> Bools:
        """Portions (portions,) that must get scent.

        As ``must_scent`` says; where it says nothing, in *same dose* all that are open to any scent.
        """
        if self.must_scent is not None:
            return self.must_scent & ~self.closed
        if self.dosing == "same total":
            return np.zeros(len(self.portions), dtype=np.bool_)
        shut = np.zeros(self.shape, dtype=np.bool_) if self.empty is None else self.empty.copy()
        if self.fixed is not None:
            shut |= self.fixed == 0.0
        return ~self.closed & ~shut.all(axis=0)


def _check(problem: Problem) -> None:
    shape = problem.shape
    if min(shape) < 1:
        raise ValueError("an assignment needs at least one scent and one portion")
    if (
        len(problem.blend) != shape[0]
        or not np.isclose(problem.blend.sum(), 1.0)
        or (problem.blend <= 0).any()
    ):
        raise ValueError("the blend's shares must be above zero and sum to 1")
    if len(problem.portion_oils) != shape[1] or (problem.portion_oils <= 0).any():
        raise ValueError("every portion needs oils above zero")
    if not problem.step > 0 or problem.min_steps < 1 or problem.premixes < 1 or problem.per_portion < 1:
        raise ValueError("step, least steps and numbers of premixes must be above zero")
    if problem.dosing == "same dose" and (problem.dose is None or len(problem.dose) != shape[1]):
        raise ValueError("'same dose' needs a dose for every portion")
    if not np.isfinite(problem.grams) or problem.grams < 0:
        raise ValueError("the total of scent must be a number of grams")
    for row in problem.rows:
        _check_row(row, shape)
    for either in problem.either:
        for alternative in either.alternatives:
            for row in alternative.rows:
                _check_row(row, shape)


def _check_row(row: Row, shape: tuple[int, int]) -> None:
    if row.a.shape != shape or not np.isfinite(row.a).all() or not np.isfinite(row.a0) or not row.scale > 0:
        raise ValueError(f"row '{row.name}' is not a finite bound of shape {shape}")
