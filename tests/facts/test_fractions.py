"""Affine fractions: the judge's value is the solver's, and what is claimed of them holds on random doses."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.facts.columns import Column
from blendwise.facts.registry import REGISTRY
from blendwise.facts.situation.dried import dried_mass, dried_portions
from blendwise.facts.situation.worked_out import Situation, depends_on_doses
from tests.facts.small import bent, column, doses, worked

NAMED = [
    "dose of [tonka, cedar]", "dose of [citrus]", "dose of [fast, lime]", "share of [fixative]",
    "batch dose of [gourmand]", "grams of [lime]", "citral in portion", "citral in bar",
]  # fmt: skip
FRACTIONS = [*(name for name, measure in REGISTRY.items() if measure.fraction is not None), *NAMED]
INVERTED = [name for name, measure in REGISTRY.items() if measure.cap is not None]
RISING = (
    "thickening",
    "scent rate",
    "scent of portion batter",
    "times the load",
    "scent of batch oils",
    "dose",
    "guard used",
    "steps of the scale",
    "grams in batch",
    "short by",
    "scent in bar",
    "dried mass",
    "finished mass",
    "guard used in bar",
    "finished portion",
)
EMBEDS = "embeds: [{what: cubes, mass: 60 g, softens: 55 °C, scents: {cedar: 1 g, carnation: 0.2 g}}]\n"
PLAN = bent(("{tonka: 1, lime: 2, cedar: 1}", "{tonka: 1, lime: 2, cedar: 1, carnation: 1}")) + EMBEDS
seeds = st.integers(0, 2**32 - 1)


@cache
def ground() -> Situation:
    """The morning plan with four oils and scented embeds."""
    return worked(PLAN)


@pytest.mark.parametrize("name", FRACTIONS)
@given(seed=seeds)
def test_the_judge_reads_what_the_solver_is_told(name: str, seed: int) -> None:
    """A fraction's column is (a·x + a₀) ÷ (d·x + d₀), the greatest where several rows make one value."""
    s = ground()
    x = doses(s, seed)
    form, found = s.fraction(name), column(s.with_doses(x), name)
    above = (form.a * x).sum(axis=(1, 2)) + form.a0
    below = (form.d * x).sum(axis=(1, 2)) + form.d0
    assert (below >= 0).all()
    for home in range(len(found)):
        rows = [int(r) for r in form.rows_of(home) if below[r] > 0]
        asked = found.asked is None or bool(found.asked[home])
        assert asked == bool(rows)
        if rows:
            assert found.low[home] == pytest.approx(max(above[r] / below[r] for r in rows), rel=1e-9)


@pytest.mark.parametrize("name", FRACTIONS)
def test_shapes_are_the_home_grain_s(name: str) -> None:
    """A fraction has a row for every thing of its grain, and a coefficient for every scent and portion."""
    s = ground()
    scents, portions = s.shape
    rows = {"batch": 1, "portion": portions, "scent": scents, "dose": scents * portions}
    form = s.fraction(name)
    assert len(form) == rows[REGISTRY[name].word.grain]
    assert form.a.shape[1:] == form.d.shape[1:] == s.shape


@pytest.mark.parametrize("name", RISING)
@given(seed=seeds)
def test_more_scent_never_lowers(name: str, seed: int) -> None:
    """With more of any oil anywhere these measures never fall."""
    s = ground()
    x = doses(s, seed)
    more = x + doses(s, seed + 1)
    before, after = column(s.with_doses(x), name), column(s.with_doses(more), name)
    assert (after.low >= before.low - 1e-9).all()


@given(seed=seeds)
def test_browning_never_lightens(seed: int) -> None:
    """More of a browning oil alone: the load rises, the lightness falls."""
    s = ground()
    x = doses(s, seed)
    more = x.copy()
    more[s.scents.index("tonka")] += 5.0
    before, after = s.with_doses(x), s.with_doses(more)
    assert (column(after, "browning load").low > column(before, "browning load").low).all()
    assert (column(after, "cured lightness").low <= column(before, "cured lightness").low + 1e-9).all()


