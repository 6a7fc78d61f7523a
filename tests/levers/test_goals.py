"""The goals as makers mean them: the blend's parts in the bar, own mixes kept, another soap, steady."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.levers.test_reasons import asked, doses
from tests.strangers.runs import Ran

SAME_DOSE = "same dose in each scented portion"
WHITES: list[dict[str, Any]] = [
    {"name": "a", "share": "50 %", "colourants": {"chalk": "1 % of portion oils"}},
    {"name": "b", "share": "the rest", "colourants": {"chalk": "1 % of portion oils"}},
]


def totals(run: Ran) -> dict[str, float]:
    """Scent → grams in the bar."""
    found: dict[str, float] = {}
    for row in run.document["portions"]:
        for name, mass in row["scents"].items():
            found[name] = found.get(name, 0.0) + mass
    return found


@pytest.mark.parametrize("ounces", [False, True])
@pytest.mark.parametrize("prefer", ["few weighings", "true to blend"])
def test_the_same_dose_holds_the_blends_parts(ounces: bool, prefer: str, tmp_path: Path) -> None:
    """One to one in two equal whites is not one to twenty, whatever is preferred."""
    change = {"portions": WHITES, "scents/blend": {"wet-slate": "1", "white-barn": "1"}}
    run = asked(tmp_path, ounces, change | {"scents/dosing": SAME_DOSE}, "--prefer", prefer)
    first, second = totals(run).values()
    assert 0.8 <= first / second <= 1.25
    assert [] == run.document["off_blend"]


@pytest.mark.parametrize("ounces", [False, True])
def test_an_oil_that_cannot_hold_its_part_says_why(ounces: bool, tmp_path: Path) -> None:
    """Kept to the smallest cup under the same dose, an oil cannot be half of the scent, and it is told."""
    change = {
        "scents/blend": {"wet-slate": "1", "white-barn": "1"},
        "scents/dosing": SAME_DOSE,
        "only": [{"scent": "wet-slate", "in": ["brick"]}],
    }
    told = asked(tmp_path, ounces, change).document["off_blend"]
    assert told
    assert told[0]["because"]
    assert abs(told[0]["share"] - told[0]["asked"]) > 0.05


@pytest.mark.parametrize("ounces", [False, True])
@pytest.mark.parametrize("free", [(), ("--free",)])
def test_what_the_maker_weighs_together_is_one_mix(
    ounces: bool, free: tuple[str, ...], tmp_path: Path
) -> None:
    """``weigh together`` is a mix of the answer, with these oils and no others."""
    change = {
        "scents/blend": {"wet-slate": "2", "white-barn": "1", "nettle-lane": "0.5"},
        "pour": "single colour",
        "weigh together": [["white-barn", "wet-slate"]],
    }
    run = asked(tmp_path, ounces, change, *free)
    assert [{"wet-slate", "white-barn"}] == [set(each["scents"]) for each in run.document["premixes"]]


@pytest.mark.parametrize("ounces", [False, True])
def test_the_order_in_which_the_blend_is_written_decides_nothing(ounces: bool, tmp_path: Path) -> None:
    """The same oils the other way round are the same soap."""
    blend = {"wet-slate": "2", "white-barn": "1", "toffee-tin": "1"}
    one = asked(tmp_path / "one", ounces, {"scents/blend": blend})
    other = asked(tmp_path / "other", ounces, {"scents/blend": dict(reversed(blend.items()))})
    told = [{row["portion"]: row["scents"] for row in run.document["portions"]} for run in (one, other)]
    assert told[0] == told[1]


@pytest.mark.parametrize("ounces", [False, True])
def test_the_runner_up_is_another_soap(ounces: bool, tmp_path: Path) -> None:
    """Somewhere it holds another dose, by a tenth of all the scent."""
    run = asked(tmp_path, ounces, {"scents/blend": {"wet-slate": "2", "white-barn": "1"}})
    best = {row["portion"]: row["scents"] for row in run.document["portions"]}
    other = {row["portion"]: row["scents"] for row in run.document["runner_up"]}
    assert other
    cells = [(p, n) for p in best for n in {*best[p], *other[p]}]
    apart = max(abs(best[p].get(n, 0.0) - other[p].get(n, 0.0)) for p, n in cells)
    assert apart >= 0.0999 * sum(totals(run).values())
    assert doses(run)
