"""How large a test cup is and how many stand in a row: a module without imports, for whoever names a cup."""

from __future__ import annotations

from typing import Final

CUP_BATTER: Final = 100.0
"""Grams of batter in a test cup; common practice."""
LEAST_CUP, MOST_CUP = 50.0, 500.0
"""Grams of batter between which a cup is small enough to lose and large enough to weigh: judgement."""
MOST_CUPS: Final = 6
"""Scented cups that one pair of hands keeps the time of: judgement."""
