"""Fade: volatility classes from published vapour pressures, and what lye breaks.

Vapour pressure in Pa at 298.15 K, boiling point in K (``data/volatility.csv``, with the data set of each).
The class boundaries are our own judgement, laid so that both scales agree on every material that has both
figures, and so that citrus, herb, spice and root fall in that order, as makers report.  A class is a
tendency: how long a scent lasts in a given soap is told by the maker's own looks.

Formula: class by vapour pressure at 25 °C, or by boiling point where that alone is known; an oil takes the
    class of most of it.
Source: published vapour pressures and boiling points, the data set named in each row; class boundaries are
    our judgement.
Check: Antoine constants recomputed; the `chemicals` library; the trade's order of citrus, herb, spice,
    root.
    Lye: esters are split and aldehydes changed, by the sort of each constituent (general chemistry, from
    memory); aromatic esters such as benzyl benzoate hold longer and are left out.
Limits: a tendency: how long a scent lasts in a given soap is told by the maker's own looks; no dose is
    raised to beat fade.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.guards import Floats, Ints, numbers
from blendwise.science.tables import listed, plain_key, read_table

# Most volatile first: terpenes of citrus; light herbs and flowers; spice; roots, woods and resins.
CLASSES = ("fleeting", "moderate", "lasting", "very lasting")
# Vapour pressure in Pa at 298.15 K at or below which the next class begins: our own judgement.
CLASS_PRESSURES = (50.0, 4.0, 0.1)
# How far an extrapolated fit may be off, as a factor either way: judgement on what was found.
EXTRAPOLATED = 4.0
# Normal boiling point in K at or above which the next class begins: our own judgement, used where no vapour
# pressure is published.
CLASS_BOILING = (462.0, 508.5, 545.0)


@dataclass(frozen=True, slots=True)
class Volatility:
    """Published figures of one substance; None where the libraries hold none.

    ``pressure`` Pa at 298.15 K, ``boiling`` K; ``kept_within``: the fit holds at 298 K, not carried beyond.
    """

    substance: str
    keys: frozenset[str]
    pressure: float | None
    boiling: float | None
    source: str
    kept_within: bool


@cache
def volatilities() -> tuple[Volatility, ...]:
    """All materials of the table that were read in their source."""
    return tuple(_volatility(row) for row in read_table("volatility") if row["status"] == "seen")


def _volatility(row: dict[str, str]) -> Volatility:
    names = (row["substance"], *listed(row["also_called"]), *listed(row["cas"]))
    pressure, boiling = row["vapour_pressure_pa"], row["boiling_point_k"]
    return Volatility(
        substance=row["substance"],
        keys=frozenset(map(plain_key, names)),
        pressure=float(pressure) if pressure else None,
        boiling=float(boiling) if boiling else None,
        source=row["vapour_pressure_source"] or row["boiling_point_source"],
        kept_within=row["validity"] == "in range",
    )


def volatility_of(name: str) -> Volatility | None:
    """The published figures of a substance by name, other name or CAS number; None where there are none."""
    key = plain_key(name)
    return next((one for one in volatilities() if key in one.keys), None)


def class_by_pressure(pressure: ArrayLike) -> Ints:
    """Index into ``CLASSES`` from a vapour pressure in Pa at 298.15 K (above 0); greater lasts longer."""
    found = numbers("the vapour pressure", pressure, above=0)
    return np.asarray((found[..., None] <= np.array(CLASS_PRESSURES)).sum(axis=-1))


def class_by_boiling(boiling: ArrayLike) -> Ints:
    """Index into ``CLASSES`` from a normal boiling point in K; used where no vapour pressure is published."""
    found = numbers("the boiling point", boiling, above=0)
    return np.asarray((found[..., None] >= np.array(CLASS_BOILING)).sum(axis=-1))


def class_of(name: str) -> int | None:
    """Index into ``CLASSES`` of a known substance, its vapour pressure first; None where nothing is known.

    Where the pressure is extrapolated and could belong to two classes, the boiling point tells, else nobody.
    """
    one = volatility_of(name)
    if one is None:
        return None
    boils = None if one.boiling is None else int(class_by_boiling(one.boiling))
    if one.pressure is None:
        return boils
    longest, shortest = (int(class_by_pressure(end)) for end in pressure_ends(one))
    if longest == shortest:
        return longest
    return boils if boils is not None and shortest <= boils <= longest else None


def pressure_ends(one: Volatility) -> tuple[float, float]:
    """Least and most vapour pressure in Pa: the published one, wider where its fit is extrapolated.

    Extrapolated fits were found off by up to four times (thymol) and down to a third (benzyl acetate).
    """
    assert one.pressure is not None
    doubt = 1.0 if one.kept_within else EXTRAPOLATED
    return one.pressure / doubt, one.pressure * doubt


def class_shares(constituents: Sequence[str], contents: ArrayLike) -> tuple[Floats, float]:
    """Fraction of a scent in each class (classes,), and the fraction whose class is not known.

    ``contents`` (constituents,): fractions of the scent; what they leave of it is not known either.
    """
    amounts = numbers("a constituent", contents, least=0, most=1)
    if amounts.sum() > 1 + 1e-9:
        raise ValueError("the constituents of a scent come to more than 100 %")
    classes = [class_of(name) for name in constituents]
    members = np.array([[c == k for k in range(len(CLASSES))] for c in classes], dtype=np.float64)
    shares = amounts @ members.reshape(len(classes), len(CLASSES))
    return np.asarray(shares), float(max(0.0, 1.0 - shares.sum()))


# Sorts of constituent that raw soap breaks or changes, and those of them that hold for weeks all the same.
BROKEN_IN_LYE = ("ester", "aldehyde")
HOLD_IN_LYE = frozenset(
    map(plain_key, ("Benzyl Benzoate", "Benzyl Salicylate", "Amyl Salicylate", "Hexyl salicylate"))
)


def breaks_in_lye(substance: str, kind: str) -> bool:
    """Whether raw soap splits or changes a substance of a sort (ester, aldehyde …) within the cure."""
    return kind.startswith(BROKEN_IN_LYE) and plain_key(substance) not in HOLD_IN_LYE


# Monoterpenes without oxygen, which leave first and which air changes in the bottle.
MONOTERPENES = frozenset(
    map(
        plain_key,
        (
            *(
                "Limonene",
                "Pinene",
                "Alpha-Terpinene",
                "gamma-Terpinene",
                "Terpinolene",
                "3-Carene",
                "2-Carene",
            ),
            *("Myrcene", "Ocimene", "Sabinene", "alpha-Thujene", "alpha-Phellandrene", "beta-Phellandrene"),
        ),
    )
)
AIR_CHANGES = MONOTERPENES | frozenset(map(plain_key, ("Linalool", "Linalyl Acetate")))


def air_changes(substance: str) -> bool:
    """Whether air in the bottle makes skin allergens of a substance: monoterpenes, linalool and its acetate.

    Source: Rudbäck et al., Chem. Res. Toxicol. 25, 713 (2012), for alpha-terpinene; de Groot and Schmidt,
    Contact Dermatitis 75, 129 (2016), for tea tree oil; limonene and linalool: notes of Annex III/88 and
    III/84; the other monoterpenes by their like structure.
    """
    return plain_key(substance) in AIR_CHANGES


def after_cure(shares: ArrayLike, least: ArrayLike, most: ArrayLike) -> tuple[Floats, Floats]:
    """Least and most share of each oil (oils,) in what is left of a blend after cure.

    ``shares``: of the blend as weighed; ``least`` and ``most``: fraction left of each.  An oil's own share is
    least where it kept least and all others most, and the other way round.
    """
    poured = numbers("a share", shares, least=0)
    low, high = (
        poured * numbers("what is left", least, least=0),
        poured * numbers("what is left", most, least=0),
    )
    fewest = low / np.maximum(low + high.sum() - high, SMALLEST)
    greatest = high / np.maximum(high + low.sum() - low, SMALLEST)
    return np.minimum(fewest, 1.0), np.minimum(greatest, 1.0)


SMALLEST = 1e-12


def main_class(constituents: Sequence[str], contents: ArrayLike) -> int | None:
    """The class that holds more of a scent than any other and than what is not known; None if none does."""
    shares, unknown = class_shares(constituents, contents)
    best = int(np.argmax(shares))
    return best if shares[best] > unknown else None
