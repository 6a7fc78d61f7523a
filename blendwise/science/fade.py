"""Fade: volatility classes from published vapour pressures.

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
    """Index into ``CLASSES`` of a known substance, its vapour pressure first; None where nothing is known."""
    one = volatility_of(name)
    if one is None:
        return None
    if one.pressure is not None:
        return int(class_by_pressure(one.pressure))
    return None if one.boiling is None else int(class_by_boiling(one.boiling))


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


def main_class(constituents: Sequence[str], contents: ArrayLike) -> int | None:
    """The class that holds more of a scent than any other and than what is not known; None if none does."""
    shares, unknown = class_shares(constituents, contents)
    best = int(np.argmax(shares))
    return best if shares[best] > unknown else None
