"""Start-up in ratios, measured in one run: what a maker waits for before the first line of advice.

Run it by hand: ``python tests/bench/startup.py``.  It exits 1 where a ratio or the memory is missed.

* ``blendwise check`` on a demo plan, cold process, at most 1.2 × ``python -c "import pandas"``, under 120 MB;
* ``blendwise --help`` at most 2.5 × ``python -c "import typer"``.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PLAN = str(ROOT / "demo_catalog" / "plans" / "greenhouse-morning.yaml")
ROUNDS = 9
MOST_CHECK, MOST_HELP, MOST_MEGABYTES = 1.2, 2.5, 120.0

PANDAS = ["-c", "import pandas"]
TYPER = ["-c", "import typer"]
CHECK = ["-m", "blendwise.cli.main", "check", PLAN]
HELP = ["-m", "blendwise.cli.main", "--help"]


def compiled(folder: str) -> dict[str, str]:
    """The environment of an installed package: modules are compiled once, here into a folder of our own."""
    own = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return {**own, "PYTHONPYCACHEPREFIX": folder}


def once(arguments: list[str], environment: dict[str, str]) -> tuple[float, float]:
    """Wall seconds and peak megabytes of one cold process; RuntimeError where it failed."""
    started = time.perf_counter()
    child = subprocess.Popen(
        [sys.executable, *arguments], cwd=ROOT, env=environment, stdout=subprocess.DEVNULL
    )
    _, status, usage = os.wait4(child.pid, 0)
    taken = time.perf_counter() - started
    if os.waitstatus_to_exitcode(status) not in (0, 1):
        raise RuntimeError(f"{arguments} left with {os.waitstatus_to_exitcode(status)}")
    return taken, usage.ru_maxrss / (1024 if sys.platform != "darwin" else 1024 * 1024)


def best(*processes: list[str]) -> list[tuple[float, float]]:
    """The least seconds and the most megabytes of each, taken in turns so that noise falls on all alike."""
    with tempfile.TemporaryDirectory() as folder:
        environment = compiled(folder)
        for arguments in processes:
            once(arguments, environment)
        rounds = [[once(arguments, environment) for arguments in processes] for _ in range(ROUNDS)]
    return [
        (min(taken for taken, _ in column), max(size for _, size in column))
        for column in zip(*rounds, strict=True)
    ]


def main() -> int:
    """Measure, print a line each, and say by the exit code whether all of it holds."""
    (check, megabytes), (pandas, _), (helped, _), (typer, _) = best(CHECK, PANDAS, HELP, TYPER)
    lines = [
        ("check / import pandas", check / pandas, MOST_CHECK),
        ("--help / import typer", helped / typer, MOST_HELP),
        ("check, megabytes", megabytes, MOST_MEGABYTES),
    ]
    for name, value, most in lines:
        print(f"{name}: {value:.2f}, at most {most:g}: {'holds' if value <= most else 'MISSED'}")
    seconds = {"check": check, "import pandas": pandas, "--help": helped, "import typer": typer}
    print(f"best of {ROUNDS}:", ", ".join(f"{name} {taken:.3f} s" for name, taken in seconds.items()))
    return 0 if all(value <= most for _, value, most in lines) else 1


if __name__ == "__main__":
    sys.exit(main())
