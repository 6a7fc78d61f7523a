"""The same question has the same answer; a split that was found is found again from itself."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import numpy as np
import pytest

from blendwise.api import Book
from blendwise.assignment.problem.of_plan import compile_problem
from blendwise.assignment.search.solve import Ask, solve
from tests.levers.doors import ON
from tests.levers.test_beside import plans
from tests.levers.test_reasons import asked
from tests.strangers.runs import Ran, ran

Run = Mapping[tuple[str, str], float]


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


def grams(run: Ran) -> dict[tuple[str, str], float]:
    """Cup and oil → grams."""
    return {
        (row["portion"], oil): mass for row in run.document["portions"] for oil, mass in row["scents"].items()
    }


def moved(one: Run, other: Run) -> float:
    """The part of all scent that lies in another cup or is another oil."""
    total = sum(one.values())
    return sum(max(mass - other.get(cell, 0.0), 0.0) for cell, mass in one.items()) / total


@pytest.mark.parametrize("seed", range(6))
def test_a_hundredth_more_moves_little(seed: int, tmp_path: Path) -> None:
    """A load of 1 % more: the same soap, but for a twentieth of its scent."""
    load = ("0.5 oz ppo", "0.505 oz ppo") if seed % 2 else ("3 % of batch oils", "3.03 % of batch oils")
    one, other = (
        grams(asked(tmp_path / each, seed % 2 == 1, plans(seed) | {"scents/load": each})) for each in load
    )
    assert moved(one, other) <= 0.05


@pytest.mark.parametrize("seed", range(4))
def test_a_split_is_found_again_from_itself(seed: int, tmp_path: Path) -> None:
    """Written into its plan and asked again: nothing has moved."""
    first = asked(tmp_path, seed % 2 == 1, plans(seed))
    new = tmp_path / "plans" / "found.yaml"
    ran("assign", tmp_path / "plans" / "two halves.yaml", "--write", new)
    again = ran("assign", new, "--json")
    assert moved(grams(first), grams(again)) <= 0.001
