"""The day our tables of the law were made, and the amendments known then.

Law changes; a table does not change by itself.  So the tables say their own day, and what was known to come.

Formula: age = day asked − day of the tables; overtaken by each amendment that applies by then and is not in
    the tables; a draft, which nobody is known to have adopted, overtakes nothing and is told as announced.
Source: ``data/amendments.csv``; the day is that of the Commission's exports of Annexes II and III.
Check: the day before and the day from which each amendment applies.
Limits: what was announced or adopted after the tables were made is not known here.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import cache

from blendwise.science.tables import read_table

TABLES_OF = date(2025, 12, 8)  # last update that the exports of Annexes II and III carry


@dataclass(frozen=True, slots=True)
class Amendment:
    """A change of the law (of bans, maxima or label); ``standing`` says how it was read."""

    text: str
    applies_from: date
    changes: str
    concerns: str
    in_tables: bool
    standing: str
    source: str

    @property
    def adopted(self) -> bool:
        """Whether it is known to be law; a draft may be changed, put off or dropped."""
        return not self.standing.startswith("draft")


@cache
def amendments() -> tuple[Amendment, ...]:
    """All that were known when the tables were made, by their days."""
    rows = (
        Amendment(
            row["text"],
            date.fromisoformat(row["applies_from"]),
            row["changes"],
            row["concerns"],
            row["in_tables"] == "yes",
            row["standing"],
            row["source"],
        )
        for row in read_table("amendments")
    )
    return tuple(sorted(rows, key=lambda each: each.applies_from))


def overtaken_by(day: date) -> tuple[Amendment, ...]:
    """Amendments known to be law that apply on a day and that our tables do not hold."""
    return tuple(each for each in _not_held(day) if each.adopted)


def announced_by(day: date) -> tuple[Amendment, ...]:
    """Drafts that were to apply by a day and that our tables do not hold: to be asked about."""
    return tuple(each for each in _not_held(day) if not each.adopted)


def _not_held(day: date) -> list[Amendment]:
    return [each for each in amendments() if each.applies_from <= day and not each.in_tables]


def last_change(day: date) -> date:
    """The last day up to this one from which an amendment of bans or maxima applies; no draft counts."""
    kinds = ("bans", "maxima")
    applies = (a for a in amendments() if a.adopted and a.applies_from <= day)
    before = [a.applies_from for a in applies if a.changes in kinds]
    return max(before, default=TABLES_OF)


def age_in_days(day: date) -> int:
    """How old the tables are on a day; not below zero."""
    return max(0, (day - TABLES_OF).days)
