"""The split: what every portion is made of, in grams, before it is scented."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from blendwise.facts.columns import Floats
from blendwise.facts.situation.pot import COMPLETE, WHICH, Pot, mass_of, need_of
from blendwise.facts.situation.problems import Problems
from blendwise.quantity import Basis, Dimension
from blendwise.quantity.units import ML_PER_TEASPOON
from blendwise.records import BookFiles, Colourant, Plan, Portion, Recipe
from blendwise.science.mass import usable as usable_of


@dataclass(frozen=True, slots=True)
class Split:
    """Arrays over portions, masses in grams.

    ``share``: of the pot as split (sums to 1).  ``pot_batter``: batter taken from the pot, after its
    loss.  ``returned``: held-back oil that comes back.  ``mixed_in``: oil added on top.  ``oils``: the
    portion's share of the pot's oils and what it gets back (not what is mixed in on top).
    ``colour``: colourant masses, (colourants, portions).
    """

    names: tuple[str, ...]
    share: Floats
    pot_batter: Floats
    returned: Floats
    mixed_in: Floats
    returned_need: dict[str, Floats]
    mixed_in_need: dict[str, Floats]
    oils: Floats
    colourants: tuple[str, ...]
    colour: Floats

    @property
    def batter(self) -> Floats:
        """Grams of batter with what comes back, is mixed in and colours it; without scent."""
        return np.asarray(self.pot_batter + self.returned + self.mixed_in + self.colour.sum(axis=0))


def make_split(plan: Plan, pot: Pot, book: BookFiles, problems: Problems) -> Split | None:
    """Grams of every portion, or the reasons why they cannot be worked out."""
    names = tuple(p.name for p in plan.portions)
    if not names:
        problems.add(plan, "The plan has no portions.", "Write at least one under `portions:`.")
        return None
    usable = float(usable_of(pot.batter, pot.loss))
    share = _shares(plan, usable, problems)
    recipe = plan.recipe or book.usual.recipe
    assert recipe is not None
    back = _returned(recipe, names, pot, problems)
    mixed_in, mixed_in_need = _mixed_in(plan, book, problems)
    if share is None or back is None:
        return None
    returned, returned_need = back
    oils: Floats = share * pot.pot_oils * (1 - pot.loss) + returned
    colourants, colour = _colour(plan, oils, pot, share * usable, book, problems)
    pot_batter = share * usable
    return Split(
        names, share, pot_batter, returned, mixed_in, returned_need, mixed_in_need, oils, colourants, colour
    )


def _shares(plan: Plan, usable: float, problems: Problems) -> Floats | None:
    """Each portion's share of the pot: per cents, grams and parts, and one ``the rest``."""
    fixed = np.array([_fixed_share(p, usable) for p in plan.portions])
    parts = np.array([_parts(p) for p in plan.portions])
    rest = np.array([float(p.share == "the rest") for p in plan.portions])
    taken = float(fixed.sum())
    fault: tuple[str, str] | None = None
    if (fixed + parts + rest <= 0).any():
        fault = "A portion has a share of nothing.", "Give it a share, or leave the portion out."
    elif parts.any() and rest.any():
        fault = (
            "Parts and `the rest` are both open-ended.",
            "Use parts for all open portions, or `the rest` once.",
        )
    elif (parts.any() or rest.any()) and 1 - taken <= COMPLETE:
        fault = (
            f"The other portions already take {100 * taken:.6g} %.",
            "Lower their shares: something must be left.",
        )
    elif not parts.any() and not rest.any() and abs(1 - taken) > COMPLETE:
        over = "more" if taken > 1 else "less"
        total = f"The portions' shares add up to {100 * taken:.6g} %, {over} than the batter."
        fault = total, "Change a share, or give one portion `share: the rest`."
    if fault is not None:
        problems.add(plan, *fault, "portions")
        return None
    left = parts if parts.any() else rest
    return np.asarray(fixed + (1 - taken) * left / left.sum() if left.any() else fixed / taken)


