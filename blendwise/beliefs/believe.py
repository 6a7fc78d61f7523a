"""An oil's traits once its looks are counted: the numbers that the checks then use.

Never touched by any look: what is stated of limits, lye, bans, labels and flammability, which are no traits.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final

from blendwise.beliefs.contents import contents_of, is_folded
from blendwise.beliefs.learning import priors
from blendwise.beliefs.lessons import Belief as Trait
from blendwise.beliefs.lessons import Learned, Lessons
from blendwise.beliefs.traits import Belief, Gate, Traits, speed_word
from blendwise.records.kinds.scales import Scales
from blendwise.records.kinds.scent import Scent
from blendwise.science.browning import band_of
from blendwise.science.fade import MONOTERPENES
from blendwise.science.tables import plain_key

# Where nothing was known, looks close the question once they have narrowed the width to this part of it.
CLOSED_AT: Final = 0.6
OWN: Final = ("own batch", "own cup", "own batch of another lot", "own cup of another lot")
STRENGTH_WORDS: Final = ("gone", "faint", "fair", "strong")


@dataclass(frozen=True, slots=True)
class Believing:
    """How a plan is to be looked at: with what lessons, and whether by their worse end."""

    lessons: Lessons | None = None
    careful: bool = False

    def of(self, oil: str) -> Learned | None:
        """What was learned of an oil."""
        return self.lessons.oils.get(oil) if self.lessons else None


BY_SHEET: Final = "its sheet"
"""Who says what is reckoned from constituents: nobody has smelled it."""
MOSTLY_TERPENES: Final = 0.6  # of the oil, from which its terpenes decide what is left: judgement on citrus
AS_WRITTEN: Final = Believing()


def believed(
    traits: Traits,
    scent: Scent,
    learned: Learned | None,
    scales: Scales,
    dose: float,
    batter: float,
    careful: bool,
) -> Traits:
    """The catalogue's traits with what was learned; ``careful`` gives intervals of 80 % in place of centres.

    ``dose``, ``batter``: the usual dose and batter (g per g of oils) where a statement names none.
    """
    looked = learned or Learned()
    speed = _counted(looked.speed, traits.speed.known)
    browning = _counted(looked.browning, traits.browner.known)
    remains = _counted(looked.remains, traits.strength is not None)
    if careful:
        speed = speed or _prior_only(*priors.speed_prior(traits), traits.speed.known)
        browning = browning or _prior_only(
            *priors.browning_prior(traits, scales, dose, batter), traits.browner.known
        )
        remains = remains or _prior_only(*priors.remains_prior(scent, scales), traits.strength is not None)
    found = _with_speed(traits, speed, scales, dose, careful)
    return reckoned_strength(
        _with_remains(_with_browning(found, browning, careful), remains, scales, careful), scent
    )


def reckoned_strength(traits: Traits, scent: Scent) -> Traits:
    """What a complete sheet says of an oil that nobody has smelled at six weeks: mostly terpenes are faint.

    A folded oil has lost most of them already.  Anything else stays not known.
    """
    sheet = scent.allergen_sheet
    if traits.strength is not None or sheet is None or not sheet.complete:
        return traits
    parts = contents_of(scent).on_sheet
    light = sum(part.low for part in parts if plain_key(part.name) in MONOTERPENES)
    if light < MOSTLY_TERPENES:
        return traits
    word = "fair" if is_folded(scent) else "faint"
    return replace(traits, strength=word, strength_evidence=BY_SHEET)


def _counted(trait: Trait | None, known: bool) -> Trait | None:
    """A trait that looks speak of; one that nobody knew before only once they speak clearly of this bottle.

    What another lot showed closes no unknown, unless two lots agreed.
    """
    if trait is None or trait.looks == 0:
        return None
    if not known and not _speaks_of_this_bottle(trait):
        return None
    return trait if known or trait.sd <= CLOSED_AT * trait.prior_sd else None


def _speaks_of_this_bottle(trait: Trait) -> bool:
    return trait.is_this_lot or trait.lots_agree


def _prior_only(mean: float, sd: float, known: bool) -> Trait | None:
    return Trait(mean, sd, mean, sd) if known else None


def _with_speed(traits: Traits, trait: Trait | None, scales: Scales, dose: float, careful: bool) -> Traits:
    if trait is None:
        return traits
    low, high = (math.exp(end) for end in (trait.ends() if careful else (trait.mean, trait.mean)))
    evidence = trait.evidence if trait.looks else traits.speed.evidence
    least, most = (math.exp(end) for end in _with_harsh_lot(trait))
    at = traits.speed.dose if traits.speed.dose > 0 else dose
    seized = any(each.at_once for each in trait.told)
    against = _speaks_against(trait)
    word = speed_word(scales, high, at_once=seized)
    if traits.speed_word and not (careful or seized or against):
        word = traits.speed_word
    gate = _gate(traits.seizes, seized, denied=against and not careful and _speaks_of_this_bottle(trait))
    if gate == "yes":
        word = speed_word(scales, high, at_once=True)
    return replace(traits, speed=Belief(low, high, evidence, at, least, most), seizes=gate, speed_word=word)


def _gate(written: Gate, seized: bool, *, denied: bool) -> Gate:
    """Whether it seizes: where it was seen to, or as written until this bottle's looks clearly deny it."""
    if seized:
        return "yes"
    return "no" if denied or written == "unknown" else written


def _speaks_against(trait: Trait) -> bool:
    """Whether the looks say clearly that it is not as written: a word is not changed within their doubt."""
    low, high = trait.ends()
    return not low <= trait.prior_mean <= high


def _with_harsh_lot(trait: Trait) -> tuple[float, float]:
    """The ends of a belief; where lots differ the one that did most stays within them."""
    low, high = trait.ends()
    return low, high if trait.harsh is None else max(high, trait.harsh)


def _with_browning(traits: Traits, trait: Trait | None, careful: bool) -> Traits:
    """Cups in which it was one of several move its figure, but are no word of its own on its colour."""
    if trait is None:
        return traits
    low, high = (math.exp(end) for end in (trait.ends() if careful else (trait.mean, trait.mean)))
    own = trait.looks > 0 and (bool(trait.told) or not traits.browner.known)
    evidence = trait.evidence if own else traits.browner.evidence
    browner = Belief(low, high, evidence, traits.browner.dose, *map(math.exp, _with_harsh_lot(trait)))
    seen = traits.seen_browning or (own and _speaks_of_this_bottle(trait))
    return replace(traits, browner=browner, missing_browner=(), seen_browning=seen)


def _with_remains(traits: Traits, trait: Trait | None, scales: Scales, careful: bool) -> Traits:
    if trait is None:
        return traits
    left = trait.ends()[0] if careful else trait.mean
    evidence = trait.evidence if trait.looks else traits.strength_evidence
    return replace(traits, strength=strength_word(scales, left), strength_evidence=evidence)


def strength_word(scales: Scales, left: float) -> str:
    """The word of strength that stands nearest to a fraction left."""
    return min(STRENGTH_WORDS, key=lambda word: abs(priors.word_value(scales, word) - left))


def band_word(scales: Scales, content: float, dose: float, batter: float) -> str:
    """The band that an oil of this content reaches alone, at a dose (g per g of oils)."""
    edges = [step.up_to.high for step in scales.bands if step.up_to is not None]
    return scales.bands[int(band_of(content * dose / (batter + dose), edges))].word
