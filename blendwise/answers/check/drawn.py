"""What a check draws: each cup's colours as poured and cured, its share and its minutes; how cups lie."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from blendwise.answers.portion_colours import looks_of
from blendwise.facts.columns import Column, Floats
from blendwise.facts.pour.minutes import hands_of
from blendwise.facts.situation.timeline import Timeline, timeline
from blendwise.facts.situation.worked_out import Situation


@dataclass(frozen=True, slots=True)
class Cup:
    """One portion: hex codes and words as poured and cured (None and empty where not known), its share of
    the pot, the minutes from emulsion at which it is scented, poured last and too thick to pour.

    ``stirred_by``: its scent is in; ``quick_day``: too thick by the cautious end of judgement; ``must_run``:
    whether it must still pour when its turn comes, as what is piped or spooned need not.
    """

    portion: str
    share: float
    fresh: str
    fresh_word: str
    cured: str | None
    cured_words: tuple[str, ...]
    scented_at: float | None
    poured_by: float | None
    thick_at: float | None
    stirred_by: float | None = None
    quick_day: float | None = None
    must_run: bool = True


@dataclass(frozen=True, slots=True)
class Drawn:
    """The cups in the plan's order; ``pour``, ``family`` and ``touching`` tell how they lie in the bar.

    All are split by ``split_by`` and coloured from ``coloured_from`` to the first scenting (minutes).
    """

    cups: tuple[Cup, ...]
    pour: str | None
    family: str | None
    touching: str | None
    split_by: float | None = None
    coloured_from: float | None = None


def drawn(s: Situation) -> Drawn:
    """What is drawn of a plan; minutes at their middle, a deadline at its early end."""
    scented, needed, thick = (_minutes(s, name) for name in ("scented at", "minutes needed", "fluid until"))
    whole, line = float(np.sum(s.split.oils)), timeline(s)
    quick = surely_fluid(s, line) if line is not None else None
    cups = tuple(
        Cup(
            name,
            float(s.split.oils[p]) / whole if whole else 0.0,
            look.fresh,
            look.fresh_word,
            look.cured,
            look.cured_words,
            scented.get(p),
            scented[p] + needed[p] if p in scented and p in needed else None,
            thick.get(p),
            *(_turn(line, quick, p) if line is not None and quick is not None and p in thick else ()),
        )
        for p, (name, look) in enumerate(zip(s.portions, looks_of(s), strict=True))
    )
    pour = s.pour
    jobs = split_and_colour(s, line) if line is not None else (None, None)
    return Drawn(cups, s.plan.pour, pour.family if pour else None, pour.touching if pour else None, *jobs)


def _turn(line: Timeline, quick: Floats, p: int) -> tuple[float, float, bool]:
    return stirred_by(line, p), float(quick[p]), bool(line.asks[p])


def stirred_by(line: Timeline, p: int) -> float:
    """The minute at which a portion's scent is stirred in."""
    return min(float(line.scented_at[p]) + line.jobs.scent, float(line.needed_until[p]))


def split_and_colour(s: Situation, line: Timeline) -> tuple[float, float]:
    """The minutes by which all is split and from which it is coloured: at once, where hands are to spare."""
    split = line.jobs.split * len(s.portions)
    return split, split if hands_of(s) == 1 else line.jobs.split


def surely_fluid(s: Situation, line: Timeline) -> Floats:
    """Until when each portion is fluid for sure: by the cautious end of judgement, as a deadline is told."""
    fluid = s.home("minutes fluid")
    assert isinstance(fluid, Column)
    worst = line.fluid_until[0]
    return np.minimum(worst, line.scented_at + fluid.outer[0]) if fluid.widened else worst


def _minutes(s: Situation, measure: str) -> Mapping[int, float]:
    """Portion → minutes, the early end of what is known; those not known are left out."""
    column = s.home(measure)
    assert isinstance(column, Column)
    known = np.isfinite(column.low) & np.isfinite(column.high)
    return {int(p): float(column.low[p]) for p in np.flatnonzero(known)}
