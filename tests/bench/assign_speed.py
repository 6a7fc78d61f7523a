"""How long an assignment takes to be proven, beside OR-Tools CP-SAT on the same model, one thread each.

Run it as ``python tests/bench/assign_speed.py [--instances 30] [--limit 20] [--without-cp-sat]``.  For each
size it draws instances from the published generator until so many are feasible, and prints the median and the
90th percentile of the seconds in which all goals were proven within 0.5 % of the total scent.  CP-SAT is
stopped after ``--limit`` seconds and counted with that time.
"""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[2]))

from blendwise.assignment.problem.problem import Problem
from blendwise.assignment.result import Result
from blendwise.assignment.search.solve import Ask, solve
from tests.bench.instances import instance

SIZES = ((3, 4, 0.5), (3, 5, 0.3), (4, 6, 0.5), (6, 8, 2.0))
"""Oils, portions, and the seconds which the median must stay under."""
GAP = 0.005


def timed(problem: Problem, seconds: float) -> tuple[Result, float]:
    """Our result and the seconds it took."""
    begun = time.perf_counter()
    result = solve(problem, Ask(gap=GAP, seconds=seconds, runner_up=False, explain=False))
    return result, time.perf_counter() - begun


def theirs(problem: Problem, seconds: float) -> float:
    """Seconds which CP-SAT took, building included."""
    from tests.bench.cpsat import SameModel

    begun = time.perf_counter()
    SameModel(problem).solve(GAP, seconds)
    return time.perf_counter() - begun


def measure(oils: int, portions: int, wanted: int, limit: float, compare: bool) -> tuple[list[float], ...]:
    """Seconds of ours and of CP-SAT over ``wanted`` feasible instances, and ours on the impossible ones."""
    ours: list[float] = []
    other: list[float] = []
    impossible: list[float] = []
    seed = 0
    while len(ours) < wanted:
        problem = instance(oils, portions, seed)
        result, seconds = timed(problem, 60.0)
        seed += 1
        if result.best is None:
            impossible.append(seconds)
            continue
        ours.append(seconds)
        if compare:
            other.append(theirs(problem, limit))
    return ours, other, impossible


def _shown(name: str, seconds: list[float]) -> str:
    if not seconds:
        return f"{name}: none"
    median, late = np.median(seconds), np.percentile(seconds, 90)
    return f"{name}: median {median:.3f} s, 90th percentile {late:.3f} s, longest {max(seconds):.3f} s"


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--instances", type=int, default=30)
    parser.add_argument("--limit", type=float, default=20.0)
    parser.add_argument("--without-cp-sat", action="store_true")
    asked = parser.parse_args()
    timed(instance(3, 4, 0), 10.0)
    for oils, portions, goal in SIZES:
        found = measure(oils, portions, asked.instances, asked.limit, not asked.without_cp_sat)
        print(f"{oils} x {portions} (to reach: {goal} s)")
        for name, seconds in zip(("  ours", "  CP-SAT", "  ours, impossible"), found, strict=True):
            print(_shown(name, seconds), flush=True)


if __name__ == "__main__":
    main()
