"""A colour seen as a hex code, turned into the browning that would explain it beside the planned colour.

The planned colour and what the portion scatters are those frozen at the pour.  The load is the one whose
browned colour lies nearest (CIEDE2000); loads within a just noticeable step of it make the width.  A
portion that hides its browning, or a colour that no browning explains, says nothing.  Hue comes first: a
colour that a yellow, pink, mauve or green cast explains better than brown alone is that cast, and says
nothing of how brown an oil turns.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Final, TypeVar

import numpy as np

from blendwise.beliefs.learning.evidence import BROWNING_NOISE, HexLook, Row
from blendwise.beliefs.learning.regression import AT_LEAST, AT_MOST, TWO_SIDED
from blendwise.science.browning import browned_lab, cast_absorption, own_cast_absorption
from blendwise.science.checks import Floats
from blendwise.science.colour import colour_difference, lab_from_hex, lab_from_linear
from blendwise.science.mixing import Paint, ks_from_reflectance, linear_from_hex, soap_colour

T = TypeVar("T")
# Casts that no browning makes, in the trade's words (orange is left out: beside tan nobody tells it by eye),
# and how strongly each is tried (parts of a usual dose).
CASTS: Final = ("pale yellow", "yellow", "pink", "mauve", "green", "grey-green", "blue-green")
STRENGTHS: Final = (0.5, 1.0, 1.5, 2.0)
LOADS: Final = np.geomspace(2e-5, 2e-2, 49)
NOTICED: Final = 3.0  # CIEDE2000 that a maker tells apart with two bars in hand: judgement
EXPLAINED: Final = 14.0  # beyond this no browning explains the colour: something else happened
STEEPEST_LIGHTNESS: Final = 1.75  # S_L of CIEDE2000 is never more: 1 + 0.015 × 2500 ÷ √2520, rounded up
MOST_SPREAD: Final = math.log(12.0)  # a wider span of loads says nothing


def rows_of(looks: Sequence[HexLook]) -> Iterator[Row]:
    """A row for each look that says something of browning."""
    if not looks:
        return
    gaps = _gaps_of(looks)
    open_ = [look for look in looks if gaps[_said(look)].min() <= EXPLAINED]
    casts = dict(zip(map(_said, open_), casts_of(open_), strict=True))
    for look in open_:
        found = None if casts[_said(look)] else _reading(gaps[_said(look)], look.settled)
        if found is not None and look.at_most:
            found = (found[0], AT_MOST, found[2]) if look.settled and found[1] != AT_LEAST else None
        if found is not None:
            yield Row(
                look.batch, look.portion, *found, 0.0, look.amounts, look.seen, look.note, is_cup=look.is_cup
            )


def casts_of(looks: Sequence[HexLook]) -> list[str]:
    """The cast that each colour shows, "" where brown alone explains it as well or nothing does.

    A cast with as much brown beside it as brown alone would need is still brown.
    """
    gaps = _gaps_of(looks)
    told = _each_once(_CASTS, looks, lambda some: _casts(some, np.array([gaps[said] for said in some])))
    return [told[_said(look)] for look in looks]


_Said = tuple[str, str, float]
"""A colour seen, the one that was planned, and what the portion scatters."""
_GAPS: Final[dict[_Said, Floats]] = {}
_CASTS: Final[dict[_Said, str]] = {}
"""What was told once: a review and what is learned for it ask of the same colours."""
MOST_KEPT: Final = 20_000
AT_ONCE: Final = 256  # colours worked out together: so many arrays stay in the processor's own memory


def _said(look: HexLook) -> _Said:
    return look.seen, look.planned, look.covering


def _gaps_of(looks: Sequence[HexLook]) -> dict[_Said, Floats]:
    """CIEDE2000 between a colour seen and the planned one at each load (loads,)."""
    return _each_once(_GAPS, looks, _gaps)


def _each_once(
    told: dict[_Said, T], looks: Sequence[HexLook], work_out: Callable[[list[_Said]], Iterable[T]]
) -> dict[_Said, T]:
    """What is worked out of each colour, of those alone that are not yet in ``told``."""
    asked = list(dict.fromkeys(map(_said, looks)))
    if len(told) + len(asked) > MOST_KEPT:
        told.clear()
    asked = [said for said in asked if said not in told]
    for at in range(0, len(asked), AT_ONCE):
        some = asked[at : at + AT_ONCE]
        told.update(zip(some, work_out(some), strict=True))
    return told


def _casts(looks: Sequence[_Said], gaps: Floats) -> list[str]:
    brown, load = gaps.min(axis=1), LOADS[gaps.argmin(axis=1)]
    most = np.minimum(EXPLAINED, brown - NOTICED)
    tried = [_with_cast(looks, cast, most) for cast in CASTS]
    best = np.argmin([gap for gap, _ in tried], axis=0)
    found = []
    for n, at in enumerate(best):
        gap, beside = tried[at][0][n], tried[at][1][n]
        told = gap < brown[n] - NOTICED and gap <= EXPLAINED and beside <= load[n] / 2
        found.append(CASTS[at] if told else "")
    return found


def _with_cast(looks: Sequence[_Said], cast: str, most: Floats) -> tuple[Floats, Floats]:
    """The least CIEDE2000 of each look to its planned colour with a cast, and the load with it: (looks,).

    It is worked out where it may be ``most`` (looks,) or less, and without end elsewhere: no two colours are
    nearer than their lightness alone makes them (equation 22: the other terms are never below zero).
    """
    loads = np.concatenate([[0.0], LOADS[::3]])
    added = own_cast_absorption(cast, np.array(STRENGTHS))[:, None, :] + cast_absorption(loads)[None, :, :]
    flat = added.reshape(-1, 3)
    planned, which = _planned(looks)
    there = lab_from_linear(soap_colour(_paint(planned, len(flat)), flat[None, :, :]))
    seen, light = _lab(looks), there[..., 0][which]
    least = np.abs(seen[:, :1] - light).min(axis=1) / STEEPEST_LIGHTNESS
    near = np.flatnonzero((least <= most) & (most > 0))
    gaps = np.full((len(looks), len(flat)), np.inf)
    gaps[near] = colour_difference(seen[near, None, :], there[np.array(which)[near]])
    return gaps.min(axis=1), loads[gaps.argmin(axis=1) % len(loads)]


def _gaps(looks: Sequence[_Said]) -> Floats:
    """CIEDE2000 between each colour seen and the planned one at each load: (looks, loads)."""
    planned, which = _planned(looks)
    there = browned_lab(_paint(planned, len(LOADS)), np.broadcast_to(LOADS, (len(planned), len(LOADS))))
    return _apart(looks, there[which])


_Planned = tuple[str, float]


def _planned(looks: Sequence[_Said]) -> tuple[list[_Planned], list[int]]:
    """The portions as planned, each once, and which of them each look was at."""
    places: dict[_Planned, int] = {}
    which = [places.setdefault((planned, covering), len(places)) for _, planned, covering in looks]
    return list(places), which


def _paint(planned: Sequence[_Planned], wide: int) -> Paint:
    """Each planned colour, so many times: (planned, wide)."""
    scatter = np.array([covering for _, covering in planned])
    absorb = ks_from_reflectance(linear_from_hex([code for code, _ in planned])) * scatter[:, None]
    shape = (len(planned), wide)
    return Paint(np.broadcast_to(absorb[:, None, :], (*shape, 3)), np.broadcast_to(scatter[:, None], shape))


def _apart(looks: Sequence[_Said], there: Floats) -> Floats:
    return np.asarray(colour_difference(_lab(looks)[:, None, :], there))


def _lab(looks: Sequence[_Said]) -> Floats:
    return lab_from_hex([seen for seen, *_ in looks])


def _reading(gap: np.ndarray, settled: bool) -> tuple[float, int, float] | None:
    """(value, side, sd) in log load, None where the colour does not tell."""
    best = float(gap.min())
    close = np.flatnonzero(gap <= best + NOTICED)
    low, high = math.log(LOADS[close[0]]), math.log(LOADS[close[-1]])
    if best > EXPLAINED:
        return None
    if close[0] == 0:
        telling = high < math.log(LOADS[-1]) - 1 and settled
        return (high, AT_MOST, BROWNING_NOISE) if telling else None
    if close[-1] == len(LOADS) - 1 or not settled:
        return low, AT_LEAST, BROWNING_NOISE
    if high - low > MOST_SPREAD:
        return None
    return (low + high) / 2, TWO_SIDED, math.hypot(BROWNING_NOISE, (high - low) / 12**0.5)
