"""Spreading: what a batch, a portion, a scent say to the rows of every grain."""

from __future__ import annotations

import numpy as np
import pytest

from blendwise.facts.columns import SetColumn
from blendwise.facts.measure import GRAINS_OF
from blendwise.facts.registry import REGISTRY
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import table, tables, vocabulary
from tests.facts.small import bent, column, in_table, worked


@pytest.fixture(scope="module")
def s() -> Situation:
    """The morning plan with one oil kept to two portions."""
    return worked(bent() + "only: [{scent: tonka, in: [brick, soil]}]\n")


def names(s: Situation, grain: str) -> list[str]:
    """The subjects of a table."""
    return [str(subject) for subject in table(s, grain).subjects]


def test_each_grain_has_its_rows(s: Situation) -> None:
    """Doses and pairs that are poured, every two portions of a column, scents in the bar."""
    assert ["morning"] == names(s, "batch")
    assert ["milk", "sage", "brick", "soil"] == names(s, "portion")
    assert ["tonka", "lime", "cedar"] == names(s, "scent")
    assert len(names(s, "dose")) == 2 + 4 + 4
    assert "tonka in milk" not in names(s, "dose")
    assert len(names(s, "pair")) == 4 + 2 + 2  # lime with cedar in all, tonka with each in two
    assert "tonka with lime in soil" in names(s, "pair")
    assert len(names(s, "edge")) == 6


@pytest.mark.parametrize(
    ("pour", "count"), [("column", 6), ("rough layers", 3), ("side by side", 3), ("teardrop", 3)]
)
def test_the_pour_says_who_touches_whom(pour: str, count: int) -> None:
    """All four portions touch in a column, neighbours in layers, the body all others in a drop."""
    s = worked(bent(("pour: column", f"pour: {pour}")))
    assert len(names(s, "edge")) == count
    through = [edge.split(" and ")[0] for edge in names(s, "edge")]
    assert (through == ["milk"] * 3) == (pour == "teardrop")


def test_the_plan_s_own_neighbours_outrank_the_pour() -> None:
    """`touching:` in the plan: each pair once, whichever way round it is written."""
    s = worked(bent() + "touching: [[soil, milk], [milk, soil], [sage, brick]]\n")
    assert ["milk and soil", "sage and brick"] == names(s, "edge")


def test_batch_facts_reach_every_row(s: Situation) -> None:
    """The lye concentration of the batch is that of every row of every table."""
    for grain, found in tables(s).items():
        assert list(in_table(s, grain, "lye concentration").low) == pytest.approx([0.31] * len(found))


def test_portion_and_scent_facts_reach_doses_and_pairs(s: Situation) -> None:
    """A dose reads its portion's mass and its scent's vanillin; a pair reads its portion."""
    masses = dict(zip(s.portions, column(s, "portion mass").low, strict=True))
    vanillin = dict(zip(s.scents, column(s, "vanillin").low, strict=True))
    subjects = table(s, "dose").subjects
    assert list(in_table(s, "dose", "portion mass").low) == [masses[d.names[1]] for d in subjects]
    assert list(in_table(s, "dose", "vanillin").low) == [vanillin[d.names[0]] for d in subjects]
    pairs = table(s, "pair").subjects
    assert list(in_table(s, "pair", "portion mass").low) == [masses[p.names[2]] for p in pairs]


def test_sides_of_a_pair_and_of_an_edge(s: Situation) -> None:
    """`one` and `other` read the two sides, `lighter` and `darker` by planned lightness."""
    light = dict(zip(s.portions, column(s, "planned lightness").low, strict=True))
    edges = table(s, "edge").subjects
    assert list(in_table(s, "edge", "one planned lightness").low) == [light[e.names[0]] for e in edges]
    assert list(in_table(s, "edge", "other planned lightness").low) == [light[e.names[1]] for e in edges]
    lighter, darker = (in_table(s, "edge", f"{side} planned lightness").low for side in ("lighter", "darker"))
    assert (lighter >= darker).all()
    assert set(lighter + darker) == {light[e.names[0]] + light[e.names[1]] for e in edges}
    tags = table(s, "pair").column("other tags")
    assert isinstance(tags, SetColumn)
    fixed = tags.has[:, tags.words.index("fixative")]
    assert list(fixed) == [p.names[1] == "cedar" for p in table(s, "pair").subjects]


def test_dose_facts_reach_the_sides_of_a_pair(s: Situation) -> None:
    """`one dose in grams` is the first scent's grams in the pair's portion."""
    pairs = table(s, "pair").subjects
    grams = [s.x[s.scents.index(p.names[0]), s.portions.index(p.names[2])] for p in pairs]
    assert list(in_table(s, "pair", "one dose in grams").low) == pytest.approx(grams)


def test_gaps_travel_with_their_rows() -> None:
    """A dose of an oil that nobody described names what is missing of that oil, and only there."""
    s = worked(bent(("{tonka: 1, lime: 2, cedar: 1}", "{lime: 1, found: 1}")))
    found = in_table(s, "dose", "acceleration")
    subjects = table(s, "dose").subjects
    assert set(found.missing) == {i for i, d in enumerate(subjects) if d.names[0] == "found"}


@pytest.mark.parametrize("name", sorted(vocabulary()))
def test_every_word_reads_at_every_grain_it_promises(s: Situation, name: str) -> None:
    """A column of the right length at each grain, and a word it does not have is refused."""
    for grain in vocabulary()[name].grains:
        found = table(s, grain)
        assert len(found.column(name)) == len(found)


def test_a_strange_word_is_refused(s: Situation) -> None:
    """The vocabulary is closed."""
    with pytest.raises(KeyError):
        table(s, "batch").column("charm")


@pytest.mark.parametrize("name", sorted(REGISTRY))
def test_every_measure_is_documented(name: str) -> None:
    """Meaning, source, and for every fraction its formula; grains as its home says."""
    word = REGISTRY[name].word
    assert len(word.meaning) > 10
    assert word.meaning.endswith((".", ")"))
    assert word.source
    assert word.grains == GRAINS_OF[word.grain]
    assert word.formula or word.form != "fraction"


def test_subjects_know_their_lines(s: Situation) -> None:
    """A portion's row points at the portion's line in the plan, a scent's at the scents."""
    lines = [subject.place.line for subject in table(s, "portion").subjects if subject.place]
    assert lines == [9, 10, 11, 12]
    assert {subject.place.line for subject in table(s, "scent").subjects if subject.place} == {14}


def test_lighter_is_not_undone_by_browning(s: Situation) -> None:
    """Who is lighter goes by the plan, so that no dose turns the sides round."""
    x = np.zeros(s.shape)
    x[0, 0] = 60.0
    before = in_table(s, "edge", "lighter planned lightness").low
    after = in_table(s.with_doses(x), "edge", "lighter planned lightness").low
    assert list(before) == list(after)
