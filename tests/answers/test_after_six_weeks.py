"""What is left at six weeks: a share beside the words, whose word it is, and what counts as lasting."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.situations.harness import Situation, written
from tests.strangers.runs import ran


def checked(folder: Path, scents: dict[str, Any], **plan: Any) -> tuple[int, dict[str, dict[str, Any]]]:
    """Exit code and the findings of a plan, by rule."""
    told = {name: {"vanillin": "0 %", "evidence": "supplier", **said} for name, said in scents.items()}
    run = ran("check", written(Situation("it", "", [], told, {"load": "4 %", **plan}), folder), "--json")
    return run.code, {finding["rule"]: finding for finding in run.document.get("findings", ())}


@pytest.mark.parametrize(("left", "rule"), [("15 %", True), ("10 to 20 %", True), ("60 %", False)])
def test_a_share_counts_as_the_word_nearest_to_it(tmp_path: Path, left: str, rule: bool) -> None:
    """15 % left is faint and told, with whose word it is; 60 % is fair and at peace."""
    said = {"oil": {"scent note": "top", "after six weeks": {"left": left, "evidence": "hearsay"}}}
    _, found = checked(tmp_path / "book", said)
    assert ("faded-and-unheld" in found) == rule


@pytest.mark.parametrize("said", [{"left": "15 %", "is": "fair"}, {"evidence": "hearsay"}, {"left": "115 %"}])
def test_neither_or_both_or_beyond_is_refused(tmp_path: Path, said: dict[str, str]) -> None:
    """A share and a word at once, neither of them, or more than the whole smell: refused with its place."""
    assert checked(tmp_path / "book", {"oil": {"after six weeks": said}})[0] == 2


FOLDED = [("orange-five-fold", False), ("orange-10x", False), ("orange", True)]


@pytest.mark.parametrize(("name", "spoken"), FOLDED)
def test_folded_citrus_stands_apart(tmp_path: Path, name: str, spoken: bool) -> None:
    """Forced gel is said to take the top off expressed citrus, and nothing of a folded one."""
    folder = tmp_path / "book"
    path = written(Situation("it", "", [], {name: {"tags": ["citrus"]}}, {"load": "4 %"}), folder)
    path.write_text(path.read_text("utf-8").replace("gel: avoid", "gel: force"), "utf-8")
    found = {f["rule"] for f in ran("check", path, "--json").document["findings"]}
    assert ("gel-and-light-citrus" in found) == spoken
