"""Heat: the balance by hand, and the graded risks moving the right way."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.science import heat

RECIPE = (1000.0, 140.0, 284.0)  # oils, NaOH, water: 33 % lye
celsius = st.floats(-20, 90)
part = st.floats(0, 1)


def soap(
    batter: float = 38, room: float = 21, grams: float = 1500, mould: str = "loaf", **more: str
) -> heat.Heat:
    kept = heat.kept_share(grams, mould, more.get("intent", "leave"))
    return heat.heat_of(batter, room, heat.warming_celsius(*RECIPE), kept, heat.gel_celsius(0.33))


def test_warming_worked_by_hand() -> None:
    """140 g NaOH, 1,000 g oils, 284 g water: 140/39.9971·52,500 J over 2·1,000 + 3.5·424 J/K = 52.7 K."""
    expected = 140 / 39.9971 * 52_500 / (2 * 1000 + 3.5 * 424)
    assert pytest.approx(expected, rel=1e-9) == float(heat.warming_celsius(*RECIPE))
    assert pytest.approx(52.75, abs=0.05) == expected


def test_what_sugar_spice_and_alcohol_add() -> None:
    """Sugar at 1 % of the oils adds 1 to 4 °C, a heating spice 2 to 10, alcohol at 1 % another 2 to 10."""
    seen = heat.added_celsius([0, 0.01, 0.01], [False, False, True], [0.01, 0, 0])
    expected = np.array([[2, 1, 3], [6, 2.5, 8.5], [10, 4, 14]], dtype=float)
    np.testing.assert_allclose(np.asarray(seen, dtype=float), expected)


def test_doubt_worked_by_hand() -> None:
    """Half of 2 to 10 kept by half is 2: √(8² + 2²); an unknown depth adds 6; nothing added, 8 alone."""
    spiced = heat.added_celsius(0, True)
    assert float(heat.peak_doubt(0.5, spiced)) == pytest.approx(math.sqrt(68))
    assert float(heat.peak_doubt(0.5, spiced, True)) == pytest.approx(math.sqrt(68 + 36))
    assert float(heat.peak_doubt(0.5, heat.added_celsius(0, False))) == pytest.approx(8)


@given(part, st.floats(0, 0.1), st.floats(0, 0.1))
def test_what_is_added_never_narrows_the_doubt(kept: float, sugar: float, alcohol: float) -> None:
    """More sugar or alcohol never makes a peak surer, nor cooler."""
    plain, more = heat.added_celsius(0, False), heat.added_celsius(sugar, False, alcohol)
    assert heat.peak_doubt(kept, plain) <= heat.peak_doubt(kept, more)
    assert (plain <= more).all()


@pytest.mark.parametrize(
    ("mould", "intent", "ratio"),
    [
        ("loaf", "leave", 1.8), ("slab", "leave", 0.63), ("cavities", "leave", 1.2),
        ("loaf", "avoid", 1.44), ("loaf", "force", 2.52),
    ],
)  # fmt: skip
def test_kept_share_of_a_kilogram(mould: str, intent: str, ratio: float) -> None:
    """A piece of 1 kg keeps r/(1 + r), r by mould and by what is done about gel."""
    assert pytest.approx(ratio / (1 + ratio)) == float(heat.kept_share(1000, mould, intent))


def test_eight_times_the_mass_keeps_four_times_the_ratio() -> None:
    """The ratio kept goes with mass to the power 2/3: 7.2 to 1 for a loaf of 8 kg."""
    assert pytest.approx(7.2 / 8.2) == float(heat.kept_share(8000, "loaf", "leave"))


def test_a_slab_keeps_by_its_depth() -> None:
    """Twice the depth keeps four times the ratio, and what it weighs says nothing."""
    assert pytest.approx(2.52 / 3.52) == float(heat.kept_share(1000, "slab", "leave", 7.0))
    assert heat.kept_share(500, "slab", "leave") == heat.kept_share(5000, "slab", "leave")


@pytest.mark.parametrize(
    ("mould", "grams", "depth", "ends"),
    [
        ("cavities", 100, 3.5, (30, 42)), ("slab", 2500, 3.5, (34, 50)), ("slab", 2500, 4.0, (34, 50)),
        ("loaf", 1000, 7.0, (45, 66)), ("loaf", 1500, 7.0, (45, 66)), ("loaf", 5000, 10.0, (60, 80)),
    ],
)  # fmt: skip
def test_open_moulds_as_makers_report_them(
    mould: str, grams: float, depth: float, ends: tuple[float, float]
) -> None:
    """Poured at 32 °C in a room of 20, left open (makers' reports; loaves read at 56 to 68)."""
    kept = heat.kept_share(grams, mould, "leave", depth)
    peak = float(heat.heat_of(32, 20, heat.warming_celsius(*RECIPE), kept, heat.gel_celsius(0.33)).middle)
    assert ends[0] <= peak <= ends[1]


def test_no_soap_warms_by_more_than_its_heat_allows() -> None:
    """49 to 56 kJ/mol of ester, 1.42 to 1.56 kg of batter a kg of oils: a rise of 36 to 54 °C."""
    assert 36 <= float(heat.warming_celsius(*RECIPE)) <= 54


def test_where_melt_and_pour_softens() -> None:
    """48 to 57 °C where nobody says (common practice); a stated figure is read by eye, ± 3."""
    assert heat.SOFTENS_CELSIUS - heat.SOFTENS_DOUBT == 48
    assert heat.SOFTENS_CELSIUS + heat.SOFTENS_DOUBT == 57
    assert heat.STATED_SOFTENS_DOUBT == 3


def test_gel_temperature_by_water() -> None:
    """The middles of what is in use, straight between them, level outside."""
    seen = heat.gel_celsius([0.2, 0.265, 0.2825, 0.30, 0.33, 0.38, 0.44, 0.5, 0.6])
    np.testing.assert_allclose(seen, [60.5, 60.5, 62, 63.5, 68, 75, 80.75, 86.5, 86.5])


def test_peaks_worked_by_hand() -> None:
    """Batter 33, room 21, warming 50, half kept: middle 21 + 0.5·62 = 52, edge 21 + 0.6·0.5·62 = 39.6."""
    seen = heat.heat_of(33, 21, 50, 0.5, 52)
    assert pytest.approx(52) == float(seen.middle)
    assert pytest.approx(39.6) == float(seen.edge)
    assert pytest.approx(0.5) == float(seen.middle_gels)
    assert seen.edge_gels == 0
    assert pytest.approx(0.5) == float(seen.partial)
    assert seen.full == 0


def test_doubt_of_eight_degrees() -> None:
    """The chance of gel runs from 0 at 8 °C below the mark to 1 at 8 °C above."""
    seen = heat.heat_of([52, 56, 60, 64, 68], [52, 56, 60, 64, 68], 0, 1, 60)
    np.testing.assert_allclose(seen.middle_gels, [0, 0.25, 0.5, 0.75, 1])


def test_overheating_runs_from_75_to_90() -> None:
    """Nothing at 75 °C, half at 82.5, sure at 90; an oven hotter than the soap counts too."""
    seen = heat.heat_of([75, 82.5, 90, 21], [75, 82.5, 90, 104], 0, [1, 1, 1, 0], 60)
    np.testing.assert_allclose(seen.overheats, [0, 0.5, 1, 1])


def test_a_big_loaf_gels_in_the_middle_only() -> None:
    """Common practice: a kilogram and more in a loaf, left alone, is at high risk of a ring."""
    assert heat.RISK_WORDS[int(heat.risk_word(soap().partial))] == "high"


def test_single_bar_moulds_do_not_gel() -> None:
    """Common practice: small cavities do not gel by themselves, least of all when kept cool."""
    bar = soap(grams=120, mould="cavities")
    assert heat.RISK_WORDS[int(heat.risk_word(bar.middle_gels))] == "low"


def test_a_cold_start_in_the_refrigerator_prevents_gel() -> None:
    """A loaf at 27 °C kept uncovered at 4 °C is at less risk of gel than one at 43 °C in the room."""
    assert soap(27, 4, intent="avoid").middle_gels < soap(43, 21).middle_gels


def test_an_oven_gels_through() -> None:
    """Common practice: an oven at 77 °C forces gel through to the edge."""
    forced = soap(room=77, intent="force")
    assert forced.full > 0.9
    assert forced.partial < 0.1


@given(celsius, celsius, st.floats(0, 80), part, st.floats(60, 82), st.floats(0, 20))
def test_hotter_batter_never_lowers_a_chance(
    batter: float, room: float, warming: float, kept: float, gel_at: float, more: float
) -> None:
    """Warmer batter never makes gel or overheating less likely; every chance lies in 0 to 1."""
    one, other = heat.heat_of([batter, batter + more], room, warming, kept, gel_at).middle_gels
    assert one <= other
    seen = heat.heat_of([batter, batter + more], room, warming, kept, gel_at)
    assert seen.overheats[0] <= seen.overheats[1]
    for chance in (seen.middle_gels, seen.edge_gels, seen.partial, seen.full, seen.overheats):
        assert ((chance >= 0) & (chance <= 1)).all()


@given(st.floats(50, 20000), st.floats(1, 10), st.sampled_from(sorted(heat.MOULD_KEEPS)))
def test_a_bigger_piece_keeps_more(grams: float, times: float, mould: str) -> None:
    """A bigger mass never keeps less of its warmth, and none keeps all."""
    small, big = np.broadcast_to(heat.kept_share([grams, grams * times], mould, "leave"), 2)
    assert 0 < small <= big < 1


def test_rivers_worked_by_hand() -> None:
    """White at 0.5 %, 29 % lye and sure gel: the cube root of 0.5·0.5·1."""
    assert pytest.approx(0.25 ** (1 / 3)) == float(heat.river_risk(0.005, 0.29, 1))


@given(part, st.floats(0.2, 0.5), part)
def test_rivers_are_never_likelier_than_gel(white: float, lye: float, gels: float) -> None:
    """Without gel there are none: the risk of rivers never passes the chance of gel."""
    assert heat.river_risk(white, lye, gels) <= gels


def test_rivers_at_their_ends() -> None:
    """Full from 1 % of white at 25 % lye; none without white, at 33 % lye, or without gel."""
    seen = heat.river_risk(
        [0.01, 0.0099, 0.02, 0, 0.01, 0.01], [0.25, 0.25, 0.2, 0.25, 0.33, 0.25], [1, 1, 1, 1, 1, 0]
    )
    np.testing.assert_allclose(seen, [1, 0.99 ** (1 / 3), 1, 0, 0, 0], atol=1e-9)
    assert heat.river_risk(0.01, 0.329, 1) > 0.2
    assert heat.river_risk(0.01, 0.251, 1) < 1


@given(part, part, part, part)
def test_rivers_rise_with_white_and_gel(white: float, more: float, gels: float, surer: float) -> None:
    """More white and surer gel never lower the risk of rivers."""
    low = heat.river_risk(min(white, more), 0.28, min(gels, surer))
    assert low <= heat.river_risk(max(white, more), 0.28, max(gels, surer))


def test_words_of_risk_at_their_edges() -> None:
    """Up to 0.15 low, up to 0.5 some, above that high."""
    words = [heat.RISK_WORDS[index] for index in heat.risk_word([0, 0.15, 0.151, 0.5, 0.501, 1])]
    assert words == ["low", "low", "some", "some", "high", "high"]


def test_what_gel_does_for_a_colour() -> None:
    """Gel deepens what is dark (L* up to 45) or strong (C* from 45), spoils a pastel (L* from 75)."""
    lab = [
        [45.0, 0.0, 0.0],
        [45.1, 0.0, 0.0],
        [75.0, 10.0, 0.0],
        [74.9, 0.0, 0.0],
        [80.0, 45.0, 0.0],
        [80, 44.9, 0],
        [60.0, 0.0, -45.0],
        [60.0, 0.0, -44.9],
    ]
    assert heat.gel_suits(lab).tolist() == [1, 0, -1, 0, 1, -1, 1, 0]


@pytest.mark.parametrize(
    ("call", "why"),
    [
        (lambda: heat.warming_celsius(0, 100, 100), "without oils there is no soap"),
        (lambda: heat.kept_share(0, "loaf", "leave"), "empty mould"),
        (lambda: heat.kept_share(1000, "bucket", "leave"), '"bucket" is not a known mould'),
        (lambda: heat.kept_share(1000, "loaf", "maybe"), '"maybe" is not a known gel'),
        (lambda: heat.heat_of(30, 20, 50, 1.5, 60), "more than all its warmth"),
        (lambda: heat.heat_of(30, 20, -1, 0.5, 60), "soap heats"),
        (lambda: heat.river_risk(-0.1, 0.3, 1), "fraction of the portion's oils"),
        (lambda: heat.risk_word(1.2), "graded chance"),
    ],
)  # fmt: skip
def test_senseless_batches_are_refused(call: object, why: str) -> None:
    """Nothing in the pot, an unknown mould or intent, warmth from nowhere: refused with the reason."""
    assert callable(call)
    with pytest.raises(ValueError, match=why):
        call()
