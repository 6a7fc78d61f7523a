"""Side by side, together, pours and colours: data against arithmetic and against the catalogue."""

from __future__ import annotations

from datetime import date

import jsonschema
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blendwise.answers.pair.colours import LOST, ORDER, SAME_NAME, UNSEEN
from blendwise.answers.pair.pours import poured
from blendwise.answers.pair.question import ask
from blendwise.answers.pair.result import OPEN, PairResult
from blendwise.answers.pair.sides import FIGURE_PORTIONS
from blendwise.api import Book
from blendwise.facts.situation.timeline import timeline
from blendwise.records.as_of import AsOf
from blendwise.science.limits import per_limit
from blendwise.show.schemas import schema_of
from tests.answers.pair.conftest import TODAY


def pair(book: Book, *oils: str, **said: str) -> PairResult:
    """An answer by the catalogue as it is written."""
    return book.pair(*oils, on=AsOf(TODAY, as_written=True), **said)


def test_the_sum_rule_is_the_sciences(book: Book) -> None:
    """The most in the bar is 1 / Σ share ÷ limit, and the load that brings it there uses all of it."""
    result = pair(book, "lavender", "tonka-milk", ratio="2:1")
    limits = [book.files.scents[name].limit_in_bar for name in result.oils]
    rates = per_limit([held.most.low for held in limits if held])
    most = 1 / float(rates @ np.array(list(result.shares.values())))
    assert pytest.approx(most) == result.together.most_in_bar
    load = result.together.most_on_oils
    assert load is not None
    assert load > result.load
    at_most = pair(book, "lavender", "tonka-milk", ratio="2:1", load=f"{100 * load:.9f} %")
    assert pytest.approx(1) == at_most.together.limit_used


def test_oils_without_a_certificate_are_named_not_counted(book: Book) -> None:
    """The sum speaks of those whose certificate is on file, and says whom it leaves out."""
    both = pair(book, "lime", "rain-barrel", purpose="home").together
    assert ("rain-barrel",) == both.uncertified
    assert "lime" == both.tightest


def test_shared_constituents_add_up(book: Book) -> None:
    """Limonene of two oils counts together, by the tops of their sheets over the finished bar."""
    result = pair(book, "orange-five-fold", "lime")
    shared = next(each for each in result.together.shared if each.name == "Limonene")
    assert ("orange-five-fold", "lime") == shared.oils
    bar = result.sides[0].grams * 2 / result.together.scent_in_bar
    assert pytest.approx((0.78 + 0.52) * result.sides[0].grams / bar) == shared.in_bar
    assert shared.on_label


def test_the_day_is_four_to_six_weeks_off(book: Book) -> None:
    """Common practice: the colour is judged at the end of cure, from day 28 to day 42."""
    both = pair(book, "lime").together
    assert (date(2026, 12, 23), date(2027, 1, 6)) == (both.judge_from, both.judge_by)


def test_minutes_go_from_the_short_end_to_the_long(book: Book) -> None:
    """(B − t) ÷ q at both ends: the shortest by the quickest, the longest by the slowest."""
    both = pair(book, "lilac-lane").together
    low, high = both.unscented.low, both.unscented.high
    slowest, quickest = both.thickening.low, both.thickening.high
    assert slowest is not None
    assert quickest is not None
    assert low is not None
    assert high is not None
    assert pytest.approx((low - both.scented_at) / quickest) == both.minutes.low
    assert pytest.approx((high - both.scented_at) / slowest) == both.minutes.high


def test_an_unknown_speed_leaves_the_short_end_open(book: Book) -> None:
    """Nobody knows how soon it is thick, only how late at most."""
    both = pair(book, "market-find", purpose="home").together
    assert both.minutes.low is None
    assert both.thickening.high is None


@pytest.mark.parametrize(
    ("oil", "fact"),
    [("hearth-smoke", "after six weeks"), ("market-find", "acceleration"), ("labdanum", "limit in bar")],
)
def test_what_is_not_known_is_named(book: Book, oil: str, fact: str) -> None:
    """A gap in the catalogue is told side by side, not passed over."""
    assert fact in pair(book, oil, purpose="home").sides[0].not_known


