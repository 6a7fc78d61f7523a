"""Measures of two scents in one portion, and of two portions that touch.

Scent measures are read with ``one``/``other``, portion measures of an edge also with
``lighter``/``darker`` (by planned lightness).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

import numpy as np

from blendwise.facts.columns import Bools, Column, Floats, Missing
from blendwise.facts.measure import flag, number, word
from blendwise.facts.measures.colour import finite_load
from blendwise.facts.plain_columns import flags, known, widened, words
from blendwise.facts.scales import NOTED
from blendwise.facts.situation.appearance import appearance, cured_lab
from blendwise.facts.situation.neighbours import Ints, edges, pair_cells
from blendwise.facts.situation.worked_out import Situation, once
from blendwise.records.kinds.scent import Scent
from blendwise.science.colour import chroma_of, colour_difference, lightness_gap

SOURCE = "the catalogue's notes; CIELAB and CIEDE2000 as published"


@word("noted together", "pair", NOTED)
def noted_together(s: Situation) -> Column:
    """Whether the maker has noted the two as good or bad together (the worse where they disagree)."""
    one, other, _ = pair_cells(s)
    records = s.scent_records
    return words([noted(records[int(i)], records[int(j)]) for i, j in zip(one, other, strict=True)], NOTED)


@flag("together", "pair")
def together(s: Situation) -> Column:
    """Yes: a pair is two scents in one portion.  ``must: {together: is no}`` keeps them apart."""
    return flags([True] * len(pair_cells(s)[0]))


def noted(one: Scent, other: Scent) -> str:
    """The maker's own word on two oils, good or bad; the worse where the two records disagree."""
    said = [v for v in (one.goes_with.get(other.name), other.goes_with.get(one.name)) if v is not None]
    return min(said, key=NOTED.index) if said else "unsaid"


COLOURFUL = 10.0  # CIELAB chroma below which a hue is not seen as one: judgement
LOADS = 9  # between the ends of an open load, at which a contrast is looked at


def _edge_gaps(column: Column, one: Ints, other: Ints) -> dict[int, tuple[Missing, ...]]:
    """Per edge, what would close either portion."""
    return _edge_told(column.missing, one, other)


def _edge_told(
    told: Mapping[int, tuple[Missing, ...]], one: Ints, other: Ints
) -> dict[int, tuple[Missing, ...]]:
    """Per edge, what is told of either portion, each fact once."""
    rows = enumerate(zip(one, other, strict=True))
    gaps = {r: (*told.get(int(i), ()), *told.get(int(j), ())) for r, (i, j) in rows}
    return {row: tuple(dict.fromkeys(gap)) for row, gap in gaps.items() if gap}


@once
def cured_over_loads(s: Situation) -> Floats:
    """Colours (loads, portions, 3) from the browning load's low to its high end (one where known)."""
    load = _load(s)
    return _cured(s, load.low, load.high)


@once
def cured_over_doubt(s: Situation) -> Floats:
    """The same from the least to the most load that judgement thinks possible."""
    return _cured(s, *_load(s).outer)


def _cured(s: Situation, least: Floats, most: Floats) -> Floats:
    low, high = finite_load(least), finite_load(most)
    steps = np.linspace(0.0, 1.0, 1 if (low == high).all() else LOADS)
    return cured_lab(s, low + steps[:, None] * (high - low))


def _load(s: Situation) -> Column:
    load = s.home("browning load")
    assert isinstance(load, Column)
    return load


def _open_edges(load: Column, one: Ints, other: Ints) -> Bools:
    return np.asarray(~(np.isfinite(load.high[one]) & np.isfinite(load.high[other])))


@number("contrast", "edge", unit="ΔE", form="afterwards")
def contrast(s: Situation) -> Column:
    """CIEDE2000 difference of two touching portions once cured, browning in it.

    Formula: CIEDE2000 of the two cured colours; over an open load, the least and the greatest on the way
    """
    return _over_loads(s, _contrasts)


def _contrasts(colours: Floats, one: Ints, other: Ints) -> tuple[Floats, Floats]:
    found = colour_difference(colours[:, None, one], colours[None, :, other])
    return found.min(axis=(0, 1)), found.max(axis=(0, 1))


