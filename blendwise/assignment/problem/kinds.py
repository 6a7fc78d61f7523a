"""How a rule compiles for the solver, in one word: what ``rules show`` says of it."""

from __future__ import annotations

from typing import Final

from blendwise.assignment.problem.clock_rows import FLUID
from blendwise.assignment.problem.half_spaces import bounds_of, is_constant, measure_of
from blendwise.judge.rulebook.compile import Rule

SETTLED: Final = "settled before"
"""Of a rule that no dose moves."""


def how_it_compiles(rule: Rule) -> str:
    """row, either-or, cap, clock, settled, or afterwards: what ``rules show`` says of a rule."""
    forms = [measure_of(name).form for atom in rule.must for name in atom.measures]
    when_moves = any(not is_constant(atom) for atom in rule.when)
    if FLUID in rule.must.measures:
        return "clock"
    if all(form == "constant" for form in forms) and not when_moves:
        return "closed cells" if rule.looks_at in ("dose", "pair") else SETTLED
    linear = all(form in ("constant", "fraction", "inverted") for form in forms)
    if not linear or any(bounds_of(atom) is None and not is_constant(atom) for atom in rule.must):
        return "afterwards"
    if when_moves or rule.must.branches:
        return "either-or"
    return "cap" if "inverted" in forms else "row"
