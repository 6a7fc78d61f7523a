"""Setting: the days on which a loaf is usually cut (common practice)."""

from __future__ import annotations

import pytest

from blendwise.science.setting import cut_days


@pytest.mark.parametrize(
    ("gel", "liquid", "lye", "days"),
    [
        ("force", 0.9, 0.25, (1, 2)),  # 18 to 48 hours once it has gelled, whatever the recipe
        ("avoid", 0.9, 0.33, (3, 7)),  # without gel, much liquid oil: 3 to 7 days
        ("avoid", 0.5, 0.28, (3, 7)),  # without gel, much water
        ("avoid", 0.5, 0.33, (2, 4)),
        ("leave", 0.5, 0.33, (1, 3)),
        (None, 0.5, 0.33, (1, 3)),
        ("leave", 0.9, 0.33, (2, 7)),
    ],
)
def test_days_to_the_cut(gel: str | None, liquid: float, lye: float, days: tuple[int, int]) -> None:
    """Gelled soap is cut in a day or two, un-gelled, wet or oily soap later; between them it ranges."""
    assert days == cut_days(gel, liquid, lye)


@pytest.mark.parametrize(
    ("liquid", "lye", "slow"), [(0.70, 0.33, True), (0.695, 0.305, False), (0.5, 0.30, True)]
)
def test_where_slow_begins(liquid: float, lye: float, slow: bool) -> None:
    """70 % of liquid oils, or 30 % of lye and less, make a recipe slow to set (judgement)."""
    assert slow == (cut_days("avoid", liquid, lye) == (3, 7))
