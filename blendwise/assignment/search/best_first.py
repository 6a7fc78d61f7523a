"""The search over divisions: each goal in its turn, best-first on proven bounds.

A division is bounded cheaply, then by its linear relaxation, and only then solved in whole steps, always
below what is already in hand; the phase ends when no bound left can beat the answer by more than the gap.
"""

from __future__ import annotations

import heapq
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from blendwise.assignment.problem.goals import BANDS, FIRST, MARGIN_MOST, NEAR, Measure, band, gap
from blendwise.assignment.problem.ready import Frame, Groups
from blendwise.assignment.program.division import SLACK, Model, build
from blendwise.assignment.program.solver import Engine, Outcome
from blendwise.assignment.search.corners import Corners, corners_of
from blendwise.assignment.search.evaluate import Evaluation, evaluate
from blendwise.assignment.search.menu import Kitchen, Order
from blendwise.assignment.search.nearest import nearest
from blendwise.assignment.search.portion_rows import local_of
from blendwise.assignment.search.tree import Tree

EXACT = 1e-6
CLOSE = 1e-7
UNKNOWN = -float("inf")
HOPE = 0.4
"""Share of the clock for the hope that no caution need be."""


@dataclass(frozen=True)
class Phase:
    """What one goal came to: its best value, a proven lower bound, and the end which later goals keep to."""

    measure: Measure
    value: float
    bound: float
    end: float


