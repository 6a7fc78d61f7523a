"""Published maxima and bans of fragrance materials (EU annexes; four IFRA figures of 2020).

A row that was read in its source decides; so does one that others report where the original could not be
read, and says so.  A row from memory only asks.  The table is a selection, so a material that is not in it
is *not known to be* restricted.  Maxima are fractions of the finished rinse-off product.

Formula: maxima and bans are looked up by name, other name or CAS number; what the text sums counts
    together.
Source: Regulation (EC) 1223/2009, Annexes II and III, in the Commission's exports of 2025-12-08; one row of
    (EU) 2026/78 as reported; four figures of IFRA's 49th Amendment.
Check: every row that was read, with its figure and source; bans and maxima under all their names.
Limits: a selection, not the annexes: a material that is not in it is not known to be free.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache

import numpy as np

from blendwise.science.guards import Bools, Floats
from blendwise.science.tables import fraction, listed, plain_key, read_table

EU, INDUSTRY = "EU", "IFRA 49th Amendment"


@dataclass(frozen=True, slots=True)
class Restriction:
    """One row: ``rule`` is maximum, banned, purity or no figure; ``most`` a fraction of the bar, or None."""

    substance: str
    keys: frozenset[str]
    counts_with: tuple[str, ...]
    authority: str
    entry: str
    rule: str
    most: float | None
    condition: str
    source: str
    note: str
    status: str
    since: date | None

    @property
    def reported(self) -> bool:
        """Whether others report it and the original was not read: to be said, never a reason to be softer."""
        return self.status == "reported"


@cache
def restrictions() -> tuple[Restriction, ...]:
    """All rows of the table that decide: read in their source, or reported by others."""
    return tuple(row for row in _rows() if row.status in ("seen", "reported"))


@cache
def remembered() -> tuple[Restriction, ...]:
    """Rows from memory alone: reason to ask, never to stop."""
    return tuple(row for row in _rows() if row.status == "memory")


@cache
def _rows() -> tuple[Restriction, ...]:
    return tuple(_restriction(row) for row in read_table("restrictions"))


def _restriction(row: dict[str, str]) -> Restriction:
    names = (row["substance"], *listed(row["also_called"]), *listed(row["cas"]))
    return Restriction(
        substance=row["substance"],
        keys=frozenset(map(plain_key, names)),
        counts_with=listed(row["counts_with"]),
        authority=row["authority"],
        entry=row["entry"],
        rule=row["rule"],
        most=fraction(row["most_pct"]),
        condition=row["condition"],
        source=row["source"],
        note=row["note"],
        status=row["status"],
        since=date.fromisoformat(row["since"]) if row["since"] else None,
    )


def restrictions_for(name: str) -> tuple[Restriction, ...]:
    """Every row that speaks of a substance, found by name, other name or CAS number; may be empty.

    One CAS number can stand for a banned and an allowed preparation: then both rows come back.
    """
    key = plain_key(name)
    return tuple(row for row in restrictions() if key in row.keys)


def bans_among(names: Sequence[str]) -> tuple[tuple[str, Restriction], ...]:
    """The names that may not be in soap at all, each with the row that bans it."""
    return tuple((name, row) for name in names for row in restrictions_for(name) if row.rule == "banned")


def remembered_among(names: Sequence[str]) -> tuple[tuple[str, Restriction], ...]:
    """The names that are remembered as banned, each with its row."""
    keys = {name: plain_key(name) for name in names}
    return tuple((name, row) for name in names for row in remembered() if keys[name] in row.keys)


def maxima_for(
    constituents: Sequence[str], *authorities: str, day: date | None = None
) -> tuple[tuple[Restriction, ...], Bools, Floats]:
    """The maxima that the constituents touch: rows, members and figures, for `limits.use_of_maxima`.

    members (constituents, rows): True where a constituent counts under that row, by itself or because
    the text sums both; figures (rows,) as fractions of the finished bar.  ``authorities``: the European
    Union where none is given; ``day``: rows that begin later are left out.
    """
    whose = authorities or (EU,)
    maxima = (row for row in restrictions() if row.rule == "maximum" and row.authority in whose)
    rows = tuple(row for row in maxima if day is None or row.since is None or row.since <= day)
    members = np.array([[_counts(name, row) for row in rows] for name in constituents], dtype=np.bool_)
    members = members.reshape(len(constituents), len(rows))
    touched = np.asarray(members.any(axis=0))
    kept = tuple(row for row, hit in zip(rows, touched, strict=True) if hit)
    return kept, members[:, touched], np.array([row.most for row in kept], dtype=np.float64)


def _counts(name: str, row: Restriction) -> bool:
    key = plain_key(name)
    return key in row.keys or any(key in _keys_of(other) for other in row.counts_with)


@cache
def _keys_of(substance: str) -> frozenset[str]:
    return next(row.keys for row in restrictions() if row.substance == substance)
