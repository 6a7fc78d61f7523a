"""What rounding of sums leaves over is no dose: a cup holds an oil or it does not, at any size."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from blendwise.facts.situation.doses import DUST
from tests.strangers.books import a_book
from tests.strangers.scaling import situation


def test_no_dose_is_dust(tmp_path: Path) -> None:
    """In generated plans and their versions every dose is nothing, or more than rounding leaves over."""
    asked = 0
    for seed in (3, 54):
        for plan in a_book(tmp_path / str(seed), seed, plans=2, looks=False).plans:
            s = situation(plan)
            if s is None:
                continue
            asked += 1
            least = s.x[s.x != 0].min(initial=np.inf)
            assert least >= DUST * s.scenting.total
    assert asked
