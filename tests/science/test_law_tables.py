"""The day of our tables of the law, and the amendments known then."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from blendwise.science import law_tables
from blendwise.science.law_tables import (
    TABLES_OF,
    Amendment,
    age_in_days,
    amendments,
    announced_by,
    last_change,
    overtaken_by,
)
from blendwise.science.restrictions import maxima_for, restrictions_for

A_LAW = Amendment("an invented law", date(2027, 3, 1), "bans", "nothing", False, "as reported", "invented")


def test_overtaken_only_from_the_day(monkeypatch: pytest.MonkeyPatch) -> None:
    """The day before a change applies nobody is troubled with it; from that day on it is told."""
    known = amendments()
    monkeypatch.setattr(law_tables, "amendments", lambda: (*known, A_LAW))
    assert overtaken_by(date(2027, 2, 28)) == ()
    assert overtaken_by(date(2027, 3, 1)) == (A_LAW,)
    assert last_change(date(2027, 3, 1)) == date(2027, 3, 1)


def test_a_draft_is_announced_and_is_no_law() -> None:
    """What nobody is known to have adopted overtakes no table and makes no paper old; it is announced."""
    drafts = [each for each in amendments() if not each.adopted]
    assert drafts
    for each in drafts:
        assert each not in overtaken_by(each.applies_from)
        assert each not in announced_by(each.applies_from - timedelta(1))
        assert each in announced_by(each.applies_from)
        assert last_change(each.applies_from) < each.applies_from
    assert overtaken_by(date(2026, 11, 28)) == ()


def test_age() -> None:
    assert age_in_days(TABLES_OF) == 0
    assert age_in_days(TABLES_OF - timedelta(9)) == 0
    assert age_in_days(date(2026, 12, 9)) == 366


def test_a_statement_must_be_younger_than_the_last_change_of_bans_or_maxima() -> None:
    assert last_change(date(2026, 11, 28)) == date(2026, 5, 1)
    assert last_change(date(2026, 4, 30)) == date(2025, 9, 1)
    assert last_change(date(2027, 1, 1)) == date(2026, 5, 1)


def test_hexyl_salicylate_since_its_day() -> None:
    """The row of (EU) 2026/78 counts like one that was read, from its first day; it says it is reported."""
    (row,) = restrictions_for("hexyl salicylate")
    assert (row.most, row.reported) == (0.005, True)
    assert maxima_for(["hexyl salicylate"], day=date(2026, 4, 30))[0] == ()
    assert maxima_for(["hexyl salicylate"], day=date(2026, 5, 1))[0] == (row,)
