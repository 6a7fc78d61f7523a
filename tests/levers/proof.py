"""Every lever that is shown, written into its plan at the command line and checked again, against an oracle.

The oracle knows nothing of the search: it compares two documents of ``blendwise check --json``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any, Final

from blendwise.answers.check.result import CheckResult
from blendwise.api import Book
from blendwise.records.as_of import AsOf
from blendwise.records.place import RecordError
from tests.strangers.books import TODAY, a_book
from tests.strangers.runs import ran

LEVELS: Final = ("hint", "caution", "conflict", "stop")
STATUS: Final = ("accepted", "tight", "undecided", "broken")
Key = tuple[str, tuple[str, ...]]


@dataclass
class Score:
    """What a proof looked at, and every lever that was not as told."""

    plans: int = 0
    unsound: int = 0
    helped: int = 0
    levers: int = 0
    wrong: list[str] = field(default_factory=list)

    def line(self) -> str:
        """The score in one line."""
        return (
            f"{self.plans} plans, {self.unsound} with a stop or conflict broken, {self.helped} with a "
            f"lever; {self.levers} levers written, {len(self.wrong)} not as told"
        )


def counts(finding: Mapping[str, Any]) -> bool:
    """Whether a finding stands, at caution or above, and is shown."""
    hidden = finding["status"] == "tight" and finding["middle"] != "broken"
    return finding["status"] != "accepted" and not hidden and finding["level"] != "hint"


def stands(finding: Mapping[str, Any]) -> bool:
    """Whether it counts against the plan: what is only an open question does not."""
    return counts(finding) and not finding["open"]


def bad(document: Mapping[str, Any]) -> dict[Key, tuple[int, int]]:
    """Rule and subject → level and status, the worst over the plan and its versions."""
    found: dict[Key, tuple[int, int]] = {}
    for each in filter(stands, document["findings"]):
        key = _key(each)
        found[key] = max(found.get(key, (0, 0)), (LEVELS.index(each["level"]), STATUS.index(each["status"])))
    return found


def faults(before: Mapping[str, Any], after: Mapping[str, Any], lever: Mapping[str, Any]) -> Iterator[str]:
    """What is not as told: a finding that is still there, something worse, a verdict that differs."""
    first, then = bad(before), bad(after)
    told = [(each["rule"], each["subject"]) for each in lever["mends"]]
    texts = {f"{key[0]} on {key[1]}" for key in told}
    left = {f"{e['rule']} on {_text(e)}" for e in filter(counts, after["findings"]) if _mine(e, first)}
    yield from (f"still there: {each}" for each in sorted(texts & left))
    yield from (f"worse: {key}" for key, how in then.items() if how > first.get(key, (-1, -1)))
    if lever["sound"] != after["sound"]:
        yield f"told sound {lever['sound']}, is {after['sound']}"


def _mine(finding: Mapping[str, Any], first: Mapping[Key, tuple[int, int]]) -> bool:
    return _key(finding) in first


def _key(finding: Mapping[str, Any]) -> Key:
    """Rule and subject; a batch's subject is its plan's name, and what is written has one of its own."""
    return finding["rule"], () if finding["looks_at"] == "batch" else tuple(finding["subject"])


def _text(finding: Mapping[str, Any]) -> str:
    from blendwise.facts.columns import Subject

    said = str(Subject(finding["looks_at"], tuple(finding["subject"])))
    return f"{said} (version {finding['version']})" if finding["version"] else said


def commanded(plan: Path) -> Mapping[str, Any] | None:
    """The document of ``blendwise check --json``; None where the plan cannot be read."""
    run = ran("check", plan, "--json")
    return None if run.code == 2 else run.document


class Door:
    """The same by the Python door, which looks for levers once."""

    def __init__(self, plan: Path) -> None:
        self.book = Book(plan.parents[1])
        self.result: CheckResult | None = None

    def asked(self, plan: Path) -> Mapping[str, Any] | None:
        """The document of a plan; the first is the one whose levers are written."""
        try:
            found = self.book.check(
                plan, on=AsOf(date.fromisoformat(TODAY)), levers="none" if self.result else "best"
            )
        except RecordError:
            return None
        self.result = self.result or found
        return found.to_json()

    def write(self, new: Path, number: int) -> None:
        """Write the plan with one of its levers."""
        assert self.result is not None
        self.book.write_lever(self.result, new, number)


def written(plan: Path, score: Score, *, most: int = 3, command: bool = True) -> None:
    """Every lever of the short answer of one plan, written and checked: by command, or the Python door."""
    door = Door(plan)
    ask = commanded if command else door.asked
    before = ask(plan)
    if before is None:
        return
    score.plans += 1
    heavy = [f for f in before["findings"] if f["status"] == "broken" and f["level"] in ("conflict", "stop")]
    score.unsound += bool(heavy)
    levers = [each for each in before["levers"] if each["writable"]]
    score.helped += bool(levers)
    for number, lever in enumerate(levers[:most], 1):
        new = plan.with_name(f"{plan.stem} lever {number}.yaml")
        if command:
            ran("check", plan, "--write", new, "--lever", number)
        else:
            door.write(new, number)
        after = ask(new)
        score.levers += 1
        found = ["is not read"] if after is None else faults(before, after, lever)
        score.wrong += [f"{plan.stem}, {lever['way']} {lever['details']}: {each}" for each in found]


def over_books(folder: Path, seeds: range, plans: int = 5) -> Score:
    """The levers of the plans of generated books, in grams and in ounces as these come.

    The first plan of each book is asked by the command, the others by the Python door.
    """
    score = Score()
    for seed in seeds:
        for number, plan in enumerate(a_book(folder / str(seed), seed, plans, looks=False).plans):
            written(plan, score, command=not number)
    return score
