"""The small pot of some cups: the maker's own recipe in whole steps of their scale, its lye rounded down.

What is weighed is what is judged: the recipe handed to the judge holds the grams of the sheet and no rates.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from blendwise.answers.cup.question import Wanted
from blendwise.answers.pair.plan import NOTHING_ELSE
from blendwise.answers.sheet.weigh import DECIMALS
from blendwise.answers.small_amounts import fine_step, rounded, shown
from blendwise.facts.columns import Column
from blendwise.facts.measures.dose import scale_step
from blendwise.facts.situation.pot import lye_step
from blendwise.facts.situation.worked_out import Situation, work_out
from blendwise.quantity import Amount, Basis, Dimension, Units
from blendwise.quantity.units import GRAMS_PER_OUNCE
from blendwise.records.book import BookFiles
from blendwise.records.kinds.plan import Plan, Portion, Scents
from blendwise.records.kinds.recipe import Lye, Process, Recipe
from blendwise.records.kinds.scent import BANDS
from blendwise.records.reading.fields import Dose
from blendwise.science.lye import weighed_down

CONTROL: Final = "control"
CLINGS: Final = 0.05
"""Part of so small a batter that stays on pot, whisk and spatula: common practice, twice that of a pot."""
FINEST: Final = 0.1
"""Grams below which nobody weighs oils, water and lye: 0.1 g of 27 g of lye is 0.4 % of superfat."""
MOST_STEPS: Final = 40
"""Steps of oil by which rounding may be made good: eight oils of half a step each need no more than ten."""
LADDER: Final = (1.0, 2.0, 5.0, 10.0)


@dataclass(frozen=True, slots=True)
class SmallPot:
    """Grams to weigh for all cups together; ``size``: batter of one cup; ``step``: of the scale."""

    oils: Mapping[str, float]
    additives: Mapping[str, float]
    naoh: float
    water: float
    size: float
    cups: int
    step: float

    @property
    def whole(self) -> float:
        """All that is weighed."""
        return math.fsum((*self.oils.values(), *self.additives.values(), self.naoh, self.water))

    @property
    def cup_oils(self) -> float:
        """Grams of base oils in the batter of one cup."""
        return self.size * math.fsum(self.oils.values()) / self.whole

    @property
    def spare(self) -> float:
        """What is over when every cup has its batter."""
        return self.whole - self.size * self.cups


def pot_step(s: Situation) -> float:
    """Grams of the finer of the maker's scales: so small a pot is weighed on it, lye and all."""
    return shown_step(max(min(scale_step(s), lye_step(s.book)), FINEST), s.book.usual.units)


def scent_step(s: Situation) -> float:
    """Grams of one step of the scent scale, as it is shown."""
    return shown_step(scale_step(s), s.book.usual.units)


def shown_step(step: float, units: Units) -> float:
    """A step that the book's unit shows whole: itself in grams, else the next 1, 2 or 5 of ounces."""
    if units.mass != "oz":
        return step
    ounces = step / GRAMS_PER_OUNCE
    ten = 10.0 ** math.floor(math.log10(ounces) + 1e-9)
    return next(each for each in LADDER if each * ten >= ounces * (1 - 1e-6)) * ten * GRAMS_PER_OUNCE


def small_pot(wanted: Wanted) -> SmallPot:
    """The recipe for as many cups and a control, a little more than they hold, its lye in whole steps.

    The superfat of what is weighed is never below the asked.
    """
    pot, step, cups = wanted.base.pot, pot_step(wanted.base), len(wanted.fillings) + 1
    size = rounded(wanted.size, step)
    asked = pot.oils_total + pot.naoh + pot.water + pot.additive_mass
    part = steps_up(size * cups / (1 - clinging(wanted.base)) / asked * pot.naoh, step) / pot.naoh
    whole = steps_up(part * asked, step)
    oils = {n: rounded(float(g) * part, step) for n, g in zip(pot.oils, pot.masses, strict=True)}
    fine = min(step, scent_step(wanted.base))
    unit = wanted.base.book.usual.units.mass
    additives = {each.name: shown(each.grams * part, fine, unit)[0] for each in pot.added}
    naoh = round(float(weighed_down(pot.naoh * part, step)), DECIMALS)
    return _not_below(wanted, _watered(SmallPot(oils, additives, naoh, 0.0, size, cups, step), whole))


def _watered(small: SmallPot, whole: float) -> SmallPot:
    """The rest of the batter is water, to the step."""
    water = round((whole - replace(small, water=0.0).whole) / small.step) * small.step
    return replace(small, water=round(water, DECIMALS))


def _not_below(wanted: Wanted, small: SmallPot) -> SmallPot:
    """Of its greatest oil a step more, in place of water, until what is weighed keeps the superfat."""
    asked, whole = superfat(wanted.base), small.whole
    for _ in range(MOST_STEPS if asked is not None else 0):
        weighed = superfat(in_memory(wanted, small, (Cup(CONTROL, {}, {}, {}),), CONTROL))
        if weighed is None or weighed >= (asked or 0.0) - 1e-9:
            break
        most = max(small.oils, key=lambda name: small.oils[name])
        more = round(small.oils[most] + small.step, DECIMALS)
        small = _watered(replace(small, oils={**small.oils, most: more}), whole)
    return small


