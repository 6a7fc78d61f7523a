"""Laws of any plan: nothing created or lost, units and order of no account, numbers that are numbers."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from random import Random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.answers.check.compute import judge_situation
from blendwise.facts.columns import Column
from blendwise.facts.registry import REGISTRY
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.findings.finding import Finding
from blendwise.quantity.units import GRAMS_PER_OUNCE
from tests.facts.small import book, column, rulebook, value, worked
from tests.few import few

MILLIGRAM = 1e-3
OILS = ("olive", "coconut", "shea", "sunflower")
COLOURS = ("white", "clay", "brick", "black")
NAMES = ("milk", "sage", "brick", "soil", "moss")


SCENTS = ("tonka", "lime", "cedar", "carnation", "found")


@dataclass(frozen=True)
class Figures:
    """The figures of a plan: grams, parts and tenths of a per cent, one a portion where there are several."""

    oils: list[float]
    lye: int
    superfat: int
    parts: list[int]
    held: list[float]
    mixed: list[float]
    colour: list[int]
    blend: dict[str, int]
    load: int
    embed: float
    never: int
    pour: str
    room: int
    warm: int


@st.composite
def plans(draw: st.DrawFn, found: bool = False) -> Figures:
    """A random plan; ``found``: with an oil that nobody has described."""
    count = draw(st.integers(1, 5))
    scents = SCENTS if found else SCENTS[:-1]
    parts = {name: draw(st.integers(0, 4)) for name in scents}
    blend = {name: part for name, part in parts.items() if part} or {scents[-1]: 1}
    return Figures(
        oils=[draw(st.integers(300, 900)) for _ in OILS],
        lye=draw(st.integers(25, 45)),
        superfat=draw(st.integers(0, 12)),
        parts=[draw(st.integers(1, 9)) for _ in range(count)],
        held=[draw(st.integers(0, 8)) for _ in range(count)],
        mixed=[draw(st.integers(0, 9)) for _ in range(count)],
        colour=[draw(st.integers(0, 30)) for _ in range(count)],
        blend=blend,
        load=draw(st.integers(0, 60)),
        embed=draw(st.integers(1, 200)),
        never=draw(st.integers(0, count - 1)),
        pour=draw(st.sampled_from(["column", "flat layers", "piped top", "teardrop"])),
        room=draw(st.integers(5, 35)),
        warm=draw(st.integers(20, 50)),
    )


@dataclass(frozen=True)
class Typed:
    """How amounts are typed: in grams and °C, or in ounces, °F and ounces per pound of oils."""

    imperial: bool = False

    def mass(self, grams: float) -> str:
        """A mass, without an exponent."""
        return f"{grams / GRAMS_PER_OUNCE:.12f} oz" if self.imperial else f"{grams} g"

    def degrees(self, celsius: float) -> str:
        """A temperature."""
        return f"{celsius * 9 / 5 + 32:.10f} °F" if self.imperial else f"{celsius} °C"

    def load(self, tenths: int) -> str:
        """A load in tenths of a per cent of batch oils."""
        return f"{tenths / 1000 * 16:.12f} oz ppo" if self.imperial else f"{tenths / 10} % of batch oils"


def text_of(f: Figures, imperial: bool = False, order: list[int] | None = None) -> str:
    """The plan's text; portions in another order if asked."""
    typed = Typed(imperial)
    rows = order or list(range(len(f.parts)))
    oils = ", ".join(f"{oil}: {typed.mass(g)}" for oil, g in zip(OILS, f.oils, strict=True))
    held = ", ".join(f"{NAMES[p]}: {typed.mass(f.held[p])}" for p in rows if f.held[p])
    blend = ", ".join(f"{name}: {part}" for name, part in f.blend.items())
    never = f"never: [{{scent: {next(iter(f.blend))}, in: {NAMES[f.never]}}}]"
    return f"""\
plan: any
recipe:
  oils: {{{oils}}}
  lye: {{concentration: {f.lye} %, superfat: {f.superfat} %}}
  held back: {{olive: {{{held}}}}}
process: {{batter at split: {typed.degrees(f.warm)}, room: {typed.degrees(f.room)}}}
embeds: [{{what: cubes, mass: {typed.mass(f.embed)}, softens: {typed.degrees(55)}, scents: {{cedar: 1 %}}}}]
pour: {f.pour}
portions:
{"".join(_portion(f, p, typed) for p in rows)}
scents: {{blend: {{{blend}}}, load: "{typed.load(f.load)}"}}
{never if len(rows) > 1 else ""}
"""


