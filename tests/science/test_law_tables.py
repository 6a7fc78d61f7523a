"""The day of our tables of the law, and the amendments known then."""

from __future__ import annotations

from datetime import date, timedelta

from blendwise.science.law_tables import TABLES_OF, age_in_days, amendments, last_change, overtaken_by
from blendwise.science.restrictions import maxima_for, restrictions_for


def test_overtaken_only_from_the_day() -> None:
    """The day before a change applies nobody is troubled with it; from that day on it is told."""
    late = [each for each in amendments() if not each.in_tables]
    assert late
    for each in late:
        assert each not in overtaken_by(each.applies_from - timedelta(1))
        assert each in overtaken_by(each.applies_from)
    assert overtaken_by(date(2026, 11, 28)) == ()


def test_age() -> None:
    assert age_in_days(TABLES_OF) == 0
    assert age_in_days(TABLES_OF - timedelta(9)) == 0
    assert age_in_days(date(2026, 12, 9)) == 366


def test_a_statement_must_be_younger_than_the_last_change_of_bans_or_maxima() -> None:
    assert last_change(date(2026, 11, 28)) == date(2026, 5, 1)
    assert last_change(date(2026, 4, 30)) == date(2025, 9, 1)


def test_hexyl_salicylate_since_its_day() -> None:
    """The row of (EU) 2026/78 counts like one that was read, from its first day; it says it is reported."""
    (row,) = restrictions_for("hexyl salicylate")
    assert (row.most, row.reported) == (0.005, True)
    assert maxima_for(["hexyl salicylate"], day=date(2026, 4, 30))[0] == ()
    assert maxima_for(["hexyl salicylate"], day=date(2026, 5, 1))[0] == (row,)
