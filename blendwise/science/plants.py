"""Plants whose oils carry methyl eugenol or safrole, found by the words of an oil's name.

An allergen sheet need not name either, complete or not, yet both have a very low maximum: so they are asked
of the plants that are known to carry them.  What stands here is the top of what was published, which is what
such an oil counts by until a paper says less.

Formula: none; the longest row of words that stands in the name is the plant.
Source: ``data/plants.csv``; each figure read in the source it names, or from memory.
Check: names of oils that carry them, and names that are like theirs (rose geranium, lemon myrtle).
Limits: a selection of plants; a type, an origin or a lot may hold far less: its paper says so.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass
from functools import cache, lru_cache

from blendwise.science.substance_names import letters_apart
from blendwise.science.tables import fraction, listed, read_table

_WORD = re.compile(r"[^\W\d_]+")
PLAIN_WORDS = frozenset(
    {
        *("oil", "essential", "absolute", "organic", "wild", "pure", "natural", "bud", "buds"),
        *("leaf", "leaves", "flower", "stem", "root", "seed", "wood", "bark", "berry", "the", "of", "type"),
        *("resinoid", "concrete", "co", "extract", "otto", "essence"),
    }
)
"""Words that an oil's name may have besides its plant's and still be the plant's alone."""


_STRONG = """
spice spices spiced spicy mint mints almond almonds clove cloves cinnamon cassia chai nutmeg mace allspice
pimento pepper thyme oregano savory peppermint spearmint cornmint wintergreen gingerbread marzipan
zimt kanel kaneel canela canelle cannelle nelke nelken girofle clavo garofano kruidnagel
minze pfefferminze menta menthe mentha mandel amande muskat muscade piment pfeffer poivre
thymian thym tomillo origan origanum
mustard horseradish pennyroyal wormwood mugwort thuja buchu camphor capsicum cayenne chili chilli
eugenol thymol carvacrol menthol massoia poleo senf moutarde ruta
"""
STRONG_PLANTS = frozenset(_STRONG.split())
"""Plants whose oils are spice, mint or almond, in the tongues that labels are in, and those that burn or are
poisonous in small amounts (mustard, pennyroyal, thuja); from memory."""
SHORTEST_SLIP = 7
"""Letters from which a word with one letter amiss is still taken for one of these."""


def is_strong(words: Collection[str], more: Collection[str] = ()) -> bool:
    """Whether a word is a strong plant's, or one of ``more``; doubled letters and one slip set aside."""
    known = {_single(each) for each in (*STRONG_PLANTS, *more)}
    for word in map(_single, words):
        if word in known:
            return True
        slips = (each for each in known if min(len(each), len(word)) >= SHORTEST_SLIP)
        if any(letters_apart(word, each, 1) <= 1 for each in slips):
            return True
    return False


def _single(word: str) -> str:
    return re.sub(r"(.)\1+", r"\1", word.casefold())


@dataclass(frozen=True, slots=True)
class Carried:
    """A constituent that a plant's oil carries: ``most``, a fraction of the oil, is the top known."""

    constituent: str
    most: float
    read: bool
    source: str


@lru_cache(maxsize=1024)
def carried_by(name: str, only: bool = False) -> tuple[Carried, ...]:
    """What the oil of a plant carries, by the words of a name; may be empty.

    ``only``: the name must say nothing but the plant and plain words (oil, leaf …): for an oil of which
    nobody says that it is one of a plant.
    """
    words = tuple(_WORD.findall(name.casefold()))
    found = max((plant for plant in _plants() if _holds(words, plant)), key=len, default=None)
    if found is None or (only and set(words) - set(found) - PLAIN_WORDS):
        return ()
    return _plants()[found]


def _holds(words: tuple[str, ...], plant: tuple[str, ...]) -> bool:
    return any(words[k : k + len(plant)] == plant for k in range(len(words) - len(plant) + 1))


@cache
def _plants() -> dict[tuple[str, ...], tuple[Carried, ...]]:
    """What each plant carries by the words that it is called by; nothing for those that are only like one."""
    found: dict[tuple[str, ...], tuple[Carried, ...]] = {}
    for row in read_table("plants"):
        most = fraction(row["most_pct"])
        carried = (
            ()
            if most is None
            else (Carried(row["constituent"], most, row["standing"] == "read", row["source"]),)
        )
        for called in listed(row["called"]):
            key = tuple(_WORD.findall(called))
            found[key] = (*found.get(key, ()), *carried)
    return found
