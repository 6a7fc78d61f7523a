"""A page written cold against ``import pandas``, as a ratio of the same run; and how large the files are.

Run it by hand: ``python tests/bench/page_speed.py``.  It exits 1 where a page takes more than 2 × the import
or is larger than 300 KB.  The bench sheet spreads open doses evenly and ``assign`` stands apart: the search
for a split is not what is measured here.  What counts is the time of the processor, which a busy machine
changes little.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench.startup import PANDAS, ROOT, compiled

BOOK = Path(__file__).resolve().parents[2] / "demo_catalog"
PLAN = str(BOOK / "plans" / "harbour-morning.yaml")
ROUNDS = 5
MOST_RATIO, MOST_BYTES = 2.0, 300_000
ON = ["--today", "2026-11-25"]
PAGES = {
    "sheet": ["sheet", PLAN, "--evenly", *ON],
    "check": ["check", PLAN, *ON],
    "pair": ["pair", "tonka-milk", "lime", "--book", str(BOOK), *ON],
    "pair --with-all": ["pair", "lime", "--with-all", "--book", str(BOOK), *ON],
    "review": ["review", "--book", str(BOOK), *ON],
    "rules": ["rules", "--book", str(BOOK)],
}


def once(arguments: list[str], environment: dict[str, str]) -> float:
    """Seconds of the processor of one cold process, user and system; RuntimeError where it failed."""
    child = subprocess.Popen(
        [sys.executable, *arguments], cwd=ROOT, env=environment, stdout=subprocess.DEVNULL
    )
    _, status, usage = os.wait4(child.pid, 0)
    if os.waitstatus_to_exitcode(status) not in (0, 1):
        raise RuntimeError(f"{arguments} left with {os.waitstatus_to_exitcode(status)}")
    return usage.ru_utime + usage.ru_stime


def least(*processes: list[str]) -> list[float]:
    """The least of each, taken in turns so that noise falls on all alike; modules are compiled before."""
    with tempfile.TemporaryDirectory() as folder:
        environment = compiled(folder)
        for arguments in processes:
            once(arguments, environment)
        rounds = [[once(arguments, environment) for arguments in processes] for _ in range(ROUNDS)]
    return [min(column) for column in zip(*rounds, strict=True)]


def main() -> int:
    """Measure each page in turns with the import, print a line each, say by the exit code if all holds."""
    with tempfile.TemporaryDirectory() as folder:
        files = {name: Path(folder, f"{number}.html") for number, name in enumerate(PAGES)}
        commands = [
            ["-m", "blendwise.cli.main", *words, "--out" if name == "sheet" else "--page", str(files[name])]
            for name, words in PAGES.items()
        ]
        pandas, *taken = least(PANDAS, *commands)
        sizes = [file.stat().st_size for file in files.values()]
    held = True
    for name, seconds, size in zip(PAGES, taken, sizes, strict=True):
        good = seconds <= MOST_RATIO * pandas and size <= MOST_BYTES
        held = held and good
        told = f"{name}: {seconds / pandas:.2f} × import pandas, at most {MOST_RATIO:g}; {size / 1000:.0f} KB"
        print(f"{told}: {'holds' if good else 'MISSED'}")
    print(f"import pandas: {pandas:.3f} s")
    return 0 if held else 1


if __name__ == "__main__":
    sys.exit(main())
