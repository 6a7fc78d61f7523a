"""The list of ingredients of a soap, as put in and as saponified, and the weight that a label may say.

Two customs: what was put in, by mass at the time it is added, or what lye made of it.  Names are looked up; a
name that no table knows stays the maker's own and is told as not known.

Formula: soap of an oil = s × (oil + NaOH − glycerol), s = the part of the oils that the lye reaches; glycerol
    = NaOH × 92.0938 ÷ (3 × 39.9971); net weight = lightest bar × (1 − what it will still lose), rounded down.
Source: Regulation (EC) No 1223/2009, Article 19(1)(g): descending order of weight, below 1 % in any order,
    colourants last: from memory; weight at packaging, 19(1)(b), read in part; masses by IUPAC atomic weights.
Check: mass balance of triolein; each row of ``data/ingredient_names.csv`` by its own name; lightest of ten.
Limits: what stays free of which oil nobody knows; names are from memory and drafts for the assessor.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

import numpy as np

from blendwise.science.base_oils import base_oil
from blendwise.science.guards import Floats, numbers
from blendwise.science.lye import NAOH_MOLAR_MASS
from blendwise.science.tables import plain_key, read_table

GLYCEROL_MOLAR_MASS = 92.0938
GLYCEROL_PER_NAOH = GLYCEROL_MOLAR_MASS / (3 * NAOH_MOLAR_MASS)


@dataclass(frozen=True, slots=True)
class Called:
    """A name for the list: in the EU and Great Britain, in the USA, once lye has made soap of it."""

    eu: str
    us: str
    eu_in_soap: str
    us_in_soap: str
    colour: bool = False
    known: bool = True
    known_in_soap: bool = True


@dataclass(frozen=True, slots=True)
class _Row:
    words: frozenset[str]
    but: frozenset[str]
    called: Called


@cache
def _rows() -> tuple[_Row, ...]:
    return tuple(
        _Row(
            frozenset(row["words"].split()),
            frozenset(part for part in row["not"].split("|") if part),
            Called(
                row["eu"],
                row["us"],
                row["in_soap"] or row["eu"],
                row["in_soap"] or row["us"],
                row["colour"] == "yes",
            ),
        )
        for row in read_table("ingredient_names")
    )


@lru_cache(maxsize=1024)
def called(name: str) -> Called:
    """How an addition or a colourant is called; its own name, not known, where the table has none."""
    words = set(plain_key(name).split())
    fits = [row for row in _rows() if row.words <= words and not row.but & words]
    best = max(fits, key=lambda row: len(row.words), default=None)
    return _unknown(name) if best is None else best.called


def _unknown(name: str) -> Called:
    return Called(name, name, name, name, known=False, known_in_soap=False)


@lru_cache(maxsize=1024)
def oil_called(name: str) -> Called:
    """How a base oil is called, as put in and as saponified; its own name where the table has none."""
    kind = base_oil(name)
    if kind is None or not kind.inci:
        return _unknown(name)
    soap = kind.saponate or name
    return Called(kind.latin, kind.inci, soap, soap, known_in_soap=bool(kind.saponate))


def soap_and_glycerin(oils: Floats, needs: Floats, reached: float) -> tuple[Floats, Floats]:
    """Grams of soap of each oil and of the glycerin that leaves it (n,).

    ``needs`` (n,): g NaOH that each oil needs in all; ``reached``: the fraction of them that lye turns.
    """
    masses, lye = numbers("the oils", oils, least=0), numbers("their need", needs, least=0)
    part = float(np.clip(reached, 0.0, 1.0))
    glycerin = part * lye * GLYCEROL_PER_NAOH
    return np.asarray(part * (masses + lye) - glycerin), np.asarray(glycerin)


def net_weight(bars: Sequence[float], still_to_lose: float, step: float = 1.0) -> float:
    """What a label may say (g): the lightest bar, less what it will still lose, rounded down to a step."""
    lightest = float(numbers("the weight of a bar", list(bars), above=0).min())
    least = lightest * (1 - float(numbers("what is still lost", still_to_lose, least=0, below=1)))
    return math.floor(least / step + 1e-9) * step
