"""Pairing at speed: cold start, one oil against a shelf of 300, all pairs of 300 and of 3,000.

Run it by hand: ``python tests/bench/pair_speed.py`` (about a minute).  It exits 1 where a bound is missed.

* ``blendwise pair`` on the demo, cold process, at most 1.5 × ``python -c "import pandas"``;
* ``--with-all`` over 300 oils within 1 s;
* all pairs of 300 within 5 s; of 3,000 no more per pair than of 300, under 1 GB.

Seconds are of this process (its own work, whatever else the machine does), but for the cold start.
"""

from __future__ import annotations

import resource
import sys
from dataclasses import replace
from datetime import date
from pathlib import Path
from time import process_time

from blendwise.api import Book
from blendwise.records.as_of import AsOf

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench.startup import PANDAS, ROOT, best

DEMO = ROOT / "demo_catalog"
TODAY = date(2026, 11, 25)
PAIR = ["-m", "blendwise.cli.main", "pair", "tonka-milk", "lime", "--book", str(DEMO)]
MOST_COLD, MOST_SHELF, MOST_ALL, MOST_MEGABYTES = 1.5, 1.0, 5.0, 1000.0
FEW, MANY = 300, 3_000


def shelf_of(count: int) -> Book:
    """The demo with its oils repeated under other names until there are so many."""
    book = Book(DEMO)
    kinds = list(book.files.scents.values())
    names = [f"{kinds[k % len(kinds)].name}-{k}" for k in range(count)]
    copies = {name: kinds[k % len(kinds)].model_copy(update={"name": name}) for k, name in enumerate(names)}
    book.files = replace(book.files, scents=copies)
    return book


def along(count: int) -> float:
    """Seconds for one oil against a shelf, reasons told."""
    book = shelf_of(count)
    assert book.rulebook.rules  # read before the clock starts, as for any question
    start = process_time()
    result = book.shelf(next(iter(book.files.scents)), pour="column", on=AsOf(TODAY))
    taken = process_time() - start
    assert len(result.rows) == count - 1
    return taken


def all_of(count: int) -> float:
    """Seconds for every pair of a shelf."""
    book = shelf_of(count)
    assert book.rulebook.rules  # read before the clock starts, as for any question
    start = process_time()
    pairs = sum(len(block) for block in book.pairs(on=AsOf(TODAY)))
    taken = process_time() - start
    assert pairs == count * (count - 1) // 2
    return taken


def main() -> int:
    """Measure, print a line each, and say by the exit code whether all of it holds."""
    (cold, _), (pandas, _) = best(PAIR, PANDAS)
    shelf = min(along(FEW) for _ in range(3))
    few = min(all_of(FEW) for _ in range(3))
    many = all_of(MANY)
    pairs = [count * (count - 1) / 2 for count in (FEW, MANY)]
    megabytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    lines = [
        ("pair / import pandas", cold / pandas, MOST_COLD),
        (f"one oil against {FEW}, s", shelf, MOST_SHELF),
        (f"all pairs of {FEW}, s", few, MOST_ALL),
        (f"a pair of {MANY:,} / a pair of {FEW}", (many / pairs[1]) / (few / pairs[0]), 1.0),
        ("megabytes", megabytes, MOST_MEGABYTES),
    ]
    for name, value, most in lines:
        print(f"{name}: {value:.2f}, at most {most:g}: {'holds' if value <= most else 'MISSED'}")
    print(f"pair {cold:.3f} s, import pandas {pandas:.3f} s, all pairs of {MANY:,} {many:.1f} s")
    return 0 if all(value <= most for _, value, most in lines) else 1


if __name__ == "__main__":
    sys.exit(main())
