"""Measures of what makers are told everywhere: fats that spoil, salt, milk, food, jug and pot, shapes."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from blendwise.facts.columns import Column, Missing
from blendwise.facts.measure import flag, number
from blendwise.facts.plain_columns import flags, known
from blendwise.facts.pour.temperatures import USUAL_ROOM, room_celsius
from blendwise.facts.situation.additions.additives import Added
from blendwise.facts.situation.worked_out import Situation
from blendwise.science import base_oils, dissolving
from blendwise.science.look_alike import like_food

SOURCE = "oils.yaml, additives.yaml and usual.yaml over the shipped tables of oils and additives"

FOOD_IN_PIECES: Final = ("purée", "botanical", "grain")  # kinds that stay in the bar as food
BATTER_DENSITY: Final = 1.0  # g/mL of fresh batter, 1.00 to 1.02 by arithmetic on oil and lye


@number("polyunsaturated", "batch", unit="% of oils", dimension="FRACTION", highest=1.0)
def polyunsaturated(s: Situation) -> Column:
    """Fat that turns rancid soonest: linoleic and linolenic acid, by the oil's own paper or its kind.

    Formula: Σ share of the oil × its linoleic and linolenic acid
    """
    oils = [s.book.oils[name] for name in s.pot.oils]
    stated = [oil.polyunsaturated.value if oil.polyunsaturated else None for oil in oils]
    shares = s.pot.masses / s.pot.oils_total
    least, middle, most, all_of_it = base_oils.polyunsaturated(s.pot.oils, shares, stated)
    lost = tuple(
        Missing(name, "polyunsaturated")
        for name, own in zip(s.pot.oils, stated, strict=True)
        if own is None and base_oils.base_oil(name) is None
    )
    unknown = all_of_it - most if lost else 0.0
    ends = [np.array([end]) for end in (middle, middle + unknown, least, most + unknown)]
    return Column(ends[0], ends[1], missing={0: lost} if lost else {}, least=ends[2], most=ends[3])


def _of_oils(s: Situation, grams: Callable[[Added], float]) -> Column:
    return known([sum(grams(each) for each in s.pot.added) / s.pot.oils_total])


@number("salt", "batch", unit="% of oils", dimension="FRACTION", basis="of batch oils")
def salt(s: Situation) -> Column:
    """Salt among the additives, on the oils.

    Formula: Σ grams × salt content ÷ oils mass
    """
    return _of_oils(s, lambda each: each.grams * each.what.salt)


@flag("cut from a block", "batch")
def cut_from_a_block(s: Situation) -> Column:
    """Whether it is poured into a mould whose block is cut.

    Where no mould is named, several portions poured together make a block, one alone may be for cavities.
    """
    recipe = s.plan.recipe or s.book.usual.recipe
    mould = recipe.amount.mould if recipe and recipe.amount else None
    return flags([len(s.portions) > 1 if mould is None else mould != "cavities"])


@number("milk", "batch", unit="% of oils", dimension="FRACTION", basis="of batch oils")
def milk(s: Situation) -> Column:
    """Milk, cream and their powders among the additives, on the oils.

    Formula: Σ grams of milks ÷ oils mass
    """
    return _of_oils(s, lambda each: each.grams if each.what.kind == "milk" else 0.0)


@number("fresh food", "batch", unit="% of oils", dimension="FRACTION", basis="of batch oils")
def fresh_food(s: Situation) -> Column:
    """Fruit, purée, juice and fresh plants among the additives, on the oils; milk is not counted.

    Formula: Σ grams of fresh food ÷ oils mass
    """
    here = FOOD_IN_PIECES
    return _of_oils(s, lambda each: each.grams if each.what.fresh and each.what.kind in here else 0.0)


@number("hottest lye", "batch", unit="°C", dimension="TEMPERATURE")
def hottest_lye(s: Situation) -> Column:
    """How hot fresh lye gets from water at the room's temperature, with what jug and air may take of it.

    Formula: room + kept × heat of solution × NaOH ÷ ((NaOH + water) × heat capacity), kept 75 to 100 %
    """
    room = room_celsius(s)
    least, middle, most = dissolving.hottest_lye(
        s.pot.mixed_concentration, USUAL_ROOM if room is None else room
    )
    at = np.atleast_1d(middle)
    return Column(at, at, least=np.atleast_1d(least), most=np.atleast_1d(most))


def hottest_end(s: Situation) -> float:
    """°C at the hot end, where jug and air take nothing: the figure that is told before lye is mixed."""
    column = s.home("hottest lye")
    assert isinstance(column, Column)
    return float(column.outer[1][0])


@number("lye volume", "batch", unit="mL", dimension="VOLUME")
def lye_volume(s: Situation) -> Column:
    """Room that the lye takes once it has cooled.

    Formula: (NaOH + water) ÷ density of the lye
    """
    return known(np.atleast_1d(dissolving.lye_volume(s.pot.naoh, s.pot.water)))


@number("lye jug filled", "batch", unit="% of the jug", dimension="FRACTION")
def lye_jug_filled(s: Situation) -> Column:
    """How full the lye makes its jug (not asked where usual.yaml does not say what the jug holds).

    Formula: lye volume ÷ jug
    """
    return _filled(float(dissolving.lye_volume(s.pot.naoh, s.pot.water)), s.book.usual.lye_jug)


@number("pot filled", "batch", unit="% of the pot", dimension="FRACTION")
def pot_filled(s: Situation) -> Column:
    """How full the batter makes its pot (not asked where usual.yaml does not say what the pot holds).

    Formula: batter mass ÷ 1 g/mL ÷ pot
    """
    return _filled(s.pot.batter / BATTER_DENSITY, s.book.usual.pot)


def _filled(millilitres: float, vessel: object) -> Column:
    holds = getattr(vessel, "value", None)
    return known([0.0 if holds is None else millilitres / holds], np.array([holds is not None]))


@flag("shaped like food", "batch")
def shaped_like_food(s: Situation) -> Column:
    """Whether the mould's `shape` or a piece set in is named after food; a scent never counts."""
    recipe = s.plan.recipe or s.book.usual.recipe
    amount = recipe.amount if recipe else None
    named = [amount.shape if amount and amount.shape else "", *(embed.what for embed in s.plan.embeds)]
    return flags([any(map(like_food, named))])
