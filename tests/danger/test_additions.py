"""Additives at the command line: ordinary ones are sound, an unknown asks once, what is known is reckoned."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.danger.harness import HERE, TODAY, Ran, build, in_process

LINES = [
    line.split("|")
    for line in (HERE / "sound" / "additions.txt").read_text("utf-8").splitlines()
    if line.strip() and not line.startswith("#")
]


def checked(to: Path, additives: dict[str, str], own: str = "") -> Ran:
    edits = [["set", "plan", f"recipe/additives/{name}", amount] for name, amount in additives.items()]
    edits += [["write", "additives.yaml", own]] if own else []
    return in_process(["check", str(build("loaf", edits, to)), "--json", "--today", TODAY])


def rules(ran: Ran) -> set[str]:
    return {each["rule"] for each in ran.findings}


@pytest.mark.parametrize("line", LINES[:40:4], ids=lambda line: line[0].strip())
def test_an_ordinary_addition_is_sound(line: list[str], tmp_path: Path) -> None:
    ran = checked(tmp_path, {line[0].strip(): line[1].strip()})
    assert ran.code == 0, ran.said[:800]
    assert "unknown-additive" not in rules(ran)


@pytest.mark.parametrize("line", LINES[40:], ids=lambda line: line[0].strip())
def test_an_addition_that_the_table_lacks_is_asked_once_at_most(line: list[str], tmp_path: Path) -> None:
    name, amount = line[0].strip(), line[1].strip()
    ran = checked(tmp_path / "a", {name: amount})
    if ran.code or "unknown-additive" in rules(ran):
        ran = checked(tmp_path / "b", {name: amount}, f"{name}: neutral")
    assert ran.code == 0, ran.said[:800]
    assert "unknown-additive" not in rules(ran)


def test_a_slip_of_the_pen_is_asked_back_with_the_nearest_and_the_answer_kept(tmp_path: Path) -> None:
    asked = checked(tmp_path / "a", {"hony": "5 g"})
    assert [{"name": "hony", "nearest": "honey"}] == json.loads(asked.said)["unknown_additives"]
    kept = checked(tmp_path / "b", {"hony": "5 g"}, "hony: {same as: honey}")
    assert (0, []) == (kept.code, json.loads(kept.said)["unknown_additives"])


def test_a_little_of_an_unknown_is_asked_once_and_kept(tmp_path: Path) -> None:
    asked = checked(tmp_path / "a", {"zorbexine": "2 g"})
    assert (0, True) == (asked.code, "unknown-additive" in rules(asked))
    kept = checked(tmp_path / "b", {"zorbexine": "2 g"}, "zorbexine: neutral")
    assert (0, False) == (kept.code, "unknown-additive" in rules(kept))


def test_much_of_an_unknown_holds_the_lye_stop_until_it_is_described(tmp_path: Path) -> None:
    asked = checked(tmp_path / "a", {"zorbexine": "80 g"})
    assert asked.code == 1
    assert "unknown-additive-could-be-lye" in {each["rule"] for each in asked.stops}
    kept = checked(tmp_path / "b", {"zorbexine": "80 g"}, "zorbexine: neutral")
    assert kept.code == 0, kept.said[:800]


@pytest.mark.parametrize(
    "own",
    [
        *("citric acid: perhaps", "sodium citrate: eats 0.5 g a gram", "NaOH: neutral"),
        *("hony: {same as: honny}", "citric acid: {same as: honey}", "hony: {same as: NaOH}"),
    ],
)
def test_own_entries_that_cannot_be_are_refused(own: str, tmp_path: Path) -> None:
    assert checked(tmp_path, {}, own).code == 2
