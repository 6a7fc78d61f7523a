"""Browning: how brown a portion turns from all that browns in it, when that shows, and how much is too much.

The driver is the *load*: grams of browners (vanillin, ethyl vanillin and the others) over grams of the
portion's wet batter, scent included, as a fraction.  Loads add up first and are banded afterwards; the
edges of the bands belong to the rulebook and are arguments here.  The figures of colour and of days
are common practice or judgement, drawn from makers' reports; a maker's own batches outrank them.

Formula: load = Σ dose × content ÷ batter, all browners summed; then the first band whose upper edge is not
    passed; cast by straight lines between the bands' colours.
Source: edges are the rulebook's (common practice); colours of the bands are judgement on makers'
    reports.
Check: the trade's table of loads; edges at and beside; lightness never rises with load; caps on 4,000
    random colours.
Limits: a stabiliser delays and does not prevent; causes other than stated browners show only in what was
    seen; judged from day 28 to 42.
"""

from __future__ import annotations

from functools import cache, partial

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.checks import Floats, Ints, not_negative, numbers, positive
from blendwise.science.colour import lab_from_hex, lab_from_linear
from blendwise.science.crossing import first_crossing
from blendwise.science.mixing import Paint, absorption_of, linear_from_hex, soap_colour
from blendwise.science.said_colours import hex_of_words

BANDS = ("ivory", "cream", "beige", "tan", "brown", "chocolate")
# Colour of the plain base once settled, by load (fraction of portion batter).  Loads: the middles of the
# customary bands; colours: judgement after their names in the trade.
CAST_LOADS = (0.00005, 0.0002, 0.0005, 0.0013, 0.003, 0.006)
CAST_HEXES = ("#f2ebd8", "#ede2c4", "#e2cda6", "#c49b68", "#8c5c36", "#51311f")
# Casts that an oil brings by its own colour or by causes other than browning, on the plain base, at a
# usual dose.  Judgement; the words are the trade's.
OWN_CASTS = {
    "none": "#f4efe1",
    "pale yellow": "#f1e7b9",
    "yellow": "#ecd78a",
    "orange": "#ecc07f",
    "pink": "#eccfc2",
    "mauve": "#d8c6c6",
    "green": "#d5dbb0",
    "grey-green": "#c9cdb4",
    "blue-green": "#c8d6cc",
    "tan": "#c49b68",
    "brown": "#8c5c36",
}
COLOURLESS = frozenset({"none", "clear", "colourless", "colorless", "water white"})
# What an oil's own colour may tint soap to; tan and brown are what browning makes, or what a maker says
# outright.
TINTS = ("pale yellow", "yellow", "orange", "pink", "mauve", "green", "grey-green", "blue-green")
# L* of the oil in its bottle below which its colour is deep, and the chroma from which it is one.  Judgement.
DEEP_BELOW = 75.0
LEAST_CHROMA = 8.0
# Final judgement at the end of cure, then slow drift.  Common practice: 4 to 6 weeks; 3 to 6 months.
JUDGE_FROM_DAY = 28.0
JUDGE_BY_DAY = 42.0
DRIFT_UNTIL_DAY = 180.0
DEVELOPED = ((0.0, 0.0), (0.05, 0.4), (1.0, 1.0), (1.0, 1.25))
DEVELOPED_STABILISED = ((0.0, 0.0), (0.0, 0.1), (0.1, 0.6), (0.5, 1.0))
# Loads and edges that agree to this share count as equal, so that 5 % x 2 % stands on an edge of 0.1 %.
EDGE_ROUND_OFF = 1e-9


def band_of(load: ArrayLike, edges: ArrayLike) -> Ints:
    """Index into the bands of each load, any shape: the first band whose upper edge is not passed.

    ``edges``: upper edges, rising, one fewer than there are bands, same unit as the load.  A load exactly
    on an edge belongs to the band below it (the rulebook says "at most").  ValueError on edges that do
    not rise.
    """
    amounts = not_negative("browning load", load, "nothing browns less than nothing", endless=True)
    uppers = positive("band edge", edges, "the first band must hold the load of zero and more")
    if (np.diff(uppers) <= 0).any():
        raise ValueError("band edges must rise: each band ends above the one before")
    return np.asarray(np.searchsorted(uppers * (1 + EDGE_ROUND_OFF), amounts, side="left"))


def load_limit(band: ArrayLike, edges: ArrayLike) -> Floats:
    """The greatest load that is still in ``band`` (index, any shape); infinite for the last band."""
    uppers = np.append(numbers("band edge", edges), np.inf)
    index = np.asarray(band, dtype=np.intp)
    if ((index < 0) | (index >= len(uppers))).any():
        raise ValueError(f"there are {len(uppers)} bands, numbered from 0")
    return np.asarray(uppers[index])


