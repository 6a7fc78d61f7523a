"""A figure behind a name is never taken for a slip of the pen: it is read, or it is asked about."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.answers.names import find_name
from blendwise.answers.refusals import NotAskable
from tests.strangers.books import a_book
from tests.strangers.runs import ran


def test_another_figure_is_another_name() -> None:
    """Letters slip, figures do not."""
    assert "Blood Orange 5x" == find_name("blod orange 5x", ["Blood Orange 5x", "Lime"], "scent").name
    for typed in ("Blood Orange 10x", "charcoal 0.5 %", "No. 5.5"):
        with pytest.raises(NotAskable):
            find_name(typed, ["Blood Orange 5x", "charcoal", "Sound No. 5"], "scent")
    assert "Sound No. 5" == find_name("no 5", ["Lime", "Sound No. 5"], "scent").name


@pytest.mark.parametrize("seed", [3, 7])
def test_a_cup_is_coloured_at_the_rate_that_is_typed(seed: int, tmp_path: Path) -> None:
    """Twice the rate is twice the grams, by the last digit shown."""
    book = a_book(tmp_path / "book", seed, looks=False).folder
    oil = next(iter((book / "scents.yaml").read_text("utf-8").split(":")))
    oil = oil.strip().strip("'\"")
    grams = []
    for rate in ("1 %", "2 %"):
        words = ("cup", oil, "--size", "200 g", "--colour", f"charcoal {rate}", "--book", book, "--json")
        cups = ran(*words).document["cups"]
        grams += [cups[0]["dyes"][0]["weighed"]["grams"]]
    assert grams[1] == pytest.approx(2 * grams[0], abs=0.15)
    refused = ran("cup", oil, "--colour", "charcoal 3 hares", "--book", book)
    assert (2, True) == (refused.code, "is no rate of a colourant" in refused.err)
