"""What holds for a batch that was poured past a harm: which stops, and what each portion would want back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from blendwise.answers.check.result import Rework, Stopped, stopped_by

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
    from blendwise.answers.check.compute import judge_situation
    from blendwise.answers.check.free_lye import reworks

    able = tuple(rule for rule in rulebook.rules if rule.level == "stop")  # no finding outgrows its rule
    harms = stopped_by(judge_situation(s, rulebook, moved=able).findings, "harm")
    return PouredPast(harms, tuple(reworks(s))) if harms else None
