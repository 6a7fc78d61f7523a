"""An oil that harms wherever it goes is named by ``assign`` as by ``check``, whether a split fits or not."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

from tests.strangers.books import a_book
from tests.strangers.runs import ran

SEEDS = range(40, 56)


def not_for_skin(book: Path, oil: str) -> None:
    """Write of an oil of the shelf that its supplier does not sell it for skin."""
    shelf = book / "scents.yaml"
    entries = yaml.load(shelf.read_text("utf-8"), yaml.BaseLoader)
    entries[oil]["for skin"] = "no"
    shelf.write_text(yaml.safe_dump(entries, allow_unicode=True, sort_keys=False), "utf-8")


def stops(check: dict[str, object]) -> set[tuple[str, str]]:
    """What a check says must not be poured for want of an oil for skin."""
    findings = check["findings"]
    assert isinstance(findings, list)
    return {(f["rule"], str(f["subject"])) for f in findings if f["rule"] == "not-for-skin"}


@pytest.mark.parametrize("load", ["as planned", "little", "much"])
def test_assign_names_the_harm_that_check_names(tmp_path: Path, load: str) -> None:
    """Generated plans with one oil that is not for skin: the same stop from both, and no split."""
    told = 0
    for seed in SEEDS:
        plan = a_book(tmp_path / str(seed), seed, plans=1, looks=False).plans[0]
        said = yaml.load(plan.read_text("utf-8"), yaml.BaseLoader)
        if "scents" not in said or not said["scents"].get("blend"):
            continue
        not_for_skin(plan.parents[1], next(iter(said["scents"]["blend"])))
        if load != "as planned":
            amount = "0.05" if load == "little" else "9"
            text = re.sub(r"(?m)^  load: .*$", f"  load: {amount} % of batch oils", plan.read_text("utf-8"))
            plan.write_text(text, "utf-8")
        check, assign = (ran(command, plan, "--json") for command in ("check", "assign"))
        if check.code == 2 or assign.document["status"] == "lye first" or not stops(check.document):
            continue
        told += 1
        assert "harm first" == assign.document["status"], plan
        assert stops(check.document) == stops(assign.document["check"]), plan
        assert [] == assign.document["portions"]
    assert told >= 5
