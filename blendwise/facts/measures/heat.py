"""Measures of warmth: temperatures, gel, overheating, embeds, rivers."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from blendwise.facts.columns import Column, Missing
from blendwise.facts.measure import flag, number, word
from blendwise.facts.plain_columns import flags, known, numbers, words
from blendwise.facts.pour.fats import clouding, hardness_of, share_of
from blendwise.facts.pour.temperatures import oven_celsius, room_celsius, split_temperature
from blendwise.facts.pour.warmth import not_told, room_under_embeds, sugar_share, warmth
from blendwise.facts.registry import Use
from blendwise.facts.scales import GEL
from blendwise.facts.situation.appearance import appearance, gel_word
from blendwise.facts.situation.worked_out import Situation
from blendwise.records import BaseOil
from blendwise.science import heat

SOURCE = "a heat balance; its figures are judgement on common practice"


@word("gel", "batch", GEL)
def gel(s: Situation) -> Column:
    """What the plan means to do about gel: avoid, leave, force."""
    return words([gel_word(s)], GEL, [Missing("plan", "gel")])


@number("room temperature", "batch", unit="°C", dimension="TEMPERATURE")
def room_temperature(s: Situation) -> Column:
    """Temperature of the room."""
    return numbers([room_celsius(s)], [Missing("plan", "room")])


@number("hard fats", "batch", unit="% of oils", dimension="FRACTION", highest=1.0)
def hard_fats(s: Situation) -> Column:
    """Share of the oils that are hard or soft fats at room temperature.

    Formula: Σ hard and soft fats ÷ oils mass
    """
    return _perhaps(s, share_of(s, "hard", "soft"))


@number("liquid oils", "batch", unit="% of oils", dimension="FRACTION", highest=1.0)
def liquid_oils(s: Situation) -> Column:
    """Share of the oils that are liquid at room temperature."""
    return _perhaps(s, share_of(s, "liquid"))


def _perhaps(s: Situation, share: float) -> Column:
    """A share with what may belong to it: oils of which neither catalogue nor name says how hard they are."""
    silent = [name for name in s.pot.oils if hardness_of(s.book.oils[name]) is None]
    high = min(share + share_of(s, None), 1.0)
    gaps = {0: tuple(Missing(name, "hardness") for name in silent)} if silent else {}
    return Column(np.array([share]), np.array([high]), missing=gaps)


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
    """From this on the hard fats are clear; below it they begin to cloud the batter, and cooling thickens it.

    An own pour with these fats that stayed fluid outranks the estimate.
    Formula: greatest over the fats of T, 1/T = 1/T melts − R ln(share) ÷ 180 kJ/mol (in kelvin), ± 4 °C
    """
    found = clouding(s)
    return found.column(found.clear)


@number("setting temperature", "batch", unit="°C", dimension="TEMPERATURE")
def setting_temperature(s: Situation) -> Column:
    """Below this the hard fats set within a pour: false trace, which no minutes describe.

    An own pour with these fats that stayed fluid outranks the estimate.
    Formula: greatest over the fats of T, 1/T = 1/T sets − R ln(share) ÷ 130 kJ/mol (in kelvin), ± 4 °C
    """
    found = clouding(s)
    return found.column(found.sets)


@number("above clear temperature", "batch", unit="°C apart", form="constant", lowest=-np.inf)
def above_clear(s: Situation) -> Column:
    """How far the batter at the split stands above the temperature at which its fats are clear (in °C).

    Formula: batter temperature − clear temperature
    """
    found, batter = clouding(s), split_temperature(s)
    clear = found.column(found.clear)
    least, most = clear.outer
    return Column(
        batter - clear.high,
        batter - clear.low,
        missing=clear.missing,
        least=batter - most,
        most=batter - least,
        narrowed_by=clear.narrowed_by,
    )


@number("sugars", "batch", unit="% of oils", dimension="FRACTION", basis="of batch oils")
def sugars(s: Situation) -> Column:
    """Sugar in the additives on the oils, reducing or not: that of sugar, syrup, honey, milk, beer, fruit.

    Formula: Σ grams × sugar content ÷ oils mass
    """
    return known([sugar_share(s)])


def _risk(value: object) -> Column:
    return words([heat.RISK_WORDS[int(heat.risk_word(np.asarray(value, dtype=float)))]], heat.RISK_WORDS)


@word("partial gel risk", "batch", heat.RISK_WORDS, use=Use(of_size=True, warns_of="partial gel"))
def partial_gel_risk(s: Situation) -> Column:
    """Risk that only the middle gels and leaves a ring: low, some, high."""
    return _risk(warmth(s).heat.partial)


@word("overheating risk", "batch", heat.RISK_WORDS, use=Use(of_size=True))
def overheating_risk(s: Situation) -> Column:
    """Risk of cracks, domes and tunnels: low, some, high."""
    found = warmth(s)
    most = float(np.maximum(found.heat.middle, found.heat.edge))
    coolest, hottest = (_risk(heat.overheating(most + step)).low for step in (-found.doubt, found.doubt))
    return replace(_risk(found.heat.overheats), least=coolest, most=hottest)


@number("peak temperature", "batch", unit="°C", dimension="TEMPERATURE", use=Use(of_size=True))
def peak_temperature(s: Situation) -> Column:
    """Estimated peak in the middle of the mould, with its doubt: good for more and less, not for degrees.

    Formula: surroundings + kept share × (batter + warming − surroundings), ± 8 °C and what is added
    """
    found = warmth(s)
    peak = np.array([found.peak])
    return Column(peak, peak, least=peak - found.doubt, most=peak + found.doubt)


@word("river risk", "portion", heat.RISK_WORDS, use=Use(of_size=True, warns_of="rivers"))
def river_risk(s: Situation) -> Column:
    """Risk of translucent veins from white pigment, much water and gel: low, some, high."""
    found = warmth(s).heat
    white = s.home("white rate")
    assert isinstance(white, Column)
    risk = heat.river_risk(white.low, s.pot.lye_concentration, found.middle_gels)
    return words([heat.RISK_WORDS[int(i)] for i in np.atleast_1d(heat.risk_word(risk))], heat.RISK_WORDS)


@number("gel suits the colour", "portion", lowest=-1.0, highest=1.0)
def gel_suits(s: Situation) -> Column:
    """1 where gel deepens a deep colour, −1 where it spoils a pastel, 0 where it does neither."""
    return known(np.asarray(heat.gel_suits(appearance(s).planned), dtype=float))


@flag("heats and melts embeds", "batch", use=Use(of_size=True))
def melts_embeds(s: Situation) -> Column:
    """Whether the estimated peak passes the softening point of an embed (not asked without embeds).

    Formula: peak temperature > embeds soften, each with its doubt
    """
    room, lost = room_under_embeds(s), not_told(s)
    asked = np.array([bool(s.plan.embeds)])
    if room is None or (lost and room[1] >= 0):
        return flags([None], [lost], asked)
    melts = flags([room[1] < 0], asked=asked)
    least, most = (np.array([float(end < 0)]) for end in (room[2], room[0]))
    return replace(melts, least=least, most=most)


@number("room under the embeds", "batch", unit="°C apart", lowest=-np.inf, use=Use(of_size=True))
def room_below_softening(s: Situation) -> Column:
    """How far the estimated peak stays below the softening point of the embeds (in °C; not asked without).

    Formula: embeds soften − peak temperature
    """
    room, asked, lost = room_under_embeds(s), np.array([bool(s.plan.embeds)]), not_told(s)
    if room is None:
        return numbers([None], [lost], asked)
    least, middle, most = (np.array([end]) for end in room)
    if lost:  # what is told bounds it from above all the same
        return Column(np.array([-np.inf]), middle, asked=asked, missing={0: lost}, most=most)
    return Column(middle, middle, asked=asked, least=least, most=most)


@number("oven temperature", "batch", unit="°C", dimension="TEMPERATURE")
def oven_temperature(s: Situation) -> Column:
    """Temperature at which gel is forced, 77 °C where the plan gives none (not asked where it is not)."""
    return known([oven_celsius(s)], np.array([gel_word(s) == "force"]))
