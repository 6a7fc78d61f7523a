"""`weigh together` is one mix for check, sheet and assign alike, where one mix can be divided so."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from tests.levers.test_reasons import asked
from tests.strangers.runs import ran

MIX = ["white-barn", "wet-slate", "nettle-lane"]
PLAN: dict[str, Any] = {
    "scents/blend": {"wet-slate": "2", "white-barn": "1", "nettle-lane": "0.5"},
    "pour": "single colour",
    "weigh together": [MIX],
}


def too_little(file: Path) -> set[str]:
    """The oils of which a dose is told to be too little, or little, to weigh."""
    found = ran("check", file, "--json").document["findings"]
    return {each["subject"][0] for each in found if each["measure"] == "steps of the scale"}


def coarse(file: Path, ounces: bool) -> None:
    """A scale on which the smallest oil cannot be weighed by itself."""
    usual = file.parents[1] / "usual.yaml"
    said = yaml.safe_load(usual.read_text("utf-8")) | {"scale step": "0.02 oz" if ounces else "0.5 g"}
    usual.write_text(yaml.safe_dump(said), "utf-8")


@pytest.mark.parametrize("ounces", [False, True])
def test_one_mix_is_weighed_once_by_all_three(ounces: bool, tmp_path: Path) -> None:
    """The same oils are one mix on the sheet and in the split, and `check` counts its steps."""
    run = asked(tmp_path, ounces, PLAN)
    file = tmp_path / "plans" / "two halves.yaml"
    coarse(file, ounces)
    sheet = ran("sheet", file, "--json").document
    assert [set(MIX)] == [{each["what"] for each in mix["scents"]} for mix in sheet["mixes"]]
    assert [set(MIX)] == [set(each["scents"]) for each in run.document["premixes"]]
    assert set() == too_little(file)
    text = file.read_text("utf-8")
    file.write_text(text.partition("weigh together:")[0], "utf-8")
    assert "nettle-lane" in too_little(file)


@pytest.mark.parametrize("ounces", [False, True])
def test_what_no_mix_can_be_divided_into_is_weighed_apart(ounces: bool, tmp_path: Path) -> None:
    """Own doses in another ratio: each counts by itself, and it is said that no mix of them will do."""
    dose = "0.4 oz" if ounces else "11 g"
    asked(tmp_path, ounces, PLAN | {"doses": {"white": {"wet-slate": dose, "white-barn": dose}}})
    file = tmp_path / "plans" / "two halves.yaml"
    coarse(file, ounces)
    assert "nettle-lane" in too_little(file)
    assert [] == ran("sheet", file, "--json").document["mixes"]
    assert "no mix of them can be divided" in " ".join(ran("check", file, "--more").out.split())
