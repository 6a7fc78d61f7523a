"""The recipe as grams in the pot: oils, lye, water, additives, what is held back, and the batter as split."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from blendwise.facts.columns import Floats
from blendwise.facts.situation.additions.additives import Added, added, unknown
from blendwise.facts.situation.filling import oil_masses, purity_of, water_mass
from blendwise.facts.situation.problems import Problems
from blendwise.quantity import Amount, Basis, Dimension
from blendwise.records import BaseOil, BookFiles, Lye, Plan, Recipe
from blendwise.records.kinds.published import above_ordinary
from blendwise.science import lye as lye_science
from blendwise.science.mass import batter_to_oils

WHICH = ("low", "mid", "high", "named")
ROUNDING = 1e-9
ASSUMED_LYE_STEP = 1.0  # g, where usual.yaml names none
COMPLETE = 1e-3  # recipes and shares may miss 100 % by a tenth of a per cent of rounding


@dataclass(frozen=True, slots=True)
class Pot:
    """All masses in grams; arrays over the recipe's oils, in the order of the recipe.

    ``held``: what of each oil is kept out of the pot.  ``need_per_gram``: g NaOH per g of each oil, by the
    low, mid and high end of its saponification range, and ``named``: by the lot's certificate where one
    is named, else by the mid value.  ``acids_need``: g NaOH that acids among the additives eat, less what
    alkalis among them bring.  ``naoh``: as asked for; ``weighed``: in whole steps of the lye scale, rounded
    down.  ``water``: as weighed, without that of additives.
    ``loss``: fraction of the batter that stays in the pot.  ``on_their_makers_word``: fats of a kind that is
    not known, and lots without a certificate, each with the g of NaOH that it takes by the book alone.
    """

    oils: tuple[str, ...]
    masses: Floats
    held: Floats
    need_per_gram: dict[str, Floats]
    acids_need: float
    naoh: float
    purity: float
    purity_stated: bool
    water: float
    added: tuple[Added, ...]
    weighed: float
    loss: float = 0.0
    on_their_makers_word: Mapping[str, float] = field(default_factory=dict)

    @property
    def oils_total(self) -> float:
        """All oils of the recipe (g), what is held back included."""
        return float(self.masses.sum())

    @property
    def pot_oils(self) -> float:
        """Oils in the pot as split: the recipe's less what is held back."""
        return float((self.masses - self.held).sum())

    @property
    def additives(self) -> dict[str, float]:
        """Grams of each additive."""
        return {each.name: each.grams for each in self.added}

    @property
    def additive_mass(self) -> float:
        """All additives together (g)."""
        return float(sum(each.grams for each in self.added))

    @property
    def additive_water(self) -> float:
        """The water in the additives (g): of vinegar, beer, milk, purée."""
        return float(sum(each.water for each in self.added))

    @property
    def all_water(self) -> float:
        """Water as weighed and that in the additives (g)."""
        return self.water + self.additive_water

    @property
    def additives_dry(self) -> float:
        """What of the additives stays in a dried bar (g): none of an unknown one, no more than is meant."""
        oils = self.oils_total
        return float(sum(min(each.dry, each.what.plausible * oils) for each in self.added))

    @property
    def credited_to_oils(self) -> float:
        """Grams of NaOH that fats take on their maker's word alone."""
        return float(sum(self.on_their_makers_word.values()))

    @property
    def unknown_mass(self) -> float:
        """Additives of which nobody has said what they do to the lye (g)."""
        return float(sum(each.grams for each in unknown(self.added)))

    @property
    def batter(self) -> float:
        """The pot as split: oils, NaOH, water, additives; before scent and colour."""
        return self.pot_oils + self.naoh + self.water + self.additive_mass

    @property
    def batter_to_oils(self) -> float:
        """Batter over oils, both as they stand in the pot at the split."""
        return float(batter_to_oils(self.pot_oils, self.naoh, self.water, self.additive_mass))

    @property
    def lye_concentration(self) -> float:
        """NaOH as weighed over NaOH and all water, that of additives included, a fraction."""
        return self.naoh / (self.naoh + self.all_water)

    @property
    def mixed_concentration(self) -> float:
        """NaOH as weighed over NaOH and the water that it is dissolved in, a fraction."""
        return self.naoh / (self.naoh + self.water)

    def need(self, which: str = "mid") -> float:
        """NaOH for the whole recipe, acids included; ``which``: low, mid, high or named."""
        return self.fat_need(which) + self.acids_need

    def fat_need(self, which: str = "mid") -> float:
        """NaOH for all the oils of the recipe, acids apart."""
        return float(lye_science.naoh_need(self.masses, self.need_per_gram[which]))

    def pot_need(self, which: str = "mid") -> float:
        """NaOH for the oils in the pot as split, acids apart."""
        # What is held back may be more than there is by a rounding.
        left = np.maximum(self.masses - self.held, 0.0)
        return float(lye_science.naoh_need(left, self.need_per_gram[which]))


