"""The README says what is so: its commands are two, and its screens are what is printed."""

from __future__ import annotations

import re

from tests.readme import README, SCREEN, fresh

TEXT = README.read_text("utf-8")


def test_the_screens_are_what_is_printed() -> None:
    """Every screen in the README is the command's own output (``python -m tests.readme`` renews them)."""
    assert len(SCREEN.findall(TEXT)) >= 2
    assert fresh(TEXT) == TEXT


def test_the_two_commands_are_whole() -> None:
    """Two fenced commands, each from a fresh environment on: one for the job, one for the tests."""
    job, tests = re.findall(r"```sh\n(.*?)\n```", TEXT, re.DOTALL)
    for command in (job, tests):
        assert command.startswith("python3 -m venv .venv && . .venv/bin/activate && pip install ")
    assert "&& blendwise " in job
    assert tests.endswith("&& pytest")


def test_the_cautions_are_there() -> None:
    """Lye, limits, vapours and local rules stand in the README, and what the advice is not."""
    for part in (
        "Lye and raw batter burn",
        "Limits protect skin",
        "Local rules differ",
        "not legal, medical or safety",
    ):
        assert part in TEXT
