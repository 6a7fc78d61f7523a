"""Answers that made no sense to a maker, each asked again: they may not come back."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.levers.test_reasons import asked, doses
from tests.strangers.runs import Ran, ran

HALVES: list[dict[str, Any]] = [
    {"name": name, "share": "50 %", "colourants": {"rust": rate}, "may become": "chocolate"}
    for name, rate in (("lower", "0.075 % of portion oils"), ("upper", "0.5 % of portion oils"))
]
LIKE: dict[str, Any] = {
    "pour": "rough layers",
    "portions": HALVES,
    "scents/blend": {"toffee-tin": "1", "nettle-lane": "1"},
}
"""Two layers of one colour: with the browning oil in both they can hardly be told apart."""


def cautions(run: Ran) -> set[tuple[str, tuple[str, ...]]]:
    """What is broken of the split that was found, from caution up."""
    found = run.document["check"]["findings"]
    return {
        (each["rule"], tuple(each["subject"]))
        for each in found
        if each["status"] == "broken" and each["level"] != "hint"
    }


@pytest.mark.parametrize("ounces", [False, True])
def test_a_rule_asked_of_finished_splits_takes_part_in_the_search(ounces: bool, tmp_path: Path) -> None:
    """No better split is found only because two `never` lines point at it; nothing is called proven."""
    free = asked(tmp_path / "free", ounces, LIKE)
    lines = [{"scent": "toffee-tin", "in": ["lower"]}, {"scent": "nettle-lane", "in": ["upper"]}]
    told = asked(tmp_path / "told", ounces, LIKE | {"never": lines})
    thin = ("contrast-thin", ("lower", "upper"))
    assert thin not in cautions(told)
    assert thin not in cautions(free)
    assert "best looked at" == free.document["status"]
    assert free.document["looked"] > 1


@pytest.mark.parametrize("ounces", [False, True])
def test_one_scent_in_two_cups_is_in_both(ounces: bool, tmp_path: Path) -> None:
    """As `check` spreads it: no cup is bare for a rule that it would not meet."""
    change = {
        "portions": [HALVES[0] | {"share": "70 %"}, HALVES[1] | {"share": "the rest"}],
        "scents/blend": {"wet-slate": "1"},
        "prefer": ["true to blend", "few weighings", "even scent"],
    }
    run = asked(tmp_path, ounces, change)
    assert all(dose > 0 for dose in doses(run).values())
    assert "8 %" not in " ".join(ran("assign", tmp_path / "plans" / "two halves.yaml").out.split())


@pytest.mark.parametrize(
    "change",
    [
        {"recipe/lye/superfat": "0 %"},
        {"recipe/lye/concentration": "49 %"},
        {"scents/load": "12 % of batch oils"},
    ],
)
def test_best_is_never_said_above_a_stop_or_a_conflict(change: dict[str, str], tmp_path: Path) -> None:
    """The verdict comes first, and a split that something stands against is not called the best."""
    asked(tmp_path, False, change)
    said = ran("assign", tmp_path / "plans" / "two halves.yaml").out
    assert "proven the best" not in said
    assert "best of" not in said


@pytest.mark.parametrize("ounces", [False, True])
def test_a_hundredth_more_load_moves_little(ounces: bool, tmp_path: Path) -> None:
    """The same soap but for a tenth of its scent, where no rule is crossed."""
    loads = ("0.5 oz ppo", "0.505 oz ppo") if ounces else ("3 % of batch oils", "3.03 % of batch oils")
    found = []
    for n, load in enumerate(loads):
        run = asked(tmp_path / str(n), ounces, {"scents/load": load})
        found.append({row["portion"]: row["scents"] for row in run.document["portions"]})
    total = sum(mass for row in found[0].values() for mass in row.values())
    moved = sum(abs(found[0][p].get(n, 0) - found[1][p].get(n, 0)) for p in found[0] for n in found[0][p])
    assert moved / 2 <= 0.1 * total
