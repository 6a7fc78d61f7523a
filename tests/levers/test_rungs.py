"""What is mended may come down to the milder rule of the same matter: that is no new fault."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from blendwise import Book
from tests.levers.proof import BELOW
from tests.levers.two_faults import Plan, sound, write_book
from tests.strangers.books import DEMO
from tests.strangers.runs import Ran, ran


def checked(folder: Path, ounces: bool, change: Plan) -> tuple[Ran, Path]:
    """``check`` of the sound plan with parts of it changed, and the plan's file."""
    write_book(folder, ounces)
    plan = sound(ounces)
    for name, value in change.items():
        plan[name] = plan[name] | value if isinstance(value, dict) else value
    file = folder / "plans" / "two halves.yaml"
    file.write_text(yaml.safe_dump(plan, sort_keys=False, allow_unicode=True), "utf-8")
    return ran("check", file, "--json"), file


def heard(run: Ran) -> set[str]:
    """The rules that are broken from conflict up."""
    return {
        each["rule"]
        for each in run.document["findings"]
        if each["status"] == "broken" and each["level"] in ("conflict", "stop")
    }


@pytest.mark.parametrize("ounces", [False, True])
@pytest.mark.parametrize(("grams", "steps"), [(300, ["gel"]), (700, ["gel", "temperature"])])
def test_shapes_in_an_oven_are_told_not_to_be_gelled(
    ounces: bool, grams: int, steps: list[str], tmp_path: Path
) -> None:
    """Cooler alone saves no shape from a hot oven; that shapes still want it cool is no reason against.

    Of a larger bar not to gel it is not enough, nor to start it cooler: both are told, as one change.
    """
    hot, soft, much = ("160 °F", "131 °F", "3 oz") if ounces else ("71 °C", "55 °C", "85 g")
    oils = f"{grams / 28.349523125:.1f} oz" if ounces else f"{grams} g"
    recipe = sound(ounces)["recipe"] | {"amount": {"oils": oils}}
    shapes: Any = [{"what": "stars", "mass": much, "softens": soft}]
    change = {"recipe": recipe, "process": {"gel": f"force at {hot}"}, "embeds": shapes}
    run, file = checked(tmp_path, ounces, change)
    assert "embeds-melt" in heard(run)
    first = next(each for each in run.document["levers"] if each["rule"] == "embeds-melt")
    assert steps == [first["way"], *(each["way"] for each in first["together"])]
    assert "keep it from gelling" in " ".join(ran("check", file).out.split())
    number = run.document["levers"].index(first) + 1
    mended = file.with_name("mended.yaml")
    written = ran("check", file, "--lever", number, "--write", mended, "--json")
    assert mended.exists(), written.err
    assert "embeds-melt" not in heard(ran("check", mended, "--json"))


def test_the_rungs_are_those_of_one_matter() -> None:
    """What the rulebook's conditions say is what a reader of the rules says (the table of the proof)."""
    rungs = Book(DEMO).rulebook.rungs
    found = {(heavy, mild) for heavy, below in rungs.items() for mild in below}
    assert {(heavy, mild) for mild, above in BELOW.items() for heavy in above} == found
