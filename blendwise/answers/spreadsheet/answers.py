"""What a maker answered about a sheet, in a small file beside it: it can be edited, and asked again by."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Final

from blendwise.answers.spreadsheet.result import Question
from blendwise.records.place import Fault, RecordError
from blendwise.records.reading.document import Document, read_document
from blendwise.records.writing.edit import flow
from blendwise.records.writing.write import put_whole

REMARK_ANSWER, UNKNOWN, AS_GUESSED, EVERY = "remark", "unknown", "as guessed", "*"
LOTS, OILS, ONCE = "lots", "oils", "once"
COLUMNS, CELLS, NAMES = "columns", "cells", "same names"
_OPEN: Final = " ?"
_HEAD: Final = """\
# What was asked about {name}, and answered.  Change any line, then run the same command again.
# columns: the heading that stands there in truth, such as `limit in bar %`, `flash point °F`, or `remark`.
# cells: what is to be read instead, or `remark` (kept as a remark) or `unknown`; "*" is every other odd cell.
# same names: lots (of one oil), oils (two of them) or once (the first row alone).
# An answer that ends in `?` is a guess and still open: take the sign away to agree.
"""


def key(text: str) -> str:
    """A heading or cell as answers are kept by: like cells have one key."""
    return " ".join(text.casefold().split())


@dataclass(frozen=True, slots=True)
class Answers:
    """Answers by ``key``: of columns, of cells under a heading, and of names that stand twice."""

    columns: Mapping[str, str] = field(default_factory=dict)
    cells: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    names: Mapping[str, str] = field(default_factory=dict)

    def column(self, heading: str) -> str | None:
        """How the column is to be headed, None where nobody said."""
        return self.columns.get(key(heading))

    def cell(self, heading: str, text: str) -> str | None:
        """What is to be read instead of a cell, None where nobody said; never that of every odd one."""
        return self.cells.get(key(heading), {}).get(key(text)) if self.cells else None

    def every(self, heading: str) -> str | None:
        """What is done with the odd cells of a column that nobody answered one by one."""
        return self.cells.get(key(heading), {}).get(EVERY) if self.cells else None

    def with_answer(self, question: Question, answer: str) -> Answers:
        """These and one more."""
        if question.kind == "column":
            return replace(self, columns={**self.columns, key(question.heading): answer})
        if question.kind == "name":
            return replace(self, names={**self.names, key(question.cell): answer})
        held = {**self.cells.get(key(question.heading), {}), key(question.cell): answer}
        return replace(self, cells={**self.cells, key(question.heading): held})

    def with_guesses(self, questions: Iterable[Question]) -> Answers:
        """These and the guess of every question that may be taken unasked."""
        found = self
        for question in questions:
            if question.guess and not question.must:
                found = found.with_answer(question, question.guess)
        return found


def answers_file(sheet: Path) -> Path:
    """The file of answers beside a sheet."""
    return sheet.with_name(f"{sheet.name}.answers.yaml")


def read_answers(sheet: Path) -> Answers:
    """The answers beside a sheet, none where there is no such file; RecordError where it cannot be read."""
    file = answers_file(sheet)
    if not file.is_file():
        return Answers()
    doc = read_document(file)
    plain = doc.root.plain or {}
    if not isinstance(plain, Mapping):
        raise _refused(doc, "This is no file of answers.")
    if odd := [part for part in plain if part not in (COLUMNS, CELLS, NAMES)]:
        raise _refused(doc, f'"{odd[0]}" is no part of a file of answers.', odd[0])
    return Answers(
        _texts(doc, COLUMNS, plain.get(COLUMNS)),
        {key(each): _texts(doc, each, held) for each, held in _mapping(doc, plain.get(CELLS)).items()},
        _texts(doc, NAMES, plain.get(NAMES)),
    )


def keep_answers(sheet: Path, answers: Answers, open_: Iterable[Question] = ()) -> Path:
    """Write the answers beside a sheet, open questions with their guesses; RecordError where it cannot be."""
    for question in open_:
        answers = answers.with_answer(question, f"{question.guess}{_OPEN}".strip())
    lines = [_HEAD.format(name="".join(sign if sign.isprintable() else "?" for sign in sheet.name))]
    lines += _block(COLUMNS, answers.columns, "  ")
    if answers.cells:
        lines.append(f"{CELLS}:\n")
        for heading, held in answers.cells.items():
            lines += _block(flow(heading), held, "    ", "  ")
    lines += _block(NAMES, answers.names, "  ")
    file = answers_file(sheet)
    put_whole(file, "".join(lines).encode("utf-8"))
    return file


def _block(name: str, held: Mapping[str, str], indent: str, outer: str = "") -> list[str]:
    rows = [f'{indent}"{_quoted(each)}": {flow(answer)}\n' for each, answer in held.items()]
    return [f"{outer}{name}:\n", *rows] if rows else []


def _quoted(text: str) -> str:
    return flow(text + "\0").removeprefix('"').removesuffix('\\U00000000"')


def _mapping(doc: Document, held: object) -> Mapping[str, object]:
    if held is None or held == "":
        return {}
    if not isinstance(held, Mapping):
        raise _refused(doc, "A heading and its answers belong here.", CELLS)
    return held


def _texts(doc: Document, name: str, held: object) -> dict[str, str]:
    """The answers that are no longer open."""
    given = _mapping(doc, held)
    if odd := [each for each, answer in given.items() if not isinstance(answer, str)]:
        raise _refused(doc, f'The answer to "{odd[0]}" is not a single text.', name)
    return {
        key(each): str(answer)
        for each, answer in given.items()
        if not f" {answer}".endswith(_OPEN) and str(answer).strip()
    }


def _refused(doc: Document, message: str, name: str = "") -> RecordError:
    place = doc.key_place(name) if name else doc.place()
    return RecordError([Fault(place, message, "Mend it, or move the file away to be asked anew.")])
