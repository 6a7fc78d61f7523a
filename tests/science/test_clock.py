"""The clock: classes of recipe, minutes fluid, false trace, slots and what q they allow."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.science import clock

SLOW, ORDINARY, FAST = range(3)
minutes = st.floats(0.5, 120)
quickness = st.floats(1, 50)


@pytest.mark.parametrize(
    ("hard", "lye", "speed", "kind"),
    [
        (0.35, 0.31, -0.4, SLOW),  # two traits for slow, one for neither
        (0.35, 0.31, 0.0, ORDINARY),
        (0.65, 0.40, 0.0, FAST),
        (0.65, 0.28, 0.5, ORDINARY),  # two for fast, one for slow: one more does not settle it
        (0.50, 0.33, 0.0, ORDINARY),
        (0.70, 0.40, 0.6, FAST),
        (0.30, 0.27, -0.6, SLOW),
    ],
)
def test_recipe_classes(hard: float, lye: float, speed: float, kind: int) -> None:
    """Liquid, wet and slow makes a slow recipe; hard, dry and fast a fast one; two traits settle it."""
    assert kind == clock.recipe_class(hard, lye, speed)


@pytest.mark.parametrize(
    ("trait", "slow_until", "fast_from"), [(0, 0.40, 0.60), (1, 0.30, 0.38), (2, -1 / 3, 1 / 3)]
)
def test_traits_at_their_edges(trait: int, slow_until: float, fast_from: float) -> None:
    """60 % liquid oils, 30 % lye still speak for slow, 60 % hard fats, 38 % lye for fast; a hair off, not."""
    for edge, other, away, kind in (
        (slow_until, (0.2, 0.25, -1.0), 1e-6, SLOW),
        (fast_from, (0.9, 0.5, 1.0), -1e-6, FAST),
    ):
        values: list[float] = [0.5, 0.33, 0.0]
        values[trait - 1] = other[trait - 1]
        values[trait] = edge
        assert kind == clock.recipe_class(*values)
        values[trait] = edge + away
        assert clock.recipe_class(*values) == ORDINARY


def test_minutes_by_class_at_their_usual_temperature() -> None:
    """Common practice: slow 20 to 40 min at 33 °C, ordinary 8 to 15 at 43, hard-fat 3 to 6 at 49."""
    low, high = clock.fluid_minutes([SLOW, ORDINARY, FAST], [33, 43, 49])
    np.testing.assert_allclose(low, [20, 8, 3])
    np.testing.assert_allclose(high, [40, 15, 6])


def test_minutes_of_the_rulebook_stand_in_for_the_usual_ones() -> None:
    """Where the rulebook has its own minutes of each class, those are scaled."""
    own = [[30, 50], [10, 20], [2, 4]]
    low, high = clock.fluid_minutes(ORDINARY, 33, own)
    np.testing.assert_allclose([low, high], [20, 40])


def test_ten_degrees_double_the_speed() -> None:
    """Ten degrees cooler lasts twice as long, ten warmer half as long."""
    low, _ = clock.fluid_minutes(ORDINARY, [33, 43, 53])
    np.testing.assert_allclose(low, [16, 8, 4])


@given(st.floats(0, 1), st.floats(0.2, 0.5), st.floats(-1, 1), st.floats(15, 70), st.data())
def test_harder_drier_faster_hotter_never_lasts_longer(
    hard: float, lye: float, speed: float, celsius: float, data: st.DataObject
) -> None:
    """Minutes fluid never rise with hard fats, lye concentration, fast oils or heat."""
    base = clock.fluid_minutes(clock.recipe_class(hard, lye, speed), celsius)
    changed = (
        data.draw(st.floats(hard, 1)),
        data.draw(st.floats(lye, 0.5)),
        data.draw(st.floats(speed, 1)),
    )
    after = clock.fluid_minutes(clock.recipe_class(*changed), data.draw(st.floats(celsius, 70)))
    assert after[0] <= base[0] * (1 + 1e-12)
    assert after[1] <= base[1] * (1 + 1e-12)
    assert base[0] < base[1]


def test_worked_time_lines() -> None:
    """B = 20: scented at 8 with q = 2 fluid until 14; unscented until 20; from B on thick, scented or not."""
    seen = clock.fluid_until(20, [8, 8, 0, 20, 25], [2, 1, 4, 3, 3])
    assert seen.tolist() == [14, 20, 5, 20, 20]


def test_thickness_along_the_time_line() -> None:
    """B = 20, scented at 8 with q = 2: at 4 a fifth, at 8 two fifths, at 11 0.7, at 14 thick, and so on."""
    seen = clock.thickness_at([4, 8, 11, 14, 30], 20, 8, 2)
    np.testing.assert_allclose(seen, [0.2, 0.4, 0.7, 1, 1])
    np.testing.assert_allclose(clock.minute_at_thickness(seen[:4], 20, 8, 2), [4, 8, 11, 14])


def test_what_seizes_is_thick_at_once() -> None:
    """With endless q a portion is fluid until its scenting, and thick right after."""
    assert clock.fluid_until(20, 8, np.inf) == 8
    assert clock.thickness_at([8, 8.1], 20, 8, np.inf).tolist() == [0.4, 1.0]


@given(minutes, minutes, quickness, quickness)
def test_quicker_is_never_fluid_for_longer(base: float, at: float, q: float, more: float) -> None:
    """A greater q never lengthens the fluid time; it lies between the scenting and B."""
    slow, fast = clock.fluid_until(base, at, [min(q, more), max(q, more)])
    assert min(at, base) - 1e-9 <= fast <= slow <= base + 1e-9


@given(minutes, minutes, minutes, quickness)
def test_scenting_later_is_never_worse(base: float, one: float, other: float, q: float) -> None:
    """The later a portion is scented, the longer it is fluid."""
    early, late = clock.fluid_until(base, [min(one, other), max(one, other)], q)
    assert early <= late + 1e-9


@given(minutes, minutes, quickness, st.floats(0, 1))
def test_thickness_and_minute_undo_each_other(base: float, at: float, q: float, level: float) -> None:
    """The thickness at the minute of a thickness is that thickness."""
    minute = clock.minute_at_thickness(level, base, at, q)
    assert pytest.approx(level, abs=1e-6) == float(clock.thickness_at(minute, base, at, q))


def test_the_cap_on_q_worked_by_hand() -> None:
    """B = 20, E = 14: in the slot at 8 q may be 12/6 = 2, at 11 9/3 = 3; from B on nothing fits."""
    assert clock.most_quickening(20, [8, 11], 14).tolist() == [2, 3]
    assert clock.most_quickening(20, 21, 25) == 0
    assert clock.most_quickening(20, 10, 25) < 1


@given(minutes, st.floats(0, 0.95), st.floats(0.01, 1), st.floats(0, 1))
def test_the_cap_is_exactly_what_stays_fluid(base: float, slot: float, end: float, part: float) -> None:
    """A portion scented with the largest q is fluid until the end, and not a moment longer."""
    at = slot * base
    until = at + end * (base - at)
    cap = clock.most_quickening(base, at, until)
    assert pytest.approx(until, rel=1e-9) == float(clock.fluid_until(base, at, max(float(cap), 1.0)))
    assert clock.fluid_until(base, at, 1 + part * (cap - 1)) >= until * (1 - 1e-9)


@given(minutes, st.floats(0, 0.9), st.floats(0, 0.9))
def test_later_slots_allow_no_less(base: float, one: float, other: float) -> None:
    """With the end within B, a later slot never allows a smaller q."""
    early, late = clock.most_quickening(
        base, np.array([min(one, other), max(one, other)]) * base, 0.95 * base
    )
    assert early <= late * (1 + 1e-12)


def test_a_slot_after_the_end_is_refused() -> None:
    """An end that does not come after the slot is refused."""
    with pytest.raises(ValueError, match="the end comes first"):
        clock.most_quickening(20, 14, 14)


def test_thick_on_purpose() -> None:
    """B = 40: scented at 10 and wanted thick by 25 takes q = 2, no less."""
    assert clock.most_quickening(40, 10, 25) == 2
    assert clock.fluid_until(40, 10, 2) == 25


def test_slots_of_four_portions_by_hand() -> None:
    """Split 0.5, colour 1, scent 1 min: one pair of hands scents at 6, 7, 8, 9; two at 4.5, 4.5, 5.5, 5.5."""
    jobs = clock.Jobs(split=0.5, colour=1, scent=1, pour=1)
    assert clock.scenting_slots(jobs, 4).tolist() == [6, 7, 8, 9]
    assert clock.scenting_slots(jobs, 4, hands=2).tolist() == [4.5, 4.5, 5.5, 5.5]


def test_jobs_unless_the_maker_says_otherwise() -> None:
    """Half a minute to split, a minute each to colour, scent and pour a portion."""
    assert clock.Jobs() == clock.Jobs(split=0.5, colour=1.0, scent=1.0, pour=1.0)


def test_two_pairs_of_hands_split_and_colour_at_once() -> None:
    """Where splitting is the slower job, it sets the pace: 3 x 2 + 1 minutes to the first scenting."""
    assert clock.first_scenting(clock.Jobs(split=2, colour=1), 3, hands=2) == 7
    assert clock.first_scenting(clock.Jobs(split=2, colour=1), 3, hands=1) == 9


@given(st.floats(0.1, 5), st.floats(0.1, 5), st.floats(0.1, 5), st.integers(1, 8))
def test_a_second_pair_of_hands_never_delays(split: float, colour: float, scent: float, count: int) -> None:
    """No slot is later with two pairs of hands than with one."""
    jobs = clock.Jobs(split, colour, scent, 1)
    one, two = clock.scenting_slots(jobs, count, 1), clock.scenting_slots(jobs, count, 2)
    assert (two <= one + 1e-9).all()
    assert (np.diff(one) > 0).all()


def test_the_end_of_an_interleaved_pour() -> None:
    """It runs the style's minutes from the first scenting, but not less than the last portion needs."""
    jobs = clock.Jobs(split=0.5, colour=1, scent=1, pour=2)
    assert clock.common_end([6, 7, 8, 9], jobs, [2, 8, 20]).tolist() == [12, 14, 26]


