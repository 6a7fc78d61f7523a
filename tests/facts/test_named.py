"""Measures of named things and of places, by hand on the small book."""

from __future__ import annotations

import numpy as np
import pytest

from blendwise.facts.columns import SetColumn
from blendwise.facts.registry import REGISTRY
from blendwise.facts.tables import table, vocabulary
from tests.facts.small import asked, bent, column, grams, value, values, words, worked

LAYERS = bent(("pour: column", "pour: flat layers"))
FOUND = bent(("{tonka: 1, lime: 2, cedar: 1}", "{tonka: 1, lime: 2, found: 1}"))
EMBED = "embeds: [{what: cubes, mass: 60 g, softens: 55 °C, scents: {carnation: 1 g, lime: 0.2 g}}]\n"


def test_a_sum_over_names_and_tags() -> None:
    """Lime by its tag and cedar by its name: grams of both over the portion's oils, each counted once."""
    s = worked()
    mine = grams(s, "lime", "sage") + grams(s, "cedar", "sage")
    assert value(s, "dose of [citrus, cedar, lime]", 1) == pytest.approx(mine / s.split.oils[1])
    assert value(s, "share of [citrus, cedar]", 1) == pytest.approx(0.75)
    assert value(s, "grams of [citrus]") == pytest.approx(float(s.x[1].sum()))
    assert value(s, "batch dose of [citrus]") == pytest.approx(float(s.x[1].sum()) / 1000)


def test_how_many_of_a_sort_are_held() -> None:
    """Lime and cedar are two in the batch; of an oil whose pace nobody knows it is open whether it counts."""
    s = worked()
    assert values(s, "scents in batch of [citrus, cedar]") == [2.0]
    held = s.presence[[s.scents.index("lime"), s.scents.index("cedar")]].sum(axis=0)
    assert values(s, "scents in portion of [lime, cedar]") == held.tolist()
    found = column(worked(FOUND), "scents in batch of [fast]")
    assert (0.0, 1.0) == (found.low[0], found.high[0])
    assert "found" == found.missing[0][0].subject


def test_an_oil_of_which_nobody_knows_how_fast_it_is_may_be_meant() -> None:
    """The sum over fast oils runs from none of it to all of it, and says what would tell."""
    found = column(worked(FOUND), "dose of [fast]")
    assert found.low[0] == 0
    assert found.high[0] == pytest.approx(column(worked(FOUND), "dose of [found]").low[0])
    assert ("found", "acceleration") == (found.missing[0][0].subject, found.missing[0][0].fact)


def test_a_constituent_by_its_papers() -> None:
    """4 % of lime by its sheet, none of tonka by its complete one; cedar without a sheet may be all."""
    s = worked()
    found = column(s, "citral in portion")
    lime, cedar = (grams(s, oil, "milk") / s.split.oils[0] for oil in ("lime", "cedar"))
    assert found.low[0] == pytest.approx(0.04 * lime)
    assert found.high[0] == pytest.approx(0.04 * lime + cedar)


def test_names_are_read_as_papers_spell_them() -> None:
    """Geranial is citral; what no table knows is no measure."""
    assert "citral in bar" == vocabulary()["geranial in bar"].name
    assert "moonlight in bar" not in vocabulary()


def test_counts_of_portions() -> None:
    """Lime kept out of soil: three cups of four hold it."""
    s = worked(bent(text=worked_without_lime()))
    assert values(s, "portions with [lime]") == [3.0]
    assert values(s, "portions with [gourmand, lime]") == [4.0]


def worked_without_lime() -> str:
    """The morning plan with lime kept out of soil."""
    return bent() + "never: [{scent: lime, in: [soil]}]\n"


def test_layers_have_a_bottom_and_a_top() -> None:
    """The first layer is the bottom, the last the top, both outer, the rest inner."""
    s = worked(LAYERS)
    assert {"outer", "first", "bottom"} == words(s, "place", 0)
    assert {"inner"} == words(s, "place", 1) == words(s, "place", 2)
    assert {"outer", "last", "top"} == words(s, "place", 3)
    assert {"milk", "brick"} == words(s, "touches", 1)


def test_of_a_column_pour_nobody_knows_which_lies_outer() -> None:
    """Every place may be, until the plan says where the portion comes to lie."""
    found = worked().home("place")
    assert isinstance(found, SetColumn)
    assert found.maybe is not None
    assert found.maybe.all()
    told = worked(bent(("may become: chocolate", "may become: chocolate, lies: outer")))
    assert {"outer"} == words(told, "place", 3)
    place = told.home("place")
    assert isinstance(place, SetColumn)
    assert place.maybe is not None
    assert not place.maybe[3, place.words.index("inner")]


def test_one_colour_has_no_place() -> None:
    """Where there is one portion alone, places are not asked."""
    head, _, tail = bent(("pour: column", "pour: single colour")).partition("portions:\n")
    one = f"{head}portions: [{{name: all, share: the rest}}]\n{tail[tail.index('scents:') :]}"
    found = worked(one).home("place")
    assert found.asked is not None
    assert not found.asked.any()


def test_what_a_cup_holds_and_what_stands_beside_an_oil() -> None:
    """Names, tags and sorts; beside itself an oil does not stand."""
    s = worked()
    assert {"tonka", "lime", "cedar", "gourmand", "citrus", "fixative"} <= words(s, "holds", 0)
    beside = words(s, "with", s.scents.index("lime") * 4)
    assert "fixative" in beside
    assert "citrus" not in beside


def test_fast_cups_are_scented_last_of_themselves() -> None:
    """In an interleaved pour the quick cup's turn comes last, so none is scented after it."""
    text = bent(("{tonka: 1, lime: 2, cedar: 1}", "{tonka: 1, lime: 2, carnation: 1}"))
    s = worked(text + "only: [{scent: carnation, in: [milk]}]\n")
    assert values(s, "scented after [carnation]") == [0.0] * 4
    fixed = worked(text + "only: [{scent: carnation, in: [milk]}]\norder: [milk, sage, brick, soil]\n")
    assert values(fixed, "scented after [carnation]") == [0.0, 1.0, 1.0, 1.0]


def test_embeds_are_rows_of_their_own() -> None:
    """An embed holds its scents by name and tag; its scent is a share of it."""
    s = worked(bent() + EMBED)
    assert {"carnation", "spice", "lime", "citrus"} <= words(s, "embed holds")
    assert value(s, "embed scent") == pytest.approx(1.2 / 60)
    assert ["cubes"] == [str(subject) for subject in table(s, "embed").subjects]
    assert 0 == len(table(worked(), "embed"))


def test_the_month_is_the_day_s() -> None:
    """The small book is asked on 25 November."""
    s = worked()
    assert 10.0 == value(s, "month")


def test_measures_of_named_things_are_not_counted() -> None:
    """Asking for one leaves the plain vocabulary as it was."""
    before = len(REGISTRY)
    assert "dose of [lime]" in REGISTRY
    assert asked(worked(), "dose of [lime]") == [True] * 4
    assert before == len(REGISTRY) == len(list(REGISTRY))


def test_base_oils_additives_and_colourants_by_name() -> None:
    """Shares of what the recipe and the cups name; what is not there is none of it."""
    s = worked()
    assert value(s, "oil share of [coconut, shea]") == pytest.approx(0.35)
    assert value(s, "additive rate of [honey]") == 0
    assert values(s, "colour rate of [white, black]") == pytest.approx([0.01, 0, 0, 0.006])
    assert np.isfinite(values(s, "colour rate of [clay]")).all()
