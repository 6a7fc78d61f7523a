"""The pour against the clock: slots, order, end, and until when every portion is fluid."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from blendwise.facts.columns import Bools, Column, Floats
from blendwise.facts.pour.fats import has_set
from blendwise.facts.pour.minutes import (
    Base,
    base_of,
    hands_of,
    hole_minutes,
    jobs_of,
    style_ends,
    style_minutes,
)
from blendwise.facts.situation.worked_out import Situation, once
from blendwise.records.kinds.pour import PourStyle
from blendwise.science import clock, order

Ints = NDArray[np.int64]
CARRIES = {"thin": 0.25, "light": 0.4, "medium": 0.6, "thick": 0.85}  # thickness from emulsion: judgement


@dataclass(frozen=True, slots=True)
class Corner:
    """The pour with the batter's and the style's minutes at one end of judgement, with hands quick and slow.

    ``base``: minutes the unscented batter stays fluid.  ``at``, ``until``: (paces, portions), when each
    portion is scented and when its pour must be done, both moved by the same hands: the quickest, the
    slowest, and those with whom the last cup begins to decide the end of the pour.
    """

    base: float
    at: Floats
    until: Floats

    def of_slot(self, slot: int) -> Corner:
        """The same for one portion alone."""
        return Corner(self.base, self.at[:, [slot]], self.until[:, [slot]])

    def bears(self) -> Floats:
        """q (paces, portions) with which each portion is just fluid until its end."""
        return clock.most_quickening(self.base, self.at, self.until)


@dataclass(frozen=True, slots=True)
class Timeline:
    """All minutes run from emulsion.  Arrays over portions, in the plan's order.

    ``base``: minutes the unscented batter stays fluid, (low, high).  ``slots``: scenting minutes, rising.
    ``place``: which slot a portion takes.  ``scented_at``; ``needed_until``: when its pour must be done.
    ``kind``, ``harsh``: the same within judgement's doubt.  ``end``: the end of the whole pour.
    ``minutes``: what the style takes with so many portions.  ``fluid_until``: (low, high) by the ends of q.
    ``asks``: which portions must still pour: none of a pour whose fats have set, not the top of one that is
    thick on purpose, nor layers that are spooned on (batter medium or thick).  ``by_gravity``: layers lie in
    this order.
    """

    family: str
    base: tuple[float, float]
    base_from: str
    minutes: float
    slots: Floats
    place: Ints
    scented_at: Floats
    needed_until: Floats
    kind: Corner
    harsh: Corner
    fluid_until: tuple[Floats, Floats]
    end: float
    first: float
    asks: Bools
    by_gravity: bool
    jobs: clock.Jobs

    @property
    def wants_fluid(self) -> bool:
        """Whether any portion must still pour."""
        return bool(self.asks.any())


def wants_fluid(pour: PourStyle) -> bool:
    """Whether a style needs batter that still pours: common practice spoons layers of thick batter on."""
    return pour.family in ("interleaved", "thick") or pour.batter in ("thin", "light")


@dataclass(frozen=True, slots=True)
class _Times:
    """When each portion is scented and when it is needed, at the middle and at both ends of judgement."""

    slots: Floats
    place: Ints
    at: Floats
    needed: Floats
    kind: Corner
    harsh: Corner
    end: float
    minutes: float


@once
def timeline(s: Situation) -> Timeline | None:
    """The pour against the clock at the situation's doses (None without a pour)."""
    pour = s.pour
    if pour is None:
        return None
    base, q = base_of(s), s.home("thickening")
    assert isinstance(q, Column)
    layered = pour.family != "interleaved"
    times = _layered(s, pour, base) if layered else _interleaved(s, pour, base, q)
    asks = np.full(len(s.portions), wants_fluid(pour) and not has_set(s))
    if pour.family == "thick":
        asks &= times.place < len(s.portions) - 1
    worst = clock.fluid_until(base.low, times.at, np.maximum(q.high, 1.0))
    best = clock.fluid_until(base.high, times.at, np.maximum(q.low, 1.0))
    return Timeline(
        family=pour.family,
        base=(base.low, base.high),
        base_from=base.source,
        minutes=times.minutes,
        slots=times.slots,
        place=times.place,
        scented_at=times.at,
        needed_until=times.needed,
        kind=times.kind,
        harsh=times.harsh,
        fluid_until=(worst, best),
        end=times.end,
        first=float(times.slots[0]),
        asks=asks,
        by_gravity=layered and len(s.portions) > 1 and pour.touching != "none",
        jobs=jobs_of(s).usual,
    )


