"""Who shows levers, and how each is written: `check`, `assign`, `sheet` and `pair`, short and whole."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from random import Random
from typing import Any, Final

from blendwise.answers.assign.result import AssignResult
from blendwise.answers.levers.result import Lever
from blendwise.answers.pair.levers import text_of
from blendwise.answers.pair.question import ask
from blendwise.answers.plan_text.edits import named
from blendwise.api import Book
from blendwise.records.as_of import AsOf
from blendwise.records.place import RecordError
from tests.levers.proof import Score, faults
from tests.strangers.books import STRANGERS, TODAY, StrangeBook, a_book, found
from tests.strangers.runs import ran

ON: Final = AsOf(date.fromisoformat(TODAY))
Document = Mapping[str, Any]


@dataclass(frozen=True)
class Told:
    """A lever as data, what writes the plan with it, and the document of the plan that it changes.

    ``least``: the lightest level at which nothing may be worse: of a plan without a split, a conflict.
    """

    lever: Document
    write: Callable[..., object]
    before: Document
    least: str = "caution"


class Doors:
    """A book, and every lever that it shows of a plan."""

    def __init__(self, folder: Path) -> None:
        self.book, self.folder = Book(folder), folder

    def checked(self, plan: Path) -> Document | None:
        """The document of a plan's check; None where it cannot be read."""
        try:
            return self.book.check(plan, on=ON).to_json()
        except RecordError:
            return None

    def check(self, plan: Path, whole: bool = False) -> Iterator[Told]:
        """Those of `check`."""
        result = self.book.check(plan, on=ON, levers="all" if whole else "best")
        yield from _written(result.levers, result.to_json())

    def check_by_command(self, plan: Path) -> Iterator[Told]:
        """Those of the short answer, each written by `check --write NEW --lever N`."""
        before = ran("check", plan, "--json").document
        for number, lever in enumerate([each for each in before["levers"] if each["writable"]], 1):
            yield Told(lever, _command("check", plan, number), before)

    def assign(self, plan: Path, whole: bool = False) -> Iterator[Told]:
        """Those of `assign`: ways out where nothing fits, else what mends the split."""
        result = self.book.assign(plan, on=ON, every=whole)
        yield from self._of_split(plan, result, lambda new, n: self.book.write_split(result, new, n))

    def assign_by_command(self, plan: Path) -> Iterator[Told]:
        """The same, each written by `assign --write NEW --lever N`."""
        result = self.book.assign(plan, on=ON)
        yield from self._of_split(plan, result, lambda new, n: _command("assign", plan, n)(new))

    def _of_split(
        self, plan: Path, result: AssignResult, write: Callable[[Path, int], object]
    ) -> Iterator[Told]:
        levers = result.levers or (result.check.levers if result.check else ())
        if not levers:
            return
        split = plan
        if result.plan_text and not result.levers:
            split = plan.with_name(f"{plan.stem} split.yaml")
            split.write_text(named(result.plan_text, split).text, "utf-8")
        before = self.checked(split)
        assert before is not None
        for number, lever in enumerate([each for each in levers if each.plan], 1):
            yield Told(
                _data(lever),
                lambda new, n=number: write(new, n),
                before,
                "conflict" if result.levers else "caution",
            )

    def sheet(self, plan: Path) -> Iterator[Told]:
        """Those of the bench sheet."""
        result = self.book.sheet(plan, on=ON)
        if result.levers:
            before = self.checked(plan)
            assert before is not None
            yield from _written(result.levers, before, "conflict")
        yield from _written(result.check.levers, result.check.to_json())

    def pair(self, seed: int) -> Iterator[Told]:
        """Those of a blend of two oils of the shelf, at a load and into a colour."""
        rng = Random(f"levers of pair {seed}")
        names, colours = list(self.book.files.scents), list(self.book.files.colourants)
        oils = rng.sample(names, min(2, len(names)))
        asked: dict[str, Any] = {
            "ratio": rng.choice(["1:1", "3:1", "1:2"][: len(oils) ** 2]) if len(oils) > 1 else "",
            "load": rng.choice(["3 %", "5 %", "8 %"]),
            "colour": rng.choice(["", *colours]),
        }
        result = self.book.pair(*oils, **asked, on=ON)
        if result.check.levers:
            question = ask(self.book.files, oils, today=ON.today, **asked)
            new = self.folder / "plans" / "the pair.yaml"
            new.write_text(text_of(question), "utf-8")
            before = self.checked(new)
            assert before is not None
            yield from _written(result.check.levers, before)


