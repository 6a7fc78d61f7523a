"""No cup is bare unasked; why one is, is a core that alone forbids it; what takes no more takes none."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from tests.levers.two_faults import sound, write_book
from tests.strangers.runs import Ran, ran


def asked(folder: Path, ounces: bool, change: dict[str, Any], *words: str) -> Ran:
    """``assign`` of the sound plan with some of its fields changed."""
    write_book(folder, ounces)
    plan = sound(ounces)
    for path, value in change.items():
        at: Any = plan
        *steps, last = path.split("/")
        for step in steps:
            at = at[int(step) if step.isdigit() else step]
        at[last] = value
    file = folder / "plans" / "two halves.yaml"
    file.write_text(yaml.safe_dump(plan, sort_keys=False), "utf-8")
    return ran("assign", file, "--json", *words)


def doses(run: Ran) -> dict[str, float]:
    """Portion → scent on its own oils."""
    return {row["portion"]: row["dose"] for row in run.document["portions"]}


@pytest.mark.parametrize("ounces", [False, True])
@pytest.mark.parametrize("prefer", [(), ("few weighings",), ("true to blend", "few weighings", "even scent")])
def test_no_cup_is_left_bare_unasked(ounces: bool, prefer: tuple[str, ...], tmp_path: Path) -> None:
    """One clean scent and three cups: each takes some that is smelled, whatever is preferred."""
    words = [each for goal in prefer for each in ("--prefer", goal)]
    run = asked(tmp_path, ounces, {"scents/blend": {"wet-slate": "1"}}, *words)
    assert all(dose >= 0.0149 for dose in doses(run).values()), doses(run)
    assert [] == run.document["bare"]


@pytest.mark.parametrize("ounces", [False, True])
def test_why_a_cup_stays_bare_is_what_keeps_scent_out_of_it(ounces: bool, tmp_path: Path) -> None:
    """A browning oil alone and a white cup: the core names the browning and nothing that does not matter."""
    run = asked(tmp_path, ounces, {"scents/blend": {"toffee-tin": "1"}, "portions/0/may become": "ivory"})
    assert ["white"] == [each["portion"] for each in run.document["bare"]]
    because = run.document["bare"][0]["because"]
    assert ["browning-shows-in-light"] == [each["name"] for each in because]
    assert 0 == doses(run)["white"]
    freed = {"scents/blend": {"toffee-tin": "1"}, "portions/0/may become": "chocolate"}
    assert doses(asked(tmp_path / "freed", ounces, freed))["white"] > 0


@pytest.mark.parametrize("ounces", [False, True])
def test_a_cup_that_the_plan_leaves_unscented_needs_no_reason(ounces: bool, tmp_path: Path) -> None:
    """``scented: no`` is what the maker said."""
    run = asked(tmp_path, ounces, {"portions/0/scented": "no"})
    assert [] == run.document["bare"]
    assert 0 == doses(run)["white"]


@pytest.mark.parametrize("ounces", [False, True])
def test_what_takes_no_more_is_broken_by_a_step_more(ounces: bool, tmp_path: Path) -> None:
    """A stop is told only of what a cup holds, and lies beyond it."""
    run = asked(tmp_path, ounces, {"scents/blend": {"wet-slate": "2", "toffee-tin": "1"}})
    for each in run.document["tight"]:
        assert each["at"] >= each["takes"] > 0