def steps_up(grams: float, step: float) -> float:
    """The whole steps that hold a mass."""
    return math.ceil(grams / step - 1e-6) * step


def superfat(s: Situation) -> float | None:
    """The superfat of a pot, a fraction; None where it is not known."""
    column = s.home("superfat")
    assert isinstance(column, Column)
    return float(column.low[0]) if column.known[0] else None


def clinging(s: Situation) -> float:
    """Part of the batter that never reaches a cup."""
    return max(s.pot.loss, CLINGS)


@dataclass(frozen=True, slots=True)
class Cup:
    """One cup: grams of each oil as weighed, of each colourant, and the lots that are not the shelf's."""

    name: str
    scents: Mapping[str, float]
    colours: Mapping[str, float]
    lots: Mapping[str, str]


def cups_of(wanted: Wanted, small: SmallPot) -> tuple[Cup, ...]:
    """The control, then the cups as asked, their scent in whole steps of the scent scale."""
    step, oils = scent_step(wanted.base), small.cup_oils
    fine, unit = fine_step(wanted.base), wanted.base.book.usual.units.mass
    colours = {name: shown(rate * oils, fine, unit)[0] for name, rate in wanted.colours.items()}
    scented = [
        Cup(
            f"cup {number}",
            {name: rounded(rate * oils, step) for name, rate in filling.rates.items()},
            colours,
            filling.lots,
        )
        for number, filling in enumerate(wanted.fillings, 1)
    ]
    return (Cup(CONTROL, {}, colours, {}), *scented)


def in_memory(wanted: Wanted, small: SmallPot, cups: Sequence[Cup], name: str) -> Situation:
    """These cups as the portions of a plan for home, worked out; one by itself is all of the pot."""
    base, oils = wanted.base, small.cup_oils
    plan = Plan.model_construct(
        plan=name,
        for_="home",
        recipe=_recipe(base, small),
        process=_process(base),
        pour=None,
        portions=[_portion(cup, oils) for cup in cups],
        scents=_scents(cups, oils),
        doses={cup.name: {n: Dose(_rate(g / oils), None, "") for n, g in cup.scents.items()} for cup in cups},
        **NOTHING_ELSE,
    )
    book = _weighed_so(base.book, small)
    return work_out(plan, book, base.today, believing=base.believing)


def _recipe(base: Situation, small: SmallPot) -> Recipe:
    pot = base.pot
    lye = Lye.model_construct(
        naoh=_mass(small.naoh),
        water=_mass(small.water),
        purity=_share(pot.purity) if pot.purity_stated else None,
    )
    return Recipe.model_construct(
        oils={name: _mass(grams) for name, grams in small.oils.items()},
        lye=lye,
        additives={name: _mass(grams) for name, grams in small.additives.items()},
        held_back={},
    )


def _process(base: Situation) -> Process:
    """The day's ways of the plan, else the usual ones, which count only where the plan has no recipe."""
    if base.plan.process is not None:
        return base.plan.process
    usual = base.book.usual
    return Process.model_construct(
        stays_fluid=usual.stays_fluid if base.plan.recipe is None else None, gel_plan=usual.gel_plan
    )


def _portion(cup: Cup, oils: float) -> Portion:
    """It may brown as it likes: that is what is looked for."""
    return Portion.model_construct(
        name=cup.name,
        share=Amount(1.0, 1.0, Dimension.PARTS, None, "1"),
        colourants={name: _rate(grams / oils) for name, grams in cup.colours.items()},
        mixed_in={},
        may_become=BANDS[-1],
        scented=None if cup.scents else False,
    )


def _scents(cups: Sequence[Cup], oils: float) -> Scents | None:
    """The blend that all cups hold together, so that their doses add up to it."""
    total: dict[str, float] = {}
    for cup in cups:
        for name, grams in cup.scents.items():
            total[name] = total.get(name, 0.0) + grams
    if not total:
        return None
    parts = {name: Amount(grams, grams, Dimension.PARTS, None, f"{grams:g}") for name, grams in total.items()}
    load = math.fsum(total.values()) / (oils * len(cups))
    return Scents.model_construct(blend=parts, load=_rate(load, Basis.BATCH_OILS), dosing=None, stabilised=[])


def _weighed_so(book: BookFiles, small: SmallPot) -> BookFiles:
    """The book with the scale and the losses of so small a pot."""
    change = {
        "pot_loss": _share(small.spare / small.whole),
        "cup_loss": None,
        "lye_scale_step": _mass(small.step),
    }
    return replace(book, usual=book.usual.model_copy(update=change))


def _mass(grams: float) -> Amount:
    return Amount(grams, grams, Dimension.MASS, None, f"{grams:g} g")


def _share(value: float) -> Amount:
    return Amount(value, value, Dimension.FRACTION, None, f"{100 * value:g} %")


def _rate(value: float, basis: Basis = Basis.PORTION_OILS) -> Amount:
    return Amount(value, value, Dimension.FRACTION, basis, f"{100 * value:g} % {basis}")
