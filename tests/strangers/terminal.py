"""A stranger at a real terminal: what is asked, what is typed, and what stood on the screen."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path

import pexpect

from tests.strangers.books import TODAY

ROOT = Path(__file__).resolve().parents[2]
PROMPT = r"(?:\[[^\]]*\]|\?|\)|[a-z] *): $"
COLUMNS = 60
MOST_LINES = 2000
"""A question without a default is asked again at each Enter: beyond so many lines nobody answers it."""


def at_a_terminal(
    words: Sequence[str], folder: Path, answers: Mapping[str, Sequence[str]], columns: int = COLUMNS
) -> tuple[int, str]:
    """(exit code, everything on the screen) of a command; ``answers``: what a question holds → what is typed.

    The answers of a question are typed one after another; where there is none (left), Enter is pressed.
    """
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "TERM": "dumb", "COLUMNS": str(columns)}
    day = [] if words[0] == "rules" else ["--today", TODAY]
    command = ["-m", "blendwise", *words, "--plain", *day]
    child = pexpect.spawn(
        sys.executable, command, cwd=str(folder), env=environment, encoding="utf-8", timeout=60,
        dimensions=(40, columns),
    )  # fmt: skip
    left = {question: list(typed) for question, typed in answers.items()}
    screen = ""
    while child.expect([PROMPT, pexpect.EOF]) == 0:
        asked = f"{child.before}{child.after}"
        screen += asked
        assert screen.count("\n") < MOST_LINES, f"asked without end:\n{screen[-2000:]}"
        child.sendline(_typed(" ".join(asked.split()), left))
    screen += child.before or ""
    child.close()
    return child.exitstatus if child.exitstatus is not None else -1, screen


def _typed(asked: str, left: dict[str, list[str]]) -> str:
    """What the last of the questions that stand on the screen is answered."""
    held = [question for question, typed in left.items() if typed and question in asked]
    return left[max(held, key=asked.rfind)].pop(0) if held else ""
