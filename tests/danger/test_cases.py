"""Dangerous plans at the command line: each is refused or stopped for the right reason, or told.

Those in `not_yet.txt` are known to pass in silence today; each must still do so, or be taken off the list, so
that the list only shrinks.  A seeded part of every kind is run here, all by `python -m tests.danger.score`.
"""

from __future__ import annotations

import random
from collections import Counter, defaultdict
from pathlib import Path

import pytest

from tests.danger.harness import (
    TODAY,
    Case,
    as_subprocess,
    bases,
    build,
    fault,
    in_process,
    load_cases,
    not_yet,
    run_case,
)

CASES = load_cases()
NOT_YET = frozenset(not_yet())
OF_EACH_KIND = 2
SEED = 13
ONE_IN = 20
"""Of so many cases one is run as a process of its own."""


def sampled() -> list[Case]:
    """Some cases of every kind, always the same."""
    by_kind: dict[str, list[Case]] = defaultdict(list)
    for case in CASES:
        by_kind[case.kind].append(case)
    chance = random.Random(SEED)
    return [case for kind in by_kind.values() for case in chance.sample(kind, min(OF_EACH_KIND, len(kind)))]


SAMPLE = sampled()


@pytest.mark.parametrize("base", sorted(bases()))
def test_base_is_sound(base: str, tmp_path: Path) -> None:
    ran = in_process(["check", str(build(base, (), tmp_path)), "--json", "--today", TODAY])
    assert (0, []) == (ran.code, ran.stops), ran.said[:2000]


@pytest.mark.parametrize("case", SAMPLE, ids=lambda case: case.name)
def test_danger_is_met(case: Case, tmp_path: Path) -> None:
    runner = as_subprocess if SAMPLE.index(case) % ONE_IN == 0 else in_process
    wrong = fault(case, run_case(case, tmp_path, runner))
    if case.name in NOT_YET:
        assert wrong, f"{case.name} is met now: take it off not_yet.txt"
    else:
        assert not wrong, f"{case.kind}: {case.reason}\n{wrong}"


def test_cases_are_many_and_of_many_kinds() -> None:
    of_kind = Counter(case.kind for case in CASES)
    assert len(CASES) >= 220
    assert len(of_kind) >= 36
    assert max(of_kind.values()) <= 10
    assert {case.base for case in CASES} == set(bases())


def test_names_stand_for_one_case_each() -> None:
    names = [case.name for case in CASES]
    assert len(names) == len(set(names))
    assert set(names) >= NOT_YET
    assert len(not_yet()) == len(NOT_YET)


def test_every_case_says_what_counts_as_its_reason() -> None:
    """A case that nothing could fulfil, or that anything would, is a defect."""
    for case in CASES:
        if case.must in ("refused", "told", "either"):
            assert case.says, case.name
        if case.must == "stopped":
            assert case.rules or case.says, case.name
        assert case.reason, case.name


def test_no_two_cases_are_alike() -> None:
    seen = Counter((case.base, repr(case.change), case.run, case.today) for case in CASES)
    assert [] == [key for key, count in seen.items() if count > 1]


def test_a_harmless_plan_is_not_a_danger_met(tmp_path: Path) -> None:
    """The judge of the answers itself: a sound plan fulfils no case."""
    plan = build("loaf", (), tmp_path)
    sound = in_process(["check", str(plan), "--json", "--today", TODAY])
    for case in CASES:
        if case.must != "told" and case.run == ("check PLAN",):
            assert fault(case, [sound]), case.name
