"""What was expected beside what was seen."""

from __future__ import annotations

import pytest

from blendwise.beliefs.expected import Unit, compared
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.notebook import NoteRow, Poured, Seen


@pytest.mark.parametrize(
    ("expected", "seen", "verdict"),
    [
        ("7 min", Seen(minutes=(14.0, 14.0)), "as expected"),
        ("7 min", Seen(fluid_at=20.0), "as expected"),
        ("7 min", Seen(minutes=(4.0, 4.0)), "sooner"),
        ("7 to 9 min", Seen(minutes=(14.0, 14.0)), "longer"),
        ("7 to 9 min", Seen(minutes=(8.0, 8.0)), "as expected"),
    ],
)
def test_one_figure_alone_is_the_least_that_is_promised(expected: str, seen: Seen, verdict: str) -> None:
    """Fluid for longer than one figure keeps the promise; past a range it is longer; before it, sooner."""
    poured = Poured(predictions={"milk": {"minutes fluid": expected}})
    look = NoteRow("n", "n.yaml", "p", "at the pot", "2026-10-01", portions={"milk": seen})
    unit = Unit(Batch("b", "p", "2026-10-01", (look,)), None, "milk", poured, None, ((look, seen),))
    assert [verdict] == [found.verdict for found in compared(unit, {})]
