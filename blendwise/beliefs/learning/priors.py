"""Where belief begins: the catalogue's best-ranked statement gives the centre, its rank the width.

The widths are judgement: how far makers who quote such a statement are found to disagree.
"""

from __future__ import annotations

import math
from typing import Final

from blendwise.beliefs.traits import Traits, typical_load
from blendwise.records.kinds.scales import Scales
from blendwise.records.kinds.scent import SHARE_LEFT, Scent

# Standard deviations by rank of the evidence: log of the factor, log of the content, fraction left.
SPEED_WIDTH: Final = {"own batch": 0.2, "own cup": 0.3, "supplier": 0.45, "hearsay": 0.6}
BROWNING_WIDTH: Final = {"own batch": 0.25, "own cup": 0.35, "supplier": 0.6, "hearsay": 0.9}
REMAINS_WIDTH: Final = {"own batch": 0.1, "own cup": 0.15, "supplier": 0.25, "hearsay": 0.35}
# Where nobody has said anything: centre and width.
SPEED_UNSAID: Final = (math.log(1.5), 0.8)
BROWNING_UNSAID: Final = (math.log(0.005), 1.8)
REMAINS_UNSAID: Final = (0.5, 0.4)
# What a word of strength stands for where the rulebook's scale does not say.
STRENGTH_UNSAID: Final = dict[str, float](SHARE_LEFT.items())
# "Ivory" and "no vanillin" say only "not more than this": so much is added to the width.
OPEN_BELOW: Final = 0.6
# How far one lot departs from another of the same oil.
SPEED_LOT, BROWNING_LOT, REMAINS_LOT = 0.1, 0.25, 0.08
LEAST_OF_IVORY: Final = 0.2  # the smallest load that counts at all, as a part of ivory's upper edge

Centre = tuple[float, float]


def _width(table: dict[str, float], evidence: str) -> float:
    return table.get(evidence, table["hearsay"])


def speed_prior(traits: Traits) -> Centre:
    """Mean and standard deviation of log factor at the entry's own dose."""
    if not traits.speed.known:
        return SPEED_UNSAID
    return math.log(traits.speed.low), _width(SPEED_WIDTH, traits.speed.evidence)


def browning_prior(traits: Traits, scales: Scales, dose: float, batter_to_oils: float) -> Centre:
    """Mean and standard deviation of log content (g of browners per g of oil)."""
    least = least_content(scales, dose, batter_to_oils)
    content = traits.browner.low
    if not traits.browner.known:
        mean, width = BROWNING_UNSAID
        return max(mean, math.log(max(content, least))), width
    ivory = typical_load(scales, "ivory") * (batter_to_oils + dose) / dose
    added = OPEN_BELOW if content <= ivory * (1 + 1e-9) else 0.0
    return math.log(max(content, least)), _width(BROWNING_WIDTH, traits.browner.evidence) + added


def least_content(scales: Scales, dose: float, batter_to_oils: float) -> float:
    """The smallest content that is told from none."""
    edge = scales.bands[0].up_to
    assert edge is not None
    return LEAST_OF_IVORY * edge.high * (batter_to_oils + dose) / dose


def remains_prior(scent: Scent, scales: Scales) -> Centre:
    """Mean and standard deviation of the fraction that is left after six weeks."""
    said = scent.six_weeks
    if said is None:
        return REMAINS_UNSAID
    width = _width(REMAINS_WIDTH, said.evidence or scent.evidence or "")
    return said.left.mid if said.left is not None else word_value(scales, said.told), width


def word_value(scales: Scales, word: str) -> float:
    """The fraction that a word of strength stands for."""
    meaning = scales.strength[word].remains  # type: ignore[index]
    return STRENGTH_UNSAID[word] if meaning is None else meaning.value
