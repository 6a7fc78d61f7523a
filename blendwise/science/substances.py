"""Additives: what a gram of each brings into the pot, and what it takes of the lye.

The rows lie in ``data/substances.csv`` (families in ``data/substance_families.csv``), each with its source
and with what was read, reckoned from a formula or taken from memory.  Masses in grams, contents as fractions
of mass, acid and alkali in mol per kg at the strength that the row names.  Spellings: `substance_names`.

Formula: NaOH eaten = grams ÷ 1000 × acid × 39.9971; acid = equivalents × 1000 × strength ÷ molar mass.
Source: atomic weights of IUPAC; food composition tables (USDA SR28 and SR Legacy) as read in public copies.
Check: every acid and alkali against the molar mass of its CAS number; baking soda 0.476 g a gram; fractions
    of a row together at most 1; check digits of all CAS numbers.
Limits: what fat, protein and sugar of foods take of the lye is not counted, and sour foods are taken at their
    least, so that no additive hides lye; contents of foods vary; a bottle's own strength outranks the table.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from numpy.typing import ArrayLike

from blendwise.science.guards import Floats, numbers
from blendwise.science.lye import NAOH_MOLAR_MASS
from blendwise.science.tables import read_table

KINDS = (
    *("acid", "alkali", "milk", "sugar", "alcohol", "salt", "tea", "clay", "grain", "honey", "purée"),
    *("botanical", "starch", "protein", "chelator", "surfactant", "preservative", "wax", "other", "poison"),
)
# How a row came about; "family" is known by the last word of its name alone.
STANDINGS = ("formula", "read", "memory", "practice", "family")


@dataclass(frozen=True, slots=True)
class Substance:
    """One additive.  ``water`` to ``fat`` are fractions of mass, crystal water included in ``water``.

    ``acid``: mol of NaOH eaten per kg; ``alkali``: mol of OH brought per kg.  ``fresh``: fresh food that can
    spoil.  ``kind``: of `KINDS`; a poison never goes into soap, and ``note`` says why.  ``plausible``: the
    greatest mass over oils that can be meant.  ``belongs``: "lye" or "oils.yaml"
    where the name should not stand among additives, else empty.  ``standing``: one of `STANDINGS`.
    """

    name: str
    also: tuple[str, ...]
    kind: str
    water: float
    sugar_reducing: float
    sugar_other: float
    acid: float
    alkali: float
    alcohol: float
    salt: float
    fat: float
    fresh: bool
    plausible: float
    belongs: str
    standing: str
    source: str
    note: str

    @property
    def is_alkali(self) -> bool:
        """Whether it is an alkali, which is weighed as lye and never as an additive."""
        return self.kind == "alkali"

    @property
    def sugar(self) -> float:
        """All sugars, reducing or not, as a fraction of mass."""
        return self.sugar_reducing + self.sugar_other

    @property
    def spellings(self) -> tuple[str, ...]:
        """The name and everything else that it is called."""
        return (self.name, *self.also)


@cache
def substances() -> tuple[Substance, ...]:
    """All rows of the table, in its order."""
    return tuple(map(_substance, read_table("substances")))


@cache
def families() -> tuple[Substance, ...]:
    """Additives of which only the last word is known (petals, flour); ``also`` holds more such words."""
    return tuple(map(_substance, read_table("substance_families")))


def _substance(row: dict[str, str]) -> Substance:
    return Substance(
        name=row["name"],
        also=tuple(part for part in row["also"].split("|") if part),
        kind=row["kind"],
        water=float(row["water"]),
        sugar_reducing=float(row["sugar reducing"]),
        sugar_other=float(row["sugar other"]),
        acid=float(row["acid mol per kg"]),
        alkali=float(row["alkali mol per kg"]),
        alcohol=float(row["alcohol"]),
        salt=float(row["salt"]),
        fat=float(row["fat"]),
        fresh=row["fresh"] == "yes",
        plausible=float(row["plausible"]),
        belongs=row["belongs"],
        standing=row["standing"],
        source=row["source"],
        note=row["note"],
    )


def lye_eaten(grams: ArrayLike, substance: Substance) -> Floats:
    """Grams of NaOH that ``grams`` of an additive eat; 0 for a neutral one and for an alkali."""
    return _mass(grams) / 1000 * substance.acid * NAOH_MOLAR_MASS


def lye_brought(grams: ArrayLike, substance: Substance) -> Floats:
    """Grams of NaOH with as much alkali as ``grams`` of an alkali bring; 0 for what brings none."""
    return _mass(grams) / 1000 * substance.alkali * NAOH_MOLAR_MASS


def worst_lye(grams: ArrayLike) -> Floats:
    """Grams of NaOH in ``grams`` of something unknown, at the worst: all of it, as pure sodium hydroxide.

    The alkalis of lithium, magnesium and calcium bring more a gram (up to twice, by molar mass); those
    are known by name.
    """
    return _mass(grams)


def water_of(grams: ArrayLike, substance: Substance) -> Floats:
    """Grams of water in ``grams`` of an additive."""
    return _mass(grams) * substance.water


def sugar_of(grams: ArrayLike, substance: Substance) -> Floats:
    """Grams of sugars, reducing or not, in ``grams`` of an additive."""
    return _mass(grams) * substance.sugar


def dry_of(grams: ArrayLike, substance: Substance) -> Floats:
    """Grams that stay in a dried bar: without water and alcohol."""
    return _mass(grams) * (1 - substance.water - substance.alcohol)


def _mass(grams: ArrayLike) -> Floats:
    return numbers("the mass of an additive", grams, least=0)
