"""Colours, minutes and the cut bar on a terminal: true hues where there are any, words everywhere."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.answers.check.result import CheckResult
from blendwise.records.as_of import AsOf
from blendwise.show.check.brief import brief_blocks
from blendwise.show.check.drawing import drawing_blocks
from blendwise.show.plain import plain
from blendwise.show.terminal import terminal

DEMO = Path(__file__).resolve().parents[2] / "demo_catalog"
HUE = re.compile(r"\x1b\[[\d;]*(?:38|48);")


@pytest.fixture(scope="module")
def check() -> CheckResult:
    """A plan of three cups whose pour runs out of time."""
    return Book(DEMO).check("lilac-feathers", on=AsOf(date(2026, 11, 28)))


def shown(check: CheckResult, columns: int, capsys: pytest.CaptureFixture[str]) -> str:
    """What the drawing looks like in a window."""
    terminal(list(drawing_blocks(check.drawn)), columns)
    return capsys.readouterr().out


CUP = """
from blendwise.answers.check.drawn import Cup, Drawn
from blendwise.show.check.drawing import drawing_blocks
from blendwise.show.terminal import terminal
cup = Cup("milk", 1.0, "#f4f0e6", "white", "#d2b48c", ("tan",), 6.0, 12.0, 20.5)
terminal(list(drawing_blocks(Drawn((cup,), None, None, None))), 90)
"""


@pytest.mark.parametrize(("colours", "code"), [("truecolor", "38;2;"), ("", "38;5;")])
def test_each_cup_has_its_swatches(colours: str, code: str) -> None:
    """In the hues of the terminal, its word beside each; a process of its own, for Rich keeps its first."""
    env = {**os.environ, "FORCE_COLOR": "1", "COLORTERM": colours, "TERM": "xterm-256color"}
    env |= {"PYTHONPATH": str(DEMO.parent), "PYTHONIOENCODING": "utf-8"}
    env.pop("NO_COLOR", None)
    text = subprocess.run(
        [sys.executable, "-c", CUP], env=env, capture_output=True, check=True
    ).stdout.decode()
    assert text.count(code) >= 2
    assert re.search(r"white.* cures to .*tan.*thick at 20 min", text)


def test_without_colour_the_words_and_minutes_stay(
    check: CheckResult, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """NO_COLOR sends no hue; the minute at which each cup is thick is rounded down."""
    monkeypatch.setenv("FORCE_COLOR", "1")
    monkeypatch.setenv("NO_COLOR", "1")
    text = shown(check, 100, capsys)
    assert not HUE.search(text)
    assert check.drawn is not None
    for cup in check.drawn.cups:
        assert cup.thick_at is not None
        assert f"thick at {int(cup.thick_at)} min" in text
        assert re.search(rf"{cup.portion} .*{cup.fresh_word}", text)


@pytest.mark.parametrize("columns", [40, 60, 80])
def test_a_narrow_window_gets_fewer_parts(
    columns: int, check: CheckResult, capsys: pytest.CaptureFixture[str]
) -> None:
    """No line is cut or runs over."""
    for line in shown(check, columns, capsys).splitlines():
        assert len(re.sub(r"\x1b\[[\d;]*m", "", line)) <= columns


def test_plain_text_has_no_drawing(check: CheckResult) -> None:
    """Pipes and screen readers get words."""
    assert "\u2588" not in plain(brief_blocks(check), 80)
    assert plain(list(drawing_blocks(check.drawn)), 80).strip() == ""
