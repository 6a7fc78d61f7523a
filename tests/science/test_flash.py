"""Flash points: classes at their published boundaries, and what may be said of a mix."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.science import flash

Rows = list[dict[str, str]]
CELSIUS = st.floats(-50, 300)


@pytest.mark.parametrize(
    ("point", "category"),
    [
        (22.9, 2), (23.0, 3), (23.1, 3), (59.9, 3), (60.0, 3), (60.1, 4), (92.9, 4), (93.0, 4), (93.1, 0),
        (np.inf, 0),
    ],
)  # fmt: skip
def test_boundaries(point: float, category: int) -> None:
    """At, just under and just over each boundary the class is the one of the published criterion."""
    assert flash.ghs_category(point) == category


def test_boundaries_are_those_of_the_texts(published: Callable[..., Rows]) -> None:
    """Each seen row of GHS and CLP covers its own middle with its own category."""
    rows = [r for r in published("flash_point_classes", "seen") if "category" in r["class"]]
    assert len(rows) == 7
    for r in rows:
        category, top = int(r["class"][-1]), float(r["to_c"])
        low = float(r["from_c"] or 0.0)
        boiling = {1: 35.0, 2: 35.1}.get(category, np.inf)
        assert flash.ghs_category((low + top) / 2, boiling) == category


def test_the_boiling_point_parts_the_first_two() -> None:
    """Below 23 °C a liquid that boils at 35 °C is category 1, one that boils just above it 2."""
    assert flash.ghs_category(10.0, [35.0, 35.1]).tolist() == [1, 2]


def test_the_lowest_part() -> None:
    """A mix is taken at its lowest part; a part that is not known leaves the lower end open."""
    low, high = flash.lowest_flash([94.0, 48.0, 71.0], [94.0, 48.0, 71.0])
    assert low == high == 48.0
    low, high = flash.lowest_flash([94.0, -np.inf], [94.0, np.inf])
    assert [float(low), float(high)] == [-np.inf, 94.0]


def test_ideal_mixes_lie_above_their_lowest_part(published: Callable[..., Rows]) -> None:
    """By the ideal equation (Le Chatelier, Raoult) no mix flashes below its lowest part."""
    parts = {
        "alpha-pinene": 30.6,
        "d-limonene": 47.9,
        "octane": 13.0,
        "p-xylene": 25.0,
        "non-volatile": np.inf,
    }
    rows = published("mixture_flash_points", "computed")
    assert len(rows) == 7
    for r in rows:
        points = [parts[name] for name in r["mixture"].split(" + ")]
        low, _ = flash.lowest_flash(points, points)
        assert low < float(r["flash_point_c"])


def test_the_caution_names_what_was_published(published: Callable[..., Rows]) -> None:
    """The published exception, a mix that flashes below both its parts, is in the manual's words."""
    rows = [r for r in published("mixture_flash_points", "seen") if r["kind"] == "qualitative"]
    assert any(r["mixture"] == "octane + ethanol" and "Vidal" in r["source"] for r in rows)
    told = " ".join((flash.__doc__ or "").split())
    assert "a mix may flash lower than its lowest part: octane with ethanol does (Vidal" in told


def test_flash_points_of_the_libraries(published: Callable[..., Rows]) -> None:
    """By IEC 60079-20-1, limonene (43 °C) and cymene (47 °C) are category 3, benzaldehyde (64 °C) is 4."""
    rows = {
        r["name"]: float(r["flash_point_c"])
        for r in published("scent_materials_physical")
        if r["flash_point_c"]
    }
    points = [rows["limonene (dl)"], rows["p-cymene"], rows["benzaldehyde"]]
    assert flash.ghs_category(points).tolist() == [3, 3, 4]


@given(CELSIUS, CELSIUS)
def test_hotter_is_never_a_worse_class(one: float, other: float) -> None:
    """A higher flash point is never in a more flammable category."""
    worse, better = (int(flash.ghs_category(p)) or 9 for p in sorted([one, other]))
    assert worse <= better


@given(st.lists(CELSIUS, min_size=1, max_size=8), CELSIUS)
def test_another_part_never_makes_a_mix_safer(points: list[float], more: float) -> None:
    """Adding a part keeps or lowers the mix's lowest part."""
    before, _ = flash.lowest_flash(points, points)
    after, _ = flash.lowest_flash([*points, more], [*points, more])
    assert after <= before


def test_senseless_points_are_refused() -> None:
    """What is no number, or a range on its head, is refused by name."""
    with pytest.raises(ValueError, match="flash point must be a number"):
        flash.ghs_category(np.nan)
    with pytest.raises(ValueError, match="must start at its lower end"):
        flash.lowest_flash([60.0], [50.0])


def test_it_says_that_it_is_no_fade_rule() -> None:
    """The manual's words keep the flash point out of how long a scent lasts."""
    assert "Limits: for storing and shipping, never for fade" in (flash.__doc__ or "")
