"""What was expected beside what was seen."""

from __future__ import annotations

import pytest

from blendwise.beliefs.expected import Unit, compared, trouble
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


def _looked(*seen: tuple[str, Seen], expected: str = "") -> Unit:
    """A portion of a batch poured on the first of May, with looks on days of the year after."""
    looks = tuple(
        (NoteRow(on, f"{on}.yaml", "p", "later", on, portions={"milk": said}), said) for on, said in seen
    )
    poured = Poured(predictions={"milk": {"browning band": expected}})
    pot = NoteRow("pot", "pot.yaml", "p", "at the pot", "2026-05-01")
    return Unit(
        Batch("b", "p", "2026-05-01", (pot, *(look for look, _ in looks))), None, "milk", poured, None, looks
    )


@pytest.mark.parametrize(
    ("looks", "verdict"),
    [
        ([("2026-06-12", "tan"), ("2026-11-01", "brown")], "as expected"),  # week 6 is what was foretold
        ([("2026-06-12", "brown"), ("2026-11-01", "brown")], "darker"),
        ([("2026-11-01", "brown")], "as expected"),  # a band more at six months is drift
        ([("2026-11-01", "chocolate")], "darker"),
        ([("2026-11-01", "cream")], "lighter"),
        ([("2026-05-03", "brown"), ("2026-06-12", "tan")], "as expected"),
        ([("2026-05-03", "brown")], "darker"),  # and browning does not go back
    ],
)
def test_a_colour_is_held_against_the_band_foretold_for_week_six(
    looks: list[tuple[str, str]], verdict: str
) -> None:
    """The last look within its reach counts; at six months one band more is what browning drifts by."""
    unit = _looked(*((on, Seen(colour=band)) for on, band in looks), expected="beige to tan")
    assert [verdict] == [found.verdict for found in compared(unit, {})]


def test_a_slight_trouble_is_none_where_only_bad_ones_are_asked() -> None:
    """What shows a little does not stand before what spoils; where nobody looked it stays not known."""
    slight, bad = _looked(("2026-05-01", Seen(ricing="slight"))), _looked(("2026-05-01", Seen(ricing="bad")))
    assert (True, False) == (trouble(slight, "riced", {}), trouble(slight, "riced", {}, badly=True))
    assert trouble(bad, "riced", {}, badly=True)
    assert trouble(slight, "ash", {}, badly=True) is None
