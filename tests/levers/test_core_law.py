"""What cannot all be, cannot; and could, but for any one of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.levers.core_law import faults, plans


@pytest.mark.parametrize("seeds", [(0, 3), (28, 41)])
def test_a_core_forbids_alone_and_allows_without_any_of_its_members(
    seeds: tuple[int, ...], tmp_path: Path
) -> None:
    """Narrow plans and generated books; ``tests/long.py cores`` does more."""
    members = 0
    for seed, file in enumerate(plans(tmp_path, seeds)):
        count, wrong = faults(file, seed)
        members += count
        assert [] == wrong
    assert members >= 3
