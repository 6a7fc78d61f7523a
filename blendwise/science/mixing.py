"""Mixing: the colour of cured soap from its base, its colourants and what its scent adds.

Kubelka and Munk, one constant a channel: a thick layer that absorbs K and scatters S reflects R with
K/S = (1 - R)^2 / (2 R).  Here R is linear sRGB, K and S add up over what is in the soap, and the
scattering of the plain cured base is the unit.  A colourant is known by the colour it gave at the rate
it was noted at, so at that rate, alone in that base, it gives exactly that colour.

Source of the law: Kubelka and Munk, Z. tech. Physik 12, 593 (1931).  Three broad channels in place of
a spectrum, and scattering from three words, are judgement: fit for swatches and for ranking contrast,
not for matching a paint.

Formula: K/S = (1 − R)² ÷ (2 R) a channel; K and S add up over base, colourants and casts.
Source: Kubelka and Munk, Z. tech. Physik 12, 593 (1931); scattering of clear, half and opaque is judgement.
Check: K/S identities; a colourant alone at its noted rate gives its noted colour; the trade's words for
    mixtures.
Limits: three broad channels and one constant: fit for swatches and ranking contrast, not for matching a
    paint.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.checks import Floats, not_negative, numbers, positive
from blendwise.science.colour import linear_from_srgb, srgb_from_hex

# Uncoloured, unscented cured soap that did not gel.  Judgement: an off-white of refined oils.
BASE_HEX = "#f4efe1"
# What a colourant scatters at its noted rate, the base being 1.  Judgement: white at full rate (opaque)
# then turns a tan cast to beige and a brown one to caramel, which is common practice.
COVERS_SCATTER = {"clear": 0.0, "half": 1.0, "opaque": 4.0}
# Scattering of the base by state.  Judgement, from "gelled soap is deeper and more translucent, and wet
# batter is darker and yellower than cured un-gelled soap" (common practice).
STATE_SCATTER = {"cured without gel": 1.0, "cured after gel": 0.7, "fresh batter": 0.6}
# No channel reflects less or more than this: keeps K/S finite.  Judgement: below the last step of 8 bits.
DARKEST = 1e-4
PALEST = 0.9999
# A pale colourant may be given up to this much scattering to explain its colour.  Judgement: a white
# noted as pure white is still no more than an opaque one, or browning in it would be hidden.
MOST_EXPLAINED_SCATTER = COVERS_SCATTER["opaque"]


class Paint(NamedTuple):
    """What colourants add at their noted rates: ``absorb`` (..., 3) and ``scatter`` (...), base units."""

    absorb: Floats
    scatter: Floats


def ks_from_reflectance(reflectance: ArrayLike) -> Floats:
    """K/S = (1 - R)^2 / (2 R) of linear reflectance, any shape, held within DARKEST to PALEST."""
    r = np.clip(numbers("reflectance", reflectance), DARKEST, PALEST)
    return np.asarray((1 - r) ** 2 / (2 * r))


def reflectance_from_ks(ks: ArrayLike) -> Floats:
    """R = 1 + K/S - sqrt((K/S)^2 + 2 K/S), in the form that does not cancel; infinite K/S gives 0.

    ValueError below zero: nothing absorbs less than nothing.
    """
    x = not_negative("K/S", ks, "nothing absorbs less than nothing", endless=True)
    root = np.sqrt(x) * np.sqrt(x + 2)
    return np.asarray(1 / (1 + x + root))


def linear_from_hex(code: str | list[str] | tuple[str, ...]) -> Floats:
    """Linear sRGB of one hex code, shape (3,), or of n codes, shape (n, 3)."""
    return linear_from_srgb(srgb_from_hex(code))


def paint_of(colour: ArrayLike, covers_scatter: ArrayLike, base: ArrayLike | None = None) -> Paint:
    """What a colourant adds at the rate at which it gave ``colour`` in cured, un-gelled ``base``.

    ``colour``: linear sRGB (..., 3); ``covers_scatter``: a COVERS_SCATTER value (...); ``base``: linear
    sRGB (3,), BASE_HEX if not given.  K = K/S(colour) (1 + s) - K/S(base).  A colourant that made the
    base lighter scatters at least as much as that takes (up to MOST_EXPLAINED_SCATTER), since none
    removes absorption; a paler colour than that is not reached.
    """
    ks = ks_from_reflectance(colour)
    ks_base = ks_from_reflectance(_base(base))
    asked = not_negative("scattering", covers_scatter, "a colourant takes no scattering away")
    needed = np.minimum(np.max(ks_base / ks, axis=-1) - 1, MOST_EXPLAINED_SCATTER)
    scatter = np.maximum(asked, needed)
    return Paint(np.maximum(ks * (1 + scatter[..., None]) - ks_base, 0), scatter)


def absorption_of(colour: ArrayLike, base: ArrayLike | None = None) -> Floats:
    """The absorption (..., 3) that turns plain ``base`` into ``colour``; a channel it lightens adds 0.

    For casts, which tint and do not cover: linear sRGB in, base units out.
    """
    return np.maximum(ks_from_reflectance(colour) - ks_from_reflectance(_base(base)), 0)


def colours_without_cast(
    rates: ArrayLike, paints: Paint, base: ArrayLike | None = None, base_scatter: ArrayLike = 1.0
) -> Paint:
    """A portion's own absorption K_base + Σ x K (..., 3) and scattering S_base + Σ x s (...).

    ``rates`` x: (..., n), each colourant's rate over its noted rate; ``paints``: n of them, absorb (n, 3),
    scatter (n,); n may be 0.  ``base_scatter``: a STATE_SCATTER value (...).  ValueError on a rate below
    zero.
    """
    x = not_negative("colourant rate", rates, "a portion holds none of it or some")
    s0 = positive("base scattering", base_scatter, "soap without any is not opaque at all")
    absorb = ks_from_reflectance(_base(base)) + x @ paints.absorb
    return Paint(np.asarray(absorb), np.asarray(s0 + x @ paints.scatter))


def soap_colour(portion: Paint, cast: ArrayLike = 0.0) -> Floats:
    """Linear sRGB (..., 3) of a portion with what its scent adds: K/S = (K + cast) / S.

    ``portion``: its own K and S, as :func:`colours_without_cast` gives them; ``cast``: absorption (..., 3).
    Monotone: more cast never lightens a channel.
    """
    extra = not_negative("cast", cast, "a scent takes no colour away", endless=True)
    return reflectance_from_ks((portion.absorb + extra) / np.asarray(portion.scatter)[..., None])


def _base(base: ArrayLike | None) -> Floats:
    return linear_from_hex(BASE_HEX) if base is None else numbers("base colour", base)
