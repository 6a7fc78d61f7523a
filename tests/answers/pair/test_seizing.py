"""An oil that seizes is no oil for a swirl, however well it gets on otherwise: that is said first."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from tests.levers.two_faults import write_book
from tests.strangers.runs import ran


@pytest.fixture(params=[False, True], ids=["grams", "ounces"])
def shelf(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """A book of calm oils, of which one quick one seizes."""
    write_book(tmp_path, request.param)
    usual = yaml.safe_load((tmp_path / "usual.yaml").read_text("utf-8"))
    oils = {"olive": "50 %", "coconut": "25 %", "rapeseed": "25 %"}
    usual |= {"recipe": {"oils": oils, "amount": {"oils": "40 oz" if request.param else "1100 g"}}}
    usual |= {"lye": {"concentration": "31 %", "superfat": "5 %"}, "for": "home"}
    (tmp_path / "usual.yaml").write_text(yaml.safe_dump(usual), "utf-8")
    file = tmp_path / "scents.yaml"
    entry, rest = file.read_text("utf-8").split("nettle-lane:")
    file.write_text(f"{entry}nettle-lane:{rest.replace('is: fast', 'is: seizes', 1)}", "utf-8")
    return tmp_path


@pytest.mark.parametrize("other", [(), ("wet-slate",), ("toffee-tin",)])
def test_the_verdict_says_that_it_seizes(shelf: Path, other: tuple[str, ...]) -> None:
    """Alone, with a calm oil and with one that browns; no light cup is advised for it either."""
    told = " ".join(ran("pair", "nettle-lane", *other, "--book", shelf).out.split())
    assert "nettle-lane seizes the batter: only a piped top bears it, with care." in told
    assert "get on" not in told
    assert "Try them apart" not in told


def test_a_calm_pair_is_told_no_haste(shelf: Path) -> None:
    """Whether it rices is a question, and no lack of time."""
    text = (shelf / "scents.yaml").read_text("utf-8").replace("  ricing: none\n", "")
    (shelf / "scents.yaml").write_text(text, "utf-8")
    told = ran("pair", "wet-slate", "white-barn", "--book", shelf, "--json").document
    words = {fit["pour"]: fit["word"] for fit in told["pours"]}
    assert "time enough" == words["in-pot swirl"] == words["hanger swirl"]
    assert "seizes" not in ran("pair", "wet-slate", "white-barn", "--book", shelf).out