def _portion(f: Figures, p: int, typed: Typed) -> str:
    return f"""\
  - name: {NAMES[p]}
    share: {f.parts[p]} parts
    mixed in: {{olive: {typed.mass(f.mixed[p])}}}
    colourants: {{{COLOURS[p % 4]}: {f.colour[p] / 1000} % of portion oils}}
"""


def findings(s: Situation) -> list[Finding]:
    """What the starter's rules say."""
    return list(judge_situation(s, rulebook()).findings)


@given(figures=plans())
def test_nothing_is_created_or_lost(figures: Figures) -> None:
    """Portions hold the pot less its loss and what came on top; the bar lacks only the water that left."""
    files = book(usual="pot loss: 2 %\ncure loss: 9 %\n")
    s = worked(text_of(figures), files)
    pot, split = s.pot, s.split
    on_top = split.returned.sum() + split.mixed_in.sum() + split.colour.sum()
    assert column(s, "portion mass").low.sum() == pytest.approx(0.98 * pot.batter + on_top, abs=MILLIGRAM)
    assert split.returned.sum() == pytest.approx(pot.held.sum(), abs=MILLIGRAM)
    assert split.oils.sum() == pytest.approx(0.98 * pot.pot_oils + pot.held.sum(), abs=MILLIGRAM)
    soap = 0.98 * (pot.pot_oils + pot.naoh + pot.water) + split.returned.sum()
    wet = column(s, "portion mass").low.sum() + s.x.sum() + s.embed_mass
    assert value(s, "finished mass") == pytest.approx(wet - s.cure_loss * soap, abs=MILLIGRAM)
    parts = column(s, "finished portion").low.sum()
    assert parts + s.embed_mass == pytest.approx(value(s, "finished mass"), abs=MILLIGRAM)
    assert s.cure_loss * soap <= 0.98 * pot.water * (1 + 1e-9)


@given(figures=plans())
def test_the_blend_s_total_is_poured(figures: Figures) -> None:
    """Same total: each oil's grams are its share of the load on all oils, wherever it goes."""
    s = worked(text_of(figures))
    placed = s.scenting.allowed.any(axis=1)
    asked = s.scenting.blend * s.scenting.load * s.split.oils.sum()
    assert s.x.sum(axis=1) == pytest.approx(np.where(placed, asked, 0.0), abs=MILLIGRAM)
    assert (s.x[~s.scenting.allowed] == 0).all()


@given(figures=plans())
def test_superfats_of_portions_average_to_the_batch(figures: Figures) -> None:
    """Weighed by their need, the portions' superfats come to that of all the oil there is."""
    s = worked(text_of(figures))
    pot, split = s.pot, s.split
    need = split.share * pot.pot_need("named") + split.returned_need["named"] + split.mixed_in_need["named"]
    mean = float((column(s, "portion superfat").low * need).sum() / need.sum())
    assert mean == pytest.approx(1 - pot.naoh * pot.purity / need.sum())


@few(35)
@given(figures=plans(found=True))
def test_ounces_and_fahrenheit_change_no_advice(figures: Figures) -> None:
    """The same plan typed in ounces, °F and ounces per pound gives the same findings.

    And no NaN and no infinity ever reaches one of them, whatever is unknown.
    """
    metric, imperial = (findings(worked(text_of(figures, imperial=unit))) for unit in (False, True))
    keys = [
        [(f.rule, f.subject, f.status, f.measure, f.missing) for f in found] for found in (metric, imperial)
    ]
    assert keys[0] == keys[1]
    for one, other in zip(metric, imperial, strict=True):
        if isinstance(one.value, float):
            assert other.value == pytest.approx(one.value, rel=1e-6, abs=1e-9)
    for finding in metric:
        for number in (finding.value, finding.low, finding.high, finding.limit, finding.limit_high):
            assert not isinstance(number, float) or math.isfinite(number)


