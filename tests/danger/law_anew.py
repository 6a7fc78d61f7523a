"""The law of plans written anew: a dangerous plan that is scaled, or made `again`, stays refused or stopped.

Every case that is stopped is scaled by the tool (`scaled`), and noted as poured and asked for `again`, as it
was and for another amount (`again`).  A plan that is refused cannot be read, and so not be scaled.
"""

from __future__ import annotations

import tempfile
import time
from collections import Counter
from datetime import date
from pathlib import Path

from blendwise import Book
from blendwise.answers.plan_text.scaling import scaled_plan
from blendwise.answers.refusals import NotAskable
from blendwise.quantity import QuantityError
from blendwise.records.as_of import AsOf
from blendwise.records.place import RecordError
from tests.danger.harness import Case, build, in_process, read
from tests.danger.law import before, met_cases, told

AMOUNTS = ("640 g", "2 lb 3 1/2 oz", "1937 g", "96 oz")
BY_SIZE = frozenset({"scale of the lye too coarse"})
"""Kinds of danger that hang on the size of the batch: the step of a scale is a smaller share of more lye."""


def hangs_on_size(case: Case) -> bool:
    """Whether what stops a case is allowed to be gone in another size."""
    return case.kind in BY_SIZE


def better_scaled(case: Case, amount: str, to: Path) -> str | None:
    """In what the scaled plan is better; empty where it is not, None where it is not written at all."""
    plan = build(case.base, case.change, to)
    book = Book(plan.parents[1])
    try:
        text = scaled_plan(book.situation(plan, AsOf(date.fromisoformat(case.today))), None, amount, "").text
    except (RecordError, QuantityError, NotAskable):
        return None
    plan.write_text(text, "utf-8")
    then = told(in_process(["check", str(plan), "--json", "--today", case.today]))
    return "" if then.rank == 2 else f"scaled to {amount}, verdict 2 became {then.rank}"


def better_again(case: Case, amount: str, to: Path) -> str | None:
    """The same for `again`; its plan is not to be written past a harm."""
    plan = build(case.base, case.change, to)
    if "variations" in read(plan):
        return None  # of several versions `again` takes up one, and the danger may lie in another
    day = ["--today", case.today]
    noted = in_process(["note", str(plan), *day])
    if noted.code:
        return None
    new = to / "book" / "plans" / "new.yaml"
    name = str(read(plan)["plan"])
    words = ["again", name, "--book", str(plan.parents[1]), "--write", str(new), *day]
    ran = in_process([*words, *(["--oils", amount] if amount else []), "--json"])
    if ran.code == 0:
        return f"again {amount}: exit 0"
    if not new.exists():
        return ""
    then = told(in_process(["check", str(new), "--json", *day]))
    return "" if then.rank == 2 else f"again {amount}: written, verdict 2 became {then.rank}"


def pairs() -> list[tuple[Case, str, str]]:
    """Every stopped case by each way of writing it anew: (case, way, amount), always in the same order."""
    stopped = [case for case in met_cases() if not before(case).refused and not hangs_on_size(case)]
    found = []
    for number, case in enumerate(stopped):
        one, other = AMOUNTS[number % 4], AMOUNTS[(number + 1) % 4]
        found += [(case, "scaled", one), (case, "scaled", other), (case, "again", ""), (case, "again", one)]
    return found


WAYS = {"scaled": better_scaled, "again": better_again}


def main(every: int = 1) -> bool:
    """Try each pair (or one in ``every``); print what got better; whether nothing did."""
    tried: Counter[str] = Counter()
    found, begun = [], time.perf_counter()
    for case, way, amount in pairs()[::every]:
        with tempfile.TemporaryDirectory() as folder:
            answer = WAYS[way](case, amount, Path(folder))
        tried[way if answer is not None else f"{way}: nothing to write"] += 1
        if answer:
            found.append(f"{way} {case.name}: {answer}")
    print(f"plans written anew: {dict(tried)}, {len(found)} better")
    print(f"{time.perf_counter() - begun:.0f} s")
    print("\n".join(found))
    return not found
