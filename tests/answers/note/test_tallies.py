"""Ricing, ash and gel counted by oil, lot and temperature, the batch being the trial."""

from __future__ import annotations

from blendwise.answers.review.tallies import tallies_of
from blendwise.beliefs.expected import units_of
from blendwise.quantity.show import METRIC, ShownIn
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.notebook import NoteRow, Poured, PouredPortion, Seen
from blendwise.show.review.words import tally


def _batch(key: str, warm: float, lot: str, **ricing: str) -> Batch:
    """A batch of portions that each hold 4 g of fir in 100 g of oils."""
    seen = {portion: Seen(ricing=word) for portion, word in ricing.items()}
    frozen = Poured(
        doses={portion: {"fir": 4.0} for portion in seen},
        portions={portion: PouredPortion(100.0, 142.0) for portion in seen},
    )
    look = NoteRow(
        f"{key}-pot", "n.yaml", "p", "at the pot", "2026-05-01", portions=seen, lots={"fir": lot},
        batter_at_split=warm,
    )  # fmt: skip
    return Batch(key, "p", "2026-05-01", (look,), {None: frozen})


BATCHES = [
    _batch("A", 30.0, "L1", white="bad", blue="slight"),
    _batch("B", 32.0, "L1", white="none", blue="slight"),
    _batch("C", 40.0, "L1", white="none"),
    _batch("D", 30.0, "L2", white="none"),
]


def test_a_batch_counts_once_and_each_lot_by_itself() -> None:
    """Two portions of one batch are one trial; nobody looked for ash, so it is not there."""
    units = [unit for batch in BATCHES for unit in units_of(batch)]
    found = list(tallies_of(units, "fir"))
    assert [("riced", "L1", 2, 3), ("riced", "L2", 0, 1)] == [
        (each.kind, each.lot, each.came, each.of) for each in found
    ]
    assert ((30.0, 32.0), (40.0,)) == (found[0].warm_came, found[0].warm_stayed)
    assert [] == list(tallies_of(units, "lime"))


def test_a_tally_is_told_in_the_book_s_degrees() -> None:
    """The same sentence in degrees Celsius and Fahrenheit (30 °C is 86 °F, exactly)."""
    first = next(tallies_of([unit for batch in BATCHES for unit in units_of(batch)], "fir"))
    metric, imperial = tally(first, METRIC), tally(first, ShownIn(temperature="F"))
    assert "riced in 2 of 3 batches of lot L1; batter at 30 to 32 °C where it did" in metric
    assert "86 to 89.6 °F where it did, batter at 104 °F where it did not" in imperial
