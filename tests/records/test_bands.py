"""Plausible figures: what is sold and poured passes, a slip is refused and named."""

from __future__ import annotations

import pytest

from blendwise.quantity import Amount, Basis, Dimension, parse_amount
from blendwise.records.kinds.published import PUBLISHED, far_from_published, published
from blendwise.records.reading.bands import BATTER, GEL, PURITY, ROOM, SUPERFAT, Band, outside


@pytest.mark.parametrize(
    ("text", "band", "slip"),
    [
        ("9.8 %", PURITY, "too far left"),
        ("0.98 %", PURITY, "share for per cent"),
        ("9.8 to 99 %", PURITY, "too far left"),
        ("79 %", PURITY, "slip of the pen"),
        ("97 °C", BATTER, "°F written as °C"),
        ("85 °C", BATTER, "°F written as °C"),
        ("336 °C", BATTER, "too far right"),
        ("36 °F", BATTER, "°C written as °F"),
        ("-33 °C", BATTER, "slip of the pen"),
        ("170 °C", GEL, "°F written as °C"),
        ("68 °C", ROOM, "°F written as °C"),
        ("50 %", SUPERFAT, "too far right"),
    ],
)
def test_a_slip_is_refused_and_named(text: str, band: Band, slip: str) -> None:
    wrong = outside(amount(text), band)
    assert wrong is not None
    assert slip in wrong[1]


@pytest.mark.parametrize(
    ("text", "band"),
    [
        *[("94 %", PURITY), ("95 to 100 %", PURITY), ("100 %", PURITY)],
        *[("5 °C", BATTER), ("70 °C", BATTER), ("92 °F", BATTER), ("140 °F", BATTER)],
        *[("170 °F", GEL), ("-5 °C", ROOM), ("104 °F", ROOM), ("0 %", SUPERFAT), ("40 %", SUPERFAT)],
    ],
)
def test_what_makers_do_passes(text: str, band: Band) -> None:
    assert outside(amount(text), band) is None


def test_every_published_range_is_like_itself() -> None:
    """Each, and each shifted by a tenth of the guard, passes by its name; three times as wide it does not."""
    for name, (low, high) in PUBLISHED.items():
        assert far_from_published(name, low, high) == ""
        assert far_from_published(f"organic {name.title()} oil", low * 0.99, high * 1.01) == ""
        assert far_from_published(name, low * 0.5, high) != ""
        assert far_from_published(name, low, high * 1.5) != ""


@pytest.mark.parametrize(
    ("name", "range_"),
    [
        ("Palm kernel flakes", (230, 254)),
        ("coconut-fractionated", (325, 360)),
        ("olive-pomace", (184, 196)),
        ("sunflower wax", None),
        ("golden jojoba", (85, 100)),
        ("Kokosöl", (248, 265)),
        ("olive and coconut blend", (184, 265)),
        ("house fat", None),
    ],
)
def test_a_name_finds_its_kind(name: str, range_: tuple[int, int] | None) -> None:
    assert published(name) == range_


def amount(text: str) -> Amount:
    """A share or a temperature, as a file would have it."""
    return parse_amount(text, Dimension.FRACTION, Dimension.TEMPERATURE, default_basis=Basis.WHOLE)
