"""Findings weighed: the heaviest, and one a rule."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from blendwise.judge.findings.finding import LEVELS, Finding

CAUTION: Final = LEVELS.index("caution")
"""What is heavier than this stands against a blend: a conflict or a stop."""

WEIGHT: Final = {"tight": 0, "undecided": 1, "broken": 2, "accepted": 2}


def one_each(findings: Iterable[Finding]) -> list[Finding]:
    """One finding a rule: the first of those broken, else undecided, else tight."""
    kept: dict[str, Finding] = {}
    for finding in findings:
        first = kept.setdefault(finding.rule, finding)
        if WEIGHT[finding.status] > WEIGHT[first.status]:
            kept[finding.rule] = finding
    return list(kept.values())


def heaviest(findings: Iterable[Finding], status: str = "") -> int:
    """Index into LEVELS of the heaviest finding that stands (or of a status), −1 where there is none."""
    told = (f for f in findings if (f.status == status if status else f.stands))
    return max((LEVELS.index(f.level) for f in told), default=-1)
