"""What the tool believes of each oil: numbers only, each an interval with who says so.

Before any note is read, a belief is the best-ranked statement in the catalogue.  Words become numbers
by the rulebook's scales; what is not written down stays an open interval, never zero.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from blendwise.beliefs.browners import browning_content, cast_content, is_tagged
from blendwise.beliefs.lessons import Grains
from blendwise.records.kinds.scales import Scales
from blendwise.records.kinds.scent import RICING_WORDS, AccelerationWord, Band, RicingWord, Scent

USUAL_DOSE = 0.04  # common practice: 4 % of oils, the reference where a note names no dose
MOST_USUAL_DOSE = 0.0625  # common practice: 1 oz ppo, beyond which it is more scent than is usual
USUAL_BATTER_TO_OILS = 1.424  # derived: 33 % lye concentration, lye 14 % of oils
# What another lot showed stands a rank below what this bottle's did.
RANK = {
    "own batch": 3,
    "own batch of another lot": 2,
    "own cup": 2,
    "own cup of another lot": 1,
    "supplier": 1,
    "hearsay": 0,
}
# How far a reading of vanillin as a colour may be off, as a factor on the load either way.  Judgement on
# common practice: makers' tables of bottle content and colour agree to about half a band (e to the 0.35).
READING_DOUBT = 1.4
# Words of one rank that are further apart than this factor contradict each other: judgement, a band and more.
FAR_APART = 3.0
TAGGED_BAND: Band = "beige"  # what an oil that is only tagged a browner reaches at a usual dose: judgement
CUP_DOUBT = 1.25  # either way: how far two cups of one oil, measured on one day, differ (judgement)
THINS_BELOW = 0.9  # a factor below this is told as thinning: judgement
SPEED_WORDS: tuple[AccelerationWord, ...] = ("none", "slight", "moderate", "fast", "seizes")
Gate = Literal["no", "yes", "unknown"]


@dataclass(frozen=True, slots=True)
class Belief:
    """An interval ``[low, high]`` with its evidence and the statement's own dose (g per g of oils).

    ``least``, ``most``: how far judgement doubts it; not a number where it does not.
    """

    low: float
    high: float
    evidence: str = ""
    dose: float = np.nan
    least: float = np.nan
    most: float = np.nan

    @property
    def ends(self) -> tuple[float, float]:
        """``low`` and ``high`` with judgement's own doubt, where it has any."""
        return min(self.low, self.least), max(self.high, self.most)  # the first where the other is no number

    @property
    def known(self) -> bool:
        return bool(np.isfinite(self.high))


@dataclass(frozen=True, slots=True)
class Traits:
    """What is believed of one oil.

    ``speed``: thickening factor f at its own dose (1 is an unscented cup; below 1 it thins), with its word.
    ``browner``: effective vanillin-like content, g per g of the oil.  ``missing_browner``: names of the
    facts that would close an open interval.  ``strength``: the word for what is left after six weeks.
    ``yellow``, ``pink``: what of it turns soap so (g per g of the oil); none where own looks saw white.
    """

    name: str
    speed: Belief
    seizes: Gate
    browner: Belief
    missing_browner: tuple[str, ...]
    seen_browning: bool
    speed_word: str | None = None
    strength: str | None = None
    strength_evidence: str = ""
    yellow: float = 0.0
    pink: float = 0.0


def traits_of(scent: Scent, scales: Scales, usual_dose: float, batter_to_oils: float) -> Traits:
    """Believe the catalogue.  ``usual_dose``: the reference dose (g per g of oils) where none is written."""
    browner, missing = _browner(scent, scales, usual_dose, batter_to_oils)
    speed = _speed(scent, scales, usual_dose)
    return Traits(
        scent.name,
        speed,
        _seizes(scent),
        browner,
        missing,
        scent.browns_to is not None,
        _speed_word(scent, speed, scales),
        scent.after_six_weeks,
        (scent.six_weeks.evidence if scent.six_weeks else None) or scent.evidence or "",
        *(0.0 if _stayed_white(scent) else cast_content(scent, family) for family in ("yellow", "pink")),
    )


def _stayed_white(scent: Scent) -> bool:
    """Whether a look of one's own saw it leave soap as white as it was."""
    seen = scent.browns_to
    own = seen is not None and (seen.evidence or scent.evidence) in ("own batch", "own cup")
    return own and seen is not None and seen.band == "ivory"


def _speed(scent: Scent, scales: Scales, usual_dose: float) -> Belief:
    stated = scent.acceleration
    if stated is None:
        return Belief(1.0, np.inf)
    dose = stated.at.value if stated.at is not None else usual_dose
    evidence = stated.evidence or scent.evidence or ""
    if stated.measured is not None:
        least, middle, most = stated.measured
        return Belief(middle, middle, evidence, dose, least / CUP_DOUBT, most * CUP_DOUBT)
    assert stated.word is not None
    factor = scales.acceleration[stated.word].factor
    return Belief(factor.mid, factor.mid, evidence, dose, factor.low, factor.high)


