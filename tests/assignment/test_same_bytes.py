"""The same problem gives the same bytes, and the solver is quiet and lazy."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
SOLVE = """
import sys
sys.path.insert(0, ".")
from tests.bench.instances import instance
from blendwise.assignment.search.solve import Ask, solve
for size in ((3, 5, 0), (4, 4, 1), (4, 5, 3)):
    r = solve(instance(*size), Ask(seconds=60.0))
    print(r.status, r.conflict, r.goals, r.stops, r.gap)
    for a in (r.best, r.runner_up):
        print(a and (a.grams.tobytes().hex(), a.doses.tobytes().hex(), a.premixes, a.order, a.values))
"""


def printed(code: str, seed: str = "0", **environment: str) -> str:
    """What a fresh interpreter prints."""
    given = {**os.environ, "PYTHONHASHSEED": seed, **environment}
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, env=given, capture_output=True, text=True, check=True
    )
    assert done.stderr == ""
    return done.stdout


def test_other_hash_seeds_and_locales_give_the_same_bytes() -> None:
    """Three problems, three hash seeds, two locales: one output, no banner or log in it, ours or HiGHS's."""
    first = printed(SOLVE, "0")
    assert "optimal" in first
    assert all(line.startswith(("optimal ", "infeasible ", "(", "None")) for line in first.splitlines())
    assert len(first.splitlines()) == 9
    assert printed(SOLVE, "1") == first
    assert printed(SOLVE, "4242", LC_ALL="C", LANG="C") == first


def test_the_solver_is_imported_only_to_solve() -> None:
    """Importing the room does not import HiGHS; start-up counts."""
    code = "import sys, blendwise.assignment.search.solve; print('highspy' in sys.modules)"
    assert printed(code) == "False\n"