def fill_pot(plan: Plan, book: BookFiles, problems: Problems) -> Pot | None:
    """Work out the pot, or report why it cannot be (every reason, each with its line)."""
    recipe = plan.recipe or book.usual.recipe
    if recipe is None:
        remedy = "Write `recipe:` with oils, amount and lye."
        problems.add(plan, "The plan has no recipe, and usual.yaml names none.", remedy)
        return None
    lye = recipe.lye or book.usual.lye
    if lye is None:
        remedy = "Write `lye: {concentration: 31 %, superfat: 5 %}`."
        problems.add(recipe, "The recipe says nothing of the lye.", remedy)
        return None
    records = _base_oils(recipe, book, problems)
    fractions = _oil_fractions(recipe, problems)
    if len(records) < len(recipe.oils) or fractions is None:
        return None
    needs = {which: _needs(records, which) for which in WHICH}
    masses = oil_masses(plan, recipe, lye, fractions, needs["named"], book, problems)
    if masses is None:
        return None
    return _assemble(recipe, lye, records, masses, needs, book, problems)


def _base_oils(recipe: Recipe, book: BookFiles, problems: Problems) -> list[BaseOil]:
    records = []
    for name in recipe.oils:
        record = book.oils.get(name)
        if record is None:
            problems.unknown(recipe, "oils", name, "base oil", book.oils)
        else:
            records.append(record)
    return records


def _needs(records: list[BaseOil], which: str) -> Floats:
    return np.array([need_of(record, which) for record in records], dtype=float)


def need_of(oil: BaseOil, which: str) -> float:
    """g NaOH per g of one oil: at the low, mid or high end of its range, or by its lot where named."""
    if which == "named" and oil.lot_saponification is not None:
        return float(lye_science.naoh_per_gram(oil.lot_saponification.mid))
    stated = oil.saponification
    value = {"low": stated.low, "high": stated.high}.get(which, stated.mid)
    return float(lye_science.naoh_per_gram(value))


def _on_their_makers_word(records: list[BaseOil], masses: Floats) -> dict[str, float]:
    beyond = ((record, max(_above_its_kind(record), _above_its_range(record))) for record in records)
    return {
        record.name: float(grams * lye_science.naoh_per_gram(more))
        for (record, more), grams in zip(beyond, masses, strict=True)
        if more > 0
    }


def _above_its_kind(oil: BaseOil) -> float:
    return above_ordinary(oil.name, (oil.lot_saponification or oil.saponification).mid)


def _above_its_range(oil: BaseOil) -> float:
    """How far a lot's value for which no certificate is named lies above the middle of what is published."""
    lot = None if oil.certificate else oil.lot_saponification
    return max(0.0, lot.mid - oil.saponification.mid) if lot is not None else 0.0


