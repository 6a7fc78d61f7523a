"""The table in DEVELOPERS.md: all 38 questions, the commands that answer them, and the tests that ask."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from blendwise.cli.commands import COMMANDS
from tests.questions.conftest import ROOT

HEADING = "## Which command answers which question"
ROW = re.compile(r"\| (\d+) \| ([^|]+) \| ([^|]+) \| ([^|]+) \|")


def rows() -> dict[int, tuple[str, list[str], list[str]]]:
    """Number → question, commands, tests."""
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8").split(HEADING, 1)[1].split("\n## ", 1)[0]
    return {
        int(number): (question.strip(), re.findall(r"`([^`]+)`", commands), re.findall(r"`([^`]+)`", tests))
        for number, question, commands, tests in ROW.findall(text)
    }


def asked() -> dict[int, set[str]]:
    """Number → the names of the tests that ask it."""
    found: dict[int, set[str]] = {}
    for path in Path(__file__).parent.glob("test_questions_*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            number = re.match(r"test_(\d+)_", node.name) if isinstance(node, ast.FunctionDef) else None
            if number is not None and isinstance(node, ast.FunctionDef):
                found.setdefault(int(number[1]), set()).add(node.name)
    return found


def test_all_questions_stand_in_the_table() -> None:
    """The table has the 38 questions in order, each once."""
    assert list(range(1, 39)) == list(rows())


@pytest.mark.parametrize("number", range(1, 39))
def test_a_row_names_its_commands_and_its_tests(number: int) -> None:
    """Each row names commands that there are, and tests which ask that very question."""
    _, commands, tests = rows()[number]
    assert commands
    assert tests
    assert [] == [command for command in commands if command not in {each.name for each in COMMANDS}]
    assert set(tests) <= asked()[number]
