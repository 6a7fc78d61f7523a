"""The recipe as grams in the pot: oils, lye, water, additives, what is held back, and the batter as split."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from blendwise.facts.columns import Floats
from blendwise.facts.problems import Problems
from blendwise.quantity import Amount, Basis, Dimension
from blendwise.records import BaseOil, BookFiles, Lye, Plan, Recipe
from blendwise.science import lye as lye_science
from blendwise.science import mould as mould_science

COMPLETE = 1e-3  # recipes and shares may miss 100 % by a tenth of a per cent of rounding


@dataclass(frozen=True, slots=True)
class Pot:
    """All masses in grams; arrays over the recipe's oils.

    ``need_low/mid/high``: NaOH that the whole recipe needs (oils by the low, mid and high end of their
    saponification range, acids included), NaN where a value is not known.  ``need_named``: by the lot's
    certificate where one is named, else by the mid value.
    """

    oils: tuple[str, ...]
    masses: Floats
    held: Floats  # kept out of the pot, per oil
    need_per_gram: dict[str, Floats]  # low, mid, high, named: g NaOH per g of oil
    acids_need: float
    naoh: float
    purity: float
    purity_stated: bool
    water: float
    additives: dict[str, float]
    has_lot_certificate: bool
    from_certificate: bool = False
    loss: float = 0.0
    assumptions: tuple[str, ...] = field(default=())

    @property
    def oils_total(self) -> float:
        return float(self.masses.sum())

    @property
    def pot_oils(self) -> float:
        """Oils in the pot as split: the recipe's less what is held back."""
        return float((self.masses - self.held).sum())

    @property
    def additive_mass(self) -> float:
        return float(sum(self.additives.values()))

    @property
    def batter(self) -> float:
        """The pot as split: oils, NaOH (as weighed), water, additives; before scent and colour."""
        return self.pot_oils + self.naoh + self.water + self.additive_mass

    @property
    def batter_to_oils(self) -> float:
        return self.batter / self.pot_oils

    @property
    def lye_concentration(self) -> float:
        return self.naoh / (self.naoh + self.water)

    def need(self, which: str = "mid") -> float:
        """NaOH for the whole recipe, acids included; ``which``: low, mid, high or named."""
        return float((self.masses * self.need_per_gram[which]).sum()) + self.acids_need

    def pot_need(self, which: str = "mid") -> float:
        """NaOH for the oils in the pot as split, acids included."""
        return float(((self.masses - self.held) * self.need_per_gram[which]).sum()) + self.acids_need

    def share_of(self, names: frozenset[str]) -> float:
        """Share of the recipe's oils whose names are given."""
        wanted = np.array([name in names for name in self.oils], dtype=bool)
        return float(self.masses[wanted].sum() / self.oils_total)


def fill_pot(plan: Plan, book: BookFiles, problems: Problems) -> Pot | None:
    """Work out the pot, or report why it cannot be (every reason, each with its line)."""
    recipe = plan.recipe or book.usual.recipe
    if recipe is None:
        problems.add(
            plan,
            "the plan has no recipe, and usual.yaml names none",
            "write `recipe:` with oils, amount and lye",
        )
        return None
    lye = recipe.lye or book.usual.lye
    if lye is None:
        problems.add(
            recipe, "the recipe says nothing of the lye", "write `lye: {concentration: 31 %, superfat: 5 %}`"
        )
        return None
    records = _base_oils(recipe, book, problems)
    needs = {which: _needs(records, which) for which in ("low", "mid", "high", "named")}
    fractions = _oil_fractions(recipe, problems)
    if problems.found or fractions is None:
        return None
    masses = _oil_masses(plan, recipe, lye, fractions, needs["named"], book, problems)
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
    return np.array([_need_of(record, which) for record in records], dtype=float)


def _need_of(oil: BaseOil, which: str) -> float:
    """g NaOH per g of one oil; NaN where nobody has written a saponification value."""
    stated = oil.saponification
    if which == "named" and oil.lot_saponification is not None:
        return float(lye_science.naoh_per_gram(oil.lot_saponification.mid))
    if stated is None:
        return float("nan")
    value = {"low": stated.low, "high": stated.high}.get(which, stated.mid)
    return float(lye_science.naoh_per_gram(value))


