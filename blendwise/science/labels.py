"""Names that the ingredient list must carry (EU rules for cosmetics).

By Regulation (EC) 1223/2009, Annex III, as amended by Regulation (EU) 2023/1545; the rows lie in
``data/label_names.csv`` with how they were read.  In a product that is rinsed off a listed name is due
*above* 0.01 % of the finished product.  Great Britain keeps its own list.  A label threshold is not a
limit of use, and this is not legal advice: local rules differ.

Formula: a name is due where Σ mass × content ÷ bar > 0.01 %, by the top of every range, from its date on.
Source: Regulation (EC) 1223/2009, Annex III, as amended by (EU) 2023/1545, in the Commission's export of
    2025-12-08.
Check: all 81 entries against the rows as read; thresholds at, under and over; the first day of each date;
    check digits of CAS numbers.
Limits: the European Union only (Great Britain keeps its own list); a corrigendum of November 2025 was not
    read; a help for the label, no more.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache, lru_cache

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.guards import ROUNDING, Bools, Floats, numbers
from blendwise.science.tables import fraction, listed, plain_key, read_table


@dataclass(frozen=True, slots=True)
class LabelName:
    """One entry: thresholds as fractions of the product; ``natural`` where a whole oil or extract is named.

    ``placed_from``: due on soap placed on the market from that day; ``on_sale_from``: due on all soap on
    sale from that day; both None where the name has been due since before 2023.
    """

    entry: str
    name: str
    keys: frozenset[str]
    natural: bool
    rinse_off: float
    leave_on: float
    placed_from: date | None
    on_sale_from: date | None
    note: str

    def in_force(self, placed: date, on_sale: date | None = None) -> bool:
        """Whether the name is due on soap placed on the market on one day and still on sale on another."""
        if self.placed_from is None or placed >= self.placed_from:
            return True
        return on_sale is not None and self.on_sale_from is not None and on_sale >= self.on_sale_from


@cache
def label_names() -> tuple[LabelName, ...]:
    """The 81 entries, as far as they were read in their source."""
    return tuple(_label_name(row) for row in read_table("label_names") if row["status"] == "seen")


def _label_name(row: dict[str, str]) -> LabelName:
    called = (row["label_name"], *listed(row["names"]), *listed(row["also_called"]), *listed(row["cas"]))
    return LabelName(
        entry=row["entry"],
        name=row["label_name"],
        keys=frozenset(map(plain_key, called)),
        natural=row["natural"] == "yes",
        rinse_off=fraction(row["rinse_off_pct"]) or 0.0,
        leave_on=fraction(row["leave_on_pct"]) or 0.0,
        placed_from=_day(row["placed_from"]),
        on_sale_from=_day(row["on_sale_from"]),
        note=row["note"],
    )


def _day(text: str) -> date | None:
    return date.fromisoformat(text) if text else None


@lru_cache(maxsize=4096)
def label_names_for(name: str) -> tuple[LabelName, ...]:
    """The entries that a constituent or whole oil falls under, by any of its names or its CAS number.

    Mostly one or none; a CAS number that the annex prints under two entries gives both.
    """
    key = plain_key(name)
    return tuple(entry for entry in label_names() if key in entry.keys)


def is_whole_oil_entry(name: str) -> bool:
    """Whether an oil is an entry itself, so that it must be named besides its constituents."""
    return any(entry.natural for entry in label_names_for(name))


def entries_of(substances: Sequence[str]) -> tuple[tuple[LabelName, ...], Bools]:
    """The entries that the substances fall under, and members (substances, entries).

    Substances under one entry count together (geranial and neral are both citral).
    """
    found = [{entry.name for entry in label_names_for(name)} for name in substances]
    there = set[str]().union(*found)
    entries = tuple(entry for entry in label_names() if entry.name in there)
    members = np.array([[entry.name in each for entry in entries] for each in found], dtype=np.bool_)
    return entries, members.reshape(len(substances), len(entries))


def above_threshold(share: ArrayLike, threshold: ArrayLike) -> Bools:
    """Whether a fraction of the finished bar lies above a threshold; exactly at it no name is due."""
    found = numbers("the share of a label name", share, least=0, endless=True)
    return np.asarray(found > numbers("the threshold", threshold, above=0, most=1) * (1 + ROUNDING))


def thresholds(entries: Sequence[LabelName]) -> Floats:
    """Rinse-off thresholds (entries,), fractions of the finished product."""
    return np.array([entry.rinse_off for entry in entries], dtype=np.float64)


def names_not_known(masses: ArrayLike, complete: ArrayLike) -> Bools:
    """Scents (…, scents) whose names cannot be told: in the bar, without a complete sheet.

    ``masses`` in g; ``complete``: yes/no per scent.  Unknown is never none.
    """
    there = numbers("the mass of a scent", masses, least=0) > 0
    return np.asarray(there & ~np.asarray(complete, np.bool_))
