"""Portions whose lye is more than their oils use: how much of it is free, and what oil would use it up."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from blendwise.answers.check.result import Rework
from blendwise.facts.columns import Column
from blendwise.facts.measures.lye import superfat_of_portions
from blendwise.facts.situation.worked_out import Situation


def reworks(s: Situation) -> Iterator[Rework]:
    """Every portion below zero, by the lot's certificate where one is named, else by the middle."""
    pot, split = s.pot, s.split
    found = superfat_of_portions(s, "named")
    whole = s.home("superfat")
    assert isinstance(whole, Column)
    batch = float(whole.low[0])
    need = split.share * (1 - pot.loss) * pot.pot_need("named")
    need = need + split.returned_need["named"] + split.mixed_in_need["named"]
    per_gram = pot.fat_need("named") / pot.oils_total
    for name, left, wants in zip(s.portions, found.tolist(), need.tolist(), strict=True):
        if left < 0:
            lye = -left * wants
            more = (wants * (1 - left) / (1 - batch) - wants) / per_gram if batch > 0 else None
            yield Rework(name, lye, _up(lye / per_gram), batch, None if more is None else _up(more))


def _up(grams: float) -> float:
    """Whole grams, never fewer than are wanted."""
    return float(ceil(grams - 1e-9))
