"""Small plans: no split on the scale's grid is better than the one that is called proven."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.levers.split_oracle import better


@pytest.mark.parametrize("seed", [*range(3), 140, 364])
def test_no_split_is_better_than_the_best(seed: int, tmp_path: Path) -> None:
    """Sixty splits of each, judged by the rules as `check` does; ``tests/long.py splits`` does more.

    In the last two a rule asked of finished splits alone is broken only at the middle of judgement's doubt.
    """
    judged, wrong = better(tmp_path, seed, 60)
    assert "" == wrong
    assert judged > 0
