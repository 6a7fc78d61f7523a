"""Pairs of strangers' oils at the command line: the order in which they are named decides nothing."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from blendwise.api import Book
from tests.strangers.books import a_book
from tests.strangers.runs import ran


def greatest(folder: Path, *oils: str) -> dict[tuple[tuple[str, float], ...], Any]:
    """Each ratio (oil and share, by name) → the greatest load and the rule that stops it."""
    document = ran("pair", *oils, "--book", folder, "--json", "--for", "home").document
    return {
        tuple(sorted((oil, round(share, 6)) for oil, share in cap["shares"].items() if share)): (
            cap["most"] and round(cap["most"], 9),
            [stop["rule"] for stop in cap["stops"][:1]],
        )
        for cap in document["region"]
    }


@pytest.mark.parametrize("seed", [2, 3, 9])
def test_named_the_other_way_round_each_ratio_takes_the_same(tmp_path: Path, seed: int) -> None:
    """Of every ratio the greatest load is the same in either order; that of one oil alone is its own."""
    made = a_book(tmp_path / "book", seed, plans=1, looks=False)
    oils = list(Book(made.folder).files.scents)
    for one, other in zip(oils[:-1:3], oils[1::3], strict=False):
        found = greatest(made.folder, one, other)
        assert found == greatest(made.folder, other, one)
        for oil in (one, other):
            alone = greatest(made.folder, oil)
            assert found[((oil, 1.0),)] == alone[((oil, 1.0),)]
