"""An amount too small for the maker's scale: the ways to weigh it all the same, each with its error.

Formula of an error: half a step over what is weighed, of each weighing in turn, added: the most that they can
make together (arithmetic on the scale's step).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from blendwise.facts.measures.dose import scale_step
from blendwise.facts.situation.worked_out import Situation
from blendwise.quantity.units import GRAMS_PER_OUNCE

GOOD: Final = 0.05
"""An error that nobody minds: ten steps (the rule `little-to-weigh`)."""
POOR: Final = 0.10
"""An error that is told: below five steps (the rule `too-little-to-weigh`)."""
STOCK_STEPS: Final = 20
"""Steps that are weighed of what a stock or a solution is made of: 2.5 % off."""
PARTS: Final = (10, 5, 3)
"""Parts of a solution to one of what is in it, the thinnest first."""
MOST_CARRIED: Final = 0.02
"""Oil of a solution on its portion's oils, at most: two points of superfat; and of its water (judgement)."""
BEARABLE: Final = 0.20
"""What a way may be off at most to be told at all (judgement)."""
FINER: Final = (10, 100, 1000)
FINEST: Final = {"g": 0.01, "oz": 0.001 * GRAMS_PER_OUNCE}
"""Grams of the last digit that is shown of an amount that no step fits."""
CARRIERS: Final = {"water": "water", "glycerin": "glycerin"}
"""What a colourant is stirred into besides oil: held to the same share of the portion's water."""
Details = Mapping[str, str | float]
SOME_OIL: Final = "a liquid oil of the recipe"


@dataclass(frozen=True, slots=True)
class WayToWeigh:
    """One way: ``pot once``, ``keep a mix``, ``solution`` or ``weigh finer``; grams and names in ``details``.

    ``error``: by what share the amount may be off at most.
    """

    way: str
    details: Details
    error: float


@dataclass(frozen=True, slots=True)
class Small:
    """What the scale cannot weigh well: g of ``what`` into ``into``, off by up to ``error``, and the ways."""

    into: str
    kind: str
    what: str
    grams: float
    step: float
    error: float
    ways: tuple[WayToWeigh, ...]


def fine_step(s: Situation) -> float:
    """Grams of one step of the finest scale that the maker has written down; 1 g where none is."""
    lye = s.book.usual.lye_scale_step
    stated = s.book.usual.scale_step
    return scale_step(s) if lye is None or (stated and stated.value < lye.value) else lye.value


def rounded(grams: float, step: float) -> float:
    """The nearest whole number of steps, but never nothing of something.

    Twelve digits, so that 38 steps of 0.1 g are 3.8 g, and ten of 0.005 oz still ten when counted again.
    """
    return float(f"{max(round(grams / step), 1) * step:.12g}") if grams > 0 else 0.0


def error_of(grams: float, step: float) -> float:
    """By what share an amount may be off, weighed as it is."""
    return step / 2 / grams if grams > 0 else 0.0


def shown(grams: float, step: float, mass: str) -> tuple[float, float]:
    """An amount in whole steps, and the step; below five steps as it is, to the last digit that is shown."""
    if grams <= 0:
        return 0.0, step
    if error_of(grams, step) > POOR + 1e-9:
        step = min(step, FINEST[mass])
    return rounded(grams, step), step


def small_amounts(s: Situation) -> Iterator[Small]:
    """The colourants and additives of a plan that the maker's finest scale cannot weigh well."""
    step, liquid, mass = fine_step(s), _liquid(s), s.book.usual.units.mass
    for name, grams in s.pot.additives.items():
        if error_of(grams, step) > POOR:
            ways = _sorted(
                [*_solution(grams, step, "water", s.pot.water, name, "pot"), *_finer(grams, step, mass)]
            )
            yield Small("pot", "additive", name, grams, step, error_of(grams, step), ways)
    for name, row in zip(s.split.colourants, s.split.colour, strict=True):
        for p in np.flatnonzero(row > 0):
            grams, into = float(row[p]), s.portions[p]
            if error_of(grams, step) > POOR:
                carrier = CARRIERS.get(s.book.colourants[name].dispersed_in or "oil", "")
                room = float(s.pot.water * s.split.share[p]) if carrier else float(s.split.oils[p])
                stirred = _solution(grams, step, carrier or liquid, room, name, into)
                ways = _sorted([*stirred, *_finer(grams, step, mass)])
                yield Small(into, "colourant", name, grams, step, error_of(grams, step), ways)