def _over_loads(s: Situation, ends: Callable[[Floats, Ints, Ints], tuple[Floats, Floats]]) -> Column:
    """What two cured colours are apart, a row an edge, from the least to the greatest over their loads."""
    one, other = edges(s)
    load = _load(s)
    least, most = ends(cured_over_loads(s), one, other)
    low = np.where(_open_edges(load, one, other), 0.0, least)
    found = Column(low, most, missing=_edge_gaps(load, one, other))
    if not load.widened:
        return found
    outer = ends(cured_over_doubt(s), one, other)
    doubt = widened(found, *outer, load)
    return replace(doubt, narrowed_by=_edge_told(load.narrowed_by, one, other))


@number("lightness difference", "edge", unit="L*", form="afterwards", highest=100.0)
def lightness_difference(s: Situation) -> Column:
    """Difference in CIELAB lightness of two touching portions once cured.

    Formula: |L* of one − L* of the other|
    """
    return _over_loads(s, _lightness_gaps)


def _lightness_gaps(colours: Floats, one: Ints, other: Ints) -> tuple[Floats, Floats]:
    dark, light = colours[..., 0].min(axis=0), colours[..., 0].max(axis=0)
    apart = np.maximum(dark[one] - light[other], dark[other] - light[one])
    return np.maximum(apart, 0.0), np.maximum(light[one] - dark[other], light[other] - dark[one])


@number("planned contrast", "edge", unit="ΔE")
def planned_contrast(s: Situation) -> Column:
    """CIEDE2000 difference of two touching portions as planned, nothing browned.

    Formula: CIEDE2000 of the two planned colours
    """
    one, other = edges(s)
    return known(np.asarray(colour_difference(appearance(s).planned[one], appearance(s).planned[other])))


@number("planned lightness difference", "edge", unit="L*", highest=100.0)
def planned_lightness_difference(s: Situation) -> Column:
    """Difference in lightness of two touching portions as planned.

    Formula: |L* of one − L* of the other|
    """
    one, other = edges(s)
    planned = appearance(s).planned
    return known(lightness_gap(planned[one], planned[other]))


@number("hues apart", "edge", unit="degrees", highest=180.0)
def hues_apart(s: Situation) -> Column:
    """How far the planned hues of two touching portions lie apart: opposite ones turn muddy if mixed.

    Asked where both are colourful: chroma of 10 or more (judgement).  0 is the same hue, 180 opposite.
    Formula: angle between (a*, b*) of the one and of the other
    """
    one, other = edges(s)
    lab = appearance(s).planned
    hue = np.degrees(np.arctan2(lab[:, 2], lab[:, 1]))
    apart = np.abs((hue[one] - hue[other] + 180) % 360 - 180)
    colourful = chroma_of(lab) >= COLOURFUL
    return known(apart, np.asarray(colourful[one] & colourful[other]))


@number("superfat difference", "edge", unit="%", dimension="FRACTION")
def superfat_difference(s: Situation) -> Column:
    """How far the superfats of two touching portions lie apart: soft beside hard cuts badly.

    Formula: |portion superfat of one − portion superfat of the other|
    """
    one, other = edges(s)
    column = s.home("portion superfat")
    assert isinstance(column, Column)
    return known(np.abs(column.low[one] - column.low[other]))


@number("bands apart", "edge", form="afterwards", highest=5.0)
def bands_apart(s: Situation) -> Column:
    """How many browning bands lie between two touching portions.

    Formula: |browning band of one − browning band of the other|
    """
    one, other = edges(s)
    band = s.home("browning band")
    assert isinstance(band, Column)
    low, high = _bands_between(band.low, band.high, one, other)
    found = Column(low, high, missing=_edge_gaps(band, one, other))
    if not band.widened:
        return found
    doubt = widened(found, *_bands_between(*band.outer, one, other), band)
    return replace(doubt, narrowed_by=_edge_told(band.narrowed_by, one, other))


def _bands_between(low: Floats, high: Floats, one: Ints, other: Ints) -> tuple[Floats, Floats]:
    least = np.maximum(low[one] - high[other], low[other] - high[one])
    most = np.maximum(high[one] - low[other], high[other] - low[one])
    return np.maximum(least, 0.0), np.maximum(most, 0.0)
