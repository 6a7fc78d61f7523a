"""The table beside this file: all 38 questions, the commands that answer them, and whether tests ask."""

from __future__ import annotations

import ast
import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from blendwise.cli.commands import COMMANDS

ROW = re.compile(r"\| (\d+) \| ([^|]+) \| ([^|]+) \|")


def rows() -> dict[int, list[str]]:
    """Number → commands."""
    text = Path(__file__).with_name("README.md").read_text("utf-8")
    return {int(number): re.findall(r"`([^`]+)`", commands) for number, _, commands in ROW.findall(text)}


def asked() -> dict[int, set[str]]:
    """Number → every word that its tests, and the functions of their file which they call, type."""
    found: dict[int, set[str]] = {}
    for path in Path(__file__).parent.glob("test_questions_*.py"):
        nodes = ast.parse(path.read_text("utf-8")).body
        functions = {node.name: node for node in nodes if isinstance(node, ast.FunctionDef)}
        for name in functions:
            number = re.match(r"test_(\d+)_", name)
            if number is not None:
                found.setdefault(int(number[1]), set()).update(typed(name, functions))
    return found


def typed(name: str, functions: Mapping[str, ast.FunctionDef]) -> set[str]:
    """The texts in a function, and in those of its file that it names."""
    inside = list(ast.walk(functions[name]))
    texts = {node.value for node in inside if isinstance(node, ast.Constant) and isinstance(node.value, str)}
    named = {node.id for node in inside if isinstance(node, ast.Name)} & set(functions) - {name}
    return texts.union(*(typed(other, functions) for other in named))


def test_all_questions_stand_in_the_table() -> None:
    """The table has the 38 questions in order, each once."""
    assert list(range(1, 39)) == list(rows())


def test_no_test_asks_a_question_that_is_not_in_the_table() -> None:
    """Every numbered test belongs to a row, and every row has one."""
    assert set(rows()) == set(asked())


@pytest.mark.parametrize("number", range(1, 39))
def test_a_row_names_its_commands_and_its_tests_run_the_first(number: int) -> None:
    """Each row names commands that there are, and tests of that very question run the first."""
    commands = rows()[number]
    assert commands
    assert [] == [command for command in commands if command not in {each.name for each in COMMANDS}]
    assert commands[0] in asked()[number]