@dataclass
class Search:
    """One problem's search; ``finished`` turns False when the clock ran out before all was proven."""

    frame: Frame
    measures: Sequence[Measure]
    gap: float
    deadline: float
    per_portion: int | None
    engine: Engine
    finisher: Engine
    finished: bool = True
    without: Evaluation | None = None
    solved: int = 0
    nodes: int = 0
    pool: list[Evaluation] = field(default_factory=list)
    phases: list[Phase] = field(default_factory=list)
    models: dict[Groups, Model | None] = field(default_factory=dict)
    dead: set[Groups] = field(default_factory=set)
    lows: dict[Groups, float] = field(default_factory=dict)
    tight: dict[tuple[Groups, Order], Corners | None] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.local = local_of(self.frame)
        self.kitchen = Kitchen(self.frame, self.local)

    def other(self, best: Evaluation, gap: float) -> Search:
        """A search like this one for an answer that differs in kind from ``best``."""
        return replace(
            self,
            measures=[m for m in self.measures if m not in ("wide margin", NEAR)],
            gap=max(self.gap, gap),
            finished=True,
            pool=[e for e in self.pool if e.groups != best.groups],
            phases=[],
            dead=set(),
            lows={},
            without=best,
        )

    def run(self, divisions: Sequence[Groups]) -> Evaluation | None:
        """The best answer over the divisions, or None where there is none (or none was found in time)."""
        best = self._without_cautions(divisions)
        for measure in self.measures[len(self.phases) :]:
            best, bound = self._phase(measure, self._ends(), divisions)
            if best is None:
                return None
            self._close(measure, best, bound)
        return best if best is None or NEAR not in self.measures else self._settled(best)

    def _settled(self, best: Evaluation) -> Evaluation:
        """Of all doses that are as near to the plan as written, with the same choices, the evenly near."""
        return nearest(self.frame, best, self.measures, self.per_portion, self._ends(), self.finisher) or best

    def _without_cautions(self, divisions: Sequence[Groups]) -> Evaluation | None:
        """Hope that no caution need be: where the maker's first goal can be had so, that is proven least."""
        hoped: dict[Measure, float] = {m: band(m, 0.0) for m in self.measures if m in FIRST}
        wanted = self.measures[len(hoped) :]
        if not hoped or not wanted:
            return None
        dead, whole_clock, now = set(self.dead), self.deadline, time.monotonic()
        self.deadline = now + HOPE * (whole_clock - now)
        best, bound = self._phase(wanted[0], hoped, divisions)
        self.deadline = whole_clock
        if best is None:
            self.dead, self.finished = dead, True
            return None
        self.phases += [Phase(m, best.values[m], 0.0, end) for m, end in hoped.items()]
        self._close(wanted[0], best, bound)
        return best

    def _ends(self) -> dict[Measure, float]:
        return {phase.measure: phase.end for phase in self.phases}

    def _close(self, measure: Measure, best: Evaluation, bound: float) -> None:
        value = best.values[measure]
        end = value + band(measure, self.frame.grams, value)
        self.phases.append(Phase(measure, value, min(bound, value), end))
        self.dead |= {groups for groups, low in self.lows.items() if low > end + CLOSE}
        self.lows = {}

    def _phase(
        self, measure: Measure, ends: Mapping[Measure, float], divisions: Sequence[Groups]
    ) -> tuple[Evaluation | None, float]:
        self.lows = {}
        best = self._in_hand(measure, ends)
        heap = [
            (self._cheap(measure, groups), 0, k)
            for k, groups in enumerate(divisions)
            if groups not in self.dead
        ]
        heapq.heapify(heap)
        low = float("inf")
        while heap:
            bound, stage, k = heapq.heappop(heap)
            if best is not None and bound > self._cut(measure, best):
                low = min(low, bound)
                break
            if time.monotonic() > self.deadline:
                self.finished, low = False, min(low, bound)
                break
            if stage == 0:
                relaxed = self._relax(measure, ends, divisions[k])
                self.lows[divisions[k]] = relaxed
                if relaxed < float("inf"):
                    heapq.heappush(heap, (max(bound, relaxed), -1, k))
                continue
            found, proven = self._solve(measure, ends, divisions[k], best)
            low = min(low, proven)
            if found is not None:
                best = found
        return best, low

    def _in_hand(self, measure: Measure, ends: Mapping[Measure, float]) -> Evaluation | None:
        fitting = [e for e in self.pool if all(e.values[m] <= end + SLACK for m, end in ends.items())]
        return min(fitting, key=lambda e: e.values[measure], default=None)

    def _cut(self, measure: Measure, best: Evaluation) -> float:
        """An answer must be at most this to count as better."""
        return best.values[measure] - self._step(measure)

    def _step(self, measure: Measure) -> float:
        """By how much an answer must be better to count as better."""
        whole = {"few weighings": 1.0, "fewest cautions": self.frame.caution}.get(measure, 0.0)
        return max(whole - EXACT, gap(measure, self.frame.grams, self.gap), EXACT)

    def floor(self, measure: Measure) -> float:
        """A bound that holds for every division, tried or not."""
        return self._cheap(measure, ())

    def _cheap(self, measure: Measure, groups: Groups) -> float:
        """A bound that needs no model."""
        frame = self.frame
        if measure == "wide margin":
            return -MARGIN_MOST
        if measure == "few weighings" and frame.fixed_total:
            return float(frame.shape[0])
        if measure == "true to blend" and frame.fixed_total and self.per_portion is not None:
            shares = sorted(float(frame.blend[list(group)].sum()) for group in groups)
            return sum(shares[: max(len(groups) - self.per_portion, 0)]) * frame.grams - CLOSE
        return 0.0

    def _model(self, groups: Groups) -> Model | None:
        if groups not in self.models:
            self.models[groups] = build(self.frame, groups, self.measures, self.per_portion)
        return self.models[groups]

    def _corners(self, measure: Measure, ends: Mapping[Measure, float], groups: Groups) -> Corners | None:
        """The division over the corners that matter to the goal and to the ends so far."""
        told = (measure, *ends)
        strict = ends.get("fewest cautions", 1.0) <= EXACT
        order = Order("even scent" in told, "true to blend" in told, strict, NEAR in told)
        if (groups, order) not in self.tight:
            self.tight[groups, order] = corners_of(self.frame, self.kitchen, groups, self.measures, order)
        return self.tight[groups, order]

    def _cornered(self, measure: Measure) -> bool:
        """Whether the goal can be had over corners (else by one large model)."""
        return self.per_portion is not None and self.per_portion <= 2 and measure != "wide margin"

    def _relax(self, measure: Measure, ends: Mapping[Measure, float], groups: Groups) -> float:
        outcome = self._relaxed(measure, ends, groups)
        if outcome.status == "impossible":
            self.dead.add(groups)
            return float("inf")
        bound = outcome.bound if outcome.status == "optimal" else UNKNOWN
        whole = measure == "few weighings"
        return float(-(-(bound - CLOSE) // 1)) if whole and bound > UNKNOWN else bound - CLOSE

    def _relaxed(self, measure: Measure, ends: Mapping[Measure, float], groups: Groups) -> Outcome:
        nothing = Outcome("impossible", bound=float("inf"))
        if not self._cornered(measure):
            model = self._model(groups)
            return nothing if model is None else model.minimise(self.engine, measure, ends, relaxed=True)
        corners = self._corners(measure, ends, groups)
        if corners is None:
            return nothing
        cost, shift = corners.costs[measure]
        self.engine.open(corners.program, cost, corners.row_high(ends))
        outcome = self.engine.probe(corners.program.low, corners.program.high)
        return Outcome(outcome.status, outcome.value + shift, outcome.bound + shift)

    def _solve(
        self, measure: Measure, ends: Mapping[Measure, float], groups: Groups, best: Evaluation | None
    ) -> tuple[Evaluation | None, float]:
        """A better answer in this division, if any, and what is proven of the division."""
        self.solved += 1
        cut = float("inf") if best is None else self._cut(measure, best)
        if not self._cornered(measure):
            found, proven = self._whole(measure, ends, groups, cut)
        else:
            found, proven = self._climb(measure, ends, groups, cut)
        if found is None and best is None and proven == float("inf"):
            self.dead.add(groups)
        return found, proven

    def _climb(
        self, measure: Measure, ends: Mapping[Measure, float], groups: Groups, cut: float
    ) -> tuple[Evaluation | None, float]:
        corners = self._corners(measure, ends, groups)
        assert corners is not None
        step = self._step(measure)
        tree = Tree(
            self.frame,
            corners,
            self.engine,
            measure,
            ends,
            cut,
            step,
            self.deadline,
            without=None if self.without is None or self.without.groups != groups else self.without.units > 0,
        )
        proven = tree.run()
        self.nodes += tree.nodes
        self.finished = self.finished and tree.finished
        if tree.best is not None:
            self.pool.append(tree.best)
        if tree.gave_up and tree.without is None:
            found, rest = self._whole(measure, ends, groups, tree.cut)
            return found or tree.best, rest
        return tree.best, proven

    def _whole(
        self, measure: Measure, ends: Mapping[Measure, float], groups: Groups, cut: float
    ) -> tuple[Evaluation | None, float]:
        """One large model in whole steps."""
        model = self._model(groups)
        if model is None:
            return None, float("inf")
        within = dict(ends) if cut == float("inf") else {**ends, measure: cut}
        allowed = 0.5 if measure == "few weighings" else gap(measure, self.frame.grams, self.gap)
        outcome = model.minimise(
            self.finisher, measure, within, gap=allowed, seconds=self.deadline - time.monotonic()
        )
        if outcome.status == "impossible":
            return None, cut
        if outcome.status == "stopped":
            self.finished = False
        if outcome.values is None:
            return None, outcome.bound
        found = evaluate(self.frame, groups, model.doses(outcome.values))
        if not found.sound:
            raise ArithmeticError("the solver's answer does not keep its own rows")
        self.pool.append(found)
        return found, outcome.bound


def measures_of(frame: Frame) -> tuple[Measure, ...]:
    """The goals in order: cautions first, where there can be any, then what the maker prefers."""
    problem = frame.problem
    open_ended = bool(frame.uncertain)
    soft_rows = any(not row.hard for row in problem.rows)
    others = any(not either.hard for either in problem.either) or bool(
        problem.slots and not problem.slots.hard
    )
    small = frame.steps and not frame.least_is_hard and frame.least > 1
    first: list[Measure] = []
    if open_ended or soft_rows or others or small:
        first.append("fewest cautions")
    if soft_rows:
        first.append("lightest cautions")
    calm = problem.haste is None or not problem.haste.any()
    idle = {"quick oils in little batter"} if calm else set()
    prefer = dict.fromkeys(goal for goal in problem.prefer if goal in BANDS and goal not in idle)
    near: tuple[Measure, ...] = () if problem.as_written is None else (NEAR,)
    return (*first, *prefer, *near)
