"""Heat: how warm the soap gets in its mould, whether it gels, and what that puts at risk.

A small heat balance: batter of a start temperature warms by the heat of saponification, and keeps of
that warmth, above its surroundings, a part that grows with the mass of one piece and depends on the
mould.  From it come graded risks between 0 and 1.  The law of conservation is physics; how much a mould
keeps, and where a grade turns, is judgement fitted to what makers report (loaves of a kilogram and more
gel in the middle, single-bar moulds rarely; gel at 60 to 82 °C; up to 104 °C seen).  Good for
"likelier" and "less likely", not for degrees.

Formula: peak = around + kept × (batter + warming − around); warming = NaOH ÷ 39.997 × 52.5 kJ ÷ (2.0 × oils +
    3.5 × lye solution) + what sugar, alcohol and spice add.
Source: conservation of energy; 49 kJ/mol is the heat of alkaline hydrolysis of ethyl acetate summed from
    tables; heats of fats and solutions from memory; what a mould keeps and where a grade turns are judgement.
Check: the balance by hand; open loaves, slabs of 3 to 4 cm, cavities and ovens as makers report them; the
    ceiling of 36 to 54 °C that the heat of hydrolysis allows; monotone in warmth and mass.
Limits: good for likelier and less likely, not for degrees: ± 8 °C, and more for what is added or not told.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.checks import Floats, Ints, not_negative, numbers, positive, share
from blendwise.science.colour import chroma_of
from blendwise.science.lye import NAOH_MOLAR_MASS

# J per mol of NaOH that saponifies fat: 49,000 (ethyl acetate, a sum from tables) to 56,000 (from memory).
SAPONIFYING_J_PER_MOL = 52_500.0
# J/(g K) of oils and of lye solution.  From memory, handbooks: 1.9 to 2.1 and 3.3 to 3.8.
OIL_J_PER_G_K = 2.0
SOLUTION_J_PER_G_K = 3.5
# How well a piece of 1 kg keeps its warmth: kept/(1 - kept); of a slab, one of the usual depth, whatever it
# weighs, for it sheds heat through its broad faces.  Judgement: open slabs of 3 to 4 cm reach 34 to 50 °C.
MOULD_KEEPS = {"loaf": 1.8, "slab": 0.63, "cavities": 1.2}
# Mass to this power says how a bigger piece cools more slowly.  Dimensional: time goes with length squared.
KEEPS_EXPONENT = 2 / 3
# cm of a slab where nobody says, and the °C of doubt that not knowing adds.  Common practice: 3 to 4 cm.
SLAB_DEPTH = 3.5
DEPTH_DOUBT = 6.0
# Uncovered and cooled, left, or insulated: times the above.  Judgement.
INTENT_KEEPS = {"avoid": 0.8, "leave": 1.0, "force": 1.4}
# Of the warmth in the middle, above the surroundings, what the edge has.  Judgement.
EDGE_KEEPS = 0.6
# °C that sugar (of sugar, honey, milk, fruit) adds, a share of the oils; alcohol that was not boiled off; a
# heating spice: low, middle, high.  Judgement: "sugars, milk and honey heat; spice overheats" (common
# practice); a loaf with honey and milk set out at -12 °C still tunnelled (a maker's journal).
SUGAR_CELSIUS_PER_SHARE = (100.0, 250.0, 400.0)
ALCOHOL_CELSIUS_PER_SHARE = (200.0, 600.0, 1000.0)
SPICE_CELSIUS = (2.0, 6.0, 10.0)
# °C at which soap gels, by lye concentration.  Common practice: gel is seen at 54 to 82 °C, at lower
# temperatures with more water; each figure is the middle of some 11 °C.
GEL_CELSIUS = (60.5, 63.5, 68.0, 75.0, 86.5)
GEL_LYE = (0.265, 0.30, 0.33, 0.38, 0.50)
# Half width of doubt about a temperature here, °C.  Judgement: makers' figures lie 6 to 12 either way.
DOUBT_CELSIUS = 8.0
# °C at which melt-and-pour begins to soften where nobody says, its doubt, and that of a stated figure.
# Common practice: 48 to 57; judgement for the last: a softening point is read by eye.
SOFTENS_CELSIUS = 52.5
SOFTENS_DOUBT = 4.5
STATED_SOFTENS_DOUBT = 3.0
# °C from which overheating is thinkable and at which it is all but sure.  Common practice: cracks,
# tunnels, domes from 75 to 90, "recipe dependent" (makers' reports); 104 was read in soap that rose.
OVERHEAT_CELSIUS = (75.0, 90.0)
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


def added_celsius(sugar_share: ArrayLike, spice: ArrayLike, alcohol_share: ArrayLike = 0.0) -> Floats:
    """°C (3, ...), low, middle and high, that sugars, a heating spice and alcohol add.

    ``sugar_share``, ``alcohol_share``: fractions of the oils (sugar; that in honey and milk; not boiled off).
    """
    sweet = not_negative("sugars", sugar_share, "a fraction of the oils")
    strong = not_negative("alcohol", alcohol_share, "a fraction of the oils")
    hot = np.asarray(spice, dtype=np.float64)
    rates = zip(SUGAR_CELSIUS_PER_SHARE, ALCOHOL_CELSIUS_PER_SHARE, SPICE_CELSIUS, strict=True)
    return np.stack([sweet * sugar + strong * alcohol + hot * spiced for sugar, alcohol, spiced in rates])


def kept_share(mass: ArrayLike, mould: str, intent: str, depth: ArrayLike = SLAB_DEPTH) -> Floats:
    """Part of the warmth (..., 0 to 1) that one piece of ``mass`` grams keeps at its peak.

    r/(1 + r), r = MOULD_KEEPS · INTENT_KEEPS · (mass in kg)^(2/3), of a slab · (depth ÷ SLAB_DEPTH)².
    ``mass``: of the loaf or of one cavity; ``depth``: cm of a slab's batter.  ValueError on another mould or
    intent.
    """
    kilograms = positive("mass", mass, "an empty mould keeps no warmth") / 1000
    deep = positive("depth", depth, "an empty mould keeps no warmth") / SLAB_DEPTH
    size = deep**2 if mould == "slab" else kilograms**KEEPS_EXPONENT
    r = _known("mould", mould, MOULD_KEEPS) * _known("gel", intent, INTENT_KEEPS) * size
    return np.asarray(r / (1 + r))


def peak_doubt(kept: ArrayLike, added: ArrayLike, depth_unknown: ArrayLike = False) -> Floats:
    """Half width (...) of doubt about a peak, °C: the balance's own, what is added, and an unknown depth.

    ``added``: low, middle and high (3, ...) of :func:`added_celsius`.  Independent, so joined as squares.
    """
    low, _, high = numbers("what is added", added)
    part = share("kept share", kept, "no piece keeps more than all its warmth")
    deep = np.asarray(depth_unknown, dtype=np.float64) * DEPTH_DOUBT
    return np.asarray(np.sqrt(DOUBT_CELSIUS**2 + (part * (high - low) / 2) ** 2 + deep**2))


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
    hot = overheating(np.maximum(middle, edge))
    return Heat(middle, edge, inner, outer, partial, inner * outer, hot)


def overheating(celsius: ArrayLike) -> Floats:
    """Chance (..., 0 to 1) of cracks, domes and tunnels in soap that reaches so many °C."""
    return _ramp(numbers("temperature", celsius), *OVERHEAT_CELSIUS)


def river_risk(white_share: ArrayLike, lye_concentration: ArrayLike, gels: ArrayLike) -> Floats:
    """Graded risk (...) of glycerin rivers: the geometric mean of white, water and gel, each 0 to 1.

    Never above the chance of gel, without which there are none.

    ``white_share``: white pigment over portion oils; ``gels``: chance of gel.  Any one absent, no rivers.
    """
    white = _ramp(not_negative("white", white_share, "a fraction of the portion's oils"), *RIVER_WHITE)
    c = share("lye concentration", lye_concentration, "it is a fraction of the solution")
    wet = 1 - _ramp(c, *RIVER_LYE)
    chance = share("chance of gel", gels, "a chance")
    return np.asarray(np.minimum(np.cbrt(white * wet * chance), chance))


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
