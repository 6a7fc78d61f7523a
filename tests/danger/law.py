"""The law: a dangerous plan under a change of `laws.py` never gets a better verdict, at the command line.

A pair is a case that is met today and a law.  A verdict is 2 where the plan is refused or stopped, 1 where a
conflict speaks against it, 0 where nothing worse than a caution does; what stops it under a `same` law is
what stopped it before.
"""

from __future__ import annotations

import random
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import tests.danger.more_laws  # enters its laws
from tests.danger.harness import CHECK, HERE, Case, Ran, build, in_process, load_cases, not_yet
from tests.danger.laws import LAWS, Book, Law

assert tests.danger.more_laws
WRITTEN_TWICE = "the same key twice"
SIZE_OF_THE_FIGURE = frozenset({"figure-for-the-other-lye", "lye-scale-too-coarse"})
"""Stops that say of the same lye by how much it is too much: one may take the other's place."""

_BEFORE: dict[str, Told] = {}
"""The verdicts on the cases as they stand, by name, as they were asked for in this process."""


@dataclass(frozen=True, slots=True)
class Told:
    """The verdict on one plan: how bad, and which rules stop it (none where it is refused)."""

    rank: int
    stops: frozenset[str]
    refused: bool


def told(ran: Ran) -> Told:
    """The verdict in an answer; AssertionError where it is a fault of ours."""
    assert ran.code in (0, 1, 2), f"{ran.command}: exit {ran.code}: {ran.said[:400]}"
    stops = frozenset(stop["rule"] for stop in ran.stops)
    return Told(2 if ran.code == 2 or stops else ran.code, stops, ran.code == 2)


def met_cases() -> list[Case]:
    """The dangers that are met today by plain `check`."""
    later = set(not_yet())
    return [c for c in load_cases() if c.run == CHECK and c.must != "told" and c.name not in later]


def laws_not_yet() -> dict[str, str]:
    """Laws that are known not to hold today, each with a case that shows it."""
    lines = (HERE / "laws_not_yet.txt").read_text("utf-8").splitlines()
    pairs = [line.split() for line in lines if line.strip() and not line.startswith("#")]
    return dict(pairs)


def better(case: Case, changed: Law, to: Path) -> str | None:
    """In what the verdict is better after the change; empty where it is not, None where nothing changed."""
    plan = build(case.base, case.change, to)
    after = Book(plan.parents[1], plan, case.today)
    if changed.by_text is False and case.kind == WRITTEN_TWICE:
        return None
    try:
        if not changed.change(after):
            return None
    except (KeyError, TypeError, AttributeError, StopIteration, ValueError):
        return None  # the plan has no such line
    first, then = before(case), _asked(after)
    if then.rank < first.rank:
        return f"verdict {first.rank} became {then.rank}"
    if changed.order == "same" and not first.refused and not then.refused:
        lost = first.stops - then.stops - SIZE_OF_THE_FIGURE
        return f"no longer stopped by {sorted(lost)}" if lost else ""
    return ""


def before(case: Case) -> Told:
    """The verdict on a case as it stands: the same for every law, and so asked once."""
    if case.name not in _BEFORE:
        with tempfile.TemporaryDirectory() as folder:
            plan = build(case.base, case.change, Path(folder))
            _BEFORE[case.name] = _asked(Book(plan.parents[1], plan, case.today))
    return _BEFORE[case.name]


def _asked(book: Book) -> Told:
    return told(in_process(["check", str(book.plan), "--json", "--today", book.today]))


def pairs_of(number: int, seed: int) -> list[tuple[Case, Law]]:
    """So many pairs, drawn once each by a seed; laws that are known not to hold are left out."""
    known = laws_not_yet()
    cases = met_cases()
    pairs = [(case, each) for each in LAWS.values() if each.name not in known for case in cases]
    return random.Random(seed).sample(pairs, min(number, len(pairs)))


def main(pairs: int = 5_000, seed: int = 13) -> bool:
    """Try so many pairs in which something changed; print what got better; whether nothing did."""
    tried: Counter[str] = Counter()
    found = []
    begun = time.perf_counter()
    for case, each in pairs_of(10**9, seed):
        if tried.total() >= pairs:
            break
        with tempfile.TemporaryDirectory() as folder:
            answer = better(case, each, Path(folder))
        if answer is not None:
            tried[each.name] += 1
        if answer:
            found.append(f"{each.name} {case.name}: {answer}")
        if answer is not None and tried.total() % 500 == 0:
            print(f"{tried.total()} pairs, {len(found)} better", file=sys.stderr, flush=True)
    print(f"{tried.total()} pairs of {len(tried)} laws (seed {seed}), {len(found)} better for a change")
    print(f"{time.perf_counter() - begun:.0f} s")
    print("\n".join(found))
    unused = sorted(set(LAWS) - set(tried) - set(laws_not_yet()))
    if unused:
        print(f"laws that changed nothing: {', '.join(unused)}")
    return not found


if __name__ == "__main__":
    raise SystemExit(0 if main() else 1)
