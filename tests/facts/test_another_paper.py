"""What stands in a certificate's place is told from a certificate, and a dated limit without words is one."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.records.certificates import is_another_paper
from tests.danger.harness import TODAY, build, in_process

OTHERS = [
    "safety data sheet",
    "SDS",
    "COA lot 7",
    "candle certificate",
    "none yet",
    "asked for it",
    "?",
    "n/a",
]
PAPERS = [
    "51st amendment",
    "51",
    "ours, of March",
    "51st amendment, category 9; candles: category 12",
    "for soap, not for candles",
    "sheet 4711",
    "Nota Fragrances 12",
]


@pytest.mark.parametrize("text", OTHERS)
def test_another_paper_is_no_certificate(text: str) -> None:
    assert is_another_paper(text)


@pytest.mark.parametrize("text", PAPERS)
def test_what_may_be_a_certificate_is_left_one(text: str) -> None:
    assert not is_another_paper(text)


@pytest.mark.parametrize(("base", "oil"), [("loaf", "quiet-linen"), ("pounds", "meadow-rain")])
def test_a_dated_limit_without_words_is_a_certificate(base: str, oil: str, tmp_path: Path) -> None:
    plan = build(base, [["drop", "scents.yaml", f"{oil}/limit in bar/certificate"]], tmp_path)
    assert in_process(["check", str(plan), "--json", "--today", TODAY]).code == 0
