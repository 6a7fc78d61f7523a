"""The browning band that a hex code tells, beside the colour that was planned."""

from __future__ import annotations

import math
from collections.abc import Sequence

from blendwise.beliefs.expected import Unit
from blendwise.beliefs.learning import hexes
from blendwise.beliefs.learning.evidence import HexLook
from blendwise.beliefs.learning.regression import AT_MOST
from blendwise.records.kinds.scales import Scales
from blendwise.science.browning import band_of


def hex_bands(units: Sequence[Unit], scales: Scales) -> dict[tuple[str, str], str]:
    """(note, portion) → band, for every hex code that says something of browning."""
    looks = [
        HexLook(
            0,
            unit.portion,
            seen.colour,
            unit.made.planned_colour,
            unit.made.covering or 1.0,
            True,
            {},
            look.note,
        )
        for unit in units
        if unit.made is not None and unit.made.planned_colour
        for look, seen in unit.looks
        if seen.colour and seen.colour.startswith("#")
    ]
    edges = [step.up_to.high for step in scales.bands if step.up_to is not None]
    words = [step.word for step in scales.bands]
    return {
        (row.note, row.portion): words[int(band_of(math.exp(row.value), edges))]
        for row in hexes.rows_of(looks)
        if row.side != AT_MOST
    }
