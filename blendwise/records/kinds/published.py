"""Published ranges of saponification values by the name of the fat, to find slips of the pen.

mg KOH per g.  Source: Codex Alimentarius standards 210 (vegetable oils) and 211 (animal fats), those not in
them by pharmacopoeias; all from memory.  No lye is ever reckoned from these: what the book says counts.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from blendwise.quantity.units import fahrenheit
from blendwise.records.reading.bands import Band

PUBLISHED: Final = MappingProxyType(
    {
        "olive": (184, 196), "evoo": (184, 196), "pomace": (184, 196), "olivenol": (184, 196),
        "coconut": (248, 265), "coco": (248, 265), "kokos": (248, 265), "kokosol": (248, 265),
        "fractionated": (325, 360), "mct": (325, 360),
        "babassu": (245, 256), "cohune": (245, 265), "murumuru": (220, 250), "tucuma": (215, 250),
        "palm": (190, 209), "palm kernel": (230, 254), "pko": (230, 254), "palmiste": (230, 254),
        "shea": (160, 190), "cocoa": (188, 198), "mango": (180, 200), "kokum": (183, 197),
        "illipe": (186, 200),
        "sal": (175, 195), "avocado": (175, 200), "stearic": (194, 213), "oleic acid": (195, 205),
        "rapeseed": (168, 193), "rapsol": (168, 193), "canola": (182, 193), "mustard seed": (168, 184),
        "meadowfoam": (155, 180), "camelina": (180, 193), "castor": (176, 187), "jojoba": (85, 100),
        "hohoba": (85, 100), "sunflower": (182, 194), "safflower": (186, 198), "soya": (189, 195),
        "soy": (189, 195), "soybean": (189, 195), "almond": (183, 207), "apricot": (185, 200),
        "peach": (185, 200), "hazelnut": (188, 197), "walnut": (188, 198), "macadamia": (188, 200),
        "rice bran": (180, 199), "lard": (192, 203), "tallow": (190, 202), "suet": (190, 202),
        "emu": (185, 202), "goose": (188, 200), "duck": (188, 200), "chicken": (190, 202),
        "grapeseed": (188, 194), "sesame": (186, 195), "peanut": (187, 196), "groundnut": (187, 196),
        "cottonseed": (189, 198), "maize": (187, 195), "corn": (187, 195), "linseed": (187, 197),
        "flax": (187, 197), "hemp": (188, 196), "argan": (187, 200), "neem": (175, 206),
        "camellia": (186, 198), "borage": (182, 196), "primrose": (182, 197), "rosehip": (182, 197),
        "pumpkin": (185, 199), "wheatgerm": (177, 192), "wheat germ": (177, 192), "baobab": (188, 205),
        "bees wax": (84, 106), "beeswax": (84, 106), "bienenwachs": (84, 106),
        "abeille": (84, 106), "carnauba": (76, 96),
        "lanolin": (85, 112), "wool": (85, 112),
    }
)  # fmt: skip
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
OTHERWISE: Final = frozenset(
    {"wax", "acid", "acids", "esters", "squalane", "lecithin", "glyceride", "glycerides"}
)
"""Words of what is made from a fat and has a value of its own; `ITSELF` are those that the table means so."""
ITSELF: Final = frozenset({"bees wax", "beeswax", "bienenwachs", "carnauba", "wool", "stearic", "oleic acid"})
ORDINARY: Final = 200
"""Ordinary fats need no more than this, mg KOH per g (tallow 202, palm 209 at most); only lauric fats do."""
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
    plain = unicodedata.normalize("NFKD", name.lower())
    return set(re.findall(r"[a-z]+", "".join(sign for sign in plain if not unicodedata.combining(sign))))


def _of_name(name: str, table: Mapping[str, tuple[int, int]]) -> tuple[int, int] | None:
    """The range of the kinds of most words in a name; of several such, from the least to the most of them."""
    words = _words(name)
    kinds = [kind for kind in table if set(kind.split()) <= words]
    if words & OTHERWISE:
        kinds = [kind for kind in kinds if kind in ITSELF]
    kinds = [kind for kind in kinds if kind in ("fractionated", "mct")] or kinds
    most = max((len(kind.split()) for kind in kinds), default=0)
    ranges = [table[kind] for kind in kinds if len(kind.split()) == most]
    return (min(low for low, _ in ranges), max(high for _, high in ranges)) if ranges else None


def above_ordinary(name: str, value: float) -> float:
    """How much more than any ordinary fat a value is, where only the book says so; 0 where it is not."""
    return max(0.0, value - ORDINARY) if published(name) is None else 0.0


def far_from_published(name: str, low: float, high: float) -> str:
    """What is wrong with a range for a fat of this name; empty where nothing is."""
    if low > 0 and high > low * MOST_SPREAD:
        return "The saponification values of one kind of fat never lie so far apart"
    known = published(name)
    if known is None or (known[0] * (1 - MAY_DIFFER[0]) <= low and high <= known[1] * (1 + MAY_DIFFER[1])):
        return ""
    return f"The published saponification values of this fat are {known[0]} to {known[1]} mg of KOH per g"
