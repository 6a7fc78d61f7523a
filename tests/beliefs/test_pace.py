"""The minutes of a style are learned from timed pours: at the command line, on generated books."""

from __future__ import annotations

import math
from datetime import date
from pathlib import Path

import pytest

from blendwise.api import Book
from blendwise.beliefs.learning.pace import DAYS, MAKERS, pace
from blendwise.facts.pour.minutes import rulebook_minutes, style_ends, style_minutes
from blendwise.facts.situation.worked_out import Situation
from blendwise.records.as_of import AsOf
from blendwise.records.place import RecordError
from tests.strangers.books import TODAY, a_book
from tests.strangers.runs import ran


def test_one_pour_moves_the_pace_by_its_share_of_the_precision() -> None:
    """A normal mean with known variances: after one look, the prior's share and the look's are as 1/σ²."""
    one = pace([math.log(2.0)])
    assert one.mean == pytest.approx(math.log(2.0) * MAKERS**2 / (MAKERS**2 + DAYS**2))
    assert one.sd == pytest.approx(MAKERS * DAYS / math.hypot(MAKERS, DAYS))


@pytest.mark.parametrize("timed", [2, 8, 40])
def test_more_pours_narrow_the_pace_and_a_day_stays_a_day(timed: int) -> None:
    few, many = pace([0.3] * (timed // 2)), pace([0.3] * timed)
    assert few.sd > many.sd
    assert few.again > many.again > DAYS
    assert abs(0.3 - many.mean) < abs(0.3 - few.mean)


def _poured(folder: Path, system: str) -> tuple[Path, Situation]:
    """The first generated plan in this system of units that pours all portions to one end."""
    for seed in range(40):
        book = a_book(folder / str(seed), seed, plans=3, looks=False)
        opened = Book(book.folder)
        if opened.files.usual.units.mass != system:
            continue
        for plan in book.plans:
            try:
                s = opened.noting(plan, AsOf(DAY), None).situation
            except RecordError:
                continue
            if s.pour is not None and s.pour.family == "interleaved":
                return plan, s
    raise AssertionError("no book pours all portions to one end")


DAY = date.fromisoformat(TODAY)


@pytest.mark.parametrize("system", ["g", "oz"])
def test_timed_pours_become_the_styles_minutes(system: str, tmp_path: Path) -> None:
    """Three pours that took 1.5 times as long make the next plan of the style slower; as written, nothing."""
    plan, before = _poured(tmp_path, system)
    assert before.pour is not None
    written = rulebook_minutes(before, before.pour)
    assert style_minutes(before, before.pour) == pytest.approx(written)
    for day in ("2026-03-01", "2026-04-02", "2026-05-03"):
        noted = ran("note", plan, "--on", day, "--look", "at the pot", "--took", f"{written * 1.5:.1f} min")
        assert noted.code == 0, noted.err
    opened = Book(plan.parents[1])
    after = opened.noting(plan, AsOf(DAY), None).situation
    least, most = style_ends(after, before.pour)
    assert written * 1.3 < style_minutes(after, before.pour) < written * 1.5
    assert least < style_minutes(after, before.pour) < most
    (own,) = ran("review", "--book", plan.parents[1], "--json").document["pours"]
    assert (before.pour.name, 3) == (own["style"], own["batches"])
    assert own["factor"] == pytest.approx(style_minutes(after, before.pour) / written, rel=1e-6)
    assert (
        f"{before.pour.name} takes you"
        in " ".join(ran("review", "--book", plan.parents[1]).out.split()).lower()
    )
    unlearned = opened.noting(plan, AsOf(DAY, as_written=True), None).situation
    assert style_minutes(unlearned, before.pour) == pytest.approx(written)


def test_a_time_that_is_none_is_refused(tmp_path: Path) -> None:
    plan, _ = _poured(tmp_path, "g")
    said = ran("note", plan, "--on", "2026-03-01", "--took", "20 h")
    assert (2, True) == (said.code, "minutes of a pour" in said.err)
