"""What a check draws: each cup's colours as poured and cured, its share and its minutes; how cups lie."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from blendwise.answers.portion_colours import looks_of
from blendwise.facts.columns import Column
from blendwise.facts.situation.worked_out import Situation


@dataclass(frozen=True, slots=True)
class Cup:
    """One portion: hex codes and words as poured and cured (None and empty where not known), its share of
    the pot, the minutes from emulsion at which it is scented, poured last and too thick to pour."""

    portion: str
    share: float
    fresh: str
    fresh_word: str
    cured: str | None
    cured_words: tuple[str, ...]
    scented_at: float | None
    poured_by: float | None
    thick_at: float | None


@dataclass(frozen=True, slots=True)
class Drawn:
    """The cups in the plan's order; ``pour``, ``family`` and ``touching`` tell how they lie in the bar."""

    cups: tuple[Cup, ...]
    pour: str | None
    family: str | None
    touching: str | None


def drawn(s: Situation) -> Drawn:
    """What is drawn of a plan; minutes at their middle, a deadline at its early end."""
    scented, needed, thick = (_minutes(s, name) for name in ("scented at", "minutes needed", "fluid until"))
    whole = float(np.sum(s.split.oils))
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
        )
        for p, (name, look) in enumerate(zip(s.portions, looks_of(s), strict=True))
    )
    pour = s.pour
    return Drawn(cups, s.plan.pour, pour.family if pour else None, pour.touching if pour else None)


def _minutes(s: Situation, measure: str) -> Mapping[int, float]:
    """Portion → minutes, the early end of what is known; those not known are left out."""
    column = s.home(measure)
    assert isinstance(column, Column)
    known = np.isfinite(column.low) & np.isfinite(column.high)
    return {int(p): float(column.low[p]) for p in np.flatnonzero(known)}
