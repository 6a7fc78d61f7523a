"""The pour against the clock: slots, order, end, and until when every portion is fluid."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from blendwise.facts.columns import Column, Floats
from blendwise.facts.situation.worked_out import Situation, once
from blendwise.records.kinds.pour import PourStyle
from blendwise.science import clock, order

FEW, MANY = 2, 8  # portions for which the low and the high end of a style's minutes are taken: judgement
Ints = NDArray[np.int64]
SPEED_OF = {"slow": -1.0, "medium": 0.0, "fast": 1.0}
CARRIES = {"thin": 0.25, "light": 0.4, "medium": 0.6, "thick": 0.85}  # thickness from emulsion: judgement


@dataclass(frozen=True, slots=True)
class Timeline:
    """All minutes run from emulsion.  Arrays over portions, in the plan's order.

    ``base``: minutes the unscented batter stays fluid, (low, high).  ``slots``: scenting minutes, rising.
    ``place``: which slot a portion takes.  ``scented_at``; ``needed_until``: when its pour must be done.
    ``end``: the end of the whole pour.  ``minutes``: what the style takes with so many portions.
    ``fluid_until``: (low, high) by the ends of q.  ``wants_fluid``: whether the batter must still pour;
    not for a pour that is thick on purpose, nor for layers that are spooned on (batter medium or thick).
    """

    family: str
    base: tuple[float, float]
    base_from: str
    minutes: float
    slots: Floats
    place: Ints
    scented_at: Floats
    needed_until: Floats
    fluid_until: tuple[Floats, Floats]
    end: float
    first: float
    wants_fluid: bool


def base_minutes(s: Situation) -> tuple[float, float, str]:
    """How long the unscented batter stays fluid from emulsion, and where that comes from."""
    process = s.plan.process
    stated = process.stays_fluid if process and process.stays_fluid else None
    if stated is not None:
        return stated.low, stated.high, "the plan"
    if s.book.usual.stays_fluid is not None and s.plan.recipe is None:
        usual = s.book.usual.stays_fluid
        return usual.low, usual.high, "usual.yaml"
    kind = recipe_class(s)
    low, high = clock.fluid_minutes(kind, split_temperature(s), class_minutes(s))
    return float(low), float(high), f"the recipe's class ({clock.RECIPE_CLASSES[kind]})"


def class_minutes(s: Situation) -> Floats:
    """Minutes (classes, 2) that a class of batter stays fluid: the rulebook's own, else common practice."""
    said = s.scales.fluid
    rows = [
        (said[kind].minutes.low, said[kind].minutes.high) if kind in said else usual
        for kind, usual in zip(clock.RECIPE_CLASSES, clock.CLASS_MINUTES, strict=True)
    ]
    return np.array(rows, dtype=float)


def recipe_class(s: Situation) -> int:
    """Index into the classes of how fast a recipe thickens: slow, ordinary, fast."""
    oils = [s.book.oils[name] for name in s.pot.oils]
    shares = s.pot.masses / s.pot.oils_total
    hard = float(shares @ np.array([o.hardness in ("hard", "soft") for o in oils], dtype=float))
    speed = float(shares @ np.array([SPEED_OF.get(o.speed or "medium", 0.0) for o in oils]))
    # Rounded: 30 % of lye stands on an edge, and must stand on the same side of it in grams and in ounces.
    return int(clock.recipe_class(*np.round([hard, s.pot.lye_concentration, speed], 9)))


def split_temperature(s: Situation) -> float:
    """°C of the batter at the split: by the plan, else the usual one, else the middle of design pours."""
    process = s.plan.process
    stated = (process.batter_at_split if process else None) or s.book.usual.batter_at_split
    return stated.mid if stated else clock.CLASS_CELSIUS[0]


def style_minutes(pour: PourStyle, portions: int) -> float:
    """Minutes of a style: the low end for two portions, the high end for eight, straight between."""
    share = np.clip((portions - FEW) / (MANY - FEW), 0.0, 1.0)
    return float(pour.minutes.low + share * (pour.minutes.high - pour.minutes.low))


def wants_fluid(pour: PourStyle) -> bool:
    """Whether a style needs batter that still pours: common practice spoons layers of thick batter on."""
    return pour.family == "interleaved" or (pour.family == "sequential" and pour.batter in ("thin", "light"))


@once
def timeline(s: Situation) -> Timeline | None:
    """The pour against the clock at the situation's doses (None without a pour)."""
    pour = s.pour
    if pour is None:
        return None
    low, high, source = base_minutes(s)
    jobs, hands = clock.Jobs(), min(2, s.book.usual.hands or 1)
    thickening = s.home("thickening")
    assert isinstance(thickening, Column)
    make = {"interleaved": _interleaved, "sequential": _sequential, "thick": _interleaved}[pour.family]
    slots, place, needed, end, minutes = make(s, pour, jobs, hands, low, thickening)
    at = slots[place]
    worst = _fluid_until(low, at, thickening.high)
    best = _fluid_until(high, at, thickening.low)
    return Timeline(
        pour.family,
        (low, high),
        source,
        minutes,
        slots,
        place,
        at,
        needed,
        (worst, best),
        end,
        float(slots[0]),
        wants_fluid(pour),
    )


def _fluid_until(base: float, at: Floats, q: Floats) -> Floats:
    return clock.fluid_until(base, at, np.maximum(q, 1.0))


_Times = tuple[Floats, Ints, Floats, float, float]


def _interleaved(
    s: Situation, pour: PourStyle, jobs: clock.Jobs, hands: int, base: float, q: Column
) -> _Times:
    count = len(s.portions)
    minutes = style_minutes(pour, count)
    slots = clock.scenting_slots(jobs, count, hands)
    end = float(clock.common_end(slots, jobs, minutes))
    row = own_order(s)
    if row is None:
        # Rounded, so that portions as quick as each other keep the plan's order in grams and in ounces alike.
        row = order.interleaved_order(np.round(np.where(np.isfinite(q.high), q.high, 1e12), 9))
    place = np.empty(count, dtype=np.int64)
    place[row] = np.arange(count)
    return slots, place, np.full(count, end), end, minutes


def _sequential(
    s: Situation, pour: PourStyle, jobs: clock.Jobs, hands: int, base: float, q: Column
) -> _Times:
    """Layers in the plan's order, bottom first: each scented when the one below carries it."""
    count = len(s.portions)
    minutes = style_minutes(pour, count)
    first = clock.first_scenting(jobs, count, hands)
    row = own_order(s)
    row = np.arange(count) if row is None else row
    starts = np.asarray(first + np.arange(count) * minutes, dtype=np.float64)
    needed = np.empty(count, dtype=np.float64)
    place = np.empty(count, dtype=np.int64)
    place[row] = np.arange(count)
    needed[row] = starts + jobs.scent + jobs.pour
    return starts, place, needed, float(starts[-1] + minutes), minutes


def own_order(s: Situation) -> Ints | None:
    """The scenting order that the maker has fixed, as portion numbers; None where left open."""
    if not s.plan.order:
        return None
    named = [s.portions.index(name) for name in s.plan.order]
    return np.array(named + [p for p in range(len(s.portions)) if p not in named], dtype=int)
