"""The bytes of many answers, as another hash seed, locale, time zone or number of processors gives them."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[2]
DAY: Final = ("--today", "2026-11-28")
DEMO: Final = ("--book", "demo_catalog")
SHORT: Final = (
    ("check", "demo_catalog/plans/greenhouse-morning.yaml", "--more", *DAY),
    ("pair", "tonka-milk", "lime", "--more", *DEMO, *DAY),
    ("review", *DEMO, *DAY),
)
LONG: Final = (
    *SHORT,
    ("check", "demo_catalog/plans/honey-crown.yaml", "--json", *DAY),
    ("doctor", *DEMO, "--json", *DAY),
    ("assign", "demo_catalog/plans/greenhouse-morning.yaml", "--more", *DAY),
    ("assign", "demo_catalog/plans/market-day.yaml", "--json", *DAY),
    ("sheet", "demo_catalog/plans/harbour-morning.yaml", "--out", "-", *DAY),
    ("label", "demo_catalog/plans/greenhouse-morning.yaml", *DAY),
    ("pair", "tonka-milk", "--with-all", *DEMO, *DAY),
    ("again", "greenhouse-morning", "--variation", "deep", "--bars", "20", *DEMO, *DAY),
    ("scents", "import", "demo_catalog/bottles.csv", "--json", *DEMO, *DAY),
    ("rules", "test", *DEMO),
    ("cup", "tonka-milk", *DEMO, *DAY),
    ("ask", "will tonka-milk turn my soap brown", *DEMO, *DAY),
    ("schema", "check"),
)
PRINTS: Final = """
import contextlib, hashlib, io, json, os, sys
if os.environ.get("ONE_PROCESSOR") and hasattr(os, "sched_setaffinity"):
    os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})
from blendwise.cli.main import main
told = []
for words in json.loads(sys.argv[1]):
    out = io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(out):
        code = main(words)
    told.append([code, hashlib.sha256(out.getvalue().encode()).hexdigest()])
print(json.dumps(told))
"""
Answers = list[list[object]]


def answers(lines: tuple[tuple[str, ...], ...], environment: Mapping[str, str], python: str = "") -> Answers:
    """Of each command line its exit code and a digest of what it says, in a new process without a cache."""
    given = {**os.environ, "PYTHONPATH": str(ROOT), "BLENDWISE_NO_CACHE": "1", **environment}
    done = subprocess.run(
        [python or sys.executable, "-c", PRINTS, json.dumps(lines)],
        cwd=ROOT, env=given, capture_output=True, text=True, encoding="utf-8", check=True,
    )  # fmt: skip
    told: Answers = json.loads(done.stdout)
    return told


ELSEWHERE: Final[tuple[dict[str, str], ...]] = (
    {"PYTHONHASHSEED": "1", "LC_ALL": "C", "LANG": "C", "TZ": "Pacific/Kiritimati", "ONE_PROCESSOR": "1"},
)
MANY: Final[tuple[dict[str, str], ...]] = tuple(
    {"PYTHONHASHSEED": str(seed), "LC_ALL": locale, "TZ": zone, "ONE_PROCESSOR": one}
    for seed, (locale, zone, one) in enumerate(
        (locale, zone, one)
        for locale in ("C", "C.UTF-8", "de_DE.UTF-8", "tr_TR.UTF-8")
        for zone in ("UTC", "Asia/Kathmandu", "Pacific/Kiritimati", "America/Anchorage")
        for one in ("", "1")
    )
)
"""Where a system has no such locale it falls back to C; the hash seed is another each time."""


def differences(lines: tuple[tuple[str, ...], ...], many: tuple[dict[str, str], ...]) -> list[str]:
    """Each answer that is not, byte for byte, the one under hash seed 0."""
    first = answers(lines, {"PYTHONHASHSEED": "0"})
    told = [(where, answers(lines, where)) for where in many]
    return [
        f"{' '.join(line)} under {where}"
        for where, found in told
        for line, before, after in zip(lines, first, found, strict=True)
        if before != after
    ]
