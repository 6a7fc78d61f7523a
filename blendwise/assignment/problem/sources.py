"""What leads back from a constraint to the rule or the plan line that it comes from."""

from __future__ import annotations

from blendwise.assignment.problem.half_spaces import Half
from blendwise.assignment.problem.problem import Row, Source
from blendwise.facts.columns import Subject
from blendwise.judge.findings.finding import Level
from blendwise.judge.rulebook.compile import Rule


def source_of(rule: Rule, subject: Subject) -> Source:
    """Kind, rule, subject, plan place, rule place."""
    return ("rule", rule.name, str(subject), subject.place, rule.place.spot)


def name_of(rule: Rule, subject: Subject) -> str:
    """How the constraint is called: the rule and what it looks at."""
    return f"{rule.name}: {subject}"


def row_of(half: Half, name: str, source: Source, level: Level, weight: float | None = None) -> Row:
    """A half-space over the scents that are placed, as a row of the problem."""
    return Row(
        name,
        source,
        half.a,
        half.a0,
        level=level,
        scale=half.scale,
        weight=weight,
        strict=half.strict,
        uncertain=half.open if half.open.any() else None,
    )
