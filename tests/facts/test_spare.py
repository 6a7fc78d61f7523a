"""Minutes to spare as one figure: what fluid and needed share is moved once, for both sides of the margin."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blendwise.facts.columns import Column, Floats, Subject, Table, Word
from blendwise.facts.situation.timeline import Corner
from blendwise.judge.conditions import logic
from blendwise.judge.conditions.conditions import Atom, Limit
from blendwise.judge.findings.evaluate import Facts, truth
from blendwise.science import clock
from tests.facts.small import bent, book, column, worked
from tests.facts.test_clock import ONE_EACH, poured

FIGURES = st.tuples(
    st.floats(5, 60),  # batter, minutes
    st.floats(1, 2),  # its doubt
    st.floats(3, 40),  # style, minutes
    st.floats(1, 3),  # its doubt
    st.floats(1, 4),  # q
    st.floats(1, 2),  # its doubt
    st.floats(1, 2),  # doubt of the jobs
    st.integers(2, 8),
    st.integers(1, 2),
    st.sampled_from([1.0, 1.2, 1.25]),
)
STEPS = 7


@given(FIGURES)
@settings(max_examples=60, deadline=None)
def test_the_corners_hold_every_case_between_them(figures: tuple[float, ...]) -> None:
    """Sampled through the whole box of batter, style, scent and hands, no margin lies outside."""
    base, day, style, wide, q, words, hands_doubt, count, hands, factor = figures
    count, hands = int(count), int(hands)
    quick, slow = (clock.Jobs().times(each) for each in (1 / hands_doubt, hands_doubt))
    corners = []
    for life, minutes, pace in ((base * day, style, q), (base / day, style * wide, q * words)):
        at, end = clock.paced(quick, slow, count, hands, minutes)
        corners.append(_margin(life, at, end[:, None], pace, factor))
    least, most = corners[1].min(axis=0), corners[0].max(axis=0)
    for part in np.linspace(0, 1, STEPS):
        jobs = clock.Jobs().times(1 / hands_doubt + part * (hands_doubt - 1 / hands_doubt))
        at = clock.scenting_slots(jobs, count, hands)
        for life in (base / day, base, base * day):
            for minutes in (style, style * wide):
                for pace in (q, q * words):
                    end = clock.common_end(at, jobs, minutes)
                    found = _margin(life, at, end, pace, factor)
                    assert (found <= most + 1e-9).all()
                    # Batter that is thick before its scenting bends the margin where it is short anyhow:
                    # there the corners know that it is, not by how much.
                    assert ((found >= least - 1e-9) | (least < 0)).all()


def _margin(life: float, at: Floats, end: Floats, pace: float, factor: float) -> Floats:
    fluid = np.maximum(clock.fluid_until(life, at, pace) - at, 0.0)
    return np.asarray(fluid - factor * (end - at))


@given(FIGURES)
@settings(max_examples=40, deadline=None)
def test_what_a_corner_bears_is_where_its_margin_ends(figures: tuple[float, ...]) -> None:
    """q at the bound leaves nothing to spare, more of it leaves less than nothing: judge and solver agree."""
    base, day, style, _, _, _, hands_doubt, count, hands, factor = figures
    quick, slow = (clock.Jobs().times(each) for each in (1 / hands_doubt, hands_doubt))
    at, end = clock.paced(quick, slow, int(count), int(hands), style)
    corner = Corner(base * day, at, np.repeat(end[:, None], int(count), axis=1))
    borne = corner.bears() / factor
    there = borne >= 1
    for more, sign in ((1.0, 0), (1.01, -1)):
        left = _margin(base * day, at, corner.until, np.maximum(borne * more, 1.0), factor)[there]  # type: ignore[arg-type]
        assert (np.sign(np.round(left, 9)) == sign).all()


def test_what_both_share_is_moved_once() -> None:
    """Held end against end, quick hands would scent sooner for one side and not for the other."""
    s = poured()
    fluid, needed, spare = (column(s, f"minutes {each}") for each in ("fluid", "needed", "to spare"))
    ends = fluid.outer[0] - needed.outer[1], fluid.outer[1] - needed.outer[0]
    assert (spare.outer[0] >= ends[0]).all()
    assert (spare.outer[1] <= ends[1]).all()
    assert (spare.outer[1][1:] < ends[1][1:]).all()
    assert spare.low == pytest.approx(fluid.low - needed.low)


def test_a_layer_has_a_margin_of_its_own() -> None:
    """Each layer: batter from its own scenting, hands quick and slow, against its own two minutes."""
    s = poured(("pour: column", "pour: flat layers"))
    spare = column(s, "minutes to spare")
    assert (spare.outer[0] < spare.low).all()
    assert (spare.low < spare.outer[1]).all()
    # The bottom layer, unscented: 25 min from minute 6, two minutes needed; kind: 35 from 4, 2 ÷ 1½ needed.
    assert spare.low[0] == pytest.approx(25 - 6 - 2)
    assert spare.outer[1][0] == pytest.approx(35 - 4 - 2 / 1.5)
    assert spare.outer[0][0] == pytest.approx(17.5 - 9 - 2 * 1.5)


def _margins(*doubts: tuple[float, float]) -> tuple[float, float, float]:
    s = worked(bent(("stays fluid: 25 min", f"stays fluid: {doubts[0][0]} to {doubts[0][1]} min")) + ONE_EACH)
    found = column(s, "minutes to spare")
    return float(found.outer[0][3]), float(found.low[3]), float(found.outer[1][3])


def test_a_narrower_batter_is_a_narrower_margin() -> None:
    """What is known better moves no end outwards."""
    wide, narrow = _margins((20, 40)), _margins((20, 26))
    assert wide[0] <= narrow[0] <= narrow[1] <= narrow[2] < wide[2]


def test_own_minutes_a_cup_narrow_the_doubt() -> None:
    """A job that the maker timed is doubted less than one of common practice; a range as it is typed."""
    spans = []
    for said in ("", "minutes a cup: {scent: 1 min}\n", "minutes a cup: {scent: 0.9 to 1.1 min}\n"):
        s = worked(bent() + ONE_EACH, book(usual=f"hands: 1\n{said}"))
        least, most = column(s, "minutes needed").outer
        spans.append(float(most[3] - least[3]))
    assert spans[0] > spans[1] > spans[2]


WORD = Word("left", "portion", ("portion",), "number", dimension="TIME")
Pairs = list[tuple[float, float]]
WORLDS = st.lists(st.tuples(st.floats(0, 30), st.floats(0, 30)), min_size=1, max_size=6)


@given(WORLDS, WORLDS)
def test_narrowing_goes_through_tight(
    kept: list[tuple[float, float]], gone: list[tuple[float, float]]
) -> None:
    """Fewer corners, of which the middle is one: broken never becomes holds, and holds never broken."""
    wide, narrow = (_outcome(worlds) for worlds in ([*kept, *gone], kept))
    settled = {logic.HOLDS, logic.BROKEN}
    if wide in settled:
        assert narrow == wide


def _outcome(worlds: Pairs) -> int:
    left, needed = np.array(worlds).T[:, :, None]
    middle = left[0], needed[0]

    def ends(values: Floats, at: Floats) -> Column:
        return Column(at, at, least=values.min(axis=0), most=values.max(axis=0), worlds=values)

    columns = {"left": ends(left, middle[0]), "needed": ends(needed, middle[1])}
    facts = Facts(Table("portion", [Subject("portion", ("a",))], columns.__getitem__))
    atom = Atom(WORD, "at least", (Limit(measure="needed"),))
    when = np.array([2], dtype=np.int8)
    inner, outer = (logic.outcome(when, truth(atom, facts, outer=each)) for each in (False, True))
    return int(logic.doubted(inner, outer, harsh=False)[0])
