"""``rules show``: how a rule works for the solver, and its record in the notes."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.api import Book
from blendwise.show.plain import plain
from blendwise.show.rules.blocks import rule_blocks

BOOK = Book(Path(__file__).resolve().parents[2] / "demo_catalog")

KINDS = [
    ("browning-shows-in-light", "cap"),
    ("far-too-much-scent", "row"),
    ("local-dose-far-above-the-load", "either-or"),
    ("pour-outruns-the-batter", "clock"),
    ("amine-with-aldehyde", "closed cells"),
    ("lye-heavy-portion", "settled before"),
    ("contrast-thin", "afterwards"),
]


@pytest.mark.parametrize(("name", "kind"), KINDS)
def test_how_a_rule_compiles_is_told(name: str, kind: str) -> None:
    """Every kind of rule says how the assignment takes it."""
    found = BOOK.rule(name)
    assert found.rules[0].compiles == kind
    assert "In an assignment:" in plain(rule_blocks(found), 80)


def test_a_rule_tells_its_record_in_the_notes() -> None:
    """A rule that spoke over noted batches says how often it was right."""
    shown = BOOK.rule("pour-outruns-the-batter").to_json()["rules"][0]["record"]
    assert shown is not None
    assert shown["flagged_and_seen"] > 0
    assert "In your notes:" in plain(rule_blocks(BOOK.rule("pour-outruns-the-batter")), 80)