@cache
def _cast_knots() -> tuple[Floats, Floats]:
    """Loads (k,) and the absorption (k, 3) at each, from nothing up."""
    absorbed = absorption_of(linear_from_hex(CAST_HEXES))
    return np.concatenate([[0.0], CAST_LOADS]), np.vstack([np.zeros(3), absorbed])


def cast_absorption(load: ArrayLike) -> Floats:
    """Absorption (..., 3), in units of the base's scattering, that a settled load (...) adds.

    Straight between the CAST_HEXES at CAST_LOADS, and on at the last slope; never falls as the load
    rises, so that lightness never rises.  An infinite load absorbs everything.
    """
    amounts = not_negative("browning load", load, "nothing browns less than nothing", endless=True)
    knots, absorbed = _cast_knots()
    inside = np.stack([np.interp(amounts, knots, channel) for channel in absorbed.T], axis=-1)
    slope = (absorbed[-1] - absorbed[-2]) / (knots[-1] - knots[-2])
    return np.asarray(inside + np.maximum(amounts - knots[-1], 0)[..., None] * slope)


def own_cast_absorption(words: str, share: ArrayLike = 1.0) -> Floats:
    """Absorption (..., 3) of an oil's own cast named in OWN_CASTS; ``share``: of its usual dose (...).

    ValueError lists the known casts.
    """
    if words not in OWN_CASTS:
        raise ValueError(f'"{words}" is not a known cast; known are: {", ".join(OWN_CASTS)}')
    part = not_negative("share of the usual dose", share, "a scent is weighed in, never out")
    return np.asarray(absorption_of(linear_from_hex(OWN_CASTS[words])) * part[..., None])


@cache
def _hue(code: str) -> tuple[float, float, float]:
    """L*, chroma and hue angle (degrees) of a hex code."""
    light, a, b = (float(v) for v in lab_from_hex(code))
    return light, float(np.hypot(a, b)), float(np.degrees(np.arctan2(b, a)) % 360)


@cache
def own_cast_of(words: str) -> str:
    """The OWN_CASTS word for an oil's colour in a maker's words: of the tints, the nearest hue; empty where
    no word of a colour is known in it, none where it has next to none."""
    if words in OWN_CASTS or words in COLOURLESS:
        return words if words in OWN_CASTS else "none"
    code = hex_of_words(words)
    if code is None:
        return ""
    said = [word for word in TINTS if words.casefold().endswith(word)]
    if said:
        return max(said, key=len)
    _, chroma, hue = _hue(code)
    far = {word: abs((_hue(OWN_CASTS[word])[2] - hue + 180) % 360 - 180) for word in TINTS}
    return "none" if chroma < LEAST_CHROMA else min(far, key=lambda word: far[word])


def is_deep(words: str) -> bool | None:
    """Whether an oil's colour, in a maker's words, is a deep one (amber, orange, red-brown, dark green)
    beside a pale yellow; None where no word of a colour is known in it."""
    code = None if words in COLOURLESS else hex_of_words(words)
    return False if words in COLOURLESS else None if code is None else _hue(code)[0] < DEEP_BELOW


def judgement_days(stabilised: ArrayLike = False) -> tuple[Floats, Floats]:
    """First and last of the days (each ...) on which the final colour is judged.

    Day 28 to 42 of cure; with a stabiliser not before the slow drift has ended, at 6 months.
    """
    held = np.asarray(stabilised, dtype=bool)
    return np.where(held, DRIFT_UNTIL_DAY, JUDGE_FROM_DAY), np.where(held, DRIFT_UNTIL_DAY, JUDGE_BY_DAY)


def developed(stabilised: bool = False) -> tuple[tuple[float, float], ...]:
    """What part of the settled load shows, least and most: fresh, at the cut, at six weeks, at six months.

    By the trade's timeline: first signs within hours to three days, most by two weeks, all by six, slow drift
    to six months; a stabiliser delays.  Common practice, the parts are our judgement.
    """
    return DEVELOPED_STABILISED if stabilised else DEVELOPED


def browned_lab(plain: Paint, load: ArrayLike) -> Floats:
    """CIELAB (..., 3) of portions whose colour without cast is ``plain``, settled at ``load`` (...)."""
    return lab_from_linear(soap_colour(plain, cast_absorption(load)))


def load_for_lightness(plain: Paint, least: ArrayLike, most_load: ArrayLike) -> Floats:
    """The greatest load (rows,) at which L* is at least ``least``, from 0 up to ``most_load``.

    ``plain``: absorb (rows, 3), scatter (rows,).  -1 where the portion is too dark without any.
    """
    return first_crossing(partial(_lightness, plain), len(plain.absorb), least, most_load)


def _rows_lab(plain: Paint, load: Floats, rows: Ints) -> Floats:
    return browned_lab(Paint(plain.absorb[rows, None, :], plain.scatter[rows, None]), load)


def _lightness(plain: Paint, load: Floats, rows: Ints) -> Floats:
    return _rows_lab(plain, load, rows)[..., 0]
