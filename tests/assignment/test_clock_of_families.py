"""The clock's rows: of the rule that the pour's family asks, at the end of doubt that it wants."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise import Book
from blendwise.assignment.problem.rules import Compiler
from blendwise.records.as_of import AsOf
from tests.assignment.test_both_sides import BOOK, PLANS, TODAY

ROOT = Path(__file__).resolve().parents[2]
RULES = {"interleaved": "pour-outruns-the-batter", "sequential": "layer-thick-before-its-pour"}


DESIGNS = Book(ROOT / "tests" / "designs" / "book")


def clock_of(plan: str, on: AsOf, book: Book = BOOK) -> Compiler:
    """A plan's rules of the clock, compiled."""
    compiler = Compiler(book.situation(plan, on))
    for rule in book.rulebook.rules:
        if rule.name in RULES.values():
            compiler.take(rule)
    return compiler


@pytest.mark.parametrize(
    ("plan", "family"), [("greenhouse-morning", "interleaved"), ("three-flat-layers", "sequential")]
)
def test_only_the_familys_own_rule_is_compiled(plan: str, family: str) -> None:
    """Two rules ask the same of two families: the other family's neither binds nor weighs."""
    book = BOOK if plan in PLANS else DESIGNS
    compiler = clock_of(plan, AsOf(TODAY), book)
    found = compiler.found
    named = {row.name.split(" ")[0] for row in found.rows} | ({found.slots.name} if found.slots else set())
    assert named
    assert all(RULES[family] in name for name in named), named


def test_with_care_the_clock_binds_at_the_harsh_end() -> None:
    """The same pour bears less quickening where what is within doubt counts as broken."""
    plain, careful = (
        clock_of("greenhouse-morning", on).found.slots for on in (AsOf(TODAY), AsOf(TODAY, careful=True))
    )
    assert plain is not None
    assert careful is not None
    assert (careful.caps < plain.caps).all()
    assert (careful.pace >= plain.pace).all()
