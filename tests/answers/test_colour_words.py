"""Colours at the command line: families apart, words that contradict, shifts of the colourant first."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.situations.harness import Situation, written
from tests.strangers.runs import ran


def said(folder: Path, scent: dict[str, Any], **plan: Any) -> dict[str, dict[str, Any]]:
    """The findings of a plan of one oil in white, by rule."""
    one = Situation("it", "", [], {"oil": {"evidence": "supplier", **scent}}, {"load": "4 %", **plan})
    document = ran("check", written(one, folder), "--json").document
    return {finding["rule"]: finding for finding in document["findings"]}


@pytest.mark.parametrize(
    ("scent", "both"),
    [
        ({"vanillin": "8 %", "browns to": {"band": "ivory", "at": "4 % of oils"}}, ("8 %", "ivory")),
        ({"vanillin": "0 %", "browns to": {"band": "brown", "at": "4 % of oils"}}, ("0 %", "brown")),
        ({"vanillin": "0 %", "tags": ["browner"]}, ("browner", "nothing")),
    ],
)
def test_of_words_that_contradict_the_worse_counts(
    tmp_path: Path, scent: dict[str, Any], both: tuple[str, str]
) -> None:
    """Of two words of one hand the worse counts, and both are shown."""
    found = said(tmp_path / "book", scent)
    assert "browning-shows-in-light" in found
    assert all(word in found["words-against-each-other"]["evidence"] for word in both)


@pytest.mark.parametrize("name", ["ethyl vanillin", "3-ethoxy-4-hydroxybenzaldehyde"])
def test_ethyl_vanillin_on_the_sheet_counts(tmp_path: Path, name: str) -> None:
    """With vanillin stated as none, ethyl vanillin on the sheet browns all the same."""
    found = said(tmp_path / "book", {"vanillin": "0 %", "allergen sheet": {name: "5 %"}})
    assert found["browning-shows-in-light"]["value"] in ("tan", "brown")


@pytest.mark.parametrize("name", ["indole", "1H-indole"])
def test_indole_is_pink(tmp_path: Path, name: str) -> None:
    """White flowers with indole go pink whatever the vanillin says, and no brown is told."""
    found = said(tmp_path / "book", {"vanillin": "0 %", "allergen sheet": {name: "3 %"}})
    assert found["pink-shows-in-light"]["value"] in ("pink", "red-brown")
    assert "browning-shows-in-light" not in found


def test_a_look_of_white_outranks_the_sheet(tmp_path: Path) -> None:
    """Where one's own batch stayed white with it, citral on the sheet tints nothing."""
    seen = {"band": "ivory", "at": "4 % of oils", "evidence": "own batch"}
    scent = {"vanillin": "0 %", "allergen sheet": {"citral": "60 %"}}
    assert "yellow-shows-in-light" in said(tmp_path / "one", scent)
    assert "yellow-shows-in-light" not in said(tmp_path / "other", {**scent, "browns to": seen})
