"""The region that works, against the judge: at its edge the named rule breaks, within it nothing heavy."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.answers.pair.findings import Hearing
from blendwise.answers.pair.plan import situation
from blendwise.answers.pair.pours import poured, without_pours
from blendwise.answers.pair.question import Question, ask
from blendwise.answers.pair.region import STEPS, grid, region
from blendwise.answers.pair.result import Cap
from blendwise.api import Book
from blendwise.facts.columns import Column
from blendwise.facts.situation.dried import dried
from blendwise.judge.findings.finding import Finding
from tests.answers.pair.conftest import TODAY
from tests.few import few

NUDGE = 1e-6
LOADS_APART = (0.25, 0.5, 0.75)


def question(book: Book, names: list[str], shares: tuple[float, ...], load: float = 0.04) -> Question:
    """A question about oils at these shares and this load, for home, so that certificates may be missing."""
    asked = ask(book.files, names, purpose="home", today=TODAY)
    return replace(asked, shares=shares, load=replace(asked.load, low=load, high=load))


def cap_of(book: Book, names: list[str], shares: tuple[float, ...]) -> Cap:
    """The region at one ratio."""
    s = situation(question(book, names, shares))
    return region(s, without_pours(book.rulebook.rules), np.array([shares]))[0]


def heavy(book: Book, names: list[str], shares: tuple[float, ...], load: float) -> list[Finding]:
    """Stops and conflicts that the judge finds broken at a load."""
    asked = question(book, names, shares, load)
    found = Hearing(asked, book.rulebook.rules).of(situation(asked))
    return [f for f in found if f.level in ("stop", "conflict") and f.status == "broken"]


@few(15)
@given(data=st.data())
def test_the_judge_agrees_with_the_edge(book: Book, data: st.DataObject) -> None:
    """Just above the greatest load the rule that is named is broken; below it, nothing heavy is."""
    names = data.draw(
        st.lists(st.sampled_from(sorted(book.files.scents)), min_size=1, max_size=3, unique=True)
    )
    parts = data.draw(st.lists(st.integers(1, 9), min_size=len(names), max_size=len(names)))
    shares = tuple(part / sum(parts) for part in parts)
    cap = cap_of(book, names, shares)
    if cap.most is None:
        assert [] == heavy(book, names, shares, 0.2)
    elif cap.most > 0:
        assert cap.stops[0].rule in {f.rule for f in heavy(book, names, shares, cap.most * (1 + NUDGE))}
        for part in (*LOADS_APART, 1 - NUDGE):
            load = cap.most * part
            steps = {"too-little-to-weigh"}  # what can be weighed has a least load, not a greatest
            assert set() == {f.rule for f in heavy(book, names, shares, load)} - steps


def test_the_sum_rule_is_the_edge_of_the_certificates(book: Book) -> None:
    """40 % of an oil held to 3.42 %, 60 % of one held to 25 %: 7.09 % of the bar, 1 / Σ share ÷ limit."""
    expected = 1 / (0.4 / 0.0342 + 0.6 / 0.25)
    assert pytest.approx(0.0709, abs=5e-5) == expected
    files = book.files
    scents = dict(files.scents)
    for name, limit in (("sea-glass", 0.0342), ("lavender", 0.25)):
        record = scents[name]
        assert record.limit_in_bar is not None
        most = replace(record.limit_in_bar.most, low=limit, high=limit)
        scents[name] = record.model_copy(
            update={"limit_in_bar": record.limit_in_bar.model_copy(update={"most": most})}
        )
    asked = replace(question(book, ["sea-glass", "lavender"], (0.4, 0.6)), book=replace(files, scents=scents))
    s = situation(asked)
    cap = region(s, without_pours(book.rulebook.rules), np.array([[0.4, 0.6]]))[0]
    load = next(stop.load for stop in cap.stops if stop.rule == "over-the-certificates")
    assert load is not None
    grams = load * float(s.split.oils.sum())
    assert pytest.approx(expected) == grams / (dried(s).batch + dried(s).per_gram * grams)


def test_a_missing_certificate_for_sale_stops_every_load(book: Book) -> None:
    """Where a rule forbids the oil itself, its ratio takes no load; without the oil it does."""
    asked = replace(question(book, ["rain-barrel", "lime"], (0.5, 0.5)), purpose="sale")
    caps = region(situation(asked), without_pours(book.rulebook.rules), np.array([[0.5, 0.5], [0.0, 1.0]]))
    assert (0.0, "no-certificate-for-sale") == (caps[0].most, caps[0].stops[0].rule)
    assert caps[1].most is not None
    assert caps[1].most > 0.04


def test_the_clock_of_a_pour_is_a_bound_like_any_other(book: Book) -> None:
    """In a column pour a quick scent may go up to where its portions are just fluid to the end."""
    asked = replace(question(book, ["lilac-lane"], (1.0,)), pour="column")
    s = poured(asked, book.files.pours["column"])
    cap = region(s, book.rulebook.rules, np.array([[1.0]]))[0]
    load = next(stop.load for stop in cap.stops if stop.rule == "pour-outruns-the-batter")
    assert load is not None
    for factor, broken in ((1 + NUDGE, True), (1 - NUDGE, False)):
        moved = replace(asked, load=replace(asked.load, low=load * factor, high=load * factor))
        bar = poured(moved, book.files.pours["column"])
        fluid, needed = bar.home("minutes fluid"), bar.home("minutes needed")
        assert isinstance(fluid, Column)
        assert isinstance(needed, Column)
        assert broken == bool((fluid.outer[1] < needed.outer[0] - 1e-9).any())  # beyond the kind end


@pytest.mark.parametrize(
    ("shares", "size"),
    [((1.0,), 1), ((0.5, 0.5), 11), ((0.55, 0.45), 12), ((0.5, 0.3, 0.2), 22), ((0.25,) * 4, 1)],
)
def test_the_grid_holds_the_asked_ratio_first_and_each_once(shares: tuple[float, ...], size: int) -> None:
    """Two oils go in eleven ratios, three in twenty-one and the asked one; of more only the asked one."""
    found = grid(shares)
    assert size == len(found) == len(np.unique(np.round(found, 9), axis=0))
    assert list(shares) == found[0].tolist()
    assert pytest.approx(np.ones(size)) == found.sum(axis=1)
    assert STEPS[2] + 1 == len(grid((0.5, 0.5)))


def test_an_oil_nobody_described_takes_no_known_load(book: Book) -> None:
    """Unknown is never free: a guard that is left open counts; what ignorance alone leaves open does not."""
    cap = cap_of(book, ["market-find"], (1.0,))
    assert 0.0 == cap.most
    waiting = {stop.rule for stop in cap.stops if stop.waits}
    assert "not-for-skin" in waiting
    assert "browning-shows-in-light" not in waiting
