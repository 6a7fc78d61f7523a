"""A colour in plain words: the nearest of a short list of common names.

The names are common English ones; the colour of each is judgement, chosen for soap (matt, a little
off-white).  Nearest is by CIEDE2000.

Formula: the nearest of a short list of common names by CIEDE2000.
Source: common English; the colour of each name is judgement.
Check: each name calls its own colour; named colours of CSS Color Module Level 4 come to their kin.
Limits: a word for a swatch, no more.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.checks import Floats, numbers
from blendwise.science.colour import colour_difference, lab_from_hex

NAMED_HEXES = {
    "white": "#fbf9f3",
    "ivory": "#f5efdb",
    "cream": "#efe3c0",
    "beige": "#e2cda6",
    "tan": "#c8a070",
    "caramel": "#b5803f",
    "brown": "#83532f",
    "chocolate": "#4d2e1e",
    "black": "#1c1b1a",
    "charcoal": "#3b3a39",
    "grey": "#8b8b8b",
    "pale grey": "#c9c9c7",
    "warm grey": "#a29c90",
    "taupe": "#8a7865",
    "slate": "#56656f",
    "pale blue": "#b5d0e4",
    "blue": "#3a6ea8",
    "navy": "#232f56",
    "grey-blue": "#7f97a8",
    "teal": "#2a7d80",
    "dark teal": "#2a5355",
    "turquoise": "#56bdb8",
    "sea green": "#a3ceb4",
    "grey-green": "#93a68d",
    "mint": "#bfe3c9",
    "green": "#4a8f4e",
    "dark green": "#274a30",
    "yellow-green": "#a2b54a",
    "olive green": "#566b3a",
    "olive": "#767439",
    "dark olive": "#45452a",
    "khaki": "#b5ab7c",
    "mustard": "#c69a35",
    "yellow": "#f2d64c",
    "pale yellow": "#f3e8a8",
    "golden": "#e4bd45",
    "amber": "#dd932f",
    "orange": "#e2762c",
    "burnt orange": "#bb5f2a",
    "rust": "#974a27",
    "brick": "#98402f",
    "red": "#b92d2d",
    "dark red": "#7a2220",
    "scarlet": "#e2351f",
    "oxblood": "#552220",
    "salmon": "#dc9880",
    "peach": "#f1c3a0",
    "pink": "#ecb1bc",
    "pale pink": "#f3dcdb",
    "rose": "#c9647a",
    "dusty rose": "#bf8f86",
    "purple": "#6a4285",
    "dark purple": "#3b2644",
    "lavender": "#c3b4da",
    "mauve": "#9c7f96",
    "plum": "#6b3a50",
    "mauve-brown": "#6d4c50",
}


@cache
def _named() -> tuple[tuple[str, ...], Floats]:
    return tuple(NAMED_HEXES), lab_from_hex(list(NAMED_HEXES.values()))


def colour_words(lab: ArrayLike) -> list[str]:
    """The nearest common name to each of n CIELAB colours (n, 3); ties go to the name listed first."""
    names, places = _named()
    gaps = colour_difference(numbers("Lab", lab)[:, None, :], places)
    return [names[int(nearest)] for nearest in np.argmin(gaps, axis=1)]


def hex_of_word(word: str) -> str | None:
    """The hex code that a common name stands for here; None where the list does not have it."""
    return NAMED_HEXES.get(word)
