"""``python -m tests.answers.ask.score FILE``: how well sentences are understood that nobody here has seen.

FILE holds a JSON object a line: ``said``; ``number`` of the question, 0 for none of ours, 11 or "hurt" for
one of health or an accident to somebody; ``book``, a stranger's by its name, "demo" or a folder; ``plan``, a
name or null.  Where they are given, ``oils``, ``portions`` and ``amount`` (or ``amounts``, each of them) must
be found as they stand there.

Right first: the question that is answered, or stands first among those to choose from.  Among three: it is
offered at all.  Certain and wrong: answered without a doubt told, and not what was meant; of off-subject
lines, answered at all without a doubt told.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Final

from blendwise import Book
from blendwise.answers.ask.compute import meant
from blendwise.answers.ask.result import AskResult
from blendwise.answers.ask.topics import topic_of
from blendwise.quantity import Dimension, QuantityError, parse_amount
from tests.strangers.books import DEMO, FOUND
from tests.strangers.voices import VOICES, four_voices

HEALTH_NUMBER: Final = 11
NONE: Final = 0
"""The number of what is no question of ours."""


@dataclass(frozen=True, slots=True)
class Score:
    """One line: what was meant, the numbers that were understood (the nearest first), and what went wrong."""

    said: str
    meant: int
    near: tuple[int | None, ...]
    status: str
    sure: bool
    misread: tuple[str, ...] = ()

    @property
    def first(self) -> bool:
        """Whether the right question is answered, or the first that is offered."""
        return self.near[:1] == (self.meant,)

    @property
    def among(self) -> bool:
        """Whether the right question is answered or offered."""
        return self.meant in self.near

    @property
    def certain_and_wrong(self) -> bool:
        """Whether another question is answered, and no doubt of it told."""
        return self.sure and not self.first


@cache
def book_of(name: str) -> Book:
    """A book by its name among the strangers', "demo", or its folder."""
    held = four_voices() if name == VOICES else FOUND / name / "book"
    return Book(held if held.is_dir() else DEMO if name == "demo" else name)


def scored(line: Mapping[str, Any]) -> Score:
    """One line of a file, asked."""
    book, plan = book_of(line.get("book") or "ten-years"), line.get("plan")
    file = None if plan is None else book.folder / "plans" / f"{plan}.yaml"
    number = HEALTH_NUMBER if line["number"] == "hurt" else int(line["number"])
    result = meant(book, line["said"], file)
    return Score(
        said=line["said"],
        meant=number,
        near=_numbers(result),
        status=result.status,
        sure=result.status == "deferred" or (result.status == "answered" and result.sure),
        misread=() if number in (NONE, HEALTH_NUMBER) else tuple(_misread(line, result)),
    )


def _numbers(result: AskResult) -> tuple[int | None, ...]:
    if result.status == "deferred":
        return (HEALTH_NUMBER,)
    if result.status == "declined":
        return (NONE,)
    answered = [result.question] if result.status == "answered" else []
    offered = [] if result.sure else [each.question for each in result.near]
    return tuple(dict.fromkeys(topic_of(each).number for each in [*answered, *offered]))


def _misread(line: Mapping[str, Any], result: AskResult) -> Iterator[str]:
    named = result.named
    for key, found in (("oils", named.oils), ("portions", named.portions)):
        if line.get(key) is not None and set(line[key]) != set(found):
            yield f"{key} {sorted(found)}, not {sorted(line[key])}"
    held = [*named.amounts, *(text for _, text in named.doses)]
    for amount in line.get("amounts") or filter(None, [line.get("amount")]):
        if not any(_same(amount, each) for each in held):
            yield f"amounts {held}, not {amount}"


def _same(one: str, other: str) -> bool:
    """Whether two amounts are the same, however they are written."""
    return _read(one) == _read(other)


def _read(text: str) -> object:
    plain = " ".join(text.casefold().removeprefix("+ ").split())
    for dimension in (Dimension.FRACTION, Dimension.MASS, Dimension.TEMPERATURE):
        try:
            return round(parse_amount(plain, dimension).value, 9)
        except QuantityError:
            continue
    return plain.replace(" ", "")


def report(scores: list[Score]) -> Iterator[str]:
    """The counts, then each line that was not understood."""
    ours = [each for each in scores if each.meant != NONE]
    others = [each for each in scores if each.meant == NONE]
    asked = [each for each in ours if each.meant != HEALTH_NUMBER]
    yield _part("right first", [each for each in ours if each.first], ours)
    yield _part("among three", [each for each in ours if each.among], ours)
    yield _part("names and amounts right", [each for each in asked if not each.misread], asked)
    yield _part("off the subject, declined", [each for each in others if each.first], others)
    yield _part("certain and wrong", [each for each in scores if each.certain_and_wrong], scores)
    for each in scores:
        if not each.first or each.misread:
            sure = "CERTAIN " if each.certain_and_wrong else ""
            near = ", ".join(str(number) for number in each.near)
            yield f"  {sure}{each.meant} read as {near} ({each.status}): {each.said}" + "".join(
                f" [{fault}]" for fault in each.misread
            )


def _part(what: str, right: list[Score], of: list[Score]) -> str:
    percent = f" ({100 * len(right) / len(of):.1f} %)" if of else ""
    return f"{what}: {len(right)} of {len(of)}{percent}"


def read_lines(file: Path) -> list[Score]:
    """Every line of a file, scored."""
    lines = file.read_text("utf-8").splitlines()
    return [scored(json.loads(line)) for line in lines if line.strip()]


if __name__ == "__main__":
    print("\n".join(report(read_lines(Path(sys.argv[1])))))