def _oil_fractions(recipe: Recipe, problems: Problems) -> Floats | None:
    """Shares of the oils: per cents that make 100 %, or masses divided by their sum."""
    amounts = list(recipe.oils.values())
    kinds = {amount.dimension for amount in amounts}
    values = np.array([amount.value for amount in amounts], dtype=float)
    if len(kinds) > 1:
        problems.add(
            recipe,
            "the oils mix per cents and masses",
            "give all oils in per cent, or all in grams or ounces",
            "oils",
        )
        return None
    total = float(values.sum())
    if total <= 0:
        problems.add(recipe, "the recipe has no oils", "name at least one oil with its share", "oils")
        return None
    if kinds == {Dimension.FRACTION} and abs(total - 1) > COMPLETE:
        problems.add(
            recipe,
            f"the oils add up to {100 * total:.6g} %, not 100 %",
            "change a share so that they make 100 %",
            "oils",
        )
        return None
    return values / total


def _oil_masses(
    plan: Plan,
    recipe: Recipe,
    lye: Lye,
    fractions: Floats,
    need_per_gram: Floats,
    book: BookFiles,
    problems: Problems,
) -> Floats | None:
    amounts = list(recipe.oils.values())
    amount = recipe.amount
    if amounts[0].dimension is Dimension.MASS:
        return np.array([a.value for a in amounts], dtype=float)
    if amount is not None and amount.oils is not None:
        return fractions * amount.oils.value
    if amount is None:
        problems.add(
            recipe, "the plan does not say how much", "write `amount: {oils: 1000 g}` or give the mould"
        )
        return None
    total = _oils_for_mould(plan, recipe, lye, float((fractions * need_per_gram).sum()), book, problems)
    return None if total is None else fractions * total


def _oils_for_mould(
    plan: Plan, recipe: Recipe, lye: Lye, need_per_gram: float, book: BookFiles, problems: Problems
) -> float | None:
    """Oils that fill the mould: its volume, less embeds, by the maker's own multiplier or by density."""
    amount = recipe.amount
    assert amount is not None
    volume = _mould_volume(recipe, problems)
    if volume is None:
        return None
    fill = amount.fill.value if amount.fill is not None else 1.0
    embeds = float(sum(embed.mass.value for embed in plan.embeds))
    loss = book.usual.pot_loss.value if book.usual.pot_loss else 0.0
    try:
        per_ml = (
            book.usual.oils_per_volume.value
            if book.usual.oils_per_volume
            else _oils_per_ml(lye, need_per_gram)
        )
        scent = _rate_on_oils(plan, book)
        oils = mould_science.oils_to_fill(
            volume, per_ml, scent_per_oil=scent, embeds=embeds, fill=fill, loss=loss
        )
    except ValueError as error:
        problems.add(
            recipe,
            f"the mould cannot be filled: {error}",
            "correct that, or write `amount: {oils: 1000 g}`",
            "amount",
        )
        return None
    return float(oils)


def _mould_volume(recipe: Recipe, problems: Problems) -> float | None:
    amount = recipe.amount
    assert amount is not None
    if amount.volume is not None:
        return amount.volume.value * (amount.cavities or 1)
    if amount.inside is not None:
        return float(mould_science.box_volume(*amount.inside)) * (amount.cavities or 1)
    problems.add(
        recipe,
        "the mould has no size",
        "write `inside: 25 x 9 x 6.5 cm`, `volume: 1450 mL` or `oils: 1000 g`",
        "amount",
    )
    return None


def _oils_per_ml(lye: Lye, need_per_gram: float) -> float:
    """Grams of oils per mL of batter, from the recipe's own lye."""
    if lye.superfat is None:
        raise ValueError("lye given in grams does not say how much oil it is for")
    ratio = float(lye_science.lye_for_superfat(need_per_gram, lye.superfat.value, _purity(lye)))
    water = _water_mass(lye, ratio, 1.0)
    return float(mould_science.oils_per_ml(lye_science.concentration(ratio, water), ratio))


def _rate_on_oils(plan: Plan, book: BookFiles) -> float:
    load = (plan.scents.load if plan.scents else None) or book.usual.load
    return load.value if plan.scents and load is not None and load.dimension is Dimension.FRACTION else 0.0


