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


def test_files_named_in_the_guide_are_there() -> None:
    """Every file that DEVELOPERS.md names is one of ours, by its path or by the end of it."""
    root = README.parent
    guide = (root / "DEVELOPERS.md").read_text("utf-8")
    named = set(re.findall(r"`((?:[\w.-]+/)*[\w-]+\.(?:py|txt|csv|md|toml))`", guide))
    ours = {f"/{path.relative_to(root).as_posix()}" for path in root.rglob("*.*") if path.is_file()}
    ends = {name for name in named if "NAME" not in name}
    assert len(ends) > 20
    assert [] == sorted(name for name in ends if not any(path.endswith(f"/{name}") for path in ours))
