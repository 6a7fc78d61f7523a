"""Rules of one matter in rungs: a conflict past one bound, a caution below it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from blendwise.judge.findings.finding import LEVELS
from blendwise.judge.rulebook.compile import Rule


def rungs_of(rules: Sequence[Rule]) -> Mapping[str, frozenset[str]]:
    """Rule → the milder rules of the same rows whose premise holds all that it demands.

    Where such a rule starts to speak, the heavier one has just been mended, and nothing is worse for it.
    What is locked has no rungs: what guards skin, lye, fire or law is mended whole.
    """
    premises = [(rule, {str(atom) for atom in rule.when.atoms}) for rule in rules if rule.when.atoms]
    found = {}
    for heavy in rules:
        whole = heavy.is_locked or heavy.must.branches
        demands = set() if whole else {str(atom) for atom in heavy.must.atoms}
        below = frozenset(
            rule.name
            for rule, premise in premises
            if demands and demands <= premise and _is_milder(rule, heavy)
        )
        if below:
            found[heavy.name] = below
    return found


def _is_milder(rule: Rule, heavy: Rule) -> bool:
    return rule.looks_at == heavy.looks_at and LEVELS.index(rule.level) < LEVELS.index(heavy.level)
