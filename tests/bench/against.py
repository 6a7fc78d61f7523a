"""Ratios to an earlier tree, such as that of release 0.1.0: start-up, a cold and a warm check, memory.

Run it by hand: ``python tests/bench/against.py FOLDER-OF-THAT-TREE [ROUNDS]``.  It exits 1 where a ratio is
above 1.1.  Processor seconds of whole processes (warm: of one check in an open book), the least of many
rounds taken in turns: on a busy machine the rest measures the neighbours.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Final, NamedTuple

THIS: Final = Path(__file__).resolve().parents[2]
MOST: Final = 1.1
PLAN: Final = "demo_catalog/plans/greenhouse-morning.yaml"
COLD: Final = {
    "--help": ["-m", "blendwise.cli.main", "--help"],
    "check": ["-m", "blendwise.cli.main", "check", PLAN],
    "check --json": ["-m", "blendwise.cli.main", "check", "--json", PLAN],
}
WARM: Final = """
import time
from blendwise.api import Book
book, took = Book("demo_catalog"), []
for _ in range(25):
    began = time.process_time()
    book.check("greenhouse-morning")
    took.append(time.process_time() - began)
print(min(took))
"""


class Run(NamedTuple):
    """One process: its processor seconds, its peak megabytes, what it printed."""

    seconds: float
    megabytes: float
    told: str


def run(tree: Path, arguments: list[str], cache: str) -> Run:
    """One process of a tree; RuntimeError where it failed."""
    own = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    paths = {"PYTHONPATH": str(tree), "PYTHONPYCACHEPREFIX": f"{cache}{tree}"}
    process = subprocess.Popen(
        [sys.executable, *arguments], cwd=tree, env=own | paths, stdout=subprocess.PIPE, text=True
    )
    assert process.stdout is not None
    told = process.stdout.read()
    _, status, usage = os.wait4(process.pid, 0)
    if os.waitstatus_to_exitcode(status) not in (0, 1):
        raise RuntimeError(f"{arguments} of {tree} left with {os.waitstatus_to_exitcode(status)}")
    size = usage.ru_maxrss / (1024 if sys.platform != "darwin" else 1024 * 1024)
    return Run(usage.ru_utime + usage.ru_stime, size, told)


def figures(base: Path, rounds: int) -> Iterator[tuple[str, float, float]]:
    """What is measured, of the other tree and of this one."""
    with tempfile.TemporaryDirectory() as cache:
        for name, arguments in (COLD | {"warm check": ["-c", WARM]}).items():
            turns = [[run(tree, arguments, cache) for tree in (base, THIS)] for _ in range(rounds + 1)]
            both = list(zip(*turns[1:], strict=True))  # the first compiles
            if name == "warm check":
                before, now = (min(float(each.told) for each in runs) for runs in both)
            else:
                before, now = (min(each.seconds for each in runs) for runs in both)
                sizes = [max(each.megabytes for each in runs) for runs in both]
                yield f"{name}, memory", sizes[0], sizes[1]
            yield f"{name}, seconds", before, now


def main() -> int:
    """Measure and say by the exit code whether all of it holds."""
    if len(sys.argv) < 2:
        print(__doc__)
        return 2
    rounds, fits = int(sys.argv[2]) if len(sys.argv) > 2 else 7, True
    for name, before, now in figures(Path(sys.argv[1]).resolve(), rounds):
        ratio = now / before
        fits = fits and ratio <= MOST
        told = "holds" if ratio <= MOST else "MISSED"
        print(f"{name}: {before:.4g}, now {now:.4g}: {ratio:.2f}, at most {MOST}: {told}", flush=True)
    return 0 if fits else 1


if __name__ == "__main__":
    sys.exit(main())