@few(35)
@given(figures=plans(found=True))
def test_columns_are_intervals(figures: Figures) -> None:
    """Every measure gives low ≤ high in every row that is asked, and never not-a-number."""
    s = worked(text_of(figures))
    for name in REGISTRY:
        found = s.home(name)
        if isinstance(found, Column):
            there = np.ones(len(found), dtype=bool) if found.asked is None else found.asked
            assert (found.low[there] <= found.high[there]).all(), name


@few(35)
@given(figures=plans(found=True), seed=st.randoms(use_true_random=False))
def test_the_order_of_portions_is_of_no_account(figures: Figures, seed: Random) -> None:
    """Portions written in another order give the same columns in that order (the clock's slots apart)."""
    order = list(range(len(figures.parts)))
    seed.shuffle(order)
    straight, mixed = worked(text_of(figures)), worked(text_of(figures, order=order))
    for name, measure in REGISTRY.items():
        if measure.word.grain == "portion" and measure.word.kind != "set" and measure.word.theme != "clock":
            before, after = column(straight, name), column(mixed, name)
            assert before.low[order] == pytest.approx(after.low, rel=1e-9, abs=1e-12), name
            assert before.high[order] == pytest.approx(after.high, rel=1e-9, abs=1e-12), name
        if measure.word.grain in ("batch", "scent") and measure.word.kind != "set":
            assert column(straight, name).low == pytest.approx(column(mixed, name).low, abs=1e-9), name


@given(figures=plans(), scale=st.sampled_from([0.5, 2.0, 3.0]))
def test_a_batch_of_another_size_has_the_same_shares(figures: Figures, scale: float) -> None:
    """Everything weighed times a factor: every share and superfat stays, every mass goes with it."""
    grown = replace(
        figures,
        oils=[scale * v for v in figures.oils],
        held=[scale * v for v in figures.held],
        mixed=[scale * v for v in figures.mixed],
        embed=scale * figures.embed,
    )
    small, big = worked(text_of(figures)), worked(text_of(grown))
    for name in (
        "portion superfat",
        "share in bar",
        "limit used",
        "scent rate",
        "browning load",
        "water left",
    ):
        assert column(small, name).low == pytest.approx(column(big, name).low, rel=1e-6, abs=1e-12), name
    for name in ("portion mass", "finished mass", "grams in batch", "sodium hydroxide"):
        assert scale * column(small, name).low == pytest.approx(column(big, name).low, rel=1e-6, abs=1e-9), (
            name
        )


def test_an_oil_not_for_skin_is_a_stop_even_in_an_embed() -> None:
    """Sale or home, portion or embed: a plan with an oil not for skin has a stop that is broken."""
    scents = "lime: {vanillin: 0 %, acceleration: none}\nsmoke: {for skin: no}\n"
    embed = "plan: e\nfor: home\nrecipe: {oils: {olive: 1000 g}, lye: {concentration: 31 %, superfat: 5 %}}\n"
    embed += (
        "embeds: [{what: cubes, mass: 50 g, scents: {smoke: 1 g}}]\nportions: [{name: a, share: 100 %}]\n"
    )
    found = [f for f in findings(worked(embed, book(scents=scents))) if f.level == "stop"]
    assert [("embed-scent-not-for-skin", "broken")] == [(f.rule, f.status) for f in found]
    sale = findings(worked(embed.replace("for: home", "for: sale"), book(scents=scents)))
    assert "embed-scent-without-certificate-for-sale" in {f.rule for f in sale if f.status == "broken"}


def test_a_limit_of_nothing_is_used_up_by_a_trace() -> None:
    """A certificate of 0 % is a broken stop with a finite number."""
    scents = "lime: {for skin: yes, limit in bar: 0 %}\n"
    plan = "plan: z\nrecipe: {oils: {olive: 1000 g}, lye: {concentration: 31 %, superfat: 5 %}}\n"
    plan += "embeds: [{what: cubes, mass: 50 g, scents: {lime: 1 g}}]\nportions: [{name: a, share: 100 %}]\n"
    found = [f for f in findings(worked(plan, book(scents=scents))) if f.rule == "over-the-certificates"]
    assert ["broken"] == [f.status for f in found]
    assert isinstance(found[0].value, float)
    assert 1 < found[0].value < math.inf
