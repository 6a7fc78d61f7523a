"""What holds for a batch that was poured past a harm: which stops, and what each portion would want back."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING

from blendwise.answers.check.result import CheckResult, Stopped

if TYPE_CHECKING:
    from blendwise.facts.situation.worked_out import Situation
    from blendwise.judge.rulebook.layers import Rulebook

SUPERFAT = "portion superfat"


@dataclass(frozen=True, slots=True)
class Rework:
    """Oil of the recipe that a portion wants back before its lye is used up: ``oil`` in grams, rounded up."""

    portion: str
    oil: float


@dataclass(frozen=True, slots=True)
class PouredPast:
    """The harms that a poured plan stands past, and what would bring its lye down to nothing left over."""

    harm: tuple[Stopped, ...]
    rework: tuple[Rework, ...]


def poured_past(s: Situation, rulebook: Rulebook) -> PouredPast | None:
    """None where no harm stands against the plan."""
    from blendwise.answers.check.compute import check_situation

    check = check_situation(s, rulebook)
    return PouredPast(check.harm, _reworks(s, check)) if check.harm else None


def _reworks(s: Situation, check: CheckResult) -> tuple[Rework, ...]:
    """Lye over what a portion's oils use, as oil: portion oils × (0 − superfat)."""
    lacking = {
        finding.subject[0]: -finding.value
        for finding in check.stops("harm")
        if finding.measure == SUPERFAT and isinstance(finding.value, float) and finding.value < 0
    }
    index = {name: p for p, name in enumerate(s.portions)}
    return tuple(
        Rework(name, float(ceil(s.split.oils[index[name]] * share)))
        for name, share in lacking.items()
        if name in index
    )
