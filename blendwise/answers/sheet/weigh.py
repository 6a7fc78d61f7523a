"""What is weighed for a bench sheet: the pot, the cups and the premixes, to the step of the scales."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from blendwise.answers.portion_colours import Look, looks_of
from blendwise.answers.sheet.result import Cup, Dye, Mix, PotSheet, Weighed
from blendwise.answers.small_amounts import fine_step, rounded, shown
from blendwise.facts.columns import Column, Floats
from blendwise.facts.measures.dose import scale_step
from blendwise.facts.measures.making import hottest_end
from blendwise.facts.situation.additions.additives import Added
from blendwise.facts.situation.pot import Pot, lye_step
from blendwise.facts.situation.worked_out import Situation
from blendwise.records.kinds.colourant import Colourant
from blendwise.science import lye as lye_science
from blendwise.science.mould import OIL_DENSITY, batter_volume

CARRIER = 2.5  # grams of liquid to a gram of powder: common practice, 2 to 3
WETTING_STEP = 1.0  # g: nobody weighs it more finely
SMOOTH_IN, SPOONFUL = 10.0, 15.0  # g of batter to a gram of powder, and at least: common practice
CLINGS, DROPS = 0.03, 0.5  # part of a mix, and g at least, that stay on glass and spoon: judgement
CUP_ROOM, POT_ROOM = 2.0, 1.5  # times the batter that a cup and the pot should hold: common practice
DECIMALS = 6  # of a gram, of sums
EXACT = 1e-6  # of a step, within which a sum of steps is whole


def weighable(s: Situation) -> Situation:
    """The situation at doses in whole steps of the scale, as they will be weighed: what is judged is that."""
    step, x = scale_step(s), s.x.copy()
    for group in s.mixes:
        index = list(group)
        totals = x[index].sum(axis=0)
        new = np.array([rounded(float(t), step) for t in totals])
        x[index] *= np.divide(new, totals, out=np.zeros_like(new), where=totals > 0)
    for i in range(len(s.scents)):
        if not any(i in group for group in s.mixes):
            x[i] = [rounded(float(grams), step) for grams in x[i]]
    return s.with_doses(x, tuple(s.mixes))


def mixes(s: Situation) -> tuple[Mix, ...]:
    """The premixes: what goes into each with what will cling to glass and spoon, and its grams in all."""
    return tuple(_mix(s, mix_name(number), group) for number, group in enumerate(s.mixes, 1))


def _mix(s: Situation, name: str, group: tuple[int, ...]) -> Mix:
    step, taken = scale_step(s), float(s.x[list(group)].sum())
    more = 1 + max(CLINGS, DROPS / taken) if taken > 0 else 1.0
    scents = tuple(_scent(s, name, i, more * float(s.x[i].sum()), step) for i in group if s.x[i].any())
    grams = round(math.fsum(each.grams for each in scents), DECIMALS)
    return Mix(name, scents, grams, max(round(grams - taken, DECIMALS), 0.0))


def mix_name(number: int) -> str:
    """What a mix is called here and in an assignment."""
    return f"premix {number}"


def _scent(s: Situation, into: str, index: int, grams: float, step: float) -> Weighed:
    return Weighed(into, "scent", s.scents[index], rounded(grams, step), step, s.scent_records[index].lot)


# Alcohol by mass from which its vapour catches fire in a warm room, so that it is never boiled off indoors:
# spirits of 40 % by volume have a flash point of about 26 °C (handbooks, from memory).
SPIRIT = 0.2
DRY = 0.1  # of an additive: milk with no more water is a powder, which nobody freezes


def pot_sheet(s: Situation, added_to_all: float = 0.0) -> PotSheet:
    """The pot in whole steps of the large scale; small things in steps of the fine one.

    ``added_to_all``: grams that the cups hold besides their batter, for which the pot has room too: a pour
    may bring them together in it.
    """
    pot, coarse = s.pot, lye_step(s.book)
    net = _net(s)
    clear = s.home("clear temperature")
    assert isinstance(clear, Column)
    water = rounded(pot.water, coarse)
    return PotSheet(
        oils=tuple(Weighed("pot", "oil", n, float(g), coarse) for n, g in zip(pot.oils, net, strict=True)),
        hard=tuple(n for n in pot.oils if s.book.oils[n].hardness in ("hard", "soft")),
        naoh=Weighed("jug", "lye", "sodium hydroxide", pot.weighed, coarse),
        water=Weighed("jug", "water", "water", water, coarse),
        purity=pot.purity,
        purity_stated=pot.purity_stated,
        additives=_additives(s),
        oils_in_pot=pot.pot_oils,
        whole=pot.batter,
        concentration=pot.weighed / (pot.weighed + water),
        superfat=_superfat(pot, net),
        clear_from=float(clear.low[0]) if clear.known[0] else None,
        left_in_pot=_left(s),
        kinds={each.name: _kind(each) for each in pot.added if each.known},
        jug=_jug(s),
        holds=_vessel(s, pot.batter, added_to_all, POT_ROOM),
        hottest=hottest_end(s),
        on_your_word=_on_your_word(s),
    )


def _net(s: Situation) -> Floats:
    """The oils of the pot as they are weighed, what is held back left out."""
    return np.array([rounded(float(grams), lye_step(s.book)) for grams in s.pot.masses - s.pot.held])


def _additives(s: Situation) -> tuple[Weighed, ...]:
    fine, mass = fine_step(s), s.book.usual.units.mass
    there = ((name, grams) for name, grams in s.pot.additives.items() if grams > 0)
    return tuple(Weighed("pot", "additive", name, *shown(grams, fine, mass)) for name, grams in there)


def _whole(s: Situation) -> float:
    """Grams of all that is weighed for the pot, as the scale shows it."""
    water = rounded(s.pot.water, lye_step(s.book))
    return float(_net(s).sum()) + s.pot.weighed + water + math.fsum(each.grams for each in _additives(s))


def _batters(s: Situation) -> Floats:
    """Grams of batter for each cup in whole steps, together never more than was weighed for the pot.

    Where rounding asks for more, the cups that it gave most give a step back.
    """
    exact, coarse = s.split.pot_batter, lye_step(s.book)
    grams = np.array([rounded(float(each), coarse) for each in exact])
    over = math.ceil((grams.sum() - _whole(s)) / coarse - EXACT)
    for p in np.resize(np.argsort(exact - grams), max(over, 0)):
        grams[p] = max(rounded(float(grams[p]) - coarse, coarse), coarse)
    return grams


def _left(s: Situation) -> float:
    """Grams that the cups do not take, in whole steps, never more than there are."""
    coarse = lye_step(s.book)
    return max(math.floor((_whole(s) - float(_batters(s).sum())) / coarse + EXACT), 0) * coarse


def _superfat(pot: Pot, net: Floats) -> float:
    """What the lye on this sheet leaves free of the oils on it, what is held back with them."""
    need = lye_science.naoh_need(net + pot.held, pot.need_per_gram["named"])
    return float(lye_science.superfat(pot.weighed, pot.purity, need, pot.acids_need))


def _on_your_word(s: Situation) -> dict[str, str]:
    """What the lye of additives, and of fats that nobody knows, rests on: the maker's own words."""
    fats = (s.book.oils[name] for name in s.pot.on_their_makers_word)
    return {
        **{each.name: said for each in s.pot.added if (said := each.on_its_makers_word)},
        **{fat.name: f"{fat.lot_saponification or fat.saponification} mg KOH/g" for fat in fats},
    }


