"""What the levers of a check cost: ``python tests/bench/lever_speed.py`` (ratios, least of several runs).

Cold processes beside ``import pandas``: a plan with a conflict, its best lever told, at most 1.5; with
``--more`` at most 20.  A sound plan is checked without loading the search at all (see ``startup.py``).
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench import startup

PLANS = startup.ROOT / "demo_catalog" / "plans"
BROKEN = ("greenhouse-morning", "clove-hearth", "market-day")
MOST_BEST, MOST_WHOLE = 1.5, 20.0


def main() -> int:
    """A line a ratio, and by the exit code whether all of it holds."""
    check = ["-m", "blendwise.cli.main", "check"]
    best = [[*check, str(PLANS / f"{name}.yaml")] for name in BROKEN]
    whole = [[*each, "--more"] for each in best]
    found = [seconds for seconds, _ in startup.best(startup.PANDAS, *best, *whole)]
    pandas, rest = found[0], found[1:]
    held = True
    for arguments, taken in zip([*best, *whole], rest, strict=True):
        most = MOST_WHOLE if "--more" in arguments else MOST_BEST
        held &= taken / pandas <= most
        print(f"{Path(arguments[3]).stem} {' '.join(arguments[4:])}: {taken / pandas:.2f}, at most {most:g}")
    print(f"import pandas {pandas:.3f} s; {'holds' if held else 'MISSED'}")
    return 0 if held else 1


if __name__ == "__main__":
    sys.exit(main())
