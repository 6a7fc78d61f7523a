"""Heat: how warm the soap gets in its mould, whether it gels, and what that puts at risk.

A small heat balance: batter of a start temperature warms by the heat of saponification, and keeps of
that warmth, above its surroundings, a part that grows with the mass of one piece and depends on the
mould.  From it come graded risks between 0 and 1.  The law of conservation is physics; how much a mould
keeps, and where a grade turns, is judgement fitted to what makers report (loaves of a kilogram and more
gel in the middle, single-bar moulds rarely; gel at 60 to 82 °C; up to 104 °C seen).  Good for
"likelier" and "less likely", not for degrees.

Formula: peak = around + kept × (batter + warming − around); warming = NaOH ÷ 39.997 × 55 kJ ÷ (2.0 × oils +
    3.5 × lye solution).
Source: conservation of energy; heats from memory; how much a mould keeps and where a grade turns are
    judgement.
Check: the balance by hand; loaves, cavities and ovens as makers report them; monotone in warmth and mass.
Limits: good for likelier and less likely, not for degrees.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.checks import Floats, Ints, not_negative, numbers, positive, share
from blendwise.science.colour import chroma_of
from blendwise.science.lye import NAOH_MOLAR_MASS

# J per mol of NaOH that saponifies fat.  From memory: ester hydrolysis by hydroxide gives off about this.
SAPONIFYING_J_PER_MOL = 55_000.0
# J/(g K) of oils and of lye solution.  From memory, handbooks: 1.9 to 2.1 and 3.3 to 3.8.
OIL_J_PER_G_K = 2.0
SOLUTION_J_PER_G_K = 3.5
# How well a piece of 1 kg keeps its warmth: kept/(1 - kept).  Judgement.
MOULD_KEEPS = {"loaf": 1.8, "slab": 1.0, "cavities": 1.2}
# Mass to this power says how a bigger piece cools more slowly.  Dimensional: time goes with length squared.
KEEPS_EXPONENT = 2 / 3
# Uncovered and cooled, left, or insulated: times the above.  Judgement.
INTENT_KEEPS = {"avoid": 0.8, "leave": 1.0, "force": 1.4}
# Of the warmth in the middle, above the surroundings, what the edge has.  Judgement.
EDGE_KEEPS = 0.6
# °C that a sugar load of 1 % of the oils adds, and that a heating spice adds.  Judgement, from
# "sugars, milk and honey heat; spice overheats" (common practice).
SUGAR_CELSIUS_PER_SHARE = 400.0
SPICE_CELSIUS = 6.0
# °C at which soap gels, at 25 % and at 50 % lye concentration.  Common practice: gel is seen at 60 to
# 82 °C, at lower temperatures with more water.
GEL_CELSIUS = (60.0, 82.0)
GEL_LYE = (0.25, 0.50)
# Half width of doubt about a temperature here, °C.  Judgement.
DOUBT_CELSIUS = 8.0
# °C from which overheating is thinkable and at which it is all but sure.  Common practice: gel up to 82,
# up to 104 reported of soap that cracked and rose.
OVERHEAT_CELSIUS = (82.0, 104.0)
# Rivers need white, water and gel.  Fraction of portion oils of white, and lye concentrations, between
# which the risk runs from nothing to full.  Common practice for "less white" (1 % and more is moderate)
# and for "33 % lye or more"; 25 % is full water.
RIVER_WHITE = (0.0, 0.01)
RIVER_LYE = (0.25, 0.33)
# Upper edges of the words for a risk.  Judgement.
RISK_WORDS = ("low", "some", "high")
RISK_EDGES = (0.15, 0.5)
# Pastel: at least this light; deep: at most this light, or at least this chromatic.  Judgement.
PASTEL_LIGHTNESS = 75.0
DEEP_LIGHTNESS = 45.0
DEEP_CHROMA = 45.0


def warming_celsius(oils: ArrayLike, lye: ArrayLike, water: ArrayLike) -> Floats:
    """°C (...) by which the batter would warm if it kept all the heat of saponification.

    Grams of oils, NaOH and water (...): lye / 39.997 · H / (2.0 oils + 3.5 (lye + water)).
    """
    fat = positive("oils", oils, "without oils there is no soap")
    naoh = not_negative("lye", lye, "a mass")
    solution = naoh + not_negative("water", water, "a mass")
    heat = naoh / NAOH_MOLAR_MASS * SAPONIFYING_J_PER_MOL
    return np.asarray(heat / (fat * OIL_J_PER_G_K + solution * SOLUTION_J_PER_G_K))


def added_celsius(sugar_share: ArrayLike, spice: ArrayLike) -> Floats:
    """°C (...) that sugars (fraction of oils: sugar, honey, the sugar in milk) and a heating spice add."""
    sweet = not_negative("sugars", sugar_share, "a fraction of the oils")
    return np.asarray(sweet * SUGAR_CELSIUS_PER_SHARE + np.asarray(spice, dtype=bool) * SPICE_CELSIUS)


def kept_share(mass: ArrayLike, mould: str, intent: str) -> Floats:
    """Part of the warmth (..., 0 to 1) that one piece of ``mass`` grams keeps at its peak.

    r/(1 + r), r = MOULD_KEEPS · INTENT_KEEPS · (mass in kg)^(2/3).  ``mass``: of the loaf, the slab or
    one cavity.  ValueError on another mould or intent.
    """
    kilograms = positive("mass", mass, "an empty mould keeps no warmth") / 1000
    r = _known("mould", mould, MOULD_KEEPS) * _known("gel", intent, INTENT_KEEPS) * kilograms**KEEPS_EXPONENT
    return np.asarray(r / (1 + r))


def _known(what: str, word: str, table: dict[str, float]) -> float:
    if word not in table:
        raise ValueError(f'"{word}" is not a known {what}; known are: {", ".join(table)}')
    return table[word]


def gel_celsius(lye_concentration: ArrayLike) -> Floats:
    """°C (...) at which soap gels: straight between GEL_CELSIUS at GEL_LYE, level outside."""
    c = share("lye concentration", lye_concentration, "it is a fraction of the solution")
    return np.asarray(np.interp(c, GEL_LYE, GEL_CELSIUS))


def _ramp(value: ArrayLike, start: float, stop: float) -> Floats:
    """0 up to ``start``, 1 from ``stop``, straight between."""
    return np.asarray(np.clip((np.asarray(value, dtype=np.float64) - start) / (stop - start), 0, 1))


def _reaches(celsius: Floats, mark: Floats) -> Floats:
    return _ramp(celsius - mark, -DOUBT_CELSIUS, DOUBT_CELSIUS)


@dataclass(frozen=True, slots=True)
class Heat:
    """Peak °C in the middle and at the edge, and graded chances (0 to 1) of what follows, each (...).

    ``middle_gels``, ``edge_gels``; ``partial``: the middle gels and the edge does not (a ring);
    ``full``: both; ``overheats``: cracks, domes, tunnels.
    """

    middle: Floats
    edge: Floats
    middle_gels: Floats
    edge_gels: Floats
    partial: Floats
    full: Floats
    overheats: Floats


def heat_of(
    batter: ArrayLike, surroundings: ArrayLike, warming: ArrayLike, kept: ArrayLike, gel_at: ArrayLike
) -> Heat:
    """Peaks and chances (...) from °C of batter and surroundings, °C of warming (saponification plus what
    is added), the kept share, and the °C of gel.

    Peak = surroundings + kept (batter + warming - surroundings).  ``surroundings``: the room, the
    refrigerator, or the oven of a forced gel.
    """
    around = numbers("surroundings", surroundings)
    excess = numbers("batter temperature", batter) + not_negative("warming", warming, "soap heats") - around
    part = share("kept share", kept, "no piece keeps more than all its warmth")
    middle, edge = around + part * excess, around + part * EDGE_KEEPS * excess
    mark = numbers("gel temperature", gel_at)
    inner, outer = _reaches(middle, mark), _reaches(edge, mark)
    partial = np.maximum(inner * (1 - outer), outer * (1 - inner))
    hot = _ramp(np.maximum(middle, edge), *OVERHEAT_CELSIUS)
    return Heat(middle, edge, inner, outer, partial, inner * outer, hot)


def river_risk(white_share: ArrayLike, lye_concentration: ArrayLike, gels: ArrayLike) -> Floats:
    """Graded risk (...) of glycerin rivers: the geometric mean of white, water and gel, each 0 to 1.

    ``white_share``: white pigment over portion oils; ``gels``: chance of gel.  Any one absent, no rivers.
    """
    white = _ramp(not_negative("white", white_share, "a fraction of the portion's oils"), *RIVER_WHITE)
    c = share("lye concentration", lye_concentration, "it is a fraction of the solution")
    wet = 1 - _ramp(c, *RIVER_LYE)
    return np.asarray(np.cbrt(white * wet * share("chance of gel", gels, "a chance")))


def risk_word(risk: ArrayLike) -> Ints:
    """Index into RISK_WORDS (...); a risk on an edge takes the lower word."""
    return np.searchsorted(RISK_EDGES, share("risk", risk, "a graded chance"), side="left")


def gel_suits(lab: ArrayLike) -> Ints:
    """What gel does for a colour (..., from CIELAB (..., 3)): 1 it deepens a deep one, -1 it spoils a
    pastel, 0 neither.  Common practice: gelled soap is deeper and brighter, un-gelled pastel and matt."""
    light, chroma = numbers("Lab", lab)[..., 0], chroma_of(lab)
    deep = (light <= DEEP_LIGHTNESS) | (chroma >= DEEP_CHROMA)
    pastel = (light >= PASTEL_LIGHTNESS) & ~deep
    return np.asarray(deep.astype(np.intp) - pastel)
