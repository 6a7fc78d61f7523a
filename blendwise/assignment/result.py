"""What the solver hands back: answers in grams, what was proven, what stands in the way."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from blendwise.assignment.problem.goals import Measure
from blendwise.assignment.problem.problem import Source
from blendwise.assignment.search.evaluate import Item
from blendwise.facts.columns import Floats

Verdict = Literal["optimal", "feasible", "infeasible", "not solved"]
Obstacle = Literal["rules", "premixes", "steps", ""]


@dataclass(frozen=True, slots=True)
class Premix:
    """Oils weighed together.

    ``scents``: indices; ``grams``: what is weighed of each, whole steps; ``off``: by how much of itself each
    amount may be off through the scale's half step and through rounding; ``total``: g in all.
    """

    scents: tuple[int, ...]
    grams: tuple[float, ...]
    off: tuple[float, ...]
    total: float


@dataclass(frozen=True)
class Answer:
    """One way to do it.

    ``grams`` (scents, portions); ``doses`` (premixes, portions) g, whole steps of the scale; ``order``:
    portions by slot of the clock (empty without a clock); ``values`` of every measure in its own unit (g,
    weighings, share of limit with a minus for *wide margin*); ``broken``: soft items and their excess;
    ``undecided``: items that a dose leaves open; ``small``: weighings under the least number of steps, as
    (premix, portion, half a step as a share of the dose).
    """

    premixes: tuple[Premix, ...]
    grams: Floats
    doses: Floats
    order: tuple[int, ...]
    values: Mapping[Measure, float]
    broken: tuple[tuple[Item, float], ...] = ()
    undecided: tuple[Item, ...] = ()
    small: tuple[tuple[int, int, float], ...] = ()

    @property
    def weighings(self) -> int:
        """How often something is put on the scale."""
        return round(self.values["few weighings"])

    @property
    def kind(self) -> tuple[tuple[tuple[int, ...], tuple[int, ...]], ...]:
        """Which premix goes into which portions: what makes two answers differ in kind."""
        return tuple(
            sorted(
                (premix.scents, tuple(p for p, dose in enumerate(row) if dose > 0))
                for premix, row in zip(self.premixes, self.doses, strict=True)
            )
        )


@dataclass(frozen=True, slots=True)
class GoalResult:
    """One goal: its best ``value``, a proven ``bound`` below it, the ``end`` that later goals kept to."""

    measure: Measure
    value: float
    bound: float
    end: float

    @property
    def gap(self) -> float:
        """How much better it might still be."""
        return max(self.value - self.bound, 0.0)


@dataclass(frozen=True, slots=True)
class MoreStops:
    """What stops a portion from taking more of a premix: it takes ``takes`` g; ``at`` g, ``source``
    would break."""

    premix: int
    portion: int
    takes: float
    at: float
    name: str
    source: Source


@dataclass(frozen=True)
class Result:
    """The whole reply.

    ``status``: *optimal* (all goals proven to within the asked gap), *feasible* (stopped early, ``goals``
    say how close), *infeasible* (proven), *not solved* (stopped with neither).  ``gap``: the largest proven
    gap of a goal in grams as a share of the total scent.  ``conflict``: an irreducible set of sources when
    infeasible; ``obstacle``: whether rules alone clash, or only the premixes or the scale's steps stand in
    the way.  ``looked``: how many splits were looked at where rules that are checked afterwards objected to
    some (0 where they objected to none, and "optimal" is meant of all rules).  ``reason``: a plain sentence
    where there is no proof or no answer.
    """

    status: Verdict
    best: Answer | None = None
    runner_up: Answer | None = None
    goals: tuple[GoalResult, ...] = ()
    gap: float = 0.0
    divisions: int = 0
    free: bool = False
    stops: tuple[MoreStops, ...] = ()
    conflict: tuple[Source, ...] = ()
    obstacle: Obstacle = ""
    looked: int = 0
    reason: str = ""
