"""Measures of two scents in one portion, and of two portions that touch.

Scent measures are read with ``one``/``other``, portion measures of an edge also with
``lighter``/``darker`` (by planned lightness).
"""

from __future__ import annotations

import numpy as np

from blendwise.facts.appearance import cured_lab
from blendwise.facts.build import flags, known, words
from blendwise.facts.columns import Column, Missing
from blendwise.facts.measure import flag, number, word
from blendwise.facts.measures.colour import finite_load
from blendwise.facts.scales import NOTED
from blendwise.facts.situation import Situation
from blendwise.facts.touching import edges, pair_cells
from blendwise.science.colour import colour_difference


@word("noted together", "pair", NOTED)
def noted_together(s: Situation) -> Column:
    """Whether the maker has noted the two as good or bad together (the worse where they disagree)."""
    one, other, _ = pair_cells(s)
    return words([_noted(s, int(i), int(j)) for i, j in zip(one, other, strict=True)], NOTED)


@flag("together", "pair")
def together(s: Situation) -> Column:
    """Yes: a pair is two scents in one portion.  ``must: {together: is no}`` keeps them apart."""
    return flags([True] * len(pair_cells(s)[0]))


def _noted(s: Situation, i: int, j: int) -> str:
    a, b = s.scent_records[i], s.scent_records[j]
    said = [v for v in (a.goes_with.get(b.name), b.goes_with.get(a.name)) if v is not None]
    return min(said, key=NOTED.index) if said else "unsaid"


def _difference(s: Situation, kind: str) -> Column:
    one, other = edges(s)
    load = s.home("browning load")
    assert isinstance(load, Column)
    low, high = cured_lab(s, finite_load(load.low)), cured_lab(s, finite_load(load.high))
    values = [_between(a[one], b[other], kind) for a in (low, high) for b in (low, high)]
    missing: dict[int, tuple[Missing, ...]] = {}
    for row, (i, j) in enumerate(zip(one, other, strict=True)):
        gaps = (*load.missing.get(int(i), ()), *load.missing.get(int(j), ()))
        if gaps:
            missing[row] = tuple(dict.fromkeys(gaps))
    open_rows = ~(np.isfinite(load.high[one]) & np.isfinite(load.high[other]))
    worst = np.where(open_rows, 0.0, np.minimum.reduce(values))
    return Column(worst, np.maximum.reduce(values), missing=missing)


def _between(a: np.ndarray, b: np.ndarray, kind: str) -> np.ndarray:
    return np.abs(a[:, 0] - b[:, 0]) if kind == "lightness" else np.asarray(colour_difference(a, b))


@number("contrast", "edge", unit="ΔE", form="afterwards")
def contrast(s: Situation) -> Column:
    """CIEDE2000 difference of two touching portions once cured, browning in it."""
    return _difference(s, "colour")


@number("lightness difference", "edge", unit="L*", form="afterwards")
def lightness_difference(s: Situation) -> Column:
    """Difference in CIELAB lightness of two touching portions once cured."""
    return _difference(s, "lightness")


@number("planned contrast", "edge", unit="ΔE")
def planned_contrast(s: Situation) -> Column:
    """CIEDE2000 difference of two touching portions as planned, nothing browned."""
    one, other = edges(s)
    return known(np.asarray(colour_difference(s.appearance.planned[one], s.appearance.planned[other])))


@number("planned lightness difference", "edge", unit="L*")
def planned_lightness_difference(s: Situation) -> Column:
    """Difference in lightness of two touching portions as planned."""
    one, other = edges(s)
    light = s.appearance.planned[:, 0]
    return known(np.abs(light[one] - light[other]))


@number("superfat difference", "edge", unit="%", dimension="FRACTION")
def superfat_difference(s: Situation) -> Column:
    """How far the superfats of two touching portions lie apart: soft beside hard cuts badly."""
    one, other = edges(s)
    column = s.home("portion superfat")
    assert isinstance(column, Column)
    return known(
        np.abs(
            np.where(column.known, column.low, np.nan)[one]
            - np.where(column.known, column.low, np.nan)[other]
        )
    )


@number("bands apart", "edge", form="afterwards")
def bands_apart(s: Situation) -> Column:
    """How many browning bands lie between two touching portions."""
    one, other = edges(s)
    band = s.home("browning band")
    assert isinstance(band, Column)
    low = np.maximum(band.low[one] - band.high[other], band.low[other] - band.high[one])
    high = np.maximum(band.high[one] - band.low[other], band.high[other] - band.low[one])
    gaps = {
        r: band.missing.get(int(i), ()) + band.missing.get(int(j), ())
        for r, (i, j) in enumerate(zip(one, other, strict=True))
    }
    return Column(np.maximum(low, 0.0), np.maximum(high, 0.0), missing={r: g for r, g in gaps.items() if g})
