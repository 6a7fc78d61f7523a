"""Where nothing fits: every way out is a plan that can be poured, and what is said of weighing is true."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml

from blendwise.answers.assign.result import AssignResult
from blendwise.answers.levers.result import Lever
from blendwise.answers.levers.writing import with_lever
from blendwise.api import Book
from blendwise.records.as_of import AsOf
from blendwise.show.check.levers import numbered
from tests.levers.no_split import narrow_plan
from tests.levers.two_faults import sound, write_book
from tests.strangers.books import TODAY, a_book
from tests.strangers.runs import ran

DEMO = Path(__file__).resolve().parents[2] / "demo_catalog"
IMPOSSIBLE = ["three-whites", "milk-and-toffee", "clove-hearth", "orchard-wall"]


@dataclass(frozen=True)
class Told:
    """A plan to which nothing fits, and what `assign` answers, worked out once for all that is asked."""

    plan: Path
    result: AssignResult

    @property
    def levers(self) -> list[dict[str, Any]]:
        """Its levers as they are published."""
        return list(self.result.to_json()["levers"])


@pytest.fixture(scope="module", params=IMPOSSIBLE)
def told(request: pytest.FixtureRequest) -> Told:
    """Each of the demo's plans to which nothing fits, in turn."""
    plan = DEMO / "plans" / f"{request.param}.yaml"
    found = Book(DEMO).assign(plan, on=AsOf(date.fromisoformat(TODAY)))
    assert "nothing fits" == found.status
    return Told(plan, found)


def test_every_way_out_is_as_told_when_it_is_written(told: Told, tmp_path: Path) -> None:
    """Each written and checked, the last at the command line: no stop, the verdict as told, remarks kept."""
    levers = [each for each in told.levers if each["writable"]]
    assert levers
    first = next(line for line in told.plan.read_text("utf-8").splitlines() if line.startswith("#"))
    for number, lever in enumerate(levers, 1):
        new = tmp_path / f"{told.plan.stem} {number}.yaml"
        if number < len(levers):
            Book(DEMO).write_split(told.result, new, number)
        else:
            run = ran("assign", told.plan, "--write", new, "--lever", number, "--json")
            assert json.loads(json.dumps(told.levers)) == run.document["levers"]
        after = ran("check", new, "--book", DEMO, "--json").document
        assert after["sound"] == lever["sound"], lever
        assert not [
            each for each in after["findings"] if each["status"] == "broken" and each["level"] == "stop"
        ]
        assert first in new.read_text("utf-8")


def test_the_first_way_out_is_sound_and_the_last_to_be_thought_of_is_last(told: Told) -> None:
    """Leaving an oil out, or another oil, stands behind what keeps the bar as it was meant."""
    assert told.levers[0]["sound"]
    costs = [each["cost"] for each in told.levers if each["sound"]]
    assert costs == sorted(costs)
    assert told.levers[0]["kind"] != "leave it out"


def test_the_sheet_tells_the_same_first_way_out(told: Told) -> None:
    """Asked for the bench sheet of a plan to which nothing fits, a maker reads what `assign` says first."""
    sheet = ran("sheet", told.plan, "--json").document
    assert sheet["levers"][0]["details"] == told.levers[0]["details"]


@pytest.mark.parametrize("ounces", [False, True])
def test_an_oil_that_may_go_nowhere_is_named_and_no_scale_is_blamed(ounces: bool, tmp_path: Path) -> None:
    """Under the same dose too: `never` in every cup is what stands in the way, and a way out leads on."""
    write_book(tmp_path, ounces)
    plan = sound(ounces)
    plan["scents"]["dosing"] = "same dose in each scented portion"
    plan["never"] = [{"scent": "wet-slate", "in": ["white", "grey", "brick"]}]
    file = tmp_path / "plans" / "two halves.yaml"
    file.write_text(yaml.safe_dump(plan, sort_keys=False), "utf-8")
    run = ran("assign", file)
    said = " ".join(run.out.split())
    assert "Nothing fits" in said
    assert "iner" not in said, said
    assert "wet-slate" in said.partition("These cannot all be")[2], said
    assert "Way out 1" in said, said
    checked = ran("check", file)
    assert checked.code == 1
    assert "Conflict: the blend asks for wet-slate, and nothing of it goes into any portion" in " ".join(
        checked.out.split()
    )


def test_a_way_out_is_written_by_the_number_that_it_is_told_by() -> None:
    """What no plan holds, such as a finer scale, has no number, and takes none from the others."""
    scale = Lever("x", "", "weigh it together", "finer scale", {"step": 0.1}, 1.0, sound=True)
    other = Lever(
        "x", "", "leave it out", "bare", {"portion": "white"}, 2.0, sound=True, plan="plan: white bare"
    )
    assert [("", scale), ("1", other)] == numbered([scale, other])
    assert "plan: white bare" == with_lever([scale, other], "x.yaml", 1)


def test_a_way_out_that_leaves_little_of_an_oil_says_so_and_stands_last(tmp_path: Path) -> None:
    """Dosed alike on a finer scale, two oils come to a third of what is meant: as good as left out."""
    file = narrow_plan(tmp_path / "narrow", 11)
    run = ran("assign", file, "--json")
    thin = [each for each in run.document["levers"] if each["thin"]]
    assert thin == run.document["levers"][-len(thin) :]
    assert all(0 < share < 0.5 for each in thin for share in each["thin"].values())
    assert "% of the red-lantern" in " ".join(ran("assign", file).out.split())


@pytest.mark.parametrize("seed", [7079, 7080])
def test_own_doses_that_no_single_one_mends_are_left_open_together(seed: int, tmp_path: Path) -> None:
    """Of several oils each has own doses that cannot all stand: leaving all of them open leads on."""
    (plan,) = a_book(tmp_path / "book", seed, 1, looks=False).plans
    first = ran("assign", plan, "--json").document["levers"][0]
    assert "doses open" == first["way"]
    assert first["sound"]
    ran("assign", plan, "--write", tmp_path / "book" / "plans" / "way.yaml", "--lever", "1")
    assert ran("check", tmp_path / "book" / "plans" / "way.yaml", "--json").document["sound"]
