"""What goes wrong in a portion without scent is laid to no scent: generated books, at the command line."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml

from tests.strangers.books import a_book
from tests.strangers.runs import ran

SAW = {
    "riced": ("at the pot", "2026-06-06", "ricing bad"),
    "thick too soon": ("at the pot", "2026-06-06", "thick at 1 min"),
    "browned too far": ("week 6", "2026-07-18", "chocolate, edge clean"),
}


def bare_portions(folder: Path, seeds: range) -> Iterator[tuple[Path, str]]:
    """Plans with a portion that is meant to hold no scent, and its name; none that doses it all the same."""
    for seed in seeds:
        for plan in a_book(folder / str(seed), seed, looks=False).plans:
            said = yaml.safe_load(plan.read_text("utf-8"))
            bare = [each["name"] for each in said["portions"] if each.get("scented") == "no"]
            if bare and bare[0] not in said.get("doses", {}):
                yield plan, bare[0]


@pytest.mark.parametrize("trouble", SAW)
def test_advice_on_a_portion_without_scent_names_no_scent(tmp_path: Path, trouble: str) -> None:
    """It riced, thickened, browned: the advice says that it holds none, and moves no scent out of it."""
    look, day, seen = SAW[trouble]
    told = 0
    for plan, portion in bare_portions(tmp_path, range(24)):
        more = ("--look", look, "--poured", "2026-06-06", "--on", day, "--today", day)
        noted = ran("note", plan, *more, "--saw", f"{portion}: {seen}", "--book", plan.parents[1])
        if noted.code:
            continue
        asked = ("review", plan.stem, "--book", plan.parents[1], "--today", "2026-07-20")
        change = ran(*asked, "--json").document["change"]
        if change is None or change["portion"] != portion or not change["kind"].startswith(trouble):
            continue
        told += 1
        assert (f"{trouble} without scent", "") == (change["kind"], change["oil"]), plan
        said = " ".join(ran(*asked).out.split()).partition("Change one thing: ")[2]
        assert "holds no scent" in said
        assert "the scent" not in said.partition("holds no scent")[0]
    assert told >= 3


def test_a_portion_without_scent_is_never_told_that_its_scent_is_faint(tmp_path: Path) -> None:
    """ "Gone at six weeks" of a cup that never held any is no trouble."""
    told = 0
    for plan, portion in bare_portions(tmp_path, range(8)):
        more = ("--look", "week 6", "--poured", "2026-06-06", "--on", "2026-07-18", "--today", "2026-07-18")
        noted = ran("note", plan, *more, "--saw", f"{portion}: strength gone", "--book", plan.parents[1])
        told += not noted.code
        change = ran(
            "review", plan.stem, "--book", plan.parents[1], "--today", "2026-07-20", "--json"
        ).document
        assert change["change"] is None or change["change"]["portion"] != portion
    assert told >= 3