def _interleaved(s: Situation, pour: PourStyle, base: Base, q: Column) -> _Times:
    count, jobs, hands = len(s.portions), jobs_of(s), hands_of(s)
    minutes, row = style_minutes(s, pour), own_order(s)
    slots = clock.scenting_slots(jobs.usual, count, hands)
    end = float(clock.common_end(slots, jobs.usual, minutes))
    if row is None:
        # Rounded, so that portions as quick as each other keep the plan's order in grams and in ounces alike.
        row = order.interleaved_order(np.round(np.where(np.isfinite(q.high), q.high, 1e12), 9))
    place = np.argsort(row)  # whose turn each portion is: the order read backwards
    shortest, longest = style_ends(s, pour)

    def corner(life: float, style: float) -> Corner:
        at, ends = clock.paced(jobs.quick, jobs.slow, count, hands, style)
        return Corner(life, at[:, place], np.repeat(ends[:, None], count, axis=1))

    kind, harsh = corner(base.most, shortest), corner(base.least, longest)
    return _Times(slots, place, slots[place], np.full(count, end), kind, harsh, end, minutes)


def _layered(s: Situation, pour: PourStyle, base: Base) -> _Times:
    """Layers bottom first, each scented when the one below carries it, or when the style's wait is over."""
    row = own_order(s)
    row = np.arange(len(s.portions)) if row is None else row
    place = np.argsort(row)
    jobs = jobs_of(s)
    starts, ends = _layer_starts(s, pour, base.low, row, jobs.usual)

    def corner(life: float) -> Corner:
        quick, slow = (_layer_starts(s, pour, life, row, each) for each in (jobs.quick, jobs.slow))
        paces = (quick, slow, slow)
        return Corner(life, *(np.array(each)[:, place] for each in zip(*paces, strict=True)))

    kind, harsh, end = corner(base.most), corner(base.least), float(ends[-1])
    return _Times(starts, place, starts[place], ends[place], kind, harsh, end, style_minutes(s, pour))


def _layer_starts(
    s: Situation, pour: PourStyle, life: float, row: Ints, jobs: clock.Jobs
) -> tuple[Floats, Floats]:
    """Scenting minutes and ends of the pour (portions,) by place, where unscented batter lasts ``life``.

    A quick scent below is not credited: it only shortens the wait, and no layer hangs on one above it.
    """
    count = len(s.portions)
    carries = CARRIES[pour.minimum_thickness] if pour.minimum_thickness else 0.0
    layers = order.Layers(
        base=life,
        ready=clock.first_scenting(jobs, count, hands_of(s)),
        q=np.ones(count),
        scent_minutes=np.full(count, jobs.scent),
        pour_minutes=np.full(count, max(jobs.pour, hole_minutes(s) / count)),
        least_below=np.full(count, carries),
        longest=float(max(pour.minutes.high, pour.wait.high if pour.wait else 0.0)),
    )
    return order.layer_times(layers, row)


@once
def seizing_portions(s: Situation) -> Bools:
    """Portions (portions,) that hold a scent which seizes: a gate, of which no minutes can be told."""
    seizes = np.array([t.seizes == "yes" for t in s.traits], dtype=bool)
    return np.asarray((s.presence & seizes[:, None]).any(axis=0))


def own_order(s: Situation) -> Ints | None:
    """The scenting order that the maker has fixed, as portion numbers; None where left open."""
    if not s.plan.order:
        return None
    named = [s.portions.index(name) for name in s.plan.order]
    return np.array(named + [p for p in range(len(s.portions)) if p not in named], dtype=int)
