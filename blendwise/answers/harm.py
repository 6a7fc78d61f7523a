"""What holds for a batch that was poured past a harm: which stops, and what each portion would want back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from blendwise.answers.check.result import Rework, Stopped

if TYPE_CHECKING:
    from blendwise.facts.situation.worked_out import Situation
    from blendwise.judge.rulebook.layers import Rulebook


@dataclass(frozen=True, slots=True)
class PouredPast:
    """The harms that a poured plan stands past, and what would bring its lye down to nothing left over."""

    harm: tuple[Stopped, ...]
    rework: tuple[Rework, ...]


def poured_past(s: Situation, rulebook: Rulebook) -> PouredPast | None:
    """None where no harm stands against the plan."""
    from blendwise.answers.check.compute import check_situation

    check = check_situation(s, rulebook)
    return PouredPast(check.harm, check.rework) if check.harm else None
