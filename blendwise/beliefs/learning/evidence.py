"""What the looks of a book say of each trait, as rows for the regression.

One row a portion and version of a batch: its minutes at the pot, its colour once settled (day 28 or
later; before that it only says "at least so dark", for browning never goes back), its strength at six
weeks.  A portion whose masses nobody kept says nothing of its oils.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Final

from blendwise.beliefs.learning.priors import word_value
from blendwise.beliefs.learning.regression import AT_LEAST, AT_MOST, TWO_SIDED
from blendwise.records.kinds.scales import Scales
from blendwise.records.kinds.scent import STRENGTH_WORDS
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.notebook import NoteRow, Poured, PouredPortion, Seen

Bottle = tuple[str, str]  # an oil and its lot ("" where nobody wrote it down)
SETTLED_FROM: Final = 28
SIX_WEEKS: Final = (35, 84)  # days on which a nose tells what is left after six weeks
# Noise of a look: log minutes; log load on top of the width of a band; fraction left.  Judgement.
SPEED_NOISE, BROWNING_NOISE, REMAINS_NOISE = 0.2, 0.35, 0.15
# Rules that foretell a tint which is not any one oil's browning: a Schiff base is yellow to orange.
TINTS_TOGETHER: Final = ("amine-with-aldehyde",)
# Minutes of unscented batter from its scenting, where the first note did not keep them.
USUAL_LIFE: Final = 15.0


@dataclass(frozen=True, slots=True)
class Row:
    """One look at one trait.  ``amounts``: of each bottle, in the unit of the trait's law.  ``offset`` is
    added to the law.  ``shown``: what the maker wrote; ``note``: where; ``has_control``: whether an unscented
    cup was timed beside it; ``oils``: those in it."""

    batch: int
    portion: str
    value: float
    side: int
    sd: float
    offset: float
    amounts: Mapping[Bottle, float]
    shown: str
    note: str
    life_kept: bool = True
    is_cup: bool = False
    has_control: bool = True
    oils: frozenset[str] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "oils", frozenset(oil for oil, _ in self.amounts))


@dataclass(frozen=True, slots=True)
class HexLook:
    """A colour seen as a hex code, to be turned into a load beside the colour that was planned.

    ``at_most``: something else than the oils' own browning was foretold;
    they bring that much at most.
    """

    batch: int
    portion: str
    seen: str
    planned: str
    covering: float
    settled: bool
    amounts: Mapping[Bottle, float]
    note: str
    is_cup: bool = False
    at_most: bool = False


@dataclass(frozen=True, slots=True)
class _Portion:
    """One portion of one version of a batch, with everything noted of it, in order."""

    index: int
    batch: Batch
    name: str
    poured: Poured
    made: PouredPortion
    grams: Mapping[Bottle, float]
    seen: Sequence[tuple[NoteRow, Seen]]
    version: str | None = None


def portions_of(batches: Sequence[Batch]) -> Iterator[_Portion]:
    """Every scented portion whose masses were kept."""
    for index, batch in enumerate(batches):
        lots = batch.lots
        for variation in batch.variations:
            poured = batch.frozen(variation)
            if poured is None:
                continue
            looks = [
                each for each in batch.looks if each.variation == variation and each.teaches is not False
            ]
            for name, made in poured.portions.items():
                here = {**lots, **made.lots}
                grams = {
                    (oil, here.get(oil, "")): g for oil, g in poured.doses.get(name, {}).items() if g > 0
                }
                seen = [(look, look.portions[name]) for look in looks if name in look.portions]
                if seen:
                    yield _Portion(index, batch, name, poured, made, grams, seen, variation)


def speed_rows(batches: Sequence[Batch], reference: Mapping[str, float]) -> Iterator[Row]:
    """Minus log minutes to thick.  ``reference``: the dose of each oil's entry (g per g of oils)."""
    portions = list(portions_of(batches))
    controlled = {(p.index, p.version) for p in portions if not p.grams and _timed(p)}
    for p in portions:
        amounts = {bottle: g / p.made.oils / reference.get(bottle[0], 0.04) for bottle, g in p.grams.items()}
        life = p.made.stays_fluid or USUAL_LIFE
        said = [(look, seen) for look, seen in p.seen if look.look == "at the pot"]
        found = _minutes([(look, seen) for look, seen in said if seen.minutes or seen.fluid_at])
        if found is None:
            continue
        note, value, side, sd, shown = found
        has_control = (p.index, p.version) in controlled
        # A cup's own minutes say little; beside its control's they are a ratio.
        yield Row(
            p.index,
            p.name,
            value,
            side,
            sd,
            -math.log(life),
            amounts,
            shown,
            note,
            p.made.stays_fluid is not None and not p.batch.is_cup,
            p.batch.is_cup,
            has_control,
        )


def _timed(p: _Portion) -> bool:
    return any(look.look == "at the pot" and seen.minutes for look, seen in p.seen)


def _minutes(said: Sequence[tuple[NoteRow, Seen]]) -> tuple[str, float, int, float, str] | None:
    if not said:
        return None
    look, seen = said[-1]
    if seen.minutes is not None:
        low, high = (max(end, 0.25) for end in seen.minutes)
        spread = math.log(high / low)
        shown = f"thick at {_span(low, high)} min"
        return (
            look.note,
            -math.log(low * high) / 2,
            TWO_SIDED,
            math.hypot(SPEED_NOISE, spread / 12**0.5),
            shown,
        )
    assert seen.fluid_at is not None
    fluid = max(seen.fluid_at, 0.25)
    return look.note, -math.log(fluid), AT_MOST, SPEED_NOISE, f"still fluid at {fluid:.3g} min"