@pytest.mark.parametrize("name", INVERTED)
@given(seed=seeds, share=st.floats(0.05, 0.95))
def test_a_cap_says_what_the_measure_says(name: str, seed: int, share: float) -> None:
    """A bound on a band or a lightness holds where, and only where, the bound on the load does."""
    s = ground()
    here = s.with_doses(doses(s, seed))
    found, measure = column(here, name), REGISTRY[name]
    assert measure.cap is not None
    relation = "at most" if found.scale else "at least"
    limit = np.full(len(found), float(round(5 * share)) if found.scale else 100 * share)
    bound = measure.cap(here, relation, limit)
    load = column(here, measure.reads[0]).low
    near = np.isclose(load, bound.limit, rtol=1e-4, atol=1e-9)
    by_cap = load <= bound.limit
    by_value = found.low <= limit if found.scale else found.low >= limit
    assert bound.relation == "at most"
    assert ((by_cap == by_value) | near).all()


@given(seed=seeds)
def test_what_is_constant_does_not_move(seed: int) -> None:
    """A measure declared constant is the same at any doses."""
    s = ground()
    other = worked(PLAN).with_doses(doses(s, seed))
    for name in (n for n in REGISTRY if not depends_on_doses(n)):
        before, after = s.home(name), other.home(name)
        if isinstance(before, Column):
            assert isinstance(after, Column)
            assert np.array_equal(before.low, after.low), name
            assert np.array_equal(before.high, after.high), name


def test_open_terms_are_open_only_where_dosed() -> None:
    """An infinite coefficient counts only where something is poured (0 · ∞ is 0 here)."""
    s = worked(bent(("{tonka: 1, lime: 2, cedar: 1}", "{found: 1, lime: 1}")))
    x = np.zeros(s.shape)
    x[1] = 1.0
    assert column(s.with_doses(x), "browning load").known.all()
    x[0, 2] = 0.1
    assert [True, True, False, True] == list(column(s.with_doses(x), "browning load").known)


def test_the_published_maximum_names_its_constituent() -> None:
    """Isoeugenol: at most 0.02 % of the bar (EU III/73, seen); its source stands beside the value."""
    s = ground()
    found = column(s, "published maximum used")
    grams = float(s.x[s.scents.index("carnation")].sum()) + 0.2
    bar = dried_mass(s)
    assert found.low[0] == pytest.approx(grams * 0.02 / bar / 0.0002)
    said = found.evidence[0]
    assert said.startswith("Isoeugenol, at most 0.02 % of the finished bar (EU III/73; CosIng")


def test_a_portion_s_maximum_is_its_own() -> None:
    """In the portion by itself: its own grams over its own dried mass, embeds apart."""
    s = ground()
    found, mass = column(s, "published maximum used in portion"), dried_portions(s)
    grams = s.x[s.scents.index("carnation")]
    assert list(found.low) == pytest.approx(list(grams * 0.02 / mass / 0.0002))
    assert set(found.evidence) == {0, 1, 2, 3}


def test_embeds_bring_mass_and_scent() -> None:
    """What embeds bring counts: 60 g of mass, 1 g of cedar (limit 25 %), 0.2 g of carnation (2 %)."""
    s = ground()
    plain = worked(PLAN.replace(EMBEDS, ""))
    weighed = column(s, "finished mass").low[0]
    assert weighed == pytest.approx(column(plain, "finished mass").low[0] + 60)
    bar = dried_mass(s)
    assert bar == pytest.approx(dried_mass(plain) + 60)
    used = column(plain, "limit used").low[0] * (bar - 60) + 1 / 0.25 + 0.2 / 0.02
    assert column(s, "limit used").low[0] == pytest.approx(used / bar)


def test_the_worst_bar_lies_between_the_mean_and_the_strongest_portion() -> None:
    """A column may be 20 % uneven: the mean raised by that, at most the strongest portion's."""
    only = worked(PLAN.replace(EMBEDS, "") + "only: [{scent: carnation, in: [soil]}]\n")
    mean, strongest = column(only, "limit used").low[0], column(only, "limit used in portion").low.max()
    assert strongest > 1.2 * mean
    assert column(only, "limit used in worst bar").low[0] == pytest.approx(1.2 * mean)
    even = worked(PLAN.replace(EMBEDS, ""))
    top = column(even, "limit used in portion").low.max()
    assert column(even, "limit used in worst bar").low[0] == pytest.approx(top)
