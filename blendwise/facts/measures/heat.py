"""Measures of warmth: temperatures, gel, overheating, embeds, rivers."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from blendwise.facts.columns import Column, Missing
from blendwise.facts.measure import flag, number, word
from blendwise.facts.plain_columns import flags, known, numbers, words
from blendwise.facts.scales import GEL, RISK
from blendwise.facts.situation.appearance import appearance, gel_word
from blendwise.facts.situation.timeline import split_temperature
from blendwise.facts.situation.worked_out import Situation
from blendwise.records import BaseOil
from blendwise.science import clock, heat

SOURCE = "a heat balance; its figures are judgement on common practice"

USUAL_ROOM = 21.0  # °C, where neither plan nor usual.yaml says: an assumption that the advice states
COLDEST = -40.0  # °C: what stands for a liquid oil, which never clouds at the pour
OVEN = 77.0  # °C of a forced gel where the plan gives none: common practice


@word("gel", "batch", GEL)
def gel(s: Situation) -> Column:
    """What the plan means to do about gel: avoid, leave, force."""
    return words([gel_word(s)], GEL, [Missing("plan", "gel")])


@number("room temperature", "batch", unit="°C", dimension="TEMPERATURE")
def room_temperature(s: Situation) -> Column:
    """Temperature of the room."""
    return numbers([_room(s)], [Missing("plan", "room")])


def _room(s: Situation) -> float | None:
    process = s.plan.process
    stated = (process.room if process else None) or s.book.usual.room
    return stated.mid if stated else None


@number("hard fats", "batch", unit="% of oils", dimension="FRACTION", highest=1.0)
def hard_fats(s: Situation) -> Column:
    """Share of the oils that are hard or soft fats at room temperature.

    Formula: Σ hard and soft fats ÷ oils mass
    """
    return known([_share(s, lambda o: o.hardness in ("hard", "soft"))])


@number("liquid oils", "batch", unit="% of oils", dimension="FRACTION", highest=1.0)
def liquid_oils(s: Situation) -> Column:
    """Share of the oils that are liquid at room temperature."""
    return known([_share(s, lambda o: o.hardness == "liquid")])


@number("quick oils", "batch", unit="% of oils", dimension="FRACTION", highest=1.0)
def quick_oils(s: Situation) -> Column:
    """Share of the oils that are noted as thickening fast (castor, for one).

    Formula: Σ oils of speed fast ÷ oils mass
    """
    return known([_share(s, lambda o: o.speed == "fast")])


@number("lauric oils", "batch", unit="% of oils", dimension="FRACTION", highest=1.0)
def lauric_oils(s: Situation) -> Column:
    """Share of coconut, palm kernel, babassu and their like."""
    return known([_share(s, lambda o: bool(o.lauric))])


def _share(s: Situation, wanted: Callable[[BaseOil], bool]) -> float:
    here = np.array([wanted(s.book.oils[name]) for name in s.pot.oils], dtype=bool)
    return float(s.pot.masses[here].sum() / s.pot.oils_total)


@number("clear temperature", "batch", unit="°C", dimension="TEMPERATURE")
def clear_temperature(s: Situation) -> Column:
    """Below this the hard fats cloud and the batter thickens by cooling: false trace, not minutes.

    Formula: greatest over the fats of T, 1/T = 1/T clear − R ln(share) ÷ 100 kJ/mol (in kelvin)
    """
    oils = [s.book.oils[name] for name in s.pot.oils]
    hard = [o.hardness in ("hard", "soft") or o.clear_at is not None for o in oils]
    lost = [Missing(o.name, "clear at") for o, h in zip(oils, hard, strict=True) if h and o.clear_at is None]
    points = np.array([o.clear_at.mid if o.clear_at else COLDEST for o in oils], dtype=float)
    floor = max(float(clock.floor_celsius(points, s.pot.masses / s.pot.oils_total)), COLDEST)
    return Column(
        np.array([floor]), np.array([np.inf if lost else floor]), missing={0: tuple(lost)} if lost else {}
    )


@number("above clear temperature", "batch", unit="°C", form="constant", lowest=-np.inf)
def above_clear(s: Situation) -> Column:
    """How far the batter at the split stands above the temperature at which its fats are clear (in °C).

    Formula: batter temperature − clear temperature
    """
    clear = s.home("clear temperature")
    assert isinstance(clear, Column)
    batter = split_temperature(s)
    return Column(batter - clear.high, batter - clear.low, missing=clear.missing)


@number("sugars", "batch", unit="% of oils", dimension="FRACTION", basis="of batch oils")
def sugars(s: Situation) -> Column:
    """Sugar in the additives on the oils, reducing or not: that of sugar, syrup, honey, milk, beer, fruit.

    Formula: Σ grams × sugar content ÷ oils mass
    """
    return known([_sugar(s)])


def _sugar(s: Situation) -> float:
    return sum(each.sugar for each in s.pot.added) / s.pot.oils_total


def _heat(s: Situation) -> heat.Heat:
    """Peaks and chances for one piece: the loaf or slab, or one cavity."""
    recipe = s.plan.recipe or s.book.usual.recipe
    amount = recipe.amount if recipe else None
    mould = (amount.mould if amount else None) or "loaf"
    pieces = (amount.cavities or 1) if amount and mould == "cavities" else 1
    intent = gel_word(s) or "leave"
    room = _room(s)
    around = _oven(s) if intent == "force" else USUAL_ROOM if room is None else room
    spicy = any("spice" in r.tags for r in s.scent_records)
    warming = heat.warming_celsius(s.pot.oils_total, s.pot.naoh, s.pot.all_water) + heat.added_celsius(
        _sugar(s), spicy
    )
    kept = heat.kept_share(s.pot.batter / pieces, mould, intent)
    return heat.heat_of(
        split_temperature(s), around, warming, kept, heat.gel_celsius(s.pot.lye_concentration)
    )


def _risk(value: object) -> Column:
    return words([RISK[int(heat.risk_word(np.asarray(value, dtype=float)))]], RISK)


@word("partial gel risk", "batch", RISK)
def partial_gel_risk(s: Situation) -> Column:
    """Risk that only the middle gels and leaves a ring: low, some, high."""
    return _risk(_heat(s).partial)


@word("overheating risk", "batch", RISK)
def overheating_risk(s: Situation) -> Column:
    """Risk of cracks, domes and tunnels: low, some, high."""
    return _risk(_heat(s).overheats)


@number("peak temperature", "batch", unit="°C", dimension="TEMPERATURE")
def peak_temperature(s: Situation) -> Column:
    """Estimated peak in the middle of the mould: an estimate of judgement, good for more and less only.

    Formula: surroundings + kept share × (batter + warming − surroundings)
    """
    return known([float(_heat(s).middle)])


@word("river risk", "portion", RISK)
def river_risk(s: Situation) -> Column:
    """Risk of translucent veins from white pigment, much water and gel: low, some, high."""
    found = _heat(s)
    white = s.home("white rate")
    assert isinstance(white, Column)
    risk = heat.river_risk(white.low, s.pot.lye_concentration, found.middle_gels)
    return words([RISK[int(i)] for i in np.atleast_1d(heat.risk_word(risk))], RISK)


@number("gel suits the colour", "portion", lowest=-1.0, highest=1.0)
def gel_suits(s: Situation) -> Column:
    """1 where gel deepens a deep colour, −1 where it spoils a pastel, 0 where it does neither."""
    return known(np.asarray(heat.gel_suits(appearance(s).planned), dtype=float))


@flag("heats and melts embeds", "batch")
def melts_embeds(s: Situation) -> Column:
    """Whether the estimated peak passes the softening point of an embed (not asked without embeds).

    Formula: peak temperature > embeds soften
    """
    soften = s.home("embeds soften")
    assert isinstance(soften, Column)
    peak = float(_heat(s).middle)
    found = True if peak > soften.high[0] else None if peak > soften.low[0] else False
    return flags([found], [soften.missing.get(0, ())], soften.asked)


@number("oven temperature", "batch", unit="°C", dimension="TEMPERATURE")
def oven_temperature(s: Situation) -> Column:
    """Temperature at which gel is forced, 77 °C where the plan gives none (not asked where it is not)."""
    return known([_oven(s)], np.array([gel_word(s) == "force"]))


def _oven(s: Situation) -> float:
    process = s.plan.process
    plan = (process.gel_plan if process else None) or s.book.usual.gel_plan
    return plan.at.mid if plan is not None and plan.at is not None else OVEN