def _fixed_share(portion: Portion, usable: float) -> float:
    amount = portion.share
    if isinstance(amount, str):
        return 0.0
    if amount.dimension is Dimension.MASS:
        return amount.value / usable
    return amount.value if amount.dimension is Dimension.FRACTION else 0.0


def _parts(portion: Portion) -> float:
    amount = portion.share
    return 0.0 if isinstance(amount, str) or amount.dimension is not Dimension.PARTS else amount.value


def _returned(
    recipe: Recipe, names: tuple[str, ...], pot: Pot, problems: Problems
) -> tuple[Floats, dict[str, Floats]] | None:
    """Held-back oil per portion, and the NaOH that it needs."""
    grams, before = np.zeros((len(pot.oils), len(names))), len(problems.found)
    for i, oil in enumerate(pot.oils):
        for portion, amount in recipe.held_back.get(oil, {}).items():
            if portion in names:
                grams[i, names.index(portion)] = amount.value
                continue
            lost = f'{amount} of {oil} is held back for "{portion}", and the plan has no such portion.'
            problems.add(recipe, lost, f"It has {', '.join(names)}.", "held back", oil, portion)
    if len(problems.found) > before:
        return None
    return grams.sum(axis=0), {which: per_gram @ grams for which, per_gram in pot.need_per_gram.items()}


def _mixed_in(plan: Plan, book: BookFiles, problems: Problems) -> tuple[Floats, dict[str, Floats]]:
    """Oil added on top per portion, and the NaOH that it would need."""
    grams = np.zeros(len(plan.portions))
    need = {which: np.zeros(len(plan.portions)) for which in WHICH}
    for p, portion in enumerate(plan.portions):
        for name, amount in portion.mixed_in.items():
            oil = book.oils.get(name)
            if oil is None:
                problems.unknown(portion, "mixed in", name, "base oil", book.oils)
                continue
            grams[p] += amount.value
            for which in WHICH:
                need[which][p] += amount.value * need_of(oil, which)
    return grams, need


def _colour(
    plan: Plan, oils: Floats, pot: Pot, batter: Floats, book: BookFiles, problems: Problems
) -> tuple[tuple[str, ...], Floats]:
    """Grams of each colourant in each portion."""
    names = tuple(dict.fromkeys(name for p in plan.portions for name in p.colourants))
    grams = np.zeros((len(names), len(plan.portions)))
    for p, portion in enumerate(plan.portions):
        bases = {
            Basis.PORTION_OILS: float(oils[p]),
            Basis.BATCH_OILS: pot.oils_total,
            Basis.PORTION_BATTER: float(batter[p]),
            Basis.BATCH_BATTER: pot.batter,
            Basis.OILS: float(oils[p]),
        }
        for name, amount in portion.colourants.items():
            record = book.colourants.get(name)
            if record is None:
                problems.unknown(portion, "colourants", name, "colourant", book.colourants)
            elif amount.dimension is Dimension.VOLUME:
                per = 1.0 if amount.basis is None else bases[amount.basis]
                grams[names.index(name), p] = _spooned(portion, record, amount.value * per, problems)
            else:
                grams[names.index(name), p] = mass_of(amount, bases)
    return names, grams


def _spooned(portion: Portion, record: Colourant, millilitres: float, problems: Problems) -> float:
    """Grams in so many mL of a colourant whose teaspoon was weighed."""
    spoon = record.grams_per_teaspoon
    if spoon is not None:
        return millilitres / ML_PER_TEASPOON * spoon.value
    fault = f'"{record.name}" is measured by the spoon, but nobody has weighed a teaspoon of it.'
    remedy = (
        f'Weigh one and write `grams per teaspoon:` for "{record.name}" in colourants.yaml, or give its mass.'
    )
    problems.add(portion, fault, remedy, "colourants", record.name)
    return 0.0
