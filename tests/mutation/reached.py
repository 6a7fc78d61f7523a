"""Which test calls which function of the package: a pytest plugin that writes it to a file.

``BLENDWISE_REACHED=FILE pytest -p tests.mutation.reached …``; a line a test: seconds, and what it called.
"""

from __future__ import annotations

import json
import os
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from types import FrameType
from typing import Any

import pytest

PACKAGE = str(Path(__file__).resolve().parents[2] / "blendwise") + os.sep
CALLED: set[str] = set()
FAILED: set[str] = set()
_KNOWN: dict[Any, str | None] = {}


def _on(frame: FrameType, event: str, argument: object) -> None:
    code = frame.f_code
    if code not in _KNOWN:
        inside = code.co_filename.startswith(PACKAGE)
        name = f"{code.co_filename[len(PACKAGE) :]}:{code.co_qualname.split('.<locals>')[0]}"
        _KNOWN[code] = name if inside else None
    name_or_none = _KNOWN[code]
    if name_or_none:
        CALLED.add(name_or_none)


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    """A test that fails with nothing wrong is of no use: it would fail with any fault."""
    if report.failed:
        FAILED.add(report.nodeid)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    """Watch one test with its fixtures.  What a shared fixture called counts for every test of its file."""
    CALLED.clear()
    began = time.perf_counter()
    sys.settrace(_on)
    try:
        return (yield)
    finally:
        sys.settrace(None)
        line = [item.nodeid, round(time.perf_counter() - began, 3), sorted(CALLED)]
        if item.nodeid not in FAILED:
            with open(os.environ["BLENDWISE_REACHED"], "a", encoding="utf-8") as kept:
                kept.write(json.dumps(line) + "\n")
