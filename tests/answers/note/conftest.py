"""What the tests of notes share: books of their own, and real commands in real processes."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[3]
TODAY = "2026-11-25"


@dataclass(frozen=True)
class Ran:
    """What one process gave."""

    code: int
    out: str
    err: str

    @property
    def flat(self) -> str:
        """Standard output with its lines joined."""
        return " ".join(self.out.split())


Blendwise = Callable[..., Ran]


@pytest.fixture
def blendwise(tmp_path: Path) -> Blendwise:
    """Run the real command in a process of its own, with a cache folder of its own, on one fixed day."""

    def run(*args: str, cwd: Path | None = None, today: str = TODAY, **env: str) -> Ran:
        environment = {**os.environ, "XDG_CACHE_HOME": str(tmp_path / "cache"), "COLUMNS": "100", **env}
        command = [sys.executable, "-m", "blendwise.cli.main", *args, *(["--today", today] if today else [])]
        done = subprocess.run(command, capture_output=True, text=True, env=environment, cwd=cwd or ROOT)
        return Ran(done.returncode, done.stdout, done.stderr)

    return run


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    """A copy of the demo book that a test may write to."""
    book = tmp_path / "book"
    shutil.copytree(ROOT / "demo_catalog", book, ignore=shutil.ignore_patterns("rules"))
    (book / "rules").mkdir()
    return book


@pytest.fixture
def empty(demo: Path) -> Path:
    """The demo book without a note."""
    shutil.rmtree(demo / "notes")
    return demo
