"""Reasons by force, and what stands beside the best split, every figure worked out anew from the cups."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from random import Random
from typing import Any

import pytest

from tests.levers.test_reasons import asked
from tests.strangers.runs import Ran, ran

SHARES = {"white": 0.40, "grey": 0.35, "brick": 0.25}
OILS = ("wet-slate", "white-barn", "toffee-tin", "nettle-lane")
Cups = list[Mapping[str, Any]]


def figures(cups: Cups) -> dict[str, float]:
    """What the two goals of the soap come to, as shares of all scent, by the grams in the cups alone."""
    held = {row["portion"]: row["scents"] for row in cups}
    sums: dict[str, float] = {}
    for row in held.values():
        for name, mass in row.items():
            sums[name] = sums.get(name, 0.0) + mass
    total = sum(sums.values())
    doses = {cup: sum(row.values()) for cup, row in held.items()}
    off = sum(abs(row.get(n, 0.0) - sums[n] / total * doses[cup]) for cup, row in held.items() for n in sums)
    even = sum(max(SHARES[cup] * total - dose, 0.0) for cup, dose in doses.items())
    return {"true to blend": off / 2 / total, "even scent": even / total}


def plans(seed: int) -> dict[str, Any]:
    """A change of the sound plan: other oils, other bands, another pour."""
    rng = Random(f"beside {seed}")
    blend = {name: str(rng.randint(1, 3)) for name in rng.sample(OILS, rng.choice([2, 3]))}
    return {
        "scents/blend": blend,
        "portions/0/may become": rng.choice(["ivory", "cream", "tan"]),
        "portions/1/may become": rng.choice(["tan", "brown"]),
        "pour": rng.choice(["in-pot swirl", "single colour"]),
    }


def empty(run: Ran) -> list[str]:
    """Every oil in every cup that takes none of it, as it is asked for."""
    cups = run.document["portions"]
    oils = sorted({name for row in cups for name in row["scents"]})
    return [f"{oil} in {row['portion']}" for row in cups for oil in oils if oil not in row["scents"]]


@pytest.mark.parametrize("seed", range(6))
def test_every_goal_named_as_a_reason_worsens_by_the_figures_told(seed: int, tmp_path: Path) -> None:
    """Why a cup takes none of an oil: the forced split is worse in that goal, by what its own cups show."""
    first = asked(tmp_path, seed % 2 == 1, plans(seed))
    words = [word for cell in empty(first)[:3] for word in ("--why", cell)]
    told = ran("assign", tmp_path / "plans" / "two halves.yaml", "--json", *words).document
    assert len(words) // 2 == len(told["why"])
    for each in told["why"]:
        assert each["because"] or each["portions"] or each["obstacle"], each
        worse, cups = each["worsens"], each["portions"]
        if cups:
            held = {row["portion"]: row["scents"] for row in cups}
            assert held[each["portion"]][each["scent"]] > 0
        if worse is not None:
            assert worse["other"] > worse["best"]
            for side, grams in (("best", told["portions"]), ("other", cups)):
                found = figures(grams).get(worse["goal"])
                assert found is None or found == pytest.approx(worse[side], abs=2e-3)


@pytest.mark.parametrize("seed", range(4))
def test_what_stands_beside_the_best_is_better_in_its_goal(seed: int, tmp_path: Path) -> None:
    """Both figures of both goals are what the cups show, and one of the other goals pays for it."""
    change = {"scents/blend": {"wet-slate": "2", "toffee-tin": str(1 + seed % 3)}}
    told = asked(tmp_path, seed % 2 == 1, change | {"portions/0/may become": "ivory"}).document
    for other in told["beside"]:
        changes = {each["goal"]: each for each in other["changes"]}
        assert changes[other["goal"]]["other"] < changes[other["goal"]]["best"]
        assert any(each["other"] > each["best"] for each in other["changes"])
        for goal in ("true to blend", "even scent"):
            if goal in changes:
                assert figures(told["portions"])[goal] == pytest.approx(changes[goal]["best"], abs=2e-3)
                assert figures(other["portions"])[goal] == pytest.approx(changes[goal]["other"], abs=2e-3)


def test_two_goals_that_pull_apart_are_both_told(tmp_path: Path) -> None:
    """Browning oil that the white cannot take: true to the blend or even, and the maker chooses."""
    told = asked(tmp_path, True, {"scents/blend": {"wet-slate": "2", "toffee-tin": "1"}})
    assert ["even scent"] == [each["goal"] for each in told.document["beside"]]
    said = " ".join(ran("assign", tmp_path / "plans" / "two halves.yaml").out.split())
    assert "With even scent first: true to blend would go from" in said


@pytest.mark.parametrize("ounces", [False, True])
def test_a_cup_that_a_rule_keeps_bare_stands_beside_itself_scented(ounces: bool, tmp_path: Path) -> None:
    """With the rule that it breaks, which no stop is."""
    run = asked(tmp_path, ounces, {"scents/blend": {"toffee-tin": "1"}, "portions/0/may become": "ivory"})
    (other,) = [each for each in run.document["beside"] if each["scents"] == "white"]
    assert ["browning-shows-in-light"] == [each["name"] for each in other["breaks"]]
    doses = {row["portion"]: row["dose"] for row in other["portions"]}
    assert doses["white"] >= 0.0149


def test_what_is_no_cup_of_the_plan_cannot_be_asked_for(tmp_path: Path) -> None:
    """The cups are named."""
    asked(tmp_path, False, {})
    run = ran("assign", tmp_path / "plans" / "two halves.yaml", "--why", "purple")
    assert run.code == 2
    assert "white, grey, brick" in run.out + run.err


@pytest.mark.parametrize("ounces", [False, True])
def test_the_order_of_cups_decides_nothing(ounces: bool, tmp_path: Path) -> None:
    """The same cups written the other way round take the same, but for a step or two of the scale."""
    blend = {"scents/blend": {"wet-slate": "2", "toffee-tin": "1", "white-barn": "1"}}
    one = asked(tmp_path / "one", ounces, blend)
    other = asked(tmp_path / "other", ounces, blend | {"portions": one_reversed()})
    held = [{row["portion"]: row["scents"] for row in run.document["portions"]} for run in (one, other)]
    cells = {(cup, oil) for half in held for cup, row in half.items() for oil in row}
    moved = sum(abs(held[0][cup].get(oil, 0.0) - held[1][cup].get(oil, 0.0)) for cup, oil in cells) / 2
    assert moved <= 0.02 * sum(sum(row.values()) for row in held[0].values())


def one_reversed() -> list[dict[str, Any]]:
    """The cups of the sound plan, the last first, their shares written out."""
    from tests.levers.two_faults import sound

    cups: list[dict[str, Any]] = sound(False)["portions"]
    return [{**cup, "share": f"{100 * SHARES[cup['name']]:.0f} %"} for cup in reversed(cups)]