def ways_for_dose(s: Situation, i: int, p: int) -> tuple[WayToWeigh, ...]:
    """The ways to weigh scent ``i`` of portion ``p``: exact ones first, another scale last."""
    step, grams, name, into = scale_step(s), float(s.x[i, p]), s.scents[i], s.portions[p]
    oils, mass = float(s.split.oils[p]), s.book.usual.units.mass
    found = [
        *_pot_once(s, i, step),
        *_kept(s, i, p, step),
        *_solution(grams, step, _liquid(s), oils, name, into),
        *_finer(grams, step, mass),
    ]
    return _sorted([each for each in found if each.error < error_of(grams, step)])


def _sorted(ways: Sequence[WayToWeigh]) -> tuple[WayToWeigh, ...]:
    told = [way for way in ways if way.way == "weigh finer" or way.error <= BEARABLE]
    return tuple(sorted(told, key=lambda way: way.way == "weigh finer" or way.error > GOOD))


def _pot_once(s: Situation, i: int, step: float) -> Iterator[WayToWeigh]:
    """Where every portion holds it at one rate, the pot takes it before the split."""
    rates = s.x[i] / s.split.oils
    if len(rates) > 1 and rates.min() > 0 and np.ptp(rates) <= 0.02 * rates.mean():
        total = float(s.x[i].sum())
        yield WayToWeigh("pot once", {"scent": s.scents[i], "grams": total}, error_of(total, step))


def _kept(s: Situation, i: int, p: int, step: float) -> Iterator[WayToWeigh]:
    """A larger mix with the oils that keep one ratio to it, of which each cup is weighed; the rest keeps."""
    shares = s.x / np.maximum(s.x.sum(axis=1, keepdims=True), np.finfo(float).tiny)
    group = [j for j in range(len(s.scents)) if s.x[j].any() and np.allclose(shares[j], shares[i], rtol=1e-3)]
    if len(group) < 2 or all(s.weighed_together(i, j) for j in group):
        return
    totals, take = s.x[group].sum(axis=1), float(s.x[group, p].sum())
    times = max(1, math.ceil(STOCK_STEPS * step / float(totals.min())))
    error = error_of(times * float(s.x[i].sum()), step) + error_of(take, step)
    mix = ", ".join(s.scents[j] for j in group)
    details: Details = {
        "scents": mix,
        "grams": times * float(totals.sum()),
        "take": take,
        "portion": s.portions[p],
    }
    yield WayToWeigh("keep a mix", details, error)


def _solution(
    grams: float, step: float, liquid: str, room: float, what: str, into: str
) -> Iterator[WayToWeigh]:
    """Weighed into a liquid of the recipe, in whole parts; of that is taken what holds the amount."""
    for parts in PARTS:
        if liquid and (parts - 1) * grams <= MOST_CARRIED * room:
            made = STOCK_STEPS * step
            error = error_of(made, step) + error_of(parts * made, step) + error_of(parts * grams, step)
            details: Details = {"scent": what, "grams": made, "carrier": (parts - 1) * made, "oil": liquid}
            yield WayToWeigh("solution", {**details, "take": parts * grams, "portion": into}, error)
            return


def _finer(grams: float, step: float, mass: str) -> Iterator[WayToWeigh]:
    """The coarsest scale that weighs it well, else the finest that there is."""
    steps = [step / by for by in FINER if step / by >= FINEST[mass] - 1e-9]
    if steps:
        fine = next((each for each in steps if error_of(grams, each) <= GOOD), steps[-1])
        yield WayToWeigh("weigh finer", {"step": fine}, error_of(grams, fine))


def _liquid(s: Situation) -> str:
    """The liquid oil of which the recipe holds the most, unnamed where nobody wrote which is; "" for none."""
    hardness = [s.book.oils[name].hardness for name in s.pot.oils]
    fluid = [n for n, how in enumerate(hardness) if how == "liquid"]
    if fluid:
        return s.pot.oils[max(fluid, key=lambda n: float(s.pot.masses[n]))]
    return SOME_OIL if None in hardness else ""
