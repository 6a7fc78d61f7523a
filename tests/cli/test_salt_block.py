"""A salt block is hard within hours: the short answer says when it is cut, in grams and in ounces."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.strangers.runs import ran

SOUND = Path(__file__).resolve().parents[1] / "danger" / "sound" / "metric" / "plans" / "sea-salt-bar.yaml"
ONE = "  - {name: body, share: 100 %, colourants: {ultramarine-blue: 0.15 % of portion oils}}\n"
TWO = "  - {name: sea, share: 50 %}\n  - {name: foam, share: 50 %}\n"


@pytest.mark.parametrize("mass", ["800 g", "28 oz"])
@pytest.mark.parametrize(("portions", "cut"), [(TWO, True), (ONE, False)])
def test_when_a_salt_block_is_cut(portions: str, cut: bool, mass: str, tmp_path: Path) -> None:
    """Common practice: 2 to 8 hours after the pour (salt bars).  Bars from single cavities are not cut."""
    text = SOUND.read_text(encoding="utf-8")
    assert ONE in text
    text = (
        text.replace(ONE, portions).replace("oils: 800 g", f"oils: {mass}").replace("480 g", "60 % of oils")
    )
    pour = text.replace("pour: single colour", "pour: flat layers" if cut else "pour: single colour")
    (tmp_path / "salt.yaml").write_text(pour, encoding="utf-8")
    said = ran("check", tmp_path / "salt.yaml", "--book", SOUND.parents[1], "--today", "2026-11-30").out
    assert ("cut it the same day" in " ".join(said.split())) is cut