def _purity(lye: Lye) -> float:
    return lye.purity.value if lye.purity else 1.0


def _water_mass(lye: Lye, naoh: float, oils: float) -> float:
    """Grams of water, however the maker states it.  ValueError where it is not stated or beyond reason."""
    if lye.water is not None:
        lye_science.concentration(naoh, lye.water.value)
        return lye.water.value
    if lye.concentration is not None:
        return float(lye_science.water_from_concentration(naoh, lye.concentration.value))
    if lye.water_to_lye is not None:
        return float(lye_science.water_from_ratio(naoh, lye.water_to_lye.value))
    if lye.water_of_oils is not None:
        water = float(lye_science.water_from_oils(oils, lye.water_of_oils.value))
        lye_science.concentration(naoh, water)
        return water
    raise ValueError("the water is not stated")


def _assemble(
    recipe: Recipe,
    lye: Lye,
    records: list[BaseOil],
    masses: Floats,
    needs: dict[str, Floats],
    book: BookFiles,
    problems: Problems,
) -> Pot | None:
    additives = {
        name: mass_of(amount, {Basis.BATCH_OILS: float(masses.sum())})
        for name, amount in recipe.additives.items()
    }
    acids = acids_need(additives)
    naoh = _naoh(lye, float((masses * needs["named"]).sum()) + acids, recipe, problems)
    if naoh is None:
        return None
    water = _water(lye, naoh, float(masses.sum()), recipe, problems)
    if water is None:
        return None
    held = _held_back(recipe, masses, problems)
    loss = book.usual.pot_loss.value if book.usual.pot_loss else 0.0
    return Pot(
        tuple(recipe.oils),
        masses,
        held,
        needs,
        acids,
        naoh,
        _purity(lye),
        lye.purity is not None,
        water,
        additives,
        has_lot_certificate=any(r.lot_saponification is not None for r in records),
        loss=loss,
    )


def _naoh(lye: Lye, need: float, recipe: Recipe, problems: Problems) -> float | None:
    if lye.naoh is not None:
        return lye.naoh.value
    if lye.superfat is None:
        problems.add(
            recipe,
            "the lye has neither a superfat nor a mass",
            "write `superfat: 5 %`, or NaOH and water as weighed",
            "lye",
        )
        return None
    if not np.isfinite(need):
        problems.add(
            recipe,
            "an oil's saponification value is not known, so the lye cannot be worked out",
            "write `saponification:` for it in oils.yaml, or give NaOH and water as weighed",
            "oils",
        )
        return None
    return float(lye_science.lye_for_superfat(need, lye.superfat.value, _purity(lye)))


def _water(lye: Lye, naoh: float, oils: float, recipe: Recipe, problems: Problems) -> float | None:
    try:
        return _water_mass(lye, naoh, oils)
    except ValueError as error:
        problems.add(
            recipe, f"the lye: {error}", "write `concentration: 31 %`, or the water as weighed", "lye"
        )
        return None


def acids_need(additives: dict[str, float]) -> float:
    """NaOH eaten by the acids among the additives (g)."""
    return float(
        sum(
            lye_science.acid_need(name, grams)
            for name, grams in additives.items()
            if name in lye_science.ACID_PROTONS
        )
    )


def _held_back(recipe: Recipe, masses: Floats, problems: Problems) -> Floats:
    held = np.zeros(len(masses))
    for index, name in enumerate(recipe.oils):
        held[index] = sum(a.value for a in recipe.held_back.get(name, {}).values())
        if held[index] > masses[index] * (1 + 1e-9):
            problems.add(
                recipe,
                f"{held[index]:.4g} g of {name} are held back, but the recipe has {masses[index]:.4g} g",
                "hold back less, or put more of it in the recipe",
                "held_back",
            )
    return held


def mass_of(amount: Amount, bases: dict[Basis, float]) -> float:
    """Grams of an amount: a mass as it stands, a fraction of the basis it names (KeyError if not given)."""
    if amount.dimension is Dimension.MASS:
        return amount.value
    return amount.value * bases[amount.basis or Basis.BATCH_OILS]