def _span(low: float, high: float) -> str:
    return f"{low:.3g}" if low == high else f"{low:.3g} to {high:.3g}"


def browning_rows(batches: Sequence[Batch], scales: Scales) -> Iterator[Row | HexLook]:
    """Log load by the band seen; hex codes are left to be turned into loads all at once."""
    for p in portions_of(batches):
        whole = p.made.batter + sum(p.grams.values())
        amounts = {bottle: g / whole for bottle, g in p.grams.items()}
        said = [(look, seen.colour) for look, seen in p.seen if seen.colour]
        if not amounts or not said:
            continue
        settled = [each for each in said if p.batch.days(each[0]) >= SETTLED_FROM]
        look, colour = settled[-1] if settled else said[-1]
        assert colour is not None
        if not colour.startswith("#"):
            found = band_row(scales, colour, bool(settled))
            crept = _crept_in(p, colour, [step.word for step in scales.bands])
            if found is not None and (crept or _has_other_cause(p)):
                found = _at_most(scales, colour) if crept or settled else None
            if found is not None:
                yield Row(p.index, p.name, *found, 0.0, amounts, colour, look.note, is_cup=p.batch.is_cup)
        elif p.made.planned_colour:
            covering = p.made.covering or 1.0
            yield HexLook(
                p.index, p.name, colour, p.made.planned_colour, covering, bool(settled), amounts, look.note,
                p.batch.is_cup, _has_other_cause(p),
            )  # fmt: skip


def _has_other_cause(p: _Portion) -> bool:
    """Whether the pour was told of a tint that two oils make together and no single one of them does."""
    return any(p.name in p.poured.flagged.get(rule, ()) for rule in TINTS_TOGETHER)


def _crept_in(p: _Portion, band: str, words: Sequence[str]) -> bool:
    """Whether brown may have come from beside it: another portion was darker, and an edge was not clean."""
    own = any(_ran(seen) for _, seen in p.seen)
    others = [held for look in p.batch.looks for held in look.portions.items() if held[0] != p.name]
    darker = {
        name for name, seen in others if seen.colour in words and words.index(seen.colour) > words.index(band)
    }
    return bool(darker) and (own or any(_ran(seen) for name, seen in others if name in darker))


def _ran(seen: Seen) -> bool:
    return seen.halo is not None or seen.edge in ("soft", "bled")


def _at_most(scales: Scales, band: str) -> tuple[float, int, float] | None:
    """A band that a portion reached with brown from beside it: its own oils bring that much at most."""
    edges = [math.log(step.up_to.high) for step in scales.bands if step.up_to is not None]
    words: list[str] = [step.word for step in scales.bands]
    at = words.index(band)
    return (edges[at], AT_MOST, BROWNING_NOISE) if at < len(edges) else None


def band_row(scales: Scales, band: str, settled: bool) -> tuple[float, int, float] | None:
    """(value, side, sd) of a band seen: its middle with its width, or one of its edges.

    The first band is "at most", the last "at least"; before it has settled any band but the first is
    "at least", and the first says nothing yet.
    """
    words = [step.word for step in scales.bands]
    edges = [math.log(step.up_to.high) for step in scales.bands if step.up_to is not None]
    at = words.index(band)  # type: ignore[arg-type]
    if at == 0:
        return (edges[0], AT_MOST, BROWNING_NOISE) if settled else None
    if not settled or at == len(edges):
        return edges[at - 1], AT_LEAST, BROWNING_NOISE
    low, high = edges[at - 1], edges[at]
    return (low + high) / 2, TWO_SIDED, math.hypot(BROWNING_NOISE, (high - low) / 12**0.5)


def remains_rows(batches: Sequence[Batch], scales: Scales) -> Iterator[Row]:
    """The fraction of its scent that a nose found in a portion about six weeks after the pour."""
    for p in portions_of(batches):
        total = sum(p.grams.values())
        said = [
            (look, seen.strength)
            for look, seen in p.seen
            if seen.strength and SIX_WEEKS[0] <= p.batch.days(look) <= SIX_WEEKS[1]
        ]
        if not said or total <= 0:
            continue
        look, word = said[0]
        assert word is not None
        amounts = {bottle: g / total for bottle, g in p.grams.items()}
        found = strength_row(scales, word)
        yield Row(p.index, p.name, *found, 0.0, amounts, word, look.note, is_cup=p.batch.is_cup)


def strength_row(scales: Scales, word: str) -> tuple[float, int, float]:
    """(value, side, sd) of a word of strength: the middle of its range with its width, the ends one-sided.

    A word reaches half way to its neighbours.
    """
    values = sorted((word_value(scales, each), each) for each in STRENGTH_WORDS)
    edges = [(one[0] + other[0]) / 2 for one, other in pairwise(values)]
    words: list[str] = [each for _, each in values]
    at = words.index(word)
    if at == 0:
        return edges[0], AT_MOST, REMAINS_NOISE
    if at == len(edges):
        return edges[-1], AT_LEAST, REMAINS_NOISE
    low, high = edges[at - 1], edges[at]
    return (low + high) / 2, TWO_SIDED, math.hypot(REMAINS_NOISE, (high - low) / 12**0.5)
