"""The cells of a sheet that are not certain, gathered so that like ones are asked about once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Final, TypeVar

from blendwise.answers.spreadsheet.answers import AS_GUESSED, EVERY, REMARK_ANSWER, Answers, key
from blendwise.answers.spreadsheet.result import Question
from blendwise.answers.spreadsheet.words.guesses import GUESSES
from blendwise.answers.spreadsheet.words.headings import Column
from blendwise.answers.spreadsheet.words.vocabulary import SAFETY, WORDS

K = TypeVar("K", str, tuple[str, str])
MOST: Final = 15
"""Questions for one sheet; beyond them the odd cells of a column are asked about together."""
FEW: Final = 4
"""Odd cells of one column without a guess that are asked about one by one."""
SHOWN: Final = 8
"""Rows and oils named with a question."""


@dataclass(slots=True)
class Doubts:
    """What is asked back, by heading and cell; ``about`` are the columns that are asked about whole."""

    answers: Answers
    about: set[str] = field(default_factory=set)
    cells: dict[tuple[str, str], Question] = field(default_factory=dict)
    columns: dict[str, Question] = field(default_factory=dict)

    def cell(
        self, column: Column, text: str, why: str, guess: str, at: tuple[int, str], must: bool = False
    ) -> None:
        """A cell that is not certain.  A guess of safety stands only where the cell says the word itself."""
        if column.heading in self.about or self.answers.every(column.heading) == REMARK_ANSWER:
            return
        safety = column.field in SAFETY
        must |= safety and (not guess or guess in GUESSES.get(column.field, {}).values())
        choices = tuple(WORDS.get(column.field, WORDS["yes"] if column.field == "for skin" else ()))
        told = guess or ("" if safety else REMARK_ANSWER)
        new = Question("cell", column.heading, text, why, told, must or column.turned, choices)
        self._add(self.cells, (key(column.heading), key(text)), new, at)

    def together(self, heading: str, why: str, must: bool, at: tuple[int, str]) -> None:
        """Cells of a column that are asked about as one."""
        if self.answers.every(heading) is None:
            new = Question("cell", heading, EVERY, why, REMARK_ANSWER, must)
            self._add(self.cells, (key(heading), EVERY), new, at)

    def column(self, column: Column, heading: str, why: str, must: bool, at: tuple[int, str]) -> None:
        """A column whose numbers need a unit or an order that nobody said."""
        if column.heading not in self.about:
            new = Question("column", column.heading, "", why, heading, must)
            self._add(self.columns, key(column.heading), new, at)

    @staticmethod
    def _add(held: dict[K, Question], place: K, new: Question, at: tuple[int, str]) -> None:
        found: Question = held.get(place, new)
        row, oil = at
        rows = found.rows if len(found.rows) >= SHOWN else (*found.rows, row)
        oils = found.oils if len(found.oils) >= SHOWN or not oil else (*found.oils, oil)
        held[place] = replace(found, rows=rows, oils=oils)

    def questions(self, asked: int) -> Iterator[Question]:
        """All questions, few enough beside ``asked`` others."""
        yield from self.columns.values()
        found = [each for each in self.cells.values() if key(each.heading) not in self.columns]
        odd = Counter(key(each.heading) for each in found if each.guess in ("", REMARK_ANSWER))
        whole = {heading for heading, count in odd.items() if count > FEW}
        found = [*_folded(found, whole, guessed=False)]
        counts = Counter(key(each.heading) for each in found)
        for heading, count in counts.most_common():
            if len(found) + asked + len(self.columns) <= MOST or count < 2:
                break
            found = [*_folded(found, {heading}, guessed=True)]
        yield from found


def _folded(found: list[Question], headings: set[str], guessed: bool) -> Iterator[Question]:
    """The questions with those of some columns put into one each; ``guessed``: those with a guess too."""
    held: dict[str, list[Question]] = {}
    for each in found:
        if key(each.heading) in headings and (guessed or each.guess in ("", REMARK_ANSWER)):
            held.setdefault(each.heading, []).append(each)
        else:
            yield each
    for heading, those in held.items():
        told = "; ".join(f'"{one.cell}"' + (f" as {one.guess}" if one.guess else "") for one in those)
        guess = AS_GUESSED if guessed and all(one.guess for one in those) else REMARK_ANSWER
        rows = tuple(row for one in those for row in one.rows)[:SHOWN]
        must = any(one.must for one in those)
        yield Question(
            "cell", heading, EVERY, f"odd cells: {told}", guess, must, (AS_GUESSED, REMARK_ANSWER), rows
        )
