"""What own looks change in the belief of an oil: the word before, the word now, and the counts behind it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from blendwise.beliefs.believe import (
    OWN,
    STRENGTH_WORDS,
    band_word,
    believed,
    strength_word,
)
from blendwise.beliefs.lessons import Belief, Learned
from blendwise.beliefs.traits import (
    SPEED_WORDS,
    USUAL_BATTER_TO_OILS,
    USUAL_DOSE,
    Traits,
    speed_word,
    traits_of,
)
from blendwise.records.kinds.scales import Scales
from blendwise.records.kinds.scent import BANDS, Scent

Trait = Literal["acceleration", "browning", "after six weeks"]
FIELD: Final[dict[Trait, str]] = {
    "acceleration": "acceleration",
    "browning": "browns to",
    "after six weeks": "after six weeks",
}
"""What is learned → the field of the catalogue that says it."""
SCALE: Final[dict[str, tuple[str, ...]]] = {
    "acceleration": ("thins", *SPEED_WORDS),
    "browning": BANDS,
    "after six weeks": STRENGTH_WORDS,
}


@dataclass(frozen=True, slots=True)
class Change:
    """One trait of an oil: what the catalogue says (None: nothing), what is believed after the looks.

    ``agreeing``: how many batches said exactly what is believed now.  ``told``: each batch's own word, in
    order, where the oil was the main one in a portion; ``cups``: how many of the batches were test cups.
    ``dose`` (g per g of oils): the dose that the words speak of, None where they speak of none.  ``mean``,
    ``sd``, the interval of 80 % and the prior: log factor, log content (fraction) or fraction left.
    ``notes``: what each batch's note said, and the dose (g per g of portion oils) that it said it at.
    """

    oil: str
    trait: Trait
    was: str | None
    now: str
    agreeing: int
    told: tuple[str, ...]
    batches: int
    looks: int
    dose: float | None
    mean: float
    sd: float
    low: float
    high: float
    prior_mean: float
    prior_sd: float
    cups: int = 0
    evidence: str = OWN[0]
    notes: tuple[tuple[str, float | None], ...] = ()

    @property
    def beyond(self) -> tuple[str, ...]:
        """The words of the batches that lie on the same side of the catalogue's word as the new one."""
        scale = SCALE[self.trait]
        if self.was is None:
            return self.told
        way = scale.index(self.now) - scale.index(self.was)
        return tuple(word for word in self.told if way * (scale.index(word) - scale.index(self.was)) > 0)

    @property
    def supporting(self) -> int:
        """How many batches speak for the new word: those that said it, else those beyond the old one."""
        return self.agreeing or len(self.beyond)

    @property
    def differs(self) -> bool:
        """Whether the looks say another word than the catalogue."""
        return self.was != self.now


def changes_of(scent: Scent, learned: Learned | None, scales: Scales) -> Iterator[Change]:
    """Every trait of which looks have something to say that counts."""
    if learned is None:
        return
    written = traits_of(scent, scales, USUAL_DOSE, USUAL_BATTER_TO_OILS)
    now = believed(written, scent, learned, scales, USUAL_DOSE, USUAL_BATTER_TO_OILS, careful=False)
    if learned.speed and learned.speed.looks and now.speed.evidence in OWN and now.speed_word:
        yield _change(scent, "acceleration", written.speed_word, now.speed_word, learned.speed, now, scales)
    if learned.browning and learned.browning.looks and now.browner.known and now.browner.evidence in OWN:
        was = _band(written, scales, _browning_dose(written)) if written.browner.known else None
        word = _band(now, scales, _browning_dose(written))
        yield _change(scent, "browning", was, word, learned.browning, written, scales)
    if learned.remains and learned.remains.looks and now.strength and now.strength_evidence in OWN:
        yield _change(scent, "after six weeks", written.strength, now.strength, learned.remains, now, scales)


def _browning_dose(traits: Traits) -> float:
    return traits.browner.dose if traits.browner.dose > 0 else USUAL_DOSE


def _band(traits: Traits, scales: Scales, dose: float) -> str:
    return band_word(scales, traits.browner.low, dose, USUAL_BATTER_TO_OILS)


def _change(
    scent: Scent, trait: Trait, was: str | None, now: str, belief: Belief, traits: Traits, scales: Scales
) -> Change:
    dose = _dose(trait, traits)
    told = tuple(
        word_of(trait, each.value, scales, dose, at_once=each.at_once)
        for each in belief.told
        if trait == "browning" or not each.side
    )
    low, high = belief.ends()
    return Change(
        scent.name, trait, was, now, told.count(now), told, belief.batches, belief.looks, dose,
        belief.mean, belief.sd, low, high, belief.prior_mean, belief.prior_sd, belief.cups, belief.evidence,
        tuple((each.shown, each.dose) for each in belief.told),
    )  # fmt: skip


def _dose(trait: Trait, traits: Traits) -> float | None:
    """The dose that the words for a trait speak of."""
    if trait == "after six weeks":
        return None
    dose = traits.speed.dose if trait == "acceleration" else _browning_dose(traits)
    return dose if math.isfinite(dose) else None


def word_of(trait: Trait, value: float, scales: Scales, dose: float | None, *, at_once: bool = False) -> str:
    """The word for a value of a trait: log factor, log content or fraction left.

    ``dose`` (g per g of oils) is needed for browning, where the word depends on it.
    """
    if trait == "acceleration":
        return speed_word(scales, math.exp(value), at_once=at_once)
    if trait == "browning" and dose is not None:
        return band_word(scales, math.exp(value), dose, USUAL_BATTER_TO_OILS)
    return strength_word(scales, value)
