"""The bar as limits see it: dried to 6 % water, of what is plausibly a bar.

What dilutes a scent is what skin meets with it: oils, lye, additives without their water, colour, embeds.
Everything is taken at the side that makes a limit stricter: the driest usual bar, a higher cure loss where
the maker states one (a lower one changes nothing), no water of additives, nothing of what is unknown, and
solids only up to the share that a bar can be made of.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from blendwise.facts.columns import Floats
from blendwise.facts.situation.additions.heaps import MOST_ADDITIVES
from blendwise.facts.situation.pot import Pot
from blendwise.facts.situation.split import Split
from blendwise.facts.situation.worked_out import Situation, once_for_all_doses
from blendwise.science.cure import RESIDUAL_LOW, grams_to_residual
from blendwise.science.substances import dry_of

# Above these shares of a portion's oils, or of the batter, what is there dilutes no further: our judgement.
DILUTES_COLOUR = 0.10
DILUTES_MIXED_IN = 0.15
DILUTES_EMBEDS = 0.50

# Scent of up to a tenth of the solids may add its own share of the water that stays; else none is added.
ROOM_FOR_SCENT = 1.1


@dataclass(frozen=True, slots=True)
class Dried:
    """Grams of dried bar: ``batch`` and ``portions`` (portions,) without scent, and for each gram of scent
    ``per_gram`` and ``per_gram_in_portion`` (portions,): the scent itself and the water that stays with it.
    """

    batch: float
    portions: Floats
    per_gram: float
    per_gram_in_portion: Floats


@once_for_all_doses
def dried(s: Situation) -> Dried:
    """The batch, embeds included, and each portion without embeds, dried as limits ask."""
    pot, split = s.pot, s.split
    usable = (1 - pot.loss) * split.share
    solids = _solids(pot, split, usable)
    soap = (pot.pot_oils + pot.naoh + pot.water) * usable + split.returned
    left = np.maximum(pot.water * usable - _stated_loss(s) * soap, 0.0)
    whole, per_gram = _dried(np.array([solids.sum()]), np.array([left.sum()]))
    portions, each = _dried(solids, left)
    embeds = min(s.embed_mass, DILUTES_EMBEDS * float(split.batter.sum()))
    return Dried(float(whole[0]) + embeds, portions, float(per_gram[0]), each)


def dried_mass(s: Situation) -> float:
    """Grams of the whole batch, dried, at the doses as they stand."""
    bar = dried(s)
    return bar.batch + bar.per_gram * float(s.x.sum())


def fresh_mass(s: Situation) -> float:
    """Grams of the whole batch as it leaves the mould, before anything dries, at the doses as they stand.

    Formula: the cured batch + cure loss × (oils + NaOH + water) + the water that its additives bring
    """
    pot, usable = s.pot, 1 - s.pot.loss
    soap = (pot.pot_oils + pot.naoh + pot.water) * usable + float(s.split.returned.sum())
    water = max(0.0, pot.additive_mass - pot.additives_dry) * usable
    return s.bar_constant + float(s.x.sum()) + s.cure_loss * soap + water


def dried_portions(s: Situation) -> Floats:
    """Grams of each portion, dried, at the doses as they stand (portions,)."""
    bar = dried(s)
    return np.asarray(bar.portions + bar.per_gram_in_portion * s.x.sum(axis=0))


def _dried(solids: Floats, water: Floats) -> tuple[Floats, Floats]:
    """Grams after drying to 6 % water, at most all of it, and how much a gram of scent adds to them."""
    wet = solids + water
    bar = wet - grams_to_residual(water, wet, RESIDUAL_LOW)
    staying = RESIDUAL_LOW / (1 - RESIDUAL_LOW)
    enough = water >= staying * solids * ROOM_FOR_SCENT
    return np.asarray(bar), np.where(enough, 1 + staying, 1.0)


def _solids(pot: Pot, split: Split, usable: Floats) -> Floats:
    """Grams of each portion that neither are water nor scent, as far as they are plausibly there."""
    colour = np.minimum(split.colour.sum(axis=0), DILUTES_COLOUR * split.oils)
    mixed_in = np.minimum(split.mixed_in, DILUTES_MIXED_IN * split.oils)
    in_pot = pot.pot_oils + pot.naoh + _dry_additives(pot)
    return np.asarray(in_pot * usable + split.returned + colour + mixed_in)


def _dry_additives(pot: Pot) -> float:
    """Grams of additives without water and alcohol, each kind up to its plausible share of the oils.

    The shipped table alone is asked, never the book: what it does not know dilutes nothing.
    """
    kinds: dict[str, tuple[float, float]] = {}
    for each in pot.added:
        row = each.row
        if row is None:
            continue
        most = row.plausible * pot.oils_total
        before, greatest = kinds.get(row.kind, (0.0, 0.0))
        dry = float(dry_of(min(each.grams, most), row))
        kinds[row.kind] = before + dry, max(greatest, most)
    return min(sum(min(each) for each in kinds.values()), MOST_ADDITIVES * pot.oils_total)


def _stated_loss(s: Situation) -> float:
    """The top of the cure loss that the maker states; 0 where nothing is stated."""
    process = s.plan.process
    stated = (process.cure_loss if process else None) or s.book.usual.cure_loss
    return stated.high if stated is not None else 0.0
