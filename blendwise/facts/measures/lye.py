"""Measures of lye and superfat: of the batch and of every portion as split."""

from __future__ import annotations

import numpy as np

from blendwise.facts.build import flags, known
from blendwise.facts.columns import Column, Floats, Missing
from blendwise.facts.measure import flag, number
from blendwise.facts.situation import Situation
from blendwise.science import lye as lye_science

WHOLE = ""


ASSUMED_LYE_STEP = 1.0  # g, where usual.yaml names none


def _missing_values(s: Situation) -> tuple[Missing, ...]:
    lost = np.isnan(s.pot.need_per_gram["mid"])
    return tuple(
        Missing(name, "saponification") for name, is_lost in zip(s.pot.oils, lost, strict=True) if is_lost
    )


def _column(values: Floats | list[float], s: Situation) -> Column:
    column = known(values)
    lost = _missing_values(s)
    rows = {int(i): lost for i in np.flatnonzero(~column.known)} if lost else {}
    return Column(column.low, column.high, missing=rows)


@number("superfat", "batch", unit="%", dimension="FRACTION", basis=WHOLE)
def superfat(s: Situation) -> Column:
    """Fat left free in the whole recipe, by the lot's certificate where one is named, else by the mid value.

    Formula: 1 − NaOH × purity ÷ need, acids included
    """
    return _column([_superfat(s, s.pot.need("named"))], s)


@number("superfat at the low end", "batch", unit="%", dimension="FRACTION", basis=WHOLE)
def superfat_low(s: Situation) -> Column:
    """The same if every oil sat at the low end of its published saponification range."""
    return _column([_superfat(s, s.pot.need("low"))], s)


def _superfat(s: Situation, need: float) -> float:
    return (
        float("nan") if not np.isfinite(need) else float(lye_science.superfat(s.pot.naoh, s.pot.purity, need))
    )


@number("portion superfat", "portion", unit="%", dimension="FRACTION", basis=WHOLE)
def portion_superfat(s: Situation) -> Column:
    """Superfat of the portion as split, with what it gets back and has mixed in.

    Formula: 1 − w × NaOH × purity ÷ (w × need of the pot as split + need of returned and mixed-in oil)
    """
    return _column(_portion_superfat(s, "named"), s)


@number("portion superfat at the low end", "portion", unit="%", dimension="FRACTION", basis=WHOLE)
def portion_superfat_low(s: Situation) -> Column:
    """The same if every oil sat at the low end of its published saponification range."""
    return _column(_portion_superfat(s, "low"), s)


def _portion_superfat(s: Situation, which: str) -> Floats:
    pot, split = s.pot, s.split
    usable = split.share * (1 - pot.loss)
    need = usable * pot.pot_need(which) + split.returned_need[which] + split.mixed_in_need[which]
    return np.asarray(1 - usable * pot.naoh * pot.purity / need)


@number("lye to need", "batch")
def lye_to_need(s: Situation) -> Column:
    """NaOH as weighed (pure) divided by what the recipe needs; 0.95 is a superfat of 5 %, 1.40 smells of a KOH figure."""
    return _column([s.pot.naoh * s.pot.purity / s.pot.need("named")], s)


@flag("lye looks like KOH", "batch")
def looks_like_koh(s: Situation) -> Column:
    """Whether the lye is about 1.40 times the need for NaOH, as a figure meant for KOH would be."""
    need = s.pot.need("named")
    found = (
        None if not np.isfinite(need) else bool(lye_science.looks_like_koh(s.pot.naoh * s.pot.purity, need))
    )
    return flags([found], [Missing("recipe", "saponification")])


@number("superfat error of the lye scale", "batch", unit="%", dimension="FRACTION", basis=WHOLE)
def superfat_error(s: Situation) -> Column:
    """How far half a step of the lye scale moves the superfat; a step of 1 g is assumed where none is stated.

    Formula: step ÷ 2 × purity ÷ need
    """
    step = s.book.usual.lye_scale_step
    need = s.pot.need("named")
    grams = step.value if step is not None else ASSUMED_LYE_STEP
    value = (
        float(lye_science.superfat_error(grams, s.pot.purity, need)) if np.isfinite(need) else float("nan")
    )
    return _column([value], s)


@number("lye concentration", "batch", unit="%", dimension="FRACTION", basis=WHOLE)
def concentration(s: Situation) -> Column:
    """NaOH as weighed, as a share of NaOH and water."""
    return known([s.pot.lye_concentration])


@flag("purity stated", "batch")
def purity_stated(s: Situation) -> Column:
    """Whether the purity of the NaOH is written down (else it counts as 100 %)."""
    return flags([s.pot.purity_stated])


@number("water in batter", "batch", unit="% of batter", dimension="FRACTION")
def water_in_batter(s: Situation) -> Column:
    """Water as a share of the batter as split."""
    return known([s.pot.water / s.pot.batter])


@number("held back", "batch", unit="% of oils", dimension="FRACTION")
def held_back(s: Situation) -> Column:
    """Oils kept out of the pot, as a share of the recipe's oils."""
    return known([float(s.pot.held.sum()) / s.pot.oils_total])


@number("mixed in", "portion", unit="% of portion mass", dimension="FRACTION")
def mixed_in(s: Situation) -> Column:
    """Oil added on top of the portion (carrier of colour, for one), as a share of its mass."""
    return known(s.split.mixed_in / s.split.batter)