def _seizes(scent: Scent) -> Gate:
    if scent.acceleration is None:
        return "unknown"
    return "yes" if scent.acceleration.word == "seizes" else "no"


def _speed_word(scent: Scent, speed: Belief, scales: Scales) -> str | None:
    stated = scent.acceleration
    if stated is None or stated.word is not None:
        return None if stated is None else stated.word
    return speed_word(scales, speed.low)


def speed_word(scales: Scales, factor: float, *, at_once: bool = False) -> str:
    """The word of the acceleration scale in whose range a factor lies.

    ``at_once``: it was seen solid within a minute.  Without that no factor says that it seizes.
    """
    if at_once:
        return SPEED_WORDS[-1]
    if factor < THINS_BELOW:
        return "thins"
    reached = [w for w in SPEED_WORDS[:-1] if factor >= scales.acceleration[w].factor.low * (1 - 1e-9)]
    return reached[-1] if reached else SPEED_WORDS[0]


def _browner(
    scent: Scent, scales: Scales, usual_dose: float, batter_to_oils: float
) -> tuple[Belief, tuple[str, ...]]:
    """Seen outranks computed, unless the statement that it is computed from is better ranked."""
    stated, missing = _stated_browners(scent)
    computed = _tagged(scent, stated, missing, scales, usual_dose, batter_to_oils)
    seen = scent.browns_to
    if seen is None:
        return computed, missing
    evidence = seen.evidence or scent.evidence or ""
    if computed.known and RANK.get(evidence, 0) < RANK.get(computed.evidence, 0):
        return computed, missing
    dose = seen.at.value if seen.at is not None else usual_dose
    per_load = (batter_to_oils + dose) / dose
    content = typical_load(scales, seen.band) * per_load
    if _against_each_other(scent, computed.low, content) and not missing:
        return computed, ()
    own = RANK.get(evidence, 0) >= RANK["own cup"]
    least, most = (end * per_load for end in band_ends(scales, seen.band, 1.0 if own else READING_DOUBT))
    return Belief(content, content, evidence, dose, least, most), ()


def _against_each_other(scent: Scent, computed: float, seen: float) -> bool:
    """Whether a colour that was seen is far below what the same hand states as content: the worse counts."""
    said = (scent.browns_to.evidence if scent.browns_to else None) or scent.evidence or ""
    return RANK.get(said, 0) <= RANK["supplier"] and computed > FAR_APART * seen


def _stated_browners(scent: Scent) -> tuple[Belief, tuple[str, ...]]:
    """What is stated to brown in an oil; a stated figure is doubted as far as it is read as a colour."""
    certain, missing = browning_content(scent)
    high = np.inf if missing else certain
    return Belief(
        certain, high, scent.evidence or "", np.nan, certain / READING_DOUBT, high * READING_DOUBT
    ), missing


def _tagged(
    scent: Scent, stated: Belief, missing: tuple[str, ...], scales: Scales, dose: float, batter_to_oils: float
) -> Belief:
    """An oil that its own tags call a browner browns at least to beige; a stated figure of more counts."""
    least = typical_load(scales, TAGGED_BAND) * (batter_to_oils + dose) / dose
    if not is_tagged(scent) or stated.low >= least:
        return stated
    high = np.inf if missing else least
    return Belief(least, high, "hearsay", np.nan, least / READING_DOUBT, high * READING_DOUBT)


def band_ends(scales: Scales, band: str, factor: float) -> tuple[float, float]:
    """The least and the most load that a band was seen at, each so many times further off; above the last
    edge as far as below its typical load."""
    words = [step.word for step in scales.bands]
    edges = [step.up_to.high for step in scales.bands if step.up_to is not None]
    index = words.index(band)  # type: ignore[arg-type]
    least = edges[index - 1] if index else 0.0
    most = edges[index] if index < len(edges) else typical_load(scales, band) ** 2 / least
    return least / factor, most * factor


def typical_load(scales: Scales, band: str) -> float:
    """The load (fraction of portion batter) that stands for a band: its geometric middle.

    The first band has no lower edge and the last no upper one: half of, and a quarter above, the edge.
    """
    words = [step.word for step in scales.bands]
    edges = [step.up_to.high for step in scales.bands if step.up_to is not None]
    index = words.index(band)  # type: ignore[arg-type]
    if index == 0:
        return 0.5 * edges[0]
    return 1.25 * edges[-1] if index == len(edges) else float(np.sqrt(edges[index - 1] * edges[index]))


def ricing_of(scent: Scent, seen: Grains | None) -> tuple[RicingWord | None, str]:
    """Whether an oil rices, and on whose word: the better evidence counts, of equals the worse word."""
    said, evidence = scent.ricing, scent.evidence or ""
    if seen is None:
        return said, evidence
    if said is None or RANK[seen.evidence] > RANK.get(evidence, 0):
        return seen.word, seen.evidence
    worse = RANK[seen.evidence] == RANK.get(evidence, 0) and RICING_WORDS.index(
        seen.word
    ) > RICING_WORDS.index(said)
    return (seen.word, seen.evidence) if worse else (said, evidence)
