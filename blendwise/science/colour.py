"""Colour: from a hex code to CIELAB and back, and how different two colours look.

Arrays: the last axis holds the three channels, every leading axis broadcasts.  Units: sRGB and linear
light run 0 to 1; XYZ has Y = 1 for white; L* runs 0 to 100.  White is D65 (2° observer) throughout,
so no adaptation is needed between sRGB (IEC 61966-2-1) and CIELAB (ISO/CIE 11664-4).

Formula: sRGB (IEC 61966-2-1) to linear light to XYZ (D65) to CIELAB; difference by CIEDE2000.
Source: IEC 61966-2-1; ISO/CIE 11664-4; Sharma, Wu and Dalal, Color Research and Application 30(1), 21-30
    (2005).
Check: all 34 published pairs to four decimals; 10,000 random pairs against colour-science and coloraide to
    1e-9.
Limits: a screen's colours stand for soap's only roughly: swatches are for ranking and talking, not for
    matching.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.checks import Bools, Floats, numbers

# Chromaticities of the sRGB primaries and of D65.  Source: IEC 61966-2-1:1999 (ITU-R BT.709-6, table 1).
PRIMARIES_XY = ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06))
WHITE_XY = (0.3127, 0.3290)
# Transfer curve of sRGB.  Source: IEC 61966-2-1:1999.
CURVE_GAMMA = 2.4
CURVE_OFFSET = 0.055
CURVE_SLOPE = 12.92
CURVE_KNEE = 0.04045  # on the encoded side
# CIELAB: below LAB_KNEE the cube root gives way to a line.  Source: CIE 15:2004, the intended fractions.
LAB_KNEE = 216 / 24389
LAB_SLOPE = 24389 / 27
# CIEDE2000: 25**7 in the chroma terms.  Source: Sharma, Wu and Dalal, Color Res. Appl. 30(1), 21 (2005).
CHROMA_PIVOT = 25.0

_HEX = re.compile(r"#[0-9a-fA-F]{6}")


def srgb_from_hex(codes: str | Sequence[str]) -> Floats:
    """sRGB in 0 to 1 from ``"#a0b1c2"``, shape (3,), or from a sequence of n codes, shape (n, 3).

    ValueError names a text that is not # and six hexadecimal digits.
    """
    if isinstance(codes, str):
        return np.asarray(_channels((codes,))[0])
    return _channels(codes)


def _channels(codes: Sequence[str]) -> Floats:
    for code in codes:
        if not _HEX.fullmatch(code):
            raise ValueError(f'"{code}" is not a colour: write # and six hexadecimal digits, as in "#a0b1c2"')
    levels = np.frombuffer(bytes.fromhex("".join(codes).replace("#", "")), dtype=np.uint8)
    return np.asarray(levels.astype(np.float64).reshape(-1, 3) / 255)


def hex_from_srgb(srgb: ArrayLike) -> str:
    """The nearest ``"#rrggbb"`` to one colour of shape (3,); what lies outside 0 to 1 is clipped."""
    levels = np.rint(np.clip(numbers("colour", srgb), 0, 1) * 255).astype(int)
    return "#" + "".join(f"{level:02x}" for level in levels)


def linear_from_srgb(srgb: ArrayLike) -> Floats:
    """Linear light from encoded sRGB, odd-symmetric below zero.  Source: IEC 61966-2-1."""
    encoded = numbers("colour", srgb)
    size = np.abs(encoded)
    curve = ((size + CURVE_OFFSET) / (1 + CURVE_OFFSET)) ** CURVE_GAMMA
    return np.asarray(np.copysign(np.where(size <= CURVE_KNEE, size / CURVE_SLOPE, curve), encoded))


def srgb_from_linear(linear: ArrayLike) -> Floats:
    """Encoded sRGB from linear light, odd-symmetric below zero.  Source: IEC 61966-2-1."""
    light = numbers("light", linear)
    size = np.abs(light)
    curve = (1 + CURVE_OFFSET) * size ** (1 / CURVE_GAMMA) - CURVE_OFFSET
    straight = size <= CURVE_KNEE / CURVE_SLOPE
    return np.asarray(np.copysign(np.where(straight, size * CURVE_SLOPE, curve), light))


def _xyz_of_xy(xy: ArrayLike) -> Floats:
    x, y = np.moveaxis(np.asarray(xy, dtype=np.float64), -1, 0)
    return np.stack([x / y, np.ones_like(x), (1 - x - y) / y], axis=-1)


@cache
def _white() -> Floats:
    """XYZ of the white, Y = 1."""
    return _xyz_of_xy(WHITE_XY)


@cache
def _to_xyz() -> Floats:
    """The matrix that takes linear sRGB to XYZ: primaries scaled so that (1, 1, 1) is the white."""
    primaries = _xyz_of_xy(PRIMARIES_XY).T
    return np.asarray(primaries * np.linalg.solve(primaries, _white()))


@cache
def _from_xyz() -> Floats:
    return np.asarray(np.linalg.inv(_to_xyz()))


def xyz_from_linear(linear: ArrayLike) -> Floats:
    """XYZ, white at Y = 1, from linear sRGB of shape (..., 3)."""
    return np.asarray(numbers("light", linear) @ _to_xyz().T)


def linear_from_xyz(xyz: ArrayLike) -> Floats:
    """Linear sRGB from XYZ of shape (..., 3); outside 0 to 1 where a screen cannot show it."""
    return np.asarray(numbers("XYZ", xyz) @ _from_xyz().T)


def lab_from_xyz(xyz: ArrayLike) -> Floats:
    """CIELAB (L*, a*, b*), D65, from XYZ of shape (..., 3).  Source: ISO/CIE 11664-4, CIE 15:2004."""
    ratio = numbers("XYZ", xyz) / _white()
    f = np.where(ratio > LAB_KNEE, np.cbrt(ratio), (LAB_SLOPE * ratio + 16) / 116)
    x, y, z = f[..., 0], f[..., 1], f[..., 2]
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], axis=-1)


def xyz_from_lab(lab: ArrayLike) -> Floats:
    """XYZ from CIELAB of shape (..., 3); undoes :func:`lab_from_xyz`."""
    values = numbers("Lab", lab)
    y = (values[..., 0] + 16) / 116
    f = np.stack([y + values[..., 1] / 500, y, y - values[..., 2] / 200], axis=-1)
    cube = f**3
    return np.asarray(np.where(cube > LAB_KNEE, cube, (116 * f - 16) / LAB_SLOPE) * _white())


def lab_from_linear(linear: ArrayLike) -> Floats:
    """CIELAB from linear sRGB of shape (..., 3)."""
    return lab_from_xyz(xyz_from_linear(linear))


def lab_from_srgb(srgb: ArrayLike) -> Floats:
    """CIELAB from encoded sRGB of shape (..., 3)."""
    return lab_from_linear(linear_from_srgb(srgb))


def srgb_from_lab(lab: ArrayLike) -> Floats:
    """Encoded sRGB from CIELAB of shape (..., 3); outside 0 to 1 where a screen cannot show it."""
    return srgb_from_linear(linear_from_xyz(xyz_from_lab(lab)))


def lab_from_hex(codes: str | Sequence[str]) -> Floats:
    """CIELAB of ``"#a0b1c2"``, shape (3,), or of n codes, shape (n, 3)."""
    return lab_from_srgb(srgb_from_hex(codes))


def hex_from_lab(lab: ArrayLike) -> str:
    """The nearest ``"#rrggbb"`` a screen can show to one CIELAB colour of shape (3,)."""
    return hex_from_srgb(srgb_from_lab(lab))


def chroma_of(lab: ArrayLike) -> Floats:
    """C*, the distance from grey, of CIELAB colours of shape (..., 3)."""
    values = numbers("Lab", lab)
    return np.hypot(values[..., 1], values[..., 2])


def lightness_gap(one: ArrayLike, other: ArrayLike) -> Floats:
    """|ΔL*| of two arrays of CIELAB colours, shapes (..., 3), broadcast."""
    return np.abs(numbers("Lab", one)[..., 0] - numbers("Lab", other)[..., 0])


def colour_difference(one: ArrayLike, other: ArrayLike) -> Floats:
    """CIEDE2000 (kL = kC = kH = 1) between CIELAB colours of shapes (..., 3), broadcast; symmetric.

    Source: Sharma, Wu and Dalal, Color Research and Application 30(1), 21-30 (2005), equations 2 to 22;
    ISO/CIE 11664-6.  Made for small differences; over 10 it only ranks.  About 2 is just seen.
    """
    lab1, lab2 = numbers("Lab", one), numbers("Lab", other)
    stretch = 1.5 - 0.5 * _chroma_weight((chroma_of(lab1) + chroma_of(lab2)) / 2)  # 1 + G, eqs 3 to 5
    a1, a2 = lab1[..., 1] * stretch, lab2[..., 1] * stretch
    b1, b2 = lab1[..., 2], lab2[..., 2]
    c1, c2 = np.hypot(a1, b1), np.hypot(a2, b2)
    d_hue, hue = _hues(_angle(b1, a1), _angle(b2, a2), a1 * b2 - a2 * b1, c1 * c2 == 0)
    d_h = 2 * np.sqrt(c1 * c2) * np.sin(np.radians(d_hue) / 2)  # eq 11
    l1, l2 = lab1[..., 0], lab2[..., 0]
    return _weigh(l2 - l1, c2 - c1, d_h, (l1 + l2) / 2, (c1 + c2) / 2, hue)


def _chroma_weight(chroma: Floats) -> Floats:
    """sqrt(C^7 / (C^7 + 25^7)), eqs 4 and 17; written so that neither power can overflow."""
    power = np.minimum(chroma / CHROMA_PIVOT, 1e6) ** 7
    return np.asarray(np.sqrt(power / (power + 1)))


def _angle(b: Floats, a: Floats) -> Floats:
    return np.asarray(np.degrees(np.arctan2(b, a)) % 360)  # eq 7


def _hues(h1: Floats, h2: Floats, cross: Floats, grey: Bools) -> tuple[Floats, Floats]:
    """Signed hue difference (eq 10) and mean hue (eq 14), degrees; ``grey``: one of the two has no hue.

    ``cross`` has the sign of sin(h2 - h1), so it tells a gap over 180 from one under without the rounding
    of atan2: exactly opposite hues (pair 14 of the paper) stay on their branch.
    """
    gap, total = h2 - h1, h1 + h2
    near = gap * cross >= 0
    short = np.where(near, gap, gap - 360 * np.sign(gap))
    around = np.where(near, total, np.where(total < 360, total + 360, total - 360)) / 2
    return np.where(grey, 0.0, short), np.where(grey, total, around)


def _weigh(d_l: Floats, d_c: Floats, d_h: Floats, light: Floats, chroma: Floats, hue: Floats) -> Floats:
    """Equations 15 to 22: the three differences, each by its weight, and the turn in the blues."""
    t = 1 - 0.17 * _cos(hue - 30) + 0.24 * _cos(2 * hue)
    t = t + 0.32 * _cos(3 * hue + 6) - 0.20 * _cos(4 * hue - 63)
    middle = (light - 50) ** 2
    l_term = d_l / (1 + 0.015 * middle / np.sqrt(20 + middle))
    c_term = d_c / (1 + 0.045 * chroma)
    h_term = d_h / (1 + 0.015 * chroma * t)
    turn = np.radians(60 * np.exp(-(((hue - 275) / 25) ** 2)))
    cross = -2 * np.sin(turn) * _chroma_weight(chroma) * c_term * h_term
    return np.asarray(np.sqrt(np.maximum(l_term**2 + c_term**2 + h_term**2 + cross, 0)))


def _cos(degrees: Floats) -> Floats:
    return np.asarray(np.cos(np.radians(degrees)))
