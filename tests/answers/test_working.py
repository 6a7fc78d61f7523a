"""``--working``: every fact, in an order and with enough said that a pencil can follow it."""

from __future__ import annotations

import re
from collections.abc import Sequence

import pytest

from blendwise.answers.check.result import Fact
from blendwise.answers.check.working import THEMES, facts_of
from blendwise.facts.registry import REGISTRY
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import tables, vocabulary
from blendwise.quantity import METRIC
from blendwise.show.check import working as shown
from blendwise.show.plain import plain
from tests.facts.small import bent, worked

PLAN = bent(("{tonka: 1, lime: 2, cedar: 1}", "{tonka: 1, lime: 2, carnation: 1, found: 1}"))


@pytest.fixture(scope="module")
def s() -> Situation:
    """The morning plan, with an oil that nobody has described."""
    return worked(PLAN)


@pytest.fixture(scope="module")
def facts(s: Situation) -> list[Fact]:
    """Every fact of it."""
    return list(facts_of(s, tables(s)))


def fact(facts: Sequence[Fact], subject: str, measure: str) -> Fact:
    """The one fact of a subject."""
    (found,) = [f for f in facts if f.subject == subject and f.measure == measure]
    return found


def test_every_measure_is_there_where_it_is_asked(facts: list[Fact], s: Situation) -> None:
    """No measure is left out but those that are asked of nothing in this plan."""
    unasked = {"embeds soften", "heats and melts embeds", "oven temperature", "bar mass", "layer below"}
    unasked |= {"embed scents for skin", "embed scents certified", "embed scents banned"}
    unasked |= {"thickness that carries", "hues apart", "banned constituent", "certificate amendment"}
    unasked |= {"additive known", "additive belongs with the oils", "additive share"}
    unasked |= {"portion superfat if the unknown is lye", "portion superfat by the table alone"}
    unasked |= {"thickness that carries", "hues apart", "room under the embeds"}
    unasked |= {"embed", "embed holds", "embed mass", "embed scent"}
    unasked |= {"on top", "portions the pour bears", "pot filled", "lye jug filled"}
    assert {f.measure for f in facts} >= set(REGISTRY) - unasked
    assert not {f.measure for f in facts} & {"layer below", "oven temperature"}


def test_every_measure_has_its_place_in_the_order_of_facts() -> None:
    """A measure of any plan, asked here or not, is of a theme that the working knows."""
    assert {word.theme for word in vocabulary().values()} <= set(THEMES)


def test_each_fact_has_unit_source_and_theme(facts: list[Fact]) -> None:
    """Where a figure comes from stands beside it; every theme has its words."""
    assert all(f.source and f.theme in THEMES for f in facts)
    assert set(THEMES) == set(shown.THEMES)
    assert {f.grain for f in facts} == set(shown.KINDS) - {"additive", "embed"}
    load = fact(facts, "milk", "browning load")
    assert ("% of portion batter", "of portion batter") == (load.unit, load.basis)
    assert "Σ grams × browner content ÷ (batter + scent)" == load.formula


def test_a_pencil_can_follow_the_lye(facts: list[Fact]) -> None:
    """From the oils' grams and values to the NaOH on the scale, by the facts alone."""
    oils = [f.subject for f in facts if f.grain == "base oil" and f.measure == "grams"]
    need = sum(number(facts, oil, "grams") * number(facts, oil, "saponification") for oil in oils)
    need *= 39.9971 / 56.1056 / 1000
    assert number(facts, "morning", "lye needed") == pytest.approx(need)
    naoh, water = number(facts, "morning", "sodium hydroxide"), number(facts, "morning", "water")
    assert naoh == pytest.approx(need * (1 - 0.05))
    assert number(facts, "morning", "lye concentration") == pytest.approx(naoh / (naoh + water))


def test_a_pencil_can_follow_the_scent(facts: list[Fact]) -> None:
    """From grams in each portion to rates, the bar, and what the certificates allow."""
    grams = {f.subject: f.low for f in facts if f.measure == "dose in grams"}
    here = [number(facts, subject, "dose in grams") for subject in grams if subject.endswith(" in milk")]
    assert number(facts, "milk", "scent rate") == pytest.approx(
        sum(here) / number(facts, "milk", "portion oils")
    )
    bar = number(facts, "morning", "dried mass")
    used = sum(
        number(facts, name, "grams in batch") / bar / limit
        for name, limit in (("tonka", 0.091), ("lime", 0.0342), ("carnation", 0.02))
    )
    assert number(facts, "morning", "limit used") == pytest.approx(used)


def test_a_pencil_can_follow_the_clock(facts: list[Fact]) -> None:
    """Thickening from each oil's note and dose, then the minutes."""
    s = worked()
    known = list(facts_of(s, tables(s)))
    q = 1.0
    for name in s.scents:
        dose = number(known, f"{name} in soil", "dose")
        q += (
            max(0.0, number(known, name, "quickening") - 1) * dose / number(known, name, "quickening seen at")
        )
    assert number(known, "soil", "thickening") == pytest.approx(q)
    at, whole = number(known, "soil", "scented at"), number(known, "morning", "unscented minutes")
    assert number(known, "soil", "minutes fluid") == pytest.approx((whole - at) / q)


def number(facts: Sequence[Fact], subject: str, measure: str) -> float:
    """A fact's value, which must be known."""
    found = fact(facts, subject, measure)
    assert isinstance(found.low, float)
    assert found.low == found.high
    return found.low


def test_what_is_not_known_names_what_would_close_it(facts: list[Fact]) -> None:
    """An open fact stands with what is missing; a known one with nothing."""
    band = fact(facts, "milk", "browning band")
    assert [("found", "vanillin")] == [(m.subject, m.fact) for m in band.missing]
    assert all(not f.missing for f in facts if f.low == f.high and f.low is not None)


def test_the_page_tells_each_way_of_reckoning_once(facts: list[Fact]) -> None:
    """A formula stands behind the first value of its kind, a source under the first of its theme."""
    text = " ".join(plain(list(shown.working_blocks(facts, METRIC)), 100_000).split())
    assert 1 == text.count("Σ grams × browner content ÷ (batter + scent)")
    assert 4 == len(re.findall(r"browning load: ", text))
    assert "(missing: found vanillin)" in text
    assert "told by your own test cup" in text
    assert "Isoeugenol, at most 0.02 % of the finished bar (EU III/73; CosIng" in text
    for kind in ("Base oils", "Colourants", "The batch", "Portions", "Scents", "Two portions that touch"):
        assert f"{kind}:" in text


def test_nothing_is_shown_where_nothing_was_asked() -> None:
    """Without --working there are no facts and no heading."""
    assert [] == list(shown.working_blocks((), METRIC))
