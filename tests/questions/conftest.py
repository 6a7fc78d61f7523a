"""Asking the demo by command, as a maker would, and reading the answer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from blendwise.cli.main import main

ROOT = Path(__file__).resolve().parents[2]
PLANS = "demo_catalog/plans"


@dataclass(frozen=True)
class Answer:
    """What a command said: its exit code, standard output in one line, and standard error."""

    code: int
    text: str
    errors: str

    def between(self, start: str, end: str) -> str:
        """What stands between two texts (AssertionError where one of them is missing)."""
        assert start in self.text, self.text
        rest = self.text.split(start, 1)[1]
        assert end in rest, rest
        return rest.split(end, 1)[0]


Ask = Callable[..., Answer]


@pytest.fixture
def ask(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Ask:
    """Run ``blendwise`` beside the demo on a fixed day; lines are joined, so wrapping does not matter."""
    monkeypatch.chdir(ROOT)

    def once(*args: str, day: str = "2026-11-20") -> Answer:
        words = (*args, "--today", day) if day else args
        if words in _ASKED:
            return _ASKED[words]
        code = main(list(words))
        caught = capsys.readouterr()
        answer = Answer(code, " ".join(caught.out.split()), caught.err)
        if of_the_demo(words):
            _ASKED[words] = answer
        return answer

    return once


_ASKED: dict[tuple[str, ...], Answer] = {}
"""What was asked of the demo's own plans in this process: nothing here writes to them, so once is enough."""


def of_the_demo(words: tuple[str, ...]) -> bool:
    """Whether a command reads one of the demo's plans and writes nothing."""
    if words[0] not in ("check", "assign", "sheet") or not words[1].startswith(f"{PLANS}/"):
        return False
    return "--write" not in words and ("--out" not in words or words[words.index("--out") + 1] == "-")


def plan(name: str) -> str:
    """The file of a demo plan, as typed beside the demo."""
    return f"{PLANS}/{name}.yaml"
