"""A maker who takes the first lever, at most twice, has a sound plan with every oil still in the bar."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.levers.two_faults import MORE_PAIRS, PAIRS, followed


@pytest.mark.parametrize("number", range(len(PAIRS) + len(MORE_PAIRS)))
def test_two_steps_are_enough(number: int, tmp_path: Path) -> None:
    """Each of the thirty plans with two faults, by its first lever alone; the odd ones in ounces."""
    why, steps = followed(tmp_path, number)
    assert "" == why, steps
