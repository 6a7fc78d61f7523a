"""The same question has the same answer; a split that was found is found again from itself."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from blendwise.api import Book
from blendwise.assignment.problem.of_plan import compile_problem
from blendwise.assignment.search.solve import Ask, solve
from tests.levers.doors import ON
from tests.levers.test_reasons import asked


@pytest.mark.parametrize("ounces", [False, True])
def test_one_problem_is_solved_twice_alike(ounces: bool, tmp_path: Path) -> None:
    """What a rule objected to in one search, it objects to in the next."""
    blend = {"wet-slate": "1", "white-barn": "1", "nettle-lane": "0.5"}
    told = asked(tmp_path, ounces, {"scents/blend": blend, "pour": "rough layers"}).document
    assert told["looked"] > 0
    book = Book(tmp_path)
    s = book.situation(tmp_path / "plans" / "two halves.yaml", ON)
    problem = compile_problem(s, book.rulebook.rules)
    one, other = (solve(problem, Ask(runner_up=False, explain=False)) for _ in range(2))
    assert one.best is not None
    assert other.best is not None
    assert one.looked == other.looked
    assert np.array_equal(one.best.grams, other.best.grams)