def _vessel(s: Situation, batter: float, added: float, room: float) -> float:
    """mL, in whole hundreds, that hold so much batter and what is added (g), with room to stir."""
    pot = s.pot
    share = batter / pot.batter
    volume = float(batter_volume(share * pot.pot_oils, share * pot.naoh, pot.lye_concentration))
    return math.ceil(room * (volume + added / OIL_DENSITY) / 100) * 100.0


def vessel_of_all(s: Situation) -> float:
    """mL of a vessel in which all cups come together, with what goes into them."""
    return _vessel(s, s.pot.batter, math.fsum(cup.added for cup in cups(s)), POT_ROOM)


def _kind(each: Added) -> str:
    if each.what.alcohol >= SPIRIT:
        return "spirit"
    return "" if each.what.kind == "milk" and each.what.water <= DRY else each.what.kind


def _jug(s: Situation) -> float:
    """mL, in whole hundreds, of a jug in which the lye has twice its room."""
    return math.ceil(2 * _number(s, "lye volume") / 100) * 100.0


def _number(s: Situation, measure: str) -> float:
    column = s.home(measure)
    assert isinstance(column, Column)
    return float(column.low[0])


def cups(s: Situation) -> tuple[Cup, ...]:
    """The portions in the plan's order, with everything that goes into each."""
    looks, batters = looks_of(s), _batters(s)
    return tuple(_cup(s, p, looks[p], float(batters[p])) for p in range(len(s.portions)))


