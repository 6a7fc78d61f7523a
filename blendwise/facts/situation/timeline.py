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
class Timeline:
    """All minutes run from emulsion.  Arrays over portions, in the plan's order.

    ``base``: minutes the unscented batter stays fluid, (low, high), with its doubt in ``ends``.  ``slots``:
    scenting minutes, rising.  ``place``: which slot a portion takes.  ``scented_at``; ``needed_until``: when
    its pour must be done, ``needed_ends`` within the doubt of the style.  ``end``: the end of the whole pour.
    ``minutes``: what the style takes with so many portions.  ``fluid_until``: (low, high) by the ends of q.
    ``asks``: which portions must still pour: none of a pour whose fats have set, not the top of one that is
    thick on purpose, nor layers that are spooned on (batter medium or thick).  ``scented_ends``: scenting
    minutes at the harsh and at the kind end of judgement.  ``by_gravity``: layers lie in this order.
    """

    family: str
    base: tuple[float, float]
    ends: tuple[float, float]
    base_from: str
    minutes: float
    slots: Floats
    place: Ints
    scented_at: Floats
    scented_ends: tuple[Floats, Floats]
    needed_until: Floats
    needed_ends: tuple[Floats, Floats]
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
    at_ends: tuple[Floats, Floats]
    needed: Floats
    needed_ends: tuple[Floats, Floats]
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
    times = _layered(s, pour, base) if layered else _interleaved(s, pour, q)
    asks = np.full(len(s.portions), wants_fluid(pour) and not has_set(s))
    if pour.family == "thick":
        asks &= times.place < len(s.portions) - 1
    worst = clock.fluid_until(base.low, times.at, np.maximum(q.high, 1.0))
    best = clock.fluid_until(base.high, times.at, np.maximum(q.low, 1.0))
    return Timeline(
        family=pour.family,
        base=(base.low, base.high),
        ends=(base.least, base.most),
        base_from=base.source,
        minutes=times.minutes,
        slots=times.slots,
        place=times.place,
        scented_at=times.at,
        scented_ends=times.at_ends,
        needed_until=times.needed,
        needed_ends=times.needed_ends,
        fluid_until=(worst, best),
        end=times.end,
        first=float(times.slots[0]),
        asks=asks,
        by_gravity=layered and len(s.portions) > 1 and pour.touching != "none",
        jobs=jobs_of(s),
    )


def _interleaved(s: Situation, pour: PourStyle, q: Column) -> _Times:
    count, jobs, hands, grams = len(s.portions), jobs_of(s), hands_of(s), float(s.split.batter.sum())
    minutes = style_minutes(pour, count, grams)
    slots = clock.scenting_slots(jobs, count, hands)
    end = float(clock.common_end(slots, jobs, minutes))
    row = own_order(s)
    if row is None:
        # Rounded, so that portions as quick as each other keep the plan's order in grams and in ounces alike.
        row = order.interleaved_order(np.round(np.where(np.isfinite(q.high), q.high, 1e12), 9))
    place = np.argsort(row)  # whose turn each portion is: the order read backwards
    sooner, later = (
        clock.scenting_slots(jobs.times(factor), count, hands)[place]
        for factor in (1 / clock.JOBS_DOUBT, clock.JOBS_DOUBT)
    )
    ends = (float(clock.common_end(slots, jobs, each)) for each in style_ends(pour, grams))
    least, most = (np.full(count, each) for each in ends)
    return _Times(
        slots, place, slots[place], (later, sooner), np.full(count, end), (least, most), end, minutes
    )


def _layered(s: Situation, pour: PourStyle, base: Base) -> _Times:
    """Layers bottom first, each scented when the one below carries it, or when the style's wait is over."""
    count = len(s.portions)
    row = own_order(s)
    row = np.arange(count) if row is None else row
    place = np.argsort(row)
    starts, ends = _layer_starts(s, pour, base.low, row)
    least, most = (_layer_starts(s, pour, life, row)[0][place] for life in (base.least, base.most))
    minutes = style_minutes(pour, count, float(s.split.batter.sum()))
    needed = ends[place]
    return _Times(
        starts, place, starts[place], (least, most), needed, (needed, needed), float(ends[-1]), minutes
    )


def _layer_starts(s: Situation, pour: PourStyle, life: float, row: Ints) -> tuple[Floats, Floats]:
    """Scenting minutes and ends of the pour (portions,) by place, where unscented batter lasts ``life``.

    A quick scent below is not credited: it only shortens the wait, and no layer hangs on one above it.
    """
    count, jobs = len(s.portions), jobs_of(s)
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
