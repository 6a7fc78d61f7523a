"""No crying wolf: sound recipes end at exit 0 with at most one caution; what is not known is a question."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
import yaml

from blendwise.api import Book
from blendwise.show.check.questions import lines_to_write
from tests.danger.harness import HERE, TODAY, Ran, in_process

PLANS = sorted((HERE / "sound").glob("*/plans/*.yaml"))
PAPERS_ONLY = HERE / "sound" / "metric" / "plans" / "two-clay-layers.yaml"


def checked(plan: Path, *options: str) -> Ran:
    return in_process(["check", str(plan), "--json", "--today", TODAY, *options])


@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.stem)
def test_a_sound_recipe_ends_at_exit_0_with_at_most_one_caution(plan: Path) -> None:
    ran = checked(plan)
    assert ran.code == 0, ran.said[:800]
    told = {
        each["rule"]
        for each in ran.findings
        if each["level"] != "hint" and (each["status"] == "broken" or each["middle"] == "broken")
    }
    assert len(told) <= 1, told


def test_what_only_ignorance_leaves_open_keeps_its_level_and_is_asked() -> None:
    told = json.loads(checked(PAPERS_ONLY).said)
    open_at = {each["level"] for each in told["findings"] if each["open"]}
    assert {"conflict", "caution"} <= open_at
    assert {"harbour-fig", "salt-meadow"} == {each["subject"] for each in told["open_questions"]}
    guards = [each for each in told["findings"] if each["protects"] or each["level"] == "stop"]
    assert guards
    assert not any(each["open"] for each in guards)


def test_care_counts_what_is_not_known() -> None:
    assert checked(PAPERS_ONLY, "--careful").code == 1


def test_the_lines_that_it_asks_for_answer_it(tmp_path: Path) -> None:
    shutil.copytree(PAPERS_ONLY.parents[1], tmp_path / "book")
    plan = tmp_path / "book" / "plans" / PAPERS_ONLY.name
    asked = Book(tmp_path / "book").check(plan).open_questions
    scents = tmp_path / "book" / "scents.yaml"
    text = scents.read_text("utf-8")
    for line in lines_to_write(asked):
        for name, entry in yaml.safe_load(line).items():
            below = "".join(f"  {key}: {json.dumps(value)}\n" for key, value in entry.items())
            text = text.replace(f"\n{name}:\n", f"\n{name}:\n{below}")
    scents.write_text(text, "utf-8")
    assert asked
    assert json.loads(checked(plan).said)["open_questions"] == []


@pytest.mark.parametrize("word", ["combed slab", "Combed-slab swirl", "tray swirl"])
def test_a_pour_is_understood_by_the_words_of_the_trade(word: str, tmp_path: Path) -> None:
    shutil.copytree(PAPERS_ONLY.parents[1], tmp_path / "book")
    plan = tmp_path / "book" / "plans" / "aloe-slab.yaml"
    plan.write_text(plan.read_text("utf-8").replace("combed slab swirl", word), "utf-8")
    assert checked(plan).code == 0


def test_a_pour_nearly_right_is_asked_back(tmp_path: Path) -> None:
    shutil.copytree(PAPERS_ONLY.parents[1], tmp_path / "book")
    plan = tmp_path / "book" / "plans" / "aloe-slab.yaml"
    plan.write_text(plan.read_text("utf-8").replace("combed slab swirl", "combd slab"), "utf-8")
    ran = checked(plan)
    assert ran.code == 2
    assert "combed slab" in ran.said


def test_a_cup_too_small_for_the_scale_has_a_way(tmp_path: Path) -> None:
    """Two oils in one ratio in every cup are enough when weighed together."""
    shutil.copytree(HERE / "sound" / "ounces", tmp_path / "book")
    usual, plan = tmp_path / "book" / "usual.yaml", tmp_path / "book" / "plans" / "three-porch-cups.yaml"
    coarse = usual.read_text("utf-8").replace("\nscale step: 0.01 oz", "\nscale step: 0.03 oz")
    usual.write_text(coarse, "utf-8")
    assert {"little-to-weigh"} == {each["rule"] for each in weighings(plan)}
    text = plan.read_text("utf-8")
    together = "weigh together: [[Porch Swing, Cedar Chest]]\nscents:"
    plan.write_text(text.replace("\nscents:", f"\n{together}"), "utf-8")
    assert [] == weighings(plan)
    usual.write_text(coarse.replace("0.03 oz", "0.1 oz"), "utf-8")
    assert "conflict" in {each["level"] for each in weighings(plan)}


def weighings(plan: Path) -> list[dict[str, object]]:
    return [each for each in checked(plan).findings if "to-weigh" in each["rule"]]


def test_an_unscented_plan_is_checked(tmp_path: Path) -> None:
    shutil.copytree(PAPERS_ONLY.parents[1], tmp_path / "book")
    plan = tmp_path / "book" / "plans" / "brine-soap.yaml"
    plan.write_text(plan.read_text("utf-8").partition("\nscents:")[0] + "\n", "utf-8")
    assert checked(plan).code == 0