def _written(levers: Sequence[Lever], before: Document, least: str = "caution") -> Iterator[Told]:
    for lever in levers:
        if lever.plan:
            yield Told(
                _data(lever), lambda new, text=lever.plan: new.write_text(text, "utf-8"), before, least
            )


def _data(lever: Lever) -> Document:
    return {
        "way": lever.way,
        "details": dict(lever.details),
        "together": [each.way for each in lever.together],
        "mends": [{"rule": each.rule, "subject": each.subject} for each in lever.mends],
        "sound": lever.sound,
    }


def _command(name: str, plan: Path, number: int) -> Callable[[Path], object]:
    return lambda new: ran(name, plan, "--write", new, "--lever", number)


def tried(doors: Doors, door: str, told: Iterator[Told], score: Score) -> int:
    """Every lever of one door written, checked again and weighed; how many there were."""
    count = 0
    for number, each in enumerate(told, 1):
        count += 1
        new = doors.folder / "plans" / f"{door} lever {number}.yaml"
        new.unlink(missing_ok=True)
        each.write(new)
        after = doors.checked(new) if new.exists() else None
        score.shown[door] += 1
        wrong = ["is not read"] if after is None else faults(each.before, after, each.lever, each.least)
        way = "+".join(
            [each.lever["way"], *[w["way"] if isinstance(w, dict) else w for w in each.lever["together"]]]
        )
        score.wrong += [f"{doors.folder.name}, {door}, {way} {each.lever['details']}: {w}" for w in wrong]
    return count


def over_plan(doors: Doors, plan: Path, number: int, score: Score, deep: bool) -> None:
    """One plan: the short answer of `check` (of the first by command); where ``deep``, one more door."""
    before = doors.checked(plan)
    if before is None:
        return
    score.plans += 1
    heavy = [f for f in before["findings"] if f["status"] == "broken" and f["level"] in ("conflict", "stop")]
    score.unsound += bool(heavy)
    first = doors.check_by_command(plan) if not number else doors.check(plan)
    score.helped += bool(tried(doors, "check", first, score))
    if not deep:
        return
    match number % 5:
        case 0:
            tried(doors, "assign by command", doors.assign_by_command(plan), score)
        case 1:
            tried(doors, "check --more", doors.check(plan, whole=True), score)
        case 2:
            tried(doors, "assign", doors.assign(plan), score)
        case 3:
            tried(doors, "sheet", doors.sheet(plan), score)
        case _:
            tried(doors, "assign --more", doors.assign(plan, whole=True), score)


def over_books(folder: Path, seeds: Sequence[int], deep: Sequence[int] = (), plans: int = 5) -> Score:
    """The levers of the plans of generated books, in grams and in ounces as these come.

    Of the books in ``deep`` each plan goes through one more door, and two oils are paired.
    """
    score = Score()
    for seed in seeds:
        over_book(a_book(folder / str(seed), seed, plans, looks=False), seed, score, seed in deep)
        if seed in deep:
            print(score.line(), flush=True)
    return score


def over_book(book: StrangeBook, seed: int, score: Score, deep: bool) -> None:
    """The levers of one book."""
    doors = Doors(book.folder)
    for number, plan in enumerate(book.plans):
        over_plan(doors, plan, number, score, deep)
    if deep:
        tried(doors, "pair", doors.pair(seed), score)


def over_strangers(folder: Path) -> Score:
    """The levers of the plans of the strangers' books."""
    score = Score()
    for name in STRANGERS:
        over_book(found(name, folder / name), 0, score, True)
        print(score.line(), flush=True)
    return score
