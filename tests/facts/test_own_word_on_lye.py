"""What a maker alone says of an additive's lye is told, on the screen and on the sheet's face."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.danger.harness import TODAY, build, in_process

OWN = [
    ("star powder: {lye: eats 0.6}", "eats 0.6"),
    ("star powder: {same as: citric acid}", "same as citric acid"),
]


@pytest.mark.parametrize(("base", "mass"), [("weighed", "35 g"), ("pounds", "1 1/4 oz")])
@pytest.mark.parametrize(("own", "said"), OWN)
def test_the_sheets_face_says_whose_word_the_lye_rests_on(
    base: str, mass: str, own: str, said: str, tmp_path: Path
) -> None:
    edits: list[list[Any]] = [
        ["write", "additives.yaml", own],
        ["set", "plan", "recipe/additives", {"star powder": mass}],
    ]
    plan = build(base, edits, tmp_path)
    page = tmp_path / "sheet.html"
    in_process(["sheet", str(plan), "--out", str(page), "--today", TODAY])
    assert f"on your word alone: {said}" in page.read_text("utf-8")
