"""How long the notebook takes: a look noted, and a review of 500 batches with 5,000 looks.

Run it by hand: ``python tests/bench/review_speed.py``.  It exits 1 where a bound is missed.

* ``note`` by options on the demo, cold process, under 1 s;
* ``review`` over 500 batches with 5,000 looks: 5 s first, 1.5 s after (the user's cache folder filled);
* ``check`` in that book once reviewed, told beside them.
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
MOST_NOTE, MOST_FIRST, MOST_AFTER = 1.0, 5.0, 1.5
NOTE = ["note", "rain-jar", "--look", "later", "--saw", "all: strength faint", "--today", TODAY]


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
    with tempfile.TemporaryDirectory() as folder:
        base = Path(folder)
        cache, demo = base / "cache", base / "demo"
        shutil.copytree(ROOT / "demo_catalog", demo)
        book = big_book(base / "book", BATCHES)
        review = ["review", "--today", TODAY]
        seconds(["note", "--due", "--today", TODAY], demo, cache)
        noted = min(seconds(NOTE, demo, cache) for _ in range(3))
        seconds(review, demo, cache)
        first = seconds(review, book, cache)
        after = min(seconds(review, book, cache) for _ in range(3))
        checked = min(seconds(["check", "harbour-morning", "--today", TODAY], book, cache) for _ in range(3))
    lines = [
        ("note by options", noted, MOST_NOTE),
        ("review, first", first, MOST_FIRST),
        ("review, after", after, MOST_AFTER),
    ]
    for name, value, most in lines:
        print(f"{name}: {value:.2f} s, at most {most:g} s: {'holds' if value <= most else 'MISSED'}")
    print(f"check in the book of {BATCHES} batches: {checked:.2f} s")
    return 0 if all(value <= most for _, value, most in lines) else 1


if __name__ == "__main__":
    sys.exit(main())
