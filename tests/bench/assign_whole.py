"""How long a whole ``Book.assign`` takes beside ``import pandas``: split, reasons, levers, its check.

Run it as ``python tests/bench/assign_whole.py [--plans 10]``.  Processor time, one thread, on generated plans
of a size for which a split is found, and on those for which nothing fits, ways out included.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from random import Random

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[2]))

from blendwise.api import Book
from blendwise.records.as_of import AsOf
from blendwise.records.place import RecordError
from tests.strangers import plans, shelf
from tests.strangers.books import TODAY
from tests.strangers.words import PORTIONS, some

SIZES = (((3, 5), 1.0, 2.0), ((4, 6), 2.0, 4.0), ((6, 8), 7.0, 12.0))
"""Oils and portions, and how many imports of pandas the median and nine in ten may take."""
NOTHING_FITS = 5.0
ON = AsOf(date.fromisoformat(TODAY))


def importing() -> float:
    """Processor seconds of ``import pandas`` in a process of its own, the least of five."""
    taken = []
    for _ in range(5):
        child = subprocess.Popen([sys.executable, "-c", "import pandas"])
        _, _, usage = os.wait4(child.pid, 0)
        taken.append(usage.ru_utime + usage.ru_stime)
    return min(taken)


def a_plan(folder: Path, oils: int, portions: int, seed: int) -> Path:
    """A plan of so many oils and portions in a book of its own."""
    rng = Random(f"whole {oils} {portions} {seed}")
    found = shelf.a_shelf(rng)
    while not found.calm or len(found.scents) < oils:
        found = shelf.a_shelf(rng)
    names, scents = some(rng, PORTIONS, portions), some(rng, list(found.scents), oils)
    doc = {
        "plan": "whole",
        "for": "home",
        "recipe": plans._recipe(rng, found, names),
        "process": plans._process(rng, found),
        "pour": rng.choice(plans.POURS[:8]),
        "portions": plans._portions(rng, found, names),
        "scents": plans._scents(rng, found, scents),
    }
    for name, text in {**found.files(), "plans/whole.yaml": shelf.as_yaml(doc)}.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, "utf-8")
    return folder / "plans" / "whole.yaml"


def timed(oils: int, portions: int) -> Iterator[tuple[str, float]]:
    """Status and processor seconds of one plan after another."""
    for seed in range(1000):
        with tempfile.TemporaryDirectory() as folder:
            plan = a_plan(Path(folder), oils, portions, seed)
            try:
                book = Book(Path(folder))
                begun = time.process_time()
                status = book.assign(plan, on=ON).status
            except RecordError:
                continue
            yield status, time.process_time() - begun


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--plans", type=int, default=10)
    wanted = parser.parse_args().plans
    unit, nothing = importing(), []
    print(f"import pandas: {unit:.2f} s")
    next(timed(3, 4))
    for (oils, portions), median, late in SIZES:
        found: list[float] = []
        for status, seconds in timed(oils, portions):
            if status == "nothing fits":
                nothing.append(seconds / unit)
            elif status in ("proven", "best looked at", "best found"):
                found.append(seconds / unit)
            if len(found) >= wanted:
                break
        middle, nine = np.median(found), np.percentile(found, 90)
        told = f"median {middle:.2f} (at most {median:g}), nine in ten {nine:.2f} (at most {late:g})"
        print(f"{oils} x {portions}: {told}, longest {max(found):.2f}", flush=True)
    if nothing:
        middle, nine = np.median(nothing), np.percentile(nothing, 90)
        told = f"median {middle:.2f}, nine in ten {nine:.2f} (at most {NOTHING_FITS:g})"
        print(f"nothing fits ({len(nothing)} plans): {told}")


if __name__ == "__main__":
    main()
