"""What own looks change in the belief of an oil, as data and in the maker's words and counts."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from blendwise.beliefs.believe import (
    OWN,
    SPEED_WORDS,
    STRENGTH_WORDS,
    Believing,
    band_word,
    believed,
    speed_word,
    strength_word,
)
from blendwise.beliefs.lessons import Belief, Learned
from blendwise.beliefs.traits import Traits, traits_of
from blendwise.facts.situation import USUAL_BATTER_TO_OILS, USUAL_DOSE, Situation
from blendwise.quantity import format_number
from blendwise.records.scales import Scales
from blendwise.records.scent import BANDS, Scent

Trait = Literal["acceleration", "browning", "after six weeks"]
SCALE: Final[dict[str, tuple[str, ...]]] = {
    "acceleration": ("thins", *SPEED_WORDS),
    "browning": BANDS,
    "after six weeks": STRENGTH_WORDS,
}


@dataclass(frozen=True, slots=True)
class Change:
    """One trait of an oil: what the catalogue says (None: nothing), what is believed after the looks.

    ``told``: each batch's own word, in order, where the oil was the main one in a portion; ``dose`` (g per
    g of oils): the dose that the words speak of.
    """

    oil: str
    trait: Trait
    was: str | None
    now: str
    told: tuple[str, ...]
    batches: int
    looks: int
    dose: float
    belief: Belief

    @property
    def agreeing(self) -> int:
        """How many batches said exactly what is believed now."""
        return self.told.count(self.now)

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
    if learned.speed and learned.speed.looks and now.speed.evidence == OWN and now.speed_word:
        yield _change(scent, "acceleration", written.speed_word, now.speed_word, learned.speed, now, scales)
    if learned.browning and learned.browning.looks and now.browner.known and now.browner.evidence == OWN:
        was = _band(written, scales, _browning_dose(written)) if written.browner.known else None
        word = _band(now, scales, _browning_dose(written))
        yield _change(scent, "browning", was, word, learned.browning, written, scales)
    if learned.remains and learned.remains.looks and now.strength and now.strength_evidence == OWN:
        yield _change(scent, "after six weeks", written.strength, now.strength, learned.remains, now, scales)


def _browning_dose(traits: Traits) -> float:
    return traits.browner.dose if traits.browner.dose > 0 else USUAL_DOSE


def _band(traits: Traits, scales: Scales, dose: float) -> str:
    return band_word(scales, traits.browner.low, dose, USUAL_BATTER_TO_OILS)


def _change(
    scent: Scent, trait: Trait, was: str | None, now: str, belief: Belief, traits: Traits, scales: Scales
) -> Change:
    doses = {
        "acceleration": traits.speed.dose,
        "browning": _browning_dose(traits),
        "after six weeks": math.nan,
    }
    told = tuple(
        word_of(trait, each.value, scales, doses[trait])
        for each in belief.told
        if trait == "browning" or not each.side
    )
    return Change(scent.name, trait, was, now, told, belief.batches, belief.looks, doses[trait], belief)


def word_of(trait: Trait, value: float, scales: Scales, dose: float) -> str:
    """The word for a value of a trait: log factor, log content or fraction left."""
    if trait == "acceleration":
        return speed_word(scales, math.exp(value))
    if trait == "browning":
        return band_word(scales, math.exp(value), dose, USUAL_BATTER_TO_OILS)
    return strength_word(scales, value)


def said(s: Situation) -> Iterator[str]:
    """For the assumptions: whose looks count, and where they say another word than the catalogue."""
    return said_of(s.believing, s.scent_records, s.scales)


def said_of(believing: Believing, scents: Sequence[Scent], scales: Scales) -> Iterator[str]:
    """The same for oils of no plan."""
    lessons = believing.lessons
    if lessons is not None and any(scent.name in lessons.oils for scent in scents):
        yield (
            f"Your own looks count ({lessons.looks} looks of {lessons.batches} batches); "
            "`--as-written` leaves them out."
        )
        for scent in scents:
            for change in changes_of(scent, lessons.oils.get(scent.name), scales):
                if change.differs:
                    yield sentence(change)
    if lessons is not None and lessons.set_aside:
        many = "One note is" if lessons.set_aside == 1 else f"{lessons.set_aside} notes are"
        yield f"{many} damaged and set aside: see `blendwise review`."
    if believing.careful:
        yield "Acceleration, browning and strength count by the worse end of what is believed (`--careful`)."


VERB = {"browning": "went", "acceleration": "were", "after six weeks": "smelled"}
TAKEN = {
    "browning": "it is taken as browning to {now}{at}",
    "acceleration": "its acceleration is taken as {now}{at}",
    "after six weeks": "after six weeks it is taken as {now}",
}


def sentence(change: Change) -> str:
    """ "2 of 3 batches of tonka-milk went tan; the catalogue says beige." and what it is taken as."""
    entry = "the catalogue does not say" if change.was is None else f"the catalogue says {change.was}"
    at = f" at {format_number(100 * change.dose)} % of oils" if change.dose > 0 else ""
    taken = TAKEN[change.trait].format(now=change.now, at=at)
    whole, number = len(change.told), change.supporting
    if number:
        of = f"{number} of {whole} batches" if whole > 1 else "The one batch"
        went = change.now if change.agreeing else most_said(change.beyond)
        between = "" if change.agreeing else "between the two "
        return f"{of} of {change.oil} {_verb(change)} {went}; {entry}: {between}{taken}."
    held = "one batch" if change.batches == 1 else f"{change.batches} batches"
    return f"By {held} with {change.oil} in them, {taken}; {entry}."


def most_said(words: Sequence[str]) -> str:
    """The word said most often, the first of equals."""
    return max(words, key=words.count)


def _verb(change: Change) -> str:
    if change.trait == "acceleration":
        return "was" if len(change.told) == 1 else "were"
    return VERB[change.trait]
