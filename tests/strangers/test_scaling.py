"""Generated plans scaled there and back, and the rules that may change their mind; all by `tests/long.py`."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from blendwise.facts.registry import PLAIN, REGISTRY
from tests.danger.harness import build
from tests.strangers.books import a_book
from tests.strangers.scaling import FACTORS, changed_by_scaling, situation, there_and_back, unregistered

SEEDS = (202, 205, 208, 212)  # two metric, two in ounces
OWN = """- rule: small-batches
  looks at: batch
  must: {batter mass: at most %s}
  else: conflict
  because: My pot is small.
  basis: judgement
  hits: [{batter mass: limit + 1 g}]
  misses: [{batter mass: limit}]
"""


@pytest.mark.parametrize("seed", SEEDS)
def test_there_and_back_gives_the_plan_back(seed: int, tmp_path: Path) -> None:
    for plan in a_book(tmp_path / "book", seed, plans=3, looks=False).plans:
        s = situation(plan)
        for factor in FACTORS if s else ():
            assert s
            assert [] == list(there_and_back(s, factor)), (plan, factor)


@pytest.mark.parametrize("seed", SEEDS)
def test_only_what_is_registered_changes_its_verdict(seed: int, tmp_path: Path) -> None:
    plan = a_book(tmp_path / "book", seed, plans=1, looks=False).plans[0]
    s = situation(plan)
    assert s
    changed = changed_by_scaling(s, plan, FACTORS[seed % 2])
    assert set() == unregistered(plan, changed)


@pytest.mark.parametrize(("base", "limit"), [("weighed", "1800 g"), ("pounds", "4 lb")])
def test_a_rule_that_is_not_registered_is_seen(
    base: str, limit: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The judge itself: take the registration away, and the rule that changed its verdict stands out."""
    plan = build(base, [("write", "rules/mine/small.yaml", OWN % limit)], tmp_path)
    s = situation(plan)
    assert s
    changed = changed_by_scaling(s, plan, Fraction(3))
    assert "small-batches" in changed
    assert set() == unregistered(plan, changed)
    bare = replace(REGISTRY["batter mass"], use=PLAIN)
    monkeypatch.setitem(REGISTRY, "batter mass", bare)
    assert unregistered(plan, changed) == {"small-batches"}