def _oil_fractions(recipe: Recipe, problems: Problems) -> Floats | None:
    """Shares of the oils: per cents that make 100 %, or masses divided by their sum."""
    amounts = list(recipe.oils.values())
    kinds = {amount.dimension for amount in amounts}
    values = np.array([amount.value for amount in amounts], dtype=float)
    total = float(values.sum())
    fault: tuple[str, str] | None = None
    if len(kinds) > 1:
        fault = "The oils mix per cents and masses.", "Give all of them in per cent, or all as masses."
    elif total <= 0:
        fault = "The recipe has no oils.", "Name at least one oil with its share."
    elif kinds == {Dimension.FRACTION} and abs(total - 1) > COMPLETE:
        remedy = "Change a share so that they make 100 %."
        fault = f"The oils add up to {100 * total:.6g} %, not 100 %.", remedy
    if fault is not None:
        problems.add(recipe, *fault, "oils")
        return None
    return values / total


def _assemble(
    recipe: Recipe,
    lye: Lye,
    records: list[BaseOil],
    masses: Floats,
    needs: dict[str, Floats],
    book: BookFiles,
    problems: Problems,
) -> Pot | None:
    oils = float(masses.sum())
    grams = {name: mass_of(amount, {Basis.BATCH_OILS: oils}) for name, amount in recipe.additives.items()}
    additives = added(grams, book)
    acids = float(sum(each.eaten for each in additives))
    need = float(lye_science.naoh_need(masses, needs["named"]))
    weighed = _lye_and_water(lye, need, acids, oils, recipe, problems)
    held = _held_back(recipe, masses, problems)
    if weighed is None or held is None:
        return None
    return Pot(
        tuple(recipe.oils),
        masses,
        held,
        needs,
        acids,
        naoh=weighed[0],
        purity=purity_of(lye),
        purity_stated=lye.purity is not None,
        water=weighed[1],
        added=additives,
        weighed=float(lye_science.weighed_down(weighed[0], lye_step(book))),
        loss=book.usual.pot_loss.value if book.usual.pot_loss else 0.0,
        on_their_makers_word=_on_their_makers_word(records, masses),
    )


def lye_step(book: BookFiles) -> float:
    """The step of the lye scale (g): as stated, else 1 g."""
    stated = book.usual.lye_scale_step
    return stated.value if stated is not None else ASSUMED_LYE_STEP


def _lye_and_water(
    lye: Lye, need: float, acids: float, oils: float, recipe: Recipe, problems: Problems
) -> tuple[float, float] | None:
    """Grams of NaOH and of water, or the reason why they cannot be."""
    try:
        if lye.naoh is not None:
            naoh = lye.naoh.value
        elif lye.superfat is not None and lye.superfat.value >= 1:
            raise ValueError("a superfat of 100 % leaves no lye to weigh")
        elif lye.superfat is not None:
            naoh = float(lye_science.lye_for_superfat(need, lye.superfat.value, purity_of(lye), acids))
        else:
            raise ValueError("it has neither a superfat nor a mass of NaOH")
        return naoh, water_mass(lye, naoh, oils)
    except ValueError as error:
        remedy = "Write `lye: {concentration: 31 %, superfat: 5 %}`, or NaOH and water as weighed."
        problems.add(recipe, f"The lye cannot be worked out: {error}.", remedy, "lye")
        return None


def _held_back(recipe: Recipe, masses: Floats, problems: Problems) -> Floats | None:
    """Grams of each oil that are kept out of the pot; None where that cannot be."""
    held, before = np.zeros(len(masses)), len(problems.found)
    for index, name in enumerate(recipe.oils):
        held[index] = sum(a.value for a in recipe.held_back.get(name, {}).values())
        if held[index] > masses[index] * (1 + ROUNDING):
            there = f"{held[index]:.4g} g of {name} are held back, but the recipe has {masses[index]:.4g} g."
            problems.add(recipe, there, "Hold back less, or put more of it in.", "held back", name)
    if held.sum() >= masses.sum() * (1 - ROUNDING):
        problems.add(recipe, "All oils are held back: the pot is empty.", "Hold back less.", "held back")
    return held if len(problems.found) == before else None


def mass_of(amount: Amount, bases: dict[Basis, float]) -> float:
    """Grams of an amount: a mass as it stands, a fraction of the basis it names (KeyError if not given)."""
    if amount.dimension is Dimension.MASS:
        return amount.value
    return amount.value * bases[amount.basis or Basis.BATCH_OILS]
