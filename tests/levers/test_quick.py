"""A quick oil goes where it hurries the least batter; of cups of one size into the darkest."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

import pytest

from tests.levers.test_beside import SHARES
from tests.levers.test_reasons import asked

QUICK = "nettle-lane"


def held(cups: Iterable[Mapping[str, Any]]) -> list[str]:
    """The cups that hold any of the quick oil."""
    return [row["portion"] for row in cups if QUICK in row["scents"]]


@pytest.mark.parametrize("ounces", [False, True])
@pytest.mark.parametrize("turned", [False, True])
def test_of_cups_of_one_size_the_darkest_takes_it(ounces: bool, turned: bool, tmp_path: Path) -> None:
    """Not the white, wherever it is written."""
    cups: list[dict[str, Any]] = [
        {"name": "white", "share": "1 part", "colourants": {"chalk": "1 % of portion oils"}},
        {"name": "grey", "share": "1 part", "colourants": {"slate": "0.5 % of portion oils"}},
        {"name": "black", "share": "1 part", "colourants": {"slate": "1 % of portion oils"}},
    ]
    blend = {"wet-slate": "5", QUICK: "2"}
    change = {"portions": cups[::-1] if turned else cups, "scents/blend": blend}
    told = asked(tmp_path, ounces, change).document
    assert ["black"] == held(told["portions"])


@pytest.mark.parametrize("ounces", [False, True])
def test_it_is_never_in_the_largest_and_palest_cup_alone(ounces: bool, tmp_path: Path) -> None:
    """What is far off the blend anyway may be a little farther off, so that the batter is not hurried."""
    change = {"scents/blend": {"wet-slate": "2", QUICK: "1"}}
    told = asked(tmp_path, ounces, change).document
    assert ["white"] != held(told["portions"])


@pytest.mark.parametrize("ounces", [False, True])
def test_less_batter_stands_beside_with_its_cost(ounces: bool, tmp_path: Path) -> None:
    """Where the blend has it in the larger cup, the other answer says how much less batter it could be."""
    told = asked(tmp_path, ounces, {"scents/blend": {"wet-slate": "8", QUICK: "1"}}).document
    (other,) = [each for each in told["beside"] if each["goal"] == "quick oils in little batter"]
    changes = {each["goal"]: each for each in other["changes"]}
    for side, cups in (("best", told["portions"]), ("other", other["portions"])):
        share = sum(SHARES[cup] for cup in held(cups))
        assert share == pytest.approx(changes["quick oils in little batter"][side], abs=2e-3)
    assert ["brick"] == held(other["portions"])
    assert changes["true to blend"]["other"] > changes["true to blend"]["best"]


@pytest.mark.parametrize("ounces", [False, True])
def test_where_no_batter_must_stay_fluid_nothing_is_told_of_it(ounces: bool, tmp_path: Path) -> None:
    """A single colour may be as thick as it likes."""
    change = {"scents/blend": {"wet-slate": "2", QUICK: "1"}, "pour": "single colour"}
    told = asked(tmp_path, ounces, change).document
    assert "quick oils in little batter" not in [each["goal"] for each in told["beside"]]
