"""Plans that cannot be meant, at the command line: a clear answer, or it is said that the search was cut."""

from __future__ import annotations

import re
import time
from pathlib import Path
from typing import Any

import pytest
import yaml

from blendwise.api import Book
from tests.levers.doors import ON
from tests.levers.test_reasons import asked
from tests.levers.two_faults import sound, write_book
from tests.strangers.runs import ran

MANY = 12
SECONDS, SLACK = 3.0, 25.0
"""Processor seconds asked for, and what judging and telling such a plan may take beside them."""


@pytest.mark.parametrize(
    ("change", "code", "words"),
    [
        ({"prefer": ["most fun"]}, 2, "most fun"),
        ({"portions/1/share": "0 %"}, 2, "is nothing"),
        ({"premixes": "0"}, 2, "one or more"),
        ({"doses": {"white": {"wet-slate": "5 g"}}, "never": [{"scent": "wet-slate", "in": ["white"]}]}, 2,
         "from which the plan itself keeps it"),
        ({each: [{"scent": "wet-slate", "in": ["white"]}] for each in ("only", "never")}, 1,
         "These cannot all be"),
        ({f"portions/{n}/scented": "no" for n in range(3)}, 1, "must stay unscented"),
        ({"doses": {"white": {"wet-slate": "900 g"}}}, 1, "your own dose of wet-slate in white must stand"),
    ],
)  # fmt: skip
def test_a_plan_against_itself_is_told_so(
    change: dict[str, Any], code: int, words: str, tmp_path: Path
) -> None:
    """By its exit code, and in words that name what is wrong."""
    asked(tmp_path, False, change)
    run = ran("assign", tmp_path / "plans" / "two halves.yaml")
    assert code == run.code
    assert words in " ".join((run.out + run.err).split())


def test_a_limit_of_zero_keeps_the_oil_out(tmp_path: Path) -> None:
    """A certificate that allows none: nothing fits, and each way out takes the oil out of the bar."""
    write_book(tmp_path, False)
    shelf = tmp_path / "scents.yaml"
    shelf.write_text(shelf.read_text("utf-8").replace("most: 9 %", "most: 0 %", 1), "utf-8")
    file = tmp_path / "plans" / "two halves.yaml"
    file.write_text(yaml.safe_dump(sound(False), sort_keys=False), "utf-8")
    told = ran("assign", file, "--json").document
    assert "nothing fits" == told["status"]
    assert ["over-the-certificates", "total"] == [each["name"] for each in told["conflicts"]]
    assert told["levers"]
    assert {"other oil", "leave out"} >= {each["way"] for each in told["levers"]}
    for words in (("check", file), ("check", file, "--more"), ("ask", "how much wet-slate may I use", file)):
        said = " ".join(ran(*words).out.split())
        assert "more than 100000 %" in said
        assert not re.search(r"\d{7}", said), said


def test_twelve_oils_in_twelve_cups_is_answered_and_not_called_proven(tmp_path: Path) -> None:
    """Far more than can be searched: a split all the same, and that it is not proven is said."""
    write_book(tmp_path, False)
    shelf = tmp_path / "scents.yaml"
    known = shelf.read_text("utf-8").partition("white-barn:")[2].partition("toffee-tin:")[0]
    oils = [f"oil-{n}" for n in range(MANY)]
    shelf.write_text("".join(f"{name}:{known}" for name in oils), "utf-8")
    plan = sound(False)
    plan["portions"] = [
        {"name": f"cup {n}", "share": "8 %", "colourants": {"chalk": f"{0.2 + n / 10:.1f} % of portion oils"}}
        for n in range(MANY)
    ]
    plan["portions"][-1]["share"] = "the rest"
    plan["scents"]["blend"] = {name: str(1 + n % 3) for n, name in enumerate(oils)}
    file = tmp_path / "plans" / "many.yaml"
    file.write_text(yaml.safe_dump(plan | {"plan": "many"}, sort_keys=False), "utf-8")
    begun = time.process_time()
    told = Book(tmp_path).assign(file, on=ON, seconds=SECONDS)
    assert told.status in ("best found", "best looked at", "not decided")
    assert time.process_time() - begun < SECONDS + SLACK
