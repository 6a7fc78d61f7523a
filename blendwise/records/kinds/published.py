"""Published ranges of saponification values by the name of the fat, to find slips of the pen.

mg KOH per g.  Source: Codex Alimentarius standards 210 (vegetable oils) and 211 (animal fats), those not in
them by pharmacopoeias; all from memory.  No lye is ever reckoned from these: what the book says counts.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from blendwise.quantity.units import fahrenheit
from blendwise.records.reading.bands import Band

PUBLISHED: Final = MappingProxyType(
    {
        "olive": (184, 196),
        "coconut": (248, 265),
        "fractionated": (325, 360),
        "mct": (325, 360),
        "babassu": (245, 256),
        "palm": (190, 209),
        "palm kernel": (230, 254),
        "shea": (160, 190),
        "cocoa": (188, 198),
        "rapeseed": (168, 193),
        "canola": (182, 193),
        "sunflower": (182, 194),
        "safflower": (186, 198),
        "soya": (189, 195),
        "soybean": (189, 195),
        "almond": (183, 207),
        "castor": (176, 187),
        "rice bran": (180, 199),
        "lard": (192, 203),
        "tallow": (190, 202),
        "grapeseed": (188, 194),
        "sesame": (186, 195),
        "peanut": (187, 196),
        "cottonseed": (189, 198),
        "maize": (187, 195),
    }
)
CLEAR: Final = MappingProxyType(
    {
        "coconut": (24, 34),
        "babassu": (23, 27),
        "palm": (33, 44),
        "palm kernel": (25, 32),
        "shea": (30, 46),
        "cocoa": (32, 40),
        "mango": (30, 42),
        "lard": (33, 48),
        "tallow": (40, 52),
    }
)
"""Where hard fats of these names are melted clear, °C: common practice, handbooks of fats (from memory).

Coconut of 76 °F, and hydrogenated of 92 °F, are 24 and 33 °C; "76 °C" is a slip that the name gives away.
"""
CLEAR_MAY_DIFFER: Final = 16
"""Kelvin beyond those: more than blends, flakes and hydrogenated sorts differ (our guard)."""
OTHERWISE: Final = frozenset({"wax", "acid", "esters", "squalane", "lecithin", "glyceride", "glycerides"})
"""Words of what is made from a fat and has a value of its own."""
MAY_DIFFER: Final = (0.12, 0.05)
"""How far a book's range may lie below and above the published one: more than sources do; above it burns."""
MOST_SPREAD: Final = 1.35
"""The top of a range over its bottom; shea's, the widest published, has 1.19 (our guard)."""


def published(name: str) -> tuple[int, int] | None:
    """The range of the fat of this name, the name of most words first; None where it is not known."""
    return _of_name(name, PUBLISHED)


def clear_band(name: str) -> Band | None:
    """Where a hard fat of this name may be clear; None where that is not known."""
    known = _of_name(name, CLEAR)
    if known is None or {"fractionated", "mct", "liquid", "olein"} & _words(name):
        return None
    low, high = (f"{end} °C ({fahrenheit(end):.0f} °F)" for end in known)
    usual = f"Fats of this name are clear at {low} to {high}"
    return Band(f"where {name} is clear", known[0] - CLEAR_MAY_DIFFER, known[1] + CLEAR_MAY_DIFFER, usual)


def _words(name: str) -> set[str]:
    return set(re.findall(r"[a-z]+", name.lower()))


def _of_name(name: str, table: Mapping[str, tuple[int, int]]) -> tuple[int, int] | None:
    words = _words(name)
    if words & OTHERWISE:
        return None
    kinds = [kind for kind in table if set(kind.split()) <= words]
    best = max(kinds, key=lambda kind: (kind in ("fractionated", "mct"), len(kind.split())), default=None)
    return None if best is None else table[best]


def far_from_published(name: str, low: float, high: float) -> str:
    """What is wrong with a range for a fat of this name; empty where nothing is."""
    if low > 0 and high > low * MOST_SPREAD:
        return "The saponification values of one kind of fat never lie so far apart"
    known = published(name)
    if known is None or (known[0] * (1 - MAY_DIFFER[0]) <= low and high <= known[1] * (1 + MAY_DIFFER[1])):
        return ""
    return f"The published saponification values of this fat are {known[0]} to {known[1]} mg of KOH per g"