@pytest.mark.parametrize(
    ("portions", "hands", "why"),
    [(0, 1, "at least one portion"), (3, 3, "one or two pairs"), (3, 0, "one or two pairs")],
)
def test_senseless_crews_are_refused(portions: int, hands: int, why: str) -> None:
    """No portion, no hands and too many hands are refused with the reason."""
    with pytest.raises(ValueError, match=why):
        clock.scenting_slots(clock.Jobs(), portions, hands)


def test_senseless_times_are_refused() -> None:
    """Zero minutes, times before emulsion, q below 1 and shares over 1 are refused with the reason."""
    with pytest.raises(ValueError, match="fluid for no time"):
        clock.fluid_until(0, 5, 2)
    with pytest.raises(ValueError, match="run from emulsion"):
        clock.fluid_until(20, -1, 2)
    with pytest.raises(ValueError, match="thinning is never credited"):
        clock.fluid_until(20, 5, 0.9)
    with pytest.raises(ValueError, match="takes no time"):
        clock.Jobs(scent=0)
    with pytest.raises(ValueError, match="a pour takes time"):
        clock.common_end([6], clock.Jobs(), 0)
    with pytest.raises(ValueError, match="fraction of the oils"):
        clock.recipe_class(40, 0.31, 0)
    with pytest.raises(ValueError, match="nothing is that cold"):
        clock.fluid_minutes(1, -300)


def test_a_cloudy_batter_has_half_its_minutes() -> None:
    """Clear it has all of them, where its fats set half, and between as far as it is clouded."""
    assert [20.0, 15.0, 10.0, 10.0] == clock.clouded(20.0, [0.0, 0.5, 1.0, 3.0]).tolist()
