"""What a person sees on a terminal, and what a pipe gets instead."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pexpect
import pytest

ROOT = Path(__file__).resolve().parents[2]
CHECK = ["-m", "blendwise.cli.main", "check", "demo_catalog/plans/milk-and-toffee.yaml"]


def on_a_terminal(*more: str, columns: int = 80, **environment: str) -> str:
    """The screen of a check run on a terminal of so many columns."""
    known = {name: value for name, value in os.environ.items() if name not in ("NO_COLOR", "COLUMNS")}
    child = pexpect.spawn(
        sys.executable,
        [*CHECK, *more],
        cwd=str(ROOT),
        env={**known, "TERM": "xterm-256color", **environment},
        dimensions=(50, columns),
        encoding="utf-8",
        timeout=60,
    )
    screen = child.read()
    child.close()
    assert 1 == child.exitstatus
    return str(screen)


def bare(screen: str) -> list[str]:
    """The lines of a screen without its styles."""
    return [re.sub(r"\x1b\[[\d;]*m", "", line).rstrip() for line in screen.splitlines()]


def test_a_terminal_gets_tags_and_a_table() -> None:
    """On a terminal the level stands in a margin, styled, and the grams in a table."""
    screen = on_a_terminal(columns=100)
    assert "\x1b[" in screen
    assert any(line.startswith("conflict   milk would turn") for line in bare(screen))
    assert any(line.split()[:2] == ["portion", "batter"] for line in bare(screen))


def test_sixty_columns_are_enough() -> None:
    """Nothing runs over the edge of a narrow terminal."""
    assert max(map(len, bare(on_a_terminal(columns=60)))) <= 60


def test_plain_on_a_terminal_is_plain() -> None:
    """``--plain`` sends no style and draws no table, even to a terminal."""
    screen = on_a_terminal("--plain")
    assert "\x1b[" not in screen
    assert "Conflict: milk would turn" in screen


def test_no_color_is_heeded_on_a_terminal() -> None:
    """NO_COLOR leaves weight, but no hue."""
    assert "\x1b[1;35m" in on_a_terminal()
    assert "35m" not in on_a_terminal(NO_COLOR="1")


@pytest.mark.parametrize("more", [(), ("--json",)])
def test_a_pipe_gets_no_styles(more: tuple[str, ...]) -> None:
    """Through a pipe there is text or JSON and nothing else, and standard error is silent."""
    done = subprocess.run(
        [sys.executable, *CHECK, *more], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert (1, "") == (done.returncode, done.stderr)
    assert "\x1b" not in done.stdout


def test_a_rule_is_taught_in_a_conversation(tmp_path: Path) -> None:
    """What per cent is of, whether to keep it, and why are asked; then it stands in the book."""
    book = tmp_path / "book"
    shutil.copytree(ROOT / "demo_catalog", book)
    sentence = "not more than half a per cent of tonka-milk in white"
    child = pexpect.spawn(
        sys.executable,
        ["-m", "blendwise", "rules", "new", sentence, "--book", str(book)],
        cwd=str(ROOT),
        encoding="utf-8",
        timeout=60,
    )
    for asked, answer in (("Of what", "7"), ("Of what", "1"), ("Keep this rule", "y")):
        child.expect(asked)
        child.sendline(answer)
    child.expect("Why")
    child.sendline("It yellowed.")
    child.expect("Kept in rules/mine/said.yaml")
    child.expect(pexpect.EOF)
    child.close()
    assert 0 == child.exitstatus
    kept = (book / "rules" / "mine" / "said.yaml").read_text("utf-8")
    assert "at most 0.5 % of portion oils" in kept
    assert "because: It yellowed." in kept
