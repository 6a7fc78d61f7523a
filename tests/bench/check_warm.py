"""How long a warm ``check`` takes: the book is open, the plan is read, judged and told anew each time.

Run it by hand: ``python tests/bench/check_warm.py``.  It exits 1 where the demo's own plan takes longer
than 10 ms.  The least of many runs is taken: on a busy machine the rest measures the neighbours.
"""

from __future__ import annotations

import datetime
import statistics
import sys
import time
from pathlib import Path

from blendwise.api import Book
from blendwise.records.as_of import AsOf

DEMO = Path(__file__).resolve().parents[2] / "demo_catalog"
PLAN = "greenhouse-morning"
DAY = datetime.date(2026, 11, 25)
ROUNDS, MOST_MILLISECONDS = 100, 10.0


def milliseconds(book: Book, plan: str) -> tuple[float, float]:
    """The least and the median of many checks of one plan, in milliseconds."""
    book.check(plan, on=AsOf(DAY)).to_json()
    taken = []
    for _ in range(ROUNDS):
        started = time.perf_counter()
        book.check(plan, on=AsOf(DAY))
        taken.append(1000 * (time.perf_counter() - started))
    return min(taken), statistics.median(taken)


def main() -> int:
    """A line a plan, and whether the demo's own is within its time."""
    book = Book(DEMO)
    found = {path.stem: milliseconds(book, path.stem) for path in book.files.plan_paths()}
    for plan, (least, median) in found.items():
        print(f"{plan}: {least:.1f} ms, median {median:.1f} ms")
    least, _ = found[PLAN]
    fits = least <= MOST_MILLISECONDS
    print(f"{PLAN}: {least:.1f} ms, at most {MOST_MILLISECONDS:g}: {'holds' if fits else 'MISSED'}")
    return 0 if fits else 1


if __name__ == "__main__":
    sys.exit(main())
