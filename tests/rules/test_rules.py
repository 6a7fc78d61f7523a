"""The rules that ship: each proves itself on its own hits and misses, and the linter has nothing to say."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.facts.tables import vocabulary
from blendwise.judge.rulebook.layers import layered
from blendwise.judge.rulebook.lint import lint
from blendwise.judge.rulebook.selftest import Case, cases, run
from blendwise.records.kinds.rule import load_rule_files

ENTRIES = load_rule_files(Path(__file__).resolve().parents[2] / "rules")
BOOK = layered(ENTRIES, vocabulary())


@pytest.mark.parametrize("case", cases(BOOK.rules, vocabulary()), ids=lambda case: case.name)
def test_rule(case: Case) -> None:
    """A rule is broken on its hits, silent on its misses, and right at exactly its limit."""
    assert run(case).why == ""


def test_the_linter_has_nothing_to_say() -> None:
    """Every rule that ships is explained, proved, to the point, and in contradiction with no other."""
    assert [str(complaint.fault) for complaint in lint(ENTRIES, vocabulary())] == []


def test_the_starter_is_one_layer() -> None:
    """The shipped rules are all new names: nothing is replaced, adjusted or off."""
    assert BOOK.changes == ()
    assert len(BOOK.rules) == len(ENTRIES)
