"""What the tests of notes share: books of their own, and real commands."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from zlib import crc32

import pytest

from tests.strangers.runs import apart, here

ROOT = Path(__file__).resolve().parents[3]
TODAY = "2026-11-25"


APART = 20
"""One test in so many runs its commands in processes of their own, chosen by the test's name."""


@dataclass(frozen=True)
class Ran:
    """What one command gave."""

    code: int
    out: str
    err: str

    @property
    def flat(self) -> str:
        """Standard output with its lines joined."""
        return " ".join(self.out.split())


Blendwise = Callable[..., Ran]


@pytest.fixture
def blendwise(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest) -> Blendwise:
    """Run the real command with its own cache folder, on a fixed day: here, or one test in twenty apart."""
    is_apart = crc32(request.node.name.encode()) % APART == 0

    def run(*args: str, cwd: Path | None = None, today: str = TODAY, **env: str) -> Ran:
        words = [*args, *(["--today", today] if today else [])]
        with monkeypatch.context() as patch:
            patch.chdir(cwd or ROOT)
            for name, value in {"XDG_CACHE_HOME": str(tmp_path / "cache"), "COLUMNS": "100", **env}.items():
                patch.setenv(name, value)
            told = apart(words, cwd or ROOT) if is_apart else here(words)
        return Ran(told.code, told.out, told.err)

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
