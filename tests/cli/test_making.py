"""What makers are told everywhere, at the command line, in grams and in ounces: one fact changed."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from tests.danger.harness import build, in_process

Change = tuple[Any, ...]
SOUND = Path(__file__).resolve().parents[1] / "danger" / "sound"
TODAY = "2026-11-28"
LEVEL = {"stop": 3, "conflict": 2, "caution": 1, "hint": 0}


def found(to: Path, base: str, *change: Change) -> dict[str, dict[str, Any]]:
    """The findings of a check on a sound book with some changes, by rule."""
    ran = in_process(["check", str(build(base, change, to)), "--json", "--today", TODAY])
    return {each["rule"]: each for each in json.loads(ran.said)["findings"]}


OILS = {"metric": "1000 g", "ounces": "2 lb"}
FATS = {"olive": "40 %", "coconut": "20 %", "sunflower": "40 %"}
PLAIN = {"olive": "75 %", "coconut": "25 %"}
LYE = {"concentration": "31 %", "superfat": "5 %"}
CASES: dict[str, tuple[str, dict[str, object], str]] = {
    "may-turn-rancid": ("caution", {"oils": FATS, "lye": {**LYE, "superfat": "8 %"}}, ""),
    "much-that-turns-rancid": ("hint", {"oils": FATS}, ""),
    "soft-for-days": ("hint", {"oils": {"olive": "100 %"}}, ""),
    "salt-sets-hard": ("hint", {"additives": {"sea salt": "20 % of batch oils"}}, ""),
    "salt-wants-lauric-oils": ("hint", {"additives": {"sea salt": "40 % of batch oils"}}, ""),
    "milk-in-lye": ("hint", {"additives": {"goat milk": "12 % of batch oils"}}, ""),
    "fresh-food-can-spoil": ("hint", {"additives": {"carrot puree": "12 % of batch oils"}}, ""),
    "lye-near-boiling": ("hint", {"lye": {**LYE, "concentration": "40 %"}}, ""),
    "much-alcohol": ("caution", {"additives": {"beer": "25 % of batch oils"}}, "foams in lye"),
    "shaped-like-food-for-sale": ("caution", {"shape": "doughnuts"}, "child"),
}


@pytest.mark.parametrize("base", ["loaf", "pounds"])
@pytest.mark.parametrize("rule", CASES)
def test_it_is_said_and_in_words_that_fit(rule: str, base: str, tmp_path: Path) -> None:
    level, parts, says = CASES[rule]
    mass = OILS["metric" if base == "loaf" else "ounces"]
    plain = {"oils": PLAIN, "lye": LYE, "amount": {"oils": mass}}
    told = found(tmp_path / "with", base, *written({**plain, **parts}))
    assert told[rule]["level"] == level
    assert told[rule]["status"] in ("broken", "tight")
    plan = build(base, written({**plain, **parts}), tmp_path / "said")
    said = in_process(["check", str(plan), "--plain", "--today", TODAY]).said
    assert " ".join(says.split()) in " ".join(said.split())
    assert rule not in found(tmp_path / "without", base, *written(plain))


def written(parts: Mapping[str, Any]) -> list[Change]:
    amount = {**parts["amount"], **({"shape": parts["shape"]} if "shape" in parts else {})}
    return [("set", "plan", "recipe", {**{k: v for k, v in parts.items() if k != "shape"}, "amount": amount})]


def test_jug_and_pot_where_they_are_known(tmp_path: Path) -> None:
    """About 140 g of lye in 310 g of water fill a third of a litre; 1.45 kg of batter a pot of 1.5 l."""
    small = found(
        tmp_path / "a",
        "loaf",
        ("set", "usual.yaml", "lye jug", "500 mL"),
        ("set", "usual.yaml", "pot", "1.5 l"),
    )
    assert {"jug-too-small-for-the-lye", "pot-too-small"} <= set(small)
    roomy = found(
        tmp_path / "b", "loaf", ("set", "usual.yaml", "lye jug", "1 l"), ("set", "usual.yaml", "pot", "3 l")
    )
    assert not {"jug-too-small-for-the-lye", "pot-too-small"} & set(roomy)


def test_a_gourmand_scent_is_no_shape(tmp_path: Path) -> None:
    """Only a shape counts: neither a scent nor a plan named after food."""
    plan = build("loaf", [("set", "plan", "plan", "strawberry cupcake")], tmp_path)
    said = in_process(["check", str(plan), "--json", "--today", TODAY]).said
    assert "shaped-like-food" not in said


def test_what_an_oil_of_no_table_holds_is_asked(tmp_path: Path) -> None:
    """Half of the recipe is a fat nobody knows: not settled until its own paper says."""
    oil = {"saponification": "185 to 195", "hardness": "liquid", "lauric": False, "evidence": "supplier"}
    fats = {"emu": "50 %", "olive": "50 %"}
    change = [
        ("set", "oils.yaml", "emu", oil),
        ("set", "plan", "recipe", {"oils": fats, "amount": {"oils": "1000 g"}}),
    ]
    open_ = found(tmp_path / "a", "loaf", *change)["much-that-turns-rancid"]
    assert open_["status"] == "undecided"
    assert open_["missing"] == [{"subject": "emu", "fact": "polyunsaturated"}]
    said = [*change, ("set", "oils.yaml", "emu/polyunsaturated", "12 %")]
    assert "much-that-turns-rancid" not in found(tmp_path / "b", "loaf", *said)


@pytest.mark.parametrize(
    "plan", ["metric/harvest-beer", "metric/sea-salt-bar", "ounces/madder-meadow", "ounces/shaving-puck"]
)
def test_sound_recipes_get_hints_at_most(plan: str) -> None:
    """Four of the thirty (all were run): beer boiled off, salt, milk, tallow."""
    book, _, name = plan.partition("/")
    answer = json.loads(
        in_process(["check", str(SOUND / book / "plans" / f"{name}.yaml"), "--json", "--today", TODAY]).said
    )
    made = (Path(__file__).resolve().parents[2] / "rules" / "making.yaml").read_text("utf-8")
    heavy = [
        f["rule"] for f in answer["findings"] if f"- rule: {f['rule']}\n" in made and LEVEL[f["level"]] > 0
    ]
    assert heavy == []
