"""The split: what every portion is made of, in grams, before it is scented."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from blendwise.facts.columns import Floats
from blendwise.facts.pot import COMPLETE, Pot, _need_of, mass_of
from blendwise.facts.problems import Problems
from blendwise.quantity import Basis, Dimension
from blendwise.records import BookFiles, Plan, Portion, Recipe


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
        return self.pot_batter + self.returned + self.mixed_in + self.colour.sum(axis=0)


def make_split(plan: Plan, pot: Pot, book: BookFiles, problems: Problems) -> Split | None:
    """Grams of every portion, or the reasons why they cannot be worked out."""
    names = tuple(p.name for p in plan.portions)
    if not names:
        problems.add(plan, "the plan has no portions", "write at least one under `portions:`")
        return None
    usable = pot.batter * (1 - pot.loss)
    share = _shares(plan, usable, problems)
    if share is None:
        return None
    recipe = plan.recipe or book.usual.recipe
    assert recipe is not None
    returned, returned_need = _returned(recipe, names, pot)
    mixed_in, mixed_in_need = _mixed_in(plan, book, problems)
    oils = share * pot.pot_oils * (1 - pot.loss) + returned
    colourants, colour = _colour(plan, oils, pot, share * usable, book, problems)
    if problems.found:
        return None
    return Split(
        names,
        share,
        share * usable,
        returned,
        mixed_in,
        returned_need,
        mixed_in_need,
        oils,
        colourants,
        colour,
    )


def _shares(plan: Plan, usable: float, problems: Problems) -> Floats | None:
    """Each portion's share of the pot: per cents, grams and parts, and one ``the rest``."""
    fixed = np.array([_fixed_share(p, usable) for p in plan.portions])
    parts = np.array([_parts(p) for p in plan.portions])
    rest = [p for p in plan.portions if p.share == "the rest"]
    taken = float(fixed.sum())
    left = 1 - taken
    if parts.sum() > 0 and rest:
        problems.add(
            rest[0],
            "parts and 'the rest' are both open-ended",
            "use parts for all open portions, or 'the rest' once",
        )
        return None
    if rest or parts.sum() > 0:
        if left <= COMPLETE:
            problems.add(
                plan,
                f"the other portions already take {100 * taken:.6g} %",
                "lower their shares: something must be left",
                "portions",
            )
            return None
        open_shares = (
            parts / parts.sum() if parts.sum() > 0 else np.array([float(p in rest) for p in plan.portions])
        )
        return np.asarray(fixed + left * open_shares)
    if abs(left) > COMPLETE:
        over = "more" if left < 0 else "less"
        problems.add(
            plan,
            f"the portions' shares add up to {100 * taken:.6g} %, {over} than 100 %",
            "change a share, or give one portion `share: the rest`",
            "portions",
        )
        return None
    return np.asarray(fixed / taken)


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


def _returned(recipe: Recipe, names: tuple[str, ...], pot: Pot) -> tuple[Floats, dict[str, Floats]]:
    """Held-back oil per portion, and the NaOH that it needs."""
    grams = np.zeros((len(pot.oils), len(names)))
    for i, oil in enumerate(pot.oils):
        for portion, amount in recipe.held_back.get(oil, {}).items():
            grams[i, names.index(portion)] = amount.value
    return grams.sum(axis=0), {which: per_gram @ grams for which, per_gram in pot.need_per_gram.items()}


def _mixed_in(plan: Plan, book: BookFiles, problems: Problems) -> tuple[Floats, dict[str, Floats]]:
    """Oil added on top per portion, and the NaOH that it would need."""
    grams = np.zeros(len(plan.portions))
    need = {which: np.zeros(len(plan.portions)) for which in ("low", "mid", "high", "named")}
    for p, portion in enumerate(plan.portions):
        for name, amount in portion.mixed_in.items():
            oil = book.oils.get(name)
            if oil is None:
                problems.unknown(portion, "mixed_in", name, "base oil", book.oils)
                continue
            grams[p] += amount.value
            for which in need:
                need[which][p] += amount.value * _need_of(oil, which)
    return grams, need


def _colour(
    plan: Plan, oils: Floats, pot: Pot, batter: Floats, book: BookFiles, problems: Problems
) -> tuple[tuple[str, ...], Floats]:
    """Grams of each colourant in each portion."""
    names = tuple(dict.fromkeys(name for p in plan.portions for name in p.colourants))
    grams = np.zeros((len(names), len(plan.portions)))
    for p, portion in enumerate(plan.portions):
        for name, amount in portion.colourants.items():
            record = book.colourants.get(name)
            if record is None:
                problems.unknown(portion, "colourants", name, "colourant", book.colourants)
                continue
            if amount.dimension is Dimension.VOLUME:
                spoon = record.grams_per_teaspoon
                if spoon is None:
                    problems.add(
                        portion,
                        f"'{name}' is measured by the spoon, but nobody has weighed a teaspoon of it",
                        f"weigh one and write `grams per teaspoon:` for '{name}' in colourants.yaml, or give grams",
                        "colourants",
                    )
                    continue
                grams[names.index(name), p] = amount.value / TEASPOON_ML * spoon.value
                continue
            bases = {
                Basis.PORTION_OILS: float(oils[p]),
                Basis.BATCH_OILS: pot.oils_total,
                Basis.PORTION_BATTER: float(batter[p]),
                Basis.BATCH_BATTER: pot.batter,
                Basis.OILS: float(oils[p]),
            }
            grams[names.index(name), p] = mass_of(amount, bases)
    return names, grams


TEASPOON_ML = 4.92892159375  # US teaspoon, exact: 1/6 US fl oz
