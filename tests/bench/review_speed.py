"""How long the notebook takes, as ratios to `import pandas` in the same run.

Run it by hand: ``python tests/bench/review_speed.py``.  It exits 1 where a bound is missed.
Seconds are those of the processor, user and system, the least of so many turns: the clock on
the wall tells what else a machine does.

* ``review`` over 500 batches with 5,000 looks, cold process: 6 × first, 2 × after (the cache folder filled);
* ``note`` by options on the demo, and ``check`` in that book once reviewed, told beside them.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from tests.answers.note.thousands import big_book  # noqa: E402

BATCHES, TODAY = 500, "2026-11-25"
MOST_FIRST, MOST_AFTER, ROUNDS = 6.0, 2.0, 5
COMPILED = Path(tempfile.gettempdir()) / "blendwise-compiled"
NOTE = ["note", "rain-jar", "--look", "later", "--saw", "all: strength faint", "--today", TODAY]


def processor_seconds(command: list[str], environment: dict[str, str] | None = None) -> float:
    """User and system seconds of one cold process; RuntimeError where it failed."""
    child = subprocess.Popen(command, cwd=ROOT, env=environment, stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    if os.waitstatus_to_exitcode(status) not in (0, 1):
        raise RuntimeError(f"{command} left with {os.waitstatus_to_exitcode(status)}")
    return usage.ru_utime + usage.ru_stime


def seconds(arguments: list[str], book: Path, cache: Path) -> float:
    """Those of one command of ours, with a cache folder."""
    environment = {**os.environ, "XDG_CACHE_HOME": str(cache), "PYTHONPYCACHEPREFIX": str(COMPILED)}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    command = [sys.executable, "-m", "blendwise.cli.main", *arguments, "--book", str(book)]
    return processor_seconds(command, environment)


def _turn(review: list[str], book: Path, cache: Path) -> tuple[float, float, float]:
    """`import pandas`, the review with an empty cache folder, and again."""
    unit = processor_seconds([sys.executable, "-c", "import pandas"])
    return unit, seconds(review, book, cache), seconds(review, book, cache)


def main() -> int:
    """Measure, print a line each, and say by the exit code whether all of it holds."""
    with tempfile.TemporaryDirectory() as folder:
        base = Path(folder)
        cache, demo = base / "cache", base / "demo"
        shutil.copytree(ROOT / "demo_catalog", demo)
        book = big_book(base / "book", BATCHES)
        review = ["review", "--today", TODAY]
        seconds(["note", "--due", "--today", TODAY], demo, cache)
        noted = seconds(NOTE, demo, cache)
        seconds(review, demo, cache)
        turns = [_turn(review, book, base / f"cache {turn}") for turn in range(ROUNDS)]
        unit, first, after = (min(column) for column in zip(*turns, strict=True))
        seconds(review, book, cache)
        checked = min(seconds(["check", "harbour-morning", "--today", TODAY], book, cache) for _ in range(3))
    lines = [("review, first", first / unit, MOST_FIRST), ("review, after", after / unit, MOST_AFTER)]
    print(f"import pandas: {unit:.2f} s")
    for name, value, most in lines:
        print(f"{name}: {value:.2f} ×, at most {most:g} ×: {'holds' if value <= most else 'MISSED'}")
    print(f"note by options: {noted / unit:.2f} ×; check in that book: {checked / unit:.2f} ×")
    return 0 if all(value <= most for _, value, most in lines) else 1


if __name__ == "__main__":
    sys.exit(main())