def test_pours_are_tried_with_their_own_clock(book: Book) -> None:
    """Minutes to spare are those of the worst of three portions scented alike; of a thick pour, the top's."""
    result = pair(book, "tonka-milk", "lime")
    asked = ask(book.files, ["tonka-milk", "lime"], today=TODAY)
    for fit in result.pours:
        style = book.files.pours[fit.pour]
        line = timeline(poured(asked, style))
        assert line is not None
        alone = style.touching == "none" or style.family == "thick"
        assert (1 if alone else FIGURE_PORTIONS) == fit.portions
        if not line.wants_fluid:
            assert OPEN == fit.spare
        else:
            assert pytest.approx(float((line.fluid_until[0] - line.needed_until).min())) == fit.spare.low
    assert list(book.files.pours) == [fit.pour for fit in result.pours]


def test_a_shorter_time_is_never_a_kinder_word(book: Book) -> None:
    """A pour with minutes missing has no time, and one with time enough has them to spare."""
    for fit in pair(book, "lilac-lane", "lime").pours:
        if fit.spare.low is not None:
            assert (fit.spare.low < 0) == (fit.word == "no time")


@settings(max_examples=15, deadline=None)
@given(st.sampled_from(["lime", "tonka-milk", "burnt-sugar", "market-find", "fig-shade"]), st.integers(1, 6))
def test_every_colourant_is_told_once_by_its_difference(book: Book, oil: str, percent: int) -> None:
    """No colour of the catalogue is missing, and the word follows from the difference."""
    fits = pair(book, oil, load=f"{percent} %", purpose="home").colours
    assert sorted(book.files.colourants) == sorted(fit.colourant for fit in fits)
    assert sorted(fits, key=lambda fit: ORDER.index(fit.word)) == list(fits)
    for fit in fits:
        low, high = fit.shift.low, fit.shift.high
        if fit.word == "stays":
            assert low is not None
            assert low <= UNSEEN
        if fit.word == "lost" and high is not None:
            assert high > SAME_NAME
        if high is not None and high > LOST:
            assert fit.word in ("lost", "not known")


def test_more_scent_never_saves_a_pale_colour(book: Book) -> None:
    """White under a browning oil moves further from its plan as the dose rises."""
    shifts = []
    for load in ("0.5 %", "2 %", "4 %", "6 %"):
        fits = {fit.colourant: fit for fit in pair(book, "burnt-sugar", load=load).colours}
        shifts.append(fits["titanium-dioxide"].shift.high)
    assert sorted(shifts) == shifts  # type: ignore[type-var]
    assert len(set(shifts)) == len(shifts)


def test_what_lye_and_light_do_is_said_besides(book: Book) -> None:
    """Even a clean scent does not save a colour that lye changes."""
    fits = {fit.colourant: fit for fit in pair(book, "sea-glass").colours}
    assert ("changes in lye", "fades in light") == fits["sweetshop-blue"].besides
    assert () == fits["red-oxide"].besides


def test_a_colour_asked_for_is_the_bar(book: Book) -> None:
    """In charcoal nobody sees vanilla, so that no rule speaks of it."""
    rules = {finding.rule for finding in pair(book, "burnt-sugar", colour="charcoal").check.findings}
    assert "browning-shows-in-light" not in rules


def test_the_document_keeps_to_its_schema(book: Book) -> None:
    """The published shape, which allows no key beyond its own, also where things are open."""
    for oils in (("tonka-milk", "lime", "vetiver"), ("market-find",), ("orange-veil", "cut-stem")):
        document = pair(book, *oils, purpose="home").to_json()
        jsonschema.Draft202012Validator(schema_of("pair")).validate(document)
        assert ["schema", "blendwise", "oils"] == list(document)[:3]


def test_frames_of_every_part(book: Book) -> None:
    """The Python door: the region, the oils, the pours and the colours as frames."""
    result = pair(book, "tonka-milk", "lime")
    region = result.to_frame()
    assert len(result.region) == len(region)
    assert np.allclose(region["tonka-milk"] + region["lime"], 1)
    assert ["tonka-milk", "lime"] == list(result.to_frame("sides").name)
    assert len(book.files.pours) == len(result.to_frame("pours"))
    assert len(book.files.colourants) == len(result.to_frame("colours"))


def test_a_stabiliser_changes_the_day_and_nothing_else(book: Book) -> None:
    """It delays: the band, the load and the rules stay, the judging waits six months."""
    plain = pair(book, "tonka-milk")
    held = book.pair("tonka-milk", stabilised=["tonka milk"], on=AsOf(TODAY, as_written=True))
    assert plain.together.bands == held.together.bands
    assert date(2027, 5, 24) == held.together.judge_from
    assert {f.rule for f in plain.check.findings} <= {f.rule for f in held.check.findings}
