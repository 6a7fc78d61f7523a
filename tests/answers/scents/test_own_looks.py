"""What own looks say of an oil stands before the catalogue's word wherever the shelf is asked."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from blendwise.api import Book
from tests.cli.conftest import Run
from tests.strangers.books import a_book

KEY = {"acceleration": "acceleration", "browning": "browns_to", "after six weeks": "after_six_weeks"}


@pytest.mark.parametrize("seed", [2, 4, 9])
def test_list_and_show_tell_what_a_plan_is_judged_by(run: Run, tmp_path: Path, seed: int) -> None:
    """In grams and in ounces: the words of list and show are those that the review believes."""
    folder = a_book(tmp_path / "book", seed, 3).folder
    told = json.loads(run("scents", "list", "--json", "--book", str(folder)).out)["scents"]
    learned = 0
    for line in told:
        shown = json.loads(run("scents", "show", line["name"], "--json", "--book", str(folder)).out)
        for change in shown["learned"]:
            assert change["now"] == line[KEY[change["trait"]]]
            assert "own looks" == line["evidence"]
            learned += change["was"] != change["now"]
        believed = Book(folder).review(scent=line["name"]).beliefs
        assert [each["now"] for each in shown["learned"]] == [each.now for each in believed]
    assert 2 <= learned


def test_show_says_what_was_otherwise(run: Run, tmp_path: Path) -> None:
    """The catalogue's word and the looks' word stand in one sentence, with how many batches said so."""
    folder = a_book(tmp_path / "book", 4, 3).folder
    text = " ".join(run("scents", "show", "चंदन", "--book", str(folder)).out.split())
    assert "white soap browns to beige" in text
    assert "where the catalogue says cream (" in text
    assert "where the catalogue says strong (1 batch)" in text
