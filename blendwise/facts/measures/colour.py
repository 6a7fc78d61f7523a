"""Measures of colour: lightness planned and cured, and how the colourants behave in lye."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from blendwise.facts.columns import Column, Floats, Missing, SetColumn
from blendwise.facts.measure import flag, inverted, number, tags
from blendwise.facts.plain_columns import flags, known, numbers, sets, widened
from blendwise.facts.registry import Bound, Use
from blendwise.facts.situation.appearance import appearance, cured_lab
from blendwise.facts.situation.worked_out import Situation
from blendwise.records.kinds.colourant import Colourant
from blendwise.science import browning
from blendwise.science.colour import chroma_of, colour_difference

SOURCE = "hex codes in colourants.yaml; Kubelka–Munk, CIELAB and CIEDE2000 as published; casts are judgement"

DARKEST_LOAD = 0.05  # far beyond chocolate: stands for a load that may be anything


def finite_load(load: Floats) -> Floats:
    """A load for a swatch: an open one is taken as far beyond chocolate."""
    return np.where(np.isfinite(load), load, DARKEST_LOAD)


@number("planned lightness", "portion", unit="L*", highest=100.0)
def planned_lightness(s: Situation) -> Column:
    """CIELAB lightness of the cured portion as if nothing browned in it: 0 black, 100 white."""
    return known(appearance(s).planned[:, 0])


@number("planned yellowness", "portion", unit="b*", lowest=-128.0, highest=128.0)
def planned_yellowness(s: Situation) -> Column:
    """CIELAB b* of the cured portion as if nothing tinted it: below 0 blue, about 8 white soap, 50 yellow."""
    return known(appearance(s).planned[:, 2])


def _cap_lightness(s: Situation, relation: str, limit: Floats) -> Bound:
    """The lightness falls as the load rises: at least L means at most the load of its first crossing."""
    if relation in ("at least", "above"):
        cap = browning.load_for_lightness(appearance(s).plain, limit, DARKEST_LOAD)
        return Bound("at most", np.where(cap >= DARKEST_LOAD, np.inf, cap))
    floor = browning.load_for_lightness(appearance(s).plain, limit, DARKEST_LOAD)
    return Bound("at least", np.maximum(floor, 0.0))


@inverted("cured lightness", "portion", "browning load", _cap_lightness, unit="L*", highest=100.0)
def cured_lightness(s: Situation) -> Column:
    """CIELAB lightness once the browning has settled, without what the oils tint by their own colour.

    Formula: lightness of the planned colour with the cast of the browning load (Kubelka–Munk per channel)
    """
    load = s.home("browning load")
    assert isinstance(load, Column)
    plain = appearance(s).plain
    lightest, darkest = (browning.browned_lab(plain, finite_load(end))[:, 0] for end in (load.low, load.high))
    light = Column(darkest, lightest, missing=load.missing)
    if not load.widened:
        return light
    most, least = (browning.browned_lab(plain, finite_load(end))[:, 0] for end in load.outer)
    return widened(light, least, most, load)


@number("colour shift", "portion", unit="ΔE", form="afterwards")
def colour_shift(s: Situation) -> Column:
    """CIEDE2000 difference between the planned colour and the cured one, the oils' own tints in it.

    Formula: CIEDE2000(planned, cured)
    """
    load = s.home("browning load")
    assert isinstance(load, Column)
    ends = [_shift(s, end) for end in (load.low, load.high)]
    shift = Column(np.minimum(*ends), np.maximum(*ends), missing=load.missing)
    if not load.widened:
        return shift
    outer = [_shift(s, end) for end in load.outer]
    return widened(shift, np.minimum(*outer), np.maximum(*outer), load)


def _shift(s: Situation, load: Floats) -> Floats:
    return np.asarray(colour_difference(appearance(s).planned, cured_lab(s, finite_load(load))))


def _any(records: list[list[Colourant]], says: Callable[[Colourant], bool | None]) -> list[bool | None]:
    """Yes where any colourant says so, not known where one might, no where none does."""
    found: list[bool | None] = []
    for row in records:
        answers = [says(r) for r in row]
        found.append(True if True in answers else None if None in answers else False)
    return found


def _colourants(s: Situation) -> list[list[Colourant]]:
    return [
        [r for r, grams in zip(s.colourant_records, column, strict=True) if grams > 0]
        for column in s.split.colour.T
    ]


def _gap(s: Situation, fact: str, says: Callable[[Colourant], bool | None]) -> list[tuple[Missing, ...]]:
    return [tuple(Missing(r.name, fact) for r in row if says(r) is None) for row in _colourants(s)]


@tags("colourants", "portion")
def colourants(s: Situation) -> SetColumn:
    """The names of the colourants in the portion."""
    return sets([[r.name for r in row] for row in _colourants(s)])


@tags("colourant kinds", "portion")
def colourant_kinds(s: Situation) -> SetColumn:
    """What sorts of colourant it holds: pigment, mica, clay, dye, plant, charcoal, white."""
    return sets([[r.kind for r in row if r.kind] for row in _colourants(s)])


@tags("dispersed in", "portion")
def dispersed_in(s: Situation) -> SetColumn:
    """What its colourants are stirred into: oil, water, glycerin, batter (as far as noted)."""
    return sets([[r.dispersed_in for r in row if r.dispersed_in] for row in _colourants(s)])


@flag("colour morphs", "portion")
def colour_morphs(s: Situation) -> Column:
    """Whether any of its colourants is noted as turning into another colour in lye."""
    return flags([any(r.morphs_to is not None for r in row) for row in _colourants(s)])


@flag("colour stable in lye", "portion", use=Use(besides="changes in lye"))
def colour_stable(s: Situation) -> Column:
    """Whether all of its colourants keep their colour in lye."""
    unstable = _any(_colourants(s), lambda r: None if r.stable_in_lye is None else not r.stable_in_lye)
    gap = _gap(s, "stable in lye", lambda r: r.stable_in_lye)
    return flags([None if v is None else not v for v in unstable], gap)


@flag("colour bleeds", "portion", use=Use(warns_of="bled"))
def colour_bleeds(s: Situation) -> Column:
    """Whether any of its colourants wanders into its neighbours."""
    return flags(_any(_colourants(s), lambda r: r.bleeds), _gap(s, "bleeds", lambda r: r.bleeds))


@flag("colour fades in light", "portion", use=Use(besides="fades in light"))
def colour_fades(s: Situation) -> Column:
    """Whether light bleaches any of its colourants."""
    found = _any(_colourants(s), lambda r: r.fades_in_light)
    return flags(found, _gap(s, "fades in light", lambda r: r.fades_in_light))


@flag("colour thickens", "portion")
def colour_thickens(s: Situation) -> Column:
    """Whether any of its colourants thickens batter (clays do; no for others where it is not noted)."""
    return flags(_any(_colourants(s), lambda r: bool(r.thickens) or r.kind == "clay"))


@number("colour rate", "portion", unit="% of portion oils", dimension="FRACTION", basis="of portion oils")
def colour_rate(s: Situation) -> Column:
    """All colourants together on the portion's oils.

    Formula: Σ grams ÷ portion oils
    """
    return known(s.split.colour.sum(axis=0) / s.split.oils)


def _rate_of_kind(s: Situation, kind: str) -> Column:
    wanted = np.array([r.kind == kind for r in s.colourant_records], dtype=bool)
    return known(s.split.colour[wanted].sum(axis=0) / s.split.oils)


@number("white rate", "portion", unit="% of portion oils", dimension="FRACTION", basis="of portion oils")
def white_rate(s: Situation) -> Column:
    """White pigment on the portion's oils.

    Formula: Σ grams ÷ portion oils
    """
    return _rate_of_kind(s, "white")


@number("clay rate", "portion", unit="% of portion oils", dimension="FRACTION", basis="of portion oils")
def clay_rate(s: Situation) -> Column:
    """Clay on the portion's oils.

    Formula: Σ grams ÷ portion oils
    """
    return _rate_of_kind(s, "clay")


@number("mica rate", "portion", unit="% of portion oils", dimension="FRACTION", basis="of portion oils")
def mica_rate(s: Situation) -> Column:
    """Mica on the portion's oils.

    Formula: Σ grams ÷ portion oils
    """
    return _rate_of_kind(s, "mica")


@number("pigment rate", "portion", unit="% of portion oils", dimension="FRACTION", basis="of portion oils")
def pigment_rate(s: Situation) -> Column:
    """Oxides, ultramarines and their like on the portion's oils.

    Formula: Σ grams ÷ portion oils
    """
    return _rate_of_kind(s, "pigment")


@number("charcoal rate", "portion", unit="% of portion oils", dimension="FRACTION", basis="of portion oils")
def charcoal_rate(s: Situation) -> Column:
    """Charcoal on the portion's oils.

    Formula: Σ grams ÷ portion oils
    """
    return _rate_of_kind(s, "charcoal")


@number("times the usual colour rate", "portion", unit="× the most that is usual")
def times_usual_rate(s: Situation) -> Column:
    """How far the boldest colourant stands to the upper end of its usual rate (asked where one is noted).

    Formula: greatest over the colourants of grams ÷ portion oils ÷ the most that is usual
    """
    most = np.array(
        [np.nan if r.usual_rate is None else r.usual_rate.high for r in s.colourant_records], dtype=float
    )
    rates = s.split.colour / s.split.oils
    times = np.where(
        np.isnan(most)[:, None] | (rates == 0), -np.inf, rates / np.where(np.isnan(most), 1.0, most)[:, None]
    )
    worst = times.max(axis=0, initial=-np.inf)
    asked = np.isfinite(worst)
    return numbers([float(v) if a else 0.0 for v, a in zip(worst, asked, strict=True)], [], asked)


@number("chroma", "portion", unit="C*")
def chroma(s: Situation) -> Column:
    """How far the planned colour stands from grey (CIELAB chroma): pastels are low, bright colours high.

    Formula: √(a*² + b*²)
    """
    return known(chroma_of(appearance(s).planned))


@flag("coloured", "portion")
def coloured(s: Situation) -> Column:
    """Whether the portion holds any colourant."""
    return flags(~appearance(s).colourless)
