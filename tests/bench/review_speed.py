"""How long the notebook takes, as ratios to `import pandas` in the same run.

Run it by hand: ``python tests/bench/review_speed.py``.  It exits 1 where a bound is missed.

* ``review`` over 500 batches with 5,000 looks, cold process: 6 × first, 2 × after (the cache folder filled);
* ``note`` by options on the demo, and ``check`` in that book once reviewed, told beside them.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from tests.answers.note.thousands import big_book  # noqa: E402

BATCHES, TODAY = 500, "2026-11-25"
MOST_FIRST, MOST_AFTER = 6.0, 2.0
NOTE = ["note", "rain-jar", "--look", "later", "--saw", "all: strength faint", "--today", TODAY]


def pandas_seconds() -> float:
    """Wall seconds of a process that imports pandas and ends, the least of five."""
    taken = []
    for _ in range(5):
        started = time.perf_counter()
        subprocess.run([sys.executable, "-c", "import pandas"], check=True)
        taken.append(time.perf_counter() - started)
    return min(taken)


def seconds(arguments: list[str], book: Path, cache: Path) -> float:
    """Wall seconds of one cold process; RuntimeError where it failed."""
    environment = {**os.environ, "XDG_CACHE_HOME": str(cache), "PYTHONPYCACHEPREFIX": str(cache / "compiled")}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    command = [sys.executable, "-m", "blendwise.cli.main", *arguments, "--book", str(book)]
    started = time.perf_counter()
    done = subprocess.run(
        command, cwd=ROOT, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE
    )
    taken = time.perf_counter() - started
    if done.returncode not in (0, 1):
        raise RuntimeError(f"{arguments} left with {done.returncode}: {done.stderr.decode()}")
    return taken


def main() -> int:
    """Measure, print a line each, and say by the exit code whether all of it holds."""
    unit = pandas_seconds()
    with tempfile.TemporaryDirectory() as folder:
        base = Path(folder)
        cache, demo = base / "cache", base / "demo"
        shutil.copytree(ROOT / "demo_catalog", demo)
        book = big_book(base / "book", BATCHES)
        review = ["review", "--today", TODAY]
        seconds(["note", "--due", "--today", TODAY], demo, cache)
        noted = seconds(NOTE, demo, cache)
        seconds(review, demo, cache)
        first = seconds(review, book, cache)
        after = min(seconds(review, book, cache) for _ in range(3))
        checked = min(seconds(["check", "harbour-morning", "--today", TODAY], book, cache) for _ in range(3))
    lines = [("review, first", first / unit, MOST_FIRST), ("review, after", after / unit, MOST_AFTER)]
    print(f"import pandas: {unit:.2f} s")
    for name, value, most in lines:
        print(f"{name}: {value:.2f} ×, at most {most:g} ×: {'holds' if value <= most else 'MISSED'}")
    print(f"note by options: {noted / unit:.2f} ×; check in that book: {checked / unit:.2f} ×")
    return 0 if all(value <= most for _, value, most in lines) else 1


if __name__ == "__main__":
    sys.exit(main())
