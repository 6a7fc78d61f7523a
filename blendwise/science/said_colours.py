"""A colour said in a few plain words ("orangey tan", "pale dusty rose") as a place among colours.

The last name is the colour itself; a name before it, or one made an adjective ("-ish", "-y"), draws it a part
of the way to its own; a shade moves its lightness or its chroma.

Formula: Lab = Lab(name) + 0.35 (Lab(other) - Lab(name)), then L* and chroma as the shade says.
Source: common English; the part of the way and the shades are judgement.
Check: each common name is itself; light is lighter, dark darker, dull less and bright more of its hue; an
    orangey tan lies between tan and orange.
Limits: judgement by a word is good to some ten ΔE; a code by eye or a photograph says more.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import Final

from blendwise.science.checks import Floats
from blendwise.science.colour import hex_from_lab, lab_from_hex
from blendwise.science.colour_words import NAMED_HEXES

PART: Final = 0.35
SHADES: Final = {
    "light": (8.0, 0.9), "pale": (14.0, 0.7), "pastel": (14.0, 0.7), "dark": (-12.0, 0.95),
    "deep": (-9.0, 1.1), "bright": (3.0, 1.2), "vivid": (0.0, 1.25), "dull": (-2.0, 0.75),
    "muted": (0.0, 0.7), "dirty": (-6.0, 0.7), "dusty": (2.0, 0.7), "medium": (0.0, 1.0), "mid": (0.0, 1.0),
}  # fmt: skip
"""Shade → what is added to L*, what chroma is multiplied by."""
OTHER_NAMES: Final = {
    "gray": "grey", "off white": "ivory", "gold": "golden", "violet": "purple", "lilac": "lavender",
    "maroon": "oxblood", "toffee": "caramel", "coffee": "chocolate", "terracotta": "brick",
    "sage": "grey green", "aqua": "turquoise", "coral": "salmon", "honey": "amber", "ochre": "mustard",
    "lemon": "yellow",
}  # fmt: skip
FILLING: Final = frozenset(
    {"a", "bit", "slightly", "kind", "sort", "of", "rather", "quite", "colour", "color"}
)
TWICE: Final = "very"
DARKEST, LIGHTEST = 12.0, 97.0
"""L* beyond which no shade goes: soap is neither coal nor snow."""


@cache
def _names() -> dict[str, str]:
    plain = {name.replace("-", " "): code for name, code in NAMED_HEXES.items()}
    return plain | {word: plain[name] for word, name in OTHER_NAMES.items()}


@cache
def _made_adjective() -> dict[str, str]:
    """ "orangey", "reddish", "pinky" → the name each is made of."""
    forms = (
        (f"{stem}{end}", name)
        for name in _names()
        if " " not in name
        for stem in (name, name.removesuffix("e"), name.removesuffix("y"), name + name[-1])
        for end in ("ish", "y", "ey")
    )
    return {form: name for form, name in forms if form not in _names()}


def colour_names() -> tuple[str, ...]:
    """Every name that a colour may be called by here."""
    return tuple(_names())


def hex_of_words(text: str) -> str | None:
    """``"#rrggbb"`` of a colour in plain words; None where a word of it is none of a colour."""
    words = [word for word in re.findall(r"[a-z]+", text.casefold()) if word not in FILLING]
    parts = list(_parts(words))
    names = [part for part in parts if part in _names() or part in _made_adjective()]
    if None in parts or not names or parts[-1] != names[-1]:
        return None
    lab = _lab(names[-1])
    for other in names[:-1]:
        lab = lab + PART * (_lab(other) - lab)
    return hex_from_lab(_shaded(lab, [part for part in parts if part in SHADES or part == TWICE]))


def _parts(words: list[str]) -> Iterator[str | None]:
    """The words as names, adjectives and shades, a name of two words first; None for any other."""
    place = 0
    while place < len(words):
        two = " ".join(words[place : place + 2])
        said = two if two in _names() and place + 1 < len(words) else words[place]
        known = said in _names() or said in _made_adjective() or said in SHADES or said == TWICE
        yield said if known else None
        place += 1 + said.count(" ")


def _lab(name: str) -> Floats:
    return lab_from_hex(_names()[_made_adjective().get(name, name)])


def _shaded(lab: Floats, shades: list[str | None]) -> Floats:
    times = 1
    for shade in shades:
        if shade == TWICE:
            times = 2
            continue
        lighter, colourful = SHADES[str(shade)]
        lab = lab * (1.0, colourful**times, colourful**times) + (times * lighter, 0.0, 0.0)
        lab[0] = min(LIGHTEST, max(DARKEST, float(lab[0])))
        times = 1
    return lab
