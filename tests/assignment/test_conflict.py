"""Conflict sets: irreducible, proven, and led back to their sources."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import linprog  # type: ignore[import-untyped]

from blendwise.assignment.explain.prices import without
from blendwise.assignment.problem.problem import Problem, Row
from blendwise.assignment.program.free_split import Freeform
from blendwise.assignment.program.solver import Engine
from blendwise.assignment.search.solve import Ask, solve
from tests.assignment.oracle import best
from tests.assignment.small import small
from tests.bench.instances import instance

ASK = Ask(seconds=60.0, runner_up=False, explain=False)


def plain(seed: int) -> Problem:
    """A benchmark instance with nothing but rows and closed cells, its limits pulled in."""
    problem = instance(4, 4, seed)
    rows = tuple(replace(row, a0=row.a0 * 0.55, level="conflict") for row in problem.rows)
    return replace(problem, rows=rows, either=(), slots=None)


def linear(problem: Problem, kept: set[tuple[object, ...]]) -> bool:
    """Whether these sources can all be met, by another solver (a linear program in grams)."""
    shape = problem.shape
    rows = [row for row in problem.rows if row.hard and row.source in kept]
    upper = np.full(shape, np.inf)
    if problem.empty is not None:
        for s, p in np.argwhere(problem.empty):
            if ("cell", problem.scents[s], problem.portions[p]) in kept:
                upper[s, p] = 0.0
    totals = [s for s, name in enumerate(problem.scents) if ("total", name) in kept]
    equal = np.zeros((len(totals), shape[0] * shape[1]))
    for k, s in enumerate(totals):
        equal[k, s * shape[1] : (s + 1) * shape[1]] = 1.0
    found = linprog(
        np.zeros(shape[0] * shape[1]),
        A_ub=np.array([row.a.ravel() for row in rows]) if rows else None,
        b_ub=[-row.a0 for row in rows] if rows else None,
        A_eq=equal if totals else None,
        b_eq=[problem.blend[s] * problem.total for s in totals] if totals else None,
        bounds=[(0.0, high) for high in upper.ravel()],
    )
    return bool(found.status == 0)


def test_a_conflict_is_irreducible_by_another_solver() -> None:
    """The set cannot be met, and without any one of its members it can: found so by scipy's linear solver."""
    clashes = 0
    for seed in range(25):
        problem = plain(seed)
        result = solve(problem, ASK)
        if result.obstacle != "rules":
            continue
        clashes += 1
        conflict = set(result.conflict)
        assert not linear(problem, conflict)
        for source in conflict:
            assert linear(problem, conflict - {source})
    assert clashes >= 5


def test_every_proper_subset_can_be_met() -> None:
    """With either-ors and a clock too, dropping any one member of a conflict makes the rest possible."""
    clashes = 0
    for seed in range(120):
        problem = small(seed)
        result = solve(problem, ASK)
        if result.obstacle != "rules":
            continue
        clashes += 1
        form = Freeform(problem, Engine())
        assert not form.possible(result.conflict)
        for source in result.conflict:
            assert form.possible(tuple(other for other in result.conflict if other != source))
    assert clashes >= 10


def test_rules_in_conflict_are_a_proof() -> None:
    """Where a conflict of rules is told, no list of answers, free or in premixes, holds one."""
    told = [problem for problem in map(small, range(200)) if solve(problem, ASK).obstacle == "rules"]
    assert len(told) >= 20
    for problem in told:
        assert best(problem, ["few weighings"]) is None
        assert best(problem, ["few weighings"], free=True) is None


def pinned_against(limit: float) -> Problem:
    """Two oils, two portions, 6 g of the first pinned into portion a, where a rule allows ``limit`` g."""
    a = np.zeros((2, 2))
    a[0, 0] = 1.0
    fixed = np.full((2, 2), np.nan)
    fixed[0, 0] = 6.0
    return Problem(
        scents=("tonka", "lime"),
        portions=("a", "b"),
        blend=np.array([0.5, 0.5]),
        portion_oils=np.array([500.0, 500.0]),
        total=40.0,
        step=0.1,
        step_stated=True,
        fixed=fixed,
        rows=(Row("little tonka", ("rule", "little"), a, -limit, scale=limit),),
        cell_sources={(0, 0): ("plan", "doses", 12)},
    )


def test_a_pin_against_a_rule_names_both() -> None:
    """A dose that the plan pins above a rule's limit: the pin's line and the rule, nothing else."""
    result = solve(pinned_against(5.0), ASK)
    assert result.status == "infeasible"
    assert set(result.conflict) == {("rule", "little"), ("plan", "doses", 12)}


def test_a_pin_at_the_limit_holds() -> None:
    """Exactly at the limit is not over it."""
    result = solve(pinned_against(6.0), ASK)
    assert result.best is not None
    assert result.best.grams[0, 0] == pytest.approx(6.0)


def test_leaving_out_a_member_makes_the_problem_possible_again() -> None:
    """``without`` drops the pin, and the rest is solved."""
    freed = without(pinned_against(5.0), ("plan", "doses", 12))
    result = solve(freed, ASK)
    assert result.best is not None
    assert result.best.grams[0, 0] <= 5.0 + 1e-9


def test_only_premixes_in_the_way() -> None:
    """Each portion may hold one oil only, of three, and one premix is allowed: the free split would do."""
    rows = []
    for p in range(3):
        for s in range(3):
            if s != p:
                a = np.zeros((3, 3))
                a[s, p] = 1.0
                rows.append(Row("kept out", ("out", s, p), a, 0.0, scale=1.0))
    problem = Problem(
        scents=("x", "y", "z"),
        portions=("a", "b", "c"),
        blend=np.full(3, 1 / 3),
        portion_oils=np.full(3, 400.0),
        total=45.0,
        rows=tuple(rows),
        step=0.1,
        step_stated=True,
        premixes=2,
    )
    result = solve(problem, ASK)
    assert (result.status, result.obstacle, result.conflict) == ("infeasible", "premixes", ())
    assert solve(problem, replace(ASK, free=True)).status == "optimal"


def test_only_steps_in_the_way() -> None:
    """No portion may take more than 9 g, and a scale of 1 g weighs no less than 10 g."""
    rows = []
    for p in range(5):
        a = np.zeros((2, 5))
        a[:, p] = 1.0
        rows.append(Row("at most 9 g", ("most", p), a, -9.0, scale=9.0))
    problem = Problem(
        scents=("x", "y"),
        portions=tuple("abcde"),
        blend=np.array([0.5, 0.5]),
        portion_oils=np.full(5, 200.0),
        total=40.0,
        rows=tuple(rows),
        step=1.0,
        step_stated=True,
    )
    result = solve(problem, ASK)
    assert (result.status, result.obstacle) == ("infeasible", "steps")
