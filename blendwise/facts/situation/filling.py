"""How much oil a plan means: its own masses, or what fills its mould."""

from __future__ import annotations

import numpy as np

from blendwise.facts.columns import Floats
from blendwise.facts.situation.problems import Problems
from blendwise.quantity import Basis, Dimension
from blendwise.records import BookFiles, Lye, Plan, Recipe
from blendwise.records.kinds.recipe import RecipeAmount
from blendwise.science import lye as lye_science
from blendwise.science import mould as mould_science

OF_BATTER = frozenset({Basis.BATCH_BATTER, Basis.PORTION_BATTER, Basis.BATTER})
REMEDY = "Correct that, or write `amount: {oils: 1000 g}`."


def oil_masses(
    plan: Plan,
    recipe: Recipe,
    lye: Lye,
    fractions: Floats,
    need_per_gram: Floats,
    book: BookFiles,
    problems: Problems,
) -> Floats | None:
    """Grams of each oil: as weighed, as shares of a stated mass, or as shares of what fills the mould.

    ``need_per_gram``: g NaOH per g of each oil (it says how much lye, and so how much room, oil takes).
    """
    first, amount = next(iter(recipe.oils.values())), recipe.amount
    if first.dimension is Dimension.MASS:
        return np.array([a.value for a in recipe.oils.values()], dtype=float)
    if amount is None:
        remedy = "Write `amount: {oils: 1000 g}`, or give the mould."
        problems.add(recipe, "The plan does not say how much soap.", remedy)
        return None
    if amount.oils is not None:
        return fractions * amount.oils.value
    total = _fill(plan, recipe, amount, lye, float((fractions * need_per_gram).sum()), book, problems)
    return None if total is None else fractions * total


def _fill(
    plan: Plan,
    recipe: Recipe,
    amount: RecipeAmount,
    lye: Lye,
    need_per_gram: float,
    book: BookFiles,
    problems: Problems,
) -> float | None:
    """Oils that fill the mould: its volume, less embeds, by the maker's own multiplier or by density."""
    usual = book.usual
    try:
        per_ml = usual.oils_per_volume.value if usual.oils_per_volume else _oils_per_ml(lye, need_per_gram)
        oils = mould_science.oils_to_fill(
            mould_volume(amount),
            per_ml,
            scent_per_oil=_scent_per_oil(plan, lye, need_per_gram, book),
            embeds=float(sum(embed.mass.value for embed in plan.embeds)),
            fill=amount.fill.value if amount.fill is not None else 1.0,
            loss=kept_back(book),
        )
    except ValueError as error:
        problems.add(recipe, f"The mould cannot be filled: {error}.", REMEDY, "amount")
        return None
    return float(oils)


def kept_back(book: BookFiles) -> float:
    """What stays in the pot and in the cups, of all the batter."""
    losses = (book.usual.pot_loss, book.usual.cup_loss)
    reach = np.prod([1 - (loss.value if loss else 0.0) for loss in losses])
    return float(1 - reach)


def mould_volume(amount: RecipeAmount) -> float:
    """mL of the mould, all its cavities together.  ValueError where its size is not written."""
    if amount.volume is not None:
        return float(mould_science.cavities_volume(amount.cavities or 1, amount.volume.value))
    if amount.inside is not None:
        return float(
            mould_science.cavities_volume(amount.cavities or 1, mould_science.box_volume(*amount.inside))
        )
    raise ValueError("it has no size (`inside: 25 x 9 x 6.5 cm` or `volume: 1450 mL`)")


def _oils_per_ml(lye: Lye, need_per_gram: float) -> float:
    """Grams of oils per mL of batter, from the recipe's own lye."""
    ratio, water = _lye_per_oil(lye, need_per_gram)
    return float(mould_science.oils_per_ml(lye_science.concentration(ratio, water), ratio))


def _lye_per_oil(lye: Lye, need_per_gram: float) -> tuple[float, float]:
    """Grams of lye and of water for a gram of oils."""
    if lye.superfat is None:
        raise ValueError("lye given in grams does not say for how much oil it is")
    ratio = float(lye_science.lye_for_superfat(need_per_gram, lye.superfat.value, purity_of(lye)))
    return ratio, water_mass(lye, ratio, 1.0)


def _scent_per_oil(plan: Plan, lye: Lye, need_per_gram: float, book: BookFiles) -> float:
    """Grams of scent for a gram of oils; 0 for an unscented plan."""
    load = (plan.scents.stated_load if plan.scents else None) or book.usual.load
    if plan.scents is None or load is None:
        return 0.0
    if load.basis not in OF_BATTER:
        return load.value
    return float(load.value / (1 - load.value)) * (1 + sum(_lye_per_oil(lye, need_per_gram)))


def purity_of(lye: Lye) -> float:
    """The purity of the lye, a fraction; not stated counts as 100 %."""
    return lye.purity.value if lye.purity else 1.0


def water_mass(lye: Lye, naoh: float, oils: float) -> float:
    """Grams of water, however the maker states it.  ValueError where it is not stated or beyond reason."""
    if lye.concentration is not None:
        return float(lye_science.water_from_concentration(naoh, lye.concentration.value))
    if lye.water_to_lye is not None:
        return float(lye_science.water_from_ratio(naoh, lye.water_to_lye.value))
    if lye.water is not None:
        water = lye.water.value
    elif lye.water_of_oils is not None:
        water = float(lye_science.water_from_oils(oils, lye.water_of_oils.value))
    else:
        raise ValueError("the water is not stated")
    lye_science.concentration(naoh, water)
    return water