def _cup(s: Situation, p: int, look: Look, batter: float) -> Cup:
    coarse, fine, name = lye_step(s.book), scale_step(s), s.portions[p]
    returned = tuple(_returned(s, p, fine))
    mixed = tuple(
        Weighed(name, "mixed in", n, rounded(a.value, fine), fine)
        for n, a in s.plan.portions[p].mixed_in.items()
    )
    carriers = tuple(each.what for each in (*mixed, *returned))
    cup = Cup(
        number=p + 1,
        portion=name,
        share=float(s.split.share[p]),
        holds=0.0,
        batter=Weighed(name, "batter", "batter", batter, coarse),
        returned=returned,
        mixed_in=mixed,
        dyes=tuple(_dyes(s, p, carriers)),
        scents=tuple(_scents(s, p, fine)),
        dose=float(s.x[:, p].sum() / s.split.oils[p]),
        look=look,
    )
    return replace(cup, holds=_vessel(s, float(s.split.pot_batter[p]), cup.added, CUP_ROOM))


def _returned(s: Situation, p: int, step: float) -> Iterator[Weighed]:
    recipe = s.plan.recipe or s.book.usual.recipe
    for oil, portions in (recipe.held_back if recipe else {}).items():
        if s.portions[p] in portions:
            grams = rounded(portions[s.portions[p]].value, step)
            yield Weighed(s.portions[p], "held back", oil, grams, step)


def _dyes(s: Situation, p: int, carriers: tuple[str, ...]) -> Iterator[Dye]:
    step, mass = fine_step(s), s.book.usual.units.mass
    for record, row in zip(s.colourant_records, s.split.colour, strict=True):
        if row[p] > 0:
            yield dye(s.portions[p], record, float(row[p]), carriers, step, mass)


def dye(
    into: str, record: Colourant, grams: float, carriers: tuple[str, ...], step: float, unit: str = "g"
) -> Dye:
    """A colourant as it is weighed, and what it is wetted with or smoothed in."""
    (mass, step), spoon, way = shown(grams, step, unit), record.grams_per_teaspoon, record.dispersed_in
    wetted = way in ("water", "glycerin")
    carrier = max(float(round(CARRIER * mass)), WETTING_STEP)
    own = carriers if way == "oil" else ()
    return Dye(
        Weighed(into, "colourant", record.name, mass, step),
        way,
        Weighed(into, "carrier", str(way), carrier, WETTING_STEP) if wetted else None,
        None if wetted or own else max(SPOONFUL, math.ceil(SMOOTH_IN * mass / 5) * 5.0),
        own,
        grams / spoon.value if spoon else None,
    )


def _scents(s: Situation, p: int, step: float) -> Iterator[Weighed]:
    groups, into = s.mixes, s.portions[p]
    for number, group in enumerate(groups, 1):
        total = float(s.x[list(group), p].sum())
        if total > 0:
            yield Weighed(into, "scent", mix_name(number), rounded(total, step), step)
    for i in np.flatnonzero(s.x[:, p] > 0):
        if not any(i in group for group in groups):
            yield _scent(s, into, int(i), float(s.x[i, p]), step)
